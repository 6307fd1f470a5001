-- There is no way back: what people chose and what rests would be lost.
SELECT 1;
