-- How many students reached each goal, and each criterion that shows it, as it was told the department: settled once.
CREATE TABLE attainment (
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    goal_id TEXT NOT NULL REFERENCES goal (id) CHECK (typeof(goal_id) = 'text'),
    goal_title TEXT NOT NULL CHECK (typeof(goal_title) = 'text'),
    criterion_id TEXT REFERENCES criterion (id) CHECK (typeof(criterion_id) IN ('text', 'null')),
    criterion_title TEXT NOT NULL CHECK (typeof(criterion_title) = 'text'),
    -- Students who came so far; none where it is hidden.
    far INTEGER CHECK (typeof(far) IN ('integer', 'null')),
    there INTEGER CHECK (typeof(there) IN ('integer', 'null')),
    near INTEGER CHECK (typeof(near) IN ('integer', 'null')),
    not_yet INTEGER CHECK (typeof(not_yet) IN ('integer', 'null')),
    students INTEGER CHECK (typeof(students) IN ('integer', 'null')),
    settled_at BIGINT NOT NULL CHECK (typeof(settled_at) = 'integer'),
    PRIMARY KEY (class_id, position)
);
