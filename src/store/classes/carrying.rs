//! Starting a class from an earlier one: its rules, procedures, topics, table of etches, projects, categories and
//! assessments, listings and hours come along; people, plates and scores do not. Dates move by week of term.

mod copies;

use std::collections::BTreeMap;

use chrono::{Days, NaiveDateTime};
use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClassId, PersonId, ProjectId};
use crate::store::classes::{Class, Project, facts, projects};
use crate::store::connections::AnyConnection;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::schema::{
    assessment, category, class, class_topic, enrolment, meeting, procedure, procedure_version, project, term,
};
use crate::store::studio::OpenHours;
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trade::term as weeks;
use crate::trouble::{Complaint, Trouble};

/// A class one may start from.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct Source {
    pub id: ClassId,
    pub code: String,
    pub title: String,
    pub term_name: String,
}

/// Classes that have projects, the newest term first; for an instructor those they teach or taught.
///
/// # Errors
/// The database cannot be read.
pub fn sources(db: &mut AnyConnection, instructor: Option<PersonId>) -> Result<Vec<Source>, Trouble> {
    let mut query = class::table
        .inner_join(term::table)
        .filter(class::id.eq_any(project::table.select(project::class_id)))
        .order((term::starts.desc(), class::code, class::id))
        .select((class::id, class::code, class::title, term::name))
        .into_boxed();
    if let Some(person) = instructor {
        query = query.filter(
            class::id.eq_any(
                enrolment::table
                    .filter(
                        enrolment::person_id
                            .eq(person)
                            .and(enrolment::role.eq(Word(Role::Instructor)))
                            .and(enrolment::state.eq(Word(EnrolmentState::Enrolled))),
                    )
                    .select(enrolment::class_id),
            ),
        );
    }
    Ok(query.load(db)?)
}

/// What comes along besides the projects.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
pub struct Luggage {
    pub listings: i64,
    pub meetings: i64,
    pub procedures: i64,
    pub topics: i64,
    pub categories: i64,
    pub assessments: i64,
    /// Rows of the table of etches.
    pub etches: i64,
}

/// Counts what would come along. Hours of presence count among the meetings.
///
/// # Errors
/// The database cannot be read.
pub fn luggage(db: &mut AnyConnection, from: ClassId) -> Result<Luggage, Trouble> {
    use crate::store::schema::{etch_table_row, listing};
    Ok(Luggage {
        listings: listing::table.filter(listing::class_id.eq(from)).count().get_result(db)?,
        meetings: meeting::table.filter(meeting::class_id.eq(from)).count().get_result(db)?,
        procedures: procedure::table
            .filter(procedure::class_id.eq(from))
            .filter(procedure::id.eq_any(procedure_version::table.select(procedure_version::procedure_id)))
            .count()
            .get_result(db)?,
        topics: class_topic::table.filter(class_topic::class_id.eq(from)).count().get_result(db)?,
        categories: category::table.filter(category::class_id.eq(from)).count().get_result(db)?,
        assessments: assessment::table.filter(assessment::class_id.eq(from)).count().get_result(db)?,
        etches: etch_table_row::table
            .filter(etch_table_row::class_id.eq(from).and(etch_table_row::superseded_at.is_null()))
            .count()
            .get_result(db)?,
    })
}

/// The due date proposed for a project in another term.
#[derive(Debug, Clone)]
pub struct Proposal {
    pub project: Project,
    /// The week of term it falls into, in both terms.
    pub week: i64,
    pub was: NaiveDateTime,
    pub becomes: NaiveDateTime,
}

/// Moves each project's due date by week of term.
///
/// # Errors
/// The record holds a date that cannot be moved.
pub fn proposals(
    projects: Vec<Project>,
    from: chrono::NaiveDate,
    into: chrono::NaiveDate,
) -> Result<Vec<Proposal>, Trouble> {
    projects
        .into_iter()
        .map(|project| {
            let was = project.due()?;
            let becomes = weeks::carried(was, from, into)
                .ok_or_else(|| Trouble::broken("moving a due date", &project.due_local))?;
            Ok(Proposal { week: weeks::week(from, was.date()), was, becomes, project })
        })
        .collect()
}

/// The next day after a due date on which the studio opens, at the same wall time; at most four weeks ahead.
#[must_use]
pub fn next_open(hours: &OpenHours, due: NaiveDateTime) -> Option<NaiveDateTime> {
    weeks::next_open_day(due.date(), 28, |day| hours.opens_on(day)).map(|day| day.and_time(due.time()))
}

/// How far beyond a term's days the hours must be asked for, so that `next_open` sees enough.
#[must_use]
pub fn hours_span(class: &facts::ClassTerm) -> (chrono::NaiveDate, chrono::NaiveDate) {
    let far = Days::new(60);
    (
        class.starts.checked_sub_days(far).unwrap_or(class.starts),
        class.ends.checked_add_days(far).unwrap_or(class.ends),
    )
}

impl Tx<'_> {
    /// Brings everything of an earlier class into a class that has no projects, categories or procedures of its own
    /// yet. `dues` holds the due date of every project of the earlier class.
    ///
    /// # Errors
    /// `NotFound`, complaints about due dates (at `due-<project>`), `Refused` where the class is not empty.
    pub fn carry_over(
        &mut self,
        from: ClassId,
        into: ClassId,
        dues: &BTreeMap<ProjectId, NaiveDateTime>,
    ) -> Result<(), Trouble> {
        let source = facts::class(self.connection, from)?;
        let target = facts::class(self.connection, into)?;
        let projects = projects::projects(self.connection, from)?;
        check_dues(&target, &projects, dues)?;
        self.check_empty(into)?;
        self.carry_rules(&source, &target)?;
        self.carry_listings(from, into)?;
        self.carry_meetings(from, into)?;
        self.carry_topics(from, into)?;
        self.carry_etch_table(from, into)?;
        let procedures = self.carry_procedures(from, into)?;
        let projects = self.carry_projects(into, projects, dues, &procedures)?;
        self.carry_grading(from, into)?;
        self.carry_assessments(from, into, &projects)?;
        self.journal("class.started_from", into, &json!({ "from": from, "projects": projects.len() }))
    }

    fn check_empty(&mut self, into: ClassId) -> Result<(), Trouble> {
        let projects: i64 =
            project::table.filter(project::class_id.eq(into)).count().get_result(self.connection)?;
        let categories: i64 =
            category::table.filter(category::class_id.eq(into)).count().get_result(self.connection)?;
        let procedures: i64 =
            procedure::table.filter(procedure::class_id.eq(into)).count().get_result(self.connection)?;
        if projects + categories + procedures == 0 {
            return Ok(());
        }
        Err(Trouble::Refused(Remark::new("classes-not-empty")))
    }
}

/// Every project has a due date within the new term.
fn check_dues(
    target: &Class,
    projects: &[Project],
    dues: &BTreeMap<ProjectId, NaiveDateTime>,
) -> Result<(), Trouble> {
    let mut complaints: Vec<Complaint> = Vec::new();
    for project in projects {
        let field = format!("due-{}", project.id);
        match dues.get(&project.id) {
            None => complaints.push(Complaint::new(field, Remark::new("form-empty"))),
            Some(due) => {
                if let Err(Trouble::Complaints(more)) = projects::check_due(target, &field, *due) {
                    complaints.extend(more);
                }
            }
        }
    }
    if complaints.is_empty() { Ok(()) } else { Err(Trouble::Complaints(complaints)) }
}
