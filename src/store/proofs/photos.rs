//! Photos on the shelf as the record knows them: who may see one, and which are still wanted.

use std::collections::HashSet;

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, PhotoId, PlateId, ProofId};
use crate::store::connections::AnyConnection;
use crate::store::schema::{photo, plate, proof};
use crate::trouble::Trouble;

/// Asks whether the photo is one of this class, and of this owner's plates where there is an owner. One statement, by
/// the unique index of a proof's photo.
///
/// # Errors
/// It is not there for who asks, or was removed.
pub fn seen_by(
    db: &mut AnyConnection,
    class: ClassId,
    id: PhotoId,
    owner: Option<PersonId>,
) -> Result<(), Trouble> {
    let mut query = proof::table
        .inner_join(plate::table)
        .filter(proof::photo_id.eq(id).and(proof::class_id.eq(class)))
        .filter(proof::removed_at.is_null())
        .select(proof::id)
        .into_boxed();
    if let Some(owner) = owner {
        query = query.filter(plate::person_id.eq(owner));
    }
    query.first::<ProofId>(db)?;
    Ok(())
}

/// The proof of this plate that shows the same file, byte for byte.
///
/// # Errors
/// The database cannot be read.
pub fn same_picture(
    db: &mut AnyConnection,
    plate: PlateId,
    sha256: &str,
) -> Result<Option<ProofId>, Trouble> {
    Ok(photo::table
        .inner_join(proof::table)
        .filter(photo::plate_id.eq(plate).and(photo::sha256.eq(sha256)))
        .select(proof::id)
        .first(db)
        .optional()?)
}

/// Which of these photos the record still wants: it names them, and they were not removed before `since`.
///
/// # Errors
/// The database cannot be read.
pub fn wanted(db: &mut AnyConnection, ids: &[PhotoId], since: Instant) -> Result<HashSet<PhotoId>, Trouble> {
    let found: Vec<PhotoId> = proof::table
        .filter(proof::photo_id.eq_any(ids))
        .filter(proof::removed_at.is_null().or(proof::removed_at.ge(Some(since))))
        .select(proof::photo_id)
        .load(db)?;
    Ok(found.into_iter().collect())
}
