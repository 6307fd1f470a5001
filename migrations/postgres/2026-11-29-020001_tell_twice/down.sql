-- What was written down stays.
SELECT 1;
