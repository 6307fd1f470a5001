//! The roll of each meeting: who was here, late, away or excused. An entry is never overwritten: a change is a new one.

use chrono::{Datelike, NaiveDate};
use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClassId, PersonId, RollEntryId, RollId};
use crate::spelled;
use crate::store::classes::dues::students;
use crate::store::classes::facts;
use crate::store::classes::meetings::{self, MeetingKind};
use crate::store::connections::AnyConnection;
use crate::store::schema::{roll, roll_entry};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

spelled!(
    /// How somebody was at a meeting.
    Presence {
        Here = "here",
        Late = "late",
        Away = "away",
        Excused = "excused",
    }
);

/// One meeting of the term, on its day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Held {
    pub day: NaiveDate,
    pub from_minute: i32,
    pub to_minute: i32,
}

/// What the roll says about one person.
#[derive(Debug, Clone, Queryable)]
pub struct Entry {
    pub id: RollEntryId,
    pub person: PersonId,
    pub presence: Word<Presence>,
    pub day: NaiveDate,
    pub from_minute: i32,
    pub to_minute: i32,
}

/// A roll as one line of the list.
#[derive(Debug, Clone)]
pub struct RollLine {
    pub held: Held,
    /// How many of each presence, in the order of `Presence::ALL`; none where it was not called.
    pub counts: Option<[usize; 4]>,
}

/// The meetings of the term up to a day, and the rolls that were called of meetings since changed: the last first.
/// Four statements.
///
/// # Errors
/// The database cannot be read.
pub fn rolls(db: &mut AnyConnection, class: ClassId, until: NaiveDate) -> Result<Vec<RollLine>, Trouble> {
    let mut all = held_until(db, class, until)?;
    let entries = entries(db, class, None)?;
    let called: Vec<(NaiveDate, i32, i32)> = roll::table
        .filter(roll::class_id.eq(class))
        .select((roll::day, roll::from_minute, roll::to_minute))
        .load(db)?;
    for (day, from_minute, to_minute) in &called {
        if all.iter().all(|held| held.day != *day || held.from_minute != *from_minute) {
            all.push(Held { day: *day, from_minute: *from_minute, to_minute: *to_minute });
        }
    }
    all.sort_unstable();
    all.reverse();
    let counts = |held: &Held| {
        let own = |entry: &&Entry| entry.day == held.day && entry.from_minute == held.from_minute;
        [Presence::Here, Presence::Late, Presence::Away, Presence::Excused]
            .map(|presence| entries.iter().filter(own).filter(|entry| entry.presence.0 == presence).count())
    };
    Ok(all
        .into_iter()
        .map(|held| {
            let was = called.iter().any(|one| one.0 == held.day && one.1 == held.from_minute);
            RollLine { held, counts: was.then(|| counts(&held)) }
        })
        .collect())
}

/// Every meeting day of the term up to a day, by the weekly meetings as they stand.
fn held_until(db: &mut AnyConnection, class: ClassId, until: NaiveDate) -> Result<Vec<Held>, Trouble> {
    let term = facts::class(db, class)?.term;
    let weekly: Vec<_> = meetings::meetings(db, class)?
        .into_iter()
        .filter(|meeting| meeting.kind.0 == MeetingKind::Meeting)
        .collect();
    let last = until.min(term.ends);
    let days = term.starts.iter_days().take_while(|day| *day <= last);
    Ok(days
        .flat_map(|day| {
            let weekday = i32::try_from(day.weekday().number_from_monday()).unwrap_or(0);
            let own = weekly.iter().filter(move |meeting| meeting.weekday == weekday);
            own.map(move |meeting| Held {
                day,
                from_minute: meeting.from_minute,
                to_minute: meeting.to_minute,
            })
        })
        .collect())
}

/// The meeting of a day and time, if there is one up to `until`.
///
/// # Errors
/// `NotFound`, or the database cannot be read.
pub fn held(
    db: &mut AnyConnection,
    class: ClassId,
    until: NaiveDate,
    day: NaiveDate,
    from_minute: i32,
) -> Result<Held, Trouble> {
    rolls(db, class, until)?
        .into_iter()
        .map(|line| line.held)
        .find(|held| held.day == day && held.from_minute == from_minute)
        .ok_or(Trouble::NotFound)
}

/// What the rolls of a class say, the last meeting first; of one person alone if `owner`. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn entries(
    db: &mut AnyConnection,
    class: ClassId,
    owner: Option<PersonId>,
) -> Result<Vec<Entry>, Trouble> {
    let mut query = roll_entry::table
        .inner_join(roll::table)
        .filter(roll_entry::class_id.eq(class).and(roll_entry::superseded_at.is_null()))
        .order((roll::day.desc(), roll::from_minute.desc(), roll_entry::id))
        .select((
            roll_entry::id,
            roll_entry::person_id,
            roll_entry::presence,
            roll::day,
            roll::from_minute,
            roll::to_minute,
        ))
        .into_boxed();
    if let Some(owner) = owner {
        query = query.filter(roll_entry::person_id.eq(owner));
    }
    Ok(query.load(db)?)
}

/// What is said about one person when a roll is called, and the entry that was seen.
#[derive(Debug, Clone)]
pub struct Called {
    pub person: PersonId,
    pub seen: Option<RollEntryId>,
    pub presence: Option<Presence>,
}

impl Tx<'_> {
    /// Calls the roll of a meeting: stores what changed, all of it or nothing.
    ///
    /// # Errors
    /// `NotFound`; or a complaint at `presence-<person>` where somebody else called it meanwhile.
    pub fn call_roll(
        &mut self,
        class: ClassId,
        until: NaiveDate,
        (day, from_minute): (NaiveDate, i32),
        called: &[Called],
    ) -> Result<(), Trouble> {
        let held = held(self.connection, class, until, day, from_minute)?;
        let students = students(self.connection, class)?;
        let standing: Vec<Entry> = entries(self.connection, class, None)?
            .into_iter()
            .filter(|entry| entry.day == day && entry.from_minute == from_minute)
            .collect();
        let mut changes = Vec::new();
        let mut complaints = Vec::new();
        for one in called {
            if students.iter().all(|student| student.person != one.person) {
                return Err(Trouble::NotFound);
            }
            let before = standing.iter().find(|entry| entry.person == one.person);
            let Some(presence) =
                one.presence.filter(|said| before.is_none_or(|entry| entry.presence.0 != *said))
            else {
                continue;
            };
            match before {
                Some(before) if one.seen != Some(before.id) => {
                    let remark = Remark::new("roll-meanwhile").with("stands", before.presence.0.key());
                    complaints.push(Complaint::new(format!("presence-{}", one.person), remark));
                }
                _ => changes.push((one.person, presence, before.map(|entry| entry.id))),
            }
        }
        if !complaints.is_empty() {
            return Err(Trouble::Complaints(complaints));
        }
        let roll = self.open_roll(class, &held)?;
        for (person, presence, before) in &changes {
            self.enter(class, roll, *person, *presence, *before)?;
        }
        let told: Vec<_> = changes.iter().map(|(person, presence, _)| json!([person, presence])).collect();
        self.journal("roll.called", roll, &json!({ "day": day, "from": from_minute, "entries": told }))
    }

    fn open_roll(&mut self, class: ClassId, held: &Held) -> Result<RollId, Trouble> {
        let known: Option<RollId> = roll::table
            .filter(roll::class_id.eq(class).and(roll::day.eq(held.day)))
            .filter(roll::from_minute.eq(held.from_minute))
            .select(roll::id)
            .first(self.connection)
            .optional()?;
        if let Some(known) = known {
            return Ok(known);
        }
        let id: RollId = self.id();
        diesel::insert_into(roll::table)
            .values((
                (roll::id.eq(id), roll::class_id.eq(class), roll::day.eq(held.day)),
                (roll::from_minute.eq(held.from_minute), roll::to_minute.eq(held.to_minute)),
                (roll::by_id.eq(self.person()?), roll::at.eq(self.now)),
            ))
            .execute(self.connection)?;
        Ok(id)
    }

    fn enter(
        &mut self,
        class: ClassId,
        roll: RollId,
        person: PersonId,
        presence: Presence,
        before: Option<RollEntryId>,
    ) -> Result<(), Trouble> {
        let id: RollEntryId = self.id();
        let root = match before {
            Some(before) => {
                diesel::update(roll_entry::table.find(before))
                    .set(roll_entry::superseded_at.eq(self.now))
                    .execute(self.connection)?;
                roll_entry::table.find(before).select(roll_entry::root).first(self.connection)?
            }
            None => id,
        };
        diesel::insert_into(roll_entry::table)
            .values((
                (roll_entry::id.eq(id), roll_entry::class_id.eq(class), roll_entry::roll_id.eq(roll)),
                (roll_entry::person_id.eq(person), roll_entry::presence.eq(Word(presence))),
                (roll_entry::root.eq(root), roll_entry::corrects.eq(before)),
                (roll_entry::by_id.eq(self.person()?), roll_entry::at.eq(self.now)),
            ))
            .execute(self.connection)?;
        Ok(())
    }
}

impl Presence {
    /// Key of the word people read.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Here => "roll-presence-here",
            Self::Late => "roll-presence-late",
            Self::Away => "roll-presence-away",
            Self::Excused => "roll-presence-excused",
        }
    }
}
