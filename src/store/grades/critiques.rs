//! Critique notes: one line for each print in the order it hangs, written during a critique and handed back the same
//! night in one act.

use chrono::NaiveDate;
use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, CritiqueId, PersonId, PrintId, ProjectId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::letters::{Kind, NewLetter};
use crate::store::people::members;
use crate::store::plates::prints;
use crate::store::schema::{critique, critique_note, person, print, project};
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

/// A critique.
#[derive(Debug, Clone, Queryable)]
pub struct Critique {
    pub id: CritiqueId,
    pub project: ProjectId,
    pub project_title: String,
    pub held_on: NaiveDate,
    pub handed_back_at: Option<Instant>,
    pub version: i64,
}

/// The line about one print.
#[derive(Debug, Clone, Queryable)]
pub struct Note {
    pub print: PrintId,
    pub title: String,
    pub person: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub position: i32,
    pub words: String,
}

/// What a student reads of a critique.
#[derive(Debug, Clone, Queryable)]
pub struct OwnNote {
    pub print_title: String,
    pub project_title: String,
    pub held_on: NaiveDate,
    pub words: String,
    pub person: PersonId,
}

spelled!(
    /// Where a print's place in the hanging order goes.
    Hang {
        Earlier = "earlier",
        Later = "later",
    }
);

/// The critiques of a class, the last first. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn critiques(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Critique>, Trouble> {
    Ok(critique::table
        .inner_join(project::table)
        .filter(critique::class_id.eq(class))
        .order((critique::held_on.desc(), critique::begun_at.desc(), critique::id))
        .select((
            critique::id,
            project::id,
            project::title,
            critique::held_on,
            critique::handed_back_at,
            critique::version,
        ))
        .load(db)?)
}

/// One critique with its lines in hanging order. Two statements.
///
/// # Errors
/// `NotFound`, or the database cannot be read.
pub fn with_notes(
    db: &mut AnyConnection,
    class: ClassId,
    id: CritiqueId,
) -> Result<(Critique, Vec<Note>), Trouble> {
    let one = critiques(db, class)?.into_iter().find(|one| one.id == id).ok_or(Trouble::NotFound)?;
    let notes = critique_note::table
        .inner_join(print::table.inner_join(person::table))
        .filter(critique_note::critique_id.eq(id))
        .order((critique_note::position, critique_note::print_id))
        .select((
            print::id,
            print::title,
            person::id,
            person::given_name,
            person::family_name,
            critique_note::position,
            critique_note::words,
        ))
        .load(db)?;
    Ok((one, notes))
}

/// The lines about a class's prints that were handed back, the newest critique first; of one person alone if `owner`.
/// One statement.
///
/// # Errors
/// The database cannot be read.
pub fn handed_back(
    db: &mut AnyConnection,
    class: ClassId,
    owner: Option<PersonId>,
) -> Result<Vec<OwnNote>, Trouble> {
    let mut query = critique_note::table
        .inner_join(critique::table)
        .inner_join(print::table)
        .inner_join(project::table.on(project::id.eq(critique::project_id)))
        .filter(critique::class_id.eq(class).and(critique::handed_back_at.is_not_null()))
        .filter(critique_note::words.ne(""))
        .order((critique::held_on.desc(), critique::id, critique_note::position))
        .select((print::title, project::title, critique::held_on, critique_note::words, print::person_id))
        .into_boxed();
    if let Some(owner) = owner {
        query = query.filter(print::person_id.eq(owner));
    }
    Ok(query.load(db)?)
}

impl Tx<'_> {
    /// Begins a critique of a project: every print of it hangs, in the order of names.
    ///
    /// # Errors
    /// `NotFound`, or a complaint where nothing hangs.
    pub fn begin_critique(
        &mut self,
        class: ClassId,
        of: ProjectId,
        held_on: NaiveDate,
    ) -> Result<CritiqueId, Trouble> {
        prints::projects(self.connection, class)?
            .iter()
            .find(|(id, _)| *id == of)
            .ok_or_else(|| Trouble::about("project", Remark::new("grades-not-of-class")))?;
        let students = members::members(self.connection, class)?;
        let place = |person: PersonId| students.iter().position(|member| member.person == person);
        let mut hung: Vec<_> = prints::prints(self.connection, class, None, None)?
            .into_iter()
            .filter(|print| print.project == of)
            .filter_map(|print| Some((place(print.person)?, print.id)))
            .collect();
        hung.sort_unstable();
        if hung.is_empty() {
            return Err(Trouble::about("project", Remark::new("critique-nothing-hangs")));
        }
        let id: CritiqueId = self.id();
        diesel::insert_into(critique::table)
            .values((
                (critique::id.eq(id), critique::class_id.eq(class), critique::project_id.eq(of)),
                (critique::held_on.eq(held_on), critique::by_id.eq(self.person()?)),
                (critique::begun_at.eq(self.now), critique::version.eq(1)),
            ))
            .execute(self.connection)?;
        for (position, (_, print)) in (1..).zip(&hung) {
            diesel::insert_into(critique_note::table)
                .values((
                    (critique_note::critique_id.eq(id), critique_note::print_id.eq(print)),
                    (critique_note::position.eq(position), critique_note::words.eq("")),
                ))
                .execute(self.connection)?;
        }
        self.journal("critique.begun", id, &json!({ "project": of, "prints": hung.len() }))?;
        Ok(id)
    }

    /// Keeps the lines of a critique, and moves one print by one place if asked. `seen` is the version that was shown.
    ///
    /// # Errors
    /// `NotFound`, handed back already, or complaints at `words-<print>` where somebody else wrote meanwhile.
    pub fn keep_critique(
        &mut self,
        class: ClassId,
        id: CritiqueId,
        seen: i64,
        words: &[(PrintId, String)],
        moved: Option<(PrintId, Hang)>,
    ) -> Result<(), Trouble> {
        let (one, notes) = with_notes(self.connection, class, id)?;
        if one.handed_back_at.is_some() {
            return Err(Trouble::Refused(Remark::new("critique-handed-back")));
        }
        let mut stale = Vec::new();
        for (print, line) in words {
            let note = notes.iter().find(|note| note.print == *print).ok_or(Trouble::NotFound)?;
            if note.words == *line {
                continue;
            }
            if seen != one.version {
                let remark = match note.words.is_empty() {
                    true => Remark::new("form-stands-empty"),
                    false => Remark::new("form-stands").with("value", note.words.as_str()),
                };
                stale.push(Complaint::new(format!("words-{print}"), remark));
                continue;
            }
            diesel::update(critique_note::table.find((id, *print)))
                .set((critique_note::words.eq(line), critique_note::by_id.eq(self.person()?)))
                .execute(self.connection)?;
        }
        if !stale.is_empty() {
            stale.insert(0, Complaint::new("", Remark::new("form-stale")));
            return Err(Trouble::Complaints(stale));
        }
        if let Some((print, hang)) = moved {
            self.hang(id, &notes, print, hang)?;
        }
        diesel::update(critique::table.find(id))
            .set(critique::version.eq(one.version + 1))
            .execute(self.connection)?;
        let told: Vec<_> = words.iter().map(|(print, line)| json!([print, line])).collect();
        self.journal("critique.written", id, &json!({ "lines": told }))
    }

    /// Changes places with the neighbour.
    fn hang(&mut self, id: CritiqueId, notes: &[Note], print: PrintId, hang: Hang) -> Result<(), Trouble> {
        let place = notes.iter().position(|note| note.print == print).ok_or(Trouble::NotFound)?;
        let other = match hang {
            Hang::Earlier => place.checked_sub(1),
            Hang::Later => place.checked_add(1),
        };
        let Some((one, other)) = notes.get(place).zip(other.and_then(|other| notes.get(other))) else {
            return Ok(());
        };
        for (print, position) in [(one.print, other.position), (other.print, one.position)] {
            diesel::update(critique_note::table.find((id, print)))
                .set(critique_note::position.eq(position))
                .execute(self.connection)?;
        }
        Ok(())
    }

    /// Hands the lines back: one letter to each student whose print has one. Answers how many.
    ///
    /// # Errors
    /// `NotFound`, handed back already, or no line is written.
    pub fn hand_back_critique(&mut self, class: ClassId, id: CritiqueId) -> Result<usize, Trouble> {
        let (one, notes) = with_notes(self.connection, class, id)?;
        if one.handed_back_at.is_some() {
            return Err(Trouble::Refused(Remark::new("critique-handed-back")));
        }
        let mut people: Vec<PersonId> =
            notes.iter().filter(|note| !note.words.is_empty()).map(|note| note.person).collect();
        people.sort_unstable();
        people.dedup();
        if people.is_empty() {
            return Err(Trouble::Refused(Remark::new("critique-no-lines")));
        }
        diesel::update(critique::table.find(id))
            .set((critique::handed_back_at.eq(self.now), critique::version.eq(one.version + 1)))
            .execute(self.connection)?;
        for person in &people {
            self.letter(&NewLetter {
                kind: Kind::HandedBack,
                person: *person,
                class: Some(class),
                cause: Some(format!("critique {id} {person}")),
                detail: json!({ "titles": [one.project_title] }),
                not_before: self.now,
            })?;
        }
        self.journal("critique.handed-back", id, &json!({ "people": people.len() }))?;
        Ok(people.len())
    }
}
