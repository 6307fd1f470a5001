-- Archives that were made, but for their pictures and papers, which lie elsewhere and never change: the same moment gives
-- the same bytes, whatever was changed since.
CREATE TABLE kept_archive (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    -- SHA-256 of the ids of its classes.
    of_classes TEXT COLLATE "C" NOT NULL,
    as_of BIGINT NOT NULL,
    made_at BIGINT NOT NULL,
    UNIQUE (of_classes, as_of)
);

CREATE TABLE kept_archive_class (
    kept_archive_id TEXT COLLATE "C" NOT NULL REFERENCES kept_archive (id),
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    PRIMARY KEY (kept_archive_id, class_id)
);
CREATE INDEX kept_archive_class_class ON kept_archive_class (class_id);

CREATE TABLE kept_archive_piece (
    kept_archive_id TEXT COLLATE "C" NOT NULL REFERENCES kept_archive (id),
    position INTEGER NOT NULL,
    bytes BYTEA NOT NULL,
    PRIMARY KEY (kept_archive_id, position)
);
