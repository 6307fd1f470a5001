//! Writing an archive: one pass over the files in the order of their names, each hashed while it is written, all read from
//! one moment of the database.

use std::fs::File;
use std::io::{BufWriter, Seek, Write};

use sha2::{Digest, Sha256};
use zip::write::{SimpleFileOptions, ZipWriter};
use zip::{CompressionMethod, DateTime};

use super::contents::{Content, Contents, contents, own, tables_of};
use super::{MANIFEST, Manifest};
use crate::clock::Instant;
use crate::exchange::spool::Spooled;
use crate::exchange::tables::{self, Table};
use crate::ids::{ClassId, PersonId};
use crate::photos::shelf::Shelf;
use crate::secrets::{hex, sha256_hex};
use crate::speech::Speech;
use crate::store::AnyConnection;
use crate::store::copying::{self, Part};
use crate::store::exports;
use crate::store::studio::papers::Papers;
use crate::trouble::Trouble;

/// Where the words, pictures and papers of an archive come from.
#[derive(Debug, Clone, Copy)]
pub struct Source<'a> {
    pub speech: &'a Speech,
    pub shelf: &'a dyn Shelf,
    pub papers: &'a Papers,
}

/// Writes an archive of some classes as of a moment. The digest is that of its manifest, which names every other file's.
///
/// # Errors
/// The database, the shelf or the papers cannot be read, or the file not written.
pub fn write(
    db: &mut AnyConnection,
    source: Source<'_>,
    classes: &[ClassId],
    as_of: Instant,
    file: File,
) -> Result<Spooled, Trouble> {
    copying::of_one_moment(db, |db| {
        let part = copying::part(db, classes, as_of)?;
        let all = contents(db, &part, source.speech, source.shelf)?;
        pack(db, source, &part, all, file)
    })
}

/// Writes everything that is one student's own in a class: their rows, the working of what was handed back, their photos.
///
/// # Errors
/// As `write`; `NotFound` for whoever is no student of the class.
pub fn write_own(
    db: &mut AnyConnection,
    source: Source<'_>,
    (class, person): (ClassId, PersonId),
    as_of: Instant,
    file: File,
) -> Result<Spooled, Trouble> {
    copying::of_one_moment(db, |db| {
        let part = Part::own(class, person, as_of);
        let all = own(db, &part, source.speech, source.shelf, (class, person))?;
        pack(db, source, &part, all, file)
    })
}

/// Writes some tables of some classes, submitted grades alone, with a manifest: what records staff take of a term.
///
/// # Errors
/// As `write`.
pub fn write_tables(
    db: &mut AnyConnection,
    source: Source<'_>,
    (classes, tables): (&[ClassId], &[Table]),
    as_of: Instant,
    file: File,
) -> Result<Spooled, Trouble> {
    copying::of_one_moment(db, |db| {
        let part = copying::part(db, classes, as_of)?;
        let all = tables_of(db, &part, tables, source.speech)?;
        pack(db, source, &part, all, file)
    })
}

fn pack(
    db: &mut AnyConnection,
    source: Source<'_>,
    part: &Part,
    all: Contents,
    file: File,
) -> Result<Spooled, Trouble> {
    let mut packer = Packer {
        zip: ZipWriter::new(BufWriter::with_capacity(256 * 1024, file)),
        manifest: Manifest::default(),
    };
    for (name, content) in all {
        packer.put(db, source, part, &name, &content)?;
    }
    let manifest = packer.manifest.text();
    packer.add(MANIFEST, CompressionMethod::Deflated, &mut |out| {
        out.write_all(manifest.as_bytes()).map_err(unwritten)
    })?;
    let buffer = packer.zip.finish().map_err(unpacked)?;
    let mut file = buffer.into_inner().map_err(|error| unwritten(error.into_error()))?;
    let bytes = file.stream_position().map_err(unwritten)?;
    file.rewind().map_err(unwritten)?;
    Ok(Spooled { file, bytes, sha256: sha256_hex(manifest.as_bytes()) })
}

struct Packer {
    zip: ZipWriter<BufWriter<File>>,
    manifest: Manifest,
}

type Fill<'a> = &'a mut dyn FnMut(&mut Hashed<'_>) -> Result<(), Trouble>;

impl Packer {
    fn put(
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

    /// One file: the same moment, mode and sort of entry for all, so that the same bytes come of the same record.
    fn add(&mut self, name: &str, method: CompressionMethod, fill: Fill<'_>) -> Result<(), Trouble> {
        let options = SimpleFileOptions::default()
            .compression_method(method)
            .last_modified_time(DateTime::default())
            .unix_permissions(0o644)
            .large_file(true);
        self.zip.start_file(name, options).map_err(unpacked)?;
        let mut out = Hashed { zip: &mut self.zip, digest: Sha256::new() };
        fill(&mut out)?;
        let digest = hex(&out.digest.finalize());
        self.manifest.0.insert(name.to_owned(), digest);
        Ok(())
    }
}

/// An entry that knows its digest.
struct Hashed<'z> {
    zip: &'z mut ZipWriter<BufWriter<File>>,
    digest: Sha256,
}

impl Write for Hashed<'_> {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        let count = self.zip.write(bytes)?;
        self.digest.update(bytes.get(..count).unwrap_or_default());
        Ok(count)
    }

    fn flush(&mut self) -> std::io::Result<()> {
        self.zip.flush()
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

fn unpacked(error: zip::result::ZipError) -> Trouble {
    Trouble::broken("writing an archive", error)
}

fn unwritten(error: std::io::Error) -> Trouble {
    Trouble::broken("writing an archive", error)
}
