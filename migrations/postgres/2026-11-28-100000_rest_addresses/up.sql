-- Each kind of letter that can be stopped has its switch; an address that is refused for good again and again rests
-- until somebody lifts that; and a draft that was thrown away can be taken back.
ALTER TABLE person ADD COLUMN handed_back_letter BOOLEAN NOT NULL DEFAULT TRUE;
ALTER TABLE person ADD COLUMN due_moved_letter BOOLEAN NOT NULL DEFAULT TRUE;
ALTER TABLE person ADD COLUMN mail_refusals INTEGER NOT NULL DEFAULT 0;
ALTER TABLE person ADD COLUMN mail_rests_since BIGINT;
ALTER TABLE person ADD COLUMN mail_refused_with TEXT COLLATE "C";

ALTER TABLE procedure_draft ADD COLUMN discarded_at BIGINT;
