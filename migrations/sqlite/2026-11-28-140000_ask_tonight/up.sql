-- Who asks for somebody of the staff in the room, and in which order the work of an evening is put.

CREATE TABLE asking (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    kind TEXT NOT NULL CHECK (kind IN ('help', 'mix', 'sign_off', 'go_ahead')) CHECK (typeof(kind) = 'text'),
    plate_id TEXT REFERENCES plate (id) CHECK (typeof(plate_id) IN ('text', 'null')),
    place TEXT NOT NULL CHECK (typeof(place) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    -- The end of the local day: from then on it no longer counts.
    until_at BIGINT NOT NULL CHECK (typeof(until_at) = 'integer'),
    answered_at BIGINT CHECK (typeof(answered_at) IN ('integer', 'null')),
    answered_by TEXT REFERENCES person (id) CHECK (typeof(answered_by) IN ('text', 'null')),
    taken_back_at BIGINT CHECK (typeof(taken_back_at) IN ('integer', 'null'))
);
CREATE INDEX asking_class ON asking (class_id, until_at);
CREATE INDEX asking_person ON asking (person_id, class_id, at);
CREATE UNIQUE INDEX asking_open ON asking (class_id, person_id, kind, until_at)
    WHERE plate_id IS NULL AND answered_at IS NULL AND taken_back_at IS NULL;
CREATE UNIQUE INDEX asking_open_plate ON asking (class_id, person_id, kind, plate_id, until_at)
    WHERE plate_id IS NOT NULL AND answered_at IS NULL AND taken_back_at IS NULL;

CREATE TABLE run_place (
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    day DATE NOT NULL CHECK (typeof(day) = 'text'),
    plate_id TEXT NOT NULL REFERENCES plate (id) CHECK (typeof(plate_id) = 'text'),
    step_key TEXT NOT NULL CHECK (typeof(step_key) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    PRIMARY KEY (class_id, day, plate_id, step_key)
);
