-- Each kind of letter that can be stopped has its switch; an address that is refused for good again and again rests
-- until somebody lifts that; and a draft that was thrown away can be taken back.
ALTER TABLE person ADD COLUMN handed_back_letter BOOLEAN NOT NULL DEFAULT TRUE CHECK (typeof(handed_back_letter) = 'integer');
ALTER TABLE person ADD COLUMN due_moved_letter BOOLEAN NOT NULL DEFAULT TRUE CHECK (typeof(due_moved_letter) = 'integer');
ALTER TABLE person ADD COLUMN mail_refusals INTEGER NOT NULL DEFAULT 0 CHECK (typeof(mail_refusals) = 'integer');
ALTER TABLE person ADD COLUMN mail_rests_since BIGINT CHECK (typeof(mail_rests_since) IN ('integer', 'null'));
ALTER TABLE person ADD COLUMN mail_refused_with TEXT CHECK (typeof(mail_refused_with) IN ('text', 'null'));

ALTER TABLE procedure_draft ADD COLUMN discarded_at BIGINT CHECK (typeof(discarded_at) IN ('integer', 'null'));
