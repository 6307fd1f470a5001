ALTER TABLE person DROP COLUMN language;
