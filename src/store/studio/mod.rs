//! The studio: rooms, hours, stations, and the containers on the shelf. A studio is shared by the classes that meet in
//! it, so its acts stand in the journal of the school.

pub mod brought_back;
pub mod called_off;
pub mod containers;
pub mod downs;
pub mod hours;
pub mod papers;
pub mod rooms;
pub mod sheets;
pub mod stations;
pub mod tablets;
pub mod weighings;

pub use containers::{Container, Substance, container, containers};
pub use hours::{Closure, ExtraOpening, OpenHours, Opening, open_hours};
pub use rooms::{Room, room, rooms};
pub use stations::{Station, stations};

use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Most rows of one kind that a studio may hold: far above any real one, so that a runaway form cannot fill the page.
pub(crate) const MOST_ROWS: i64 = 500;

pub(crate) fn stale() -> Trouble {
    Trouble::Stale(Remark::new("form-stale"))
}

pub(crate) fn not_full(rows: i64) -> Result<(), Trouble> {
    if rows < MOST_ROWS {
        Ok(())
    } else {
        Err(Trouble::Refused(Remark::new("studio-full").with("most", MOST_ROWS)))
    }
}
