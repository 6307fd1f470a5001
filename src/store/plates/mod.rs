//! Prints and their plates: procedures in versions, what was done on a plate, and everything a judgement of it needs.

pub mod agenda;
pub mod class_plan;
pub mod drafts;
pub mod folder;
mod gum_limit;
mod happened;
pub mod pictures;
pub mod plans;
pub mod premises;
pub mod prints;
pub mod procedures;
pub mod put_downs;
mod row;
pub mod runs;
pub mod settling;
pub mod taken_back;
