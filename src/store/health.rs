//! Whether the database works: it is written to, and the write is taken back.

use diesel::prelude::*;

use crate::store::connections::Db;
use crate::store::schema::journal_head;
use crate::trouble::Trouble;

/// Writes into the journal's head of the school and rolls the write back.
///
/// # Errors
/// The database does not take writes.
pub async fn probe(db: &Db) -> Result<(), Trouble> {
    db.note(|connection| {
        let outcome = connection.transaction::<(), diesel::result::Error, _>(|connection| {
            diesel::update(journal_head::table.find("school"))
                .set(journal_head::seq.eq(journal_head::seq))
                .execute(connection)?;
            Err(diesel::result::Error::RollbackTransaction)
        });
        match outcome {
            Err(diesel::result::Error::RollbackTransaction) | Ok(()) => Ok(()),
            Err(error) => Err(error.into()),
        }
    })
    .await
}
