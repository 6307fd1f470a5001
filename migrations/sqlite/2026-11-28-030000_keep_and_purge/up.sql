-- How long each kind of record is kept, and whose is held whatever the rules say.
CREATE TABLE retention_rule (
    kind TEXT NOT NULL PRIMARY KEY CHECK (kind IN ('photos', 'comments', 'etch_notes', 'letters', 'sign_ins')) CHECK (typeof(kind) = 'text'),
    days INTEGER NOT NULL CHECK (days > 0) CHECK (typeof(days) = 'integer'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer')
);

CREATE TABLE hold (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT REFERENCES class (id) CHECK (typeof(class_id) IN ('text', 'null')),
    person_id TEXT REFERENCES person (id) CHECK (typeof(person_id) IN ('text', 'null')),
    reason TEXT NOT NULL CHECK (typeof(reason) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    lifted_at BIGINT CHECK (typeof(lifted_at) IN ('integer', 'null')),
    lifted_by TEXT REFERENCES person (id) CHECK (typeof(lifted_by) IN ('text', 'null')),
    CHECK ((class_id IS NULL) <> (person_id IS NULL))
);
