//! `signoffs`: every sign-off given in the class, those taken back and withdrawn included.

use std::io::Write;

use super::{
    FAMILY_NAME, GIVEN_NAME, LISTING_CODE, LISTING_SECTION, PERSON_ID, STUDENT_NUMBER, maybe, moment, number,
    person, put, word,
};
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::store::AnyConnection;
use crate::store::exports::{Of, sign_offs};
use crate::trade::procedure::Grade;
use crate::trouble::Trouble;

pub(super) const COLUMNS: &[Column] = &[
    Column::new("sign_off_id", Holds::Text, "exports-column-sign-off-id"),
    PERSON_ID,
    GIVEN_NAME,
    FAMILY_NAME,
    STUDENT_NUMBER,
    LISTING_CODE,
    LISTING_SECTION,
    Column::new("topic_id", Holds::Text, "exports-column-topic-id"),
    Column::new("topic", Holds::Text, "exports-column-topic"),
    Column::new("topic_version", Holds::Number, "exports-column-topic-version"),
    Column::new("studio", Holds::Text, "exports-column-studio"),
    Column::new("sign_off_grade", Holds::Text, "exports-column-sign-off-grade").one_of::<Grade>(),
    Column::new("given_by_id", Holds::Text, "exports-column-given-by-id"),
    Column::new("given_by_given_name", Holds::Text, "exports-column-given-by-given-name"),
    Column::new("given_by_family_name", Holds::Text, "exports-column-given-by-family-name"),
    Column::new("given_at", Holds::Instant, "exports-column-sign-off-given-at"),
    Column::new("acknowledged_at", Holds::Instant, "exports-column-acknowledged-at"),
    Column::new("valid_until", Holds::Date, "exports-column-valid-until"),
    Column::new("note", Holds::Text, "exports-column-sign-off-note"),
    Column::new("taken_back_at", Holds::Instant, "exports-column-taken-back-at"),
    Column::new("withdrawn_at", Holds::Instant, "exports-column-withdrawn-at"),
    Column::new("withdrawn_because", Holds::Text, "exports-column-withdrawn-because"),
];

pub(super) fn write<W: Write>(db: &mut AnyConnection, of: &Of, sheet: &mut Sheet<W>) -> Result<(), Trouble> {
    sign_offs::sign_offs(db, of.class, &mut |row| {
        let [id, given, family, student, code, section] = person(&row.person);
        let version = row.version.to_string();
        let cells = [
            Cell::Text(row.id.as_str()),
            id,
            given,
            family,
            student,
            code,
            section,
            Cell::Text(row.topic.as_str()),
            Cell::Text(&row.topic_title),
            number(&version),
            Cell::Text(&row.studio),
            word(Some(row.grade.0)),
            Cell::Text(row.giver.as_str()),
            Cell::Text(&row.giver_given_name),
            Cell::Text(&row.giver_family_name),
            moment(Some(row.given_at)),
            moment(row.acknowledged_at),
            row.valid_until.map_or(Cell::Empty, Cell::Date),
            Cell::Text(&row.note),
            moment(row.taken_back_at),
            moment(row.withdrawn_at),
            maybe(row.withdrawn_reason.as_deref()),
        ];
        put(sheet, &cells)
    })
}
