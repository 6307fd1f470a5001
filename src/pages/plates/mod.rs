//! Prints and plates: beginning them, and what is done on a plate. The pages that show them are in `overview`.

pub mod acts;
pub mod begin;
pub mod forms;
pub mod start;

use crate::ids::PlateId;
use crate::pages::entry::InClass;
use crate::store::plates::runs::At;

/// Where this person stands before a plate.
#[must_use]
pub fn at(ask: &InClass, plate: PlateId) -> At {
    At {
        class: ask.class(),
        studio: ask.membership.studio,
        zone: ask.membership.zone,
        plate,
        owner: ask.owner(),
        instructor: ask.is_instructor(),
    }
}

/// The address of a plate's page.
#[must_use]
pub fn path(ask: &InClass, plate: PlateId) -> String {
    format!("/classes/{}/plates/{plate}", ask.class())
}
