//! The figures, one subject a file.

pub mod pages;
pub mod planning;
pub mod records;
pub mod reminders;
pub mod roster;
pub mod sign_in;
