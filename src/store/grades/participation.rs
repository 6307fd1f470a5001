//! The last day on which somebody took part in a class: a meeting the roll says they were at, a log made, a sign-off,
//! work handed in. A sign-in is none of these: whoever opens a page has not been at the table.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use chrono_tz::Tz;
use diesel::dsl::max;
use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId};
use crate::spelled;
use crate::store::classes::rolls::Presence;
use crate::store::connections::AnyConnection;
use crate::store::schema::{etch, plate, print, roll, roll_entry, sign_off, step_run};
use crate::store::types::Word;
use crate::trouble::Trouble;

spelled!(
    /// What somebody did on their last day.
    Deed {
        /// A step begun or an etch put on, at their own plate.
        Log = "log",
        SignOff = "sign-off",
        HandIn = "hand-in",
        /// Here or late when the roll was called.
        Meeting = "meeting",
    }
);

/// The last day, and what was done on it.
pub type Last = (NaiveDate, Deed);

/// When each person did each kind of thing last.
type Times = Vec<(PersonId, Option<Instant>)>;

/// The last day of everybody who took part in a class. One statement for each kind of deed.
///
/// # Errors
/// The database cannot be read.
pub fn last_days(
    db: &mut AnyConnection,
    class: ClassId,
    zone: Tz,
) -> Result<BTreeMap<PersonId, Last>, Trouble> {
    let mut last: BTreeMap<PersonId, (Instant, Deed)> = BTreeMap::new();
    for (deed, times) in [
        (Deed::Log, steps(db, class)?),
        (Deed::Log, etches(db, class)?),
        (Deed::SignOff, sign_offs(db, class)?),
        (Deed::HandIn, hand_ins(db, class)?),
    ] {
        for (person, at) in times {
            let Some(at) = at else { continue };
            let known = last.entry(person).or_insert((at, deed));
            if at > known.0 {
                *known = (at, deed);
            }
        }
    }
    let mut days: BTreeMap<PersonId, Last> =
        last.into_iter().map(|(person, (at, deed))| (person, (at.local_date(zone), deed))).collect();
    // The roll knows the day alone, so what was done on the same day says more.
    for (person, day) in meetings(db, class)? {
        let Some(day) = day else { continue };
        let known = days.entry(person).or_insert((day, Deed::Meeting));
        if day > known.0 {
            *known = (day, Deed::Meeting);
        }
    }
    Ok(days)
}

/// The last meeting each was at; the day of a roll is local already.
fn meetings(db: &mut AnyConnection, class: ClassId) -> Result<Vec<(PersonId, Option<NaiveDate>)>, Trouble> {
    Ok(roll_entry::table
        .inner_join(roll::table)
        .filter(roll_entry::class_id.eq(class).and(roll_entry::superseded_at.is_null()))
        .filter(roll_entry::presence.eq_any([Word(Presence::Here), Word(Presence::Late)]))
        .group_by(roll_entry::person_id)
        .select((roll_entry::person_id, max(roll::day)))
        .load(db)?)
}

fn steps(db: &mut AnyConnection, class: ClassId) -> Result<Times, Trouble> {
    Ok(step_run::table
        .inner_join(plate::table)
        .filter(step_run::class_id.eq(class).and(step_run::by_id.eq(plate::person_id)))
        .group_by(plate::person_id)
        .select((plate::person_id, max(step_run::began_at)))
        .load(db)?)
}

fn etches(db: &mut AnyConnection, class: ClassId) -> Result<Times, Trouble> {
    Ok(etch::table
        .inner_join(plate::table)
        .filter(etch::class_id.eq(class).and(etch::by_id.eq(plate::person_id)))
        .filter(etch::superseded_at.is_null())
        .group_by(plate::person_id)
        .select((plate::person_id, max(etch::at)))
        .load(db)?)
}

fn sign_offs(db: &mut AnyConnection, class: ClassId) -> Result<Times, Trouble> {
    Ok(sign_off::table
        .filter(sign_off::class_id.eq(class).and(sign_off::taken_back_at.is_null()))
        .group_by(sign_off::person_id)
        .select((sign_off::person_id, max(sign_off::given_at)))
        .load(db)?)
}

fn hand_ins(db: &mut AnyConnection, class: ClassId) -> Result<Times, Trouble> {
    Ok(print::table
        .filter(print::class_id.eq(class))
        .group_by(print::person_id)
        .select((print::person_id, max(print::handed_in_at)))
        .load(db)?)
}
