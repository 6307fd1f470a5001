//! The rows of plates: each with its print, project, person and what its class decided, in one statement.

use diesel::prelude::*;
use diesel::sql_types::{BigInt, Bool, Integer, Nullable, Text};

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, PlateId, PrintId, ProcedureVersionId, ProjectId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::people::sessions::EnrolmentState;
use crate::store::plates::folder::{Weight, Which};
use crate::store::standing::Standing;
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

/// The columns of a plate with what belongs to it, in order.
type Columns = (
    Text,
    Text,
    Integer,
    Integer,
    Text,
    Integer,
    Integer,
    Text,
    Text,
    Text,
    Nullable<Text>,
    Text,
    Text,
    BigInt,
    BigInt,
    Text,
    (Text, Text, Nullable<Integer>, Nullable<BigInt>, BigInt),
    (Text, Text, Text, Nullable<BigInt>),
    (Text, Text, Text, Integer),
    (Bool, Nullable<Integer>),
    Nullable<Text>,
    Nullable<Text>,
);

const PLATES: &str = "SELECT plate.id, plate.class_id, plate.number, plate.position, plate.surface, plate.width_hundredths, \
             plate.height_hundredths, plate.size_unit, plate.materials, plate.weight, plate.replaces_id, \
             plate.rack_place, plate.note, plate.created_at, plate.version, plate.procedure_version_id, \
             print.id, print.title, print.edition_size, print.handed_in_at, print.version, \
             person.id, person.given_name, person.family_name, person.mail_rests_since, \
             project.id, project.title, project.due_local, project.edition_asked, \
             class.go_ahead, class.gum_limit_days, own_due.due_local, enrolment.state FROM plate \
             JOIN print ON print.id = plate.print_id JOIN project ON project.id = print.project_id \
             JOIN person ON person.id = plate.person_id JOIN class ON class.id = plate.class_id \
             LEFT JOIN own_due ON own_due.project_id = print.project_id AND own_due.person_id = plate.person_id \
             AND own_due.superseded_at IS NULL LEFT JOIN enrolment ON enrolment.class_id = plate.class_id \
             AND enrolment.person_id = plate.person_id WHERE plate.class_id = ";
const IN_ORDER: &str = " ORDER BY plate.number, plate.id";
const OF_CLASS: [&str; 2] = [PLATES, IN_ORDER];
const OF_PERSON: [&str; 3] = [PLATES, " AND plate.person_id = ", IN_ORDER];
const OF_PRINT: [&str; 3] = [PLATES, " AND plate.print_id = ", IN_ORDER];
const THE_PLATE: [&str; 3] = [PLATES, " AND plate.id = ", IN_ORDER];

/// The rows of the plates meant, by number. One statement.
pub(super) fn rows(
    db: &mut AnyConnection,
    which: Which,
    owner: Option<PersonId>,
) -> Result<Vec<PlateRow>, Trouble> {
    let class = which.class();
    let class = class.as_str();
    let mut rows: Vec<PlateRow> = match (which, owner) {
        (Which::Plate(_, id), _) => {
            Standing::<Columns, _>::in_order(|| &THE_PLATE, &[class, id.as_str()]).load(db)?
        }
        (Which::Print(_, id), _) => {
            Standing::<Columns, _>::in_order(|| &OF_PRINT, &[class, id.as_str()]).load(db)?
        }
        (Which::Class(_), None) => Standing::<Columns, _>::in_order(|| &OF_CLASS, &[class]).load(db)?,
        (Which::Class(_), Some(owner)) => {
            Standing::<Columns, _>::in_order(|| &OF_PERSON, &[class, owner.as_str()]).load(db)?
        }
    };
    if let Some(owner) = owner {
        rows.retain(|row| row.person.id == owner);
    }
    Ok(rows)
}
