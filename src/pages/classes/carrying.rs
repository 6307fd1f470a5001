//! The preview of a class started from an earlier one: each due date as it would become, editable, closures marked; and
//! reading it back.

use std::collections::BTreeMap;

use chrono::NaiveDateTime;
use serde::Serialize;

use crate::ids::{ClassId, ProjectId};
use crate::pages::dates;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::store::AnyConnection;
use crate::store::classes::carrying::{self, Luggage, Proposal};
use crate::store::classes::facts::ClassTerm;
use crate::store::classes::{Class, due_text, facts, projects};
use crate::store::studio::{OpenHours, open_hours};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// What the preview is made of.
pub(super) struct Preview {
    pub source: Class,
    pub term: ClassTerm,
    pub proposals: Vec<Proposal>,
    pub luggage: Luggage,
    pub hours: OpenHours,
}

/// Reads the earlier class and the hours of the studio in the new term. Thirteen statements, however many projects.
pub(super) fn preview(
    db: &mut AnyConnection,
    from: ClassId,
    term: ClassTerm,
    studio: crate::ids::StudioId,
) -> Result<Preview, Trouble> {
    let source = facts::class(db, from)?;
    let projects = projects::projects(db, from)?;
    let (first, last) = carrying::hours_span(&term);
    Ok(Preview {
        proposals: carrying::proposals(projects, source.term.starts, term.starts)?,
        luggage: carrying::luggage(db, from)?,
        hours: open_hours(db, studio, first, last)?,
        source,
        term,
    })
}

/// One project in the preview.
#[derive(Serialize)]
pub(super) struct Row {
    title: String,
    week: i64,
    was: String,
    /// The fields of the form that belong to it.
    due: String,
    shift: String,
    /// Why the studio is closed on the day that stands in the field, and the day after it that is open.
    closed: Option<String>,
    next_open: Option<String>,
    /// The day lies outside the new term: it must be changed.
    outside: bool,
}

#[derive(Serialize)]
pub(super) struct PreviewView {
    source: String,
    source_term: String,
    term: String,
    rows: Vec<Row>,
    luggage: Luggage,
    closures: usize,
}

impl Preview {
    /// Puts the proposed dates into a form.
    pub fn fill(&self, form: Form) -> Form {
        self.proposals.iter().fold(form, |form, proposal| {
            form.with(&due_field(proposal.project.id), due_text(proposal.becomes))
        })
    }

    /// The view; marks stand at what was typed where the form came back.
    pub fn view(&self, filled: Option<&Filled>) -> PreviewView {
        let rows: Vec<Row> = self.proposals.iter().map(|proposal| self.row(proposal, filled)).collect();
        PreviewView {
            source: self.source.rules.title.clone(),
            source_term: self.source.term.name.clone(),
            term: self.term.name.clone(),
            luggage: self.luggage,
            closures: rows.iter().filter(|row| row.closed.is_some()).count(),
            rows,
        }
    }

    fn row(&self, proposal: &Proposal, filled: Option<&Filled>) -> Row {
        let id = proposal.project.id;
        let typed = filled.and_then(|filled| {
            let mut sheet = Sheet::new(filled);
            sheet.maybe_local_time(&due_field(id))
        });
        let due = typed.unwrap_or(proposal.becomes);
        let closed = self.hours.closure_on(due.date()).map(|closure| closure.reason.clone());
        Row {
            title: proposal.project.title.clone(),
            week: proposal.week,
            was: dates::day_and_time(proposal.was),
            due: due_field(id),
            shift: shift_field(id),
            next_open: closed
                .as_ref()
                .and_then(|_| carrying::next_open(&self.hours, due))
                .map(dates::day_and_time),
            closed,
            outside: !(self.term.starts..=self.term.ends).contains(&due.date()),
        }
    }

    /// Reads the due dates back. One that falls on a closure moves to the next open day if its box is ticked, and not
    /// otherwise.
    pub fn read(&self, sheet: &mut Sheet<'_>) -> BTreeMap<ProjectId, NaiveDateTime> {
        let mut dues = BTreeMap::new();
        for proposal in &self.proposals {
            let id = proposal.project.id;
            let mut due = sheet.local_time(&due_field(id));
            if sheet.tick(&shift_field(id)) && self.hours.closure_on(due.date()).is_some() {
                match carrying::next_open(&self.hours, due) {
                    Some(open) => due = open,
                    None => sheet.complain(&due_field(id), Remark::new("classes-again-never-open")),
                }
            }
            dues.insert(id, due);
        }
        dues
    }
}

fn due_field(id: ProjectId) -> String {
    format!("due-{id}")
}

fn shift_field(id: ProjectId) -> String {
    format!("shift-{id}")
}
