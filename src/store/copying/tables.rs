//! Which tables leave with classes, in an order in which every row's parents come first; which of their rows, and what
//! stands in a column instead of what the record has. A new table is one line here: a test compares with the database.

/// A table and the part of it that belongs to some classes.
#[derive(Debug, Clone, Copy)]
pub struct Table {
    pub name: &'static str,
    /// Columns that make a row one of its kind, in order.
    pub key: &'static str,
    /// SQL over the table: `{classes}`, `{terms}`, `{studios}`, `{people}`, `{outside}`, `{journal}` and `{at}` are filled in.
    pub rows: &'static str,
    /// Column and SQL that is written in its place.
    pub instead: &'static [(&'static str, &'static str)],
}

pub(super) const fn table(name: &'static str, rows: &'static str) -> Table {
    Table { name, key: "id", rows, instead: &[] }
}

pub(super) const fn keyed(name: &'static str, key: &'static str, rows: &'static str) -> Table {
    Table { name, key, rows, instead: &[] }
}

impl Table {
    pub(super) const fn instead(mut self, columns: &'static [(&'static str, &'static str)]) -> Self {
        self.instead = columns;
        self
    }
}

const OF_CLASS: &str = "class_id IN ({classes})";
const OF_STUDIO: &str = "studio_id IN ({studios})";
const OF_PLATE_OF_ETCH: &str = "etch_id IN (SELECT id FROM etch WHERE class_id IN ({classes}))";
const OF_PROJECT: &str = "project_id IN (SELECT id FROM project WHERE class_id IN ({classes}))";
const OF_STATION: &str = "station_id IN (SELECT id FROM station WHERE studio_id IN ({studios}))";
const OF_CONTAINER: &str = "container_id IN (SELECT id FROM container WHERE studio_id IN ({studios}))";
const OF_ENROLMENT: &str = "enrolment_id IN (SELECT id FROM enrolment WHERE class_id IN ({classes}))";
const OF_CRITERION: &str = "criterion_id IN (SELECT id FROM criterion WHERE class_id IN ({classes}))";
const OF_CRITIQUE: &str = "critique_id IN (SELECT id FROM critique WHERE class_id IN ({classes}))";
const OF_SECOND_MARKING: &str =
    "second_marking_id IN (SELECT id FROM second_marking WHERE class_id IN ({classes}))";
/// Nobody reads what one of two markers gave before both are done, not in an archive either.
const BLIND_MARKS: &str = "class_id IN ({classes}) AND NOT EXISTS (\
    SELECT 1 FROM second_marking_choice c JOIN second_marking s ON s.id = c.second_marking_id \
    WHERE s.id = blind_mark.second_marking_id AND (\
    NOT EXISTS (SELECT 1 FROM blind_mark m WHERE m.second_marking_id = s.id AND m.person_id = c.person_id \
    AND m.by_id = s.first_id AND m.superseded_at IS NULL) \
    OR NOT EXISTS (SELECT 1 FROM blind_mark m WHERE m.second_marking_id = s.id AND m.person_id = c.person_id \
    AND m.by_id = s.second_id AND m.superseded_at IS NULL)))";
const OF_SIGN_OFF: &str = "sign_off_id IN (SELECT id FROM sign_off WHERE class_id IN ({classes}))";
const TOPICS: &str = "SELECT topic_id FROM class_topic WHERE class_id IN ({classes}) \
    UNION SELECT topic_id FROM witness WHERE class_id IN ({classes}) \
    UNION SELECT topic_id FROM sign_off WHERE class_id IN ({classes})";
const OF_PROCEDURE: &str = "class_id IN ({classes}) \
    OR id IN (SELECT procedure_id FROM project WHERE class_id IN ({classes})) \
    OR id IN (SELECT v.procedure_id FROM plate p JOIN procedure_version v ON v.id = p.procedure_version_id \
    WHERE p.class_id IN ({classes}))";

/// What other systems call the people of the classes, the classes, what these stand in, and what is graded in them.
const THEIRS: &str = "ours IN ({people}) OR ours IN ({outside}) \
    OR ours IN (SELECT id FROM category WHERE class_id IN ({classes})) \
    OR ours IN (SELECT id FROM assessment WHERE class_id IN ({classes}))";

/// Somebody who is not in the classes is there by name alone; and an archive opens no door.
const PERSON: &[(&str, &str)] = &[
    ("email", "CASE WHEN id IN ({members}) THEN email END"),
    ("email_key", "CASE WHEN id IN ({members}) THEN email_key END"),
    ("student_number", "CASE WHEN id IN ({members}) THEN student_number END"),
    ("password_hash", "NULL"),
    ("activated_at", "NULL"),
    ("keeper", "FALSE"),
    ("records", "FALSE"),
    ("safety_officer", "FALSE"),
    ("failed_sign_ins", "0"),
    ("failed_at", "NULL"),
    ("mail_refusals", "0"),
    ("mail_rests_since", "NULL"),
    ("mail_refused_with", "NULL"),
];

/// What the runner writes down while it works is not the record; what became of a letter by then is.
const LETTER: &[(&str, &str)] = &[
    ("not_before", "created_at"),
    ("attempts", "0"),
    ("tried_since", "NULL"),
    ("lease_owner", "NULL"),
    ("lease_until", "NULL"),
    ("last_error", "NULL"),
    ("sent_at", "CASE WHEN sent_at < {at} THEN sent_at END"),
    ("failed_at", "CASE WHEN failed_at < {at} THEN failed_at END"),
    ("dropped_at", "CASE WHEN dropped_at < {at} THEN dropped_at END"),
];

/// The head is that of the last row that goes along.
const HEAD: &[(&str, &str)] = &[
    (
        "seq",
        "COALESCE((SELECT MAX(seq) FROM journal WHERE journal.scope = journal_head.scope AND ({journal})), 0)",
    ),
    (
        "hash",
        "COALESCE((SELECT hash FROM journal WHERE journal.scope = journal_head.scope AND ({journal}) \
         ORDER BY seq DESC LIMIT 1), '')",
    ),
];

/// Every table that leaves.
pub const TABLES: &[Table] = &[
    table("school", "TRUE").instead(&[("demo", "FALSE"), ("second_factor", "FALSE")]),
    table("person", "id IN ({people})").instead(PERSON),
    table("studio", "id IN ({studios})"),
    table("opening", OF_STUDIO),
    table("closure", OF_STUDIO),
    table("extra_opening", OF_STUDIO),
    table("station", OF_STUDIO),
    table("station_down", OF_STATION),
    table("data_sheet", OF_STUDIO),
    table("container", OF_STUDIO),
    table("weighing", OF_CONTAINER),
    table("term", "id IN ({terms})").instead(&[("archived_at", "NULL")]),
    table("class", "id IN ({classes})")
        .instead(&[("copied_from", "CASE WHEN copied_from IN ({classes}) THEN copied_from END")]),
    table("meeting", OF_CLASS),
    table("listing", OF_CLASS),
    table("enrolment", OF_CLASS),
    table("enrolment_change", OF_ENROLMENT),
    Table { name: "topic", key: "id", rows: "id IN ({topics})", instead: &[] },
    Table { name: "topic_version", key: "id", rows: "topic_id IN ({topics})", instead: &[] },
    Table {
        name: "topic_point",
        key: "id",
        rows: "topic_version_id IN (SELECT id FROM topic_version WHERE topic_id IN ({topics}))",
        instead: &[],
    },
    keyed("class_topic", "class_id, topic_id", OF_CLASS),
    keyed("witness", "class_id, person_id, topic_id", OF_CLASS),
    table("sign_off", OF_CLASS),
    keyed("sign_off_point", "sign_off_id, point_id", OF_SIGN_OFF),
    table("procedure", OF_PROCEDURE)
        .instead(&[("class_id", "CASE WHEN class_id IN ({classes}) THEN class_id END")]),
    table("procedure_version", "procedure_id IN ({procedures})"),
    keyed("procedure_draft", "procedure_id", OF_CLASS),
    table("procedure_picture", OF_CLASS),
    table("project", OF_CLASS),
    table("accommodation", OF_CLASS),
    table("own_due", OF_PROJECT),
    table("due_move", OF_PROJECT),
    table("print", OF_CLASS),
    table("plate", OF_CLASS),
    table("step_run", OF_CLASS),
    table("second_account", OF_CLASS),
    table("refusal", OF_CLASS),
    table("allowance", OF_CLASS),
    table("sitting", OF_CLASS),
    table("put_down", OF_CLASS),
    table("etch", OF_CLASS),
    keyed("etch_application", "etch_id, position", OF_PLATE_OF_ETCH),
    table("came_up", OF_CLASS),
    table("etch_table_row", OF_CLASS),
    table("photo", OF_CLASS),
    table("proof", OF_CLASS),
    table("comment", OF_CLASS),
    keyed("grading_scheme", "class_id", OF_CLASS),
    table("category", OF_CLASS),
    table("assessment", OF_CLASS),
    table("score", OF_CLASS),
    table("criterion", OF_CLASS),
    keyed("criterion_level", "criterion_id, position", OF_CRITERION),
    keyed("assessment_criterion", "assessment_id, criterion_id", OF_CRITERION),
    keyed("score_level", "score_id, criterion_id", OF_CRITERION),
    table("second_look", OF_CLASS),
    table("critique", OF_CLASS),
    keyed("critique_note", "critique_id, print_id", OF_CRITIQUE),
    keyed("uncounted_day", "class_id, day", OF_CLASS),
    table("roll", OF_CLASS),
    table("roll_entry", OF_CLASS),
    table("duty", OF_CLASS),
    table("asking", OF_CLASS),
    keyed("run_place", "class_id, day, plate_id, step_key", OF_CLASS),
    table("goal", OF_CLASS),
    keyed("goal_criterion", "goal_id, criterion_id", OF_CRITERION),
    keyed("attainment", "class_id, position", OF_CLASS),
    table("second_marking", OF_CLASS),
    keyed("second_marking_choice", "second_marking_id, person_id", OF_SECOND_MARKING),
    table("blind_mark", BLIND_MARKS),
    table("submitted_grade", OF_CLASS),
    // That something is held goes along; why is the keeper's.
    table("hold", "class_id IN ({classes}) OR person_id IN ({members})").instead(&[("reason", "''")]),
    // How long the school keeps what it holds goes along as holds do: a copy is not kept longer, nor purged sooner.
    keyed("retention_rule", "kind", "TRUE"),
    table("letter", "class_id IN ({classes}) AND created_at < {at}").instead(LETTER),
    keyed("journal_head", "scope", "scope IN ({classes})").instead(HEAD),
    keyed("journal", "scope, seq", "{journal}"),
    keyed("journal_detail", "scope, seq", "{journal}"),
    table("disclosure", "class_id IN ({classes}) AND at < {at}"),
    keyed("external_id", "kind, source, theirs", THEIRS),
];

/// Tables that stay where they are: open doors, what a form sent twice is known by, what calendars were told of once, the
/// reasons behind what is granted, which are the instructor's alone, and archives of before.
pub const STAYING: &[&str] = &[
    "session",
    "tablet",
    "link",
    "calendar_feed",
    "once",
    "called_off",
    "accommodation_reason",
    "kept_archive",
    "kept_archive_class",
    "kept_archive_piece",
];

/// The pieces of SQL that names in braces stand for, once the ids are known.
pub(super) const PIECES: &[(&str, &str)] = &[
    ("{look_is_told}", super::own::LOOK_IS_TOLD),
    ("{topics}", TOPICS),
    ("{procedures}", "SELECT id FROM procedure WHERE {procedure_rows}"),
    ("{procedure_rows}", OF_PROCEDURE),
    ("{members}", "SELECT person_id FROM enrolment WHERE class_id IN ({classes})"),
    ("{studios}", "SELECT studio_id FROM class WHERE id IN ({classes})"),
    ("{terms}", "SELECT term_id FROM class WHERE id IN ({classes})"),
];
