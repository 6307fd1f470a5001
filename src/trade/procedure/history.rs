//! What is known about one plate and the person at it: the entries of its log, where it was put down, the
//! sign-offs held, what an instructor allowed once, what the class chose.

use chrono::{DateTime, NaiveDate, Utc};
use chrono_tz::Tz;

use super::step::{Grade, SignOff, Step};
use super::verdict::RuleName;
use crate::spelled;
use crate::trade::civil;

/// One run of a step on a plate. Entries that a correction has superseded are left out by the caller.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The step's key in the plate's procedure.
    pub step: String,
    pub began: DateTime<Utc>,
    /// Not yet ended: under way. A step that may be split ends when it is told finished.
    pub ended: Option<DateTime<Utc>>,
    /// The rules it was found to break when it was stored.
    pub outside: Vec<RuleName>,
    /// What the instructor decided about an entry outside the rules.
    pub settled: Option<Settled>,
    /// When fresh gum was on the plate, if it was told; otherwise the step says whether it ends under gum.
    pub gummed_at: Option<DateTime<Utc>>,
}

/// An instructor's decision about an entry outside the rules.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Settled {
    pub at: DateTime<Utc>,
    pub ordered: Ordered,
}

spelled!(
    /// What the decision was.
    Ordered {
        /// Counts as done.
        Stands = "stands",
        /// It happened, but the step is to be done again.
        Again = "again",
    }
);

/// A plate put down at the end of a sitting.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PutDown {
    pub at: DateTime<Utc>,
    pub gummed: bool,
    /// Talced before the gum, so that an ink image can wait under gum.
    pub talc: bool,
}

/// Everything that happened to a plate, in any order.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct History {
    pub entries: Vec<Entry>,
    pub put_downs: Vec<PutDown>,
}

/// A sign-off a person holds or held.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Held {
    pub topic: String,
    pub grade: Grade,
    pub from: DateTime<Utc>,
    /// The last local day on which it is valid.
    pub until: Option<NaiveDate>,
    pub withdrawn: Option<DateTime<Utc>>,
}

/// An instructor's leave to start one step of one plate once against its rules, a missing sign-off among them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Allowance {
    pub step: String,
    pub given: DateTime<Utc>,
    pub used: Option<DateTime<Utc>>,
}

/// What a class decided about the procedure without editing it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ClassChoice {
    /// Keys of optional steps the class does without; a step that is not optional stays whatever stands here.
    pub without: Vec<String>,
    /// The class's own limit under dry gum, before the procedure's.
    pub gum_limit_minutes: Option<i64>,
}

impl Entry {
    /// An entry within the rules.
    #[must_use]
    pub fn new(step: &str, began: DateTime<Utc>, ended: Option<DateTime<Utc>>) -> Self {
        Self { step: step.to_owned(), began, ended, outside: Vec::new(), settled: None, gummed_at: None }
    }

    /// Whether it broke rules that were not settled by `at`.
    #[must_use]
    pub fn waits_at(&self, at: DateTime<Utc>) -> bool {
        !self.outside.is_empty() && self.settled.is_none_or(|settled| settled.at > at)
    }

    /// Whether, by `at`, the instructor had ordered the step to be done again.
    #[must_use]
    pub fn is_to_be_done_again(&self, at: DateTime<Utc>) -> bool {
        self.settled.is_some_and(|settled| settled.at <= at && settled.ordered == Ordered::Again)
    }
}

/// What keeps a sign-off from covering a need.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lack {
    /// Valid, but not far enough.
    Grade(Grade),
    Expired(NaiveDate),
    Withdrawn,
    Missing,
}

impl Held {
    /// Whether the sign-off covers the need at that instant; if not, what it lacks.
    ///
    /// # Errors
    /// Another topic, given later, withdrawn, past its last day in `zone`, or a lower grade.
    pub fn covers(&self, need: &SignOff, at: DateTime<Utc>, zone: Tz) -> Result<(), Lack> {
        if self.topic != need.topic || self.from > at {
            return Err(Lack::Missing);
        }
        if self.withdrawn.is_some_and(|withdrawn| withdrawn <= at) {
            return Err(Lack::Withdrawn);
        }
        match self.until.filter(|last| civil::wall(at, zone).date() > *last) {
            Some(last) => Err(Lack::Expired(last)),
            None if self.grade < need.grade => Err(Lack::Grade(self.grade)),
            None => Ok(()),
        }
    }
}

impl Allowance {
    /// Whether it was given, and not yet used up, when a run of `step` began at `at`.
    #[must_use]
    pub fn covers(&self, step: &str, at: DateTime<Utc>) -> bool {
        self.step == step && self.given <= at && self.used.is_none_or(|used| used >= at)
    }
}

impl ClassChoice {
    /// Whether the class does without the step.
    #[must_use]
    pub fn leaves_out(&self, step: &Step) -> bool {
        step.optional && self.without.contains(&step.key)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> DateTime<Utc> {
        civil::rfc3339("at", text).unwrap()
    }

    #[test]
    fn a_sign_off_covers_its_last_local_day_to_the_end() {
        let need = SignOff { topic: "press".to_owned(), grade: Grade::Watched };
        let held = Held {
            topic: "press".to_owned(),
            grade: Grade::Watched,
            from: at("2026-09-15T14:00:00Z"),
            until: NaiveDate::from_ymd_opt(2026, 11, 20),
            withdrawn: Some(at("2026-11-18T12:00:00Z")),
        };
        let kept = Held { withdrawn: None, ..held.clone() };
        let shown = Held { grade: Grade::Shown, ..kept.clone() };
        let alone = Held { grade: Grade::Alone, ..kept.clone() };
        let new_york = chrono_tz::America::New_York;
        // New York keeps UTC-5 in November, so its 20 November ends at 05:00 UTC on the 21st.
        let cases = [
            (&kept, "2026-09-15T13:59:59Z", Err(Lack::Missing)),
            (&kept, "2026-09-15T14:00:00Z", Ok(())),
            (&kept, "2026-11-21T04:59:59Z", Ok(())),
            (&kept, "2026-11-21T05:00:00Z", Err(Lack::Expired(kept.until.unwrap()))),
            (&held, "2026-11-18T11:59:59Z", Ok(())),
            (&held, "2026-11-18T12:00:00Z", Err(Lack::Withdrawn)),
            (&shown, "2026-10-01T12:00:00Z", Err(Lack::Grade(Grade::Shown))),
            (&alone, "2026-10-01T12:00:00Z", Ok(())),
        ];
        for (held, when, expected) in cases {
            assert_eq!(held.covers(&need, at(when), new_york), expected, "{when}");
        }
        assert_eq!(
            kept.covers(&need, at("2026-11-21T04:00:00Z"), chrono_tz::UTC),
            Err(Lack::Expired(kept.until.unwrap()))
        );
        let other = SignOff { topic: "solvents".to_owned(), ..need };
        assert_eq!(kept.covers(&other, at("2026-10-01T12:00:00Z"), new_york), Err(Lack::Missing));
    }

    #[test]
    fn an_allowance_is_used_up_by_the_run_that_used_it() {
        let given = Allowance { step: "edition".to_owned(), given: at("2026-11-02T10:00:00Z"), used: None };
        assert!(!given.covers("edition", at("2026-11-02T09:59:00Z")));
        assert!(given.covers("edition", at("2026-11-09T10:00:00Z")));
        assert!(!given.covers("proof", at("2026-11-09T10:00:00Z")));
        let used = Allowance { used: Some(at("2026-11-03T10:00:00Z")), ..given };
        assert!(used.covers("edition", at("2026-11-03T10:00:00Z")));
        assert!(!used.covers("edition", at("2026-11-03T10:01:00Z")));
    }
}
