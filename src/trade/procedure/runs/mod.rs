//! Whole runs of plates and stones through the shipped procedures, told in local time.

mod aluminium;
mod corrections;
mod outside_rules;
mod photo_plate;
mod properties;
mod stone;
mod watching;
mod words;

use std::collections::BTreeSet;
use std::sync::Arc;

use chrono::{DateTime, Utc};
use chrono_tz::America::New_York;
use chrono_tz::Tz;

use super::*;
use crate::trade::civil;

pub(super) const CATALOGUE: &str = include_str!("../../../../templates/words/en.ftl");

/// What the catalogue's sentence of a remark asks for and is not given, or is given and does not use; empty
/// when the remark can be said. (The words themselves are floor 1; here only the fit is looked at.)
pub(super) fn unsaid(remark: &Remark) -> Vec<String> {
    let opening = format!("\n{} = ", remark.key);
    let Some(start) = CATALOGUE.find(&opening) else { return vec![remark.key.to_owned()] };
    let rest = &CATALOGUE[start + opening.len()..];
    // A message runs on over lines that begin with a space or close a choice.
    let goes_on = |line: &&str| line.starts_with([' ', '}']);
    let lines = rest.lines().take(1).chain(rest.lines().skip(1).take_while(goes_on));
    let message: String = lines.collect::<Vec<_>>().join("\n");
    let asked: BTreeSet<&str> = message
        .split('$')
        .skip(1)
        .filter_map(|after| {
            after.split(|letter: char| !letter.is_ascii_alphanumeric() && letter != '_').next()
        })
        .collect();
    let given: BTreeSet<&str> = remark.with.iter().map(|(name, _)| *name).collect();
    asked.symmetric_difference(&given).map(|name| format!("{}: {name}", remark.key)).collect()
}

/// A plate being worked, its person and its class.
#[derive(Clone)]
struct Tale {
    procedure: Charted,
    choice: ClassChoice,
    history: History,
    sign_offs: Vec<Held>,
    allowances: Vec<Allowance>,
    zone: Tz,
}

impl std::fmt::Debug for Tale {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.history.fmt(f)
    }
}

/// A local time in New York, where these tales happen.
fn at(text: &str) -> DateTime<Utc> {
    civil::instant(civil::local("at", &text.replace(' ', "T")).unwrap(), New_York)
}

fn shipped(name: &str) -> Procedure {
    let (_, text) = shipped::FILES.iter().find(|(file, _)| *file == name).unwrap();
    Procedure::from_json(text).unwrap()
}

/// The keys of the steps it waits for.
fn after_of(step: &RemainingStep) -> Vec<&str> {
    step.after.iter().map(|key| &**key).collect()
}

impl Tale {
    /// A fresh plate of a person with every sign-off.
    fn of(procedure: Procedure) -> Self {
        let held = |topic: &&str| Held {
            topic: (*topic).to_owned(),
            grade: Grade::Watched,
            from: at("2026-09-01 09:00"),
            until: None,
            withdrawn: None,
        };
        Self {
            procedure: Charted::of(procedure),
            choice: ClassChoice::default(),
            history: History::default(),
            sign_offs: shipped::TOPICS.iter().map(held).collect(),
            allowances: vec![],
            zone: New_York,
        }
    }

    fn aluminium() -> Self {
        Self::of(shipped("aluminium-plate"))
    }

    /// An aluminium plate with its first etch up and its second on it, proofed and approved by Thursday noon.
    fn approved() -> Self {
        Self::aluminium()
            .did("prepare", "2026-10-13 09:00", "2026-10-13 09:30")
            .did("draw", "2026-10-13 10:00", "2026-10-15 16:00")
            .did("first-etch", "2026-10-20 13:40", "2026-10-20 14:25")
            .did("roll-up", "2026-10-22 09:00", "2026-10-22 10:00")
            .did("second-etch", "2026-10-22 10:10", "2026-10-22 10:55")
            .did("proof", "2026-10-22 13:00", "2026-10-22 14:30")
            .did("go-ahead", "2026-10-22 14:35", "2026-10-22 14:40")
    }

    fn did(mut self, step: &str, began: &str, ended: &str) -> Self {
        self.history.entries.push(Entry::new(step, at(began), Some(at(ended))));
        self
    }

    fn began(mut self, step: &str, began: &str) -> Self {
        self.history.entries.push(Entry::new(step, at(began), None));
        self
    }

    /// Stores a run the way the store does: judged, and kept with the rules it broke.
    fn told(mut self, step: &str, began: &str, ended: &str) -> Self {
        let mut entry = Entry::new(step, at(began), Some(at(ended)));
        entry.outside = self.case().judge_done(&entry);
        self.history.entries.push(entry);
        self
    }

    fn settled(mut self, ordered: Ordered, when: &str) -> Self {
        let last = self.history.entries.last_mut().unwrap();
        last.settled = Some(Settled { at: at(when), ordered });
        self
    }

    fn put_down(mut self, when: &str, talc: bool) -> Self {
        self.history.put_downs.push(PutDown { at: at(when), gummed: true, talc });
        self
    }

    fn without(mut self, step: &str) -> Self {
        self.choice.without.push(step.to_owned());
        self
    }

    fn gum_limit(mut self, minutes: i64) -> Self {
        self.choice.gum_limit_minutes = Some(minutes);
        self
    }

    fn case(&self) -> Case<'_> {
        Case {
            procedure: &self.procedure,
            choice: &self.choice,
            history: &self.history,
            sign_offs: &self.sign_offs,
            allowances: &self.allowances,
            zone: self.zone,
        }
    }

    fn outlook(&self, now: &str) -> Outlook {
        self.case().outlook(at(now))
    }

    /// The rules that refuse a start, in words.
    fn refused(&self, step: &str, now: &str) -> Vec<&'static str> {
        use crate::trade::spelled::Spelled;
        self.case().may_start(step, at(now)).rules().into_iter().map(Spelled::word).collect()
    }

    fn state(&self, step: &str, now: &str) -> &'static str {
        self.outlook(now).step(step).unwrap().state.word()
    }

    /// Next step, the one after it, standing.
    fn stands(&self, now: &str) -> (String, String, Standing) {
        let outlook = self.outlook(now);
        let said = |key: Option<Arc<str>>| key.as_deref().unwrap_or_default().to_owned();
        (said(outlook.next), said(outlook.then), outlook.standing)
    }

    /// Keys of what is still to do.
    fn to_do(&self, now: &str) -> Vec<String> {
        self.case().remaining(at(now), 10).iter().map(|step| step.key.to_string()).collect()
    }

    fn warned(&self, step: &str, now: &str) -> Vec<WarningName> {
        self.case().may_start(step, at(now)).warnings.into_iter().map(|warning| warning.name).collect()
    }
}
