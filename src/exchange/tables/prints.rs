//! `prints`: each print with its project, when it is due and was handed in, and how its plates stand.

use std::io::Write;

use super::{
    BEGUN_AT, Counting, DAYS_LATE, DUE_AT, DUE_LOCAL, DUE_ZONE, Due, FAMILY_NAME, GIVEN_NAME, HANDED_IN_AT,
    LISTING_CODE, LISTING_SECTION, PERSON_ID, PRINT, PRINT_ID, PROJECT, STUDENT_NUMBER, moment, number,
    person, put,
};
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::store::AnyConnection;
use crate::store::exports::{Of, prints};
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

pub(super) const COLUMNS: &[Column] = &[
    PRINT_ID,
    PERSON_ID,
    GIVEN_NAME,
    FAMILY_NAME,
    STUDENT_NUMBER,
    LISTING_CODE,
    LISTING_SECTION,
    Column::new("project_id", Holds::Text, "exports-column-project-id"),
    PROJECT,
    PRINT,
    Column::new("edition_asked", Holds::Number, "exports-column-edition-asked").unit("sheets"),
    Column::new("edition_size", Holds::Number, "exports-column-edition-size").unit("sheets"),
    BEGUN_AT,
    DUE_LOCAL,
    DUE_ZONE,
    DUE_AT,
    HANDED_IN_AT,
    DAYS_LATE,
    Column::new("plates", Holds::Number, "exports-column-plates"),
    Column::new("standings", Holds::Text, "exports-column-standings"),
];

pub(super) fn write<W: Write>(db: &mut AnyConnection, of: &Of, sheet: &mut Sheet<W>) -> Result<(), Trouble> {
    let counting = Counting::read(db, of)?;
    prints::prints(db, of.class, &mut |whole| {
        let row = &whole.print;
        let [id, given, family, student, code, section] = person(&row.person);
        let due = Due::new(of, &counting, &row.due, row.handed_in_at)?;
        let [local, zone, at, handed_in, late] = due.cells(of);
        let asked = row.edition_asked.to_string();
        let size = row.edition_size.map(|size| size.to_string()).unwrap_or_default();
        let plates = whole.standings.len().to_string();
        let standings = whole.standings.iter().map(|standing| standing.word()).collect::<Vec<_>>().join(";");
        let cells = [
            Cell::Text(row.id.as_str()),
            id,
            given,
            family,
            student,
            code,
            section,
            Cell::Text(row.project.as_str()),
            Cell::Text(&row.project_title),
            Cell::Text(&row.title),
            number(&asked),
            number(&size),
            moment(Some(row.begun_at)),
            local,
            zone,
            at,
            handed_in,
            late,
            number(&plates),
            Cell::Text(&standings),
        ];
        put(sheet, &cells)
    })
}
