//! Starts of a plate's steps: what goes on besides the step that comes next, which starts can be taken back, and which an
//! instructor allowed once.

use serde::Serialize;

use crate::clock::Instant;
use crate::ids::StepRunId;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::store::plates::folder::{Folder, Granted, Run};
use crate::store::plates::taken_back;
use crate::trade::procedure::{Allowance, Place, StepOutlook};
use crate::trade::remark::Remark;

/// A run under way of a step that is done beside others.
#[derive(Debug, Serialize)]
pub struct Beside {
    run: StepRunId,
    title: String,
    since: String,
    take_back: bool,
}

/// Whether a run is for whoever asks: what waits for the instructor is the instructor's to end and to take back as well.
fn is_for(ask: &InClass, folder: &Folder, run: &Run) -> bool {
    let step = folder.procedure.find(&run.step_key);
    ask.is_instructor() || step.is_none_or(|step| step.place != Place::Instructor)
}

/// Whether whoever asks may take back the start of a run.
#[must_use]
pub fn may_take_back(ask: &InClass, folder: &Folder, run: &Run) -> bool {
    is_for(ask, folder, run) && taken_back::is_fresh(run, ask.now())
}

/// The runs under way besides the one that is shown already, as far as they are for whoever asks.
#[must_use]
pub fn besides(ask: &InClass, folder: &Folder, shown: Option<StepRunId>) -> Vec<Beside> {
    let under_way = folder.runs.iter().filter(|run| run.ended_at.is_none() && Some(run.id) != shown);
    let titled = |run: &Run| folder.procedure.find(&run.step_key).map(|step| step.title.clone());
    under_way
        .filter(|run| is_for(ask, folder, run))
        .map(|run| Beside {
            run: run.id,
            title: titled(run).unwrap_or_else(|| run.step_key.clone()),
            since: dates::near(run.began_at, ask.now(), folder.zone),
            take_back: may_take_back(ask, folder, run),
        })
        .collect()
}

/// A sentence for each run under way besides the step that comes next, whoever it is for.
#[must_use]
pub fn besides_in_words(ask: &InClass, folder: &Folder, next: Option<&StepOutlook>) -> Vec<String> {
    let under_way = folder.runs.iter().filter(|run| run.ended_at.is_none());
    under_way
        .filter(|run| next.is_none_or(|next| *next.key != *run.step_key))
        .map(|run| {
            let step = folder.procedure.find(&run.step_key).map_or(run.step_key.as_str(), |step| &step.title);
            let since = dates::near(run.began_at, ask.now(), folder.zone);
            ask.house
                .speech
                .remark(&Remark::new("plates-goes-on-besides").with("step", step).with("since", since))
        })
        .collect()
}

/// Each start an instructor allowed once: of which step, who, when, why, and when it was used.
#[must_use]
pub fn allowed(ask: &InClass, folder: &Folder) -> Vec<String> {
    let near = |at| dates::near(Instant::from_utc(at), ask.now(), folder.zone);
    let sentence = |(allowance, granted): (&Allowance, &Granted)| {
        let step = folder.procedure.find(&allowance.step);
        let remark = match allowance.used {
            Some(used) => Remark::new("plates-allowed-used").with("used", near(used)),
            None => Remark::new("plates-allowed-unused"),
        };
        let step = step.map_or(allowance.step.as_str(), |step| step.title.as_str());
        let remark = remark.with("step", step).with("by", granted.by_name.as_str());
        ask.house
            .speech
            .remark(&remark.with("at", near(allowance.given)).with("why", granted.reason.as_str()))
    };
    folder.allowances.iter().zip(&folder.granted).map(sentence).collect()
}
