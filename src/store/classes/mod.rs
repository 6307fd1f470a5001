//! Terms and classes: making them, their listings, meetings, projects and due dates, and starting a class from an
//! earlier one.

pub mod accommodations;
pub mod carrying;
pub mod dues;
pub mod duties;
pub mod etch_table;
pub mod facts;
pub mod listings;
pub mod making;
pub mod meetings;
pub mod outside;
pub mod projects;
pub mod rolls;
pub mod terms;

pub use dues::{Due, Dues, due_of, dues_of_class};
pub use facts::{Class, class};
pub use listings::{Basis, Listing, ListingDraft, listings};
pub use meetings::{Meeting, MeetingKind, meetings};
pub use projects::{Project, project, projects};
pub use terms::{Term, term, terms};

use chrono::NaiveDateTime;

use crate::trade::civil;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

pub(crate) fn stale() -> Trouble {
    Trouble::Stale(Remark::new("form-stale"))
}

/// A due date as the record keeps it: `2026-11-24T16:30`, wall time in the term's zone.
#[must_use]
pub fn due_text(local: NaiveDateTime) -> String {
    local.format("%Y-%m-%dT%H:%M").to_string()
}

/// Reads a due date of the record.
///
/// # Errors
/// The record holds something else.
pub fn due_read(text: &str) -> Result<NaiveDateTime, Trouble> {
    civil::local("due", text).map_err(|_remark| Trouble::broken("reading a due date", text))
}
