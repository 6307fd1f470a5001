-- Marks are not taken back.
SELECT 1;
