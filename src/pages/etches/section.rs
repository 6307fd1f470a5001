//! The part of a plate's page about its etches: how the last one came up, where that is to be asked now, and the logs.

use serde::Serialize;

use crate::ids::EtchId;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::etches::shown::{Shown, shown};
use crate::pages::fields::Choice;
use crate::store::etches::came_up;
use crate::store::etches::logs::Log;
use crate::store::plates::folder::Folder;
use crate::trade::etch::came_up::CameUp;
use crate::trade::procedure::Records;

/// An etch to be asked about.
#[derive(Debug, Serialize)]
struct ToAsk {
    etch: EtchId,
    path: String,
    step: String,
    at: String,
    /// The roll-up or proof that shows it.
    shown_by: String,
    hows: Vec<Choice>,
}

/// An etching step that ended without a log.
#[derive(Debug, Serialize)]
struct Unlogged {
    path: String,
    step: String,
    at: String,
}

/// What the partial `etches/section` shows.
#[derive(Debug, Serialize)]
pub struct Section {
    new_path: String,
    may_act: bool,
    to_ask: Vec<ToAsk>,
    unlogged: Vec<Unlogged>,
    logs: Vec<Shown>,
}

/// The section of one plate.
#[must_use]
pub fn section(ask: &InClass, folder: &Folder, logs: &[Log], may_act: bool) -> Section {
    let title =
        |key: &str| folder.procedure.find(key).map_or_else(|| key.to_owned(), |step| step.title.clone());
    let near = |at| dates::near(at, ask.now(), folder.zone);
    let showing = came_up::shown(folder);
    let by = |log: &Log| {
        let id = showing.get(&log.entry.run)?;
        folder.runs.iter().find(|run| run.id == *id).map(|run| title(&run.step_key))
    };
    let new_path = format!("{}/etches/new", crate::pages::plates::path(ask, folder.row.id));
    let etches = |key: &str| folder.procedure.find(key).is_some_and(|step| step.records == Records::Etch);
    Section {
        may_act,
        to_ask: logs
            .iter()
            .filter(|log| log.came_up.is_none())
            .filter_map(|log| {
                Some(ToAsk {
                    etch: log.entry.id,
                    path: crate::pages::etches::path(ask, folder.row.id, log.entry.id),
                    step: title(&log.entry.step_key),
                    at: near(log.entry.at),
                    shown_by: by(log)?,
                    hows: Choice::of_words::<CameUp>("etches-how", &ask.house.speech),
                })
            })
            .collect(),
        unlogged: folder
            .runs
            .iter()
            .filter(|run| run.ended_at.is_some() && etches(&run.step_key))
            .filter(|run| logs.iter().all(|log| log.entry.run != run.id))
            .map(|run| Unlogged {
                path: format!("{new_path}?run={}", run.id),
                step: title(&run.step_key),
                at: near(run.ended_at.unwrap_or(run.began_at)),
            })
            .collect(),
        logs: logs.iter().map(|log| shown(ask, log, &title(&log.entry.step_key))).collect(),
        new_path,
    }
}
