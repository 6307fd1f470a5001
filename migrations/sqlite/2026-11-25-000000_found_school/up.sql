-- The whole school: people and doors, classes, studio, safety, procedures and plates, etches, proofs, grades,
-- letters and journal. Times are milliseconds UTC; amounts are integers of the unit in the column's name.

-- ---- the school and its people ----
CREATE TABLE school (
    id TEXT NOT NULL PRIMARY KEY CHECK (id = 'school') CHECK (typeof(id) = 'text'),
    name TEXT NOT NULL CHECK (typeof(name) = 'text'),
    safety_office TEXT NOT NULL CHECK (typeof(safety_office) = 'text'),
    second_factor BOOLEAN NOT NULL CHECK (typeof(second_factor) = 'integer'),
    demo BOOLEAN NOT NULL CHECK (typeof(demo) = 'integer'),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer')
);

CREATE TABLE person (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    given_name TEXT NOT NULL CHECK (typeof(given_name) = 'text'),
    family_name TEXT NOT NULL CHECK (typeof(family_name) = 'text'),
    email TEXT CHECK (typeof(email) IN ('text', 'null')),
    email_key TEXT UNIQUE CHECK (typeof(email_key) IN ('text', 'null')),
    student_number TEXT UNIQUE CHECK (typeof(student_number) IN ('text', 'null')),
    password_hash TEXT CHECK (typeof(password_hash) IN ('text', 'null')),
    activated_at BIGINT CHECK (typeof(activated_at) IN ('integer', 'null')),
    keeper BOOLEAN NOT NULL CHECK (typeof(keeper) = 'integer'),
    records BOOLEAN NOT NULL CHECK (typeof(records) = 'integer'),
    safety_officer BOOLEAN NOT NULL CHECK (typeof(safety_officer) = 'integer'),
    volume_unit TEXT NOT NULL CHECK (volume_unit IN ('us_fl_oz', 'ml')) CHECK (typeof(volume_unit) = 'text'),
    daily_letter BOOLEAN NOT NULL CHECK (typeof(daily_letter) = 'integer'),
    urgent_letter BOOLEAN NOT NULL DEFAULT TRUE CHECK (typeof(urgent_letter) = 'integer'),
    week_letter BOOLEAN NOT NULL DEFAULT TRUE CHECK (typeof(week_letter) = 'integer'),
    letter_hour INTEGER NOT NULL DEFAULT 7 CHECK (letter_hour BETWEEN 0 AND 23) CHECK (typeof(letter_hour) = 'integer'),
    failed_sign_ins INTEGER NOT NULL CHECK (typeof(failed_sign_ins) = 'integer'),
    failed_at BIGINT CHECK (typeof(failed_at) IN ('integer', 'null')),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer')
);

CREATE TABLE session (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    token_hash TEXT NOT NULL UNIQUE CHECK (typeof(token_hash) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    agent TEXT NOT NULL CHECK (typeof(agent) = 'text'),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    seen_at BIGINT NOT NULL CHECK (typeof(seen_at) = 'integer'),
    idle_ms BIGINT NOT NULL CHECK (typeof(idle_ms) = 'integer'),
    ends_at BIGINT NOT NULL CHECK (typeof(ends_at) = 'integer'),
    confirmed_at BIGINT NOT NULL CHECK (typeof(confirmed_at) = 'integer'),
    ended_at BIGINT CHECK (typeof(ended_at) IN ('integer', 'null'))
);
CREATE INDEX session_person ON session (person_id, ended_at);

CREATE TABLE link (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    purpose TEXT NOT NULL CHECK (purpose IN ('setup', 'invitation', 'reset', 'rescue', 'email')) CHECK (typeof(purpose) = 'text'),
    person_id TEXT REFERENCES person (id) CHECK (typeof(person_id) IN ('text', 'null')),
    secret_hash TEXT NOT NULL UNIQUE CHECK (typeof(secret_hash) = 'text'),
    bound TEXT NOT NULL CHECK (typeof(bound) = 'text'),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    expires_at BIGINT NOT NULL CHECK (typeof(expires_at) = 'integer'),
    used_at BIGINT CHECK (typeof(used_at) IN ('integer', 'null'))
);
CREATE INDEX link_person ON link (person_id, purpose);

CREATE TABLE calendar_feed (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    secret_hash TEXT NOT NULL UNIQUE CHECK (typeof(secret_hash) = 'text'),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    withdrawn_at BIGINT CHECK (typeof(withdrawn_at) IN ('integer', 'null'))
);
CREATE INDEX calendar_feed_person ON calendar_feed (person_id);

-- ---- studio: rooms, hours, stations, containers ----
CREATE TABLE studio (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    name TEXT NOT NULL CHECK (typeof(name) = 'text'),
    room_address TEXT NOT NULL CHECK (typeof(room_address) = 'text'),
    eyewash TEXT NOT NULL CHECK (typeof(eyewash) = 'text'),
    emergency_numbers TEXT NOT NULL CHECK (typeof(emergency_numbers) = 'text'),
    waste_words TEXT NOT NULL DEFAULT '' CHECK (typeof(waste_words) = 'text'),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer')
);

CREATE TABLE opening (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    studio_id TEXT NOT NULL REFERENCES studio (id) CHECK (typeof(studio_id) = 'text'),
    weekday INTEGER NOT NULL CHECK (weekday BETWEEN 1 AND 7) CHECK (typeof(weekday) = 'integer'),
    from_minute INTEGER NOT NULL CHECK (typeof(from_minute) = 'integer'),
    to_minute INTEGER NOT NULL CHECK (typeof(to_minute) = 'integer'),
    CHECK (0 <= from_minute AND from_minute < to_minute AND to_minute <= 1440)
);
CREATE INDEX opening_studio ON opening (studio_id);

CREATE TABLE closure (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    studio_id TEXT NOT NULL REFERENCES studio (id) CHECK (typeof(studio_id) = 'text'),
    day DATE NOT NULL CHECK (typeof(day) = 'text'),
    reason TEXT NOT NULL CHECK (typeof(reason) = 'text'),
    UNIQUE (studio_id, day)
);

CREATE TABLE extra_opening (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    studio_id TEXT NOT NULL REFERENCES studio (id) CHECK (typeof(studio_id) = 'text'),
    day DATE NOT NULL CHECK (typeof(day) = 'text'),
    from_minute INTEGER NOT NULL CHECK (typeof(from_minute) = 'integer'),
    to_minute INTEGER NOT NULL CHECK (typeof(to_minute) = 'integer'),
    reason TEXT NOT NULL CHECK (typeof(reason) = 'text'),
    CHECK (0 <= from_minute AND from_minute < to_minute AND to_minute <= 1440)
);
CREATE INDEX extra_opening_studio ON extra_opening (studio_id, day);

CREATE TABLE station (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    studio_id TEXT NOT NULL REFERENCES studio (id) CHECK (typeof(studio_id) = 'text'),
    kind TEXT NOT NULL CHECK (typeof(kind) = 'text'),
    name TEXT NOT NULL CHECK (typeof(name) = 'text'),
    units INTEGER NOT NULL CHECK (units > 0) CHECK (typeof(units) = 'integer'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer')
);
CREATE INDEX station_studio ON station (studio_id);

CREATE TABLE station_down (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    station_id TEXT NOT NULL REFERENCES station (id) CHECK (typeof(station_id) = 'text'),
    unit INTEGER NOT NULL CHECK (unit > 0) CHECK (typeof(unit) = 'integer'),
    from_at BIGINT NOT NULL CHECK (typeof(from_at) = 'integer'),
    to_at BIGINT CHECK (to_at > from_at) CHECK (typeof(to_at) IN ('integer', 'null')),
    reason TEXT NOT NULL CHECK (typeof(reason) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    ended_at BIGINT CHECK (typeof(ended_at) IN ('integer', 'null')),
    ended_by TEXT REFERENCES person (id) CHECK (typeof(ended_by) IN ('text', 'null'))
);
CREATE INDEX station_down_station ON station_down (station_id, from_at);

-- What a safety data sheet says in short; the file lies on a shelf under its SHA-256. A change is a new row.
CREATE TABLE data_sheet (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    studio_id TEXT NOT NULL REFERENCES studio (id) CHECK (typeof(studio_id) = 'text'),
    replaces_id TEXT UNIQUE REFERENCES data_sheet (id) CHECK (typeof(replaces_id) IN ('text', 'null')),
    substance TEXT NOT NULL CHECK (substance IN ('gum', 'phosphoric', 'nitric', 'stock')) CHECK (typeof(substance) = 'text'),
    product TEXT NOT NULL CHECK (typeof(product) = 'text'),
    supplier TEXT NOT NULL CHECK (typeof(supplier) = 'text'),
    revised DATE NOT NULL CHECK (typeof(revised) = 'text'),
    signal TEXT NOT NULL CHECK (signal IN ('danger', 'warning', 'none')) CHECK (typeof(signal) = 'text'),
    hazards TEXT NOT NULL CHECK (typeof(hazards) = 'text'),
    pictograms TEXT NOT NULL CHECK (typeof(pictograms) = 'text'),
    file_name TEXT NOT NULL CHECK (typeof(file_name) = 'text'),
    file_sha256 TEXT NOT NULL CHECK (typeof(file_sha256) = 'text'),
    file_bytes BIGINT NOT NULL CHECK (typeof(file_bytes) = 'integer'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer')
);
CREATE INDEX data_sheet_studio ON data_sheet (studio_id);

CREATE TABLE container (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    studio_id TEXT NOT NULL REFERENCES studio (id) CHECK (typeof(studio_id) = 'text'),
    letter TEXT NOT NULL CHECK (letter IN ('G', 'A', 'E')) CHECK (typeof(letter) = 'text'),
    number INTEGER NOT NULL CHECK (typeof(number) = 'integer'),
    substance TEXT NOT NULL CHECK (substance IN ('gum', 'phosphoric', 'nitric', 'stock')) CHECK (typeof(substance) = 'text'),
    label TEXT NOT NULL CHECK (typeof(label) = 'text'),
    opened DATE NOT NULL CHECK (typeof(opened) = 'text'),
    baume_tenths INTEGER CHECK (typeof(baume_tenths) IN ('integer', 'null')),
    ph_hundredths INTEGER CHECK (typeof(ph_hundredths) IN ('integer', 'null')),
    weight_bp INTEGER CHECK (typeof(weight_bp) IN ('integer', 'null')),
    drops_per_ml_hundredths INTEGER CHECK (typeof(drops_per_ml_hundredths) IN ('integer', 'null')),
    drops_spread_hundredths INTEGER CHECK (typeof(drops_spread_hundredths) IN ('integer', 'null')),
    discard DATE CHECK (typeof(discard) IN ('text', 'null')),
    sour BOOLEAN NOT NULL CHECK (typeof(sour) = 'integer'),
    do_not_use TEXT CHECK (typeof(do_not_use) IN ('text', 'null')),
    note TEXT NOT NULL CHECK (typeof(note) = 'text'),
    data_sheet_id TEXT REFERENCES data_sheet (id) CHECK (typeof(data_sheet_id) IN ('text', 'null')),
    finished_at BIGINT CHECK (typeof(finished_at) IN ('integer', 'null')),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer'),
    UNIQUE (studio_id, letter, number)
);

-- Drops of an acid on a balance, and what they made of its dropper.
CREATE TABLE weighing (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    container_id TEXT NOT NULL REFERENCES container (id) CHECK (typeof(container_id) = 'text'),
    drops INTEGER NOT NULL CHECK (drops > 0) CHECK (typeof(drops) = 'integer'),
    milligrams BIGINT NOT NULL CHECK (milligrams > 0) CHECK (typeof(milligrams) = 'integer'),
    weight_bp INTEGER NOT NULL CHECK (typeof(weight_bp) = 'integer'),
    drops_per_ml_hundredths INTEGER NOT NULL CHECK (typeof(drops_per_ml_hundredths) = 'integer'),
    drops_spread_hundredths INTEGER NOT NULL CHECK (typeof(drops_spread_hundredths) = 'integer'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer')
);
CREATE INDEX weighing_container ON weighing (container_id, at);

-- ---- classes: terms, listings, enrolments, projects ----
CREATE TABLE term (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    name TEXT NOT NULL UNIQUE CHECK (typeof(name) = 'text'),
    starts DATE NOT NULL CHECK (typeof(starts) = 'text'),
    ends DATE NOT NULL CHECK (typeof(ends) = 'text'),
    zone TEXT NOT NULL CHECK (typeof(zone) = 'text'),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer'),
    CHECK (starts < ends)
);

CREATE TABLE class (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    term_id TEXT NOT NULL REFERENCES term (id) CHECK (typeof(term_id) = 'text'),
    studio_id TEXT NOT NULL REFERENCES studio (id) CHECK (typeof(studio_id) = 'text'),
    code TEXT NOT NULL CHECK (typeof(code) = 'text'),
    title TEXT NOT NULL CHECK (typeof(title) = 'text'),
    go_ahead BOOLEAN NOT NULL CHECK (typeof(go_ahead) = 'integer'),
    shares_logs BOOLEAN NOT NULL CHECK (typeof(shares_logs) = 'integer'),
    gum_limit_days INTEGER CHECK (typeof(gum_limit_days) IN ('integer', 'null')),
    ph_low_hundredths INTEGER CHECK (typeof(ph_low_hundredths) IN ('integer', 'null')),
    ph_high_hundredths INTEGER CHECK (typeof(ph_high_hundredths) IN ('integer', 'null')),
    copied_from TEXT REFERENCES class (id) CHECK (typeof(copied_from) IN ('text', 'null')),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer'),
    UNIQUE (term_id, code)
);

CREATE TABLE meeting (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    kind TEXT NOT NULL CHECK (kind IN ('meeting', 'presence')) CHECK (typeof(kind) = 'text'),
    person_id TEXT REFERENCES person (id) CHECK (typeof(person_id) IN ('text', 'null')),
    weekday INTEGER NOT NULL CHECK (weekday BETWEEN 1 AND 7) CHECK (typeof(weekday) = 'integer'),
    from_minute INTEGER NOT NULL CHECK (typeof(from_minute) = 'integer'),
    to_minute INTEGER NOT NULL CHECK (typeof(to_minute) = 'integer'),
    CHECK (0 <= from_minute AND from_minute < to_minute AND to_minute <= 1440)
);
CREATE INDEX meeting_class ON meeting (class_id);

CREATE TABLE listing (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    code TEXT NOT NULL CHECK (typeof(code) = 'text'),
    section TEXT NOT NULL CHECK (typeof(section) = 'text'),
    level TEXT NOT NULL CHECK (typeof(level) = 'text'),
    credits_hundredths INTEGER NOT NULL CHECK (typeof(credits_hundredths) = 'integer'),
    basis TEXT NOT NULL CHECK (basis IN ('letter', 'pass', 'audit')) CHECK (typeof(basis) = 'text'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer'),
    UNIQUE (class_id, code, section)
);

CREATE TABLE enrolment (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    listing_id TEXT REFERENCES listing (id) CHECK (typeof(listing_id) IN ('text', 'null')),
    role TEXT NOT NULL CHECK (role IN ('student', 'assistant', 'instructor')) CHECK (typeof(role) = 'text'),
    state TEXT NOT NULL CHECK (state IN ('enrolled', 'dropped', 'withdrawn', 'incomplete')) CHECK (typeof(state) = 'text'),
    since DATE NOT NULL CHECK (typeof(since) = 'text'),
    incomplete_until DATE CHECK (typeof(incomplete_until) IN ('text', 'null')),
    lapses_to TEXT CHECK (typeof(lapses_to) IN ('text', 'null')),
    joined_at BIGINT NOT NULL CHECK (typeof(joined_at) = 'integer'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer'),
    UNIQUE (class_id, person_id)
);
CREATE INDEX enrolment_person ON enrolment (person_id);

CREATE TABLE enrolment_change (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    enrolment_id TEXT NOT NULL REFERENCES enrolment (id) CHECK (typeof(enrolment_id) = 'text'),
    listing_id TEXT REFERENCES listing (id) CHECK (typeof(listing_id) IN ('text', 'null')),
    role TEXT NOT NULL CHECK (typeof(role) = 'text'),
    state TEXT NOT NULL CHECK (typeof(state) = 'text'),
    since DATE NOT NULL CHECK (typeof(since) = 'text'),
    reason TEXT NOT NULL CHECK (typeof(reason) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer')
);
CREATE INDEX enrolment_change_enrolment ON enrolment_change (enrolment_id);

-- ---- safety: topics, sign-offs ----
CREATE TABLE topic (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    key TEXT NOT NULL UNIQUE CHECK (typeof(key) = 'text'),
    title TEXT NOT NULL CHECK (typeof(title) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer')
);

CREATE TABLE topic_version (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    topic_id TEXT NOT NULL REFERENCES topic (id) CHECK (typeof(topic_id) = 'text'),
    number INTEGER NOT NULL CHECK (typeof(number) = 'integer'),
    introduction TEXT NOT NULL CHECK (typeof(introduction) = 'text'),
    valid_days INTEGER CHECK (typeof(valid_days) IN ('integer', 'null')),
    by_id TEXT REFERENCES person (id) CHECK (typeof(by_id) IN ('text', 'null')),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    UNIQUE (topic_id, number)
);

CREATE TABLE topic_point (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    topic_version_id TEXT NOT NULL REFERENCES topic_version (id) CHECK (typeof(topic_version_id) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    words TEXT NOT NULL CHECK (typeof(words) = 'text'),
    UNIQUE (topic_version_id, position)
);

CREATE TABLE class_topic (
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    topic_id TEXT NOT NULL REFERENCES topic (id) CHECK (typeof(topic_id) = 'text'),
    PRIMARY KEY (class_id, topic_id)
);

CREATE TABLE witness (
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    topic_id TEXT NOT NULL REFERENCES topic (id) CHECK (typeof(topic_id) = 'text'),
    PRIMARY KEY (class_id, person_id, topic_id)
);

CREATE TABLE sign_off (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    topic_id TEXT NOT NULL REFERENCES topic (id) CHECK (typeof(topic_id) = 'text'),
    topic_version_id TEXT NOT NULL REFERENCES topic_version (id) CHECK (typeof(topic_version_id) = 'text'),
    studio_id TEXT NOT NULL REFERENCES studio (id) CHECK (typeof(studio_id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    grade TEXT NOT NULL CHECK (grade IN ('shown', 'watched', 'alone')) CHECK (typeof(grade) = 'text'),
    given_by TEXT NOT NULL REFERENCES person (id) CHECK (typeof(given_by) = 'text'),
    given_at BIGINT NOT NULL CHECK (typeof(given_at) = 'integer'),
    acknowledged_at BIGINT CHECK (typeof(acknowledged_at) IN ('integer', 'null')),
    valid_until DATE CHECK (typeof(valid_until) IN ('text', 'null')),
    note TEXT NOT NULL CHECK (typeof(note) = 'text'),
    taken_back_at BIGINT CHECK (typeof(taken_back_at) IN ('integer', 'null')),
    withdrawn_at BIGINT CHECK (typeof(withdrawn_at) IN ('integer', 'null')),
    withdrawn_by TEXT REFERENCES person (id) CHECK (typeof(withdrawn_by) IN ('text', 'null')),
    withdrawn_reason TEXT CHECK (typeof(withdrawn_reason) IN ('text', 'null'))
);
CREATE INDEX sign_off_person ON sign_off (person_id, topic_id);
CREATE INDEX sign_off_class ON sign_off (class_id, topic_id);

CREATE TABLE sign_off_point (
    sign_off_id TEXT NOT NULL REFERENCES sign_off (id) CHECK (typeof(sign_off_id) = 'text'),
    point_id TEXT NOT NULL REFERENCES topic_point (id) CHECK (typeof(point_id) = 'text'),
    PRIMARY KEY (sign_off_id, point_id)
);

-- ---- procedures, projects, prints, plates ----
CREATE TABLE procedure (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT REFERENCES class (id) CHECK (typeof(class_id) IN ('text', 'null')),
    name TEXT NOT NULL CHECK (typeof(name) = 'text'),
    surface TEXT NOT NULL CHECK (surface IN ('plate', 'stone')) CHECK (typeof(surface) = 'text'),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer')
);
CREATE INDEX procedure_class ON procedure (class_id);

CREATE TABLE procedure_version (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    procedure_id TEXT NOT NULL REFERENCES procedure (id) CHECK (typeof(procedure_id) = 'text'),
    number INTEGER NOT NULL CHECK (typeof(number) = 'integer'),
    body TEXT NOT NULL CHECK (typeof(body) = 'text'),
    by_id TEXT REFERENCES person (id) CHECK (typeof(by_id) IN ('text', 'null')),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    UNIQUE (procedure_id, number)
);

CREATE TABLE procedure_draft (
    procedure_id TEXT NOT NULL PRIMARY KEY REFERENCES procedure (id) CHECK (typeof(procedure_id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    body TEXT NOT NULL CHECK (typeof(body) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer')
);
CREATE INDEX procedure_draft_class ON procedure_draft (class_id);

CREATE TABLE procedure_picture (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    width INTEGER NOT NULL CHECK (typeof(width) = 'integer'),
    height INTEGER NOT NULL CHECK (typeof(height) = 'integer'),
    bytes BIGINT NOT NULL CHECK (typeof(bytes) = 'integer'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer')
);
CREATE INDEX procedure_picture_class ON procedure_picture (class_id);

CREATE TABLE project (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    title TEXT NOT NULL CHECK (typeof(title) = 'text'),
    brief TEXT NOT NULL CHECK (typeof(brief) = 'text'),
    due_local TEXT NOT NULL CHECK (typeof(due_local) = 'text'),
    edition_asked INTEGER NOT NULL CHECK (typeof(edition_asked) = 'integer'),
    procedure_id TEXT NOT NULL REFERENCES procedure (id) CHECK (typeof(procedure_id) = 'text'),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer')
);
CREATE INDEX project_class ON project (class_id, position);

CREATE TABLE own_due (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    project_id TEXT NOT NULL REFERENCES project (id) CHECK (typeof(project_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    due_local TEXT NOT NULL CHECK (typeof(due_local) = 'text'),
    reason TEXT NOT NULL CHECK (typeof(reason) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    superseded_at BIGINT CHECK (typeof(superseded_at) IN ('integer', 'null'))
);
CREATE INDEX own_due_project ON own_due (project_id, person_id);

CREATE TABLE due_move (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    project_id TEXT NOT NULL REFERENCES project (id) CHECK (typeof(project_id) = 'text'),
    from_local TEXT NOT NULL CHECK (typeof(from_local) = 'text'),
    to_local TEXT NOT NULL CHECK (typeof(to_local) = 'text'),
    reason TEXT NOT NULL CHECK (typeof(reason) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer')
);
CREATE INDEX due_move_project ON due_move (project_id, at);

CREATE TABLE print (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    project_id TEXT NOT NULL REFERENCES project (id) CHECK (typeof(project_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    title TEXT NOT NULL CHECK (typeof(title) = 'text'),
    edition_size INTEGER CHECK (typeof(edition_size) IN ('integer', 'null')),
    handed_in_at BIGINT CHECK (typeof(handed_in_at) IN ('integer', 'null')),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer')
);
CREATE INDEX print_class ON print (class_id, person_id);
CREATE INDEX print_project ON print (project_id, person_id);

CREATE TABLE plate (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    print_id TEXT NOT NULL REFERENCES print (id) CHECK (typeof(print_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    procedure_version_id TEXT NOT NULL REFERENCES procedure_version (id) CHECK (typeof(procedure_version_id) = 'text'),
    number INTEGER NOT NULL CHECK (typeof(number) = 'integer'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    surface TEXT NOT NULL CHECK (surface IN ('plate', 'stone')) CHECK (typeof(surface) = 'text'),
    width_hundredths INTEGER NOT NULL CHECK (typeof(width_hundredths) = 'integer'),
    height_hundredths INTEGER NOT NULL CHECK (typeof(height_hundredths) = 'integer'),
    size_unit TEXT NOT NULL CHECK (size_unit IN ('in', 'cm')) CHECK (typeof(size_unit) = 'text'),
    materials TEXT NOT NULL CHECK (typeof(materials) = 'text'),
    weight TEXT NOT NULL CHECK (weight IN ('light', 'medium', 'heavy')) CHECK (typeof(weight) = 'text'),
    replaces_id TEXT UNIQUE REFERENCES plate (id) CHECK (typeof(replaces_id) IN ('text', 'null')),
    standing TEXT NOT NULL CHECK (typeof(standing) = 'text'),
    standing_since BIGINT NOT NULL CHECK (typeof(standing_since) = 'integer'),
    gummed_at BIGINT CHECK (typeof(gummed_at) IN ('integer', 'null')),
    rack_place TEXT NOT NULL CHECK (typeof(rack_place) = 'text'),
    note TEXT NOT NULL CHECK (typeof(note) = 'text'),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer'),
    UNIQUE (class_id, number)
);
CREATE INDEX plate_print ON plate (print_id, position);
CREATE INDEX plate_person ON plate (class_id, person_id);

CREATE TABLE step_run (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    plate_id TEXT NOT NULL REFERENCES plate (id) CHECK (typeof(plate_id) = 'text'),
    step_key TEXT NOT NULL CHECK (typeof(step_key) = 'text'),
    began_at BIGINT NOT NULL CHECK (typeof(began_at) = 'integer'),
    ended_at BIGINT CHECK (typeof(ended_at) IN ('integer', 'null')),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    received_at BIGINT NOT NULL CHECK (typeof(received_at) = 'integer'),
    known_how TEXT NOT NULL CHECK (known_how IN ('measured', 'told', 'card')) CHECK (typeof(known_how) = 'text'),
    outside_rules TEXT NOT NULL CHECK (typeof(outside_rules) = 'text'),
    settled_at BIGINT CHECK (typeof(settled_at) IN ('integer', 'null')),
    settled_by TEXT REFERENCES person (id) CHECK (typeof(settled_by) IN ('text', 'null')),
    settlement TEXT CHECK (typeof(settlement) IN ('text', 'null')),
    settled_reason TEXT CHECK (typeof(settled_reason) IN ('text', 'null')),
    sheets INTEGER CHECK (typeof(sheets) IN ('integer', 'null')),
    note TEXT NOT NULL CHECK (typeof(note) = 'text')
);
CREATE INDEX step_run_plate ON step_run (plate_id, began_at);
CREATE INDEX step_run_class ON step_run (class_id);

CREATE TABLE refusal (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    plate_id TEXT NOT NULL REFERENCES plate (id) CHECK (typeof(plate_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    step_key TEXT NOT NULL CHECK (typeof(step_key) = 'text'),
    rules TEXT NOT NULL CHECK (typeof(rules) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer')
);
CREATE INDEX refusal_plate ON refusal (plate_id);
CREATE INDEX refusal_class ON refusal (class_id);

CREATE TABLE allowance (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    plate_id TEXT NOT NULL REFERENCES plate (id) CHECK (typeof(plate_id) = 'text'),
    step_key TEXT NOT NULL CHECK (typeof(step_key) = 'text'),
    reason TEXT NOT NULL CHECK (typeof(reason) = 'text'),
    given_by TEXT NOT NULL REFERENCES person (id) CHECK (typeof(given_by) = 'text'),
    given_at BIGINT NOT NULL CHECK (typeof(given_at) = 'integer'),
    used_at BIGINT CHECK (typeof(used_at) IN ('integer', 'null'))
);
CREATE INDEX allowance_plate ON allowance (plate_id);
CREATE INDEX allowance_class ON allowance (class_id);

CREATE TABLE sitting (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    began_at BIGINT NOT NULL CHECK (typeof(began_at) = 'integer'),
    ended_at BIGINT CHECK (typeof(ended_at) IN ('integer', 'null'))
);
CREATE INDEX sitting_person ON sitting (person_id, ended_at);

CREATE TABLE put_down (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    plate_id TEXT NOT NULL REFERENCES plate (id) CHECK (typeof(plate_id) = 'text'),
    sitting_id TEXT REFERENCES sitting (id) CHECK (typeof(sitting_id) IN ('text', 'null')),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    gummed BOOLEAN NOT NULL CHECK (typeof(gummed) = 'integer'),
    buffed BOOLEAN NOT NULL CHECK (typeof(buffed) = 'integer'),
    talc BOOLEAN NOT NULL CHECK (typeof(talc) = 'integer'),
    rack_place TEXT NOT NULL CHECK (typeof(rack_place) = 'text')
);
CREATE INDEX put_down_plate ON put_down (plate_id, at);

-- ---- etches ----
CREATE TABLE etch (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    plate_id TEXT NOT NULL REFERENCES plate (id) CHECK (typeof(plate_id) = 'text'),
    step_run_id TEXT NOT NULL REFERENCES step_run (id) CHECK (typeof(step_run_id) = 'text'),
    step_key TEXT NOT NULL CHECK (typeof(step_key) = 'text'),
    root TEXT NOT NULL REFERENCES etch (id) CHECK (typeof(root) = 'text'),
    corrects TEXT UNIQUE REFERENCES etch (id) CHECK (typeof(corrects) IN ('text', 'null')),
    superseded_at BIGINT CHECK (typeof(superseded_at) IN ('integer', 'null')),
    reason TEXT NOT NULL CHECK (typeof(reason) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    received_at BIGINT NOT NULL CHECK (typeof(received_at) = 'integer'),
    known_how TEXT NOT NULL CHECK (known_how IN ('measured', 'told', 'card')) CHECK (typeof(known_how) = 'text'),
    recipe TEXT NOT NULL CHECK (recipe IN ('acid_in_gum', 'pure_gum', 'stock', 'stock_cut')) CHECK (typeof(recipe) = 'text'),
    gum_id TEXT REFERENCES container (id) CHECK (typeof(gum_id) IN ('text', 'null')),
    gum_microlitres BIGINT CHECK (typeof(gum_microlitres) IN ('integer', 'null')),
    gum_unit TEXT CHECK (gum_unit IN ('us_fl_oz', 'ml')) CHECK (typeof(gum_unit) IN ('text', 'null')),
    acid_id TEXT REFERENCES container (id) CHECK (typeof(acid_id) IN ('text', 'null')),
    drops INTEGER CHECK (typeof(drops) IN ('integer', 'null')),
    stock_id TEXT REFERENCES container (id) CHECK (typeof(stock_id) IN ('text', 'null')),
    stock_microlitres BIGINT CHECK (typeof(stock_microlitres) IN ('integer', 'null')),
    gum_baume_tenths INTEGER CHECK (typeof(gum_baume_tenths) IN ('integer', 'null')),
    gum_ph_hundredths INTEGER CHECK (typeof(gum_ph_hundredths) IN ('integer', 'null')),
    gum_sour BOOLEAN NOT NULL CHECK (typeof(gum_sour) = 'integer'),
    acid_weight_bp INTEGER CHECK (typeof(acid_weight_bp) IN ('integer', 'null')),
    acid_kind TEXT CHECK (typeof(acid_kind) IN ('text', 'null')),
    drops_per_ml_hundredths INTEGER CHECK (typeof(drops_per_ml_hundredths) IN ('integer', 'null')),
    drops_spread_hundredths INTEGER CHECK (typeof(drops_spread_hundredths) IN ('integer', 'null')),
    measured_ph_hundredths INTEGER CHECK (typeof(measured_ph_hundredths) IN ('integer', 'null')),
    tool TEXT NOT NULL CHECK (typeof(tool) = 'text'),
    helper TEXT NOT NULL CHECK (typeof(helper) = 'text'),
    seen TEXT NOT NULL CHECK (typeof(seen) = 'text'),
    doubts TEXT CHECK (typeof(doubts) IN ('text', 'null'))
);
CREATE INDEX etch_class ON etch (class_id, at);
CREATE INDEX etch_plate ON etch (plate_id, at);
CREATE INDEX etch_root ON etch (root);

CREATE TABLE etch_application (
    etch_id TEXT NOT NULL REFERENCES etch (id) CHECK (typeof(etch_id) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    seconds INTEGER NOT NULL CHECK (seconds > 0) CHECK (typeof(seconds) = 'integer'),
    PRIMARY KEY (etch_id, position)
);

CREATE TABLE came_up (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    plate_id TEXT NOT NULL REFERENCES plate (id) CHECK (typeof(plate_id) = 'text'),
    etch_root TEXT NOT NULL REFERENCES etch (id) CHECK (typeof(etch_root) = 'text'),
    step_run_id TEXT REFERENCES step_run (id) CHECK (typeof(step_run_id) IN ('text', 'null')),
    how TEXT NOT NULL CHECK (typeof(how) = 'text'),
    note TEXT NOT NULL CHECK (typeof(note) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    corrects TEXT UNIQUE REFERENCES came_up (id) CHECK (typeof(corrects) IN ('text', 'null')),
    superseded_at BIGINT CHECK (typeof(superseded_at) IN ('integer', 'null'))
);
CREATE INDEX came_up_etch ON came_up (etch_root);
CREATE INDEX came_up_plate ON came_up (plate_id);

-- The instructor's table of etches by drawing; a save supersedes all rows that stand.
CREATE TABLE etch_table_row (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    surface TEXT NOT NULL CHECK (surface IN ('plate', 'stone')) CHECK (typeof(surface) = 'text'),
    weight TEXT NOT NULL CHECK (weight IN ('light', 'medium', 'heavy')) CHECK (typeof(weight) = 'text'),
    material TEXT NOT NULL CHECK (typeof(material) = 'text'),
    drops_hundredths INTEGER NOT NULL CHECK (drops_hundredths >= 0) CHECK (typeof(drops_hundredths) = 'integer'),
    applications INTEGER NOT NULL CHECK (applications > 0) CHECK (typeof(applications) = 'integer'),
    seconds INTEGER NOT NULL CHECK (seconds > 0) CHECK (typeof(seconds) = 'integer'),
    source TEXT NOT NULL CHECK (typeof(source) = 'text'),
    by_id TEXT REFERENCES person (id) CHECK (typeof(by_id) IN ('text', 'null')),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    superseded_at BIGINT CHECK (typeof(superseded_at) IN ('integer', 'null'))
);
CREATE INDEX etch_table_row_class ON etch_table_row (class_id, superseded_at);

-- ---- proofs: photos and comments ----
CREATE TABLE photo (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    plate_id TEXT NOT NULL REFERENCES plate (id) CHECK (typeof(plate_id) = 'text'),
    sha256 TEXT CHECK (typeof(sha256) IN ('text', 'null')),
    width INTEGER NOT NULL CHECK (typeof(width) = 'integer'),
    height INTEGER NOT NULL CHECK (typeof(height) = 'integer'),
    bytes BIGINT NOT NULL CHECK (typeof(bytes) = 'integer'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    UNIQUE (plate_id, sha256)
);

CREATE TABLE proof (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    plate_id TEXT NOT NULL REFERENCES plate (id) CHECK (typeof(plate_id) = 'text'),
    photo_id TEXT NOT NULL UNIQUE REFERENCES photo (id) CHECK (typeof(photo_id) = 'text'),
    kind TEXT NOT NULL CHECK (kind IN ('drawing', 'trial', 'state', 'bat', 'edition', 'cancellation')) CHECK (typeof(kind) = 'text'),
    pulled_at BIGINT NOT NULL CHECK (typeof(pulled_at) = 'integer'),
    note TEXT NOT NULL CHECK (typeof(note) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    removed_at BIGINT CHECK (typeof(removed_at) IN ('integer', 'null'))
);
CREATE INDEX proof_plate ON proof (plate_id, pulled_at);
CREATE INDEX proof_class ON proof (class_id);

CREATE TABLE comment (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    plate_id TEXT NOT NULL REFERENCES plate (id) CHECK (typeof(plate_id) = 'text'),
    proof_id TEXT REFERENCES proof (id) CHECK (typeof(proof_id) IN ('text', 'null')),
    words TEXT NOT NULL CHECK (typeof(words) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    removed_at BIGINT CHECK (typeof(removed_at) IN ('integer', 'null'))
);
CREATE INDEX comment_plate ON comment (plate_id, at);
CREATE INDEX comment_class ON comment (class_id, at);

-- ---- grades ----
CREATE TABLE grading_scheme (
    class_id TEXT NOT NULL PRIMARY KEY REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    late_bp INTEGER NOT NULL CHECK (typeof(late_bp) = 'integer'),
    late_of TEXT NOT NULL CHECK (late_of IN ('possible', 'earned')) CHECK (typeof(late_of) = 'text'),
    late_max_days INTEGER CHECK (typeof(late_max_days) IN ('integer', 'null')),
    grace_minutes INTEGER NOT NULL CHECK (typeof(grace_minutes) = 'integer'),
    missing_counts_zero BOOLEAN NOT NULL CHECK (typeof(missing_counts_zero) = 'integer'),
    rounding_places INTEGER NOT NULL CHECK (typeof(rounding_places) = 'integer'),
    ties TEXT NOT NULL CHECK (ties IN ('half_up', 'half_even', 'truncate')) CHECK (typeof(ties) = 'text'),
    scale TEXT NOT NULL CHECK (typeof(scale) = 'text'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer')
);

CREATE TABLE category (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    title TEXT NOT NULL CHECK (typeof(title) = 'text'),
    weight_bp INTEGER NOT NULL CHECK (typeof(weight_bp) = 'integer'),
    drop_lowest INTEGER NOT NULL CHECK (typeof(drop_lowest) = 'integer'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer')
);
CREATE INDEX category_class ON category (class_id, position);

CREATE TABLE assessment (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    category_id TEXT NOT NULL REFERENCES category (id) CHECK (typeof(category_id) = 'text'),
    project_id TEXT REFERENCES project (id) CHECK (typeof(project_id) IN ('text', 'null')),
    position INTEGER NOT NULL CHECK (typeof(position) = 'integer'),
    title TEXT NOT NULL CHECK (typeof(title) = 'text'),
    points_hundredths BIGINT NOT NULL CHECK (typeof(points_hundredths) = 'integer'),
    extra_credit BOOLEAN NOT NULL CHECK (typeof(extra_credit) = 'integer'),
    version BIGINT NOT NULL CHECK (typeof(version) = 'integer')
);
CREATE INDEX assessment_class ON assessment (class_id, position);

CREATE TABLE score (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    class_id TEXT NOT NULL REFERENCES class (id) CHECK (typeof(class_id) = 'text'),
    assessment_id TEXT NOT NULL REFERENCES assessment (id) CHECK (typeof(assessment_id) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    print_id TEXT REFERENCES print (id) CHECK (typeof(print_id) IN ('text', 'null')),
    root TEXT NOT NULL REFERENCES score (id) CHECK (typeof(root) = 'text'),
    corrects TEXT UNIQUE REFERENCES score (id) CHECK (typeof(corrects) IN ('text', 'null')),
    superseded_at BIGINT CHECK (typeof(superseded_at) IN ('integer', 'null')),
    status TEXT NOT NULL CHECK (status IN ('graded', 'excused', 'missing', 'pending')) CHECK (typeof(status) = 'text'),
    points_hundredths BIGINT CHECK (typeof(points_hundredths) IN ('integer', 'null')),
    words TEXT NOT NULL CHECK (typeof(words) = 'text'),
    reason TEXT NOT NULL CHECK (typeof(reason) = 'text'),
    by_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(by_id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    handed_back_at BIGINT CHECK (typeof(handed_back_at) IN ('integer', 'null'))
);
CREATE INDEX score_class ON score (class_id, person_id);
CREATE INDEX score_assessment ON score (assessment_id, person_id);

-- ---- letters, once-keys, journal, disclosures ----
CREATE TABLE letter (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    kind TEXT NOT NULL CHECK (typeof(kind) = 'text'),
    person_id TEXT NOT NULL REFERENCES person (id) CHECK (typeof(person_id) = 'text'),
    class_id TEXT REFERENCES class (id) CHECK (typeof(class_id) IN ('text', 'null')),
    cause TEXT UNIQUE CHECK (typeof(cause) IN ('text', 'null')),
    detail TEXT NOT NULL CHECK (typeof(detail) = 'text'),
    created_at BIGINT NOT NULL CHECK (typeof(created_at) = 'integer'),
    not_before BIGINT NOT NULL CHECK (typeof(not_before) = 'integer'),
    attempts INTEGER NOT NULL CHECK (typeof(attempts) = 'integer'),
    tried_since BIGINT CHECK (typeof(tried_since) IN ('integer', 'null')),
    lease_owner TEXT CHECK (typeof(lease_owner) IN ('text', 'null')),
    lease_until BIGINT CHECK (typeof(lease_until) IN ('integer', 'null')),
    sent_at BIGINT CHECK (typeof(sent_at) IN ('integer', 'null')),
    failed_at BIGINT CHECK (typeof(failed_at) IN ('integer', 'null')),
    dropped_at BIGINT CHECK (typeof(dropped_at) IN ('integer', 'null')),
    last_error TEXT CHECK (typeof(last_error) IN ('text', 'null'))
);
CREATE INDEX letter_due ON letter (sent_at, failed_at, dropped_at, not_before);
CREATE INDEX letter_person ON letter (person_id, created_at);
CREATE INDEX letter_class ON letter (class_id, created_at);
CREATE INDEX letter_created ON letter (created_at);

CREATE TABLE once (
    key TEXT NOT NULL PRIMARY KEY CHECK (typeof(key) = 'text'),
    person_id TEXT CHECK (typeof(person_id) IN ('text', 'null')),
    door TEXT NOT NULL CHECK (typeof(door) = 'text'),
    body_sha256 TEXT NOT NULL CHECK (typeof(body_sha256) = 'text'),
    location TEXT NOT NULL CHECK (typeof(location) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer')
);
CREATE INDEX once_at ON once (at);

CREATE TABLE journal_head (
    scope TEXT NOT NULL PRIMARY KEY CHECK (typeof(scope) = 'text'),
    seq BIGINT NOT NULL CHECK (typeof(seq) = 'integer'),
    hash TEXT NOT NULL CHECK (typeof(hash) = 'text')
);

CREATE TABLE journal (
    scope TEXT NOT NULL CHECK (typeof(scope) = 'text'),
    seq BIGINT NOT NULL CHECK (typeof(seq) = 'integer'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    person_id TEXT CHECK (typeof(person_id) IN ('text', 'null')),
    act TEXT NOT NULL CHECK (typeof(act) = 'text'),
    subject TEXT NOT NULL CHECK (typeof(subject) = 'text'),
    detail_hash TEXT NOT NULL CHECK (typeof(detail_hash) = 'text'),
    hash TEXT NOT NULL CHECK (typeof(hash) = 'text'),
    PRIMARY KEY (scope, seq)
);
CREATE INDEX journal_subject ON journal (subject);

CREATE TABLE journal_detail (
    scope TEXT NOT NULL CHECK (typeof(scope) = 'text'),
    seq BIGINT NOT NULL CHECK (typeof(seq) = 'integer'),
    salt TEXT NOT NULL CHECK (typeof(salt) = 'text'),
    detail TEXT NOT NULL CHECK (typeof(detail) = 'text'),
    PRIMARY KEY (scope, seq)
);

CREATE TABLE disclosure (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text'),
    at BIGINT NOT NULL CHECK (typeof(at) = 'integer'),
    by_id TEXT REFERENCES person (id) CHECK (typeof(by_id) IN ('text', 'null')),
    class_id TEXT REFERENCES class (id) CHECK (typeof(class_id) IN ('text', 'null')),
    person_id TEXT REFERENCES person (id) CHECK (typeof(person_id) IN ('text', 'null')),
    what TEXT NOT NULL CHECK (typeof(what) = 'text'),
    purpose TEXT NOT NULL CHECK (typeof(purpose) = 'text'),
    party TEXT NOT NULL CHECK (typeof(party) = 'text')
);
CREATE INDEX disclosure_class ON disclosure (class_id, at);

CREATE TABLE external_id (
    kind TEXT NOT NULL CHECK (typeof(kind) = 'text'),
    ours TEXT NOT NULL CHECK (typeof(ours) = 'text'),
    source TEXT NOT NULL CHECK (typeof(source) = 'text'),
    theirs TEXT NOT NULL CHECK (typeof(theirs) = 'text'),
    PRIMARY KEY (kind, source, theirs),
    UNIQUE (kind, source, ours)
);

INSERT INTO journal_head (scope, seq, hash) VALUES ('school', 0, '');
