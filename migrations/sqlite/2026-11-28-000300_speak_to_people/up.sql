-- In what language a person is spoken to, by pages and by letters; NULL leaves it to what the browser asks for.
ALTER TABLE person ADD COLUMN language TEXT CHECK (language IN ('en', 'es')) CHECK (typeof(language) IN ('text', 'null'));
