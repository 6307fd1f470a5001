//! Procedures as people read and write them: the list of a class, the handout, and the draft an instructor edits step by
//! step. What the trade says of them is in `trade::procedure`; nothing here knows the name of a step.

pub mod list;
pub mod pictures;
pub mod reading;
pub mod said;
pub mod step;
pub mod typed;
pub mod writing;

use serde::Serialize;

use crate::ids::{ClassId, ProcedureId};
use crate::pages::entry::InClass;
use crate::secrets::sha256_hex;

/// The address of a class's list.
fn list_path(ask: &InClass) -> String {
    format!("/classes/{}/settings/procedures", ask.class())
}

/// The address of the page a procedure is edited on.
fn writing_path(class: ClassId, id: ProcedureId) -> String {
    format!("/classes/{class}/settings/procedures/{id}")
}

/// The address of the handout.
pub(in crate::pages) fn reading_path(class: ClassId, id: ProcedureId) -> String {
    format!("/classes/{class}/procedures/{id}")
}

/// Stands for what a part of a draft holds: a form sends it back, and another one means that somebody saved meanwhile.
fn mark_of(part: &impl Serialize) -> String {
    sha256_hex(serde_json::to_string(part).unwrap_or_default().as_bytes())
}
