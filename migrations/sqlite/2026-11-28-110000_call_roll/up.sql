-- The roll of each meeting, studio duties, and what a student is granted beyond the class's rules.

CREATE TABLE roll (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    day DATE NOT NULL CHECK (typeof(day) = 'text'),
    from_minute INTEGER NOT NULL CHECK (typeof(from_minute) = 'integer'),
    to_minute INTEGER NOT NULL CHECK (typeof(to_minute) = 'integer'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    UNIQUE (class_id, day, from_minute)
);

CREATE TABLE roll_entry (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    roll_id TEXT NOT NULL REFERENCES roll (id) CHECK (typeof(roll_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    presence TEXT NOT NULL CHECK (presence IN ('here', 'late', 'away', 'excused')) CHECK (typeof(presence) = 'text'),
    root TEXT NOT NULL REFERENCES roll_entry (id) CHECK (typeof(root) = 'text'),
    corrects TEXT UNIQUE REFERENCES roll_entry (id) CHECK (typeof(corrects) IN ('text', 'null')),
    superseded_at BIGINT CHECK (typeof(superseded_at) IN ('integer', 'null')),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer')
);
CREATE INDEX roll_entry_roll ON roll_entry (roll_id, person_id);
CREATE INDEX roll_entry_class ON roll_entry (class_id, person_id);

CREATE TABLE duty (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    day DATE NOT NULL CHECK (typeof(day) = 'text'),
    what TEXT NOT NULL CHECK (typeof(what) = 'text'),
    outcome TEXT NOT NULL CHECK (outcome IN ('set', 'done', 'left', 'excused')) CHECK (typeof(outcome) = 'text'),
    root TEXT NOT NULL REFERENCES duty (id) CHECK (typeof(root) = 'text'),
    corrects TEXT UNIQUE REFERENCES duty (id) CHECK (typeof(corrects) IN ('text', 'null')),
    superseded_at BIGINT CHECK (typeof(superseded_at) IN ('integer', 'null')),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer')
);
CREATE INDEX duty_class ON duty (class_id, day);
CREATE INDEX duty_person ON duty (class_id, person_id);

-- What is granted, as whoever works with the student has to know it. Why stands apart, for the instructor alone.
CREATE TABLE accommodation (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    kind TEXT NOT NULL CHECK (kind IN ('more_time', 'helper', 'other_solvent', 'signals')) CHECK (typeof(kind) = 'text'),
    percent INTEGER CHECK (typeof(percent) IN ('integer', 'null')),
    days INTEGER CHECK (typeof(days) IN ('integer', 'null')),
    words TEXT NOT NULL CHECK (typeof(words) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    ended_at BIGINT CHECK (typeof(ended_at) IN ('integer', 'null'))
);
CREATE INDEX accommodation_class ON accommodation (class_id, person_id);

CREATE TABLE accommodation_reason (
    accommodation_id TEXT NOT NULL PRIMARY KEY REFERENCES accommodation (id) CHECK (typeof(accommodation_id) = 'text'),
    words TEXT NOT NULL CHECK (typeof(words) = 'text')
);

ALTER TABLE own_due ADD COLUMN accommodation_id TEXT REFERENCES accommodation (id) CHECK (typeof(accommodation_id) IN ('text', 'null'));
