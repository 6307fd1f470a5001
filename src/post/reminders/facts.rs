//! The facts of the letters, from the record: what each plate's procedure and plan say, what is due, which sign-off is
//! missing or ends too soon. One pass over a class serves its daily letters, its warnings and its weekly letter.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::Arc;

use chrono::NaiveTime;

use crate::clock::{DAY_MS, Instant};
use crate::ids::PersonId;
use crate::post::reminders::composing::{DailyFacts, DuePrint, Expiring, GumNear, MissingSignOff, ReadyStep};
use crate::post::reminders::{limits, week};
use crate::store::AnyConnection;
use crate::store::letters::NewLetter;
use crate::store::letters::daily::{self, Place, Reader};
use crate::store::people::sessions::Role;
use crate::store::plates::folder::{Folder, Which, folders};
use crate::store::plates::plans::{self, Look};
use crate::store::plates::premises::{self, Ground};
use crate::store::plates::procedures::Procedures;
use crate::store::safety::topics;
use crate::trade::civil;
use crate::trade::procedure::{Outlook, RuleName, StepOutlook, StepState};
use crate::trouble::Trouble;

/// How far ahead a due date, and a limit under gum, is told.
pub const AHEAD_MS: i64 = 2 * DAY_MS;
/// A latest start is told when it falls within so many open days, today among them: on the last day itself the stations
/// may be taken, and earlier than the day before there is nothing yet to hurry for.
const OPEN_DAYS: usize = 2;
/// A sign-off that ends too soon is told so long before: witnesses meet the class once or twice a week.
const EXPIRING_MS: i64 = 14 * DAY_MS;

/// What there is to write.
#[derive(Debug, Default)]
pub struct Found {
    /// One group of facts for each person. People without anything to say to are among them only if they have facts in
    /// another class.
    pub daily: BTreeMap<PersonId, Vec<(Place, DailyFacts)>>,
    /// Warnings and weekly letters.
    pub others: Vec<NewLetter>,
}

/// The classes in term whose studio is not closed today, and the causes of the letters that were written lately.
///
/// # Errors
/// The database cannot be read.
pub fn due_today(db: &mut AnyConnection, now: Instant) -> Result<(Vec<Place>, HashSet<String>), Trouble> {
    let places = daily::places(db, now)?;
    let had = if places.is_empty() { HashSet::new() } else { daily::causes(db, now)? };
    Ok((places, had))
}

/// The letters still to be written at `now` in these classes, for those who want them and have not had them.
///
/// # Errors
/// The database cannot be read.
pub fn facts(
    db: &mut AnyConnection,
    procedures: &Procedures,
    places: &[Place],
    had: &HashSet<String>,
    now: Instant,
) -> Result<Found, Trouble> {
    let mut found = Found::default();
    for place in places {
        let readers = daily::readers(db, place.class)?;
        let due = |reader: &&Reader| begins(place, reader.hour).is_some_and(|begins| now >= begins);
        let daily: Vec<Reader> = readers
            .iter()
            .filter(|one| one.daily && !had.contains(&daily::cause(one.person, place.date)))
            .filter(due)
            .copied()
            .collect();
        let monday = place.begins_week();
        let weekly: Vec<Reader> = readers
            .iter()
            .filter(|one| one.week && one.role == Role::Instructor)
            .filter(|one| {
                let cause = monday.map(|monday| daily::week_cause(one.person, place.class, monday));
                cause.is_some_and(|cause| !had.contains(&cause))
            })
            .filter(due)
            .copied()
            .collect();
        let urgent = readers.iter().any(|one| one.urgent && one.role == Role::Student);
        if daily.is_empty() && weekly.is_empty() && !urgent {
            continue;
        }
        let class = Class::read(db, procedures, place, now)?;
        for (person, facts) in class.daily(db, &daily, now)? {
            found.daily.entry(person).or_default().push((place.clone(), facts));
        }
        found.others.extend(limits::warnings(&class, &readers, had, now)?);
        if let Some(monday) = monday.filter(|_| !weekly.is_empty()) {
            found.others.extend(week::letters(db, procedures, &class, &weekly, monday, now)?);
        }
    }
    Ok(found)
}

/// The moment at which a letter of a class's day is written.
pub(super) fn begins(place: &Place, hour: u32) -> Option<Instant> {
    Some(Instant::from_utc(civil::instant(place.date.and_hms_opt(hour, 0, 0)?, place.zone)))
}

/// The moment of the letter after today's; none when the term is over before.
pub(super) fn next_begins(place: &Place, hour: u32) -> Option<Instant> {
    Some(Instant::from_utc(civil::instant(place.next_day()?.and_hms_opt(hour, 0, 0)?, place.zone)))
}

/// A class with its plates looked at, once for all letters.
pub(super) struct Class<'p> {
    pub(super) place: &'p Place,
    pub(super) plates: Vec<(Folder, Look)>,
    ground: Arc<Ground>,
    /// The titles of topics by their keys.
    titles: HashMap<String, String>,
}

impl Found {
    /// Takes in what was found in other classes.
    pub(super) fn take_in(&mut self, other: Self) {
        for (person, facts) in other.daily {
            self.daily.entry(person).or_default().extend(facts);
        }
        self.others.extend(other.others);
    }
}

impl<'p> Class<'p> {
    fn read(
        db: &mut AnyConnection,
        procedures: &Procedures,
        place: &'p Place,
        now: Instant,
    ) -> Result<Self, Trouble> {
        let folders = folders(db, procedures, Which::Class(place.class), None, place.studio, place.zone)?;
        let ground = premises::ground(db, place.studio, place.class, place.zone, now)?;
        let titles = topics::topics(db, Some(place.class))?;
        let look = |folder: Folder| {
            let look = plans::look(&folder, &ground, now);
            (folder, look)
        };
        let plates = folders.into_iter().map(look).collect();
        Ok(Self {
            place,
            plates,
            titles: titles.into_iter().map(|topic| (topic.key, topic.title)).collect(),
            ground,
        })
    }

    fn daily(
        &self,
        db: &mut AnyConnection,
        readers: &[Reader],
        now: Instant,
    ) -> Result<BTreeMap<PersonId, DailyFacts>, Trouble> {
        let mut people: BTreeMap<PersonId, DailyFacts> = BTreeMap::new();
        let hours: HashMap<PersonId, u32> = readers.iter().map(|one| (one.person, one.hour)).collect();
        let students: Vec<PersonId> =
            readers.iter().filter(|one| one.role == Role::Student).map(|one| one.person).collect();
        if readers.is_empty() {
            return Ok(people);
        }
        let mut of = |person: PersonId, add: &mut dyn FnMut(&mut DailyFacts)| {
            let hour = hours.get(&person).copied().unwrap_or_default();
            add(people.entry(person).or_insert_with(|| self.nothing(person, hour)));
        };
        for owed in daily::owed(db, self.place, &students)? {
            if now < owed.due && owed.due <= now.plus_ms(AHEAD_MS) {
                let due = DuePrint { print: owed.print, title: owed.title, due: owed.due };
                of(owed.person, &mut |facts| facts.due_soon.push(due.clone()));
            }
        }
        for (folder, look) in &self.plates {
            let person = folder.row.person.id;
            let Some(hour) = hours.get(&person) else { continue };
            let Some(stood_at) = begins(self.place, *hour) else { continue };
            let Some(told) = self.plate(folder, look, stood_at, now, *hour) else { continue };
            if !told.is_empty() {
                of(person, &mut |facts| told.clone().add(facts));
            }
        }
        Ok(people)
    }

    fn nothing(&self, person: PersonId, hour: u32) -> DailyFacts {
        DailyFacts {
            person,
            class: self.place.class,
            class_title: self.place.title.clone(),
            zone: self.place.zone,
            hour,
            gum: Vec::new(),
            expiring: Vec::new(),
            ready: Vec::new(),
            due_soon: Vec::new(),
            missing_sign_offs: Vec::new(),
        }
    }

    /// What to say about a plate. Only what held when the letter of the day began and still holds is told: nobody gets a
    /// letter because of what they did at the table five minutes ago.
    fn plate(
        &self,
        folder: &Folder,
        look: &Look,
        stood_at: Instant,
        now: Instant,
        hour: u32,
    ) -> Option<Told> {
        let row = &folder.row;
        if folder.replaced || row.print.handed_in_at.is_some() || row.created_at > stood_at {
            return None;
        }
        let today = &look.outlook;
        if today.finished || today.blocked_by.is_some() {
            return None;
        }
        let then = folder.outlook(stood_at);
        if then.next != today.next {
            return None;
        }
        let mut told = Told { gum: self.gum(folder, &then, today, now, hour), ..Told::default() };
        told.expiring = self.expiring(folder, look, now);
        let step = today.next_step()?;
        let due = folder.due().map(Instant::from_utc);
        if is_ready(&then) && is_ready(today) {
            let by = look.next_start_by().map(Instant::from_utc);
            told.ready = Some(ReadyStep {
                print: row.print.id,
                plate: row.id,
                number: row.number,
                title: row.print.title.clone(),
                step: step.title.to_string(),
                due,
                start_by: by.filter(|by| self.is_soon(*by, now)),
            });
            return Some(told);
        }
        let before = missing_topics(folder, &then, stood_at);
        let needs = &folder.procedure.find(&step.key)?.sign_offs;
        told.missing = missing_topics(folder, today, now)
            .into_iter()
            .filter(|topic| before.contains(topic))
            .filter_map(|topic| needs.iter().find(|need| need.topic == *topic))
            .map(|need| MissingSignOff {
                print: row.print.id,
                plate: row.id,
                number: row.number,
                title: row.print.title.clone(),
                step: step.title.to_string(),
                topic: self.title(&need.topic),
                grade: need.grade,
                due,
            })
            .collect();
        Some(told)
    }

    fn title(&self, topic: &str) -> String {
        self.titles.get(topic).cloned().unwrap_or_else(|| topic.replace('-', " "))
    }

    /// The limit under gum, when it comes within two days or before the next letter.
    fn gum(
        &self,
        folder: &Folder,
        then: &Outlook,
        today: &Outlook,
        now: Instant,
        hour: u32,
    ) -> Option<GumNear> {
        let until = Instant::from_utc(today.gum.until.filter(|until| then.gum.until == Some(*until))?);
        let far = now.plus_ms(AHEAD_MS);
        let far = next_begins(self.place, hour).map_or(far, |next| far.max(next));
        (now < until && until <= far).then(|| GumNear {
            plate: folder.row.id,
            number: folder.row.number,
            title: folder.row.print.title.clone(),
            until,
        })
    }

    /// Sign-offs that hold now and end before the latest start of a step that needs them.
    fn expiring(&self, folder: &Folder, look: &Look, now: Instant) -> Vec<Expiring> {
        let mut found: Vec<Expiring> = Vec::new();
        for left in &look.remaining {
            let Some(latest) = look.start_by.get(&left.key).map(Instant::from_utc) else {
                continue;
            };
            let needs = folder.procedure.find(&left.key).map(|step| step.sign_offs.as_slice());
            for need in needs.unwrap_or_default() {
                let holding =
                    folder.sign_offs.iter().filter(|held| held.covers(need, now.utc(), folder.zone).is_ok());
                // One without an end is for good; of several the last counts.
                let last = holding.map(|held| held.until).reduce(|one, other| Some(one?.max(other?)));
                let Some(Some(last)) = last else { continue };
                let Some(end) = last.succ_opt() else { continue };
                let until =
                    Instant::from_utc(civil::instant(end.and_time(NaiveTime::MIN), folder.zone)).plus_ms(-1);
                let topic = self.title(&need.topic);
                let near = until < latest && until <= now.plus_ms(EXPIRING_MS);
                if near && found.iter().all(|known| known.topic != topic) {
                    found.push(Expiring {
                        plate: folder.row.id,
                        number: folder.row.number,
                        title: folder.row.print.title.clone(),
                        step: left.title.to_string(),
                        topic,
                        until,
                    });
                }
            }
        }
        found
    }

    /// Whether a latest start falls within the next open days, today among them.
    fn is_soon(&self, by: Instant, now: Instant) -> bool {
        let (zone, calendar) = (self.place.zone, &self.ground.calendar);
        let midnight =
            |day: chrono::NaiveDate| civil::instant(day.and_time(NaiveTime::MIN), zone).timestamp_millis();
        let mut open = 0;
        for day in self.place.date.iter_days().take(40) {
            let Some(next) = day.succ_opt() else { return false };
            let end = midnight(next);
            open += usize::from(calendar.open_between(midnight(day).max(now.millis()), end) > 0);
            if by.millis() < end {
                return true;
            }
            if open >= OPEN_DAYS {
                return false;
            }
        }
        false
    }
}

/// What there is to say of one plate.
#[derive(Debug, Clone, Default)]
struct Told {
    ready: Option<ReadyStep>,
    missing: Vec<MissingSignOff>,
    gum: Option<GumNear>,
    expiring: Vec<Expiring>,
}

impl Told {
    fn is_empty(&self) -> bool {
        self.ready.is_none() && self.missing.is_empty() && self.gum.is_none() && self.expiring.is_empty()
    }

    fn add(self, facts: &mut DailyFacts) {
        facts.ready.extend(self.ready);
        facts.missing_sign_offs.extend(self.missing);
        facts.gum.extend(self.gum);
        let known: HashSet<String> = facts.expiring.iter().map(|one| one.topic.clone()).collect();
        facts.expiring.extend(self.expiring.into_iter().filter(|one| !known.contains(&one.topic)));
    }
}

/// Whether the next step may begin, by its owner: what waits for the instructor is not for this letter.
fn is_ready(outlook: &Outlook) -> bool {
    outlook.next_step().is_some_and(|step| step.state == StepState::Ready && !step.waits_for_instructor)
}

/// The topics the next step lacked at that moment, if only sign-offs and a running rest kept it back.
fn missing_topics(folder: &Folder, outlook: &Outlook, at: Instant) -> Vec<String> {
    let only_those = |step: &&StepOutlook| {
        step.rules.contains(RuleName::SignOff) && step.rules.only(&[RuleName::SignOff, RuleName::Rest])
    };
    let Some(step) = outlook.next_step().filter(only_those) else { return Vec::new() };
    let broken = folder.verdict(step, at).broken.into_iter();
    broken.filter(|one| one.rule == RuleName::SignOff).map(|one| one.about).collect()
}
