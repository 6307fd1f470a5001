//! Letters that come by themselves, on days of the term on which the studio is not closed, from the facts of the record:
//! the daily letter, at most one for each person and local day, from the hour each of them chose, and none when there is
//! nothing to say; warnings of a limit that passes before the next one; and the instructor's letter of a week.

mod composing;
mod facts;
mod limits;
mod week;

pub use composing::{
    Daily, DailyFacts, DuePrint, Expiring, GumNear, Item, MissingSignOff, ReadyStep, What, compose,
};
pub use facts::{AHEAD_MS, Found, facts};
pub use limits::Urgent;
pub use week::{Due, Fits, Group, Plate, Week};

use std::sync::Arc;

use futures_util::future::try_join_all;

use crate::clock::Instant;
use crate::store::letters::daily::{Place, cause};
use crate::store::letters::{Kind, NewLetter};
use crate::store::plates::procedures::Procedures;
use crate::store::{Db, Scope};
use crate::trouble::Trouble;

/// The local hour from which on the letters of a day are written, unless a person chose another; they tell what stood
/// then.
pub const FROM_HOUR: u32 = 7;

/// Connections on which classes are looked through: pages want some, too.
const AT_ONCE: usize = 2;

/// Letters written in one transaction.
const BATCH: usize = 500;

/// Writes the letters that are still to be written at `now` into the outbox, and says how many there were. Running
/// it twice, or on two servers at once, writes none twice: the row's cause is UNIQUE, and all writers of daily letters
/// wait for the school's journal in line.
///
/// # Errors
/// The database cannot be read or written.
pub async fn write_letters(db: &Db, procedures: &Arc<Procedures>, now: Instant) -> Result<usize, Trouble> {
    let found = found(db, procedures, now).await?;
    let daily = found.daily.into_values().filter_map(|of_person| letter(&of_person, now));
    let mut letters = daily.collect::<Result<Vec<_>, _>>()?;
    letters.extend(found.others);
    let mut written = 0;
    for batch in letters.chunks(BATCH) {
        let batch = batch.to_vec();
        written += db.write(Scope::School, None, now, move |tx| Ok(tx.letters(&batch)?.len())).await?;
    }
    Ok(written)
}

/// What there is to write, the classes shared out over a few connections: one asks while another reckons.
async fn found(db: &Db, procedures: &Arc<Procedures>, now: Instant) -> Result<Found, Trouble> {
    let (places, had) = db.read(move |db| facts::due_today(db, now)).await?;
    let had = Arc::new(had);
    let share = places.len().div_ceil(AT_ONCE).max(1);
    let parts = places.chunks(share).map(|part| {
        let (part, had, known) = (part.to_vec(), had.clone(), procedures.clone());
        db.read(move |db| facts(db, &known, &part, &had, now))
    });
    let mut found = Found::default();
    for part in try_join_all(parts).await? {
        found.take_in(part);
    }
    Ok(found)
}

/// One person's letter, if there is anything to say. It belongs to the class of its first item.
fn letter(of_person: &[(Place, DailyFacts)], now: Instant) -> Option<Result<NewLetter, Trouble>> {
    let (place, _) = of_person.first()?;
    let facts: Vec<&DailyFacts> = of_person.iter().map(|(_, facts)| facts).collect();
    let person = facts.first()?.person;
    let daily = compose(place.date, &facts)?;
    let detail = match serde_json::to_value(&daily) {
        Ok(detail) => detail,
        Err(error) => return Some(Err(Trouble::broken("composing a daily letter", error))),
    };
    Some(Ok(NewLetter {
        kind: Kind::Daily,
        person,
        class: Some(daily.first.class),
        cause: Some(cause(person, place.date)),
        detail,
        not_before: now,
    }))
}
