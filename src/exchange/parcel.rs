//! Zip files that come from outside: nothing in one is believed. Names, sizes and the directory are looked at before
//! anything is unpacked, and unpacking stops where a file is longer than it said.

use std::collections::BTreeSet;
use std::io::{Read, Seek, SeekFrom};

use zip::read::ZipArchive;
use zip::result::ZipError;

use crate::trade::remark::Remark;

/// The most files a parcel may hold.
const MOST_FILES: usize = 250_000;
/// A file of text is packed to a hundredth at the best; what claims more than this is a bomb.
const MOST_TIMES: u64 = 300;
/// So small a file may be packed as tightly as it likes.
const SMALL: u64 = 1 << 20;
/// A name longer than this is none.
const LONGEST_NAME: usize = 240;
/// The signature of an entry of the directory (APPNOTE 4.3.12).
const ENTRY: [u8; 4] = *b"PK\x01\x02";

/// How much may come out of a parcel.
#[derive(Debug, Clone, Copy)]
pub struct Limits {
    /// Of one file.
    pub file: u64,
    /// Of all files together.
    pub all: u64,
}

/// One file of a parcel, as its directory has it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Enclosed {
    pub name: String,
    pub bytes: u64,
    packed: u64,
    place: usize,
}

/// A zip file whose directory has been looked over.
#[derive(Debug)]
pub struct Parcel<R> {
    zip: ZipArchive<R>,
    files: Vec<Enclosed>,
    limits: Limits,
}

impl<R: Read + Seek> Parcel<R> {
    /// Opens a parcel and looks over its directory.
    ///
    /// # Errors
    /// It is no zip file, or its directory lies or leads elsewhere; the remark names the file.
    pub fn open(mut from: R, limits: Limits) -> Result<Self, Remark> {
        let length = from.seek(SeekFrom::End(0)).map_err(|error| no_zip(&error))?;
        let listed = names(&mut from)?;
        let mut seen = BTreeSet::new();
        for name in &listed {
            check_name(name)?;
            if !seen.insert(name.to_lowercase()) {
                return Err(about("parcel-twice", name));
            }
        }
        let mut zip = ZipArchive::new(from).map_err(|error| no_zip(&error))?;
        if zip.len() > MOST_FILES {
            let count = i64::try_from(zip.len()).unwrap_or(i64::MAX);
            return Err(Remark::new("parcel-many").with("count", count));
        }
        if zip.len() != listed.len() {
            return Err(Remark::new("parcel-directory"));
        }
        let mut files = Vec::with_capacity(zip.len());
        for place in 0..zip.len() {
            let file = zip.by_index_raw(place).map_err(|error| no_zip(&error))?;
            let name = String::from_utf8(file.name_raw().to_vec())
                .map_err(|_error| Remark::new("parcel-name-text"))?;
            if file.encrypted() {
                return Err(about("parcel-locked", &name));
            }
            if file.is_symlink() {
                return Err(about("parcel-link", &name));
            }
            files.push(Enclosed { bytes: file.size(), packed: file.compressed_size(), name, place });
        }
        check_sizes(&files, length, limits)?;
        Ok(Self { zip, files, limits })
    }

    /// The files, in the order of the directory; folders are left out.
    pub fn files(&self) -> impl Iterator<Item = &Enclosed> {
        self.files.iter().filter(|file| !file.name.ends_with('/'))
    }

    /// Whether a file of this name is there.
    #[must_use]
    pub fn has(&self, name: &str) -> bool {
        self.files().any(|file| file.name == name)
    }

    /// Unpacks a file piece by piece. CRC and length are compared at its end.
    ///
    /// # Errors
    /// There is no such file, it is longer or shorter than it said, it is damaged, or the taker fails.
    pub fn unpack(
        &mut self,
        name: &str,
        take: &mut dyn FnMut(&[u8]) -> Result<(), Remark>,
    ) -> Result<(), Remark> {
        let known = self.files.iter().find(|file| file.name == name);
        let Some(known) = known.cloned() else { return Err(about("parcel-missing", name)) };
        let damaged = |error: std::io::Error| {
            tracing::info!(%error, name, "unpacking");
            about("parcel-damaged", name)
        };
        let file = self.zip.by_index(known.place).map_err(|error| match error {
            ZipError::UnsupportedArchive(_) | ZipError::CompressionMethodNotSupported(_) => {
                about("parcel-packed-otherwise", name)
            }
            error => damaged(std::io::Error::other(error)),
        })?;
        let most = known.bytes.min(self.limits.file);
        // One byte more than it said is enough to know that it lied.
        let mut file = file.take(most.saturating_add(1));
        let mut piece = vec![0; 64 * 1024];
        let mut read: u64 = 0;
        loop {
            let count = file.read(&mut piece).map_err(damaged)?;
            if count == 0 {
                break;
            }
            read += u64::try_from(count).unwrap_or(0);
            if read > most {
                return Err(about("parcel-longer", name));
            }
            take(piece.get(..count).unwrap_or_default())?;
        }
        if read == known.bytes { Ok(()) } else { Err(about("parcel-shorter", name)) }
    }

    /// A file, whole.
    ///
    /// # Errors
    /// As `unpack`.
    pub fn read(&mut self, name: &str) -> Result<Vec<u8>, Remark> {
        let mut bytes = Vec::new();
        self.unpack(name, &mut |piece| {
            bytes.extend_from_slice(piece);
            Ok(())
        })?;
        Ok(bytes)
    }

    /// A file of text, whole.
    ///
    /// # Errors
    /// As `unpack`; or it is not UTF-8.
    pub fn text(&mut self, name: &str) -> Result<String, Remark> {
        String::from_utf8(self.read(name)?).map_err(|_error| about("parcel-not-text", name))
    }
}

fn no_zip(error: &dyn std::fmt::Display) -> Remark {
    tracing::info!(%error, "opening a zip file");
    Remark::new("parcel-no-zip")
}

fn about(key: &'static str, name: &str) -> Remark {
    let short: String = name.chars().filter(|c| !c.is_control()).take(80).collect();
    Remark::new(key).with("name", short)
}

/// A name that stays inside the parcel: parts of a path with single strokes between them.
fn check_name(name: &str) -> Result<(), Remark> {
    let path = name.strip_suffix('/').unwrap_or(name);
    let drive = path.as_bytes().get(1) == Some(&b':');
    if path.starts_with('/') || path.starts_with('\\') || drive {
        return Err(about("parcel-absolute", name));
    }
    if path.split(['/', '\\']).any(|part| part == "..") {
        return Err(about("parcel-outside", name));
    }
    let strange = path.split('/').any(|part| part.is_empty() || part == ".")
        || path.contains('\\')
        || path.chars().any(char::is_control);
    if strange || name.len() > LONGEST_NAME {
        return Err(about("parcel-name", name));
    }
    Ok(())
}

fn check_sizes(files: &[Enclosed], length: u64, limits: Limits) -> Result<(), Remark> {
    let (mut all, mut packed) = (0_u64, 0_u64);
    for file in files {
        if file.bytes > limits.file {
            return Err(about("parcel-large", &file.name));
        }
        if file.bytes > SMALL && file.bytes / MOST_TIMES > file.packed {
            return Err(about("parcel-bomb", &file.name));
        }
        all = all.saturating_add(file.bytes);
        packed = packed.saturating_add(file.packed);
    }
    if all > limits.all {
        return Err(Remark::new("parcel-all-large"));
    }
    // Files that share their bytes are another way to be more than one is.
    if packed > length { Err(Remark::new("parcel-shared")) } else { Ok(()) }
}

/// The names of the directory as they stand, twice where a name stands twice: whoever reads it by name cannot tell.
fn names<R: Read + Seek>(from: &mut R) -> Result<Vec<String>, Remark> {
    let bytes = directory(from).map_err(|error| no_zip(&error))?;
    bytes
        .into_iter()
        .map(|name| String::from_utf8(name).map_err(|_error| Remark::new("parcel-name-text")))
        .collect()
}

fn directory<R: Read + Seek>(from: &mut R) -> std::io::Result<Vec<Vec<u8>>> {
    let length = from.seek(SeekFrom::End(0))?;
    from.rewind()?;
    // It is read by the library once, to be told where the directory lies.
    let start = ZipArchive::new(&mut *from).map_err(std::io::Error::other)?.central_directory_start();
    from.seek(SeekFrom::Start(start))?;
    let mut names = Vec::new();
    let mut at = start;
    while at + 46 <= length {
        let mut head = [0; 46];
        from.read_exact(&mut head)?;
        if !head.starts_with(&ENTRY) {
            break;
        }
        let part = |place: usize| {
            let two = head.get(place..place + 2).and_then(|two| <[u8; 2]>::try_from(two).ok());
            u64::from(two.map_or(0, u16::from_le_bytes))
        };
        let (name, more) = (part(28), part(30) + part(32));
        let mut bytes = vec![0; usize::try_from(name).unwrap_or(0)];
        from.read_exact(&mut bytes)?;
        names.push(bytes);
        at += 46 + name + more;
        from.seek(SeekFrom::Start(at))?;
        if names.len() > MOST_FILES {
            break;
        }
    }
    from.rewind()?;
    Ok(names)
}
