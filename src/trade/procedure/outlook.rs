//! How a plate stands and what can be done on it now: the state of each step, the next one, the gum clock.

use std::sync::Arc;

use chrono::{DateTime, Utc};

use super::chart::{Names, StepAt};
use super::remaining::Ahead;
use super::rests::{GumClock, Warning};
use super::rules::Rules;
use super::step::{Place, Standing};
use super::timeline::Timeline;
use super::verdict::{Case, RuleName};

/// A plate at one moment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outlook {
    /// The way the class keeps, then the any-time steps.
    pub steps: Vec<StepOutlook>,
    /// The key of the step to do next: the one under way, else the first that is ready, else the first ahead.
    pub next: Option<Arc<str>>,
    /// What comes after it.
    pub then: Option<Arc<str>>,
    /// Steps ahead that can be done beside the others.
    pub beside: Vec<Arc<str>>,
    pub standing: Standing,
    pub standing_since: Option<DateTime<Utc>>,
    pub gum: GumClock,
    /// What to know about the plate itself, whatever comes next.
    pub warnings: Vec<Warning>,
    /// The place in `History::entries` of the first entry outside the rules that waits to be settled.
    pub blocked_by: Option<usize>,
    /// Nothing is left to do.
    pub finished: bool,
}

/// How a plate stands, without a word about its steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stands {
    pub standing: Standing,
    pub since: Option<DateTime<Utc>>,
    /// The last gumming, while that gum is still on the plate.
    pub gummed: Option<DateTime<Utc>>,
}

/// One step at one moment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepOutlook {
    pub key: Arc<str>,
    pub title: Arc<str>,
    pub state: StepState,
    /// How often it was begun.
    pub times: usize,
    /// The rules that refuse its start now, also of a step that is done, since it may be done again;
    /// [`Case::may_start`] says why.
    pub rules: Rules,
    pub waits_for_instructor: bool,
    /// On the way, or any time.
    pub on_the_way: bool,
    /// Not done and no longer asked: the plate went on without it, or can go no further.
    pub passed_over: bool,
}

/// The state of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StepState {
    NotYet,
    Ready,
    /// The shortest rest (`by_rule`) or the advised one is not over.
    Resting {
        until: DateTime<Utc>,
        by_rule: bool,
    },
    UnderWay {
        since: DateTime<Utc>,
    },
    Done {
        at: DateTime<Utc>,
    },
    /// Done against a rule or past a limit; settling it does not unmake it.
    DoneOutside {
        at: DateTime<Utc>,
    },
}

impl StepOutlook {
    /// Whether nothing refuses its start now.
    #[must_use]
    pub fn may_start(&self) -> bool {
        self.rules.is_empty()
    }
}

impl StepState {
    /// The state's fixed word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::NotYet => "not_yet",
            Self::Ready => "ready",
            Self::Resting { .. } => "resting",
            Self::UnderWay { .. } => "under_way",
            Self::Done { .. } => "done",
            Self::DoneOutside { .. } => "done_outside",
        }
    }
}

impl Outlook {
    /// The step of that key.
    #[must_use]
    pub fn step(&self, key: &str) -> Option<&StepOutlook> {
        self.steps.iter().find(|step| *step.key == *key)
    }

    /// The next step.
    #[must_use]
    pub fn next_step(&self) -> Option<&StepOutlook> {
        self.next.as_deref().and_then(|key| self.step(key))
    }

    /// The next step for whoever asks: for a student, one that waits for the instructor gives way to another on the way
    /// that is ready.
    #[must_use]
    pub fn next_for(&self, instructor: bool) -> Option<&StepOutlook> {
        let next = self.next_step()?;
        if instructor || !next.waits_for_instructor {
            return Some(next);
        }
        let own = |step: &&StepOutlook| {
            step.on_the_way && step.state == StepState::Ready && !step.waits_for_instructor
        };
        self.steps.iter().find(own).or(Some(next))
    }
}

/// A plate seen at one moment: what the questions about it have in common, worked out once.
#[derive(Debug, Clone)]
pub struct Seen<'a> {
    pub(super) case: Case<'a>,
    pub(super) now: DateTime<Utc>,
    pub(super) line: Timeline<'a>,
    pub(super) ahead: Vec<Ahead<'a>>,
    pub outlook: Outlook,
}

impl<'a> Case<'a> {
    /// The plate at `now`, for several questions.
    #[must_use]
    pub fn seen(&self, now: DateTime<Utc>) -> Seen<'a> {
        let line = Timeline::until(self.procedure, self.history, now);
        let ahead = self.ahead(&line, now);
        let outlook = self.outlook_of(&line, &ahead, now);
        Seen { case: *self, now, line, ahead, outlook }
    }

    /// How the plate stands at `now`.
    #[must_use]
    pub fn outlook(&self, now: DateTime<Utc>) -> Outlook {
        self.seen(now).outlook
    }

    fn outlook_of(&self, line: &Timeline<'a>, ahead: &[Ahead<'a>], now: DateTime<Utc>) -> Outlook {
        let way = self.procedure.way_at(self.choice);
        let any_time = self.procedure.steps_at().filter(|step| !self.procedure.is_of_the_way(*step));
        let mut steps = Vec::with_capacity(self.procedure.all().count());
        steps.extend(way.chain(any_time).map(|step| self.step_outlook(step, ahead, line, now)));
        let (standing, standing_since) = standing(line);
        let next = next_of(ahead, &steps);
        Outlook {
            then: next.and_then(|at| {
                in_turn(ahead).filter(|(other, _)| *other > at).map(|(_, it)| key_of(it)).next()
            }),
            next: next.and_then(|at| ahead.get(at)).map(key_of),
            beside: ahead.iter().filter(|it| it.step.beside_others).map(key_of).collect(),
            standing,
            standing_since,
            gum: self.gum_clock(line),
            warnings: self.gum_warning(line, now).filter(|_| !standing.is_over()).into_iter().collect(),
            blocked_by: self.blocked_by(line, now),
            finished: ahead.is_empty(),
            steps,
        }
    }

    /// How the plate stands at `now`, as `outlook` says it, for a small part of the work.
    #[must_use]
    pub fn stands(&self, now: DateTime<Utc>) -> Stands {
        let line = Timeline::until(self.procedure, self.history, now);
        let (standing, since) = standing(&line);
        Stands { standing, since, gummed: self.gum_clock(&line).gummed }
    }

    fn step_outlook(
        &self,
        step: StepAt<'a>,
        ahead: &[Ahead<'a>],
        line: &Timeline<'a>,
        now: DateTime<Utc>,
    ) -> StepOutlook {
        let rules = self.broken_rules(step, line, now);
        let is_ahead = ahead.iter().any(|it| it.step.is(step));
        let on_the_way = self.procedure.is_of_the_way(step);
        let Names { key, title, .. } = step.names();
        StepOutlook {
            key: key.clone(),
            title: title.clone(),
            state: self.state(step, is_ahead, rules, line, now),
            times: line.times(step),
            rules,
            waits_for_instructor: step.place == Place::Instructor,
            on_the_way,
            passed_over: on_the_way && !is_ahead && !line.done(step),
        }
    }

    fn state(
        &self,
        step: StepAt<'a>,
        is_ahead: bool,
        rules: Rules,
        line: &Timeline<'a>,
        now: DateTime<Utc>,
    ) -> StepState {
        if let Some(run) = line.open().find(|run| run.is_of(step)) {
            return StepState::UnderWay { since: run.began };
        }
        if let Some(done) = line.last_done(step).filter(|_| !is_ahead) {
            let at = done.ended.unwrap_or(done.began);
            let outside = done
                .index
                .and_then(|index| self.history.entries.get(index))
                .is_some_and(|entry| !entry.outside.is_empty() || self.went_past_a_limit(entry));
            return if outside { StepState::DoneOutside { at } } else { StepState::Done { at } };
        }
        let rested = self.rested(step, line);
        if let Some(until) = rested.rule.filter(|until| now < *until) {
            return if rules.only(&[RuleName::Rest]) {
                StepState::Resting { until, by_rule: true }
            } else {
                StepState::NotYet
            };
        }
        match rested.advised.filter(|until| now < *until) {
            _ if !rules.is_empty() => StepState::NotYet,
            Some(until) => StepState::Resting { until, by_rule: false },
            None => StepState::Ready,
        }
    }
}

/// Where the plate stands, and since when.
pub(super) fn standing(line: &Timeline<'_>) -> (Standing, Option<DateTime<Utc>>) {
    let room = 2 * line.runs.len() + line.put_downs().len();
    let mut events: Vec<(DateTime<Utc>, Option<Standing>)> = Vec::with_capacity(room);
    for run in &line.runs {
        let leaves = run.step.and_then(|step| step.leaves);
        events.extend(run.ended.zip(leaves).map(|(ended, leaves)| (ended, Some(leaves))));
        // Gum told with an entry comes after the step it was told with, whatever its minute.
        events
            .extend(run.gummed_at.map(|gummed| (run.ended.map_or(gummed, |ended| ended.max(gummed)), None)));
    }
    events.extend(line.put_downs().iter().filter(|it| it.gummed).map(|it| (it.at, None)));
    events.sort_by_key(|(at, leaves)| (*at, leaves.is_none()));
    let mut standing = (Standing::Bare, None);
    for (at, leaves) in events {
        // Gum over an unetched drawing protects borders and leaves it a drawing; what is put away stays so.
        let gummed = matches!(standing.0, Standing::Etched | Standing::RolledUp | Standing::Pulled);
        match leaves {
            Some(leaves) if leaves != standing.0 => standing = (leaves, Some(at)),
            None if gummed => standing = (Standing::UnderGum, Some(at)),
            _ => {}
        }
    }
    standing
}

/// The place in `ahead` of the step to do next.
fn next_of(ahead: &[Ahead<'_>], steps: &[StepOutlook]) -> Option<usize> {
    let state = |it: &Ahead<'_>| steps.iter().find(|step| *step.key == *it.step.key).map(|step| step.state);
    let first = |wanted: fn(&StepState) -> bool| {
        in_turn(ahead).find(|(_, it)| state(it).as_ref().is_some_and(wanted)).map(|(at, _)| at)
    };
    first(|state| matches!(state, StepState::UnderWay { .. }))
        .or_else(|| first(|state| *state == StepState::Ready))
        .or_else(|| in_turn(ahead).next().map(|(at, _)| at))
        .or(if ahead.is_empty() { None } else { Some(0) })
}

/// The steps ahead that are done one after the other, with their places.
fn in_turn<'s, 'a>(ahead: &'s [Ahead<'a>]) -> impl Iterator<Item = (usize, &'s Ahead<'a>)> {
    ahead.iter().enumerate().filter(|(_, it)| !it.step.beside_others)
}

fn key_of(ahead: &Ahead<'_>) -> Arc<str> {
    ahead.step.names().key.clone()
}
