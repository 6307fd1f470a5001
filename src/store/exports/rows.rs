//! The rows of each export, in an order an index serves.

use chrono::NaiveDate;
use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, EtchId, PlateId, PrintId, SignOffId};
use crate::store::connections::AnyConnection;
use crate::store::schema::{
    enrolment, etch, etch_application, listing, person, plate, print, project, sign_off, step_run, topic,
    topic_version,
};
use crate::trouble::Trouble;

/// Runs a query row by row on either database; on PostgreSQL libpq hands rows over singly instead of all at once.
macro_rules! each {
    ($db:expr, $query:expr, $row:ty, $take:expr) => {{
        match $db {
            AnyConnection::Sqlite(db) => {
                use diesel::connection::DefaultLoadingMode;
                for row in RunQueryDsl::load_iter::<$row, DefaultLoadingMode>($query, db)? {
                    $take(row?)?;
                }
            }
            AnyConnection::Postgres(db) => {
                use diesel::pg::PgRowByRowLoadingMode;
                for row in RunQueryDsl::load_iter::<$row, PgRowByRowLoadingMode>($query, db)? {
                    $take(row?)?;
                }
            }
        }
        Ok(())
    }};
}

/// A person of the class list.
#[derive(Debug, Queryable)]
pub struct RosterRow {
    pub family_name: String,
    pub given_name: String,
    pub email: Option<String>,
    pub student_number: Option<String>,
    pub role: String,
    pub state: String,
    pub since: NaiveDate,
    pub listing_code: Option<String>,
    pub listing_section: Option<String>,
    pub level: Option<String>,
    pub basis: Option<String>,
}

type Take<'a, T> = &'a mut dyn FnMut(T) -> Result<(), Trouble>;

/// The class list, by family name.
///
/// # Errors
/// The database cannot be read, or the taker fails.
pub fn roster(db: &mut AnyConnection, class: ClassId, take: Take<'_, RosterRow>) -> Result<(), Trouble> {
    let query = enrolment::table
        .inner_join(person::table)
        .left_join(listing::table)
        .filter(enrolment::class_id.eq(class))
        .order((person::family_name, person::given_name, person::id))
        .select((
            person::family_name,
            person::given_name,
            person::email,
            person::student_number,
            enrolment::role,
            enrolment::state,
            enrolment::since,
            listing::code.nullable(),
            listing::section.nullable(),
            listing::level.nullable(),
            listing::basis.nullable(),
        ));
    each!(db, query, RosterRow, take)
}

/// Whose a thing is, in exports.
#[derive(Debug, Queryable)]
pub struct Owner {
    pub family_name: String,
    pub given_name: String,
    pub student_number: Option<String>,
    pub listing_code: Option<String>,
    pub listing_section: Option<String>,
}

/// A print.
#[derive(Debug, Queryable)]
pub struct PrintRow {
    pub id: PrintId,
    pub owner: Owner,
    pub project: String,
    pub title: String,
    pub due_local: String,
    pub edition_asked: i32,
    pub edition_size: Option<i32>,
    pub begun: Instant,
    pub handed_in: Option<Instant>,
}

/// The prints of a class.
///
/// # Errors
/// The database cannot be read, or the taker fails.
pub fn prints(db: &mut AnyConnection, class: ClassId, take: Take<'_, PrintRow>) -> Result<(), Trouble> {
    let query = print::table
        .inner_join(person::table)
        .inner_join(project::table)
        .left_join(
            enrolment::table
                .on(enrolment::class_id.eq(print::class_id).and(enrolment::person_id.eq(print::person_id))),
        )
        .left_join(listing::table.on(listing::id.nullable().eq(enrolment::listing_id)))
        .filter(print::class_id.eq(class))
        .order((person::family_name, person::given_name, print::created_at, print::id))
        .select((
            print::id,
            (
                person::family_name,
                person::given_name,
                person::student_number,
                listing::code.nullable(),
                listing::section.nullable(),
            ),
            project::title,
            print::title,
            project::due_local,
            project::edition_asked,
            print::edition_size,
            print::created_at,
            print::handed_in_at,
        ));
    each!(db, query, PrintRow, take)
}

/// A plate or stone.
#[derive(Debug, Queryable)]
pub struct PlateRow {
    pub id: PlateId,
    pub owner: Owner,
    pub print_title: String,
    pub number: i32,
    pub position: i32,
    pub surface: String,
    pub width_hundredths: i32,
    pub height_hundredths: i32,
    pub size_unit: String,
    pub materials: String,
    pub weight: String,
    pub standing: String,
    pub standing_since: Instant,
    pub gummed_at: Option<Instant>,
    pub rack_place: String,
    pub replaces: Option<PlateId>,
    pub begun: Instant,
}

/// The plates of a class, by number.
///
/// # Errors
/// The database cannot be read, or the taker fails.
pub fn plates(db: &mut AnyConnection, class: ClassId, take: Take<'_, PlateRow>) -> Result<(), Trouble> {
    let query = plate::table
        .inner_join(person::table)
        .inner_join(print::table)
        .left_join(
            enrolment::table
                .on(enrolment::class_id.eq(plate::class_id).and(enrolment::person_id.eq(plate::person_id))),
        )
        .left_join(listing::table.on(listing::id.nullable().eq(enrolment::listing_id)))
        .filter(plate::class_id.eq(class))
        .order((plate::class_id, plate::number))
        .select((
            plate::id,
            (
                person::family_name,
                person::given_name,
                person::student_number,
                listing::code.nullable(),
                listing::section.nullable(),
            ),
            print::title,
            plate::number,
            plate::position,
            plate::surface,
            plate::width_hundredths,
            plate::height_hundredths,
            plate::size_unit,
            plate::materials,
            plate::weight,
            plate::standing,
            plate::standing_since,
            plate::gummed_at,
            plate::rack_place,
            plate::replaces_id,
            plate::created_at,
        ));
    each!(db, query, PlateRow, take)
}

/// An etch log, corrections included.
#[derive(Debug, Queryable)]
pub struct EtchRow {
    pub id: EtchId,
    pub root: EtchId,
    pub corrects: Option<EtchId>,
    pub superseded_at: Option<Instant>,
    pub reason: String,
    pub owner: Owner,
    pub plate_number: i32,
    pub step: String,
    pub at: Instant,
    pub received_at: Instant,
    pub known_how: String,
    pub outside_rules: String,
    pub recipe: String,
    pub gum: Mix,
    pub measured_ph_hundredths: Option<i32>,
    pub tool: String,
    pub helper: String,
    pub seen: String,
}

/// What was mixed, as the containers stood that day.
#[derive(Debug, Queryable)]
pub struct Mix {
    pub gum_microlitres: Option<i64>,
    pub gum_baume_tenths: Option<i32>,
    pub gum_ph_hundredths: Option<i32>,
    pub gum_sour: bool,
    pub stock_microlitres: Option<i64>,
    pub acid_kind: Option<String>,
    pub acid_weight_bp: Option<i32>,
    pub drops: Option<i32>,
    pub drops_per_ml_hundredths: Option<i32>,
    pub drops_spread_hundredths: Option<i32>,
}

/// The etch logs of a class by time.
///
/// # Errors
/// The database cannot be read, or the taker fails.
pub fn etches(db: &mut AnyConnection, class: ClassId, take: Take<'_, EtchRow>) -> Result<(), Trouble> {
    let query = etch::table
        .inner_join(plate::table)
        .inner_join(step_run::table)
        .inner_join(person::table.on(person::id.eq(plate::person_id)))
        .left_join(
            enrolment::table
                .on(enrolment::class_id.eq(etch::class_id).and(enrolment::person_id.eq(plate::person_id))),
        )
        .left_join(listing::table.on(listing::id.nullable().eq(enrolment::listing_id)))
        .filter(etch::class_id.eq(class))
        .order((etch::class_id, etch::at, etch::id))
        .select((
            etch::id,
            etch::root,
            etch::corrects,
            etch::superseded_at,
            etch::reason,
            (
                person::family_name,
                person::given_name,
                person::student_number,
                listing::code.nullable(),
                listing::section.nullable(),
            ),
            plate::number,
            etch::step_key,
            etch::at,
            etch::received_at,
            etch::known_how,
            step_run::outside_rules,
            etch::recipe,
            (
                etch::gum_microlitres,
                etch::gum_baume_tenths,
                etch::gum_ph_hundredths,
                etch::gum_sour,
                etch::stock_microlitres,
                etch::acid_kind,
                etch::acid_weight_bp,
                etch::drops,
                etch::drops_per_ml_hundredths,
                etch::drops_spread_hundredths,
            ),
            etch::measured_ph_hundredths,
            etch::tool,
            etch::helper,
            etch::seen,
        ));
    each!(db, query, EtchRow, take)
}

/// How long each application of the etches of a class took, by etch: few enough to hold.
///
/// # Errors
/// The database cannot be read.
pub fn applications(
    db: &mut AnyConnection,
    class: ClassId,
) -> Result<std::collections::HashMap<EtchId, Vec<i32>>, Trouble> {
    let rows: Vec<(EtchId, i32)> = etch_application::table
        .inner_join(etch::table)
        .filter(etch::class_id.eq(class))
        .order((etch_application::etch_id, etch_application::position))
        .select((etch_application::etch_id, etch_application::seconds))
        .load(db)?;
    let mut found: std::collections::HashMap<EtchId, Vec<i32>> = std::collections::HashMap::new();
    for (id, seconds) in rows {
        found.entry(id).or_default().push(seconds);
    }
    Ok(found)
}

/// A sign-off.
#[derive(Debug, Queryable)]
pub struct SignOffRow {
    pub id: SignOffId,
    pub owner: Owner,
    pub topic: String,
    pub version: i32,
    pub grade: String,
    pub given_at: Instant,
    pub acknowledged_at: Option<Instant>,
    pub valid_until: Option<NaiveDate>,
    pub taken_back_at: Option<Instant>,
    pub withdrawn_at: Option<Instant>,
    pub withdrawn_reason: Option<String>,
}

/// The sign-offs given in a class, by topic and time.
///
/// # Errors
/// The database cannot be read, or the taker fails.
pub fn sign_offs(db: &mut AnyConnection, class: ClassId, take: Take<'_, SignOffRow>) -> Result<(), Trouble> {
    let query =
        sign_off::table
            .inner_join(topic::table)
            .inner_join(topic_version::table)
            .inner_join(person::table.on(person::id.eq(sign_off::person_id)))
            .left_join(enrolment::table.on(
                enrolment::class_id.eq(sign_off::class_id).and(enrolment::person_id.eq(sign_off::person_id)),
            ))
            .left_join(listing::table.on(listing::id.nullable().eq(enrolment::listing_id)))
            .filter(sign_off::class_id.eq(class))
            .order((sign_off::topic_id, sign_off::given_at, sign_off::id))
            .select((
                sign_off::id,
                (
                    person::family_name,
                    person::given_name,
                    person::student_number,
                    listing::code.nullable(),
                    listing::section.nullable(),
                ),
                topic::title,
                topic_version::number,
                sign_off::grade,
                sign_off::given_at,
                sign_off::acknowledged_at,
                sign_off::valid_until,
                sign_off::taken_back_at,
                sign_off::withdrawn_at,
                sign_off::withdrawn_reason,
            ));
    each!(db, query, SignOffRow, take)
}
