//! Plates and stones as rows.

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, PlateId, PrintId};
use crate::store::connections::AnyConnection;
use crate::store::exports::{DueRow, Owner, Take, each, owner};
use crate::store::plates::folder::{SizeUnit, Weight};
use crate::store::schema::{
    enrolment, listing, own_due, person, plate, print, procedure, procedure_version, project,
};
use crate::store::types::Word;
use crate::trade::procedure::{Standing, Surface};
use crate::trouble::Trouble;

/// A plate or stone.
#[derive(Debug, Clone, Queryable)]
pub struct PlateRow {
    pub id: PlateId,
    pub print: PrintId,
    pub person: Owner,
    pub project_title: String,
    pub print_title: String,
    pub number: i32,
    pub position: i32,
    pub surface: Word<Surface>,
    pub width_hundredths: i32,
    pub height_hundredths: i32,
    pub size_unit: Word<SizeUnit>,
    pub materials: String,
    pub weight: Word<Weight>,
    pub procedure: String,
    pub procedure_version: i32,
    pub replaces: Option<PlateId>,
    pub standing: Word<Standing>,
    pub standing_since: Instant,
    pub gummed_at: Option<Instant>,
    pub rack_place: String,
    pub note: String,
    pub begun_at: Instant,
    pub due: DueRow,
    pub handed_in_at: Option<Instant>,
}

/// The plates of a class, by number.
///
/// # Errors
/// The database cannot be read, or the taker fails.
pub fn plates(db: &mut AnyConnection, class: ClassId, take: Take<'_, PlateRow>) -> Result<(), Trouble> {
    let query = plate::table
        .inner_join(print::table.inner_join(project::table))
        .inner_join(procedure_version::table.inner_join(procedure::table))
        .inner_join(person::table.on(person::id.eq(plate::person_id)))
        .left_join(
            own_due::table.on(own_due::project_id
                .eq(print::project_id)
                .and(own_due::person_id.eq(plate::person_id))
                .and(own_due::superseded_at.is_null())),
        )
        .left_join(
            enrolment::table
                .on(enrolment::class_id.eq(plate::class_id).and(enrolment::person_id.eq(plate::person_id))),
        )
        .left_join(listing::table.on(listing::id.nullable().eq(enrolment::listing_id.nullable())))
        .filter(plate::class_id.eq(class))
        .order((plate::class_id, plate::number))
        .select((
            plate::id,
            plate::print_id,
            owner!(),
            project::title,
            print::title,
            plate::number,
            plate::position,
            plate::surface,
            plate::width_hundredths,
            plate::height_hundredths,
            plate::size_unit,
            plate::materials,
            plate::weight,
            procedure::name,
            procedure_version::number,
            plate::replaces_id,
            plate::standing,
            plate::standing_since,
            plate::gummed_at,
            plate::rack_place,
            plate::note,
            plate::created_at,
            (project::due_local, own_due::due_local.nullable()),
            print::handed_in_at,
        ));
    each!(db, query, PlateRow, take)
}
