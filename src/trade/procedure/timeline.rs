//! The runs of a plate up to one moment, in order, with the questions rules ask of them.
//!
//! Also the sketch pad for looking ahead: runs that have not happened can be added at the end, so that the
//! same rules say what a plate will need next.

use std::cell::OnceCell;

use chrono::{DateTime, TimeDelta, Utc};

use super::history::{Entry, History, PutDown};
use super::order::Order;
use super::step::Step;
use super::{GUMMED, Procedure};

/// Times told afterwards are rounded: a run may be told to end this much after the next one began and still
/// count as ended before it.
pub(super) const TOLD_ROUNDING: TimeDelta = TimeDelta::minutes(15);

/// One run of a step.
#[derive(Debug, Clone)]
pub(super) struct Run<'a> {
    pub(super) key: &'a str,
    /// None when the plate's procedure has no such step.
    pub(super) step: Option<&'a Step>,
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
    procedure: &'a Procedure,
    /// Worked out when somebody asks for it first: many questions do not.
    order: OnceCell<Order<'a>>,
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
    pub(super) fn until(procedure: &'a Procedure, history: &'a History, at: DateTime<Utc>) -> Self {
        Self::gather(procedure, history, at, |_| true)
    }

    /// What came before a run of `step` that began at `at`, whether or not that run is in the history already.
    pub(super) fn before(
        procedure: &'a Procedure,
        history: &'a History,
        step: &str,
        at: DateTime<Utc>,
    ) -> Self {
        Self::gather(procedure, history, at, |entry| entry.began < at || entry.step != step)
    }

    fn gather(
        procedure: &'a Procedure,
        history: &'a History,
        at: DateTime<Utc>,
        keep: impl Fn(&Entry) -> bool,
    ) -> Self {
        let ended_by = at.checked_add_signed(TOLD_ROUNDING).unwrap_or(at);
        let mut runs: Vec<Run<'a>> = history
            .entries
            .iter()
            .enumerate()
            .filter(|(_, entry)| entry.began <= at && keep(entry))
            .map(|(index, entry)| Run {
                key: &entry.step,
                step: procedure.find(&entry.step),
                began: entry.began,
                ended: entry.ended.filter(|ended| *ended <= ended_by),
                again: entry.is_to_be_done_again(at),
                gummed_at: entry.gummed_at.filter(|gummed| *gummed <= ended_by),
                index: Some(index),
            })
            .collect();
        runs.sort_by_key(|run| (run.began, run.ended));
        let put_downs = history.put_downs.iter().filter(|put_down| put_down.at <= at).copied().collect();
        Self { runs, put_downs, procedure, order: OnceCell::new() }
    }

    /// Whether the step of that key is done: by a run of it, or of a step that counts as it.
    pub(super) fn done(&self, key: &str) -> bool {
        self.runs.iter().any(|run| run.counts_for(key))
    }

    /// The latest run that counts as the step of that key.
    pub(super) fn last_done(&self, key: &str) -> Option<&Run<'a>> {
        self.runs.iter().rev().find(|run| run.counts_for(key))
    }

    /// How often a step of that very key was begun.
    pub(super) fn times(&self, key: &str) -> usize {
        self.runs.iter().filter(|run| run.key == key).count()
    }

    /// Runs not yet ended.
    pub(super) fn open(&self) -> impl Iterator<Item = &Run<'a>> {
        self.runs.iter().filter(|run| run.ended.is_none())
    }

    /// When the latest of what these words mean was over.
    pub(super) fn last_end(&self, words: &[String]) -> Option<DateTime<Utc>> {
        let runs = self.runs.iter().filter(|run| run.answers_to_any(words)).filter_map(|run| run.ended).max();
        let gum = words.iter().any(|word| word == GUMMED).then(|| self.last_gumming()).flatten();
        runs.max(gum)
    }

    /// The same, but a run still open counts from its beginning: an addition begun has already changed the plate.
    pub(super) fn last_mark(&self, words: &[String]) -> Option<DateTime<Utc>> {
        let begun = self.open().filter(|run| run.answers_to_any(words)).map(|run| run.began).max();
        self.last_end(words).max(begun)
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

    /// Which steps come after which.
    pub(super) fn order(&self) -> &Order<'a> {
        self.order.get_or_init(|| Order::of(self.procedure))
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
    pub(super) fn look_ahead(&mut self, step: &'a Step, at: DateTime<Utc>) {
        let run = Run {
            key: &step.key,
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
    /// Whether a word in a rule means this run.
    pub(super) fn answers_to(&self, word: &str) -> bool {
        self.step.map_or(self.key == word, |step| step.answers_to(word))
    }

    pub(super) fn answers_to_any(&self, words: &[String]) -> bool {
        words.iter().any(|word| self.answers_to(word))
    }

    fn counts_for(&self, key: &str) -> bool {
        self.ended.is_some() && !self.again && self.answers_to(key)
    }

    fn takes_gum_off(&self) -> bool {
        self.step.is_some_and(|step| step.takes_gum_off)
    }

    /// When the run put gum on the plate, if it did.
    fn gummed(&self) -> Option<DateTime<Utc>> {
        self.gummed_at.or_else(|| self.ended.filter(|_| self.step.is_some_and(|step| step.gums)))
    }
}
