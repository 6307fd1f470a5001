//! `tympan check`: without a file the chains of the journal in the database; with one an archive. What is wrong is said in
//! a sentence each, and the command leaves with 2.

use std::fs::File;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::clock::Clock;
use crate::commands::export::Fault;
use crate::commands::foundation::{build_house, sentence};
use crate::exchange::archive::checking::{self, LIMITS};
use crate::exchange::parcel::Parcel;
use crate::pages::{House, server};
use crate::settings::Settings;
use crate::speech::Speech;
use crate::store::journal::{self, Chain, Finding};

/// What is to be checked.
#[derive(Debug, Clone, clap::Args)]
pub struct Order {
    /// An archive; left out, the journal of the database.
    pub archive: Option<PathBuf>,
    /// An archive or a journal-heads.json kept elsewhere, that shows whether the end of a journal was cut off.
    #[arg(long)]
    pub against: Option<PathBuf>,
}

/// Runs the command.
#[must_use]
pub fn run(order: &Order) -> ExitCode {
    Fault::exit(try_run(order))
}

fn try_run(order: &Order) -> Result<(), Fault> {
    let said = match &order.archive {
        Some(_) if order.against.is_some() => {
            return Err(Fault::Asked(
                "--against compares the database with a file: leave the archive out.".to_owned(),
            ));
        }
        Some(path) => archive(path)?,
        None => {
            let settings = Settings::from_environment().map_err(Fault::Failed)?;
            let house = build_house(settings, Clock::Machine).map_err(Fault::Failed)?;
            server::block_on(database(&house, order.against.as_deref()))?
        }
    };
    eprintln!("{said}");
    Ok(())
}

/// Checks an archive and says what it is.
///
/// # Errors
/// Everything that is wrong with it, a sentence a line.
pub fn archive(path: &Path) -> Result<String, Fault> {
    let speech = Speech::load().map_err(|error| Fault::Failed(error.to_string()))?;
    let say = |wrong: Vec<_>| {
        let lines: Vec<String> = wrong.iter().map(|remark| speech.remark(remark)).collect();
        Fault::Asked(format!("{}: {}", path.display(), lines.join("\n")))
    };
    let file = File::open(path).map_err(|error| Fault::Failed(format!("{}: {error}", path.display())))?;
    let mut parcel = Parcel::open(file, LIMITS).map_err(|remark| say(vec![remark]))?;
    let checked = checking::check(&mut parcel).map_err(say)?;
    let about = checked.about;
    let classes: Vec<&str> = about.classes.iter().map(|class| class.code.as_str()).collect();
    let mut lines = vec![format!(
        "{}: whole. {} of {}, {}, as of {}, made by {}; {} files, each as its manifest says.",
        path.display(),
        classes.join(", "),
        about.school,
        about.term,
        about.as_of,
        about.made_by,
        checked.files
    )];
    let found = &checked.chains;
    for chain in &found.chains {
        lines.push(holds(chain, &found.chains));
        lines.extend(purge_line(chain, &found.purged));
    }
    Ok(lines.join("\n"))
}

/// Walks the chains and says what they are; a purge is no fault.
///
/// # Errors
/// What does not hold, a sentence a line.
pub async fn database(house: &House, against: Option<&Path>) -> Result<String, Fault> {
    let failed = |trouble| Fault::Failed(sentence(trouble));
    let heads = match against {
        None => None,
        Some(path) => {
            let file =
                File::open(path).map_err(|error| Fault::Failed(format!("{}: {error}", path.display())))?;
            let heads = checking::heads_of(file).map_err(|remark| {
                Fault::Asked(format!("{}: {}", path.display(), house.speech.remark(&remark)))
            })?;
            Some(heads.into_iter().map(|head| (head.scope, head.seq, head.hash)).collect::<Vec<_>>())
        }
    };
    let anchored = heads.is_some();
    let (chains, mut found) = house
        .db
        .read(move |db| {
            let mut found = journal::check(db)?;
            if let Some(heads) = heads {
                found.extend(journal::against(db, &heads)?);
            }
            Ok((journal::chains(db)?, found))
        })
        .await
        .map_err(failed)?;
    let purged: Vec<(String, i64)> = found
        .iter()
        .filter_map(|one| match one {
            Finding::Purged { scope, seq } => Some((scope.clone(), *seq)),
            _ => None,
        })
        .collect();
    found.retain(|one| !matches!(one, Finding::Purged { .. }));
    let mut lines: Vec<String> = found.iter().map(|one| wrong(one, &chains)).collect();
    if !lines.is_empty() {
        lines.extend(chains.iter().filter_map(|chain| purge_line(chain, &purged)));
        return Err(Fault::Asked(lines.join("\n")));
    }
    for chain in &chains {
        lines.push(holds(chain, &chains));
        lines.extend(purge_line(chain, &purged));
    }
    lines.push(if anchored {
        "The rows that the file kept elsewhere names are there.".to_owned()
    } else {
        "A journal whose last rows were cut off together with its head looks whole. Compare with an archive kept \
         elsewhere: tympan check --against ARCHIVE."
            .to_owned()
    });
    Ok(lines.join("\n"))
}

fn wrong(finding: &Finding, chains: &[Chain]) -> String {
    match finding {
        Finding::Tampered { scope, seq } => {
            format!("{}, act {seq}: the row was changed after it was written.", called(scope, chains))
        }
        Finding::DetailChanged { scope, seq } => {
            format!("{}, act {seq}: its detail was changed after it was written.", called(scope, chains))
        }
        Finding::Purged { scope, seq } => {
            format!("{}, act {seq}: its detail is purged.", called(scope, chains))
        }
        Finding::Gap { scope, seq } => {
            format!(
                "{}, at act {seq}: rows are missing, or the head is not that of the last row.",
                called(scope, chains)
            )
        }
        Finding::Cut { scope, seq } => {
            format!(
                "{}, act {seq}: the file kept elsewhere has this row, the database has none or another: the end of the \
                 journal was cut off or written anew.",
                called(scope, chains)
            )
        }
    }
}

fn holds(chain: &Chain, chains: &[Chain]) -> String {
    format!("{}: {} acts, the chain holds.", called(&chain.scope, chains), chain.length)
}

/// How many details are gone and which acts say so.
fn purge_line(chain: &Chain, purged: &[(String, i64)]) -> Option<String> {
    let gone = purged.iter().filter(|(scope, _)| *scope == chain.scope).count();
    let acts: Vec<String> = chain.purges.iter().map(i64::to_string).collect();
    match (gone, acts.is_empty()) {
        (0, _) => None,
        (_, true) => Some(format!("  {gone} details are gone, and no act says that they were purged.")),
        (_, false) => Some(format!("  {gone} details are gone, purged by act {}.", acts.join(", "))),
    }
}

fn called(scope: &str, chains: &[Chain]) -> String {
    match chains.iter().find(|chain| chain.scope == scope).and_then(|chain| chain.class.as_ref()) {
        Some((code, term)) => format!("Journal of {code}, {term}"),
        None if scope == "school" => "Journal of the school".to_owned(),
        None => format!("Journal {scope}"),
    }
}
