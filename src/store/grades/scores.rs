//! Scores. What was marked is never overwritten: a change is a new row that corrects the one before, with a reason; the
//! student goes on seeing the last one handed back until the correction is handed back too.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{AssessmentId, ClassId, PersonId, PrintId, ScoreId};
use crate::store::connections::AnyConnection;
use crate::store::grades::assessments::{self, Assessment};
use crate::store::grades::criteria;
use crate::store::grades::second_marking;
use crate::store::people::members;
use crate::store::people::sessions::Role;
use crate::store::plates::prints;
use crate::store::schema::score;
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::exact::Exact;
use crate::trade::grading::Status;
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

/// A score as it is stored.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct Score {
    pub id: ScoreId,
    pub class: ClassId,
    pub assessment: AssessmentId,
    pub person: PersonId,
    pub print: Option<PrintId>,
    pub root: ScoreId,
    pub corrects: Option<ScoreId>,
    pub superseded_at: Option<Instant>,
    pub status: Word<Status>,
    /// There for a graded one alone.
    pub points_hundredths: Option<i64>,
    /// The comment.
    pub words: String,
    /// Why it differs from the one it corrects.
    pub reason: String,
    pub by: PersonId,
    pub at: Instant,
    pub handed_back_at: Option<Instant>,
    /// Why the points are others than the levels add up to; empty where they are the same.
    pub own_points_reason: String,
}

/// Which scores count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// All that stand, handed back or not: for the instructor and for submitting.
    InHand,
    /// For each piece of work the last one handed back: what a student may know.
    HandedBack,
}

/// The scores of a class, of one person if `owner` is given; at most one for each assessment and person. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn scores(
    db: &mut AnyConnection,
    class: ClassId,
    which: Which,
    owner: Option<PersonId>,
) -> Result<Vec<Score>, Trouble> {
    let mut query = score::table.filter(score::class_id.eq(class)).into_boxed();
    query = match which {
        Which::InHand => query.filter(score::superseded_at.is_null()),
        Which::HandedBack => query.filter(score::handed_back_at.is_not_null()),
    };
    if let Some(owner) = owner {
        query = query.filter(score::person_id.eq(owner));
    }
    let mut rows: Vec<Score> = query.load(db)?;
    // The last one handed back; in the same millisecond the one that stands.
    rows.sort_by_key(|row| {
        (row.assessment, row.person, row.handed_back_at, row.superseded_at.is_none(), row.at)
    });
    rows.reverse();
    rows.dedup_by_key(|row| (row.assessment, row.person));
    Ok(rows)
}

/// Every score ever given for one assessment, oldest first; `owner` limits them to one person's.
///
/// # Errors
/// The database cannot be read.
pub fn history(
    db: &mut AnyConnection,
    class: ClassId,
    assessment: Option<AssessmentId>,
    owner: Option<PersonId>,
) -> Result<Vec<Score>, Trouble> {
    let mut query = score::table.filter(score::class_id.eq(class)).order((score::at, score::id)).into_boxed();
    if let Some(id) = assessment {
        query = query.filter(score::assessment_id.eq(id));
    }
    if let Some(owner) = owner {
        query = query.filter(score::person_id.eq(owner));
    }
    Ok(query.load(db)?)
}

/// One row of a marking sheet, and the score that its marker saw.
#[derive(Debug, Clone)]
pub struct Mark {
    pub person: PersonId,
    pub seen: Option<ScoreId>,
    pub status: Status,
    pub points_hundredths: Option<i64>,
    pub words: String,
}

impl Mark {
    /// Whether it says the same as a score, or as none.
    #[must_use]
    pub fn says(&self, score: Option<&Score>) -> bool {
        match score {
            None => {
                self.status == Status::Pending && self.points_hundredths.is_none() && self.words.is_empty()
            }
            Some(score) => {
                self.status == score.status.0
                    && self.points_hundredths == score.points_hundredths
                    && self.words == score.words
            }
        }
    }
}

/// What a row of a marking sheet would do.
pub(super) enum Change<'a> {
    Nothing,
    New,
    Correction(&'a Score),
}

impl Tx<'_> {
    /// Stores what changed on a marking sheet: all of it or nothing. Answers how many scores were stored.
    ///
    /// # Errors
    /// `NotFound`; or complaints: at `points-<person>` about points, at `status-<person>` where somebody else marked the
    /// same person meanwhile, at `reason` when a mark is changed without one.
    pub fn mark(
        &mut self,
        class: ClassId,
        id: AssessmentId,
        marks: &[Mark],
        reason: &str,
    ) -> Result<usize, Trouble> {
        let assessment = assessments::assessment(self.connection, class, id)?;
        if !criteria::weighed(self.connection, class, id)?.is_empty() {
            return Err(Trouble::Refused(Remark::new("criteria-one-by-one").with("title", assessment.title)));
        }
        let known = history(self.connection, class, Some(id), None)?;
        let twice = second_marking::twice(self.connection, class, id)?;
        self.only_students(class, marks)?;
        let marks: Vec<Mark> = marks.iter().map(|mark| as_meant(mark, &known)).collect();
        let changes: Vec<(&Mark, Change<'_>)> =
            marks.iter().map(|mark| (mark, change(mark, &known))).collect();
        let mut complaints = Vec::new();
        let mut corrected: i64 = 0;
        for (mark, change) in &changes {
            match change {
                Change::Nothing => continue,
                _ if twice.as_ref().is_some_and(|twice| twice.keeps_blind(mark.person)) => {
                    let remark = Remark::new("two-still-blind");
                    complaints.push(Complaint::new(format!("points-{}", mark.person), remark));
                    continue;
                }
                Change::Correction(before) if mark.seen != Some(before.id) => {
                    complaints.push(Complaint::new(format!("status-{}", mark.person), stale(before)));
                }
                Change::Correction(before) if before.status.0 != Status::Pending => corrected += 1,
                Change::Correction(_) | Change::New => {}
            }
            if let Some(remark) = check_points(&assessment, mark) {
                complaints.push(Complaint::new(format!("points-{}", mark.person), remark));
            }
        }
        if corrected > 0 && reason.is_empty() {
            let remark = Remark::new("grades-reason-needed").with("count", corrected);
            complaints.push(Complaint::new("reason", remark));
        }
        if !complaints.is_empty() {
            return Err(Trouble::Complaints(complaints));
        }
        self.store_marks(&assessment, class, &changes, reason)
    }

    pub(super) fn only_students(&mut self, class: ClassId, marks: &[Mark]) -> Result<(), Trouble> {
        let members = members::members(self.connection, class)?;
        let is_student =
            |id: PersonId| members.iter().any(|member| member.person == id && member.role.0 == Role::Student);
        if marks.iter().all(|mark| is_student(mark.person)) { Ok(()) } else { Err(Trouble::NotFound) }
    }

    fn store_marks(
        &mut self,
        assessment: &Assessment,
        class: ClassId,
        changes: &[(&Mark, Change<'_>)],
        reason: &str,
    ) -> Result<usize, Trouble> {
        let prints = match assessment.project {
            Some(_) => prints::prints(self.connection, class, None, None)?,
            None => Vec::new(),
        };
        let mut stored = 0;
        for (mark, change) in changes {
            let before = match change {
                Change::Nothing => continue,
                Change::New => None,
                Change::Correction(before) => Some(*before),
            };
            let print = handed_in(&prints, assessment, mark.person).map(|print| print.id);
            self.store_mark(assessment.id, class, mark, before, print, reason)?;
            stored += 1;
        }
        Ok(stored)
    }

    pub(super) fn store_mark(
        &mut self,
        assessment: AssessmentId,
        class: ClassId,
        mark: &Mark,
        before: Option<&Score>,
        print: Option<PrintId>,
        reason: &str,
    ) -> Result<ScoreId, Trouble> {
        let id: ScoreId = self.id();
        if let Some(before) = before {
            diesel::update(score::table.find(before.id))
                .set(score::superseded_at.eq(self.now))
                .execute(self.connection)?;
        }
        let reason = if before.is_some() { reason } else { "" };
        diesel::insert_into(score::table)
            .values((
                (score::id.eq(id), score::class_id.eq(class), score::assessment_id.eq(assessment)),
                (score::person_id.eq(mark.person), score::print_id.eq(print)),
                score::root.eq(before.map_or(id, |before| before.root)),
                score::corrects.eq(before.map(|before| before.id)),
                (score::status.eq(Word(mark.status)), score::points_hundredths.eq(mark.points_hundredths)),
                (score::words.eq(&mark.words), score::reason.eq(reason)),
                (score::by_id.eq(self.person()?), score::at.eq(self.now)),
            ))
            .execute(self.connection)?;
        let act = if before.is_some() { "score.corrected" } else { "score.given" };
        let detail = json!({
            "assessment": assessment, "person": mark.person, "status": mark.status,
            "points_hundredths": mark.points_hundredths, "reason": reason,
        });
        self.journal(act, id, &detail)?;
        Ok(id)
    }
}

/// The print a person's score is about: the first of the project that was handed in, else the first begun.
#[must_use]
pub fn handed_in<'a>(
    prints: &'a [prints::Print],
    assessment: &Assessment,
    person: PersonId,
) -> Option<&'a prints::Print> {
    let project = assessment.project?;
    prints
        .iter()
        .filter(|print| print.person == person && print.project == project)
        .min_by_key(|print| (print.handed_in_at.is_none(), print.handed_in_at, print.id))
}

/// Points typed where nothing was marked yet mean a graded score.
pub(super) fn as_meant(mark: &Mark, known: &[Score]) -> Mark {
    let seen = known.iter().find(|score| Some(score.id) == mark.seen);
    let unmarked = seen.is_none_or(|score| score.status.0 == Status::Pending);
    let mut meant = mark.clone();
    if unmarked && mark.status == Status::Pending && mark.points_hundredths.is_some() {
        meant.status = Status::Graded;
    }
    meant
}

/// A row does nothing when it says what its marker saw, or what already stands.
pub(super) fn change<'a>(mark: &Mark, known: &'a [Score]) -> Change<'a> {
    let own = |score: &&Score| score.person == mark.person;
    let standing = known.iter().filter(own).find(|score| score.superseded_at.is_none());
    let seen = known.iter().filter(own).find(|score| Some(score.id) == mark.seen);
    match standing {
        _ if mark.says(seen) || mark.says(standing) => Change::Nothing,
        Some(standing) => Change::Correction(standing),
        None => Change::New,
    }
}

/// What somebody else stored meanwhile.
pub(super) fn stale(standing: &Score) -> Remark {
    let points = standing.points_hundredths.map(|points| Exact::hundredths(points).to_string());
    match standing.status.0 {
        Status::Graded => Remark::new("grades-mark-stale-graded").with("points", points.unwrap_or_default()),
        Status::Excused => Remark::new("grades-mark-stale-excused"),
        Status::Missing => Remark::new("grades-mark-stale-missing"),
        Status::Pending => Remark::new("grades-mark-stale-pending"),
    }
    .with("words", standing.words.as_str())
}

pub(super) fn check_points(assessment: &Assessment, mark: &Mark) -> Option<Remark> {
    let text = |hundredths| Exact::hundredths(hundredths).to_string();
    match (mark.status, mark.points_hundredths) {
        (Status::Graded, None) => Some(Remark::new("grades-points-missing")),
        (Status::Graded, Some(points)) if points < 0 => {
            Some(Remark::new("grades-points-negative").with("value", text(points)))
        }
        (Status::Graded, Some(points))
            if points > assessment.points_hundredths && !assessment.extra_credit =>
        {
            let most = text(assessment.points_hundredths);
            Some(Remark::new("grades-points-above").with("value", text(points)).with("most", most))
        }
        (Status::Graded, Some(_)) | (_, None) => None,
        (_, Some(points)) => Some(Remark::new("grades-points-not-graded").with("value", text(points))),
    }
}
