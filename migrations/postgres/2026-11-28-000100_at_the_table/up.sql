-- What a phone at the table knows of a run: by how much its clock was off, and the applications it was set to.
ALTER TABLE step_run ADD COLUMN clock_off_ms BIGINT;
ALTER TABLE step_run ADD COLUMN clock_doubtful BOOLEAN NOT NULL DEFAULT FALSE;
ALTER TABLE step_run ADD COLUMN planned_seconds TEXT COLLATE "C" NOT NULL DEFAULT '';
