-- Each kind of letter that can be stopped has its switch; an address that is refused for good again and again rests
-- until somebody lifts that; and a draft that was thrown away can be taken back.
ALTER TABLE person ADD COLUMN handed_back_letter BOOLEAN NOT NULL DEFAULT TRUE CHECK (typeof(handed_back_letter) = 'integer');
ALTER TABLE person ADD COLUMN due_moved_letter BOOLEAN NOT NULL DEFAULT TRUE CHECK (typeof(due_moved_letter) = 'integer');
ALTER TABLE person ADD COLUMN mail_refusals INTEGER NOT NULL DEFAULT 0 CHECK (typeof(mail_refusals) = 'integer');
ALTER TABLE person ADD COLUMN mail_rests_since BIGINT CHECK (typeof(mail_rests_since) IN ('integer', 'null'));
ALTER TABLE person ADD COLUMN mail_refused_with TEXT CHECK (typeof(mail_refused_with) IN ('text', 'null'));

ALTER TABLE procedure_draft ADD COLUMN discarded_at BIGINT CHECK (typeof(discarded_at) IN ('integer', 'null'));

-- What stood in calendars and was taken away: subscribers are told that it is off instead of wondering where it went.
CREATE TABLE called_off (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT REFERENCES class (id) CHECK (typeof(class_id) IN ('text', 'null')),
    studio_id TEXT REFERENCES studio (id) CHECK (typeof(studio_id) IN ('text', 'null')),
    person_id TEXT REFERENCES person (id) CHECK (typeof(person_id) IN ('text', 'null')),
    weekday INTEGER CHECK (typeof(weekday) IN ('integer', 'null')),
    day DATE CHECK (typeof(day) IN ('text', 'null')),
    from_minute INTEGER NOT NULL CHECK (typeof(from_minute) = 'integer'),
    to_minute INTEGER NOT NULL CHECK (typeof(to_minute) = 'integer'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    CHECK ((class_id IS NULL) <> (studio_id IS NULL)),
    CHECK ((weekday IS NULL) <> (day IS NULL))
);
CREATE INDEX called_off_class ON called_off (class_id, at);
CREATE INDEX called_off_studio ON called_off (studio_id, at);
