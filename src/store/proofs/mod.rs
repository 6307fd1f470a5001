//! Proofs: what was pulled of a plate, its photos, and what is said about them.

pub mod comments;
pub mod photos;
pub mod pulls;

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, PlateId};
use crate::store::connections::AnyConnection;
use crate::store::schema::{person, plate, print};
use crate::trouble::Trouble;

/// How long one may take back what one has just added oneself.
pub const TAKE_BACK_MS: i64 = 10 * 60_000;

/// A plate as somebody comes to it: of which class, and whose it must be.
#[derive(Debug, Clone, Copy)]
pub struct OfPlate {
    pub class: ClassId,
    pub plate: PlateId,
    pub owner: Option<PersonId>,
}

/// What a plate is called.
#[derive(Debug, Clone, Queryable)]
pub struct PlateTitle {
    pub plate: PlateId,
    pub number: i32,
    pub print: String,
    pub person: PersonId,
    pub given_name: String,
    pub family_name: String,
}

/// The plate's title. One statement.
///
/// # Errors
/// There is no such plate in this class, or it is somebody else's.
pub fn plate_title(db: &mut AnyConnection, of: &OfPlate) -> Result<PlateTitle, Trouble> {
    let mut query = plate::table
        .inner_join(print::table)
        .inner_join(person::table)
        .filter(plate::id.eq(of.plate).and(plate::class_id.eq(of.class)))
        .select((plate::id, plate::number, print::title, person::id, person::given_name, person::family_name))
        .into_boxed();
    if let Some(owner) = of.owner {
        query = query.filter(plate::person_id.eq(owner));
    }
    Ok(query.first(db)?)
}

/// Whether something was added so lately that who added it may take it back.
#[must_use]
pub fn is_fresh(added: Instant, now: Instant) -> bool {
    now.millis() - added.millis() <= TAKE_BACK_MS
}
