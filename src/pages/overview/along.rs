//! What was kept along the way: at each step of a plate's procedure its etch logs, with how they came up, and the photos
//! of what was pulled there. The sections below the procedure have the rest of it.

use serde::Serialize;

use crate::clock::Instant;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::etches;
use crate::pages::overview::square::Spelled;
use crate::pages::proofs::shown::{Image, image};
use crate::photos::shelf::Size;
use crate::store::etches::logs::Log;
use crate::store::plates::folder::{Folder, Run};
use crate::store::proofs::pulls::Numbered;
use crate::trade::procedure::Records;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled as _;

/// A step with what was kept at it.
#[derive(Debug, Serialize)]
pub struct Step {
    #[serde(flatten)]
    spelled: Spelled,
    logs: Vec<LogLink>,
    proofs: Vec<Photo>,
}

#[derive(Debug, Serialize)]
struct LogLink {
    path: String,
    words: String,
    /// How it came up.
    how: Option<String>,
}

#[derive(Debug, Serialize)]
struct Photo {
    path: String,
    small: Image,
    name: String,
}

/// The steps as spelled, in their order, each with what belongs to it.
#[must_use]
pub fn steps(
    ask: &InClass,
    folder: &Folder,
    spelled: Vec<Spelled>,
    logs: &[Log],
    proofs: &[Numbered],
) -> Vec<Step> {
    let of_log = |log: &&Log, key: &str| log.entry.step_key == key;
    let of_proof = |one: &&Numbered, key: &str| pulled_in(folder, one.proof.pulled_at) == Some(key);
    spelled
        .into_iter()
        .map(|step| Step {
            // The first comes first, as it does on the way.
            logs: logs
                .iter()
                .rev()
                .filter(|log| of_log(log, &step.key))
                .map(|log| link(ask, folder, log))
                .collect(),
            proofs: proofs
                .iter()
                .rev()
                .filter(|one| of_proof(one, &step.key))
                .map(|one| photo(ask, one))
                .collect(),
            spelled: step,
        })
        .collect()
}

/// The step in which a proof was pulled: the last one begun before that prints.
fn pulled_in(folder: &Folder, at: Instant) -> Option<&str> {
    let prints = |run: &&Run| {
        let step = folder.procedure.find(&run.step_key);
        step.is_some_and(|step| matches!(step.records, Records::Proof | Records::GoAhead | Records::Sheets))
    };
    folder.runs.iter().rev().filter(prints).find(|run| run.began_at <= at).map(|run| run.step_key.as_str())
}

fn link(ask: &InClass, folder: &Folder, log: &Log) -> LogLink {
    let speech = &ask.house.speech;
    let at = dates::near(log.entry.at, ask.now(), folder.zone);
    LogLink {
        path: etches::path(ask, folder.row.id, log.entry.id),
        words: speech.remark(&Remark::new("plates-along-log").with("at", at)),
        how: log.came_up.as_ref().map(|seen| speech.plain(&format!("etches-how-{}", seen.how.0.word()))),
    }
}

fn photo(ask: &InClass, one: &Numbered) -> Photo {
    let number = i64::try_from(one.number).unwrap_or(i64::MAX);
    let name = ask.house.speech.remark(&Remark::new("proofs-name").with("number", number));
    let small = image(ask.class(), &one.proof, Size::Small320);
    Photo { path: image(ask.class(), &one.proof, Size::Large1600).path, small, name }
}
