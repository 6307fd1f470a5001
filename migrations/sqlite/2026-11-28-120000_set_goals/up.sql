-- Learning goals of a class, and the criteria that show whether they are reached.

CREATE TABLE goal (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    title TEXT NOT NULL CHECK (typeof(title) = 'text'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer'),
    removed_at BIGINT CHECK (typeof(removed_at) IN ('integer', 'null'))
);
CREATE INDEX goal_class ON goal (class_id, position);

CREATE TABLE goal_criterion (
    goal_id TEXT NOT NULL REFERENCES goal (id) CHECK (typeof(goal_id) = 'text'),
    criterion_id TEXT NOT NULL REFERENCES criterion (id) CHECK (typeof(criterion_id) = 'text'),
    PRIMARY KEY (goal_id, criterion_id)
);
