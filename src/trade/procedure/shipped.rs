//! The procedures the program brings along. They are only a beginning: a class copies one and edits it.
//!
//! Figures come from the studio handouts named in each step's `source`; where none is named it is common
//! practice, no published source.

use super::Procedure;
use crate::trade::remark::Remark;

/// Name of the file and its text, for each shipped procedure.
pub const FILES: [(&str, &str); 2] = [
    ("aluminium-plate", include_str!("../../../seed/procedures/aluminium-plate.json")),
    ("stone", include_str!("../../../seed/procedures/stone.json")),
];

/// Keys of the sign-off topics the shipped procedures ask for.
pub const TOPICS: [&str; 6] = ["studio-basics", "acid-and-gum", "solvents", "press", "nitric", "graining"];

/// The shipped procedures.
///
/// # Errors
/// A file is not the JSON of a procedure; a test keeps that from being released.
pub fn procedures() -> Result<Vec<Procedure>, Remark> {
    FILES.iter().map(|(_, text)| Procedure::from_json(text)).collect()
}
