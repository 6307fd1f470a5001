-- A tablet that stands in a studio: staff make a one-time address, and whatever device opens it may tell what happens at
-- the table, for the plate whose number is typed, and nothing else.
CREATE TABLE tablet (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    studio_id TEXT COLLATE "C" NOT NULL REFERENCES studio (id),
    name TEXT COLLATE "C" NOT NULL,
    secret_hash TEXT COLLATE "C" NOT NULL UNIQUE,
    secret_until BIGINT NOT NULL,
    -- The digest of what the tablet shows from then on; none until its address was opened.
    token_hash TEXT COLLATE "C" UNIQUE,
    made_by TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    made_at BIGINT NOT NULL,
    opened_at BIGINT,
    withdrawn_at BIGINT
);
CREATE INDEX tablet_studio ON tablet (studio_id);

-- What was told on the studio's tablet was told by whoever stood there: nobody was signed in.
ALTER TABLE step_run ADD COLUMN on_tablet BOOLEAN NOT NULL DEFAULT FALSE;
