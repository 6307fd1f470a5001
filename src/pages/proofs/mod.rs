//! Proofs: adding a photo, the photos themselves, all proofs of a plate, two side by side, and comments. The plate's own
//! page shows `section`.

pub mod adding;
pub mod cleaning;
pub mod comments;
pub mod compare;
pub mod keeping;
pub mod list;
pub mod photo;
pub mod section;
pub mod shown;

use crate::ids::{ClassId, PhotoId, PlateId};
use crate::pages::entry::{InClass, Seat};
use crate::photos::shelf::PhotoKey;
use crate::store::proofs::OfPlate;
use crate::trouble::Trouble;

/// A plate as this person comes to it.
fn of(ask: &InClass, plate: PlateId) -> OfPlate {
    OfPlate { class: ask.class(), plate, owner: ask.owner() }
}

/// Whether critique notes are for this person: the comments about proofs.
fn reads_critique(ask: &InClass) -> bool {
    ask.seat() != Seat::Assistant
}

/// The address of a plate's proofs.
fn path(class: ClassId, plate: PlateId) -> String {
    format!("/classes/{class}/plates/{plate}/proofs")
}

/// The key of a photo on the shelf.
pub(in crate::pages) fn key(photo: PhotoId) -> Result<PhotoKey, Trouble> {
    photo.as_str().parse().map_err(|fault| Trouble::broken("naming a photo", fault))
}
