//! The figures, one subject a file.

pub mod etch;
pub mod export;
pub mod pages;
pub mod photo;
pub mod planning;
pub mod records;
pub mod reminders;
pub mod roster;
pub mod sign_in;
