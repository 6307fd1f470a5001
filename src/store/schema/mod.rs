//! The tables as diesel sees them, written by hand, one file per subject; migrations are the law, a test compares.

pub mod classes;
pub mod etches;
pub mod grades;
pub mod people;
pub mod plates;
pub mod presence;
pub mod proofs;
pub mod records;
pub mod safety;
#[path = "studio.rs"]
pub mod studio_tables;
pub mod tonight;

pub use classes::*;
pub use etches::*;
pub use grades::*;
pub use people::*;
pub use plates::*;
pub use presence::*;
pub use proofs::*;
pub use records::*;
pub use safety::*;
pub use studio_tables::*;
pub use tonight::*;

diesel::joinable!(session -> person (person_id));
diesel::joinable!(link -> person (person_id));
diesel::joinable!(opening -> studio (studio_id));
diesel::joinable!(closure -> studio (studio_id));
diesel::joinable!(extra_opening -> studio (studio_id));
diesel::joinable!(station -> studio (studio_id));
diesel::joinable!(station_down -> station (station_id));
diesel::joinable!(calendar_feed -> person (person_id));
diesel::joinable!(called_off -> person (person_id));
diesel::joinable!(container -> studio (studio_id));
diesel::joinable!(data_sheet -> studio (studio_id));
diesel::joinable!(data_sheet -> person (by_id));
diesel::joinable!(container -> data_sheet (data_sheet_id));
diesel::joinable!(tablet -> person (made_by));
diesel::joinable!(weighing -> container (container_id));
diesel::joinable!(weighing -> person (by_id));
diesel::joinable!(class -> term (term_id));
diesel::joinable!(class -> studio (studio_id));
diesel::joinable!(meeting -> class (class_id));
diesel::joinable!(meeting -> person (person_id));
diesel::joinable!(listing -> class (class_id));
diesel::joinable!(enrolment -> class (class_id));
diesel::joinable!(enrolment -> person (person_id));
diesel::joinable!(enrolment -> listing (listing_id));
diesel::joinable!(enrolment_change -> enrolment (enrolment_id));
diesel::joinable!(enrolment_change -> listing (listing_id));
diesel::joinable!(enrolment_change -> person (by_id));
diesel::joinable!(topic_version -> topic (topic_id));
diesel::joinable!(topic_version -> person (by_id));
diesel::joinable!(topic_point -> topic_version (topic_version_id));
diesel::joinable!(class_topic -> class (class_id));
diesel::joinable!(class_topic -> topic (topic_id));
diesel::joinable!(witness -> class (class_id));
diesel::joinable!(witness -> person (person_id));
diesel::joinable!(witness -> topic (topic_id));
diesel::joinable!(sign_off -> topic (topic_id));
diesel::joinable!(sign_off -> topic_version (topic_version_id));
diesel::joinable!(sign_off -> studio (studio_id));
diesel::joinable!(sign_off -> class (class_id));
diesel::joinable!(sign_off_point -> sign_off (sign_off_id));
diesel::joinable!(sign_off_point -> topic_point (point_id));
diesel::joinable!(procedure -> class (class_id));
diesel::joinable!(procedure_version -> procedure (procedure_id));
diesel::joinable!(procedure_version -> person (by_id));
diesel::joinable!(procedure_draft -> procedure (procedure_id));
diesel::joinable!(procedure_draft -> class (class_id));
diesel::joinable!(procedure_draft -> person (by_id));
diesel::joinable!(procedure_picture -> class (class_id));
diesel::joinable!(procedure_picture -> person (by_id));
diesel::joinable!(project -> class (class_id));
diesel::joinable!(project -> procedure (procedure_id));
diesel::joinable!(own_due -> project (project_id));
diesel::joinable!(due_move -> project (project_id));
diesel::joinable!(due_move -> person (by_id));
diesel::joinable!(print -> class (class_id));
diesel::joinable!(print -> project (project_id));
diesel::joinable!(print -> person (person_id));
diesel::joinable!(plate -> class (class_id));
diesel::joinable!(plate -> print (print_id));
diesel::joinable!(plate -> person (person_id));
diesel::joinable!(plate -> procedure_version (procedure_version_id));
diesel::joinable!(step_run -> class (class_id));
diesel::joinable!(step_run -> plate (plate_id));
diesel::joinable!(refusal -> class (class_id));
diesel::joinable!(refusal -> plate (plate_id));
diesel::joinable!(refusal -> person (person_id));
diesel::joinable!(allowance -> class (class_id));
diesel::joinable!(allowance -> plate (plate_id));
diesel::joinable!(allowance -> person (given_by));
diesel::joinable!(sitting -> class (class_id));
diesel::joinable!(sitting -> person (person_id));
diesel::joinable!(put_down -> class (class_id));
diesel::joinable!(put_down -> plate (plate_id));
diesel::joinable!(put_down -> sitting (sitting_id));
diesel::joinable!(put_down -> person (by_id));
diesel::joinable!(etch -> class (class_id));
diesel::joinable!(etch -> plate (plate_id));
diesel::joinable!(etch -> step_run (step_run_id));
diesel::joinable!(etch -> person (by_id));
diesel::joinable!(etch_application -> etch (etch_id));
diesel::joinable!(came_up -> class (class_id));
diesel::joinable!(came_up -> plate (plate_id));
diesel::joinable!(came_up -> etch (etch_root));
diesel::joinable!(came_up -> step_run (step_run_id));
diesel::joinable!(came_up -> person (by_id));
diesel::joinable!(etch_table_row -> class (class_id));
diesel::joinable!(etch_table_row -> person (by_id));
diesel::joinable!(photo -> class (class_id));
diesel::joinable!(photo -> plate (plate_id));
diesel::joinable!(photo -> person (by_id));
diesel::joinable!(proof -> class (class_id));
diesel::joinable!(proof -> plate (plate_id));
diesel::joinable!(proof -> photo (photo_id));
diesel::joinable!(proof -> person (by_id));
diesel::joinable!(comment -> class (class_id));
diesel::joinable!(comment -> plate (plate_id));
diesel::joinable!(comment -> proof (proof_id));
diesel::joinable!(comment -> person (by_id));
diesel::joinable!(grading_scheme -> class (class_id));
diesel::joinable!(category -> class (class_id));
diesel::joinable!(assessment -> class (class_id));
diesel::joinable!(assessment -> category (category_id));
diesel::joinable!(assessment -> project (project_id));
diesel::joinable!(score -> class (class_id));
diesel::joinable!(score -> assessment (assessment_id));
diesel::joinable!(score -> print (print_id));
diesel::joinable!(criterion_level -> criterion (criterion_id));
diesel::joinable!(assessment_criterion -> criterion (criterion_id));
diesel::joinable!(score_level -> score (score_id));
diesel::joinable!(second_look -> score (score_id));
diesel::joinable!(critique_note -> critique (critique_id));
diesel::joinable!(critique_note -> print (print_id));
diesel::joinable!(critique -> project (project_id));
diesel::joinable!(roll_entry -> roll (roll_id));
diesel::joinable!(roll_entry -> person (person_id));
diesel::joinable!(duty -> person (person_id));
diesel::joinable!(accommodation -> person (person_id));
diesel::joinable!(accommodation_reason -> accommodation (accommodation_id));
diesel::joinable!(goal_criterion -> goal (goal_id));
diesel::joinable!(submitted_grade -> class (class_id));
diesel::joinable!(letter -> person (person_id));
diesel::joinable!(letter -> class (class_id));
diesel::joinable!(disclosure -> class (class_id));
diesel::joinable!(hold -> class (class_id));

diesel::allow_tables_to_appear_in_same_query!(
    school,
    person,
    session,
    link,
    calendar_feed,
    studio,
    opening,
    closure,
    extra_opening,
    station,
    station_down,
    called_off,
    data_sheet,
    container,
    weighing,
    term,
    class,
    meeting,
    listing,
    enrolment,
    enrolment_change,
    topic,
    topic_version,
    topic_point,
    class_topic,
    witness,
    sign_off,
    sign_off_point,
    procedure,
    procedure_version,
    procedure_draft,
    procedure_picture,
    project,
    own_due,
    due_move,
    print,
    plate,
    step_run,
    refusal,
    allowance,
    sitting,
    put_down,
    etch,
    etch_application,
    came_up,
    etch_table_row,
    photo,
    proof,
    comment,
    grading_scheme,
    category,
    assessment,
    score,
    submitted_grade,
    letter,
    once,
    journal_head,
    journal,
    journal_detail,
    disclosure,
    external_id,
    retention_rule,
    hold,
);

// Of the tables of marking only those that are asked together: the list above grows with its square.
diesel::allow_tables_to_appear_in_same_query!(criterion, criterion_level, assessment_criterion);
diesel::allow_tables_to_appear_in_same_query!(assessment_criterion, assessment);
diesel::allow_tables_to_appear_in_same_query!(score, score_level);
diesel::allow_tables_to_appear_in_same_query!(second_look, score);
diesel::allow_tables_to_appear_in_same_query!(second_look, assessment);
diesel::allow_tables_to_appear_in_same_query!(second_look, person);
diesel::allow_tables_to_appear_in_same_query!(critique, critique_note, print);
diesel::allow_tables_to_appear_in_same_query!(critique, project);
diesel::allow_tables_to_appear_in_same_query!(critique_note, project);
diesel::allow_tables_to_appear_in_same_query!(critique_note, person);
diesel::allow_tables_to_appear_in_same_query!(roll, roll_entry);
diesel::allow_tables_to_appear_in_same_query!(roll_entry, person);
diesel::allow_tables_to_appear_in_same_query!(roll_entry, enrolment);
diesel::allow_tables_to_appear_in_same_query!(roll_entry, listing);
diesel::allow_tables_to_appear_in_same_query!(roll, person);
diesel::allow_tables_to_appear_in_same_query!(roll, enrolment);
diesel::allow_tables_to_appear_in_same_query!(roll, listing);
diesel::allow_tables_to_appear_in_same_query!(duty, person);
diesel::allow_tables_to_appear_in_same_query!(accommodation, accommodation_reason);
diesel::allow_tables_to_appear_in_same_query!(accommodation, person);
diesel::allow_tables_to_appear_in_same_query!(accommodation_reason, person);
diesel::allow_tables_to_appear_in_same_query!(goal, goal_criterion);
diesel::allow_tables_to_appear_in_same_query!(tablet, person);
