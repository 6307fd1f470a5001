//! The instructor's letter of a week: how the class stands on the first open day, who is late or stuck, what waits, what
//! falls due, and whether the shared places are enough.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::clock::{DAY_MS, Instant};
use crate::ids::ClassId;
use crate::post::reminders::facts::Class;
use crate::store::AnyConnection;
use crate::store::letters::daily::{self, Reader};
use crate::store::letters::{Kind, NewLetter, resting};
use crate::store::plates::class_plan::class_work;
use crate::store::plates::folder::Folder;
use crate::store::plates::procedures::Procedures;
use crate::trade::planning::press;
use crate::trade::procedure::{Flag, StepState};
use crate::trouble::Trouble;

/// The letter names at most so many plates of one kind.
const MOST: usize = 15;
const WEEK_MS: i64 = 7 * DAY_MS;

/// What a weekly letter's row holds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Week {
    pub class: ClassId,
    pub monday: NaiveDate,
    pub zone: String,
    /// When things stood so, in milliseconds of `Instant`.
    pub at: i64,
    /// Plates on their way.
    pub plates: usize,
    pub late: Group,
    pub stuck: Group,
    /// What waits for the instructor.
    pub waiting: Group,
    /// Projects due in the week, and prints with a date of their own among them.
    pub due: Vec<Due>,
    pub fits: Option<Fits>,
    /// Whose address the mail server refuses, so that no letters reach them.
    #[serde(default)]
    pub unreached: Vec<String>,
    /// The class's journal: how many acts, and the digest that seals them all.
    pub acts: i64,
    pub digest: String,
}

/// Plates of one kind: the first of them, and how many there are.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Group {
    pub count: usize,
    pub plates: Vec<Plate>,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Plate {
    pub who: String,
    pub number: i32,
    pub title: String,
    pub step: String,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Due {
    pub title: String,
    /// Milliseconds of `Instant`.
    pub at: i64,
    /// Prints not handed in.
    pub open: usize,
}

/// What the class plan counts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fits {
    pub fits: usize,
    pub asked: usize,
    /// Who is first without a place.
    pub first: Option<String>,
}

pub(super) fn letters(
    db: &mut AnyConnection,
    procedures: &Procedures,
    class: &Class<'_>,
    readers: &[Reader],
    monday: NaiveDate,
    now: Instant,
) -> Result<Vec<NewLetter>, Trouble> {
    let place = class.place;
    let (acts, digest) = daily::head(db, place.class)?;
    let mut week = Week {
        class: place.class,
        monday,
        zone: place.zone.name().to_owned(),
        at: now.millis(),
        plates: 0,
        late: Group::default(),
        stuck: Group::default(),
        waiting: Group::default(),
        due: due(class, now),
        fits: fits(db, procedures, class, now)?,
        unreached: resting::resting(db, Some(place.class))?
            .into_iter()
            .map(|one| format!("{} {}", one.given_name, one.family_name))
            .collect(),
        acts,
        digest,
    };
    sort(class, &mut week);
    let detail =
        serde_json::to_value(&week).map_err(|error| Trouble::broken("writing a weekly letter", error))?;
    let letter = |reader: &Reader| NewLetter {
        kind: Kind::Week,
        person: reader.person,
        class: Some(place.class),
        cause: Some(daily::week_cause(reader.person, place.class, monday)),
        detail: detail.clone(),
        not_before: now,
    };
    Ok(readers.iter().map(letter).collect())
}

fn sort(class: &Class<'_>, week: &mut Week) {
    for (folder, look) in &class.plates {
        if folder.replaced || folder.row.print.handed_in_at.is_some() || look.outlook.finished {
            continue;
        }
        week.plates += 1;
        let next = look.outlook.next_step();
        let waits = next.is_some_and(|next| next.waits_for_instructor && next.state == StepState::Ready);
        let late = look.flags.iter().any(|flag| matches!(flag, Flag::Late { .. }));
        let group = match (look.outlook.blocked_by.is_some() || waits, late, look.flags.is_empty()) {
            (true, _, _) => &mut week.waiting,
            (_, true, _) => &mut week.late,
            (_, _, false) => &mut week.stuck,
            _ => continue,
        };
        group.count += 1;
        if group.plates.len() < MOST {
            group.plates.push(plate(folder, next.map(|next| next.title.to_string())));
        }
    }
}

fn plate(folder: &Folder, step: Option<String>) -> Plate {
    let row = &folder.row;
    Plate {
        who: format!("{} {}", row.person.given_name, row.person.family_name),
        number: row.number,
        title: row.print.title.clone(),
        step: step.unwrap_or_default(),
    }
}

/// The projects whose prints fall due within the week, by the date of each person.
fn due(class: &Class<'_>, now: Instant) -> Vec<Due> {
    let mut found: Vec<Due> = Vec::new();
    let mut prints = std::collections::HashSet::new();
    for (folder, _) in &class.plates {
        let Some(at) = folder.due().map(|at| at.timestamp_millis()) else { continue };
        let near = now.millis() < at && at <= now.millis() + WEEK_MS;
        let open = folder.row.print.handed_in_at.is_none() && prints.insert(folder.row.print.id);
        if !near || !open {
            continue;
        }
        match found.iter_mut().find(|due| due.title == folder.row.project.title && due.at == at) {
            Some(due) => due.open += 1,
            None => found.push(Due { title: folder.row.project.title.clone(), at, open: 1 }),
        }
    }
    found.sort_by_key(|due| due.at);
    found
}

fn fits(
    db: &mut AnyConnection,
    procedures: &Procedures,
    class: &Class<'_>,
    now: Instant,
) -> Result<Option<Fits>, Trouble> {
    let place = class.place;
    let work = class_work(db, procedures, place.class, place.studio, place.zone, now, None)?;
    let Ok(Some(problem)) = work.problem(None) else { return Ok(None) };
    let answer = press::reckon(&problem);
    let first = answer.first_without_place.and_then(|number| work.prints.get(number));
    Ok(Some(Fits {
        fits: answer.fits,
        asked: problem.asked(),
        first: first.map(|print| format!("{} {}", print.given_name, print.family_name)),
    }))
}
