//! Which rows are a student's own: what they made, what was handed back to them, and what was told about them.

use super::tables::{Table, keyed, table};

const IN_CLASS: &str = "class_id IN ({classes}) AND person_id = {person}";
const OF_PLATE: &str =
    "plate_id IN (SELECT id FROM plate WHERE class_id IN ({classes}) AND person_id = {person})";
const OF_SIGN_OFF: &str =
    "sign_off_id IN (SELECT id FROM sign_off WHERE class_id IN ({classes}) AND person_id = {person})";
const OF_ENROLMENT: &str =
    "enrolment_id IN (SELECT id FROM enrolment WHERE class_id IN ({classes}) AND person_id = {person})";
const OF_MARK: &str = "score_id IN (SELECT id FROM score \
    WHERE class_id IN ({classes}) AND person_id = {person} AND handed_back_at IS NOT NULL)";
const OF_CRITIQUE: &str = "critique_id IN (SELECT id FROM critique \
    WHERE class_id IN ({classes}) AND handed_back_at IS NOT NULL) \
    AND print_id IN (SELECT id FROM print WHERE class_id IN ({classes}) AND person_id = {person})";

const PERSON: &[(&str, &str)] = &[
    ("password_hash", "NULL"),
    ("failed_sign_ins", "0"),
    ("failed_at", "NULL"),
    ("mail_refusals", "0"),
    ("mail_rests_since", "NULL"),
    ("mail_refused_with", "NULL"),
];

/// What an answer says is read once the mark it speaks of is handed back.
const LOOK: &[(&str, &str)] = &[
    ("answered_at", "CASE WHEN {look_is_told} THEN answered_at END"),
    ("answered_by", "CASE WHEN {look_is_told} THEN answered_by END"),
    ("answer", "CASE WHEN {look_is_told} THEN answer ELSE '' END"),
    ("new_score_id", "CASE WHEN {look_is_told} THEN new_score_id END"),
];
pub(super) const LOOK_IS_TOLD: &str =
    "(new_score_id IS NULL OR new_score_id IN (SELECT id FROM score WHERE handed_back_at IS NOT NULL))";

/// The evidence names marks that were not handed back, so it goes in a file of its own without what they say.
const SUBMITTED: &[(&str, &str)] = &[("evidence", "''")];

/// What is a student's own.
pub const OWN: &[Table] = &[
    table("person", "id = {person}").instead(PERSON),
    keyed("external_id", "kind, source, theirs", "kind = 'person' AND ours = {person}"),
    table("enrolment", IN_CLASS),
    table("enrolment_change", OF_ENROLMENT),
    keyed("witness", "class_id, person_id, topic_id", IN_CLASS),
    table("sign_off", IN_CLASS),
    keyed("sign_off_point", "sign_off_id, point_id", OF_SIGN_OFF),
    table("accommodation", IN_CLASS),
    table(
        "own_due",
        "person_id = {person} AND project_id IN (SELECT id FROM project WHERE class_id IN ({classes}))",
    ),
    table("print", IN_CLASS),
    table("plate", IN_CLASS),
    table("step_run", OF_PLATE),
    table("second_account", OF_PLATE),
    table("refusal", OF_PLATE),
    table("allowance", OF_PLATE),
    table("sitting", IN_CLASS),
    table("put_down", OF_PLATE),
    table("etch", OF_PLATE),
    keyed(
        "etch_application",
        "etch_id, position",
        "etch_id IN (SELECT e.id FROM etch e JOIN plate p ON p.id = e.plate_id \
         WHERE p.class_id IN ({classes}) AND p.person_id = {person})",
    ),
    table("came_up", OF_PLATE),
    table("photo", OF_PLATE),
    table("proof", OF_PLATE),
    table("comment", OF_PLATE),
    table("asking", IN_CLASS).instead(&[("answered_by", "NULL")]),
    keyed("run_place", "class_id, day, plate_id, step_key", OF_PLATE),
    table(
        "roll",
        "id IN (SELECT roll_id FROM roll_entry WHERE class_id IN ({classes}) AND person_id = {person})",
    ),
    table("roll_entry", IN_CLASS),
    table("duty", IN_CLASS),
    table("score", "class_id IN ({classes}) AND person_id = {person} AND handed_back_at IS NOT NULL"),
    keyed("score_level", "score_id, criterion_id", OF_MARK),
    table("second_look", IN_CLASS).instead(LOOK),
    keyed("critique_note", "critique_id, print_id", OF_CRITIQUE),
    table("submitted_grade", IN_CLASS).instead(SUBMITTED),
    table("letter", IN_CLASS).instead(&[("lease_owner", "NULL"), ("last_error", "NULL")]),
    table(
        "disclosure",
        "class_id IN ({classes}) AND (person_id = {person} OR (person_id IS NULL AND party = '' \
         AND at >= (SELECT joined_at FROM enrolment WHERE class_id IN ({classes}) AND person_id = {person})))",
    ),
];

/// Tables that hold nothing of one student's own, or nothing that is theirs to read: a class and its studio with their
/// rules, doors and how letters of sign-in were sent, marks before they are handed back, reasons that are the
/// instructor's, what a school keeps for a dispute, and the journal, whose acts are in the rows above.
pub const NOT_OWN: &[&str] = &[
    "accommodation_reason",
    "assessment",
    "assessment_criterion",
    "attainment",
    "blind_mark",
    "calendar_feed",
    "called_off",
    "category",
    "class",
    "class_topic",
    "closure",
    "container",
    "criterion",
    "criterion_level",
    "critique",
    "data_sheet",
    "due_move",
    "etch_table_row",
    "extra_opening",
    "goal",
    "goal_criterion",
    "grading_scheme",
    "hold",
    "journal",
    "journal_detail",
    "journal_head",
    "kept_archive",
    "kept_archive_class",
    "kept_archive_piece",
    "link",
    "listing",
    "meeting",
    "once",
    "opening",
    "procedure",
    "procedure_draft",
    "procedure_picture",
    "procedure_version",
    "project",
    "retention_rule",
    "school",
    "second_marking",
    "second_marking_choice",
    "session",
    "station",
    "station_down",
    "studio",
    "tablet",
    "term",
    "topic",
    "topic_point",
    "topic_version",
    "uncounted_day",
    "weighing",
];
