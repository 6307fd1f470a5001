-- Two markers on a share of an assessment, each blind to the other until both are done.

CREATE TABLE second_marking (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    assessment_id TEXT NOT NULL UNIQUE REFERENCES assessment (id) CHECK (typeof(assessment_id) = 'text'),
    share_percent INTEGER NOT NULL CHECK (share_percent BETWEEN 1 AND 100) CHECK (typeof(share_percent) = 'integer'),
    seed BIGINT NOT NULL CHECK (typeof(seed) = 'integer'),
    first_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(first_id) = 'text'),
    second_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(second_id) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer')
);
CREATE INDEX second_marking_class ON second_marking (class_id);

CREATE TABLE second_marking_choice (
    second_marking_id TEXT NOT NULL REFERENCES second_marking (id) CHECK (typeof(second_marking_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    PRIMARY KEY (second_marking_id, person_id)
);

CREATE TABLE blind_mark (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    second_marking_id TEXT NOT NULL REFERENCES second_marking (id) CHECK (typeof(second_marking_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    points_hundredths BIGINT NOT NULL CHECK (typeof(points_hundredths) = 'integer'),
    levels TEXT NOT NULL CHECK (typeof(levels) = 'text'),
    words TEXT NOT NULL CHECK (typeof(words) = 'text'),
    corrects TEXT UNIQUE REFERENCES blind_mark (id) CHECK (typeof(corrects) IN ('text', 'null')),
    superseded_at BIGINT CHECK (typeof(superseded_at) IN ('integer', 'null')),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer')
);
CREATE INDEX blind_mark_marking ON blind_mark (second_marking_id, person_id);
