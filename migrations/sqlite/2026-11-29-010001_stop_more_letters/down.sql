-- There is no way back: what people chose would be lost.
SELECT 1;
