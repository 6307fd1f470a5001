//! `plates`: each plate or stone with its drawing, its procedure, how it stands and when its print is due.

use std::io::Write;

use super::{
    BEGUN_AT, Counting, DAYS_LATE, DUE_AT, DUE_LOCAL, DUE_ZONE, Due, FAMILY_NAME, GIVEN_NAME, HANDED_IN_AT,
    LISTING_CODE, LISTING_SECTION, PERSON_ID, PLATE_ID, PRINT, PRINT_ID, PROJECT, STUDENT_NUMBER, maybe,
    moment, number, person, places, put, word,
};
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::store::AnyConnection;
use crate::store::exports::Of;
use crate::store::exports::plates::{self, PlateRow};
use crate::store::plates::folder::{SizeUnit, Weight};
use crate::trade::procedure::{Standing, Surface};
use crate::trouble::Trouble;

pub(super) const COLUMNS: &[Column] = &[
    PLATE_ID,
    PRINT_ID,
    PERSON_ID,
    GIVEN_NAME,
    FAMILY_NAME,
    STUDENT_NUMBER,
    LISTING_CODE,
    LISTING_SECTION,
    PROJECT,
    PRINT,
    Column::new("plate_number", Holds::Number, "exports-column-plate-number"),
    Column::new("printing_order", Holds::Number, "exports-column-printing-order"),
    Column::new("surface", Holds::Text, "exports-column-surface").one_of::<Surface>(),
    Column::new("width_cm", Holds::Number, "exports-column-width-cm").unit("cm"),
    Column::new("height_cm", Holds::Number, "exports-column-height-cm").unit("cm"),
    Column::new("size_told_in", Holds::Text, "exports-column-size-told-in").one_of::<SizeUnit>(),
    Column::new("materials", Holds::Text, "exports-column-materials"),
    Column::new("drawing_weight", Holds::Text, "exports-column-drawing-weight").one_of::<Weight>(),
    Column::new("procedure", Holds::Text, "exports-column-procedure"),
    Column::new("procedure_version", Holds::Number, "exports-column-procedure-version"),
    Column::new("replaces_plate_id", Holds::Text, "exports-column-replaces-plate-id"),
    Column::new("standing", Holds::Text, "exports-column-standing").one_of::<Standing>(),
    Column::new("standing_since", Holds::Instant, "exports-column-standing-since"),
    Column::new("gummed_at", Holds::Instant, "exports-column-gummed-at"),
    Column::new("rack_place", Holds::Text, "exports-column-rack-place"),
    Column::new("note", Holds::Text, "exports-column-note"),
    BEGUN_AT,
    DUE_LOCAL,
    DUE_ZONE,
    DUE_AT,
    HANDED_IN_AT,
    DAYS_LATE,
];

pub(super) fn write<W: Write>(db: &mut AnyConnection, of: &Of, sheet: &mut Sheet<W>) -> Result<(), Trouble> {
    let counting = Counting::read(db, of)?;
    plates::plates(db, of.class, &mut |row| put_plate(of, &counting, &row, sheet))
}

fn put_plate<W: Write>(
    of: &Of,
    counting: &Counting,
    row: &PlateRow,
    sheet: &mut Sheet<W>,
) -> Result<(), Trouble> {
    let [id, given, family, student, code, section] = person(&row.person);
    let due = Due::new(of, counting, &row.due, row.handed_in_at)?;
    let [local, zone, at, handed_in, late] = due.cells(of);
    let (plate_number, order) = (row.number.to_string(), row.position.to_string());
    let width = centimetres(row.width_hundredths, row.size_unit.0);
    let height = centimetres(row.height_hundredths, row.size_unit.0);
    let version = row.procedure_version.to_string();
    let cells = [
        Cell::Text(row.id.as_str()),
        Cell::Text(row.print.as_str()),
        id,
        given,
        family,
        student,
        code,
        section,
        Cell::Text(&row.project_title),
        Cell::Text(&row.print_title),
        number(&plate_number),
        number(&order),
        word(Some(row.surface.0)),
        number(&width),
        number(&height),
        word(Some(row.size_unit.0)),
        Cell::Text(&row.materials),
        word(Some(row.weight.0)),
        Cell::Text(&row.procedure),
        number(&version),
        maybe(row.replaces.as_ref().map(|id| id.as_str())),
        word(Some(row.standing.0)),
        moment(Some(row.standing_since)),
        moment(row.gummed_at),
        Cell::Text(&row.rack_place),
        Cell::Text(&row.note),
        moment(Some(row.begun_at)),
        local,
        zone,
        at,
        handed_in,
        late,
    ];
    put(sheet, &cells)
}

/// A length in centimetres, in full: an inch is 2.54 cm (NIST SP 811, appendix B.8).
pub(super) fn centimetres(hundredths: i32, unit: SizeUnit) -> String {
    match unit {
        SizeUnit::Centimetre => places(i64::from(hundredths) * 100, 4),
        SizeUnit::Inch => places(i64::from(hundredths) * 254, 4),
    }
}
