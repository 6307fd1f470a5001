-- Archives that were made, but for their pictures and papers, which lie elsewhere and never change: the same moment gives
-- the same bytes, whatever was changed since.
CREATE TABLE kept_archive (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    -- SHA-256 of the ids of its classes.
    of_classes TEXT NOT NULL CHECK (typeof(of_classes) = 'text'),
    as_of BIGINT NOT NULL CHECK (typeof(as_of) = 'integer'),
    made_at BIGINT NOT NULL CHECK (typeof(made_at) = 'integer'),
    UNIQUE (of_classes, as_of)
);

CREATE TABLE kept_archive_class (
    kept_archive_id TEXT NOT NULL REFERENCES kept_archive (id) CHECK (typeof(kept_archive_id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    PRIMARY KEY (kept_archive_id, class_id)
);
CREATE INDEX kept_archive_class_class ON kept_archive_class (class_id);

CREATE TABLE kept_archive_piece (
    kept_archive_id TEXT NOT NULL REFERENCES kept_archive (id) CHECK (typeof(kept_archive_id) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    bytes BLOB NOT NULL CHECK (typeof(bytes) = 'blob'),
    PRIMARY KEY (kept_archive_id, position)
);
