-- Letters about second looks and about a submitted grade can be stopped like all others that are not about an account.
ALTER TABLE person ADD COLUMN second_look_asked_letter BOOLEAN NOT NULL DEFAULT TRUE;
ALTER TABLE person ADD COLUMN second_look_answered_letter BOOLEAN NOT NULL DEFAULT TRUE;
ALTER TABLE person ADD COLUMN grade_submitted_letter BOOLEAN NOT NULL DEFAULT TRUE;
