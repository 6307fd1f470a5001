//! Projects: what the class is asked to make, by when and by which procedure; and moving a due date for everybody.

use chrono::NaiveDateTime;
use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, DueMoveId, ProcedureId, ProjectId};
use crate::store::classes::dues::{DueLetter, Whose};
use crate::store::classes::{due_read, due_text, facts, stale};
use crate::store::connections::AnyConnection;
use crate::store::schema::{due_move, person, procedure, procedure_version, project};
use crate::store::types::columns;
use crate::store::write::Tx;
use crate::trade::civil;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// A project of a class.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize)]
pub struct Project {
    pub id: ProjectId,
    pub position: i32,
    pub title: String,
    pub brief: String,
    /// Wall time in the term's zone, `2026-11-24T16:30`; read it by `due`.
    pub due_local: String,
    /// How many numbered impressions are asked; 0 for none.
    pub edition_asked: i32,
    pub procedure: ProcedureId,
    pub procedure_name: String,
    pub version: i64,
}

impl Project {
    /// The class's due date, as wall time in the term's zone. A person's own may replace it: see `due_of`.
    ///
    /// # Errors
    /// The record holds no date.
    pub fn due(&self) -> Result<NaiveDateTime, Trouble> {
        due_read(&self.due_local)
    }
}

/// What people type about a project besides its due date.
#[derive(Debug, Clone, serde::Serialize)]
pub struct ProjectDraft {
    pub title: String,
    pub brief: String,
    pub edition_asked: i32,
    pub procedure: ProcedureId,
}

/// A procedure that a project of the class may follow.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct ProcedureChoice {
    pub id: ProcedureId,
    pub name: String,
    pub surface: String,
    /// True for one the whole school shares, false for one of the class's own.
    pub of_school: bool,
}

/// A due date that was moved for everybody.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct DueMove {
    pub project: ProjectId,
    pub from_local: String,
    pub to_local: String,
    pub reason: String,
    pub given_name: String,
    pub family_name: String,
    pub at: Instant,
}

/// The projects of a class in order.
///
/// # Errors
/// The database cannot be read.
pub fn projects(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Project>, Trouble> {
    Ok(project::table
        .inner_join(procedure::table)
        .filter(project::class_id.eq(class))
        .order((project::position, project::id))
        .select(COLUMNS)
        .load(db)?)
}

/// One project of a class.
///
/// # Errors
/// `NotFound`, or the database cannot be read.
pub fn project(db: &mut AnyConnection, class: ClassId, id: ProjectId) -> Result<Project, Trouble> {
    Ok(project::table
        .inner_join(procedure::table)
        .filter(project::id.eq(id).and(project::class_id.eq(class)))
        .select(COLUMNS)
        .first(db)?)
}

columns! {
    const COLUMNS: Columns = (
        project::id,
        project::position,
        project::title,
        project::brief,
        project::due_local,
        project::edition_asked,
        project::procedure_id,
        procedure::name,
        project::version,
    );
}

/// The procedures a class may choose from: its own, once they were kept, and those of the whole school.
///
/// # Errors
/// The database cannot be read.
pub fn procedure_choices(db: &mut AnyConnection, class: ClassId) -> Result<Vec<ProcedureChoice>, Trouble> {
    Ok(procedure::table
        .filter(procedure::class_id.is_null().or(procedure::class_id.eq(class)))
        .filter(procedure::id.eq_any(procedure_version::table.select(procedure_version::procedure_id)))
        .order((procedure::name, procedure::id))
        .select((procedure::id, procedure::name, procedure::surface, procedure::class_id.is_null()))
        .load(db)?)
}

/// The moves of due dates in a class, newest first; of one project if asked.
///
/// # Errors
/// The database cannot be read.
pub fn due_moves(
    db: &mut AnyConnection,
    class: ClassId,
    only: Option<ProjectId>,
) -> Result<Vec<DueMove>, Trouble> {
    let mut query = due_move::table
        .inner_join(project::table)
        .inner_join(person::table)
        .filter(project::class_id.eq(class))
        .order((due_move::at.desc(), due_move::id.desc()))
        .select((
            due_move::project_id,
            due_move::from_local,
            due_move::to_local,
            due_move::reason,
            person::given_name,
            person::family_name,
            due_move::at,
        ))
        .into_boxed();
    if let Some(id) = only {
        query = query.filter(due_move::project_id.eq(id));
    }
    Ok(query.load(db)?)
}

/// Checks that a due date for everybody lies in the term; the complaint stands at `field`.
///
/// # Errors
/// It does not.
pub fn check_due(class: &facts::Class, field: &str, due: NaiveDateTime) -> Result<(), Trouble> {
    if (class.term.starts..=class.term.ends).contains(&due.date()) {
        return Ok(());
    }
    let remark = Remark::new("classes-due-outside-term")
        .with("day", due.date().to_string())
        .with("starts", class.term.starts.to_string())
        .with("ends", class.term.ends.to_string());
    Err(Trouble::about(field, remark))
}

/// A later date that has passed is an extension told afterwards; an earlier one would make every print late at once.
fn not_over(class: &facts::Class, before: &str, to: NaiveDateTime, now: Instant) -> Result<(), Trouble> {
    let over = Instant::from_utc(civil::instant(to, class.zone()?)) <= now;
    if over && due_text(to).as_str() < before {
        let remark = Remark::new("classes-due-over").with("day", to.format("%Y-%m-%d %H:%M").to_string());
        return Err(Trouble::about("due", remark));
    }
    Ok(())
}

impl Tx<'_> {
    /// Adds a project after those that are there.
    ///
    /// # Errors
    /// Complaints, or the database refuses.
    pub fn add_project(
        &mut self,
        class: ClassId,
        draft: &ProjectDraft,
        due: NaiveDateTime,
    ) -> Result<ProjectId, Trouble> {
        const MOST: i64 = 60;
        check_due(&facts::class(self.connection, class)?, "due", due)?;
        self.check_procedure(class, draft.procedure)?;
        let (rows, last): (i64, Option<i32>) = project::table
            .filter(project::class_id.eq(class))
            .select((diesel::dsl::count_star(), diesel::dsl::max(project::position)))
            .first(self.connection)?;
        if rows >= MOST {
            return Err(Trouble::Refused(Remark::new("classes-projects-full").with("most", MOST)));
        }
        let id: ProjectId = self.id();
        diesel::insert_into(project::table)
            .values((
                (project::id.eq(id), project::class_id.eq(class), project::title.eq(&draft.title)),
                (project::position.eq(last.unwrap_or(0) + 1), project::brief.eq(&draft.brief)),
                (project::due_local.eq(due_text(due)), project::edition_asked.eq(draft.edition_asked)),
                (project::procedure_id.eq(draft.procedure), project::created_at.eq(self.now)),
                project::version.eq(1),
            ))
            .execute(self.connection)?;
        self.journal("project.added", id, &json!({ "project": draft, "due": due_text(due) }))?;
        self.spread_more_time(class, Some(id))?;
        Ok(id)
    }

    /// Changes a project, if it still has the version it was shown with. Plates that were begun keep the procedure
    /// they began with; the due date is moved by `move_due`.
    ///
    /// # Errors
    /// `NotFound`, `Stale`, complaints, or the database refuses.
    pub fn change_project(
        &mut self,
        class: ClassId,
        id: ProjectId,
        version: i64,
        draft: &ProjectDraft,
    ) -> Result<(), Trouble> {
        let before = project(self.connection, class, id)?;
        self.check_procedure(class, draft.procedure)?;
        let changed = diesel::update(project::table.find(id).filter(project::version.eq(version)))
            .set((
                project::title.eq(&draft.title),
                project::brief.eq(&draft.brief),
                project::edition_asked.eq(draft.edition_asked),
                project::procedure_id.eq(draft.procedure),
                project::version.eq(version + 1),
            ))
            .execute(self.connection)?;
        if changed == 0 {
            return Err(stale());
        }
        self.journal("project.changed", id, &json!({ "before": before, "after": draft }))
    }

    /// Moves a project's due date for everybody who has none of their own, and keeps from when, to when, who and why.
    ///
    /// # Errors
    /// `NotFound`, `Stale`, a complaint, or the database refuses.
    pub fn move_due(
        &mut self,
        class: ClassId,
        id: ProjectId,
        version: i64,
        to: NaiveDateTime,
        reason: &str,
    ) -> Result<(), Trouble> {
        let before = project(self.connection, class, id)?;
        let of = facts::class(self.connection, class)?;
        check_due(&of, "due", to)?;
        not_over(&of, &before.due_local, to, self.now)?;
        if before.version != version {
            return Err(stale());
        }
        if before.due_local == due_text(to) {
            return Err(Trouble::about("due", Remark::new("classes-due-as-before")));
        }
        diesel::update(project::table.find(id))
            .set((project::due_local.eq(due_text(to)), project::version.eq(version + 1)))
            .execute(self.connection)?;
        let (by, moved): (_, DueMoveId) = (self.person()?, self.id());
        diesel::insert_into(due_move::table)
            .values((
                due_move::id.eq(moved),
                due_move::project_id.eq(id),
                due_move::from_local.eq(&before.due_local),
                due_move::to_local.eq(due_text(to)),
                due_move::reason.eq(reason),
                due_move::by_id.eq(by),
                due_move::at.eq(self.now),
            ))
            .execute(self.connection)?;
        let detail = json!({ "from": before.due_local, "to": due_text(to), "reason": reason });
        let about = DueLetter {
            project: id,
            title: before.title,
            whose: Whose::Class.word().to_owned(),
            from: Some(before.due_local),
            to: due_text(to),
            reason: Some(reason.to_owned()),
        };
        self.tell_of_move(class, moved, &about)?;
        self.spread_more_time(class, Some(id))?;
        self.journal("project.due_moved", id, &detail)
    }

    fn check_procedure(&mut self, class: ClassId, id: ProcedureId) -> Result<(), Trouble> {
        let offered = procedure_choices(self.connection, class)?;
        if offered.iter().any(|choice| choice.id == id) {
            return Ok(());
        }
        Err(Trouble::about("procedure", Remark::new("classes-choice-gone")))
    }
}
