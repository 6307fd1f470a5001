//! Late or stuck: which plates an instructor should look at first, and why.
//!
//! Late: now is past a latest start. Stuck: ready for seven days and untouched, done three times, refused
//! twice, or lost without a successor. (House rules, common practice, no published source.)

use std::collections::BTreeMap;
use std::sync::Arc;

use chrono::{DateTime, TimeDelta, Utc};

use super::chart::StepAt;
use super::outlook::{Outlook, Seen, StepOutlook, StepState};
use super::remaining::Ahead;
use super::step::Standing;
use super::timeline::Timeline;
use super::verdict::{Case, RuleName, ended_by};
use crate::spelled;

/// How long a ready step may lie untouched.
const UNTOUCHED: TimeDelta = TimeDelta::days(7);
/// How often a step may be done before somebody should look.
const TIMES: usize = 3;
/// How often a start may be refused before somebody should look.
const REFUSALS: usize = 2;

/// What is known beside the log.
#[derive(Debug, Clone, Copy)]
pub struct Watch<'a> {
    /// When the plate was begun.
    pub begun: DateTime<Utc>,
    /// Latest starts of steps still to do, by key, as a plan has them.
    pub latest_starts: &'a LatestStarts,
    pub refusals: &'a [Refusal],
    /// Another plate takes its place.
    pub replaced: bool,
    /// The image was told lost though the plate is not scrapped.
    pub lost: bool,
}

/// Latest starts of steps, by their keys.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct LatestStarts(Vec<(Arc<str>, DateTime<Utc>)>);

impl LatestStarts {
    #[must_use]
    pub fn with_capacity(steps: usize) -> Self {
        Self(Vec::with_capacity(steps))
    }

    /// Keeps the latest start of one more step.
    pub fn insert(&mut self, key: Arc<str>, at: DateTime<Utc>) {
        self.0.push((key, at));
    }

    #[must_use]
    pub fn get(&self, key: &str) -> Option<DateTime<Utc>> {
        self.0.iter().find(|(known, _)| **known == *key).map(|(_, at)| *at)
    }
}

/// A start that was refused.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    pub step: String,
    pub at: DateTime<Utc>,
}

/// A reason to look at a plate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Flag {
    Late {
        step: String,
        latest_start: DateTime<Utc>,
    },
    Stuck {
        by: StuckBy,
        /// The step it is stuck at; none when the plate is lost.
        step: Option<String>,
        since: DateTime<Utc>,
    },
}

spelled!(
    /// Why a plate is stuck.
    StuckBy {
        Untouched = "untouched",
        DoneThreeTimes = "done_three_times",
        RefusedTwice = "refused_twice",
        Lost = "lost",
    }
);

impl Seen<'_> {
    /// The reasons to look at the plate: at most one for being late, then those for being stuck.
    #[must_use]
    pub fn late_or_stuck(&self, watch: &Watch<'_>) -> Vec<Flag> {
        let Self { case, now, line, ahead, outlook } = self;
        if let Some(since) = case.lost_since(outlook, line, *now, watch) {
            let lost = Flag::Stuck { by: StuckBy::Lost, step: None, since };
            return if watch.replaced { vec![] } else { vec![lost] };
        }
        let mut flags = Vec::new();
        flags.extend(late(ahead, *now, watch));
        flags.extend(case.untouched(outlook, line, *now, watch));
        flags.extend(case.done_three_times(outlook, line));
        if !outlook.finished {
            flags.extend(refused_twice(line, *now, watch.refusals));
        }
        flags
    }
}

fn late(ahead: &[Ahead<'_>], now: DateTime<Utc>, watch: &Watch<'_>) -> Option<Flag> {
    ahead.iter().filter(|ahead| ahead.under_way_since.is_none()).find_map(|ahead| {
        let latest_start = watch.latest_starts.get(&ahead.step.key)?;
        (now > latest_start).then(|| Flag::Late { step: ahead.step.key.clone(), latest_start })
    })
}

impl<'a> Case<'a> {
    fn untouched(
        &self,
        outlook: &Outlook,
        line: &Timeline<'a>,
        now: DateTime<Utc>,
        watch: &Watch<'_>,
    ) -> Option<Flag> {
        let next = outlook.next_step().filter(|next| could_be_done(next))?;
        let step = self.procedure.find_at(&next.key)?;
        let rested = self.rested(step, line).advised;
        let since = line.last_touch().into_iter().chain(rested).fold(watch.begun, DateTime::max);
        let long = now.signed_duration_since(since) >= UNTOUCHED;
        long.then(|| Flag::Stuck { by: StuckBy::Untouched, step: Some(next.key.to_string()), since })
    }

    /// A step of the way done three times, with nothing further on the way done since.
    fn done_three_times(&self, outlook: &Outlook, line: &Timeline<'_>) -> Option<Flag> {
        if outlook.finished {
            return None;
        }
        let on_the_way = |run: &StepAt<'_>| self.procedure.is_of_the_way(*run) && !run.beside_others;
        let last = line.runs.iter().rev().find_map(|run| run.step.filter(on_the_way))?;
        let ends = line.runs.iter().filter(|run| run.is_of(last)).filter_map(|run| run.ended);
        if ends.clone().count() < TIMES {
            return None;
        }
        let mut ends: Vec<DateTime<Utc>> = ends.collect();
        ends.sort_unstable();
        ends.get(TIMES - 1).map(|since| Flag::Stuck {
            by: StuckBy::DoneThreeTimes,
            step: Some(last.key.clone()),
            since: *since,
        })
    }

    /// Since when the plate is lost: scrapped with steps of the way undone that can no longer be done, or told so.
    fn lost_since(
        &self,
        outlook: &Outlook,
        line: &Timeline<'a>,
        now: DateTime<Utc>,
        watch: &Watch<'_>,
    ) -> Option<DateTime<Utc>> {
        let mut way = self.procedure.way_at(self.choice);
        let cut_short = outlook.standing == Standing::Scrapped
            && way.any(|step| {
                !step.optional
                    && !step.beside_others
                    && !line.done(step)
                    && !self.is_passed_over(step, None, line)
                    && ended_by(step, line).is_some()
            });
        (cut_short || watch.lost).then(|| outlook.standing_since.or(line.last_touch()).unwrap_or(now))
    }
}

/// Whether the plate itself is ready for the step; a missing sign-off is the very thing to look at.
fn could_be_done(step: &StepOutlook) -> bool {
    match step.state {
        StepState::Ready => true,
        StepState::NotYet => step.rules.contains(RuleName::SignOff) && step.rules.only(&[RuleName::SignOff]),
        _ => false,
    }
}

fn refused_twice(line: &Timeline<'_>, now: DateTime<Utc>, refusals: &[Refusal]) -> Option<Flag> {
    let since_done = |refusal: &&Refusal| {
        let last = line.runs.iter().filter(|run| run.key == refusal.step).map(|run| run.began).max();
        refusal.at <= now && last.is_none_or(|last| refusal.at > last)
    };
    let mut counted: BTreeMap<&str, Vec<DateTime<Utc>>> = BTreeMap::new();
    for refusal in refusals.iter().filter(since_done) {
        counted.entry(&refusal.step).or_default().push(refusal.at);
    }
    counted.into_iter().find_map(|(step, mut times)| {
        times.sort_unstable();
        let since = *times.get(REFUSALS - 1)?;
        Some(Flag::Stuck { by: StuckBy::RefusedTwice, step: Some(step.to_owned()), since })
    })
}
