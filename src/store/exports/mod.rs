//! Rows for exports, handed out one at a time, so that a table of a million rows needs no more memory than one of ten.

pub mod rows;

use std::path::Path;

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, DisclosureId, PersonId};
use crate::store::connections::AnyConnection;
use crate::store::schema::{class, disclosure, term};
use crate::trouble::Trouble;

/// The class of a code in a term, for the command line.
///
/// # Errors
/// There is none.
pub fn class_of(db: &mut AnyConnection, code: &str, term_name: &str) -> Result<(ClassId, String), Trouble> {
    Ok(class::table
        .inner_join(term::table)
        .filter(class::code.eq(code).and(term::name.eq(term_name)))
        .select((class::id, term::zone))
        .first(db)?)
}

/// Keeps who took what out, before the first byte leaves (34 CFR 99.32).
///
/// # Errors
/// The database cannot be written.
pub fn keep_disclosure(
    db: &mut AnyConnection,
    now: Instant,
    by: Option<PersonId>,
    class_id: ClassId,
    what: &str,
    purpose: &str,
) -> Result<(), Trouble> {
    diesel::insert_into(disclosure::table)
        .values((
            disclosure::id.eq(DisclosureId::new(now)),
            disclosure::at.eq(now),
            disclosure::by_id.eq(by),
            disclosure::class_id.eq(class_id),
            disclosure::what.eq(json!({ "export": what }).to_string()),
            disclosure::purpose.eq(purpose),
            disclosure::party.eq(""),
        ))
        .execute(db)?;
    Ok(())
}

/// Whether a folder can hold spool files.
///
/// # Errors
/// It cannot be made.
pub fn spool_folder(data: &Path) -> Result<std::path::PathBuf, Trouble> {
    let folder = data.join("spool");
    std::fs::create_dir_all(&folder).map_err(|error| Trouble::broken("making the spool folder", error))?;
    Ok(folder)
}
