//! Assessments: what of a student's work is marked, in which category, for how many points.

use diesel::prelude::*;
use serde_json::json;

use crate::ids::{AssessmentId, CategoryId, ClassId, ProjectId};
use crate::store::connections::AnyConnection;
use crate::store::grades::categories;
use crate::store::people::theirs::Kind;
use crate::store::schema::{assessment, assessment_criterion, project, score};
use crate::store::write::Tx;
use crate::trade::exact::Exact;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Something that is marked.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize)]
pub struct Assessment {
    pub id: AssessmentId,
    pub category: CategoryId,
    /// The project whose prints are marked; lateness comes from its due date.
    pub project: Option<ProjectId>,
    pub title: String,
    pub points_hundredths: i64,
    /// Its score is added, its points are not asked for, and a score may exceed them.
    pub extra_credit: bool,
    pub version: i64,
}

/// What an instructor says about an assessment.
#[derive(Debug, Clone)]
pub struct AssessmentDraft {
    pub category: CategoryId,
    pub project: Option<ProjectId>,
    pub title: String,
    pub points_hundredths: i64,
    pub extra_credit: bool,
}

/// A project as an assessment names it.
#[derive(Debug, Clone, Queryable)]
pub struct AssessedProject {
    pub id: ProjectId,
    pub title: String,
}

/// The assessments of a class in the order they were made. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn assessments(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Assessment>, Trouble> {
    Ok(assessment::table
        .filter(assessment::class_id.eq(class))
        .order((assessment::position, assessment::id))
        .select((
            assessment::id,
            assessment::category_id,
            assessment::project_id,
            assessment::title,
            assessment::points_hundredths,
            assessment::extra_credit,
            assessment::version,
        ))
        .load(db)?)
}

/// One assessment of a class.
///
/// # Errors
/// `NotFound`, or the database cannot be read.
pub fn assessment(db: &mut AnyConnection, class: ClassId, id: AssessmentId) -> Result<Assessment, Trouble> {
    assessments(db, class)?.into_iter().find(|one| one.id == id).ok_or(Trouble::NotFound)
}

/// The projects an assessment of the class can name.
///
/// # Errors
/// The database cannot be read.
pub fn projects(db: &mut AnyConnection, class: ClassId) -> Result<Vec<AssessedProject>, Trouble> {
    Ok(project::table
        .filter(project::class_id.eq(class))
        .order((project::position, project::id))
        .select((project::id, project::title))
        .load(db)?)
}

impl Tx<'_> {
    /// Adds an assessment at the end.
    ///
    /// # Errors
    /// A complaint about what it names or asks for.
    pub fn add_assessment(
        &mut self,
        class: ClassId,
        draft: &AssessmentDraft,
    ) -> Result<AssessmentId, Trouble> {
        self.check_assessment(class, draft)?;
        let last: Option<i32> = assessment::table
            .filter(assessment::class_id.eq(class))
            .select(diesel::dsl::max(assessment::position))
            .first(self.connection)?;
        let id: AssessmentId = self.id();
        diesel::insert_into(assessment::table)
            .values((
                (assessment::id.eq(id), assessment::class_id.eq(class)),
                assessment::position.eq(last.unwrap_or(0) + 1),
                (assessment::category_id.eq(draft.category), assessment::project_id.eq(draft.project)),
                assessment::title.eq(&draft.title),
                assessment::points_hundredths.eq(draft.points_hundredths),
                (assessment::extra_credit.eq(draft.extra_credit), assessment::version.eq(1)),
            ))
            .execute(self.connection)?;
        self.journal("assessment.added", id, &detail(draft))?;
        Ok(id)
    }

    /// Changes an assessment.
    ///
    /// # Errors
    /// `NotFound`, stale, or a complaint; points may not fall below a score that stands.
    pub fn change_assessment(
        &mut self,
        class: ClassId,
        id: AssessmentId,
        seen: i64,
        draft: &AssessmentDraft,
    ) -> Result<(), Trouble> {
        let standing = assessment(self.connection, class, id)?;
        if standing.version != seen {
            return Err(Trouble::Stale(Remark::new("form-stale")));
        }
        self.check_assessment(class, draft)?;
        // Every score that was ever handed back stays reckonable, also one that was corrected since.
        let highest: Option<i64> = score::table
            .filter(score::assessment_id.eq(id))
            .select(diesel::dsl::max(score::points_hundredths))
            .first(self.connection)?;
        if let Some(highest) =
            highest.filter(|highest| !draft.extra_credit && *highest > draft.points_hundredths)
        {
            let remark = Remark::new("grades-points-below-score")
                .with("score", Exact::hundredths(highest).to_string());
            return Err(Trouble::about("points", remark));
        }
        let weighed: Vec<i64> = assessment_criterion::table
            .filter(assessment_criterion::assessment_id.eq(id))
            .select(assessment_criterion::points_hundredths)
            .load(self.connection)?;
        let sum: i64 = weighed.iter().sum();
        if !weighed.is_empty() && sum != draft.points_hundredths {
            let remark = Remark::new("criteria-points-fixed").with("sum", Exact::hundredths(sum).to_string());
            return Err(Trouble::about("points", remark));
        }
        diesel::update(assessment::table.find(id))
            .set((
                (assessment::category_id.eq(draft.category), assessment::project_id.eq(draft.project)),
                assessment::title.eq(&draft.title),
                assessment::points_hundredths.eq(draft.points_hundredths),
                (assessment::extra_credit.eq(draft.extra_credit), assessment::version.eq(seen + 1)),
            ))
            .execute(self.connection)?;
        self.journal("assessment.changed", id, &detail(draft))
    }

    /// Takes away an assessment that nobody was marked on.
    ///
    /// # Errors
    /// `NotFound`, or there are scores.
    pub fn remove_assessment(&mut self, class: ClassId, id: AssessmentId) -> Result<(), Trouble> {
        let standing = assessment(self.connection, class, id)?;
        let scores: i64 =
            score::table.filter(score::assessment_id.eq(id)).count().get_result(self.connection)?;
        if scores > 0 {
            return Err(Trouble::Refused(
                Remark::new("grades-assessment-marked").with("title", standing.title),
            ));
        }
        diesel::delete(assessment_criterion::table.filter(assessment_criterion::assessment_id.eq(id)))
            .execute(self.connection)?;
        diesel::delete(assessment::table.find(id)).execute(self.connection)?;
        self.forget_theirs(Kind::Assessment, id.as_str())?;
        self.journal("assessment.removed", id, &json!({ "title": standing.title }))
    }

    fn check_assessment(&mut self, class: ClassId, draft: &AssessmentDraft) -> Result<(), Trouble> {
        if categories::categories(self.connection, class)?.iter().all(|one| one.id != draft.category) {
            return Err(Trouble::about("category", Remark::new("grades-not-of-class")));
        }
        if let Some(id) = draft.project
            && projects(self.connection, class)?.iter().all(|one| one.id != id)
        {
            return Err(Trouble::about("project", Remark::new("grades-not-of-class")));
        }
        if draft.points_hundredths == 0 && !draft.extra_credit {
            return Err(Trouble::about("points", Remark::new("grades-points-nothing")));
        }
        Ok(())
    }
}

fn detail(draft: &AssessmentDraft) -> serde_json::Value {
    json!({
        "category": draft.category, "project": draft.project, "title": draft.title,
        "points_hundredths": draft.points_hundredths, "extra_credit": draft.extra_credit,
    })
}
