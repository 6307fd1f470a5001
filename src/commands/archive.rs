//! `tympan archive`: one zip file of a class or of a whole term, for a department to keep. The same moment gives the same
//! bytes, whatever was changed since.

use std::path::PathBuf;
use std::process::ExitCode;

use chrono::DateTime;

use crate::clock::{Clock, Instant};
use crate::commands::export::{Fault, class, deliver, taking};
use crate::commands::foundation::{build_house, sentence};
use crate::exchange::spool::Spooled;
use crate::ids::ClassId;
use crate::pages::{House, server};
use crate::settings::Settings;
use crate::store::Scope;
use crate::store::copying::kept;
use crate::store::exports;
use crate::store::exports::disclosures;
use crate::trouble::Trouble;

/// What is asked for.
#[derive(Debug, Clone, clap::Args)]
pub struct Order {
    /// The class's code, such as LIT-B; left out, every class of the term.
    #[arg(long)]
    pub class: Option<String>,
    /// The term's name, such as “Autumn 2026”.
    #[arg(long)]
    pub term: String,
    /// A moment (RFC 3339), or now. Left out, that of the first archive of the same classes, which gives that file again.
    /// Of a moment of which none was made there is one only while nothing was changed since.
    #[arg(long)]
    pub as_of: Option<String>,
    /// The file to write, - for standard output. A file that is there is replaced once the archive is whole.
    #[arg(long)]
    pub out: PathBuf,
    /// What it is taken for, as students read it: records, review, audit, transfer, request, or words of your own.
    #[arg(long, default_value = "records")]
    pub purpose: String,
}

/// Runs the command.
#[must_use]
pub fn run(order: &Order) -> ExitCode {
    Fault::exit(try_run(order))
}

fn try_run(order: &Order) -> Result<(), Fault> {
    as_of(order)?;
    let settings = Settings::from_environment().map_err(Fault::Failed)?;
    let house = build_house(settings, Clock::Machine).map_err(Fault::Failed)?;
    let (spooled, at) = server::block_on(take(&house, order))?;
    deliver(spooled, &order.out).map_err(Fault::Failed)?;
    eprintln!(
        "Archived as of {}. The same --as-of gives the same file again; --as-of now makes one anew.",
        at.rfc3339()
    );
    Ok(())
}

/// Writes the archive into the spool and keeps that it was taken. Says as of when it is.
///
/// # Errors
/// There is no such class or term, or something cannot be read.
pub async fn take(house: &House, order: &Order) -> Result<(Spooled, Instant), Fault> {
    let failed = |trouble| Fault::Failed(sentence(trouble));
    let all = house.db.read(exports::classes).await.map_err(failed)?;
    let told = as_of(order)?;
    let classes: Vec<ClassId> = match &order.class {
        Some(code) => vec![class(code, &order.term, &all)?],
        None => {
            let in_term: Vec<ClassId> =
                all.iter().filter(|(_, _, term)| *term == order.term).map(|(id, _, _)| *id).collect();
            if in_term.is_empty() {
                class("", &order.term, &all)?;
            }
            in_term
        }
    };
    let now = house.now();
    let at = match told {
        AsOf::Told(at) => Some(at),
        AsOf::Now => None,
        AsOf::First => first_made(house, &classes).await?,
    };
    let (spooled, at) = house.archive(classes.clone(), at).await.map_err(|trouble| match trouble {
        Trouble::Refused(remark) => Fault::Asked(house.speech.remark(&remark)),
        other => failed(other),
    })?;
    let taking = taking("archive", &spooled, &order.purpose);
    house
        .db
        .note(move |db| {
            for class in &classes {
                disclosures::keep(db, now, None, *class, &taking)?;
            }
            Ok(())
        })
        .await
        .map_err(failed)?;
    Ok((spooled, at))
}

/// As of when the first archive of the classes was made that is kept. Where none is, their term counts as archived from now.
async fn first_made(house: &House, classes: &[ClassId]) -> Result<Option<Instant>, Fault> {
    let failed = |trouble| Fault::Failed(sentence(trouble));
    let of = classes.to_vec();
    let first =
        house.db.read(move |db| Ok(kept::moments(db, &of)?.first().copied())).await.map_err(failed)?;
    if let (None, Some(class)) = (first, classes.first()) {
        let term = house.term_of(*class).await.map_err(failed)?;
        let archived =
            house.db.write(Scope::School, None, house.now(), move |tx| tx.archive_term(term)).await;
        archived.map_err(failed)?;
    }
    Ok(first)
}

/// What `--as-of` asks for.
#[derive(Debug, Clone, Copy)]
enum AsOf {
    Told(Instant),
    Now,
    /// The moment of the first archive of the classes.
    First,
}

fn as_of(order: &Order) -> Result<AsOf, Fault> {
    match order.as_of.as_deref() {
        None => Ok(AsOf::First),
        Some("now") => Ok(AsOf::Now),
        Some(text) => {
            let at = DateTime::parse_from_rfc3339(text).map_err(|_error| {
                Fault::Asked(format!(
                    "--as-of “{text}” is no moment. Write it like 2026-12-18T22:00:00Z, or now."
                ))
            })?;
            Ok(AsOf::Told(Instant::from_utc(at.to_utc())))
        }
    }
}
