-- How long each kind of record is kept, and whose is held whatever the rules say.
CREATE TABLE retention_rule (
    kind TEXT COLLATE "C" NOT NULL PRIMARY KEY CHECK (kind IN ('photos', 'comments', 'etch_notes', 'letters', 'sign_ins')),
    days INTEGER NOT NULL CHECK (days > 0),
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL
);

CREATE TABLE hold (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" REFERENCES class (id),
    person_id TEXT COLLATE "C" REFERENCES person (id),
    reason TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL,
    lifted_at BIGINT,
    lifted_by TEXT COLLATE "C" REFERENCES person (id),
    CHECK ((class_id IS NULL) <> (person_id IS NULL))
);
