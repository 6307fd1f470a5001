-- How many students reached each goal, and each criterion that shows it, as it was told the department: settled once.
CREATE TABLE attainment (
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    position INTEGER NOT NULL,
    goal_id TEXT COLLATE "C" NOT NULL REFERENCES goal (id),
    goal_title TEXT COLLATE "C" NOT NULL,
    criterion_id TEXT COLLATE "C" REFERENCES criterion (id),
    criterion_title TEXT COLLATE "C" NOT NULL,
    -- Students who came so far; none where it is hidden.
    far INTEGER,
    there INTEGER,
    near INTEGER,
    not_yet INTEGER,
    students INTEGER,
    settled_at BIGINT NOT NULL,
    PRIMARY KEY (class_id, position)
);
