//! The rows of plates: each with its print, project, person and what its class decided, in one statement.

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, PlateId, PrintId, ProcedureVersionId, ProjectId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::people::sessions::EnrolmentState;
use crate::store::plates::folder::{Weight, Which};
use crate::store::plates::with_own_due_and_seat;
use crate::store::schema::{class, enrolment, own_due, person, plate, print, project};
use crate::store::types::Word;
use crate::trade::procedure::Surface;
use crate::trouble::Trouble;

spelled!(
    /// In what the size is told.
    SizeUnit { Inch = "in", Centimetre = "cm" }
);

/// A plate with the print and project it belongs to.
#[derive(Debug, Clone, Queryable)]
pub struct PlateRow {
    pub id: PlateId,
    pub class: ClassId,
    pub number: i32,
    pub position: i32,
    pub surface: Word<Surface>,
    pub width_hundredths: i32,
    pub height_hundredths: i32,
    pub size_unit: Word<SizeUnit>,
    pub materials: String,
    pub weight: Word<Weight>,
    pub replaces: Option<PlateId>,
    pub rack_place: String,
    pub note: String,
    pub created_at: Instant,
    pub version: i64,
    pub procedure_version: ProcedureVersionId,
    pub print: PrintRow,
    pub person: PersonRow,
    pub project: ProjectRow,
    pub class_rules: ClassRow,
    pub own_due_local: Option<String>,
    /// The state of its student's enrolment.
    pub state: Option<Word<EnrolmentState>>,
}

#[derive(Debug, Clone, Queryable)]
pub struct PrintRow {
    pub id: PrintId,
    pub title: String,
    pub edition_size: Option<i32>,
    pub handed_in_at: Option<Instant>,
    pub version: i64,
}

#[derive(Debug, Clone, Queryable)]
pub struct PersonRow {
    pub id: PersonId,
    pub given_name: String,
    pub family_name: String,
    /// Since when no letters go to them, because their address was refused for good.
    pub mail_rests_since: Option<Instant>,
}

#[derive(Debug, Clone, Queryable)]
pub struct ProjectRow {
    pub id: ProjectId,
    pub title: String,
    pub due_local: String,
    pub edition_asked: i32,
}

#[derive(Debug, Clone, Queryable)]
pub struct ClassRow {
    pub go_ahead: bool,
    pub gum_limit_days: Option<i32>,
}

/// The question of each kind in one type, so that diesel makes its text once a connection and not at every look.
pub(super) fn rows(
    db: &mut AnyConnection,
    which: Which,
    owner: Option<PersonId>,
) -> Result<Vec<PlateRow>, Trouble> {
    macro_rules! asked {
        ($($condition:expr),*) => {{
            let plates = plate::table
                .inner_join(print::table.inner_join(project::table))
                .inner_join(person::table)
                .inner_join(class::table);
            with_own_due_and_seat!(plates)
                .filter(plate::class_id.eq(which.class()))
                $(.filter($condition))*
                .order((plate::number, plate::id))
                .select((
                    plate::id,
                    plate::class_id,
                    plate::number,
                    plate::position,
                    plate::surface,
                    plate::width_hundredths,
                    plate::height_hundredths,
                    plate::size_unit,
                    plate::materials,
                    plate::weight,
                    plate::replaces_id,
                    plate::rack_place,
                    plate::note,
                    plate::created_at,
                    plate::version,
                    plate::procedure_version_id,
                    (print::id, print::title, print::edition_size, print::handed_in_at, print::version),
                    (person::id, person::given_name, person::family_name, person::mail_rests_since),
                    (project::id, project::title, project::due_local, project::edition_asked),
                    (class::go_ahead, class::gum_limit_days),
                    own_due::due_local.nullable(),
                    enrolment::state.nullable(),
                ))
                .load(db)?
        }};
    }
    let mut rows: Vec<PlateRow> = match (which, owner) {
        (Which::Plate(_, id), _) => asked!(plate::id.eq(id)),
        (Which::Print(_, id), _) => asked!(plate::print_id.eq(id)),
        (Which::Class(_), None) => asked!(),
        (Which::Class(_), Some(owner)) => asked!(plate::person_id.eq(owner)),
    };
    if let Some(owner) = owner {
        rows.retain(|row| row.person.id == owner);
    }
    Ok(rows)
}
