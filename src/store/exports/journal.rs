//! The journal of a class as rows. Details that were purged are gone; their rows and hashes stay.

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId};
use crate::store::connections::AnyConnection;
use crate::store::exports::{Take, each};
use crate::store::schema::{journal, journal_detail, person};
use crate::trouble::Trouble;

/// An act.
#[derive(Debug, Clone, Queryable)]
pub struct JournalRow {
    pub seq: i64,
    pub at: Instant,
    pub person: Option<PersonId>,
    pub given_name: Option<String>,
    pub family_name: Option<String>,
    pub act: String,
    pub subject: String,
    pub detail: Option<String>,
    pub salt: Option<String>,
    pub detail_hash: String,
    pub hash: String,
}

/// The acts of a class in order, up to the last one wanted.
///
/// # Errors
/// The database cannot be read, or the taker fails.
pub fn journal(
    db: &mut AnyConnection,
    class: ClassId,
    last: Option<i64>,
    take: Take<'_, JournalRow>,
) -> Result<(), Trouble> {
    let query = journal::table
        .left_join(
            journal_detail::table
                .on(journal_detail::scope.eq(journal::scope).and(journal_detail::seq.eq(journal::seq))),
        )
        .left_join(person::table.on(person::id.nullable().eq(journal::person_id)))
        .filter(journal::scope.eq(class.to_string()).and(journal::seq.le(last.unwrap_or(i64::MAX))))
        .order((journal::scope, journal::seq))
        .select((
            journal::seq,
            journal::at,
            journal::person_id,
            person::given_name.nullable(),
            person::family_name.nullable(),
            journal::act,
            journal::subject,
            journal_detail::detail.nullable(),
            journal_detail::salt.nullable(),
            journal::detail_hash,
            journal::hash,
        ));
    each!(db, query, JournalRow, take)
}
