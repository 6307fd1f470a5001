//! The archive of classes: one zip file that a department keeps. It holds the tables, the working of every grade, the
//! procedures, every picture, the journal, and the rows themselves, from which an empty Tympan can be filled again.
//!
//! It follows from the record and a moment alone, and its text is kept: the same moment gives the same bytes, whatever is
//! changed later. Of a moment of which nothing was kept there is one only while nothing was changed since.

mod chains;
pub mod checking;
pub mod contents;
mod lines;
mod manifest;
mod once_more;
mod packing;
pub mod reading_back;
pub mod writing;

use serde::{Deserialize, Serialize};

pub use chains::Chains;
pub use manifest::Manifest;

/// What this format is called, in `archive.json`.
pub const FORMAT: &str = "tympan-archive";
/// Goes up when a reader of before could not read it.
pub const VERSION: u32 = 1;

pub const ABOUT: &str = "archive.json";
pub const HEADS: &str = "journal-heads.json";
pub const MANIFEST: &str = "manifest-sha256.txt";
pub const README: &str = "README.txt";
/// Where pictures and papers lie: they are not packed, and no archive keeps them twice.
pub const IMAGES: &str = "images/";
pub const PAPERS: &str = "data-sheets/";

/// `archive.json`: what the archive is of.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct About {
    pub format: String,
    pub version: u32,
    pub made_by: String,
    /// The last step of the schema the rows are from.
    pub schema: String,
    /// RFC 3339; what happened then or later is not in it.
    pub as_of: String,
    pub school: String,
    pub term: String,
    pub classes: Vec<AboutClass>,
    /// Pictures that the record names and the shelf did not have.
    pub missing: Vec<String>,
}

/// One class of an archive.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct AboutClass {
    pub id: String,
    pub code: String,
    pub title: String,
}

/// One line of `journal-heads.json`: where a chain ends. Kept elsewhere it shows that a tail was cut.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Head {
    pub scope: String,
    pub seq: i64,
    pub hash: String,
}
