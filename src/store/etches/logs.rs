//! Etch logs as rows, and questions about them: of one plate, of one log with its corrections, of a whole class. Each
//! question takes one statement, or two, however many logs it finds.

use std::collections::HashMap;

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, ContainerId, EtchId, PersonId, PlateId, ProcedureVersionId};
use crate::store::connections::AnyConnection;
use crate::store::etches::came_up::Seen;
pub use crate::store::etches::entries::{Doubt, Entry, Part, Poured};
use crate::store::etches::rows;
use crate::store::plates::folder::seconds_told;
use crate::store::schema::etch;
use crate::trade::etch::came_up::CameUp;
use crate::trouble::Trouble;

/// The plate of a log, for lists.
#[derive(Debug, Clone, Queryable)]
pub struct PlateLine {
    pub id: PlateId,
    pub number: i32,
    pub print_title: String,
    pub person: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub procedure_version: ProcedureVersionId,
}

/// The run of the step an etch belongs to.
#[derive(Debug, Clone, Queryable)]
pub struct RunLine {
    pub outside_rules: String,
    pub settled_at: Option<Instant>,
    /// What the clocks at the table were set to, in seconds, joined by commas; empty without clocks.
    pub planned_seconds: String,
    pub in_room: String,
    /// A second phone told of it otherwise.
    pub told_twice: bool,
}

/// A log with everything that is shown about it.
#[derive(Debug, Clone)]
pub struct Log {
    pub entry: Entry,
    pub plate: PlateLine,
    pub run: RunLine,
    /// Seconds of each application, in order.
    pub applications: Vec<i32>,
    pub came_up: Option<Seen>,
    /// The marks of the containers it names.
    pub marks: HashMap<ContainerId, String>,
    /// Who wrote this entry down.
    pub by_name: String,
}

impl Log {
    /// The applications its clocks were set to: what it took may be shorter, where somebody stopped it.
    #[must_use]
    pub fn planned(&self) -> Option<Vec<i32>> {
        Some(seconds_told(&self.run.planned_seconds)).filter(|planned| !planned.is_empty())
    }

    /// The mark on the label of one of its containers.
    #[must_use]
    pub fn mark(&self, part: Part) -> Option<&str> {
        self.entry.poured.named(part).and_then(|id| self.marks.get(&id)).map(String::as_str)
    }
}

/// What narrows a list of the class's logs.
#[derive(Debug, Clone, Copy, Default)]
pub struct Filter {
    pub container: Option<ContainerId>,
    pub came_up: Option<Asked>,
}

/// Logs by how they came up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asked {
    So(CameUp),
    NotToldYet,
}

/// How many logs are on one page of a list.
pub const PAGE: i64 = 100;

/// The logs of a plate as they stand, newest first; `owner` limits them to one person's plates.
///
/// # Errors
/// The database cannot be read.
pub fn of_plate(
    db: &mut AnyConnection,
    class: ClassId,
    plate: PlateId,
    owner: Option<PersonId>,
) -> Result<Vec<Log>, Trouble> {
    rows::of_plate(db, class, plate, owner)
}

/// One log with all its entries, the one that stands first; any of its entries names it.
///
/// # Errors
/// `NotFound` when it is not of this class, plate and owner.
pub fn chain(
    db: &mut AnyConnection,
    class: ClassId,
    plate: PlateId,
    owner: Option<PersonId>,
    id: EtchId,
) -> Result<Vec<Log>, Trouble> {
    let root: EtchId = etch::table
        .filter(etch::id.eq(id).and(etch::class_id.eq(class)).and(etch::plate_id.eq(plate)))
        .select(etch::root)
        .first(db)?;
    let found = rows::of_root(db, class, plate, root, owner)?;
    if found.is_empty() { Err(Trouble::NotFound) } else { Ok(found) }
}

/// A mix is used up, or thrown away, within one sitting.
const SITTING_MS: i64 = 4 * 3_600_000;

/// What to carry over into the next log: the last one of this plate, or else of this person's plates in the class. A mix
/// made since for another plate, within this sitting, comes before both: it stands on the table. Its times do not: how
/// long this plate is etched is the plate's own.
///
/// # Errors
/// The database cannot be read.
pub fn last(
    db: &mut AnyConnection,
    class: ClassId,
    plate: PlateId,
    person: PersonId,
    now: Instant,
) -> Result<Option<Log>, Trouble> {
    let own = of_plate(db, class, plate, None)?.into_iter().next();
    let latest = rows::last_of(db, class, person)?;
    let Some(own) = own else { return Ok(latest) };
    let just_made =
        |log: &Log| log.entry.at > own.entry.at && now.millis() - log.entry.at.millis() <= SITTING_MS;
    Ok(Some(match latest.filter(just_made) {
        Some(mixed) => Log { applications: own.applications, run: own.run, ..mixed },
        None => own,
    }))
}

/// The logs of a whole class as they stand, newest first, all of them; `owner` limits them to one person's plates.
///
/// # Errors
/// The database cannot be read.
pub fn of_class(
    db: &mut AnyConnection,
    class: ClassId,
    owner: Option<PersonId>,
) -> Result<Vec<Log>, Trouble> {
    rows::of_class(db, class, owner, &Filter::default(), 0, i64::MAX)
}

/// One page of the logs of a class, or of one person's in it, newest first, and whether there are more; pages count
/// from 0.
///
/// # Errors
/// The database cannot be read.
pub fn listed(
    db: &mut AnyConnection,
    class: ClassId,
    owner: Option<PersonId>,
    filter: &Filter,
    page: i64,
) -> Result<(Vec<Log>, bool), Trouble> {
    let skip = page.saturating_mul(PAGE);
    let mut found = rows::of_class(db, class, owner, filter, skip, PAGE + 1)?;
    let full = usize::try_from(PAGE).unwrap_or(usize::MAX);
    let more = found.len() > full;
    found.truncate(full);
    Ok((found, more))
}
