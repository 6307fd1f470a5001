ALTER TABLE term DROP COLUMN archived_at;
