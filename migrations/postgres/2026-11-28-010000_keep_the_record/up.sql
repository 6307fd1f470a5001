-- The record a department keeps: grades as they were submitted, and the letters of bases without a scale.

ALTER TABLE school ADD COLUMN pass_letter TEXT COLLATE "C" NOT NULL DEFAULT 'P';
ALTER TABLE school ADD COLUMN no_pass_letter TEXT COLLATE "C" NOT NULL DEFAULT 'NP';
ALTER TABLE school ADD COLUMN audit_letter TEXT COLLATE "C" NOT NULL DEFAULT 'AU';
ALTER TABLE school ADD COLUMN incomplete_letter TEXT COLLATE "C" NOT NULL DEFAULT 'I';
ALTER TABLE school ADD COLUMN pass_from_bp INTEGER NOT NULL DEFAULT 7000;

-- A submitted grade with everything it followed from that day. A change is a new row; one row a person stands.
CREATE TABLE submitted_grade (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    root TEXT COLLATE "C" NOT NULL REFERENCES submitted_grade (id),
    corrects TEXT COLLATE "C" UNIQUE REFERENCES submitted_grade (id),
    superseded_at BIGINT,
    how TEXT COLLATE "C" NOT NULL CHECK (how IN ('reckoned', 'by_hand', 'incomplete', 'lapsed')),
    listing TEXT COLLATE "C" NOT NULL,
    basis TEXT COLLATE "C" NOT NULL CHECK (basis IN ('letter', 'pass', 'audit')),
    letter TEXT COLLATE "C" NOT NULL,
    rounded TEXT COLLATE "C",
    percent TEXT COLLATE "C",
    evidence TEXT COLLATE "C" NOT NULL,
    working TEXT COLLATE "C" NOT NULL,
    remains TEXT COLLATE "C" NOT NULL,
    open_until DATE,
    lapses_to TEXT COLLATE "C",
    last_day DATE,
    last_deed TEXT COLLATE "C",
    reason TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" REFERENCES person (id),
    at BIGINT NOT NULL
);
CREATE INDEX submitted_grade_class ON submitted_grade (class_id, person_id, at);
CREATE INDEX submitted_grade_open ON submitted_grade (open_until);
CREATE UNIQUE INDEX submitted_grade_standing ON submitted_grade (class_id, person_id) WHERE superseded_at IS NULL;
