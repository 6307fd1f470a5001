//! Checking an archive without trusting it: its directory, its manifest against every file, and the chains of its journal.

use std::io::{Read, Seek};

use sha2::{Digest, Sha256};

use super::chains::{self, Chains};
use super::{ABOUT, About, FORMAT, HEADS, Head, MANIFEST, Manifest, VERSION};
use crate::exchange::parcel::{Limits, Parcel};
use crate::secrets::hex;
use crate::trade::remark::Remark;

/// How much may come out of an archive: a term of large classes is well below.
pub const LIMITS: Limits = Limits { file: 8 << 30, all: 512 << 30 };
/// The most a file may have that is read whole.
const WHOLE: u64 = 1 << 30;

/// An archive that holds what it says.
#[derive(Debug, Clone)]
pub struct Checked {
    pub about: About,
    pub heads: Vec<Head>,
    pub chains: Chains,
    pub files: usize,
}

/// Checks an archive from beginning to end. Every file is read.
///
/// # Errors
/// Everything that is wrong, or the first thing that makes looking further pointless.
pub fn check<R: Read + Seek>(parcel: &mut Parcel<R>) -> Result<Checked, Vec<Remark>> {
    let about = about(parcel).map_err(|remark| vec![remark])?;
    let manifest =
        whole(parcel, MANIFEST).and_then(|text| Manifest::parse(&text)).map_err(|remark| vec![remark])?;
    let heads: Vec<Head> = whole(parcel, HEADS)
        .and_then(|text| serde_json::from_str(&text).map_err(|error| unreadable(HEADS, 1, &error)))
        .map_err(|remark| vec![remark])?;
    let names: Vec<String> =
        parcel.files().map(|file| file.name.clone()).filter(|name| name != MANIFEST).collect();
    let mut wrong = Vec::new();
    for name in manifest.0.keys().filter(|name| !names.contains(name)) {
        wrong.push(Remark::new("archive-file-missing").with("name", name.as_str()));
    }
    for name in &names {
        match manifest.0.get(name) {
            None => wrong.push(Remark::new("archive-file-extra").with("name", name.as_str())),
            Some(told) => match digest(parcel, name) {
                Ok(found) if found == *told => {}
                Ok(_) => wrong.push(Remark::new("archive-file-differs").with("name", name.as_str())),
                Err(remark) => wrong.push(remark),
            },
        }
    }
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let chains = chains::walk(parcel, &about, &heads)?;
    Ok(Checked { about, heads, chains, files: names.len() })
}

fn digest<R: Read + Seek>(parcel: &mut Parcel<R>, name: &str) -> Result<String, Remark> {
    let mut digest = Sha256::new();
    parcel.unpack(name, &mut |piece| {
        digest.update(piece);
        Ok(())
    })?;
    Ok(hex(&digest.finalize()))
}

fn about<R: Read + Seek>(parcel: &mut Parcel<R>) -> Result<About, Remark> {
    if !parcel.has(ABOUT) {
        return Err(Remark::new("archive-no-archive"));
    }
    let text = whole(parcel, ABOUT)?;
    let about: About = serde_json::from_str(&text).map_err(|error| unreadable(ABOUT, 1, &error))?;
    if about.format != FORMAT {
        return Err(Remark::new("archive-no-archive"));
    }
    if about.version > VERSION {
        return Err(Remark::new("archive-newer").with("made_by", about.made_by.as_str()));
    }
    Ok(about)
}

/// A file of text small enough to be read whole.
pub(super) fn whole<R: Read + Seek>(parcel: &mut Parcel<R>, name: &str) -> Result<String, Remark> {
    if parcel.files().any(|file| file.name == name && file.bytes > WHOLE) {
        return Err(Remark::new("parcel-large").with("name", name));
    }
    parcel.text(name)
}

/// JSON that cannot be read: in which line, where what was read began in line `from`.
pub(super) fn unreadable(name: &str, from: i64, error: &serde_json::Error) -> Remark {
    tracing::info!(%error, name, "reading a file of an archive");
    let line = from + i64::try_from(error.line()).unwrap_or(1).max(1) - 1;
    let key = match error.classify() {
        serde_json::error::Category::Data => "archive-other-json",
        serde_json::error::Category::Eof => "archive-ends",
        serde_json::error::Category::Syntax | serde_json::error::Category::Io => "archive-no-json",
    };
    Remark::new(key).with("name", name).with("line", line)
}

/// The heads of a file that is kept elsewhere: an archive, or `journal-heads.json` by itself.
///
/// # Errors
/// It is neither.
pub fn heads_of<R: Read + Seek>(mut from: R) -> Result<Vec<Head>, Remark> {
    let mut begins = [0; 2];
    let unread = |error: std::io::Error| {
        tracing::info!(%error, "reading heads kept elsewhere");
        Remark::new("archive-unreadable").with("name", HEADS)
    };
    let count = from.read(&mut begins).map_err(unread)?;
    from.rewind().map_err(unread)?;
    let text = if begins.get(..count) == Some(b"PK") {
        whole(&mut Parcel::open(from, LIMITS)?, HEADS)?
    } else {
        let mut text = String::new();
        from.take(WHOLE).read_to_string(&mut text).map_err(unread)?;
        text
    };
    serde_json::from_str(&text).map_err(|error| unreadable(HEADS, 1, &error))
}
