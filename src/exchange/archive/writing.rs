//! Writing an archive: one pass over its files, all read from one moment of the database. One that was made before is written
//! from what was kept of it.

use std::fs::File;

use super::contents::{Contents, contents, own, tables_of};
use super::once_more;
use super::packing::Packer;
use crate::clock::Instant;
use crate::exchange::spool::{Nameless, Spooled};
use crate::exchange::tables::Table;
use crate::ids::{ClassId, PersonId};
use crate::photos::shelf::Shelf;
use crate::speech::Speech;
use crate::store::AnyConnection;
use crate::store::copying::{self, Part, kept};
use crate::store::studio::papers::Papers;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Where the words, pictures and papers of an archive come from.
#[derive(Debug, Clone, Copy)]
pub struct Source<'a> {
    pub speech: &'a Speech,
    pub shelf: &'a dyn Shelf,
    pub papers: &'a Papers,
}

/// An archive that was asked for.
#[derive(Debug)]
pub struct Made {
    /// The digest is that of its manifest, which names every other file's.
    pub spooled: Spooled,
    pub as_of: Instant,
    /// What is to be kept of it, and how often its classes had been purged when it was read; none of one that is kept
    /// already.
    pub text: Option<(File, i64)>,
}

/// Writes an archive of some classes as of a moment: of now where none is told.
///
/// # Errors
/// `Refused` for a moment that is to come, and for one of which nothing was kept while something was changed since; the
/// database, the shelf or the papers cannot be read, or the file not written.
pub fn write(
    db: &mut AnyConnection,
    source: Source<'_>,
    (classes, as_of): (&[ClassId], Option<Instant>),
    now: Instant,
    nameless: &Nameless,
) -> Result<Made, Trouble> {
    copying::of_one_moment(db, |db| {
        if let Some(as_of) = as_of
            && let Some(id) = kept::find(db, classes, as_of)?
        {
            let spooled = once_more::write(db, source, id, nameless)?;
            return Ok(Made { spooled, as_of, text: None });
        }
        let at = as_of.map_or_else(|| kept::present(db, classes, now), Ok)?;
        let part = copying::part(db, classes, at)?;
        if as_of.is_some() {
            had(db, &part, now)?;
        }
        let all = contents(db, &part, source.speech, source.shelf)?;
        let mut spooled = pack(db, source, &part, all, nameless.file()?)?;
        let text = once_more::to_keep(&mut spooled.file, nameless.file()?)?;
        Ok(Made { spooled, as_of: at, text: Some((text, kept::purges(db, classes)?)) })
    })
}

/// Whether the record of a moment is still to be had, of which no archive was kept: nothing was changed since.
fn had(db: &mut AnyConnection, part: &Part, now: Instant) -> Result<(), Trouble> {
    let at = part.as_of.rfc3339();
    if part.as_of > now {
        return Err(Trouble::Refused(Remark::new("archive-to-come").with("at", at)));
    }
    match kept::acts_since(db, part)? {
        0 => Ok(()),
        acts => Err(Trouble::Refused(Remark::new("archive-changed-since").with("at", at).with("acts", acts))),
    }
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
    let mut packer = Packer::new(file);
    for (name, content) in all {
        packer.put(db, source, part, &name, &content)?;
    }
    packer.close()
}
