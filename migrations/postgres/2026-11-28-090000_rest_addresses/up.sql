-- Each kind of letter that can be stopped has its switch; an address that is refused for good again and again rests
-- until somebody lifts that; and a draft that was thrown away can be taken back.
ALTER TABLE person ADD COLUMN handed_back_letter BOOLEAN NOT NULL DEFAULT TRUE;
ALTER TABLE person ADD COLUMN due_moved_letter BOOLEAN NOT NULL DEFAULT TRUE;
ALTER TABLE person ADD COLUMN mail_refusals INTEGER NOT NULL DEFAULT 0;
ALTER TABLE person ADD COLUMN mail_rests_since BIGINT;
ALTER TABLE person ADD COLUMN mail_refused_with TEXT COLLATE "C";

ALTER TABLE procedure_draft ADD COLUMN discarded_at BIGINT;

-- What stood in calendars and was taken away: subscribers are told that it is off instead of wondering where it went.
CREATE TABLE called_off (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" REFERENCES class (id),
    studio_id TEXT COLLATE "C" REFERENCES studio (id),
    person_id TEXT COLLATE "C" REFERENCES person (id),
    weekday INTEGER,
    day DATE,
    from_minute INTEGER NOT NULL,
    to_minute INTEGER NOT NULL,
    at BIGINT NOT NULL,
    CHECK ((class_id IS NULL) <> (studio_id IS NULL)),
    CHECK ((weekday IS NULL) <> (day IS NULL))
);
CREATE INDEX called_off_class ON called_off (class_id, at);
CREATE INDEX called_off_studio ON called_off (studio_id, at);
