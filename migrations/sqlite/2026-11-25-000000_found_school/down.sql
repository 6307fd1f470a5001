-- The first migration is not taken back: without it there is no school.
SELECT 1;
