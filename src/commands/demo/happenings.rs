//! What happened in the demo school besides work on plates: dates that moved, a press out of order, an address that the
//! mail server refuses, a draft that was thrown away, a day closed and an evening opened, a dropper weighed.

use chrono::NaiveTime;
use serde::Deserialize;

use super::calendar::stretch;
use super::school::{Founded, found};
use crate::clock::DAY_MS;
use crate::ids::PersonId;
use crate::store::classes::projects;
use crate::store::letters::resting;
use crate::store::studio::containers;
use crate::store::studio::downs::DownDraft;
use crate::store::studio::stations;
use crate::store::studio::weighings::WeighingDraft;
use crate::store::{Scope, Tx};
use crate::trade::procedure::{Procedure, Surface};
use crate::trouble::Trouble;

/// One of them, so many days ago at that time.
#[derive(Debug, Clone, Deserialize)]
pub(super) struct Happening {
    pub ago: i64,
    pub at: String,
    #[serde(flatten)]
    pub what: What,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(tag = "what", rename_all = "kebab-case")]
pub(super) enum What {
    DueMoved { project: String, to_days_ago: i64, reason: String },
    OwnDue { student: String, project: String, to_days_ago: i64, reason: String },
    Down { station: String, unit: i32, days: i64, reason: String },
    AddressRefused { student: String, said: String },
    DraftThrownAway { name: String, steps: Vec<String> },
    Closed { days_ago: i64, reason: String },
    ExtraOpening { days_ago: i64, from: String, to: String, reason: String },
    Weighed { container: String, drops: i32, milligrams: i64 },
}

impl What {
    /// Whose journal, and who did it.
    pub(super) fn whose(&self, school: &Founded) -> Result<(Scope, PersonId), Trouble> {
        Ok(match self {
            Self::DueMoved { .. } | Self::OwnDue { .. } | Self::DraftThrownAway { .. } => {
                (Scope::Class(school.class), school.person("instructor")?)
            }
            Self::Down { .. } | Self::AddressRefused { .. } | Self::Weighed { .. } => {
                (Scope::School, school.person("assistant")?)
            }
            Self::Closed { .. } | Self::ExtraOpening { .. } => (Scope::School, school.person("instructor")?),
        })
    }

    pub(super) fn act(&self, tx: &mut Tx<'_>, school: &Founded) -> Result<(), Trouble> {
        let half_past_four = NaiveTime::from_hms_opt(16, 30, 0).unwrap_or_default();
        let due = |days_ago: i64| school.calendar.date(days_ago).and_time(half_past_four);
        match self {
            Self::DueMoved { project, to_days_ago, reason } => {
                let id = found(&school.projects, project)?;
                let version = projects::project(tx.connection, school.class, id)?.version;
                tx.move_due(school.class, id, version, due(*to_days_ago), reason)
            }
            Self::OwnDue { student, project, to_days_ago, reason } => {
                let (id, person) = (found(&school.projects, project)?, school.student(student)?);
                tx.set_own_due(school.class, id, person, due(*to_days_ago), reason)
            }
            Self::Down { station, unit, days, reason } => {
                let all = stations(tx.connection, school.studio)?;
                let found = all.into_iter().find(|one| one.name == *station).ok_or(Trouble::NotFound)?;
                let to = Some(tx.now.plus_ms(days * DAY_MS));
                let draft = DownDraft { unit: *unit, from: tx.now, to, reason: reason.clone() };
                tx.set_down(school.studio, found.id, &draft).map(drop)
            }
            Self::AddressRefused { student, said } => {
                let person = school.student(student)?;
                for _ in 0..resting::REFUSALS {
                    resting::count_refusal(tx.connection, person, said)?;
                }
                // Nobody did it: the post finds out.
                tx.by = None;
                tx.rest_address(person)
            }
            Self::Closed { days_ago, reason } => {
                let day = school.calendar.date(*days_ago);
                tx.add_closures(school.studio, day, day, reason)
            }
            Self::ExtraOpening { days_ago, from, to, reason } => {
                let day = school.calendar.date(*days_ago);
                tx.add_extra_opening(school.studio, day, stretch(from, to)?, reason)
            }
            Self::Weighed { container, drops, milligrams } => {
                let id = found(&school.containers, container)?;
                let version = containers::container(tx.connection, school.studio, id)?.version;
                let draft = WeighingDraft { drops: *drops, milligrams: *milligrams, spread_hundredths: None };
                tx.weigh_drops(school.studio, id, version, &draft)
            }
            Self::DraftThrownAway { name, steps } => {
                let mut draft = Procedure::blank(name.as_str(), Surface::Plate);
                for title in steps {
                    let last = draft.steps.last().map(|step| step.key.clone());
                    draft.add_to_way(title, last.as_deref());
                }
                let id = tx.begin_procedure(school.class, &draft)?;
                tx.discard_draft(school.class, id, 1)
            }
        }
    }
}
