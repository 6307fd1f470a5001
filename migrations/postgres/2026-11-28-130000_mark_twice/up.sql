-- Two markers on a share of an assessment, each blind to the other until both are done.

CREATE TABLE second_marking (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    assessment_id TEXT COLLATE "C" NOT NULL UNIQUE REFERENCES assessment (id),
    share_percent INTEGER NOT NULL CHECK (share_percent BETWEEN 1 AND 100),
    seed BIGINT NOT NULL,
    first_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    second_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL
);
CREATE INDEX second_marking_class ON second_marking (class_id);

CREATE TABLE second_marking_choice (
    second_marking_id TEXT COLLATE "C" NOT NULL REFERENCES second_marking (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    position INTEGER NOT NULL,
    PRIMARY KEY (second_marking_id, person_id)
);

CREATE TABLE blind_mark (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    second_marking_id TEXT COLLATE "C" NOT NULL REFERENCES second_marking (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    points_hundredths BIGINT NOT NULL,
    levels TEXT COLLATE "C" NOT NULL,
    words TEXT COLLATE "C" NOT NULL,
    corrects TEXT COLLATE "C" UNIQUE REFERENCES blind_mark (id),
    superseded_at BIGINT,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL
);
CREATE INDEX blind_mark_marking ON blind_mark (second_marking_id, person_id);
