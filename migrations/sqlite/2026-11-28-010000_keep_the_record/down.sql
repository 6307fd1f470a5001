DROP TABLE submitted_grade;
ALTER TABLE school DROP COLUMN pass_from_bp;
ALTER TABLE school DROP COLUMN incomplete_letter;
ALTER TABLE school DROP COLUMN audit_letter;
ALTER TABLE school DROP COLUMN no_pass_letter;
ALTER TABLE school DROP COLUMN pass_letter;
