//! `attendance`: who was here, late, away or excused at each meeting whose roll was called.

use std::io::Write;

use super::{
    FAMILY_NAME, GIVEN_NAME, LISTING_CODE, LISTING_SECTION, PERSON_ID, STUDENT_NUMBER, moment, person, put,
    word,
};
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::store::AnyConnection;
use crate::store::classes::rolls::Presence;
use crate::store::exports::{Of, attendance};
use crate::store::studio::hours::clock;
use crate::trouble::Trouble;

pub(super) const COLUMNS: &[Column] = &[
    Column::new("roll_entry_id", Holds::Text, "exports-column-roll-entry-id"),
    PERSON_ID,
    GIVEN_NAME,
    FAMILY_NAME,
    STUDENT_NUMBER,
    LISTING_CODE,
    LISTING_SECTION,
    Column::new("day", Holds::Date, "exports-column-meeting-day"),
    Column::new("from_local", Holds::Text, "exports-column-meeting-from"),
    Column::new("to_local", Holds::Text, "exports-column-meeting-to"),
    Column::new("presence", Holds::Text, "exports-column-presence").one_of::<Presence>(),
    Column::new("called_by_id", Holds::Text, "exports-column-called-by-id"),
    Column::new("called_at", Holds::Instant, "exports-column-called-at"),
];

pub(super) fn write<W: Write>(db: &mut AnyConnection, of: &Of, sheet: &mut Sheet<W>) -> Result<(), Trouble> {
    attendance::attendance(db, of.class, &mut |row| {
        let [id, given, family, student, code, section] = person(&row.person);
        let (from, to) = (clock(row.from_minute), clock(row.to_minute));
        let cells = [
            Cell::Text(row.id.as_str()),
            id,
            given,
            family,
            student,
            code,
            section,
            Cell::Date(row.day),
            Cell::Text(&from),
            Cell::Text(&to),
            word(Some(row.presence.0)),
            Cell::Text(row.by.as_str()),
            moment(Some(row.at)),
        ];
        put(sheet, &cells)
    })
}
