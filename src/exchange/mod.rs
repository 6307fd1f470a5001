//! Formats that come in from elsewhere and go out again. Pure over bytes and plain structs: who calls brings what is known
//! and carries out what comes back. `tables` alone asks the database, because its rows are too many to be brought.

pub mod archive;
pub mod calendar;
pub mod oneroster;
pub mod parcel;
pub mod roster;
pub mod roster_plan;
pub mod spool;
pub mod spreadsheet;
pub mod tables;
pub mod working;
