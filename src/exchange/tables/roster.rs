//! `roster`: everybody who ever was in the class, with listing and state.

use std::io::Write;

use super::{
    FAMILY_NAME, GIVEN_NAME, LISTING_CODE, LISTING_SECTION, PERSON_ID, STUDENT_NUMBER, maybe, maybe_places,
    moment, number, person, put, word,
};
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::store::AnyConnection;
use crate::store::classes::Basis;
use crate::store::exports::{Of, roster};
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::trouble::Trouble;

pub(super) const COLUMNS: &[Column] = &[
    Column::new("enrolment_id", Holds::Text, "exports-column-enrolment-id"),
    PERSON_ID,
    GIVEN_NAME,
    FAMILY_NAME,
    STUDENT_NUMBER,
    LISTING_CODE,
    LISTING_SECTION,
    Column::new("level", Holds::Text, "exports-column-level"),
    Column::new("credits", Holds::Number, "exports-column-credits"),
    Column::new("basis", Holds::Text, "exports-column-basis").one_of::<Basis>(),
    Column::new("email", Holds::Text, "exports-column-email"),
    Column::new("role", Holds::Text, "exports-column-roster-role").one_of::<Role>(),
    Column::new("state", Holds::Text, "exports-column-state").one_of::<EnrolmentState>(),
    Column::new("state_since", Holds::Date, "exports-column-state-since"),
    Column::new("incomplete_until", Holds::Date, "exports-column-incomplete-until"),
    Column::new("lapses_to", Holds::Text, "exports-column-lapses-to"),
    Column::new("joined_at", Holds::Instant, "exports-column-joined-at"),
];

pub(super) fn write<W: Write>(db: &mut AnyConnection, of: &Of, sheet: &mut Sheet<W>) -> Result<(), Trouble> {
    roster::roster(db, of.class, &mut |row| {
        let [id, given, family, student, code, section] = person(&row.person);
        let credits = maybe_places(row.credits_hundredths, 2);
        let cells = [
            Cell::Text(row.enrolment.as_str()),
            id,
            given,
            family,
            student,
            code,
            section,
            maybe(row.level.as_deref()),
            number(&credits),
            word(row.basis.map(|basis| basis.0)),
            maybe(row.email.as_deref()),
            word(Some(row.role.0)),
            word(Some(row.state.0)),
            Cell::Date(row.since),
            row.incomplete_until.map_or(Cell::Empty, Cell::Date),
            maybe(row.lapses_to.as_deref()),
            moment(Some(row.joined_at)),
        ];
        put(sheet, &cells)
    })
}
