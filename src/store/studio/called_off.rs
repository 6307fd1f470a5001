//! What stood in people's calendars and was taken away: it stays there for a while as cancelled, under the same name.

use chrono::NaiveDate;
use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, StudioId};
use crate::store::connections::AnyConnection;
use crate::store::schema::{called_off, person};
use crate::store::write::Tx;
use crate::trouble::Trouble;

/// Whose calendar it stood in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// A meeting of the class, or the presence of somebody in it.
    Class(ClassId, Option<PersonId>),
    Studio(StudioId),
}

/// When it was: every week on a weekday from Monday, 1, or on one day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum On {
    Weekday(i32),
    Day(NaiveDate),
}

/// Something that was called off.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CalledOff {
    /// What calendars know it by, without the host: `meeting-…`, `open-…`, `extra-…`.
    pub id: String,
    /// Whose presence it was.
    pub who: Option<String>,
    pub on: On,
    pub from_minute: i32,
    pub to_minute: i32,
}

/// What was called off since a moment in a class, or in a studio.
///
/// # Errors
/// The database cannot be read.
pub fn called_off(db: &mut AnyConnection, of: Of, since: Instant) -> Result<Vec<CalledOff>, Trouble> {
    type Row = (String, Option<i32>, Option<NaiveDate>, i32, i32, Option<String>, Option<String>);
    let mut query = called_off::table
        .left_join(person::table)
        .filter(called_off::at.ge(since))
        .order(called_off::id)
        .select((
            called_off::id,
            called_off::weekday,
            called_off::day,
            called_off::from_minute,
            called_off::to_minute,
            person::given_name.nullable(),
            person::family_name.nullable(),
        ))
        .into_boxed();
    query = match of {
        Of::Class(class, _) => query.filter(called_off::class_id.eq(class)),
        Of::Studio(studio) => query.filter(called_off::studio_id.eq(studio)),
    };
    let rows: Vec<Row> = query.load(db)?;
    let off = |(id, weekday, day, from_minute, to_minute, given, family): Row| {
        let on = weekday.map(On::Weekday).or(day.map(On::Day))?;
        let who = given.zip(family).map(|(given, family)| format!("{given} {family}"));
        Some(CalledOff { id, who, on, from_minute, to_minute })
    };
    Ok(rows.into_iter().filter_map(off).collect())
}

impl Tx<'_> {
    /// Takes the note away: the thing is on again, under the name calendars know.
    ///
    /// # Errors
    /// The database refuses.
    pub fn call_on(&mut self, id: &str) -> Result<(), Trouble> {
        diesel::delete(called_off::table.find(id)).execute(self.connection)?;
        Ok(())
    }

    /// Notes that something in calendars is off, in the act that takes it away.
    ///
    /// # Errors
    /// The database refuses.
    pub fn call_off(
        &mut self,
        id: &str,
        of: Of,
        on: On,
        (from_minute, to_minute): (i32, i32),
    ) -> Result<(), Trouble> {
        let (class, person, studio) = match of {
            Of::Class(class, person) => (Some(class), person, None),
            Of::Studio(studio) => (None, None, Some(studio)),
        };
        let (weekday, day) = match on {
            On::Weekday(weekday) => (Some(weekday), None),
            On::Day(day) => (None, Some(day)),
        };
        diesel::insert_into(called_off::table)
            .values((
                (called_off::id.eq(id), called_off::class_id.eq(class), called_off::studio_id.eq(studio)),
                (called_off::person_id.eq(person), called_off::weekday.eq(weekday), called_off::day.eq(day)),
                (called_off::from_minute.eq(from_minute), called_off::to_minute.eq(to_minute)),
                called_off::at.eq(self.now),
            ))
            .execute(self.connection)?;
        Ok(())
    }
}
