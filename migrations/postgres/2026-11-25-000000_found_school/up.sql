-- The whole school: people and doors, classes, studio, safety, procedures and plates, etches, proofs, grades,
-- letters and journal. Times are milliseconds UTC; amounts are integers of the unit in the column's name.

-- ---- the school and its people ----
CREATE TABLE school (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY CHECK (id = 'school'),
    name TEXT COLLATE "C" NOT NULL,
    safety_office TEXT COLLATE "C" NOT NULL,
    second_factor BOOLEAN NOT NULL,
    demo BOOLEAN NOT NULL,
    created_at BIGINT NOT NULL,
    version BIGINT NOT NULL
);

CREATE TABLE person (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    given_name TEXT COLLATE "C" NOT NULL,
    family_name TEXT COLLATE "C" NOT NULL,
    email TEXT COLLATE "C",
    email_key TEXT COLLATE "C" UNIQUE,
    student_number TEXT COLLATE "C" UNIQUE,
    password_hash TEXT COLLATE "C",
    activated_at BIGINT,
    keeper BOOLEAN NOT NULL,
    records BOOLEAN NOT NULL,
    safety_officer BOOLEAN NOT NULL,
    volume_unit TEXT COLLATE "C" NOT NULL CHECK (volume_unit IN ('us_fl_oz', 'ml')),
    daily_letter BOOLEAN NOT NULL,
    urgent_letter BOOLEAN NOT NULL DEFAULT TRUE,
    week_letter BOOLEAN NOT NULL DEFAULT TRUE,
    letter_hour INTEGER NOT NULL DEFAULT 7 CHECK (letter_hour BETWEEN 0 AND 23),
    failed_sign_ins INTEGER NOT NULL,
    failed_at BIGINT,
    created_at BIGINT NOT NULL,
    version BIGINT NOT NULL
);

CREATE TABLE session (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    token_hash TEXT COLLATE "C" NOT NULL UNIQUE,
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    agent TEXT COLLATE "C" NOT NULL,
    created_at BIGINT NOT NULL,
    seen_at BIGINT NOT NULL,
    idle_ms BIGINT NOT NULL,
    ends_at BIGINT NOT NULL,
    confirmed_at BIGINT NOT NULL,
    ended_at BIGINT
);
CREATE INDEX session_person ON session (person_id, ended_at);

CREATE TABLE link (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    purpose TEXT COLLATE "C" NOT NULL CHECK (purpose IN ('setup', 'invitation', 'reset', 'rescue', 'email')),
    person_id TEXT COLLATE "C" REFERENCES person (id),
    secret_hash TEXT COLLATE "C" NOT NULL UNIQUE,
    bound TEXT COLLATE "C" NOT NULL,
    created_at BIGINT NOT NULL,
    expires_at BIGINT NOT NULL,
    used_at BIGINT
);
CREATE INDEX link_person ON link (person_id, purpose);

CREATE TABLE calendar_feed (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    secret_hash TEXT COLLATE "C" NOT NULL UNIQUE,
    created_at BIGINT NOT NULL,
    withdrawn_at BIGINT
);
CREATE INDEX calendar_feed_person ON calendar_feed (person_id);

-- ---- studio: rooms, hours, stations, containers ----
CREATE TABLE studio (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    name TEXT COLLATE "C" NOT NULL,
    room_address TEXT COLLATE "C" NOT NULL,
    eyewash TEXT COLLATE "C" NOT NULL,
    emergency_numbers TEXT COLLATE "C" NOT NULL,
    waste_words TEXT COLLATE "C" NOT NULL DEFAULT '',
    created_at BIGINT NOT NULL,
    version BIGINT NOT NULL
);

CREATE TABLE opening (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    studio_id TEXT COLLATE "C" NOT NULL REFERENCES studio (id),
    weekday INTEGER NOT NULL CHECK (weekday BETWEEN 1 AND 7),
    from_minute INTEGER NOT NULL,
    to_minute INTEGER NOT NULL,
    CHECK (0 <= from_minute AND from_minute < to_minute AND to_minute <= 1440)
);
CREATE INDEX opening_studio ON opening (studio_id);

CREATE TABLE closure (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    studio_id TEXT COLLATE "C" NOT NULL REFERENCES studio (id),
    day DATE NOT NULL,
    reason TEXT COLLATE "C" NOT NULL,
    UNIQUE (studio_id, day)
);

CREATE TABLE extra_opening (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    studio_id TEXT COLLATE "C" NOT NULL REFERENCES studio (id),
    day DATE NOT NULL,
    from_minute INTEGER NOT NULL,
    to_minute INTEGER NOT NULL,
    reason TEXT COLLATE "C" NOT NULL,
    CHECK (0 <= from_minute AND from_minute < to_minute AND to_minute <= 1440)
);
CREATE INDEX extra_opening_studio ON extra_opening (studio_id, day);

CREATE TABLE station (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    studio_id TEXT COLLATE "C" NOT NULL REFERENCES studio (id),
    kind TEXT COLLATE "C" NOT NULL,
    name TEXT COLLATE "C" NOT NULL,
    units INTEGER NOT NULL CHECK (units > 0),
    position INTEGER NOT NULL,
    version BIGINT NOT NULL
);
CREATE INDEX station_studio ON station (studio_id);

CREATE TABLE station_down (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    station_id TEXT COLLATE "C" NOT NULL REFERENCES station (id),
    unit INTEGER NOT NULL CHECK (unit > 0),
    from_at BIGINT NOT NULL,
    to_at BIGINT CHECK (to_at > from_at),
    reason TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL,
    ended_at BIGINT,
    ended_by TEXT COLLATE "C" REFERENCES person (id)
);
CREATE INDEX station_down_station ON station_down (station_id, from_at);

-- What a safety data sheet says in short; the file lies on a shelf under its SHA-256. A change is a new row.
CREATE TABLE data_sheet (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    studio_id TEXT COLLATE "C" NOT NULL REFERENCES studio (id),
    replaces_id TEXT COLLATE "C" UNIQUE REFERENCES data_sheet (id),
    substance TEXT COLLATE "C" NOT NULL CHECK (substance IN ('gum', 'phosphoric', 'nitric', 'stock')),
    product TEXT COLLATE "C" NOT NULL,
    supplier TEXT COLLATE "C" NOT NULL,
    revised DATE NOT NULL,
    signal TEXT COLLATE "C" NOT NULL CHECK (signal IN ('danger', 'warning', 'none')),
    hazards TEXT COLLATE "C" NOT NULL,
    pictograms TEXT COLLATE "C" NOT NULL,
    file_name TEXT COLLATE "C" NOT NULL,
    file_sha256 TEXT COLLATE "C" NOT NULL,
    file_bytes BIGINT NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL
);
CREATE INDEX data_sheet_studio ON data_sheet (studio_id);

CREATE TABLE container (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    studio_id TEXT COLLATE "C" NOT NULL REFERENCES studio (id),
    letter TEXT COLLATE "C" NOT NULL CHECK (letter IN ('G', 'A', 'E')),
    number INTEGER NOT NULL,
    substance TEXT COLLATE "C" NOT NULL CHECK (substance IN ('gum', 'phosphoric', 'nitric', 'stock')),
    label TEXT COLLATE "C" NOT NULL,
    opened DATE NOT NULL,
    baume_tenths INTEGER,
    ph_hundredths INTEGER,
    weight_bp INTEGER,
    drops_per_ml_hundredths INTEGER,
    drops_spread_hundredths INTEGER,
    discard DATE,
    sour BOOLEAN NOT NULL,
    do_not_use TEXT COLLATE "C",
    note TEXT COLLATE "C" NOT NULL,
    data_sheet_id TEXT COLLATE "C" REFERENCES data_sheet (id),
    finished_at BIGINT,
    created_at BIGINT NOT NULL,
    version BIGINT NOT NULL,
    UNIQUE (studio_id, letter, number)
);

-- Drops of an acid on a balance, and what they made of its dropper.
CREATE TABLE weighing (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    container_id TEXT COLLATE "C" NOT NULL REFERENCES container (id),
    drops INTEGER NOT NULL CHECK (drops > 0),
    milligrams BIGINT NOT NULL CHECK (milligrams > 0),
    weight_bp INTEGER NOT NULL,
    drops_per_ml_hundredths INTEGER NOT NULL,
    drops_spread_hundredths INTEGER NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL
);
CREATE INDEX weighing_container ON weighing (container_id, at);

-- ---- classes: terms, listings, enrolments, projects ----
CREATE TABLE term (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    name TEXT COLLATE "C" NOT NULL UNIQUE,
    starts DATE NOT NULL,
    ends DATE NOT NULL,
    zone TEXT COLLATE "C" NOT NULL,
    created_at BIGINT NOT NULL,
    version BIGINT NOT NULL,
    CHECK (starts < ends)
);

CREATE TABLE class (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    term_id TEXT COLLATE "C" NOT NULL REFERENCES term (id),
    studio_id TEXT COLLATE "C" NOT NULL REFERENCES studio (id),
    code TEXT COLLATE "C" NOT NULL,
    title TEXT COLLATE "C" NOT NULL,
    go_ahead BOOLEAN NOT NULL,
    shares_logs BOOLEAN NOT NULL,
    gum_limit_days INTEGER,
    ph_low_hundredths INTEGER,
    ph_high_hundredths INTEGER,
    copied_from TEXT COLLATE "C" REFERENCES class (id),
    created_at BIGINT NOT NULL,
    version BIGINT NOT NULL,
    UNIQUE (term_id, code)
);

CREATE TABLE meeting (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    kind TEXT COLLATE "C" NOT NULL CHECK (kind IN ('meeting', 'presence')),
    person_id TEXT COLLATE "C" REFERENCES person (id),
    weekday INTEGER NOT NULL CHECK (weekday BETWEEN 1 AND 7),
    from_minute INTEGER NOT NULL,
    to_minute INTEGER NOT NULL,
    CHECK (0 <= from_minute AND from_minute < to_minute AND to_minute <= 1440)
);
CREATE INDEX meeting_class ON meeting (class_id);

CREATE TABLE listing (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    code TEXT COLLATE "C" NOT NULL,
    section TEXT COLLATE "C" NOT NULL,
    level TEXT COLLATE "C" NOT NULL,
    credits_hundredths INTEGER NOT NULL,
    basis TEXT COLLATE "C" NOT NULL CHECK (basis IN ('letter', 'pass', 'audit')),
    version BIGINT NOT NULL,
    UNIQUE (class_id, code, section)
);

CREATE TABLE enrolment (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    listing_id TEXT COLLATE "C" REFERENCES listing (id),
    role TEXT COLLATE "C" NOT NULL CHECK (role IN ('student', 'assistant', 'instructor')),
    state TEXT COLLATE "C" NOT NULL CHECK (state IN ('enrolled', 'dropped', 'withdrawn', 'incomplete')),
    since DATE NOT NULL,
    incomplete_until DATE,
    lapses_to TEXT COLLATE "C",
    joined_at BIGINT NOT NULL,
    version BIGINT NOT NULL,
    UNIQUE (class_id, person_id)
);
CREATE INDEX enrolment_person ON enrolment (person_id);

CREATE TABLE enrolment_change (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    enrolment_id TEXT COLLATE "C" NOT NULL REFERENCES enrolment (id),
    listing_id TEXT COLLATE "C" REFERENCES listing (id),
    role TEXT COLLATE "C" NOT NULL,
    state TEXT COLLATE "C" NOT NULL,
    since DATE NOT NULL,
    reason TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL
);
CREATE INDEX enrolment_change_enrolment ON enrolment_change (enrolment_id);

-- ---- safety: topics, sign-offs ----
CREATE TABLE topic (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    key TEXT COLLATE "C" NOT NULL UNIQUE,
    title TEXT COLLATE "C" NOT NULL,
    position INTEGER NOT NULL,
    created_at BIGINT NOT NULL
);

CREATE TABLE topic_version (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    topic_id TEXT COLLATE "C" NOT NULL REFERENCES topic (id),
    number INTEGER NOT NULL,
    introduction TEXT COLLATE "C" NOT NULL,
    valid_days INTEGER,
    by_id TEXT COLLATE "C" REFERENCES person (id),
    created_at BIGINT NOT NULL,
    UNIQUE (topic_id, number)
);

CREATE TABLE topic_point (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    topic_version_id TEXT COLLATE "C" NOT NULL REFERENCES topic_version (id),
    position INTEGER NOT NULL,
    words TEXT COLLATE "C" NOT NULL,
    UNIQUE (topic_version_id, position)
);

CREATE TABLE class_topic (
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    topic_id TEXT COLLATE "C" NOT NULL REFERENCES topic (id),
    PRIMARY KEY (class_id, topic_id)
);

CREATE TABLE witness (
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    topic_id TEXT COLLATE "C" NOT NULL REFERENCES topic (id),
    PRIMARY KEY (class_id, person_id, topic_id)
);

CREATE TABLE sign_off (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    topic_id TEXT COLLATE "C" NOT NULL REFERENCES topic (id),
    topic_version_id TEXT COLLATE "C" NOT NULL REFERENCES topic_version (id),
    studio_id TEXT COLLATE "C" NOT NULL REFERENCES studio (id),
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    grade TEXT COLLATE "C" NOT NULL CHECK (grade IN ('shown', 'watched', 'alone')),
    given_by TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    given_at BIGINT NOT NULL,
    acknowledged_at BIGINT,
    valid_until DATE,
    note TEXT COLLATE "C" NOT NULL,
    taken_back_at BIGINT,
    withdrawn_at BIGINT,
    withdrawn_by TEXT COLLATE "C" REFERENCES person (id),
    withdrawn_reason TEXT COLLATE "C"
);
CREATE INDEX sign_off_person ON sign_off (person_id, topic_id);
CREATE INDEX sign_off_class ON sign_off (class_id, topic_id);

CREATE TABLE sign_off_point (
    sign_off_id TEXT COLLATE "C" NOT NULL REFERENCES sign_off (id),
    point_id TEXT COLLATE "C" NOT NULL REFERENCES topic_point (id),
    PRIMARY KEY (sign_off_id, point_id)
);

-- ---- procedures, projects, prints, plates ----
CREATE TABLE procedure (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" REFERENCES class (id),
    name TEXT COLLATE "C" NOT NULL,
    surface TEXT COLLATE "C" NOT NULL CHECK (surface IN ('plate', 'stone')),
    created_at BIGINT NOT NULL
);
CREATE INDEX procedure_class ON procedure (class_id);

CREATE TABLE procedure_version (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    procedure_id TEXT COLLATE "C" NOT NULL REFERENCES procedure (id),
    number INTEGER NOT NULL,
    body TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" REFERENCES person (id),
    created_at BIGINT NOT NULL,
    UNIQUE (procedure_id, number)
);

CREATE TABLE procedure_draft (
    procedure_id TEXT COLLATE "C" NOT NULL PRIMARY KEY REFERENCES procedure (id),
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    body TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL,
    version BIGINT NOT NULL
);
CREATE INDEX procedure_draft_class ON procedure_draft (class_id);

CREATE TABLE procedure_picture (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    width INTEGER NOT NULL,
    height INTEGER NOT NULL,
    bytes BIGINT NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL
);
CREATE INDEX procedure_picture_class ON procedure_picture (class_id);

CREATE TABLE project (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    position INTEGER NOT NULL,
    title TEXT COLLATE "C" NOT NULL,
    brief TEXT COLLATE "C" NOT NULL,
    due_local TEXT COLLATE "C" NOT NULL,
    edition_asked INTEGER NOT NULL,
    procedure_id TEXT COLLATE "C" NOT NULL REFERENCES procedure (id),
    created_at BIGINT NOT NULL,
    version BIGINT NOT NULL
);
CREATE INDEX project_class ON project (class_id, position);

CREATE TABLE own_due (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    project_id TEXT COLLATE "C" NOT NULL REFERENCES project (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    due_local TEXT COLLATE "C" NOT NULL,
    reason TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL,
    superseded_at BIGINT
);
CREATE INDEX own_due_project ON own_due (project_id, person_id);

CREATE TABLE due_move (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    project_id TEXT COLLATE "C" NOT NULL REFERENCES project (id),
    from_local TEXT COLLATE "C" NOT NULL,
    to_local TEXT COLLATE "C" NOT NULL,
    reason TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL
);
CREATE INDEX due_move_project ON due_move (project_id, at);

CREATE TABLE print (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    project_id TEXT COLLATE "C" NOT NULL REFERENCES project (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    title TEXT COLLATE "C" NOT NULL,
    edition_size INTEGER,
    handed_in_at BIGINT,
    created_at BIGINT NOT NULL,
    version BIGINT NOT NULL
);
CREATE INDEX print_class ON print (class_id, person_id);
CREATE INDEX print_project ON print (project_id, person_id);

CREATE TABLE plate (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    print_id TEXT COLLATE "C" NOT NULL REFERENCES print (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    procedure_version_id TEXT COLLATE "C" NOT NULL REFERENCES procedure_version (id),
    number INTEGER NOT NULL,
    position INTEGER NOT NULL,
    surface TEXT COLLATE "C" NOT NULL CHECK (surface IN ('plate', 'stone')),
    width_hundredths INTEGER NOT NULL,
    height_hundredths INTEGER NOT NULL,
    size_unit TEXT COLLATE "C" NOT NULL CHECK (size_unit IN ('in', 'cm')),
    materials TEXT COLLATE "C" NOT NULL,
    weight TEXT COLLATE "C" NOT NULL CHECK (weight IN ('light', 'medium', 'heavy')),
    replaces_id TEXT COLLATE "C" UNIQUE REFERENCES plate (id),
    standing TEXT COLLATE "C" NOT NULL,
    standing_since BIGINT NOT NULL,
    gummed_at BIGINT,
    rack_place TEXT COLLATE "C" NOT NULL,
    note TEXT COLLATE "C" NOT NULL,
    created_at BIGINT NOT NULL,
    version BIGINT NOT NULL,
    UNIQUE (class_id, number)
);
CREATE INDEX plate_print ON plate (print_id, position);
CREATE INDEX plate_person ON plate (class_id, person_id);

CREATE TABLE step_run (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    plate_id TEXT COLLATE "C" NOT NULL REFERENCES plate (id),
    step_key TEXT COLLATE "C" NOT NULL,
    began_at BIGINT NOT NULL,
    ended_at BIGINT,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    received_at BIGINT NOT NULL,
    known_how TEXT COLLATE "C" NOT NULL CHECK (known_how IN ('measured', 'told', 'card')),
    outside_rules TEXT COLLATE "C" NOT NULL,
    settled_at BIGINT,
    settled_by TEXT COLLATE "C" REFERENCES person (id),
    settlement TEXT COLLATE "C",
    settled_reason TEXT COLLATE "C",
    sheets INTEGER,
    note TEXT COLLATE "C" NOT NULL
);
CREATE INDEX step_run_plate ON step_run (plate_id, began_at);
CREATE INDEX step_run_class ON step_run (class_id);

CREATE TABLE refusal (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    plate_id TEXT COLLATE "C" NOT NULL REFERENCES plate (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    step_key TEXT COLLATE "C" NOT NULL,
    rules TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL
);
CREATE INDEX refusal_plate ON refusal (plate_id);
CREATE INDEX refusal_class ON refusal (class_id);

CREATE TABLE allowance (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    plate_id TEXT COLLATE "C" NOT NULL REFERENCES plate (id),
    step_key TEXT COLLATE "C" NOT NULL,
    reason TEXT COLLATE "C" NOT NULL,
    given_by TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    given_at BIGINT NOT NULL,
    used_at BIGINT
);
CREATE INDEX allowance_plate ON allowance (plate_id);
CREATE INDEX allowance_class ON allowance (class_id);

CREATE TABLE sitting (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    began_at BIGINT NOT NULL,
    ended_at BIGINT
);
CREATE INDEX sitting_person ON sitting (person_id, ended_at);

CREATE TABLE put_down (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    plate_id TEXT COLLATE "C" NOT NULL REFERENCES plate (id),
    sitting_id TEXT COLLATE "C" REFERENCES sitting (id),
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL,
    gummed BOOLEAN NOT NULL,
    buffed BOOLEAN NOT NULL,
    talc BOOLEAN NOT NULL,
    rack_place TEXT COLLATE "C" NOT NULL
);
CREATE INDEX put_down_plate ON put_down (plate_id, at);

-- ---- etches ----
CREATE TABLE etch (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    plate_id TEXT COLLATE "C" NOT NULL REFERENCES plate (id),
    step_run_id TEXT COLLATE "C" NOT NULL REFERENCES step_run (id),
    step_key TEXT COLLATE "C" NOT NULL,
    root TEXT COLLATE "C" NOT NULL REFERENCES etch (id),
    corrects TEXT COLLATE "C" UNIQUE REFERENCES etch (id),
    superseded_at BIGINT,
    reason TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL,
    received_at BIGINT NOT NULL,
    known_how TEXT COLLATE "C" NOT NULL CHECK (known_how IN ('measured', 'told', 'card')),
    recipe TEXT COLLATE "C" NOT NULL CHECK (recipe IN ('acid_in_gum', 'pure_gum', 'stock', 'stock_cut')),
    gum_id TEXT COLLATE "C" REFERENCES container (id),
    gum_microlitres BIGINT,
    gum_unit TEXT COLLATE "C" CHECK (gum_unit IN ('us_fl_oz', 'ml')),
    acid_id TEXT COLLATE "C" REFERENCES container (id),
    drops INTEGER,
    stock_id TEXT COLLATE "C" REFERENCES container (id),
    stock_microlitres BIGINT,
    gum_baume_tenths INTEGER,
    gum_ph_hundredths INTEGER,
    gum_sour BOOLEAN NOT NULL,
    acid_weight_bp INTEGER,
    acid_kind TEXT COLLATE "C",
    drops_per_ml_hundredths INTEGER,
    drops_spread_hundredths INTEGER,
    measured_ph_hundredths INTEGER,
    tool TEXT COLLATE "C" NOT NULL,
    helper TEXT COLLATE "C" NOT NULL,
    seen TEXT COLLATE "C" NOT NULL,
    doubts TEXT COLLATE "C"
);
CREATE INDEX etch_class ON etch (class_id, at);
CREATE INDEX etch_plate ON etch (plate_id, at);
CREATE INDEX etch_root ON etch (root);

CREATE TABLE etch_application (
    etch_id TEXT COLLATE "C" NOT NULL REFERENCES etch (id),
    position INTEGER NOT NULL,
    seconds INTEGER NOT NULL CHECK (seconds > 0),
    PRIMARY KEY (etch_id, position)
);

CREATE TABLE came_up (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    plate_id TEXT COLLATE "C" NOT NULL REFERENCES plate (id),
    etch_root TEXT COLLATE "C" NOT NULL REFERENCES etch (id),
    step_run_id TEXT COLLATE "C" REFERENCES step_run (id),
    how TEXT COLLATE "C" NOT NULL,
    note TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL,
    corrects TEXT COLLATE "C" UNIQUE REFERENCES came_up (id),
    superseded_at BIGINT
);
CREATE INDEX came_up_etch ON came_up (etch_root);
CREATE INDEX came_up_plate ON came_up (plate_id);

-- The instructor's table of etches by drawing; a save supersedes all rows that stand.
CREATE TABLE etch_table_row (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    version BIGINT NOT NULL,
    position INTEGER NOT NULL,
    surface TEXT COLLATE "C" NOT NULL CHECK (surface IN ('plate', 'stone')),
    weight TEXT COLLATE "C" NOT NULL CHECK (weight IN ('light', 'medium', 'heavy')),
    material TEXT COLLATE "C" NOT NULL,
    drops_hundredths INTEGER NOT NULL CHECK (drops_hundredths >= 0),
    applications INTEGER NOT NULL CHECK (applications > 0),
    seconds INTEGER NOT NULL CHECK (seconds > 0),
    source TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" REFERENCES person (id),
    at BIGINT NOT NULL,
    superseded_at BIGINT
);
CREATE INDEX etch_table_row_class ON etch_table_row (class_id, superseded_at);

-- ---- proofs: photos and comments ----
CREATE TABLE photo (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    plate_id TEXT COLLATE "C" NOT NULL REFERENCES plate (id),
    sha256 TEXT COLLATE "C",
    width INTEGER NOT NULL,
    height INTEGER NOT NULL,
    bytes BIGINT NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL,
    UNIQUE (plate_id, sha256)
);

CREATE TABLE proof (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    plate_id TEXT COLLATE "C" NOT NULL REFERENCES plate (id),
    photo_id TEXT COLLATE "C" NOT NULL UNIQUE REFERENCES photo (id),
    kind TEXT COLLATE "C" NOT NULL CHECK (kind IN ('drawing', 'trial', 'state', 'bat', 'edition', 'cancellation')),
    pulled_at BIGINT NOT NULL,
    note TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL,
    removed_at BIGINT
);
CREATE INDEX proof_plate ON proof (plate_id, pulled_at);
CREATE INDEX proof_class ON proof (class_id);

CREATE TABLE comment (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    plate_id TEXT COLLATE "C" NOT NULL REFERENCES plate (id),
    proof_id TEXT COLLATE "C" REFERENCES proof (id),
    words TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL,
    removed_at BIGINT
);
CREATE INDEX comment_plate ON comment (plate_id, at);
CREATE INDEX comment_class ON comment (class_id, at);

-- ---- grades ----
CREATE TABLE grading_scheme (
    class_id TEXT COLLATE "C" NOT NULL PRIMARY KEY REFERENCES class (id),
    late_bp INTEGER NOT NULL,
    late_of TEXT COLLATE "C" NOT NULL CHECK (late_of IN ('possible', 'earned')),
    late_max_days INTEGER,
    grace_minutes INTEGER NOT NULL,
    missing_counts_zero BOOLEAN NOT NULL,
    rounding_places INTEGER NOT NULL,
    ties TEXT COLLATE "C" NOT NULL CHECK (ties IN ('half_up', 'half_even', 'truncate')),
    scale TEXT COLLATE "C" NOT NULL,
    version BIGINT NOT NULL
);

CREATE TABLE category (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    position INTEGER NOT NULL,
    title TEXT COLLATE "C" NOT NULL,
    weight_bp INTEGER NOT NULL,
    drop_lowest INTEGER NOT NULL,
    version BIGINT NOT NULL
);
CREATE INDEX category_class ON category (class_id, position);

CREATE TABLE assessment (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    category_id TEXT COLLATE "C" NOT NULL REFERENCES category (id),
    project_id TEXT COLLATE "C" REFERENCES project (id),
    position INTEGER NOT NULL,
    title TEXT COLLATE "C" NOT NULL,
    points_hundredths BIGINT NOT NULL,
    extra_credit BOOLEAN NOT NULL,
    version BIGINT NOT NULL
);
CREATE INDEX assessment_class ON assessment (class_id, position);

CREATE TABLE score (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    class_id TEXT COLLATE "C" NOT NULL REFERENCES class (id),
    assessment_id TEXT COLLATE "C" NOT NULL REFERENCES assessment (id),
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    print_id TEXT COLLATE "C" REFERENCES print (id),
    root TEXT COLLATE "C" NOT NULL REFERENCES score (id),
    corrects TEXT COLLATE "C" UNIQUE REFERENCES score (id),
    superseded_at BIGINT,
    status TEXT COLLATE "C" NOT NULL CHECK (status IN ('graded', 'excused', 'missing', 'pending')),
    points_hundredths BIGINT,
    words TEXT COLLATE "C" NOT NULL,
    reason TEXT COLLATE "C" NOT NULL,
    by_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    at BIGINT NOT NULL,
    handed_back_at BIGINT
);
CREATE INDEX score_class ON score (class_id, person_id);
CREATE INDEX score_assessment ON score (assessment_id, person_id);

-- ---- letters, once-keys, journal, disclosures ----
CREATE TABLE letter (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    kind TEXT COLLATE "C" NOT NULL,
    person_id TEXT COLLATE "C" NOT NULL REFERENCES person (id),
    class_id TEXT COLLATE "C" REFERENCES class (id),
    cause TEXT COLLATE "C" UNIQUE,
    detail TEXT COLLATE "C" NOT NULL,
    created_at BIGINT NOT NULL,
    not_before BIGINT NOT NULL,
    attempts INTEGER NOT NULL,
    tried_since BIGINT,
    lease_owner TEXT COLLATE "C",
    lease_until BIGINT,
    sent_at BIGINT,
    failed_at BIGINT,
    dropped_at BIGINT,
    last_error TEXT COLLATE "C"
);
CREATE INDEX letter_due ON letter (sent_at, failed_at, dropped_at, not_before);
CREATE INDEX letter_person ON letter (person_id, created_at);
CREATE INDEX letter_class ON letter (class_id, created_at);
CREATE INDEX letter_created ON letter (created_at);

CREATE TABLE once (
    key TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    person_id TEXT COLLATE "C",
    door TEXT COLLATE "C" NOT NULL,
    body_sha256 TEXT COLLATE "C" NOT NULL,
    location TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL
);
CREATE INDEX once_at ON once (at);

CREATE TABLE journal_head (
    scope TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    seq BIGINT NOT NULL,
    hash TEXT COLLATE "C" NOT NULL
);

CREATE TABLE journal (
    scope TEXT COLLATE "C" NOT NULL,
    seq BIGINT NOT NULL,
    at BIGINT NOT NULL,
    person_id TEXT COLLATE "C",
    act TEXT COLLATE "C" NOT NULL,
    subject TEXT COLLATE "C" NOT NULL,
    detail_hash TEXT COLLATE "C" NOT NULL,
    hash TEXT COLLATE "C" NOT NULL,
    PRIMARY KEY (scope, seq)
);
CREATE INDEX journal_subject ON journal (subject);

CREATE TABLE journal_detail (
    scope TEXT COLLATE "C" NOT NULL,
    seq BIGINT NOT NULL,
    salt TEXT COLLATE "C" NOT NULL,
    detail TEXT COLLATE "C" NOT NULL,
    PRIMARY KEY (scope, seq)
);

CREATE TABLE disclosure (
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    at BIGINT NOT NULL,
    by_id TEXT COLLATE "C" REFERENCES person (id),
    class_id TEXT COLLATE "C" REFERENCES class (id),
    person_id TEXT COLLATE "C" REFERENCES person (id),
    what TEXT COLLATE "C" NOT NULL,
    purpose TEXT COLLATE "C" NOT NULL,
    party TEXT COLLATE "C" NOT NULL
);
CREATE INDEX disclosure_class ON disclosure (class_id, at);

CREATE TABLE external_id (
    kind TEXT COLLATE "C" NOT NULL,
    ours TEXT COLLATE "C" NOT NULL,
    source TEXT COLLATE "C" NOT NULL,
    theirs TEXT COLLATE "C" NOT NULL,
    PRIMARY KEY (kind, source, theirs),
    UNIQUE (kind, source, ours)
);

INSERT INTO journal_head (scope, seq, hash) VALUES ('school', 0, '');
