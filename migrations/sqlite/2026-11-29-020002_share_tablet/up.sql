-- A tablet that stands in a studio: staff make a one-time address, and whatever device opens it may tell what happens at
-- the table, for the plate whose number is typed, and nothing else.
CREATE TABLE tablet (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    studio_id TEXT NOT NULL REFERENCES studio (id) CHECK (typeof(studio_id) = 'text'),
    name TEXT NOT NULL CHECK (typeof(name) = 'text'),
    secret_hash TEXT NOT NULL UNIQUE CHECK (typeof(secret_hash) = 'text'),
    secret_until BIGINT NOT NULL CHECK (typeof(secret_until) = 'integer'),
    -- The digest of what the tablet shows from then on; none until its address was opened.
    token_hash TEXT UNIQUE CHECK (typeof(token_hash) IN ('text', 'null')),
    made_by TEXT NOT NULL REFERENCES person (id) CHECK (typeof(made_by) = 'text'),
    made_at BIGINT NOT NULL CHECK (typeof(made_at) = 'integer'),
    opened_at BIGINT CHECK (typeof(opened_at) IN ('integer', 'null')),
    withdrawn_at BIGINT CHECK (typeof(withdrawn_at) IN ('integer', 'null'))
);
CREATE INDEX tablet_studio ON tablet (studio_id);

-- What was told on the studio's tablet was told by whoever stood there: nobody was signed in.
ALTER TABLE step_run ADD COLUMN on_tablet BOOLEAN NOT NULL DEFAULT FALSE CHECK (typeof(on_tablet) = 'integer');
