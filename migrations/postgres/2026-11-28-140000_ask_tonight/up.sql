-- Who asks for somebody of the staff in the room, and in which order the work of an evening is put.

CREATE TABLE asking (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    kind TEXT COLLATE "C" NOT NULL CHECK (kind IN ('help', 'mix', 'sign_off', 'go_ahead')),
    plate_id TEXT COLLATE "C" REFERENCES plate (id),
    place TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL,
    -- The end of the local day: from then on it no longer counts.
    until_at BIGINT NOT NULL,
    answered_at BIGINT,
    answered_by TEXT COLLATE "C" REFERENCES person (id),
    taken_back_at BIGINT
);
CREATE INDEX asking_class ON asking (class_id, until_at);
CREATE INDEX asking_person ON asking (person_id, class_id, at);
CREATE UNIQUE INDEX asking_open ON asking (class_id, person_id, kind, until_at)
    WHERE plate_id IS NULL AND answered_at IS NULL AND taken_back_at IS NULL;
CREATE UNIQUE INDEX asking_open_plate ON asking (class_id, person_id, kind, plate_id, until_at)
    WHERE plate_id IS NOT NULL AND answered_at IS NULL AND taken_back_at IS NULL;

CREATE TABLE run_place (
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    day DATE NOT NULL,
    plate_id TEXT COLLATE "C" NOT NULL REFERENCES plate (id),
    step_key TEXT COLLATE "C" NOT NULL,
    position INTEGER NOT NULL,
    PRIMARY KEY (class_id, day, plate_id, step_key)
);
