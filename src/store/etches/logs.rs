//! Etch logs as rows, and questions about them: of one plate, of one log with its corrections, of a whole class. Each
//! question takes the same number of statements, however many logs it finds.

use std::collections::HashMap;

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, ContainerId, EtchId, PersonId, PlateId, ProcedureVersionId};
use crate::store::connections::AnyConnection;
use crate::store::etches::came_up::{self, Seen};
use crate::store::etches::entries::ENTRY;
pub use crate::store::etches::entries::{Doubt, Entry, Part, Poured};
use crate::store::plates::folder::seconds_told;
use crate::store::schema::came_up as came_up_row;
use crate::store::schema::{container, etch, etch_application, person, plate, print, step_run};
use crate::store::types::Word;
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

/// Whether a run has a second account, in queries that join it.
const TOLD_TWICE: &str = "EXISTS (SELECT 1 FROM second_account AS told WHERE told.plate_id = step_run.plate_id AND told.step_run_id = step_run.id)";

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

/// Which logs.
enum Which<'a> {
    Plate(PlateId),
    Chain(PlateId, EtchId),
    LastOf(PersonId),
    Class(&'a Filter, i64, i64),
}

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
    find(db, class, owner, &Which::Plate(plate))
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
    let found = find(db, class, owner, &Which::Chain(plate, root))?;
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
    let latest = find(db, class, None, &Which::LastOf(person))?.into_iter().next();
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
    find(db, class, owner, &Which::Class(&Filter::default(), 0, i64::MAX))
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
    let mut found = find(db, class, owner, &Which::Class(filter, skip, PAGE + 1))?;
    let full = usize::try_from(PAGE).unwrap_or(usize::MAX);
    let more = found.len() > full;
    found.truncate(full);
    Ok((found, more))
}

type Row = (Entry, PlateLine, RunLine);

fn find(
    db: &mut AnyConnection,
    class: ClassId,
    owner: Option<PersonId>,
    which: &Which<'_>,
) -> Result<Vec<Log>, Trouble> {
    let rows = rows(db, class, owner, which)?;
    if rows.is_empty() {
        return Ok(Vec::new());
    }
    let ids: Vec<EtchId> = rows.iter().map(|row| row.0.id).collect();
    let roots: Vec<EtchId> = rows.iter().map(|row| row.0.root).collect();
    let mut applications = applications(db, &ids)?;
    let mut seen = came_up::of(db, &roots)?;
    let marks = marks(db, &rows)?;
    let names = names(db, &rows)?;
    Ok(rows
        .into_iter()
        .map(|(entry, plate, run)| Log {
            applications: applications.remove(&entry.id).unwrap_or_default(),
            came_up: match which {
                Which::Chain(..) => seen.get(&entry.root).cloned(),
                _ => seen.remove(&entry.root),
            },
            marks: named(&entry.poured)
                .filter_map(|id| marks.get(&id).map(|mark| (id, mark.clone())))
                .collect(),
            by_name: names.get(&entry.by).cloned().unwrap_or_default(),
            entry,
            plate,
            run,
        })
        .collect())
}

fn rows(
    db: &mut AnyConnection,
    class: ClassId,
    owner: Option<PersonId>,
    which: &Which<'_>,
) -> Result<Vec<Row>, Trouble> {
    let mut query = etch::table
        .inner_join(plate::table.inner_join(print::table).inner_join(person::table))
        .inner_join(step_run::table)
        .filter(etch::class_id.eq(class))
        .order((etch::at.desc(), etch::received_at.desc(), etch::id.desc()))
        .select((
            ENTRY,
            (
                plate::id,
                plate::number,
                print::title,
                person::id,
                person::given_name,
                person::family_name,
                plate::procedure_version_id,
            ),
            (
                step_run::outside_rules,
                step_run::settled_at,
                step_run::planned_seconds,
                step_run::in_room,
                diesel::dsl::sql::<diesel::sql_types::Bool>(TOLD_TWICE),
            ),
        ))
        .into_boxed();
    if let Some(owner) = owner {
        query = query.filter(plate::person_id.eq(owner));
    }
    query = match which {
        Which::Chain(plate, root) => query.filter(etch::plate_id.eq(*plate).and(etch::root.eq(*root))),
        Which::Plate(plate) => query.filter(etch::plate_id.eq(*plate).and(etch::superseded_at.is_null())),
        Which::LastOf(person) => {
            query.filter(plate::person_id.eq(*person).and(etch::superseded_at.is_null())).limit(1)
        }
        Which::Class(filter, skip, take) => {
            let mut query = query.filter(etch::superseded_at.is_null()).offset(*skip).limit(*take);
            if let Some(id) = filter.container {
                query = query.filter(etch::gum_id.eq(id).or(etch::acid_id.eq(id)).or(etch::stock_id.eq(id)));
            }
            let told = came_up_row::table
                .filter(came_up_row::class_id.eq(class).and(came_up_row::superseded_at.is_null()))
                .select(came_up_row::etch_root);
            match filter.came_up {
                Some(Asked::So(how)) => {
                    query.filter(etch::root.eq_any(told.filter(came_up_row::how.eq(Word(how)))))
                }
                Some(Asked::NotToldYet) => query.filter(etch::root.ne_all(told)),
                None => query,
            }
        }
    };
    Ok(query.load(db)?)
}

fn applications(db: &mut AnyConnection, ids: &[EtchId]) -> Result<HashMap<EtchId, Vec<i32>>, Trouble> {
    let rows: Vec<(EtchId, i32)> = etch_application::table
        .filter(etch_application::etch_id.eq_any(ids))
        .order((etch_application::etch_id, etch_application::position))
        .select((etch_application::etch_id, etch_application::seconds))
        .load(db)?;
    let mut found: HashMap<EtchId, Vec<i32>> = HashMap::new();
    for (id, seconds) in rows {
        found.entry(id).or_default().push(seconds);
    }
    Ok(found)
}

fn named(poured: &Poured) -> impl Iterator<Item = ContainerId> {
    [poured.gum, poured.acid, poured.stock].into_iter().flatten()
}

fn marks(db: &mut AnyConnection, rows: &[Row]) -> Result<HashMap<ContainerId, String>, Trouble> {
    let ids: Vec<ContainerId> = rows.iter().flat_map(|row| named(&row.0.poured)).collect();
    let found: Vec<(ContainerId, String, i32)> = container::table
        .filter(container::id.eq_any(ids))
        .select((container::id, container::letter, container::number))
        .load(db)?;
    Ok(found.into_iter().map(|(id, letter, number)| (id, format!("{letter}{number}"))).collect())
}

fn names(db: &mut AnyConnection, rows: &[Row]) -> Result<HashMap<PersonId, String>, Trouble> {
    let ids: Vec<PersonId> = rows.iter().map(|row| row.0.by).collect();
    let found: Vec<(PersonId, String, String)> = person::table
        .filter(person::id.eq_any(ids))
        .select((person::id, person::given_name, person::family_name))
        .load(db)?;
    Ok(found.into_iter().map(|(id, given, family)| (id, format!("{given} {family}"))).collect())
}
