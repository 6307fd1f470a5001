-- Who else was in the room while a step was done, as told at the table; and what a second phone told of a run that the
-- first had told already.
ALTER TABLE step_run ADD COLUMN in_room TEXT COLLATE "C" NOT NULL DEFAULT '';

CREATE TABLE second_account (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    plate_id TEXT COLLATE "C" NOT NULL REFERENCES plate (id),
    step_run_id TEXT COLLATE "C" NOT NULL REFERENCES step_run (id),
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    began_at BIGINT NOT NULL,
    ended_at BIGINT NOT NULL,
    received_at BIGINT NOT NULL,
    left_off BOOLEAN NOT NULL,
    clock_doubtful BOOLEAN NOT NULL,
    in_room TEXT COLLATE "C" NOT NULL,
    sheets INTEGER,
    note TEXT COLLATE "C" NOT NULL,
    -- What was put on; nothing of it where the step records no etch.
    recipe TEXT COLLATE "C",
    gum_id TEXT COLLATE "C" REFERENCES container (id),
    gum_microlitres BIGINT,
    acid_id TEXT COLLATE "C" REFERENCES container (id),
    drops INTEGER,
    stock_id TEXT COLLATE "C" REFERENCES container (id),
    stock_microlitres BIGINT,
    measured_ph_hundredths INTEGER,
    application_seconds TEXT COLLATE "C" NOT NULL,
    tool TEXT COLLATE "C" NOT NULL,
    helper TEXT COLLATE "C" NOT NULL,
    seen TEXT COLLATE "C" NOT NULL
);
CREATE INDEX second_account_plate ON second_account (plate_id);
CREATE INDEX second_account_class ON second_account (class_id);
