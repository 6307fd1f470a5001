ALTER TABLE step_run DROP COLUMN planned_seconds;
ALTER TABLE step_run DROP COLUMN clock_doubtful;
ALTER TABLE step_run DROP COLUMN clock_off_ms;
