//! From facts to one letter: what comes first, what else there is, and nothing when there is nothing to say.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use chrono_tz::Tz;
use serde::{Deserialize, Serialize};

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, PlateId, PrintId};
use crate::spelled;
use crate::trade::procedure::Grade;
use crate::trouble::Trouble;

/// A letter names at most this many things besides the first.
const MOST_ALSO: usize = 12;

/// What there is to say to a person about one class.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DailyFacts {
    pub person: PersonId,
    pub class: ClassId,
    pub class_title: String,
    /// The term's zone.
    pub zone: Tz,
    /// The local hour at which the person's letter is written.
    pub hour: u32,
    /// Plates whose gum limit is near.
    pub gum: Vec<GumNear>,
    /// Sign-offs that end before a step that needs them.
    pub expiring: Vec<Expiring>,
    /// Next steps that may begin: their rest is over, nothing is missing.
    pub ready: Vec<ReadyStep>,
    /// Prints due within 48 hours and not handed in.
    pub due_soon: Vec<DuePrint>,
    /// Next steps that only wait for a sign-off.
    pub missing_sign_offs: Vec<MissingSignOff>,
}

/// A plate whose next step may begin.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadyStep {
    pub print: PrintId,
    pub plate: PlateId,
    /// The plate's number in the class.
    pub number: i32,
    /// The print's title.
    pub title: String,
    pub step: String,
    pub due: Option<Instant>,
    /// Its latest start, where that is near.
    pub start_by: Option<Instant>,
}

/// A plate that has been under gum for almost as long as its class lets it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GumNear {
    pub plate: PlateId,
    pub number: i32,
    pub title: String,
    /// When the limit is reached.
    pub until: Instant,
}

/// A sign-off that ends before the latest start of a step that needs it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Expiring {
    pub plate: PlateId,
    pub number: i32,
    pub title: String,
    pub step: String,
    /// The topic's title.
    pub topic: String,
    /// The last moment at which it holds.
    pub until: Instant,
}

/// A print that is due soon; none when it has not been begun, only its project is known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DuePrint {
    pub print: Option<PrintId>,
    pub title: String,
    pub due: Instant,
}

/// A plate whose next step waits for a sign-off.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MissingSignOff {
    pub print: PrintId,
    pub plate: PlateId,
    pub number: i32,
    pub title: String,
    pub step: String,
    /// The topic's title.
    pub topic: String,
    /// The grade the step needs.
    pub grade: Grade,
    pub due: Option<Instant>,
}

spelled!(
    /// What an item of the letter asks for, most pressing first: what spoils a plate, what needs somebody else, then
    /// what one can do, then what is only a date.
    What {
        Gum = "gum",
        SignOff = "sign-off",
        Expiring = "expiring",
        /// Ready, and its latest start is near.
        Start = "start",
        Ready = "ready",
        Due = "due",
    }
);

/// What a daily letter's row holds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Daily {
    /// The local day it is for.
    pub date: NaiveDate,
    /// The zone its times are written in.
    pub zone: String,
    /// The local hour at which things stood as it tells.
    #[serde(default = "usual_hour")]
    pub hour: u32,
    pub first: Item,
    pub also: Vec<Item>,
    /// How many more there are.
    pub left_out: usize,
}

/// One thing to know.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Item {
    pub what: What,
    pub class: ClassId,
    pub class_title: String,
    pub plate: Option<PlateId>,
    pub number: Option<i32>,
    pub title: String,
    pub step: Option<String>,
    pub topic: Option<String>,
    pub grade: Option<Grade>,
    /// When the print is due, in milliseconds of `Instant`.
    pub due: Option<i64>,
    /// By when it is to be done, where that is sooner: a latest start, the end of a limit or of a sign-off.
    #[serde(default)]
    pub by: Option<i64>,
}

const fn usual_hour() -> u32 {
    super::FROM_HOUR
}

impl Daily {
    /// The zone its times are written in.
    ///
    /// # Errors
    /// The row names none that is known.
    pub fn zone(&self) -> Result<Tz, Trouble> {
        self.zone.parse().map_err(|_error| Trouble::broken("reading a daily letter", &self.zone))
    }

    /// The classes it speaks of.
    #[must_use]
    pub fn classes(&self) -> BTreeSet<ClassId> {
        std::iter::once(&self.first).chain(&self.also).map(|item| item.class).collect()
    }
}

/// Composes one person's letter of a day from their classes. The first item is the one to be done soonest: by its own
/// limit or latest start where one is near, else by when its print is due; among equals a missing sign-off comes before a step, because it needs somebody else. A print that has either is not named
/// once more for its date.
#[must_use]
pub fn compose(date: NaiveDate, facts: &[&DailyFacts]) -> Option<Daily> {
    let (zone, hour) = facts.first().map(|facts| (facts.zone, facts.hour))?;
    let mut items: Vec<Item> = facts.iter().flat_map(|facts| items(facts)).collect();
    items.sort_by_key(|item| (item.by.or(item.due).unwrap_or(i64::MAX), item.what, item.number));
    let mut items = items.into_iter();
    let first = items.next()?;
    let mut also: Vec<Item> = items.collect();
    let left_out = also.len().saturating_sub(MOST_ALSO);
    also.truncate(MOST_ALSO);
    Some(Daily { date, zone: zone.name().to_owned(), hour, first, also, left_out })
}

fn items(facts: &DailyFacts) -> Vec<Item> {
    let named: BTreeSet<PrintId> = facts
        .missing_sign_offs
        .iter()
        .map(|one| one.print)
        .chain(facts.ready.iter().map(|one| one.print))
        .collect();
    let due = facts
        .due_soon
        .iter()
        .filter(|one| one.print.is_none_or(|print| !named.contains(&print)))
        .map(|one| item(facts, What::Due, &one.title, Some(one.due)));
    let mut items = of_plates(facts);
    items.extend(due);
    items
}

/// An item of which only its title and date are known.
fn item(facts: &DailyFacts, what: What, title: &str, due: Option<Instant>) -> Item {
    Item {
        what,
        class: facts.class,
        class_title: facts.class_title.clone(),
        plate: None,
        number: None,
        title: title.to_owned(),
        step: None,
        topic: None,
        grade: None,
        due: due.map(Instant::millis),
        by: None,
    }
}

fn of_plates(facts: &DailyFacts) -> Vec<Item> {
    let missing = facts.missing_sign_offs.iter().map(|one| Item {
        plate: Some(one.plate),
        number: Some(one.number),
        step: Some(one.step.clone()),
        topic: Some(one.topic.clone()),
        grade: Some(one.grade),
        ..item(facts, What::SignOff, &one.title, one.due)
    });
    let ready = facts.ready.iter().map(|one| {
        let what = if one.start_by.is_some() { What::Start } else { What::Ready };
        Item {
            plate: Some(one.plate),
            number: Some(one.number),
            step: Some(one.step.clone()),
            by: one.start_by.map(Instant::millis),
            ..item(facts, what, &one.title, one.due)
        }
    });
    let gum = facts.gum.iter().map(|one| Item {
        plate: Some(one.plate),
        number: Some(one.number),
        by: Some(one.until.millis()),
        ..item(facts, What::Gum, &one.title, None)
    });
    let expiring = facts.expiring.iter().map(|one| Item {
        plate: Some(one.plate),
        number: Some(one.number),
        step: Some(one.step.clone()),
        topic: Some(one.topic.clone()),
        by: Some(one.until.millis()),
        ..item(facts, What::Expiring, &one.title, None)
    });
    missing.chain(ready).chain(gum).chain(expiring).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ids::Id;

    const NOON: i64 = 1_792_504_800_000;

    fn id<K>(n: u8) -> Id<K> {
        Id::from_uuid(uuid::Uuid::from_bytes([n; 16]))
    }

    fn nothing() -> DailyFacts {
        DailyFacts {
            person: id(1),
            class: id(2),
            class_title: "Plate lithography B".into(),
            zone: chrono_tz::America::New_York,
            hour: 7,
            gum: vec![],
            expiring: vec![],
            ready: vec![],
            due_soon: vec![],
            missing_sign_offs: vec![],
        }
    }

    fn ready(n: u8, due: Option<i64>) -> ReadyStep {
        let due = due.map(Instant::from_millis);
        let (print, plate, number) = (id(n), id(100 + n), i32::from(n));
        ReadyStep {
            print,
            plate,
            number,
            title: format!("Print {n}"),
            step: "First etch".into(),
            due,
            start_by: None,
        }
    }

    fn missing(n: u8, due: Option<i64>) -> MissingSignOff {
        let ReadyStep { print, plate, number, title, due, .. } = ready(n, due);
        let (step, topic, grade) = ("Proof".into(), "Press".into(), Grade::Watched);
        MissingSignOff { print, plate, number, title, step, topic, grade, due }
    }

    fn day() -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 10, 20).unwrap()
    }

    fn order(daily: &Daily) -> Vec<(What, Option<i32>)> {
        std::iter::once(&daily.first).chain(&daily.also).map(|item| (item.what, item.number)).collect()
    }

    #[test]
    fn nothing_to_say_makes_no_letter() {
        assert_eq!(compose(day(), &[]), None);
        assert_eq!(compose(day(), &[&nothing(), &nothing()]), None);
    }

    #[test]
    fn the_earliest_due_comes_first_and_among_equals_what_needs_somebody_else() {
        let facts = DailyFacts {
            ready: vec![ready(1, None), ready(2, Some(NOON + 9)), ready(3, Some(NOON))],
            missing_sign_offs: vec![missing(4, Some(NOON))],
            ..nothing()
        };
        let daily = compose(day(), &[&facts]).unwrap();
        assert_eq!(
            order(&daily),
            [
                (What::SignOff, Some(4)),
                (What::Ready, Some(3)),
                (What::Ready, Some(2)),
                (What::Ready, Some(1))
            ]
        );
        assert_eq!(daily.first.topic.as_deref(), Some("Press"));
        assert_eq!((daily.zone.as_str(), daily.left_out), ("America/New_York", 0));
    }

    #[test]
    fn a_limit_near_comes_before_a_date_further_off() {
        let until = Instant::from_millis(NOON - 5);
        let gum = GumNear { plate: id(103), number: 3, title: "Print 3".into(), until };
        let soon = ReadyStep { start_by: Some(Instant::from_millis(NOON - 9)), ..ready(2, Some(NOON + 99)) };
        let facts = DailyFacts { ready: vec![ready(1, Some(NOON)), soon], gum: vec![gum], ..nothing() };
        let daily = compose(day(), &[&facts]).unwrap();
        assert_eq!(order(&daily), [(What::Start, Some(2)), (What::Gum, Some(3)), (What::Ready, Some(1))]);
    }

    #[test]
    fn a_print_is_named_once() {
        let due = |print: Option<u8>| DuePrint {
            print: print.map(id),
            title: "Due".into(),
            due: Instant::from_millis(NOON),
        };
        let facts = DailyFacts {
            ready: vec![ready(1, Some(NOON))],
            due_soon: vec![due(Some(1)), due(Some(7)), due(None)],
            ..nothing()
        };
        let daily = compose(day(), &[&facts]).unwrap();
        assert_eq!(order(&daily), [(What::Ready, Some(1)), (What::Due, None), (What::Due, None)]);
    }

    #[test]
    fn a_long_list_is_cut_and_says_so() {
        let facts = DailyFacts { ready: (1..=20).map(|n| ready(n, None)).collect(), ..nothing() };
        let other = DailyFacts { class: id(9), ready: vec![ready(99, Some(NOON))], ..nothing() };
        let daily = compose(day(), &[&facts, &other]).unwrap();
        assert_eq!((daily.also.len(), daily.left_out), (MOST_ALSO, 20 - MOST_ALSO));
        assert_eq!(daily.first.class, id(9));
        assert_eq!(daily.classes().len(), 2);
        let text = serde_json::to_string(&daily).unwrap();
        assert_eq!(serde_json::from_str::<Daily>(&text).unwrap(), daily, "what the row holds comes back");
    }
}
