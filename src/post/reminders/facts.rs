//! The facts of the daily letters, from the record: what each plate's procedure says may be done next, what is due, which
//! sign-off is missing.

use std::collections::{BTreeMap, HashSet};

use crate::clock::{DAY_MS, Instant};
use crate::ids::PersonId;
use crate::post::reminders::FROM_HOUR;
use crate::post::reminders::composing::{DailyFacts, DuePrint, MissingSignOff, ReadyStep};
use crate::store::AnyConnection;
use crate::store::letters::daily::{self, Place};
use crate::store::people::sessions::Role;
use crate::store::plates::folder::{Folder, Which, folders};
use crate::store::plates::procedures::Procedures;
use crate::store::safety::topics;
use crate::trade::civil;
use crate::trade::procedure::{Outlook, RuleName, StepState};
use crate::trouble::Trouble;

/// How far ahead a due date is told.
pub const AHEAD_MS: i64 = 2 * DAY_MS;

/// The letters still to be written at `now`, one group of facts for each person: of classes in term whose studio is not
/// closed today, after the hour at which letters begin, for those who want one and have had none today. People without
/// anything to say to are among them only if they have facts in another class.
///
/// # Errors
/// The database cannot be read.
pub fn facts(
    db: &mut AnyConnection,
    procedures: &Procedures,
    now: Instant,
) -> Result<BTreeMap<PersonId, Vec<(Place, DailyFacts)>>, Trouble> {
    let mut found: BTreeMap<PersonId, Vec<(Place, DailyFacts)>> = BTreeMap::new();
    let places = daily::places(db, now)?;
    let had = if places.is_empty() { HashSet::new() } else { daily::causes(db, now)? };
    for place in places {
        let Some(stood_at) = begins(&place).filter(|begins| now >= *begins) else { continue };
        let mut readers = daily::readers(db, place.class)?;
        readers.retain(|(person, _)| !had.contains(&daily::cause(*person, place.date)));
        if readers.is_empty() {
            continue;
        }
        for (person, facts) in of_class(db, procedures, &place, &readers, stood_at, now)? {
            found.entry(person).or_default().push((place.clone(), facts));
        }
    }
    Ok(found)
}

/// The moment at which the letters of a class's day begin.
fn begins(place: &Place) -> Option<Instant> {
    Some(Instant::from_utc(civil::instant(place.date.and_hms_opt(FROM_HOUR, 0, 0)?, place.zone)))
}

fn of_class(
    db: &mut AnyConnection,
    procedures: &Procedures,
    place: &Place,
    readers: &[(PersonId, Role)],
    stood_at: Instant,
    now: Instant,
) -> Result<BTreeMap<PersonId, DailyFacts>, Trouble> {
    let people: HashSet<PersonId> = readers.iter().map(|(person, _)| *person).collect();
    let students: Vec<PersonId> =
        readers.iter().filter(|(_, role)| *role == Role::Student).map(|(person, _)| *person).collect();
    let mut found = Gathered { place, people: BTreeMap::new() };
    for owed in daily::owed(db, place, &students)? {
        if now < owed.due && owed.due <= now.plus_ms(AHEAD_MS) {
            let due = DuePrint { print: owed.print, title: owed.title, due: owed.due };
            found.of(owed.person).due_soon.push(due);
        }
    }
    let folders = folders(db, procedures, Which::Class(place.class), None, place.studio, place.zone)?;
    let titles: BTreeMap<String, String> =
        topics::topics(db, Some(place.class))?.into_iter().map(|topic| (topic.key, topic.title)).collect();
    for folder in folders.iter().filter(|folder| people.contains(&folder.row.person.id)) {
        match next(folder, stood_at, now) {
            Some(Next::Ready(ready)) => found.of(folder.row.person.id).ready.push(ready),
            Some(Next::Missing(mut missing)) => {
                for one in &mut missing {
                    one.topic =
                        titles.get(&one.topic).cloned().unwrap_or_else(|| one.topic.replace('-', " "));
                }
                found.of(folder.row.person.id).missing_sign_offs.extend(missing);
            }
            None => {}
        }
    }
    Ok(found.people)
}

struct Gathered<'p> {
    place: &'p Place,
    people: BTreeMap<PersonId, DailyFacts>,
}

impl Gathered<'_> {
    fn of(&mut self, person: PersonId) -> &mut DailyFacts {
        self.people.entry(person).or_insert_with(|| DailyFacts {
            person,
            class: self.place.class,
            class_title: self.place.title.clone(),
            zone: self.place.zone,
            ready: Vec::new(),
            due_soon: Vec::new(),
            missing_sign_offs: Vec::new(),
        })
    }
}

/// What a plate's next step asks of its owner.
enum Next {
    Ready(ReadyStep),
    Missing(Vec<MissingSignOff>),
}

/// What to say about a plate. Only what held when the letters of the day began and still holds is told: nobody gets a
/// letter because of what they did at the table five minutes ago.
fn next(folder: &Folder, stood_at: Instant, now: Instant) -> Option<Next> {
    let row = &folder.row;
    if folder.replaced || row.print.handed_in_at.is_some() || row.created_at > stood_at {
        return None;
    }
    let (then, today) = (folder.outlook(stood_at), folder.outlook(now));
    if today.finished || today.blocked_by.is_some() || then.next != today.next {
        return None;
    }
    let step = today.next_step()?;
    let due = folder.due().map(Instant::from_utc);
    if is_ready(&then) && is_ready(&today) {
        return Some(Next::Ready(ReadyStep {
            print: row.print.id,
            plate: row.id,
            number: row.number,
            title: row.print.title.clone(),
            step: step.title.clone(),
            due,
        }));
    }
    let before = missing_topics(&then);
    let needs = &folder.procedure.find(&step.key)?.sign_offs;
    let missing: Vec<MissingSignOff> = missing_topics(&today)
        .into_iter()
        .filter(|topic| before.contains(topic))
        .filter_map(|topic| needs.iter().find(|need| need.topic == topic))
        .map(|need| MissingSignOff {
            print: row.print.id,
            plate: row.id,
            number: row.number,
            title: row.print.title.clone(),
            step: step.title.clone(),
            topic: need.topic.clone(),
            grade: need.grade,
            due,
        })
        .collect();
    (!missing.is_empty()).then_some(Next::Missing(missing))
}

/// Whether the next step may begin, by its owner: what waits for the instructor is not for this letter.
fn is_ready(outlook: &Outlook) -> bool {
    outlook.next_step().is_some_and(|step| step.state == StepState::Ready && !step.waits_for_instructor)
}

/// The topics the next step lacks, if only sign-offs and a running rest keep it back.
fn missing_topics(outlook: &Outlook) -> Vec<&str> {
    let Some(step) = outlook.next_step() else { return Vec::new() };
    let only = step.verdict.broken.iter().all(|one| matches!(one.rule, RuleName::SignOff | RuleName::Rest));
    let lacking = step.verdict.broken.iter().filter(|one| only && one.rule == RuleName::SignOff);
    lacking.map(|one| one.about.as_str()).collect()
}
