-- The roll of each meeting, studio duties, and what a student is granted beyond the class's rules.

CREATE TABLE roll (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    day DATE NOT NULL,
    from_minute INTEGER NOT NULL,
    to_minute INTEGER NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL,
    UNIQUE (class_id, day, from_minute)
);

CREATE TABLE roll_entry (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    roll_id TEXT COLLATE "C" NOT NULL REFERENCES roll (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    presence TEXT COLLATE "C" NOT NULL CHECK (presence IN ('here', 'late', 'away', 'excused')),
    root TEXT COLLATE "C" NOT NULL REFERENCES roll_entry (id),
    corrects TEXT COLLATE "C" UNIQUE REFERENCES roll_entry (id),
    superseded_at BIGINT,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL
);
CREATE INDEX roll_entry_roll ON roll_entry (roll_id, person_id);
CREATE INDEX roll_entry_class ON roll_entry (class_id, person_id);

CREATE TABLE duty (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    day DATE NOT NULL,
    what TEXT COLLATE "C" NOT NULL,
    outcome TEXT COLLATE "C" NOT NULL CHECK (outcome IN ('set', 'done', 'left', 'excused')),
    root TEXT COLLATE "C" NOT NULL REFERENCES duty (id),
    corrects TEXT COLLATE "C" UNIQUE REFERENCES duty (id),
    superseded_at BIGINT,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL
);
CREATE INDEX duty_class ON duty (class_id, day);
CREATE INDEX duty_person ON duty (class_id, person_id);

-- What is granted, as whoever works with the student has to know it. Why stands apart, for the instructor alone.
CREATE TABLE accommodation (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    kind TEXT COLLATE "C" NOT NULL CHECK (kind IN ('more_time', 'helper', 'other_solvent', 'signals')),
    percent INTEGER,
    days INTEGER,
    words TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL,
    ended_at BIGINT
);
CREATE INDEX accommodation_class ON accommodation (class_id, person_id);

CREATE TABLE accommodation_reason (
    accommodation_id TEXT COLLATE "C" NOT NULL PRIMARY KEY REFERENCES accommodation (id),
    words TEXT COLLATE "C" NOT NULL
);

ALTER TABLE own_due ADD COLUMN accommodation_id TEXT COLLATE "C" REFERENCES accommodation (id);
