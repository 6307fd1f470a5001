//! The shelf photos lie on: three files under one photo id, put together, never shared between
//! photos. Files come before the database row and go after it, so every row finds its files.
//!
//! The trait is synchronous and whole-file: a photo has at most 25 MB, so a bucket elsewhere serves it with one
//! PUT, GET, DELETE or list request each.

use std::fmt;
use std::path::PathBuf;
use std::str::FromStr;

use super::picture::Prepared;

mod folder;

pub use folder::FolderShelf;

/// The id of a photo as it names its files: UUID text, 36 characters, lower case. No other text becomes a key, so
/// no key leads out of the shelf.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PhotoKey(uuid::Uuid);

impl FromStr for PhotoKey {
    type Err = ShelfFault;

    fn from_str(text: &str) -> Result<Self, ShelfFault> {
        let key = uuid::Uuid::try_parse(text).map(Self).or(Err(ShelfFault::NoKey))?;
        // The parser also takes braces, capitals and missing hyphens; one photo has one spelling.
        if key.to_string() == text { Ok(key) } else { Err(ShelfFault::NoKey) }
    }
}

impl fmt::Display for PhotoKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.hyphenated().fmt(f)
    }
}

impl fmt::Debug for PhotoKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

/// One of the three files of a photo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Size {
    Full,
    Large1600,
    Small320,
}

impl Size {
    pub const ALL: [Self; 3] = [Self::Full, Self::Large1600, Self::Small320];

    /// The file's name within the photo's folder.
    #[must_use]
    pub fn file_name(self) -> &'static str {
        match self {
            Self::Full => "full.jpg",
            Self::Large1600 => "1600.jpg",
            Self::Small320 => "320.jpg",
        }
    }

    /// How it is written in an address.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Full => "full",
            Self::Large1600 => "1600",
            Self::Small320 => "320",
        }
    }

    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|size| size.word() == word)
    }

    /// Pixels across and down that this file has, of a picture of so many.
    #[must_use]
    pub fn within(self, width: u32, height: u32) -> (u32, u32) {
        match self {
            Self::Full => (width, height),
            Self::Large1600 => tympan_raster::shrink::within(width, height, 1600),
            // It is made from the one before, and so is its size.
            Self::Small320 => {
                let (width, height) = Self::Large1600.within(width, height);
                tympan_raster::shrink::within(width, height, 320)
            }
        }
    }

    fn of(self, prepared: &Prepared) -> &[u8] {
        match self {
            Self::Full => &prepared.full,
            Self::Large1600 => &prepared.large_1600,
            Self::Small320 => &prepared.small_320,
        }
    }
}

/// What a shelf cannot do. Only logs and the error page see it; no path or key reaches a person.
#[derive(Debug)]
pub enum ShelfFault {
    /// The text is not the id of a photo.
    NoKey,
    /// There is no such photo, or not this size of it.
    NotThere,
    /// The disk or the bucket refused: what was tried, where, and why.
    Storage { tried: &'static str, place: PathBuf, cause: std::io::Error },
}

impl fmt::Display for ShelfFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoKey => f.write_str("the text is not the id of a photo"),
            Self::NotThere => f.write_str("the shelf has no such photo"),
            Self::Storage { tried, place, .. } => {
                write!(f, "the shelf could not {tried} {}", place.display())
            }
        }
    }
}

impl std::error::Error for ShelfFault {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Storage { cause, .. } => Some(cause),
            Self::NoKey | Self::NotThere => None,
        }
    }
}

/// Where photos are kept. All calls block; use them in blocking tasks.
pub trait Shelf: fmt::Debug + Send + Sync {
    /// Puts all three files and returns when they would survive a power cut. What lay there is replaced; there is
    /// no "skip if there", which a sweep running at the same time could turn into a loss.
    ///
    /// # Errors
    /// The storage refuses; then none or some of the files may lie there, and no row may name them.
    fn put(&self, key: PhotoKey, prepared: &Prepared) -> Result<(), ShelfFault>;

    /// One file, whole.
    ///
    /// # Errors
    /// `NotThere`, or the storage refuses.
    fn get(&self, key: PhotoKey, size: Size) -> Result<Vec<u8>, ShelfFault>;

    /// Whether a file is there, without reading it.
    ///
    /// # Errors
    /// The storage refuses.
    fn holds(&self, key: PhotoKey, size: Size) -> Result<bool, ShelfFault>;

    /// Removes all files of the photo. A photo that is not there is removed already.
    ///
    /// # Errors
    /// The storage refuses.
    fn delete(&self, key: PhotoKey) -> Result<(), ShelfFault>;

    /// Every photo last put before `before_ms` (milliseconds since 1970, UTC), in order of their keys: what the
    /// sweep asks about.
    ///
    /// # Errors
    /// The storage refuses.
    fn older_than(&self, before_ms: i64) -> Result<Vec<PhotoKey>, ShelfFault>;
}
