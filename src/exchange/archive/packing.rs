//! Packing files into one zip file, in the order of their names, each hashed while it is written. The same files give the same
//! bytes: every entry has the same moment, mode and sort.

use std::fs::File;
use std::io::{BufWriter, Seek, Write};

use sha2::{Digest, Sha256};
use zip::write::{SimpleFileOptions, ZipWriter};
use zip::{CompressionMethod, DateTime};

use super::contents::Content;
use super::writing::Source;
use super::{MANIFEST, Manifest};
use crate::exchange::spool::Spooled;
use crate::exchange::tables;
use crate::secrets::{hex, sha256_hex};
use crate::store::AnyConnection;
use crate::store::copying::{self, Part};
use crate::store::exports;
use crate::trouble::Trouble;

/// Bytes of a part that is packed at a time.
const EVEN: usize = 64 * 1024;

pub(super) struct Packer {
    zip: ZipWriter<BufWriter<File>>,
    manifest: Manifest,
}

pub(super) type Fill<'a> = &'a mut dyn FnMut(&mut Hashed<'_>) -> Result<(), Trouble>;

impl Packer {
    pub(super) fn new(file: File) -> Self {
        Self {
            zip: ZipWriter::new(BufWriter::with_capacity(256 * 1024, file)),
            manifest: Manifest::default(),
        }
    }

    /// The SHA-256 of a file that was packed.
    pub(super) fn digest(&self, name: &str) -> Option<&String> {
        self.manifest.0.get(name)
    }

    /// Ends the file with its manifest, whose digest is that of the whole.
    pub(super) fn close(mut self) -> Result<Spooled, Trouble> {
        let manifest = self.manifest.text();
        self.add(MANIFEST, CompressionMethod::Deflated, &mut |out| {
            out.write_all(manifest.as_bytes()).map_err(unwritten)
        })?;
        let buffer = self.zip.finish().map_err(unpacked)?;
        let mut file = buffer.into_inner().map_err(|error| unwritten(error.into_error()))?;
        let bytes = file.stream_position().map_err(unwritten)?;
        file.rewind().map_err(unwritten)?;
        Ok(Spooled { file, bytes, sha256: sha256_hex(manifest.as_bytes()) })
    }

    pub(super) fn put(
        &mut self,
        db: &mut AnyConnection,
        source: Source<'_>,
        part: &Part,
        name: &str,
        content: &Content,
    ) -> Result<(), Trouble> {
        let text = CompressionMethod::Deflated;
        match content {
            Content::Text(words) => {
                self.add(name, text, &mut |out| out.write_all(words.as_bytes()).map_err(unwritten))
            }
            Content::Csv(class, table, submitted_alone) => {
                let mut of = exports::of(db, *class, part.as_of)?;
                of.submitted_alone = *submitted_alone;
                of.last_act = part.last_acts.iter().find(|(known, _)| known == class).map(|(_, last)| *last);
                self.add(name, text, &mut |out| tables::write(db, *table, &of, source.speech, out).map(drop))
            }
            Content::Rows(table) => self.add(name, text, &mut |out| rows(db, part, table, out)),
            Content::Picture(key, size) => {
                let bytes = source
                    .shelf
                    .get(*key, *size)
                    .map_err(|fault| Trouble::broken("taking a picture from the shelf", fault))?;
                self.add(name, CompressionMethod::Stored, &mut |out| out.write_all(&bytes).map_err(unwritten))
            }
            Content::Paper(sha256) => {
                let bytes = source.papers.fetch(sha256)?;
                self.add(name, CompressionMethod::Stored, &mut |out| out.write_all(&bytes).map_err(unwritten))
            }
        }
    }

    pub(super) fn add(
        &mut self,
        name: &str,
        method: CompressionMethod,
        fill: Fill<'_>,
    ) -> Result<(), Trouble> {
        let options = SimpleFileOptions::default()
            .compression_method(method)
            .last_modified_time(DateTime::default())
            .unix_permissions(0o644)
            .large_file(true);
        self.zip.start_file(name, options).map_err(unpacked)?;
        let mut out = Hashed { zip: &mut self.zip, digest: Sha256::new(), even: Vec::with_capacity(EVEN) };
        fill(&mut out)?;
        let digest = out.close().map_err(unwritten)?;
        self.manifest.0.insert(name.to_owned(), digest);
        Ok(())
    }
}

/// An entry that knows its digest. It is handed on in even parts: how it is packed depends on where its parts end, and the
/// same file does not always come in the same ones.
pub(super) struct Hashed<'z> {
    zip: &'z mut ZipWriter<BufWriter<File>>,
    digest: Sha256,
    even: Vec<u8>,
}

impl Hashed<'_> {
    fn close(mut self) -> std::io::Result<String> {
        self.hand_on()?;
        Ok(hex(&self.digest.finalize()))
    }

    fn hand_on(&mut self) -> std::io::Result<()> {
        self.zip.write_all(&self.even)?;
        self.even.clear();
        Ok(())
    }
}

impl Write for Hashed<'_> {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        let part = bytes.get(..EVEN - self.even.len()).unwrap_or(bytes);
        self.digest.update(part);
        self.even.extend_from_slice(part);
        if self.even.len() == EVEN {
            self.hand_on()?;
        }
        Ok(part.len())
    }

    /// Nothing: what it would hand on is an uneven part.
    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

/// A table as lines of JSON: the names of its columns, then a line for each row.
fn rows(
    db: &mut AnyConnection,
    part: &Part,
    table: &copying::Table,
    out: &mut Hashed<'_>,
) -> Result<(), Trouble> {
    let columns = copying::columns(db, table.name)?;
    let names: Vec<&str> = columns.iter().map(|column| column.name.as_str()).collect();
    line(out, &names)?;
    copying::rows(db, part, table, &columns, &mut |row| line(out, &row))
}

fn line(out: &mut Hashed<'_>, value: &impl serde::Serialize) -> Result<(), Trouble> {
    let text = serde_json::to_string(value).map_err(|error| Trouble::broken("writing an archive", error))?;
    out.write_all(text.as_bytes()).and_then(|()| out.write_all(b"\n")).map_err(unwritten)
}

pub(super) fn unpacked(error: zip::result::ZipError) -> Trouble {
    Trouble::broken("writing an archive", error)
}

pub(super) fn unwritten(error: std::io::Error) -> Trouble {
    Trouble::broken("writing an archive", error)
}
