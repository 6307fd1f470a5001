-- The moment of the first archive of a term: later ones are as of then unless another moment is told.
ALTER TABLE term ADD COLUMN archived_at BIGINT;
