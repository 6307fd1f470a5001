//! What a person's calendar shows: for each class they stand in, its meetings, its studio's hours, what is due, and
//! their own plates.

use chrono::NaiveDate;
use chrono_tz::Tz;
use diesel::prelude::*;

use crate::clock::{DAY_MS, Instant};
use crate::ids::{ClassId, PersonId, ProjectId, StudioId};
use crate::store::classes::meetings::{Meeting, meetings};
use crate::store::classes::{dues, projects};
use crate::store::connections::AnyConnection;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::plates::folder::{Folder, Which, folders};
use crate::store::plates::plans::{self, Look};
use crate::store::plates::premises;
use crate::store::plates::procedures::Procedures;
use crate::store::schema::{class, enrolment, journal_head, studio, term};
use crate::store::studio::called_off::{CalledOff, Of, called_off};
use crate::store::studio::{OpenHours, open_hours};
use crate::store::types::Word;
use crate::trouble::Trouble;

/// What was taken away stays so long in calendars as cancelled.
const OFF_MS: i64 = 60 * DAY_MS;

/// One class of a person.
#[derive(Debug, Clone)]
pub struct Agenda {
    pub class: ClassId,
    pub title: String,
    pub role: Role,
    pub zone: Tz,
    pub starts: NaiveDate,
    pub ends: NaiveDate,
    pub studio: StudioId,
    pub studio_name: String,
    pub meetings: Vec<Meeting>,
    pub hours: OpenHours,
    /// What was taken away lately, of the class and of the studio.
    pub off: (Vec<CalledOff>, Vec<CalledOff>),
    pub dues: Vec<DueAt>,
    /// A student's own plates.
    pub plates: Vec<(Folder, Look)>,
    /// How many acts the journals of the class and the school hold: whatever changes anything here adds one.
    pub acts: i64,
}

/// When a project is due for this person.
#[derive(Debug, Clone)]
pub struct DueAt {
    pub project: ProjectId,
    pub title: String,
    pub at: Instant,
}

/// The classes of a person whose term is not over. So many statements for each class, however many plates there are.
///
/// # Errors
/// The database cannot be read.
pub fn agendas(
    db: &mut AnyConnection,
    procedures: &Procedures,
    person: PersonId,
    now: Instant,
) -> Result<Vec<Agenda>, Trouble> {
    type Row = (ClassId, String, Word<Role>, String, NaiveDate, NaiveDate, StudioId, String);
    let in_force = [Word(EnrolmentState::Enrolled), Word(EnrolmentState::Incomplete)];
    let rows: Vec<Row> = enrolment::table
        .inner_join(class::table.inner_join(term::table).inner_join(studio::table))
        .filter(enrolment::person_id.eq(person).and(enrolment::state.eq_any(in_force)))
        .order((term::starts, class::title, class::id))
        .select((
            class::id,
            class::title,
            enrolment::role,
            term::zone,
            term::starts,
            term::ends,
            studio::id,
            studio::name,
        ))
        .load(db)?;
    let heads: Vec<(String, i64)> =
        journal_head::table.select((journal_head::scope, journal_head::seq)).load(db)?;
    let acts = |scope: &str| heads.iter().find(|head| head.0 == scope).map_or(0, |head| head.1);
    let mut found = Vec::new();
    for (class, title, role, zone, starts, ends, studio, studio_name) in rows {
        let zone: Tz = zone.parse().map_err(|_error| Trouble::broken("reading a zone", &zone))?;
        if now.local_date(zone) > ends {
            continue;
        }
        let student = role.0 == Role::Student;
        let dues = dues::dues_of_class(db, class, zone, Some(person))?;
        let due = |project: projects::Project| {
            let at = dues.of(project.id, person)?.at;
            Some(DueAt { project: project.id, title: project.title, at })
        };
        let plates = match student {
            true => plates(db, procedures, (class, studio, zone), person, now)?,
            false => Vec::new(),
        };
        found.push(Agenda {
            class,
            title,
            role: role.0,
            zone,
            starts,
            ends,
            studio,
            studio_name,
            meetings: meetings(db, class)?,
            hours: open_hours(db, studio, starts, ends)?,
            off: (
                called_off(db, Of::Class(class, None), now.plus_ms(-OFF_MS))?,
                called_off(db, Of::Studio(studio), now.plus_ms(-OFF_MS))?,
            ),
            dues: projects::projects(db, class)?.into_iter().filter_map(due).collect(),
            plates,
            acts: acts("school") + acts(class.as_str()),
        });
    }
    Ok(found)
}

fn plates(
    db: &mut AnyConnection,
    procedures: &Procedures,
    (class, studio, zone): (ClassId, StudioId, Tz),
    person: PersonId,
    now: Instant,
) -> Result<Vec<(Folder, Look)>, Trouble> {
    let folders = folders(db, procedures, Which::Class(class), Some(person), studio, zone)?;
    let ground = premises::ground(db, studio, class, zone, now)?;
    let look = |folder: Folder| {
        let look = plans::look(&folder, &ground, now);
        (folder, look)
    };
    Ok(folders.into_iter().map(look).collect())
}
