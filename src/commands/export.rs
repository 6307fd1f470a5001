//! `tympan export`: a table of a class into a file or to standard output. The bytes are those the records page sends.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use tempfile::NamedTempFile;

use crate::clock::Clock;
use crate::commands::foundation::{build_house, sentence};
use crate::exchange::spool::Spooled;
use crate::exchange::tables::Table;
use crate::ids::ClassId;
use crate::pages::{House, server};
use crate::settings::Settings;
use crate::store::exports;
use crate::store::exports::disclosures::{self, Purpose, Taking, Way};
use crate::trade::spelled::Spelled;

/// What is asked for.
#[derive(Debug, Clone, clap::Args)]
pub struct Order {
    /// Which table: roster, prints, plates, etches, signoffs, grades, scores, attendance, goals, journal, columns, or
    /// oneroster for a zip file that follows the OneRoster 1.2 CSV binding.
    pub what: String,
    /// The class's code, such as LIT-B.
    #[arg(long)]
    pub class: String,
    /// The term's name, such as “Autumn 2026”.
    #[arg(long)]
    pub term: String,
    /// The file to write, - for standard output. A file that is there is replaced once the table is whole.
    #[arg(long)]
    pub out: PathBuf,
    /// What it is taken for, as the student reads it: records, review, audit, transfer, request, or words of your own.
    #[arg(long, default_value = "records")]
    pub purpose: String,
}

/// Why nothing was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fault {
    /// What was asked for is not there: exit code 2.
    Asked(String),
    /// Something failed: exit code 1.
    Failed(String),
}

impl Fault {
    /// Says what is wrong on the console, and how the command leaves.
    #[must_use]
    pub fn exit(outcome: Result<(), Self>) -> ExitCode {
        let (said, code) = match outcome {
            Ok(()) => return ExitCode::SUCCESS,
            Err(Self::Asked(said)) => (said, ExitCode::from(2)),
            Err(Self::Failed(said)) => (said, ExitCode::FAILURE),
        };
        eprintln!("{said}");
        code
    }
}

/// Runs the command.
#[must_use]
pub fn run(order: &Order) -> ExitCode {
    Fault::exit(try_run(order))
}

fn try_run(order: &Order) -> Result<(), Fault> {
    what(order)?;
    let settings = Settings::from_environment().map_err(Fault::Failed)?;
    let house = build_house(settings, Clock::Machine).map_err(Fault::Failed)?;
    let spooled = server::block_on(take(&house, order))?;
    deliver(spooled, &order.out).map_err(Fault::Failed)
}

/// Writes the table into the spool and keeps that it was taken.
///
/// # Errors
/// There is no such table, class or term, or the database cannot be read.
pub async fn take(house: &House, order: &Order) -> Result<Spooled, Fault> {
    let failed = |trouble| Fault::Failed(sentence(trouble));
    let what = what(order)?;
    let classes = house.db.read(exports::classes).await.map_err(failed)?;
    let class = class(&order.class, &order.term, &classes)?;
    let now = house.now();
    let of = house.db.read(move |db| exports::of(db, class, now)).await.map_err(failed)?;
    let spooled = match what {
        What::Table(table) => house.spool.write(&house.db, house.speech.clone(), table, of).await,
        What::Package => house.package(class).await,
    }
    .map_err(failed)?;
    let word = match what {
        What::Table(table) => table.word(),
        What::Package => PACKAGE,
    };
    let taking = taking(word, &spooled, &order.purpose);
    house.db.note(move |db| disclosures::keep(db, now, None, class, &taking)).await.map_err(failed)?;
    Ok(spooled)
}

/// What is kept of what leaves by the command line.
#[must_use]
pub fn taking(what: &str, spooled: &Spooled, purpose: &str) -> Taking {
    Taking {
        table: what.to_owned(),
        sha256: spooled.sha256.clone(),
        way: Way::Command,
        purpose: Purpose::told(purpose),
    }
}

/// Brings a written table to where it was asked for.
///
/// # Errors
/// A sentence for the console; a file that was there is as it was.
pub fn deliver(mut spooled: Spooled, out: &Path) -> Result<(), String> {
    if out == Path::new("-") {
        let mut console = std::io::stdout().lock();
        return std::io::copy(&mut spooled.file, &mut console)
            .and_then(|_| console.flush())
            .map_err(|error| format!("Writing to standard output: {error}"));
    }
    let unwritten = |error: std::io::Error| format!("--out {}: {error}", out.display());
    let folder = out.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut beside = NamedTempFile::new_in(folder).map_err(unwritten)?;
    std::io::copy(&mut spooled.file, &mut beside).map_err(unwritten)?;
    beside.as_file().sync_all().map_err(unwritten)?;
    beside.persist(out).map_err(|error| unwritten(error.error))?;
    Ok(())
}

/// The word of a package that follows the OneRoster 1.2 CSV binding.
const PACKAGE: &str = "oneroster";

/// What can be written into a file.
#[derive(Debug, Clone, Copy)]
enum What {
    Table(Table),
    Package,
}

fn what(order: &Order) -> Result<What, Fault> {
    if order.what == PACKAGE {
        return Ok(What::Package);
    }
    Table::from_word(&order.what).map(What::Table).ok_or_else(|| {
        let known = listed(Table::ALL.iter().map(|table| table.word()).chain([PACKAGE]));
        Fault::Asked(format!("There is no table “{}”. There are: {known}.", order.what))
    })
}

/// The class of a code in the term of a name.
///
/// # Errors
/// There is no such class or term; the sentence says which there are.
pub fn class(code: &str, term: &str, classes: &[(ClassId, String, String)]) -> Result<ClassId, Fault> {
    let in_term: Vec<_> = classes.iter().filter(|(_, _, known)| known == term).collect();
    if in_term.is_empty() {
        let mut terms: Vec<&str> = classes.iter().map(|(_, _, term)| term.as_str()).collect();
        terms.dedup();
        let known = listed(terms.into_iter());
        return Err(Fault::Asked(format!("No class is in a term “{term}”. Terms with classes: {known}.")));
    }
    in_term.iter().find(|(_, known, _)| known == code).map(|(id, _, _)| *id).ok_or_else(|| {
        let known = listed(in_term.iter().map(|(_, code, _)| code.as_str()));
        Fault::Asked(format!("There is no class “{code}” in “{term}”. There are: {known}."))
    })
}

fn listed<'a>(names: impl Iterator<Item = &'a str>) -> String {
    let names = names.collect::<Vec<_>>().join(", ");
    if names.is_empty() { "none".to_owned() } else { names }
}
