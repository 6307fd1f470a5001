//! Due dates as they hold for a person: their own where there is one, else the class's, as wall time in the term's
//! zone and as the moment it means.

use std::collections::HashMap;

use chrono::NaiveDateTime;
use chrono_tz::Tz;
use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, DueMoveId, OwnDueId, PersonId, ProjectId};
use crate::spelled;
use crate::store::classes::{due_read, due_text, facts, projects};
use crate::store::connections::AnyConnection;
use crate::store::letters::{Kind, NewLetter, outbox};
use crate::store::people::members::{Member, members};
use crate::store::people::sessions::Role;
use crate::store::schema::{own_due, person, project};
use crate::store::write::Tx;
use crate::trade::civil;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// When something is due for one person.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Due {
    pub local: NaiveDateTime,
    /// The moment, by the rule of `trade::civil` for gaps and overlaps.
    pub at: Instant,
    /// Whether it is the person's own. Why is for the person and the instructor alone.
    pub own: bool,
}

impl Due {
    fn new(local: NaiveDateTime, zone: Tz, own: bool) -> Self {
        Self { local, at: Instant::from_utc(civil::instant(local, zone)), own }
    }
}

/// When a project is due for a person. Two statements at the most; for many at once ask `dues_of_class`.
///
/// # Errors
/// `NotFound`, or the database cannot be read.
pub fn due_of(db: &mut AnyConnection, project_id: ProjectId, person_id: PersonId) -> Result<Due, Trouble> {
    let (class, local): (ClassId, String) =
        project::table.find(project_id).select((project::class_id, project::due_local)).first(db)?;
    let zone = facts::class(db, class)?.zone()?;
    let own: Option<String> = own_due::table
        .filter(
            own_due::project_id
                .eq(project_id)
                .and(own_due::person_id.eq(person_id))
                .and(own_due::superseded_at.is_null()),
        )
        .select(own_due::due_local)
        .first(db)
        .optional()?;
    match own {
        Some(local) => Ok(Due::new(due_read(&local)?, zone, true)),
        None => Ok(Due::new(due_read(&local)?, zone, false)),
    }
}

/// All due dates of a class at once.
#[derive(Debug, Clone)]
pub struct Dues {
    zone: Tz,
    class: HashMap<ProjectId, NaiveDateTime>,
    own: HashMap<(ProjectId, PersonId), NaiveDateTime>,
}

impl Dues {
    /// When a project of the class is due for a person; `None` for a project of another class.
    #[must_use]
    pub fn of(&self, project: ProjectId, person: PersonId) -> Option<Due> {
        match self.own.get(&(project, person)) {
            Some(local) => Some(Due::new(*local, self.zone, true)),
            None => self.of_class(project),
        }
    }

    /// When it is due for those who have no date of their own.
    #[must_use]
    pub fn of_class(&self, project: ProjectId) -> Option<Due> {
        self.class.get(&project).map(|local| Due::new(*local, self.zone, false))
    }
}

/// The due dates of all projects of a class, with those that people have of their own; of one person alone if `owner`.
/// Two statements.
///
/// # Errors
/// The database cannot be read.
pub fn dues_of_class(
    db: &mut AnyConnection,
    class: ClassId,
    zone: Tz,
    owner: Option<PersonId>,
) -> Result<Dues, Trouble> {
    let rows: Vec<(ProjectId, String)> = project::table
        .filter(project::class_id.eq(class))
        .select((project::id, project::due_local))
        .load(db)?;
    let mut query = own_due::table
        .inner_join(project::table)
        .filter(project::class_id.eq(class).and(own_due::superseded_at.is_null()))
        .select((own_due::project_id, own_due::person_id, own_due::due_local))
        .into_boxed();
    if let Some(owner) = owner {
        query = query.filter(own_due::person_id.eq(owner));
    }
    let own: Vec<(ProjectId, PersonId, String)> = query.load(db)?;
    let mut dues = Dues { zone, class: HashMap::new(), own: HashMap::new() };
    for (id, local) in rows {
        dues.class.insert(id, due_read(&local)?);
    }
    for (id, person, local) in own {
        dues.own.insert((id, person), due_read(&local)?);
    }
    Ok(dues)
}

/// A person's own due date with its reason: for that person and the instructor alone.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct OwnDue {
    pub project: ProjectId,
    pub person: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub due_local: String,
    pub reason: String,
    pub at: Instant,
}

/// The due dates of their own that people have in a class, by name.
///
/// # Errors
/// The database cannot be read.
pub fn own_dues(
    db: &mut AnyConnection,
    class: ClassId,
    owner: Option<PersonId>,
) -> Result<Vec<OwnDue>, Trouble> {
    let mut query = own_due::table
        .inner_join(project::table)
        .inner_join(person::table.on(person::id.eq(own_due::person_id)))
        .filter(project::class_id.eq(class).and(own_due::superseded_at.is_null()))
        .order((person::family_name, person::given_name, own_due::id))
        .select((
            own_due::project_id,
            own_due::person_id,
            person::given_name,
            person::family_name,
            own_due::due_local,
            own_due::reason,
            own_due::at,
        ))
        .into_boxed();
    if let Some(owner) = owner {
        query = query.filter(own_due::person_id.eq(owner));
    }
    Ok(query.load(db)?)
}

/// Students of a class whose enrolment is in force, by name.
///
/// # Errors
/// The database cannot be read.
pub fn students(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Member>, Trouble> {
    let mut all = members(db, class)?;
    all.retain(|member| member.role.0 == Role::Student);
    Ok(all)
}

spelled!(
    /// Whose date a letter is about.
    Whose {
        /// Everybody's who has none of their own.
        Class = "class",
        /// The person's own, from now on.
        Own = "own",
        /// The person's own is taken back, and the class's holds.
        Back = "back",
    }
);

/// The detail of a letter about a due date. Why somebody has a date of their own is not in it.
#[derive(Debug, Clone, serde::Serialize, serde::Deserialize)]
pub struct DueLetter {
    pub project: ProjectId,
    pub title: String,
    /// A word of `Whose`.
    pub whose: String,
    /// Wall time in the term's zone, where another date held before.
    pub from: Option<String>,
    pub to: String,
    pub reason: Option<String>,
}

impl DueLetter {
    /// Tells what an earlier letter that was never sent would have told, too: the reader still knows the date before it.
    fn stand_in_for(&mut self, earlier: Self) {
        self.from = earlier.from;
        let never_told = earlier.whose == Whose::Own.word() && self.whose == Whose::Back.word();
        if never_told {
            Whose::Class.word().clone_into(&mut self.whose);
        }
    }
}

/// A letter about a date waits so long: who moves a date often mends it at once, and then only the last is told.
const SETTLES_MS: i64 = 10 * 60_000;

impl Tx<'_> {
    /// A letter about a due date to each of these people, once for each `cause`.
    pub(super) fn letters_about_due(
        &mut self,
        class: ClassId,
        people: &[PersonId],
        cause: &str,
        about: &DueLetter,
    ) -> Result<(), Trouble> {
        for person in people {
            let mut about = about.clone();
            if let Some(earlier) = self.overtake(class, *person, about.project)? {
                about.stand_in_for(earlier);
                if about.from.as_ref() == Some(&about.to) {
                    continue;
                }
            }
            self.letter(&NewLetter {
                kind: Kind::DueMoved,
                person: *person,
                class: Some(class),
                cause: Some(format!("{cause} {person}")),
                detail: serde_json::to_value(about)
                    .map_err(|error| Trouble::broken("writing a letter about a due date", error))?,
                not_before: self.now.plus_ms(SETTLES_MS),
            })?;
        }
        Ok(())
    }

    /// Drops the letter about the same date that still waits for this person, and gives back what it would have said.
    /// One that a runner holds is on its way and stays.
    fn overtake(
        &mut self,
        class: ClassId,
        person: PersonId,
        project: ProjectId,
    ) -> Result<Option<DueLetter>, Trouble> {
        for (id, detail) in outbox::unheld(self.connection, Kind::DueMoved, class, person)? {
            let Ok(waiting) = serde_json::from_str::<DueLetter>(&detail) else { continue };
            if waiting.project == project && outbox::overtaken(self.connection, id, self.now)? {
                return Ok(Some(waiting));
            }
        }
        Ok(None)
    }

    /// Tells everybody whose date it is that the class's due date was moved: students whose enrolment is in force and
    /// who have no date of their own.
    pub(super) fn tell_of_move(
        &mut self,
        class: ClassId,
        cause: DueMoveId,
        about: &DueLetter,
    ) -> Result<(), Trouble> {
        let own = own_dues(self.connection, class, None)?;
        let has_own = |person| own.iter().any(|due| due.project == about.project && due.person == person);
        let people: Vec<PersonId> = students(self.connection, class)?
            .iter()
            .map(|student| student.person)
            .filter(|person| !has_own(*person))
            .collect();
        self.letters_about_due(class, &people, &format!("due-moved {cause}"), about)
    }

    /// Gives a student a due date of their own, which replaces the class's and any earlier one of theirs. It may lie
    /// after the term's end: an incomplete runs on.
    ///
    /// # Errors
    /// `NotFound`, complaints, or the database refuses.
    pub fn set_own_due(
        &mut self,
        class: ClassId,
        id: ProjectId,
        person_id: PersonId,
        due: NaiveDateTime,
        reason: &str,
    ) -> Result<(), Trouble> {
        let project = projects::project(self.connection, class, id)?;
        if students(self.connection, class)?.iter().all(|student| student.person != person_id) {
            return Err(Trouble::about("person", Remark::new("classes-no-student")));
        }
        let starts = facts::class(self.connection, class)?.term.starts;
        if due.date() < starts {
            let remark = Remark::new("classes-own-due-before-term").with("starts", starts.to_string());
            return Err(Trouble::about("due", remark));
        }
        let before = self.supersede_own_due(id, person_id)?.map(|(_, local)| local);
        let by = self.person()?;
        let own: OwnDueId = self.id();
        diesel::insert_into(own_due::table)
            .values((
                own_due::id.eq(own),
                own_due::project_id.eq(id),
                own_due::person_id.eq(person_id),
                own_due::due_local.eq(due_text(due)),
                own_due::reason.eq(reason),
                own_due::by_id.eq(by),
                own_due::at.eq(self.now),
            ))
            .execute(self.connection)?;
        let about = DueLetter {
            project: id,
            title: project.title,
            whose: Whose::Own.word().to_owned(),
            from: Some(before.unwrap_or(project.due_local)),
            to: due_text(due),
            reason: None,
        };
        self.letters_about_due(class, &[person_id], &format!("own-due {own}"), &about)?;
        let detail = json!({ "person": person_id, "due": due_text(due), "reason": reason });
        self.journal("own_due.set", id, &detail)
    }

    /// Takes a person's own due date back: the class's holds again.
    ///
    /// # Errors
    /// `NotFound` where there is none, or the database refuses.
    pub fn take_back_own_due(
        &mut self,
        class: ClassId,
        id: ProjectId,
        person_id: PersonId,
    ) -> Result<(), Trouble> {
        let project = projects::project(self.connection, class, id)?;
        let (own, before) = self.supersede_own_due(id, person_id)?.ok_or(Trouble::NotFound)?;
        let in_force = students(self.connection, class)?.iter().any(|student| student.person == person_id);
        if in_force {
            let about = DueLetter {
                project: id,
                title: project.title,
                whose: Whose::Back.word().to_owned(),
                from: Some(before),
                to: project.due_local,
                reason: None,
            };
            self.letters_about_due(class, &[person_id], &format!("own-due-back {own}"), &about)?;
        }
        self.journal("own_due.taken_back", id, &json!({ "person": person_id }))
    }

    /// The date of their own that held until now, if there was one.
    fn supersede_own_due(
        &mut self,
        id: ProjectId,
        person_id: PersonId,
    ) -> Result<Option<(OwnDueId, String)>, Trouble> {
        let standing = own_due::project_id
            .eq(id)
            .and(own_due::person_id.eq(person_id))
            .and(own_due::superseded_at.is_null());
        let before: Option<(OwnDueId, String)> = own_due::table
            .filter(standing)
            .select((own_due::id, own_due::due_local))
            .first(self.connection)
            .optional()?;
        diesel::update(own_due::table.filter(standing))
            .set(own_due::superseded_at.eq(self.now))
            .execute(self.connection)?;
        Ok(before)
    }
}
