-- Learning goals of a class, and the criteria that show whether they are reached.

CREATE TABLE goal (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    position INTEGER NOT NULL,
    title TEXT COLLATE "C" NOT NULL,
    version BIGINT NOT NULL,
    removed_at BIGINT
);
CREATE INDEX goal_class ON goal (class_id, position);

CREATE TABLE goal_criterion (
    goal_id TEXT COLLATE "C" NOT NULL REFERENCES goal (id),
    criterion_id TEXT COLLATE "C" NOT NULL REFERENCES criterion (id),
    PRIMARY KEY (goal_id, criterion_id)
);
