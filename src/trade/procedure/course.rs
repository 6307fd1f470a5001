//! What became of a plate between its runs: the rests it was given and the times it lay under gum, for a picture of its
//! whole course.

use chrono::{DateTime, Utc};

use super::chart::StepAt;
use super::timeline::Timeline;
use super::verdict::Case;

/// A stretch of a plate's time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stretch {
    pub from: DateTime<Utc>,
    /// None: it goes on.
    pub to: Option<DateTime<Utc>>,
}

/// A rest before a step: from what it counts from to its end, or to the step's beginning where that came first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rest {
    /// The key of the step it comes before.
    pub before: String,
    pub from: DateTime<Utc>,
    pub to: DateTime<Utc>,
}

/// The course of a plate up to a moment.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Course {
    /// Those before steps that were begun, in order, then the one that runs.
    pub rests: Vec<Rest>,
    pub under_gum: Vec<Stretch>,
}

impl Case<'_> {
    /// Rests and gum up to `now`.
    #[must_use]
    pub fn course(&self, now: DateTime<Utc>) -> Course {
        let line = Timeline::until(self.procedure, self.history, now);
        let mut rests: Vec<Rest> = Vec::new();
        for run in &line.runs {
            let Some(step) = run.step else { continue };
            let before = Timeline::before(self.procedure, self.history, run.key, run.began);
            rests.extend(self.rest_of(step, &before).map(|rest| Rest { to: rest.to.min(run.began), ..rest }));
        }
        // Of the steps ahead the first alone: what comes later counts its rest from something still to be done.
        let next =
            self.ahead(&line, now).into_iter().map(|ahead| ahead.step).find(|step| !step.beside_others);
        rests.extend(next.and_then(|step| self.rest_of(step, &line)).filter(|rest| now < rest.to));
        rests.retain(|rest| rest.from < rest.to);
        rests.dedup();
        Course { rests, under_gum: line.under_gum() }
    }

    fn rest_of(&self, step: StepAt<'_>, line: &Timeline<'_>) -> Option<Rest> {
        let rested = self.rested(step, line);
        let (from, to) = rested.began.zip(rested.advised.max(rested.rule))?;
        Some(Rest { before: step.key.clone(), from, to })
    }
}

impl Timeline<'_> {
    /// The times under gum: from a gumming to the step that takes the gum off. Gum upon gum is one stretch.
    fn under_gum(&self) -> Vec<Stretch> {
        let on = self.gummings().map(|at| (at, true));
        let mut events: Vec<(DateTime<Utc>, bool)> =
            on.chain(self.ungummings().map(|at| (at, false))).collect();
        // Off before on at the same moment, as where a step ends under gum at the minute it began.
        events.sort_unstable();
        let mut stretches: Vec<Stretch> = Vec::new();
        for (at, on) in events {
            match stretches.last_mut().filter(|last| last.to.is_none()) {
                Some(last) if !on => last.to = Some(at),
                None if on => stretches.push(Stretch { from: at, to: None }),
                _ => {}
            }
        }
        stretches
    }
}

#[cfg(test)]
mod tests {
    use chrono::TimeDelta;

    use super::*;
    use crate::trade::civil;
    use crate::trade::procedure::{Charted, ClassChoice, Entry, History, PutDown, shipped};

    fn at(text: &str) -> DateTime<Utc> {
        civil::rfc3339("at", text).unwrap()
    }

    fn course(history: &History, now: &str) -> Course {
        let procedure = Charted::of(shipped::procedures().unwrap().swap_remove(0));
        let case = Case {
            procedure: &procedure,
            choice: &ClassChoice::default(),
            history,
            sign_offs: &[],
            allowances: &[],
            zone: chrono_tz::America::New_York,
        };
        case.course(at(now))
    }

    fn run(step: &str, began: &str, minutes: i64) -> Entry {
        Entry::new(step, at(began), Some(at(began) + TimeDelta::minutes(minutes)))
    }

    #[test]
    fn a_rest_ends_by_itself_or_with_the_step_it_comes_before() {
        let etched = vec![
            run("prepare", "2026-10-13T13:00:00Z", 30),
            run("draw", "2026-10-13T14:00:00Z", 240),
            run("first-etch", "2026-10-14T13:00:00Z", 45),
        ];
        // The shipped plate rests by advice: 12 hours from drawing to the first etch, one hour from there to the roll-up.
        let rest =
            |before: &str, from: &str, to: &str| Rest { before: before.into(), from: at(from), to: at(to) };
        let first = rest("first-etch", "2026-10-13T18:00:00Z", "2026-10-14T06:00:00Z");
        let history = History { entries: etched.clone(), put_downs: vec![] };
        let ahead = rest("roll-up", "2026-10-14T13:45:00Z", "2026-10-14T14:45:00Z");
        assert_eq!(course(&history, "2026-10-14T14:00:00Z").rests, [first.clone(), ahead]);
        let over = course(&history, "2026-10-14T14:45:00Z").rests;
        assert_eq!(
            over,
            std::slice::from_ref(&first),
            "a rest that is over and led to nothing yet is no rest before a step"
        );
        let early = [etched, vec![run("roll-up", "2026-10-14T14:15:00Z", 60)]].concat();
        let early = course(&History { entries: early, put_downs: vec![] }, "2026-10-14T15:30:00Z").rests;
        let cut = rest("roll-up", "2026-10-14T13:45:00Z", "2026-10-14T14:15:00Z");
        assert_eq!(early.get(..2), Some(&[first, cut][..]), "{early:?}");
    }

    #[test]
    fn gum_goes_on_and_off_and_gum_upon_gum_is_one_stretch() {
        let down = |when: &str, gummed| PutDown { at: at(when), gummed, talc: false };
        let history = History {
            entries: vec![run("roll-up", "2026-10-15T13:00:00Z", 60)],
            put_downs: vec![
                down("2026-10-13T13:00:00Z", false),
                down("2026-10-14T13:00:00Z", true),
                down("2026-10-14T14:00:00Z", true),
                down("2026-10-16T14:00:00Z", true),
            ],
        };
        let found = course(&history, "2026-10-18T15:00:00Z").under_gum;
        assert_eq!(
            found.first().map(|one| (one.from, one.to)),
            Some((at("2026-10-14T13:00:00Z"), Some(at("2026-10-15T13:00:00Z"))))
        );
        assert_eq!(found.last().map(|one| one.to), Some(None), "it lies under gum: {found:?}");
        assert!(course(&History::default(), "2026-10-18T15:00:00Z") == Course::default());
        let until = course(&history, "2026-10-14T15:00:00Z").under_gum;
        assert_eq!(until.len(), 1, "what is still to come is not there: {until:?}");
    }
}
