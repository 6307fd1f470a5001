//! Pages of the studio: the room and its hours, stations, and the containers on the shelf.

pub mod bring_back;
pub mod containers;
pub mod downs;
pub mod hours;
pub mod rooms;
pub mod stations;
pub mod tablets;

use crate::pages::entry::InClass;

/// The address of the studio of the class at hand, with a part of it.
fn studio_path(ask: &InClass, part: &str) -> String {
    format!("/classes/{}/studio{part}", ask.class())
}
