-- Who else was in the room while a step was done, as told at the table; and what a second phone told of a run that the
-- first had told already.
ALTER TABLE step_run ADD COLUMN in_room TEXT NOT NULL DEFAULT '' CHECK (typeof(in_room) = 'text');

CREATE TABLE second_account (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    plate_id TEXT NOT NULL REFERENCES plate (id) CHECK (typeof(plate_id) = 'text'),
    step_run_id TEXT NOT NULL REFERENCES step_run (id) CHECK (typeof(step_run_id) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    began_at BIGINT NOT NULL CHECK (typeof(began_at) = 'integer'),
    ended_at BIGINT NOT NULL CHECK (typeof(ended_at) = 'integer'),
    received_at BIGINT NOT NULL CHECK (typeof(received_at) = 'integer'),
    left_off BOOLEAN NOT NULL CHECK (typeof(left_off) = 'integer'),
    clock_doubtful BOOLEAN NOT NULL CHECK (typeof(clock_doubtful) = 'integer'),
    in_room TEXT NOT NULL CHECK (typeof(in_room) = 'text'),
    sheets INTEGER CHECK (typeof(sheets) IN ('integer', 'null')),
    note TEXT NOT NULL CHECK (typeof(note) = 'text'),
    -- What was put on; nothing of it where the step records no etch.
    recipe TEXT CHECK (typeof(recipe) IN ('text', 'null')),
    gum_id TEXT REFERENCES container (id) CHECK (typeof(gum_id) IN ('text', 'null')),
    gum_microlitres BIGINT CHECK (typeof(gum_microlitres) IN ('integer', 'null')),
    acid_id TEXT REFERENCES container (id) CHECK (typeof(acid_id) IN ('text', 'null')),
    drops INTEGER CHECK (typeof(drops) IN ('integer', 'null')),
    stock_id TEXT REFERENCES container (id) CHECK (typeof(stock_id) IN ('text', 'null')),
    stock_microlitres BIGINT CHECK (typeof(stock_microlitres) IN ('integer', 'null')),
    measured_ph_hundredths INTEGER CHECK (typeof(measured_ph_hundredths) IN ('integer', 'null')),
    application_seconds TEXT NOT NULL CHECK (typeof(application_seconds) = 'text'),
    tool TEXT NOT NULL CHECK (typeof(tool) = 'text'),
    helper TEXT NOT NULL CHECK (typeof(helper) = 'text'),
    seen TEXT NOT NULL CHECK (typeof(seen) = 'text')
);
CREATE INDEX second_account_plate ON second_account (plate_id);
CREATE INDEX second_account_class ON second_account (class_id);
