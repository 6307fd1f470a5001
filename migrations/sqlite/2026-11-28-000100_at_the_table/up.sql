-- What a phone at the table knows of a run: by how much its clock was off, and the applications it was set to.
ALTER TABLE step_run ADD COLUMN clock_off_ms BIGINT CHECK (typeof(clock_off_ms) IN ('integer', 'null'));
ALTER TABLE step_run ADD COLUMN clock_doubtful BOOLEAN NOT NULL DEFAULT FALSE CHECK (typeof(clock_doubtful) = 'integer');
ALTER TABLE step_run ADD COLUMN planned_seconds TEXT NOT NULL DEFAULT '' CHECK (typeof(planned_seconds) = 'text');
