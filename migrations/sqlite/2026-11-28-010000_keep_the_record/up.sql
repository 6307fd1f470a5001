-- The record a department keeps: grades as they were submitted, and the letters of bases without a scale.

ALTER TABLE school ADD COLUMN pass_letter TEXT NOT NULL DEFAULT 'P' CHECK (typeof(pass_letter) = 'text');
ALTER TABLE school ADD COLUMN no_pass_letter TEXT NOT NULL DEFAULT 'NP' CHECK (typeof(no_pass_letter) = 'text');
ALTER TABLE school ADD COLUMN audit_letter TEXT NOT NULL DEFAULT 'AU' CHECK (typeof(audit_letter) = 'text');
ALTER TABLE school ADD COLUMN incomplete_letter TEXT NOT NULL DEFAULT 'I' CHECK (typeof(incomplete_letter) = 'text');
ALTER TABLE school ADD COLUMN pass_from_bp INTEGER NOT NULL DEFAULT 7000 CHECK (typeof(pass_from_bp) = 'integer');

-- A submitted grade with everything it followed from that day. A change is a new row; one row a person stands.
CREATE TABLE submitted_grade (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    root TEXT NOT NULL REFERENCES submitted_grade (id) CHECK (typeof(root) = 'text'),
    corrects TEXT UNIQUE REFERENCES submitted_grade (id) CHECK (typeof(corrects) IN ('text', 'null')),
    superseded_at BIGINT CHECK (typeof(superseded_at) IN ('integer', 'null')),
    how TEXT NOT NULL CHECK (how IN ('reckoned', 'by_hand', 'incomplete', 'lapsed')) CHECK (typeof(how) = 'text'),
    listing TEXT NOT NULL CHECK (typeof(listing) = 'text'),
    basis TEXT NOT NULL CHECK (basis IN ('letter', 'pass', 'audit')) CHECK (typeof(basis) = 'text'),
    letter TEXT NOT NULL CHECK (typeof(letter) = 'text'),
    rounded TEXT CHECK (typeof(rounded) IN ('text', 'null')),
    percent TEXT CHECK (typeof(percent) IN ('text', 'null')),
    evidence TEXT NOT NULL CHECK (typeof(evidence) = 'text'),
    working TEXT NOT NULL CHECK (typeof(working) = 'text'),
    remains TEXT NOT NULL CHECK (typeof(remains) = 'text'),
    open_until DATE CHECK (typeof(open_until) IN ('text', 'null')),
    lapses_to TEXT CHECK (typeof(lapses_to) IN ('text', 'null')),
    last_day DATE CHECK (typeof(last_day) IN ('text', 'null')),
    last_deed TEXT CHECK (typeof(last_deed) IN ('text', 'null')),
    reason TEXT NOT NULL CHECK (typeof(reason) = 'text'),
    by_id TEXT REFERENCES person (id) CHECK (typeof(by_id) IN ('text', 'null')),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer')
);
CREATE INDEX submitted_grade_class ON submitted_grade (class_id, person_id, at);
CREATE INDEX submitted_grade_open ON submitted_grade (open_until);
CREATE UNIQUE INDEX submitted_grade_standing ON submitted_grade (class_id, person_id) WHERE superseded_at IS NULL;
