//! What is still to do on a plate, in order: the rest of the way, and whatever its rules call for in between
//! (an etch and a new roll-up after an addition), in a form a planner can take over without knowing rules.
//!
//! The order is found by looking ahead: each step is written down as if done, and the same rules that judge
//! real runs say what has to come before the next one.

use std::collections::BTreeMap;
use std::sync::Arc;

use chrono::{DateTime, TimeDelta, Utc};
use smallvec::{SmallVec, smallvec};

use super::chart::{Meant, Names, Needed, StepAt};
use super::outlook::Seen;
use super::rests::Rested;
use super::step::{Maximum, Place};
use super::timeline::{Run, Timeline};
use super::verdict::{Case, ended_by, has_ended};

/// As many steps as one waits for directly; hardly ever more than three.
type Few<'a> = SmallVec<[StepAt<'a>; 3]>;

/// One step still to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RemainingStep {
    pub key: Arc<str>,
    pub title: Arc<str>,
    /// Hands-on minutes for the sheets asked; whole, also for a step under way.
    pub minutes: i64,
    pub may_split: bool,
    pub beside_others: bool,
    pub place: Arc<Place>,
    /// Keys of steps in the same list it waits for.
    pub after: Arc<[Arc<str>]>,
    /// Clock minutes to count between the last of `after` and this step: the advised rest, or the shortest if longer.
    pub wait_minutes: i64,
    /// The shortest rest alone.
    pub minimum_wait_minutes: i64,
    /// The longest rest, when it is a length of time and begins in the list.
    pub maximum_wait_minutes: Option<i64>,
    /// Belongs to the local day on which its rest begins.
    pub same_day: bool,
    /// The end of an advised (or shortest) rest that already runs.
    pub not_before: Option<DateTime<Utc>>,
    /// The end of a longest rest that already runs.
    pub latest_by: Option<DateTime<Utc>>,
    pub under_way_since: Option<DateTime<Utc>>,
    /// Not on the way from here, but called for by a rule: a correction's consequence.
    pub called_for: bool,
}

/// A step ahead, with what it hangs on.
#[derive(Debug, Clone)]
pub(super) struct Ahead<'a> {
    pub(super) step: StepAt<'a>,
    pub(super) under_way_since: Option<DateTime<Utc>>,
    pub(super) called_for: bool,
    after: Few<'a>,
    /// Its rest begins with a step in the list.
    rests_from_ahead: bool,
}

impl<'a> Case<'a> {
    /// The steps still to do at `now`; see [`Seen::remaining`].
    #[must_use]
    pub fn remaining(&self, now: DateTime<Utc>, sheets: u32) -> Vec<RemainingStep> {
        self.seen(now).remaining(sheets)
    }

    /// The steps ahead of a plate that stands where `line` leaves it.
    pub(super) fn ahead(&self, line: &Timeline<'a>, now: DateTime<Utc>) -> Vec<Ahead<'a>> {
        let room = self.procedure.steps.len() + 1;
        let mut sketch = Sketch {
            case: *self,
            now: line,
            line: line.with_room(room),
            at: now,
            out: Vec::with_capacity(room),
            stack: SmallVec::new(),
        };
        sketch.end_what_is_under_way();
        for step in self.procedure.way_at(self.choice) {
            let open = !sketch.line.done(step) && !self.is_passed_over(step, None, line);
            if open && !sketch.is_cut_off(step) {
                sketch.place(step, false);
            }
        }
        sketch.out
    }

    /// Whether the plate went on without this step: one that comes after it was begun, itself and not one that
    /// counts as it (a plate scrapped before its edition did not go on without the edition), and other than
    /// `but`, for a step that was allowed once does not allow itself the next time. Not when the instructor
    /// ordered the step itself to be done again.
    pub(super) fn is_passed_over(
        &self,
        step: StepAt<'_>,
        but: Option<StepAt<'_>>,
        line: &Timeline<'_>,
    ) -> bool {
        let went_on = |run: &Run<'_>| {
            let later = run.step.filter(|later| !run.again && later.comes_after(step));
            later.is_some_and(|later| !but.is_some_and(|but| but.is(later)) && self.keeps_on_the_way(later))
        };
        line.runs.iter().any(went_on)
            && !line.runs.iter().rev().find(|run| run.is_of(step)).is_some_and(|run| run.again)
    }

    /// Whether a step of the procedure is one of the way, and one the class keeps.
    fn keeps_on_the_way(&self, step: StepAt<'_>) -> bool {
        self.procedure.is_of_the_way(step) && !self.choice.leaves_out(&step)
    }

    fn spell_out(&self, ahead: &Ahead<'a>, line: &Timeline<'a>, sheets: u32) -> RemainingStep {
        let step = ahead.step;
        let rested = if ahead.rests_from_ahead { Rested::default() } else { self.rested(step, line) };
        let minimum = step.rest.minimum.max(0);
        let hangs = ahead.rests_from_ahead;
        let Names { key, title, place } = step.names().clone();
        RemainingStep {
            key,
            title,
            minutes: step.hands_on(sheets),
            may_split: step.may_split,
            beside_others: step.beside_others,
            place,
            after: ahead.after.iter().map(|before| before.names().key.clone()).collect(),
            wait_minutes: if hangs { step.rest.advised.max(minimum) } else { 0 },
            minimum_wait_minutes: if hangs { minimum } else { 0 },
            maximum_wait_minutes: step.rest.maximum.filter(|_| hangs).and_then(|maximum| match maximum {
                Maximum::Minutes(minutes) => Some(minutes),
                Maximum::UnderGum => self.gum_limit_minutes(),
                Maximum::SameDay { .. } => None,
            }),
            same_day: matches!(step.rest.maximum, Some(Maximum::SameDay { .. })),
            not_before: rested.advised,
            latest_by: if hangs { None } else { self.latest_by(step, line) },
            under_way_since: ahead.under_way_since,
            called_for: ahead.called_for,
        }
    }
}

impl Seen<'_> {
    /// The steps still to do, for an edition of that many sheets. Empty when the plate is through, or can go no further.
    #[must_use]
    pub fn remaining(&self, sheets: u32) -> Vec<RemainingStep> {
        self.ahead.iter().map(|ahead| self.case.spell_out(ahead, &self.line, sheets)).collect()
    }
}

/// The plate as it will be, with the steps placed so far.
struct Sketch<'c, 'a> {
    case: Case<'a>,
    /// The plate as it is.
    now: &'c Timeline<'a>,
    line: Timeline<'a>,
    at: DateTime<Utc>,
    out: Vec<Ahead<'a>>,
    /// The numbers of steps being placed, so that two rules that call for each other come to an end.
    stack: SmallVec<[usize; 8]>,
}

impl<'a> Sketch<'_, 'a> {
    fn end_what_is_under_way(&mut self) {
        for run in self.line.runs.iter_mut().filter(|run| run.ended.is_none()) {
            run.ended = Some(self.at);
            // Begun twice and never ended is still one step under way.
            let Some(step) = run.step.filter(|step| self.out.iter().all(|ahead| !ahead.step.is(*step)))
            else {
                continue;
            };
            let under_way_since = Some(run.began);
            self.out.push(Ahead {
                step,
                under_way_since,
                called_for: false,
                after: smallvec![],
                rests_from_ahead: false,
            });
        }
    }

    /// Writes down `step`, and before it what it waits for and what its rules call for. A step under way serves
    /// for every need of it.
    fn place(&mut self, step: StepAt<'a>, called_for: bool) {
        if self.out.iter().any(|ahead| ahead.step.is(step)) {
            return;
        }
        self.stack.push(step.number);
        let case = self.case;
        let lacking: Few<'a> = case.lacking(step, &self.line).collect();
        for before in lacking {
            if ended_by(before, &self.line).is_none() && !self.stack.contains(&before.number) {
                self.place(before, true);
            }
        }
        for needed in step.needed() {
            if self.case.is_unmet(step, needed, &self.line)
                && let Some(first) = self.choose(needed.need.of())
            {
                self.place(first, true);
            }
        }
        self.stack.pop();
        let (after, rests_from_ahead) = self.hangs_on(step);
        self.out.push(Ahead { step, under_way_since: None, called_for, after, rests_from_ahead });
        self.at = self.at.checked_add_signed(TimeDelta::milliseconds(1)).unwrap_or(self.at);
        self.line.look_ahead(step, self.at);
    }

    /// Whether an end was reached that keeps the step, or one it still waits for, from ever being done.
    fn is_cut_off(&self, step: StepAt<'a>) -> bool {
        if !has_ended(&self.line) {
            return false;
        }
        let mut seen: Vec<usize> = Vec::new();
        let mut open = vec![step];
        while let Some(step) = open.pop() {
            if ended_by(step, &self.line).is_some() {
                return true;
            }
            seen.push(step.number);
            let lacking = self.case.lacking(step, &self.line);
            open.extend(lacking.filter(|before| !seen.contains(&before.number)));
        }
        false
    }

    /// The step that will answer a rule: by the order of its words, then by the order of the procedure.
    fn choose(&self, words: &[String]) -> Option<StepAt<'a>> {
        let kept = |step: &StepAt<'a>| !self.case.choice.leaves_out(step);
        let mut found = words.iter().flat_map(|word| {
            self.case.procedure.steps_at().filter(kept).filter(move |step| step.answers_to(word))
        });
        let mut tried: BTreeMap<usize, bool> = self.stack.iter().map(|number| (*number, false)).collect();
        found.find(|step| self.can_be_placed(*step, &mut tried))
    }

    /// Whether a step can be written down next, with what it waits for and needs. Each step is tried once: one
    /// that is being tried cannot come before itself.
    fn can_be_placed(&self, step: StepAt<'a>, tried: &mut BTreeMap<usize, bool>) -> bool {
        if let Some(known) = tried.get(&step.number) {
            return *known;
        }
        tried.insert(step.number, false);
        let mut lacking = self.case.lacking(step, &self.line);
        let can = ended_by(step, &self.line).is_none()
            && lacking.all(|before| self.can_be_placed(before, tried))
            && step.needed().all(|needed| self.can_be_met(step, needed, tried));
        tried.insert(step.number, can);
        can
    }

    fn can_be_met(&self, step: StepAt<'a>, needed: Needed<'a>, tried: &mut BTreeMap<usize, bool>) -> bool {
        let answers = |other: &StepAt<'a>| !self.case.choice.leaves_out(other) && needed.of.steps.has(*other);
        !self.case.is_unmet(step, needed, &self.line)
            || self.case.procedure.steps_at().filter(answers).any(|other| self.can_be_placed(other, tried))
    }

    /// Which steps of the list `step` waits for, and whether its rest begins with one of them.
    fn hangs_on(&self, step: StepAt<'a>) -> (Few<'a>, bool) {
        let mut after: Few<'a> = SmallVec::new();
        let mut add = |before: StepAt<'a>| {
            if !before.is(step) && after.iter().all(|known| !known.is(before)) {
                after.push(before);
            }
        };
        for before in self.case.procedure.waits_for(step, self.case.choice) {
            if let Some(ahead) = self.last_ahead(|ahead| ahead.fulfils(before)) {
                add(ahead);
            }
        }
        for needed in step.needed().filter(|needed| self.is_answered_ahead(step, *needed)) {
            if let Some(ahead) = self.last_meant(needed.of) {
                add(ahead);
            }
        }
        let rest = self.last_meant(step.rests_from());
        if let Some(ahead) = rest {
            add(ahead);
        }
        (after, rest.is_some())
    }

    /// Whether a rule is open as the plate stands, or is called for by a step of the list.
    fn is_answered_ahead(&self, step: StepAt<'_>, needed: Needed<'_>) -> bool {
        self.case.is_unmet(step, needed, self.now) || self.last_meant(needed.since).is_some()
    }

    fn last_meant(&self, meant: &Meant) -> Option<StepAt<'a>> {
        self.last_ahead(|ahead| meant.steps.has(ahead))
    }

    fn last_ahead(&self, answers: impl Fn(StepAt<'a>) -> bool) -> Option<StepAt<'a>> {
        self.out.iter().rev().map(|ahead| ahead.step).find(|step| answers(*step))
    }
}
