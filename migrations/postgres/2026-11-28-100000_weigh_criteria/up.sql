-- Criteria with levels, marks by them, second looks, and notes of a critique.

CREATE TABLE criterion (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    position INTEGER NOT NULL,
    title TEXT COLLATE "C" NOT NULL,
    about TEXT COLLATE "C" NOT NULL,
    version BIGINT NOT NULL,
    removed_at BIGINT
);
CREATE INDEX criterion_class ON criterion (class_id, position);

CREATE TABLE criterion_level (
    criterion_id TEXT COLLATE "C" NOT NULL REFERENCES criterion (id),
    position INTEGER NOT NULL,
    title TEXT COLLATE "C" NOT NULL,
    descriptor TEXT COLLATE "C" NOT NULL,
    share_bp INTEGER NOT NULL CHECK (share_bp BETWEEN 0 AND 10000),
    PRIMARY KEY (criterion_id, position)
);

CREATE TABLE assessment_criterion (
    assessment_id TEXT COLLATE "C" NOT NULL REFERENCES assessment (id),
    criterion_id TEXT COLLATE "C" NOT NULL REFERENCES criterion (id),
    position INTEGER NOT NULL,
    points_hundredths BIGINT NOT NULL CHECK (points_hundredths > 0),
    PRIMARY KEY (assessment_id, criterion_id)
);

-- What a mark said criterion by criterion, in the words that held when it was given.
CREATE TABLE score_level (
    score_id TEXT COLLATE "C" NOT NULL REFERENCES score (id),
    criterion_id TEXT COLLATE "C" NOT NULL REFERENCES criterion (id),
    position INTEGER NOT NULL,
    criterion_title TEXT COLLATE "C" NOT NULL,
    level_position INTEGER,
    level_title TEXT COLLATE "C" NOT NULL,
    descriptor TEXT COLLATE "C" NOT NULL,
    points_hundredths BIGINT,
    of_hundredths BIGINT NOT NULL,
    words TEXT COLLATE "C" NOT NULL,
    PRIMARY KEY (score_id, criterion_id)
);

-- Why the points are others than the levels add up to; empty where they are the same.
ALTER TABLE score ADD COLUMN own_points_reason TEXT COLLATE "C" NOT NULL DEFAULT '';

CREATE TABLE second_look (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    score_id TEXT COLLATE "C" NOT NULL UNIQUE REFERENCES score (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    reason TEXT COLLATE "C" NOT NULL,
    asked_at BIGINT NOT NULL,
    answered_at BIGINT,
    answered_by TEXT COLLATE "C" REFERENCES person (id),
    answer TEXT COLLATE "C" NOT NULL,
    new_score_id TEXT COLLATE "C" UNIQUE REFERENCES score (id)
);
CREATE INDEX second_look_class ON second_look (class_id, asked_at);

CREATE TABLE critique (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    project_id TEXT COLLATE "C" NOT NULL REFERENCES project (id),
    held_on DATE NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    begun_at BIGINT NOT NULL,
    handed_back_at BIGINT,
    version BIGINT NOT NULL
);
CREATE INDEX critique_class ON critique (class_id, held_on);

CREATE TABLE critique_note (
    critique_id TEXT COLLATE "C" NOT NULL REFERENCES critique (id),
    print_id TEXT COLLATE "C" NOT NULL REFERENCES print (id),
    position INTEGER NOT NULL,
    words TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" REFERENCES person (id),
    PRIMARY KEY (critique_id, print_id)
);
CREATE INDEX critique_note_print ON critique_note (print_id);

-- Days on which no day late is charged.
CREATE TABLE uncounted_day (
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    day DATE NOT NULL,
    why TEXT COLLATE "C" NOT NULL,
    PRIMARY KEY (class_id, day)
);
