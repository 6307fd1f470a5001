//! Formats that come in from elsewhere and go out again. Pure over bytes and plain structs: nothing here asks the
//! database; who calls brings what is known and carries out what comes back.

pub mod roster;
pub mod roster_plan;
pub mod spreadsheet;
