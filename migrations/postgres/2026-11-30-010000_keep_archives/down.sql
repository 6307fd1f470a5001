DROP TABLE kept_archive_piece;
DROP TABLE kept_archive_class;
DROP TABLE kept_archive;
