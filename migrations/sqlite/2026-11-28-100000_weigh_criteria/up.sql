-- Criteria with levels, marks by them, second looks, and notes of a critique.

CREATE TABLE criterion (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    title TEXT NOT NULL CHECK (typeof(title) = 'text'),
    about TEXT NOT NULL CHECK (typeof(about) = 'text'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer'),
    removed_at BIGINT CHECK (typeof(removed_at) IN ('integer', 'null'))
);
CREATE INDEX criterion_class ON criterion (class_id, position);

CREATE TABLE criterion_level (
    criterion_id TEXT NOT NULL REFERENCES criterion (id) CHECK (typeof(criterion_id) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    title TEXT NOT NULL CHECK (typeof(title) = 'text'),
    descriptor TEXT NOT NULL CHECK (typeof(descriptor) = 'text'),
    share_bp INTEGER NOT NULL CHECK (share_bp BETWEEN 0 AND 10000) CHECK (typeof(share_bp) = 'integer'),
    PRIMARY KEY (criterion_id, position)
);

CREATE TABLE assessment_criterion (
    assessment_id TEXT NOT NULL REFERENCES assessment (id) CHECK (typeof(assessment_id) = 'text'),
    criterion_id TEXT NOT NULL REFERENCES criterion (id) CHECK (typeof(criterion_id) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    points_hundredths BIGINT NOT NULL CHECK (points_hundredths > 0) CHECK (typeof(points_hundredths) = 'integer'),
    PRIMARY KEY (assessment_id, criterion_id)
);

-- What a mark said criterion by criterion, in the words that held when it was given.
CREATE TABLE score_level (
    score_id TEXT NOT NULL REFERENCES score (id) CHECK (typeof(score_id) = 'text'),
    criterion_id TEXT NOT NULL REFERENCES criterion (id) CHECK (typeof(criterion_id) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    criterion_title TEXT NOT NULL CHECK (typeof(criterion_title) = 'text'),
    level_position INTEGER CHECK (typeof(level_position) IN ('integer', 'null')),
    level_title TEXT NOT NULL CHECK (typeof(level_title) = 'text'),
    descriptor TEXT NOT NULL CHECK (typeof(descriptor) = 'text'),
    points_hundredths BIGINT CHECK (typeof(points_hundredths) IN ('integer', 'null')),
    of_hundredths BIGINT NOT NULL CHECK (typeof(of_hundredths) = 'integer'),
    words TEXT NOT NULL CHECK (typeof(words) = 'text'),
    PRIMARY KEY (score_id, criterion_id)
);

-- Why the points are others than the levels add up to; empty where they are the same.
ALTER TABLE score ADD COLUMN own_points_reason TEXT NOT NULL DEFAULT '' CHECK (typeof(own_points_reason) = 'text');

CREATE TABLE second_look (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    score_id TEXT NOT NULL UNIQUE REFERENCES score (id) CHECK (typeof(score_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    reason TEXT NOT NULL CHECK (typeof(reason) = 'text'),
    asked_at BIGINT NOT NULL CHECK (typeof(asked_at) = 'integer'),
    answered_at BIGINT CHECK (typeof(answered_at) IN ('integer', 'null')),
    answered_by TEXT REFERENCES person (id) CHECK (typeof(answered_by) IN ('text', 'null')),
    answer TEXT NOT NULL CHECK (typeof(answer) = 'text'),
    new_score_id TEXT UNIQUE REFERENCES score (id) CHECK (typeof(new_score_id) IN ('text', 'null'))
);
CREATE INDEX second_look_class ON second_look (class_id, asked_at);

CREATE TABLE critique (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    project_id TEXT NOT NULL REFERENCES project (id) CHECK (typeof(project_id) = 'text'),
    held_on DATE NOT NULL CHECK (typeof(held_on) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    begun_at BIGINT NOT NULL CHECK (typeof(begun_at) = 'integer'),
    handed_back_at BIGINT CHECK (typeof(handed_back_at) IN ('integer', 'null')),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer')
);
CREATE INDEX critique_class ON critique (class_id, held_on);

CREATE TABLE critique_note (
    critique_id TEXT NOT NULL REFERENCES critique (id) CHECK (typeof(critique_id) = 'text'),
    print_id TEXT NOT NULL REFERENCES print (id) CHECK (typeof(print_id) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    words TEXT NOT NULL CHECK (typeof(words) = 'text'),
    by_id TEXT REFERENCES person (id) CHECK (typeof(by_id) IN ('text', 'null')),
    PRIMARY KEY (critique_id, print_id)
);
CREATE INDEX critique_note_print ON critique_note (print_id);

-- Days on which no day late is charged.
CREATE TABLE uncounted_day (
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    day DATE NOT NULL CHECK (typeof(day) = 'text'),
    why TEXT NOT NULL CHECK (typeof(why) = 'text'),
    PRIMARY KEY (class_id, day)
);
