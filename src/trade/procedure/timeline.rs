//! The runs of a plate up to one moment, in order, with the questions rules ask of them.
//!
//! Also the sketch pad for looking ahead: runs that have not happened can be added at the end, so that the
//! same rules say what a plate will need next.

use chrono::{DateTime, TimeDelta, Utc};

use super::chart::{Charted, Meant, StepAt};
use super::history::{Entry, History, PutDown};

/// Times told afterwards are rounded: a run may be told to end this much after the next one began and still
/// count as ended before it.
pub(super) const TOLD_ROUNDING: TimeDelta = TimeDelta::minutes(15);

/// One run of a step.
#[derive(Debug, Clone)]
pub(super) struct Run<'a> {
    pub(super) key: &'a str,
    /// None when the plate's procedure has no such step.
    pub(super) step: Option<StepAt<'a>>,
    pub(super) began: DateTime<Utc>,
    pub(super) ended: Option<DateTime<Utc>>,
    /// It happened but is to be done again.
    pub(super) again: bool,
    pub(super) gummed_at: Option<DateTime<Utc>>,
    /// Its place in `History::entries`; none for a run that is only looked ahead to.
    pub(super) index: Option<usize>,
}

/// The runs that began up to a moment, by the time they began.
#[derive(Debug, Clone)]
pub(super) struct Timeline<'a> {
    pub(super) runs: Vec<Run<'a>>,
    put_downs: Vec<PutDown>,
}

/// The gum on a plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Gum {
    Never,
    On(DateTime<Utc>),
    Off(DateTime<Utc>),
}

impl<'a> Timeline<'a> {
    /// Everything that began by `at`.
    pub(super) fn until(procedure: &'a Charted, history: &'a History, at: DateTime<Utc>) -> Self {
        Self::gather(procedure, history, at, |_| true)
    }

    /// What came before a run of `step` that began at `at`, whether or not that run is in the history already.
    pub(super) fn before(
        procedure: &'a Charted,
        history: &'a History,
        step: &str,
        at: DateTime<Utc>,
    ) -> Self {
        Self::gather(procedure, history, at, |entry| entry.began < at || entry.step != step)
    }

    fn gather(
        procedure: &'a Charted,
        history: &'a History,
        at: DateTime<Utc>,
        keep: impl Fn(&Entry) -> bool,
    ) -> Self {
        let ended_by = at.checked_add_signed(TOLD_ROUNDING).unwrap_or(at);
        let entries = history.entries.iter().enumerate();
        let mut runs = Vec::with_capacity(history.entries.len());
        runs.extend(entries.filter(|(_, entry)| entry.began <= at && keep(entry)).map(|(index, entry)| {
            Run {
                key: &entry.step,
                step: procedure.find_at(&entry.step),
                began: entry.began,
                ended: entry.ended.filter(|ended| *ended <= ended_by),
                again: entry.is_to_be_done_again(at),
                gummed_at: entry.gummed_at.filter(|gummed| *gummed <= ended_by),
                index: Some(index),
            }
        }));
        runs.sort_by_key(|run| (run.began, run.ended));
        let put_downs = history.put_downs.iter().filter(|put_down| put_down.at <= at).copied().collect();
        Self { runs, put_downs }
    }

    /// The same, with room for runs that are looked ahead to.
    pub(super) fn with_room(&self, room: usize) -> Self {
        let mut runs = Vec::with_capacity(self.runs.len() + room);
        runs.extend_from_slice(&self.runs);
        Self { runs, put_downs: self.put_downs.clone() }
    }

    /// Whether the step is done: by a run of it, or of a step that counts as it.
    pub(super) fn done(&self, step: StepAt<'_>) -> bool {
        self.runs.iter().any(|run| run.counts_for(step))
    }

    /// The latest run that counts as the step.
    pub(super) fn last_done(&self, step: StepAt<'_>) -> Option<&Run<'a>> {
        self.runs.iter().rev().find(|run| run.counts_for(step))
    }

    /// How often that very step was begun.
    pub(super) fn times(&self, step: StepAt<'_>) -> usize {
        self.runs.iter().filter(|run| run.is_of(step)).count()
    }

    /// Runs not yet ended.
    pub(super) fn open(&self) -> impl Iterator<Item = &Run<'a>> {
        self.runs.iter().filter(|run| run.ended.is_none())
    }

    /// When the latest of what the words mean was over.
    pub(super) fn last_end(&self, meant: &Meant) -> Option<DateTime<Utc>> {
        let runs = self.runs.iter().filter(|run| run.is_meant(meant)).filter_map(|run| run.ended).max();
        let gum = meant.gummed.then(|| self.last_gumming()).flatten();
        runs.max(gum)
    }

    /// The same, but a run still open counts from its beginning: an addition begun has already changed the plate.
    pub(super) fn last_mark(&self, meant: &Meant) -> Option<DateTime<Utc>> {
        let begun = self.open().filter(|run| run.is_meant(meant)).map(|run| run.began).max();
        self.last_end(meant).max(begun)
    }

    /// The gum on the plate as the timeline leaves it.
    pub(super) fn gum(&self) -> Gum {
        let off = self.ungummings().max();
        match (self.last_gumming(), off) {
            (None, None) => Gum::Never,
            (Some(on), Some(off)) if on < off => Gum::Off(off),
            (Some(on), _) => Gum::On(on),
            (None, Some(off)) => Gum::Off(off),
        }
    }

    /// The put-downs, in the order given.
    pub(super) fn put_downs(&self) -> &[PutDown] {
        &self.put_downs
    }

    /// The latest moment anything was noted about the plate.
    pub(super) fn last_touch(&self) -> Option<DateTime<Utc>> {
        let runs = self.runs.iter().map(|run| run.ended.unwrap_or(run.began)).max();
        runs.max(self.put_downs.iter().map(|put_down| put_down.at).max())
    }

    /// Adds a run that is only looked ahead to, after everything else.
    pub(super) fn look_ahead(&mut self, step: StepAt<'a>, at: DateTime<Utc>) {
        let run = Run {
            key: &step.step().key,
            step: Some(step),
            began: at,
            ended: Some(at),
            again: false,
            gummed_at: None,
            index: None,
        };
        self.runs.push(run);
    }

    /// When gum was put on, in no order.
    pub(super) fn gummings(&self) -> impl Iterator<Item = DateTime<Utc>> {
        let put_downs = self.put_downs.iter().filter(|put_down| put_down.gummed).map(|put_down| put_down.at);
        self.runs.iter().filter_map(Run::gummed).chain(put_downs)
    }

    /// When gum was taken off, in the order of the runs.
    pub(super) fn ungummings(&self) -> impl Iterator<Item = DateTime<Utc>> {
        self.runs.iter().filter(|run| run.takes_gum_off()).map(|run| run.began)
    }

    fn last_gumming(&self) -> Option<DateTime<Utc>> {
        self.gummings().max()
    }
}

impl Run<'_> {
    /// Whether it is a run of that very step.
    pub(super) fn is_of(&self, step: StepAt<'_>) -> bool {
        self.step.is_some_and(|own| own.is(step))
    }

    /// Whether the words of a rule mean this run.
    fn is_meant(&self, meant: &Meant) -> bool {
        self.step.map_or_else(|| meant.has_strange(self.key), |own| meant.steps.has(own))
    }

    fn counts_for(&self, step: StepAt<'_>) -> bool {
        self.ended.is_some() && !self.again && self.step.is_some_and(|own| own.fulfils(step))
    }

    fn takes_gum_off(&self) -> bool {
        self.step.is_some_and(|step| step.takes_gum_off)
    }

    /// When the run put gum on the plate, if it did.
    fn gummed(&self) -> Option<DateTime<Utc>> {
        self.gummed_at.or_else(|| self.ended.filter(|_| self.step.is_some_and(|step| step.gums)))
    }
}
