//! Etch logs as people see them: the form at the table, the log with its strength, the list on a plate's page, and the
//! whole class's logs for whoever looks for a bad batch.

pub mod amend;
pub mod class;
pub mod form;
pub mod log;
pub mod picture;
pub mod record;
pub mod section;
pub mod shown;

use crate::ids::{EtchId, PlateId};
use crate::pages::entry::InClass;
use crate::pages::plates;

/// The address of a log.
#[must_use]
pub fn path(ask: &InClass, plate: PlateId, etch: EtchId) -> String {
    format!("{}/etches/{etch}", plates::path(ask, plate))
}
