//! What the rows of some classes name outside the database: pictures on the shelf, papers, and the texts of procedures.

use std::collections::BTreeSet;

use diesel::prelude::*;

use crate::ids::{ClassId, PersonId, PhotoId, ProcedureId, ProcedureVersionId};
use crate::store::connections::AnyConnection;
use crate::store::schema::{
    class, data_sheet, journal, photo, plate, procedure, procedure_picture, procedure_version, project,
};
use crate::trouble::Trouble;

/// The pictures that are still there: proofs that were not removed, and pictures of procedures, by id.
///
/// # Errors
/// The database cannot be read.
pub fn pictures(db: &mut AnyConnection, classes: &[ClassId]) -> Result<Vec<String>, Trouble> {
    let mut found: Vec<String> = photo::table
        .filter(photo::class_id.eq_any(classes).and(photo::sha256.is_not_null()))
        .select(photo::id)
        .load::<PhotoId>(db)?
        .into_iter()
        .map(|id| id.to_string())
        .collect();
    let of_procedures: Vec<String> = procedure_picture::table
        .filter(procedure_picture::class_id.eq_any(classes))
        .select(procedure_picture::id)
        .load(db)?;
    found.extend(of_procedures);
    found.sort();
    Ok(found)
}

/// The pictures of one person's plates that are still there.
///
/// # Errors
/// The database cannot be read.
pub fn own_pictures(
    db: &mut AnyConnection,
    class: ClassId,
    owner: PersonId,
) -> Result<Vec<PhotoId>, Trouble> {
    Ok(photo::table
        .inner_join(plate::table)
        .filter(photo::class_id.eq(class).and(photo::sha256.is_not_null()).and(plate::person_id.eq(owner)))
        .order(photo::id)
        .select(photo::id)
        .load(db)?)
}

/// The papers of the classes' studios, by SHA-256.
///
/// # Errors
/// The database cannot be read.
pub fn papers(db: &mut AnyConnection, classes: &[ClassId]) -> Result<BTreeSet<String>, Trouble> {
    let studios = class::table.filter(class::id.eq_any(classes)).select(class::studio_id);
    let found: Vec<String> = data_sheet::table
        .filter(data_sheet::studio_id.eq_any(studios))
        .select(data_sheet::file_sha256)
        .load(db)?;
    Ok(found.into_iter().collect())
}

/// A version of a procedure that a plate or a project of the classes has.
#[derive(Debug, Clone, Queryable)]
pub struct Text {
    pub id: ProcedureVersionId,
    pub name: String,
    pub number: i32,
    pub body: String,
}

/// The procedures the classes work by, every version of each.
///
/// # Errors
/// The database cannot be read.
pub fn procedures(db: &mut AnyConnection, classes: &[ClassId]) -> Result<Vec<Text>, Trouble> {
    let mut ids: BTreeSet<ProcedureId> = project::table
        .filter(project::class_id.eq_any(classes))
        .select(project::procedure_id)
        .load::<ProcedureId>(db)?
        .into_iter()
        .collect();
    ids.extend(
        plate::table
            .inner_join(procedure_version::table)
            .filter(plate::class_id.eq_any(classes))
            .select(procedure_version::procedure_id)
            .distinct()
            .load::<ProcedureId>(db)?,
    );
    Ok(procedure_version::table
        .inner_join(procedure::table)
        .filter(procedure_version::procedure_id.eq_any(ids))
        .order((procedure::name, procedure_version::number, procedure_version::id))
        .select((procedure_version::id, procedure::name, procedure_version::number, procedure_version::body))
        .load(db)?)
}

/// The hash of a row of a class's journal, empty before its first.
///
/// # Errors
/// The database cannot be read.
pub fn hash_of(db: &mut AnyConnection, class: ClassId, seq: i64) -> Result<String, Trouble> {
    let found: Option<String> = journal::table
        .filter(journal::scope.eq(class.to_string()).and(journal::seq.eq(seq)))
        .select(journal::hash)
        .first(db)
        .optional()?;
    Ok(found.unwrap_or_default())
}
