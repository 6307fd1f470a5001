//! An archive once more: what was kept of it is every file but its pictures and papers, and its manifest, which says what
//! these have to be. The same bytes come of it, or it is said why not.

use std::fs::File;
use std::io::{BufReader, BufWriter, Seek, Write};

use zip::CompressionMethod;
use zip::read::ZipArchive;
use zip::write::ZipWriter;

use super::checking::{LIMITS, whole};
use super::packing::{Packer, unpacked, unwritten};
use super::writing::Source;
use super::{IMAGES, MANIFEST, Manifest, PAPERS};
use crate::exchange::parcel::Parcel;
use crate::exchange::spool::{Nameless, Spooled};
use crate::ids::KeptArchiveId;
use crate::photos::shelf::{PhotoKey, Size};
use crate::store::AnyConnection;
use crate::store::copying::kept;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Takes from an archive what is to be kept of it. The archive is at its beginning again.
pub(super) fn to_keep(archive: &mut File, text: File) -> Result<File, Trouble> {
    let mut zip = ZipArchive::new(BufReader::new(&mut *archive)).map_err(unpacked)?;
    let mut out = ZipWriter::new(BufWriter::new(text));
    for place in 0..zip.len() {
        let file = zip.by_index_raw(place).map_err(unpacked)?;
        if !lies_elsewhere(&file.name().map_err(unpacked)?) {
            out.raw_copy_file(file).map_err(unpacked)?;
        }
    }
    let buffer = out.finish().map_err(unpacked)?;
    let mut text = buffer.into_inner().map_err(|error| unwritten(error.into_error()))?;
    text.rewind().map_err(unwritten)?;
    archive.rewind().map_err(unwritten)?;
    Ok(text)
}

fn lies_elsewhere(name: &str) -> bool {
    name.starts_with(IMAGES) || name.starts_with(PAPERS)
}

/// Writes an archive from what was kept of it.
///
/// # Errors
/// `Refused` where a picture or a paper is gone or is another; or something cannot be read.
pub(super) fn write(
    db: &mut AnyConnection,
    source: Source<'_>,
    id: KeptArchiveId,
    nameless: &Nameless,
) -> Result<Spooled, Trouble> {
    let mut text = BufWriter::new(nameless.file()?);
    kept::text(db, id, &mut text)?;
    let text = text.into_inner().map_err(|error| unwritten(error.into_error()))?;
    let mut parcel = Parcel::open(text, LIMITS).map_err(Trouble::Refused)?;
    let manifest =
        whole(&mut parcel, MANIFEST).and_then(|text| Manifest::parse(&text)).map_err(Trouble::Refused)?;
    let mut packer = Packer::new(nameless.file()?);
    for (name, digest) in &manifest.0 {
        if lies_elsewhere(name) {
            let gone = || Trouble::Refused(Remark::new("archive-picture-gone").with("name", name.as_str()));
            let bytes = fetched(source, name)?.ok_or_else(gone)?;
            packer
                .add(name, CompressionMethod::Stored, &mut |out| out.write_all(&bytes).map_err(unwritten))?;
            if packer.digest(name) != Some(digest) {
                return Err(gone());
            }
        } else {
            packer.add(name, CompressionMethod::Deflated, &mut |out| {
                let mut failed = None;
                let read = parcel.unpack(name, &mut |piece| {
                    out.write_all(piece).map_err(|error| {
                        failed = Some(error);
                        Remark::new("archive-unreadable").with("name", name.as_str())
                    })
                });
                match failed {
                    Some(error) => Err(unwritten(error)),
                    None => read.map_err(Trouble::Refused),
                }
            })?;
        }
    }
    packer.close()
}

/// The bytes of a picture or a paper, if it is still there.
fn fetched(source: Source<'_>, name: &str) -> Result<Option<Vec<u8>>, Trouble> {
    if let Some(sha256) = name.strip_prefix(PAPERS).and_then(|rest| rest.strip_suffix(".pdf")) {
        return match source.papers.fetch(sha256) {
            Err(Trouble::NotFound) => Ok(None),
            other => other.map(Some),
        };
    }
    let broken =
        |fault: &dyn std::fmt::Display| Trouble::broken("taking a picture from the shelf", fault.to_string());
    let Some((id, file)) = name.strip_prefix(IMAGES).and_then(|rest| rest.split_once('/')) else {
        return Ok(None);
    };
    let Some(size) = Size::ALL.into_iter().find(|size| size.file_name() == file) else { return Ok(None) };
    let key: PhotoKey = id.parse().map_err(|error| broken(&error))?;
    if source.shelf.holds(key, size).map_err(|fault| broken(&fault))? {
        source.shelf.get(key, size).map(Some).map_err(|fault| broken(&fault))
    } else {
        Ok(None)
    }
}
