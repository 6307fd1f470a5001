//! The procedure: the steps a plate or stone is carried through, the rests between them, the sign-offs they
//! need, and the rules they declare about themselves.
//!
//! A procedure is data an instructor copies and edits; nothing here knows the name of a step. What the trade
//! insists on (no roll-up before a first etch, a new etch after a counter-etch) stands in the file as rules
//! the steps declare, so a photo plate is another file and not another program. Where the shipped files take
//! a figure from print each step's `source` says so; otherwise it is common practice, no published source.
//!
//! Three kinds of limit are kept apart. A *rule* may refuse a start, and a fact that broke one is stored with
//! the rule's name and blocks what follows until settled. A *limit* (a longest rest, the same day, time under
//! gum) only warns, before and after. *Advice* (an advised rest) is counted in plans and refuses nothing.
//!
//! [`Procedure`] is the data, [`check`](check::check) says what is wrong with it, [`Charted`] is one whose rules are
//! read, [`Case`] judges one plate of one person by it.
//!
//! ```
//! use chrono::{TimeDelta, TimeZone, Utc};
//! use tympan::trade::procedure::{Case, Charted, ClassChoice, Entry, History, RuleName, shipped};
//!
//! let plate = Charted::of(shipped::procedures()?.swap_remove(0));
//! let nine = Utc.with_ymd_and_hms(2026, 10, 13, 9, 0, 0).unwrap();
//! let prepared = Entry::new("prepare", nine, Some(nine + TimeDelta::minutes(30)));
//! let history = History { entries: vec![prepared], put_downs: vec![] };
//! let case = Case {
//!     procedure: &plate,
//!     choice: &ClassChoice::default(),
//!     history: &history,
//!     sign_offs: &[],
//!     allowances: &[],
//!     zone: chrono_tz::America::New_York,
//! };
//! let noon = nine + TimeDelta::hours(3);
//! assert!(case.may_start("draw", noon).may_start());
//! assert_eq!(case.may_start("first-etch", noon).rules(), [RuleName::Order, RuleName::SignOff]);
//! # Ok::<(), tympan::trade::remark::Remark>(())
//! ```

pub mod brought;
pub mod chart;
pub mod check;
pub mod course;
pub mod flags;
pub mod history;
pub mod outlook;
pub mod remaining;
pub mod rests;
pub mod rules;
pub mod shipped;
pub mod span;
pub mod step;
pub mod verdict;
pub mod writing;

#[cfg(test)]
mod runs;
mod timeline;

use serde::{Deserialize, Serialize};

use crate::trade::remark::Remark;

pub use chart::Charted;
pub use check::check;
pub use flags::{Flag, LatestStarts, StuckBy, Watch};
pub use history::{Allowance, ClassChoice, Entry, Held, History, Ordered, PutDown, Settled};
pub use outlook::{Outlook, Seen, StepOutlook, StepState};
pub use remaining::RemainingStep;
pub use rests::{GumClock, Warning, WarningName};
pub use rules::Rules;
pub use step::{
    Grade, Hazard, Instructions, Maximum, Minutes, Need, Picture, Place, Recording, Records, Rest, Shows,
    SignOff, Standing, Step, Surface,
};
pub use verdict::{Broken, Case, RuleName, Verdict};

/// The word in a rule that means any gumming: a step that ends under gum, a gumming told with an entry, or a
/// plate put down gummed.
pub const GUMMED: &str = "gummed";

/// What is done to one kind of plate or stone, in which order and under which rules.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Procedure {
    pub name: String,
    pub surface: Surface,
    /// A few sentences for whoever chooses or edits it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub about: String,
    /// The longest a plate may lie under dry gum, in minutes of the clock; a class may set its own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gum_limit_minutes: Option<i64>,
    /// The way through, in the order people read it; `Step::after` says what really waits for what.
    pub steps: Vec<Step>,
    /// Steps that stand outside the way and may be done any time their own rules allow: corrections, gum
    /// again, cancel, scrap.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub any_time: Vec<Step>,
}

impl Procedure {
    /// Reads a procedure as it is stored.
    ///
    /// # Errors
    /// The text is not the JSON of a procedure; the remark carries the place and the problem.
    pub fn from_json(text: &str) -> Result<Self, Remark> {
        serde_json::from_str(text)
            .map_err(|problem| Remark::new("procedure-not-json").with("problem", problem.to_string()))
    }

    /// The step of that key, on the way or any-time.
    #[must_use]
    pub fn find(&self, key: &str) -> Option<&Step> {
        self.all().find(|step| step.key == key)
    }

    /// Every step: the way first, then the any-time steps.
    pub fn all(&self) -> impl Iterator<Item = &Step> {
        self.steps.iter().chain(&self.any_time)
    }

    /// Of the steps whose longest rest is the limit under dry gum, the one with the longest shortest rest: a limit below
    /// that leaves no way to do it.
    #[must_use]
    pub fn longest_under_gum(&self) -> Option<&Step> {
        let limited = self.all().filter(|step| step.rest.maximum == Some(Maximum::UnderGum));
        limited.max_by_key(|step| step.rest.minimum)
    }

    /// The step in which the edition gets its numbers, if the procedure has one.
    #[must_use]
    pub fn numbering_step(&self) -> Option<&Step> {
        self.all().find(|step| step.numbers_edition)
    }

    /// The steps of the way a class keeps.
    pub fn way<'a>(&'a self, choice: &'a ClassChoice) -> impl Iterator<Item = &'a Step> {
        self.steps.iter().filter(|step| !choice.leaves_out(step))
    }

    /// Whether `step` comes, over however many steps, after the step of key `before`.
    pub(in crate::trade::procedure) fn comes_after(&self, step: &Step, before: &str) -> bool {
        // Few steps: a list is quicker to look through than a tree is to build.
        let mut open: Vec<&str> = step.after.iter().map(String::as_str).collect();
        let mut next = 0;
        while let Some(key) = open.get(next).copied() {
            if key == before {
                return true;
            }
            next += 1;
            for key in self.find(key).map_or(&[][..], |step| &step.after) {
                if !open.contains(&key.as_str()) {
                    open.push(key);
                }
            }
        }
        false
    }
}
