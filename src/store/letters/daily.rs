//! What the daily letters ask of the record: which classes have a working day, who of them wants letters and has had none
//! today, what is due.

use std::collections::{HashMap, HashSet};

use chrono::{Datelike, Days, NaiveDate, NaiveDateTime};
use chrono_tz::Tz;
use diesel::prelude::*;

use crate::clock::{DAY_MS, Instant};
use crate::ids::{ClassId, PersonId, PlateId, PrintId, ProjectId, StudioId};
use crate::store::connections::AnyConnection;
use crate::store::letters::Kind;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::schema::{
    class, closure, enrolment, journal_head, letter, own_due, person, print, project, term,
};
use crate::store::types::Word;
use crate::trade::civil;
use crate::trouble::Trouble;

/// A class on a day of its term on which its studio is not closed.
#[derive(Debug, Clone)]
pub struct Place {
    pub class: ClassId,
    pub title: String,
    pub studio: StudioId,
    pub zone: Tz,
    /// The local day.
    pub date: NaiveDate,
    /// The last day of the term.
    pub ends: NaiveDate,
    /// Days on which the studio is closed, from a week ago to forty days ahead.
    pub closed: HashSet<NaiveDate>,
}

impl Place {
    /// The next day on which letters are written: of the term and not closed.
    #[must_use]
    pub fn next_day(&self) -> Option<NaiveDate> {
        let days = self.date.iter_days().skip(1).take_while(|day| *day <= self.ends);
        days.take(AHEAD_DAYS).find(|day| !self.closed.contains(day))
    }

    /// The Monday of a week whose first open day this is.
    #[must_use]
    pub fn begins_week(&self) -> Option<NaiveDate> {
        let back = u64::from(self.date.weekday().num_days_from_monday());
        let monday = self.date.checked_sub_days(Days::new(back))?;
        let mut before = monday.iter_days().take_while(|day| *day < self.date);
        before.all(|day| self.closed.contains(&day)).then_some(monday)
    }
}

/// How far ahead closures are looked at.
const AHEAD_DAYS: usize = 40;

/// Somebody in a class who wants letters and has an address.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reader {
    pub person: PersonId,
    pub role: Role,
    /// The local hour at which their daily letter is written.
    pub hour: u32,
    pub daily: bool,
    pub urgent: bool,
    pub week: bool,
}

/// The classes in term at `now` whose studio has no closure on their local day. Two statements.
///
/// # Errors
/// The database cannot be read.
pub fn places(db: &mut AnyConnection, now: Instant) -> Result<Vec<Place>, Trouble> {
    type Row = (ClassId, String, StudioId, String, NaiveDate, NaiveDate);
    // A local day is at most one off from the day of UTC.
    let today = now.utc().date_naive();
    let (before, after) = (today - Days::new(1), today + Days::new(1));
    let rows: Vec<Row> = class::table
        .inner_join(term::table)
        .filter(term::starts.le(after).and(term::ends.ge(before)))
        .order((class::title, class::id))
        .select((class::id, class::title, class::studio_id, term::zone, term::starts, term::ends))
        .load(db)?;
    let (from, to) = (today - Days::new(8), today + Days::new(41));
    let mut closed: HashMap<StudioId, HashSet<NaiveDate>> = HashMap::new();
    for (studio, day) in closure::table
        .filter(closure::day.ge(from).and(closure::day.le(to)))
        .select((closure::studio_id, closure::day))
        .load::<(StudioId, NaiveDate)>(db)?
    {
        closed.entry(studio).or_default().insert(day);
    }
    Ok(rows
        .into_iter()
        .filter_map(|(class, title, studio, zone, starts, ends)| {
            let zone: Tz = zone.parse().ok()?;
            let date = now.local_date(zone);
            let closed = closed.get(&studio).cloned().unwrap_or_default();
            let open = (starts..=ends).contains(&date) && !closed.contains(&date);
            open.then_some(Place { class, title, studio, zone, date, ends, closed })
        })
        .collect())
}

/// The local hours of a class, on days on which its studio is open, between which letters are sent that nobody asked for
/// and that choose no hour; the rest is quiet. This is the only place that says it.
pub const LOUD: std::ops::Range<u32> = 7..21;

/// The moments between which letters of a class are sent on a day; none on a closed one.
fn loud(day: NaiveDate, zone: Tz, closed: &HashSet<NaiveDate>) -> Option<(Instant, Instant)> {
    let at = |hour| Some(Instant::from_utc(civil::instant(day.and_hms_opt(hour, 0, 0)?, zone)));
    if closed.contains(&day) { None } else { at(LOUD.start).zip(at(LOUD.end)) }
}

/// When letters of a class are sent again, where `now` lies in quiet hours or on a closed day.
#[must_use]
pub fn quiet(now: Instant, zone: Tz, closed: &HashSet<NaiveDate>) -> Option<Instant> {
    let days = now.local_date(zone).iter_days().take(AHEAD_DAYS);
    let next = days.filter_map(|day| loud(day, zone, closed)).find(|(_, ends)| now < *ends);
    match next {
        Some((begins, _)) => (now < begins).then_some(begins),
        // Closed for as far as can be seen: look again when some of it is over.
        None => Some(now.plus_ms(i64::try_from(AHEAD_DAYS).unwrap_or(1) * DAY_MS)),
    }
}

/// As `quiet`, for a class whose calendar is not at hand. Two statements.
///
/// # Errors
/// The database cannot be read.
pub fn quiet_until(db: &mut AnyConnection, of: ClassId, now: Instant) -> Result<Option<Instant>, Trouble> {
    let (studio, zone): (StudioId, String) = class::table
        .inner_join(term::table)
        .filter(class::id.eq(of))
        .select((class::studio_id, term::zone))
        .first(db)?;
    let zone: Tz = zone.parse().map_err(|_error| Trouble::broken("reading a zone", &zone))?;
    let today = now.local_date(zone);
    let closed: Vec<NaiveDate> = closure::table
        .filter(closure::studio_id.eq(studio).and(closure::day.ge(today)))
        .select(closure::day)
        .load(db)?;
    Ok(quiet(now, zone, &closed.into_iter().collect()))
}

/// What keeps a person's daily letter of a day the only one.
#[must_use]
pub fn cause(person: PersonId, date: NaiveDate) -> String {
    format!("daily {person} {date}")
}

/// What keeps a person's letter of a week of a class the only one.
#[must_use]
pub fn week_cause(person: PersonId, class: ClassId, monday: NaiveDate) -> String {
    format!("week {person} {class} {monday}")
}

/// What keeps a warning of a limit the only one ever.
#[must_use]
pub fn urgent_cause(plate: PlateId, step: &str, limit: Instant) -> String {
    format!("urgent {plate} {step} {}", limit.millis())
}

/// The causes of the letters of the last eight days that this pass could write again. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn causes(db: &mut AnyConnection, now: Instant) -> Result<HashSet<String>, Trouble> {
    let kinds = [Word(Kind::Daily), Word(Kind::Urgent), Word(Kind::Week)];
    let found: Vec<String> = letter::table
        .filter(letter::created_at.ge(now.plus_ms(-8 * DAY_MS)))
        .filter(letter::kind.eq_any(kinds).and(letter::cause.is_not_null()))
        .select(letter::cause.assume_not_null())
        .load(db)?;
    Ok(found.into_iter().collect())
}

/// Those in a class who want letters of some kind and have an address. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn readers(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Reader>, Trouble> {
    type Row = (PersonId, Word<Role>, i32, bool, bool, bool);
    let in_force = [Word(EnrolmentState::Enrolled), Word(EnrolmentState::Incomplete)];
    let rows: Vec<Row> = enrolment::table
        .inner_join(person::table)
        .filter(enrolment::class_id.eq(class).and(enrolment::state.eq_any(in_force)))
        .filter(person::email.is_not_null().and(person::mail_rests_since.is_null()))
        .filter(
            person::daily_letter.eq(true).or(person::urgent_letter.eq(true)).or(person::week_letter.eq(true)),
        )
        .order(person::id)
        .select((
            person::id,
            enrolment::role,
            person::letter_hour,
            person::daily_letter,
            person::urgent_letter,
            person::week_letter,
        ))
        .load(db)?;
    let reader = |(person, role, hour, daily, urgent, week): Row| Reader {
        person,
        role: role.0,
        hour: u32::try_from(hour).unwrap_or(7),
        daily,
        urgent,
        week,
    };
    Ok(rows.into_iter().map(reader).collect())
}

/// The head of a class's journal: how many acts it holds, and the digest that seals them. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn head(db: &mut AnyConnection, class: ClassId) -> Result<(i64, String), Trouble> {
    let found: Option<(i64, String)> = journal_head::table
        .find(class.to_string())
        .select((journal_head::seq, journal_head::hash))
        .first(db)
        .optional()?;
    Ok(found.unwrap_or_default())
}

/// A project's date for one person, and their print for it if they have begun one.
#[derive(Debug, Clone)]
pub struct Owed {
    pub person: PersonId,
    pub print: Option<PrintId>,
    /// The print's title, or the project's.
    pub title: String,
    pub due: Instant,
}

/// What the students of a class have not handed in yet, with their own dates where they have one. Three statements.
///
/// # Errors
/// The database cannot be read.
pub fn owed(db: &mut AnyConnection, place: &Place, students: &[PersonId]) -> Result<Vec<Owed>, Trouble> {
    type PrintRow = (PrintId, ProjectId, PersonId, String, Option<Instant>);
    let projects: Vec<(ProjectId, String, String)> = project::table
        .filter(project::class_id.eq(place.class))
        .order((project::position, project::id))
        .select((project::id, project::title, project::due_local))
        .load(db)?;
    let own: HashMap<(ProjectId, PersonId), String> = own_due::table
        .inner_join(project::table)
        .filter(project::class_id.eq(place.class).and(own_due::superseded_at.is_null()))
        .select((own_due::project_id, own_due::person_id, own_due::due_local))
        .load::<(ProjectId, PersonId, String)>(db)?
        .into_iter()
        .map(|(project, person, due)| ((project, person), due))
        .collect();
    let mut prints: HashMap<(ProjectId, PersonId), Vec<PrintRow>> = HashMap::new();
    for row in print::table
        .filter(print::class_id.eq(place.class))
        .order((print::created_at, print::id))
        .select((print::id, print::project_id, print::person_id, print::title, print::handed_in_at))
        .load::<PrintRow>(db)?
    {
        prints.entry((row.1, row.2)).or_default().push(row);
    }
    let mut owed = Vec::new();
    for (project, title, class_due) in &projects {
        for person in students {
            let text = own.get(&(*project, *person)).unwrap_or(class_due);
            let Some(due) = due(text, place.zone) else { continue };
            let begun = prints.get(&(*project, *person));
            if begun.is_none() {
                owed.push(Owed { person: *person, print: None, title: title.clone(), due });
            }
            owed.extend(begun.into_iter().flatten().filter(|row| row.4.is_none()).map(|row| Owed {
                person: *person,
                print: Some(row.0),
                title: row.3.clone(),
                due,
            }));
        }
    }
    Ok(owed)
}

fn due(text: &str, zone: Tz) -> Option<Instant> {
    let local = NaiveDateTime::parse_from_str(text, "%Y-%m-%dT%H:%M").ok()?;
    Some(Instant::from_utc(civil::instant(local, zone)))
}
