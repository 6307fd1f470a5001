//! Pages of terms and classes: the school for its keeper, and the settings of a class for its instructor.

pub mod about;
pub mod accommodations;
pub mod briefs;
pub mod carrying;
pub mod dues;
pub mod duties;
pub mod instructors;
pub mod listings;
pub mod making;
pub mod meetings;
pub mod outside;
pub mod projects;
pub mod rolls;
pub mod school;
pub mod settings;
pub mod starting;
pub mod studio;
pub mod terms;

use crate::pages::entry::InClass;

/// The address of the settings of the class at hand, with a part of them.
fn settings_path(ask: &InClass, part: &str) -> String {
    format!("/classes/{}/settings{part}", ask.class())
}

/// `Ada Lund`.
fn full_name(given: &str, family: &str) -> String {
    format!("{given} {family}")
}
