//! `journal`: every act of the class in order, with what its chain of hashes is reckoned from.

use std::io::Write;

use super::{FAMILY_NAME, GIVEN_NAME, PERSON_ID, maybe, moment, number, put};
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::store::AnyConnection;
use crate::store::exports::{Of, journal};
use crate::trouble::Trouble;

pub(super) const COLUMNS: &[Column] = &[
    Column::new("seq", Holds::Number, "exports-column-seq"),
    Column::new("at", Holds::Instant, "exports-column-act-at"),
    PERSON_ID,
    GIVEN_NAME,
    FAMILY_NAME,
    Column::new("act", Holds::Text, "exports-column-act"),
    Column::new("subject_id", Holds::Text, "exports-column-subject-id"),
    Column::new("detail", Holds::Text, "exports-column-detail"),
    Column::new("salt", Holds::Text, "exports-column-salt"),
    Column::new("detail_hash", Holds::Text, "exports-column-detail-hash"),
    Column::new("hash", Holds::Text, "exports-column-hash"),
];

pub(super) fn write<W: Write>(db: &mut AnyConnection, of: &Of, sheet: &mut Sheet<W>) -> Result<(), Trouble> {
    journal::journal(db, of.class, of.last_act, &mut |row| {
        let seq = row.seq.to_string();
        let cells = [
            number(&seq),
            moment(Some(row.at)),
            maybe(row.person.as_ref().map(|id| id.as_str())),
            maybe(row.given_name.as_deref()),
            maybe(row.family_name.as_deref()),
            Cell::Text(&row.act),
            Cell::Text(&row.subject),
            maybe(row.detail.as_deref()),
            maybe(row.salt.as_deref()),
            Cell::Text(&row.detail_hash),
            Cell::Text(&row.hash),
        ];
        put(sheet, &cells)
    })
}
