//! Marks by criteria: a level for each, the sum as the score, in one act with everything that was said about a print.

use std::collections::HashMap;

use diesel::prelude::*;

use crate::ids::{AssessmentId, ClassId, CriterionId, PersonId, ScoreId};
use crate::store::connections::AnyConnection;
use crate::store::grades::assessments::{self, Assessment};
use crate::store::grades::criteria::{self, Weighed};
use crate::store::grades::scores::{self, Change, Mark, Score, history};
use crate::store::grades::second_marking;
use crate::store::plates::prints;
use crate::store::schema::{score, score_level};
use crate::store::write::Tx;
use crate::trade::criteria::points;
use crate::trade::exact::Exact;
use crate::trade::grading::Status;
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

/// What was chosen and said for one criterion, in the words that held then.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct Judged {
    pub criterion: CriterionId,
    pub criterion_title: String,
    /// Counted from 1, the best; none where no level was chosen.
    pub level: Option<i32>,
    pub level_title: String,
    pub descriptor: String,
    pub points_hundredths: Option<i64>,
    pub of_hundredths: i64,
    pub words: String,
}

/// A mark of one person's work as its marker sends it.
#[derive(Debug, Clone)]
pub struct PrintMark {
    pub person: PersonId,
    /// The score that its marker saw.
    pub seen: Option<ScoreId>,
    pub status: Status,
    /// For each criterion a level, counted from 1, and a comment.
    pub levels: Vec<(CriterionId, Option<i32>, String)>,
    /// Points of the marker's own: what is marked without criteria, or others than the levels add up to.
    pub own_points: Option<i64>,
    pub own_reason: String,
    pub words: String,
}

/// What scores of a class say criterion by criterion, of one person alone if `owner`. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn judged(
    db: &mut AnyConnection,
    class: ClassId,
    only: Option<AssessmentId>,
    owner: Option<PersonId>,
) -> Result<HashMap<ScoreId, Vec<Judged>>, Trouble> {
    let mut query = score_level::table
        .inner_join(score::table)
        .filter(score::class_id.eq(class))
        .order((score_level::score_id, score_level::position))
        .select((
            score_level::score_id,
            (
                score_level::criterion_id,
                score_level::criterion_title,
                score_level::level_position,
                score_level::level_title,
                score_level::descriptor,
                score_level::points_hundredths,
                score_level::of_hundredths,
                score_level::words,
            ),
        ))
        .into_boxed();
    if let Some(id) = only {
        query = query.filter(score::assessment_id.eq(id));
    }
    if let Some(owner) = owner {
        query = query.filter(score::person_id.eq(owner));
    }
    let rows: Vec<(ScoreId, Judged)> = query.load(db)?;
    let mut all: HashMap<ScoreId, Vec<Judged>> = HashMap::new();
    for (id, one) in rows {
        all.entry(id).or_default().push(one);
    }
    Ok(all)
}

/// What the levels of a mark add up to; none while one is not chosen.
#[must_use]
pub fn sum(judged: &[Judged]) -> Option<i64> {
    judged.iter().map(|one| one.points_hundredths).sum()
}

impl Tx<'_> {
    /// Stores the mark of one person's work. Answers the score that stands: a new one, or the one before where nothing
    /// changed.
    ///
    /// # Errors
    /// `NotFound`; or complaints: at `level-<criterion>`, `own_points`, `own_reason`, at `status` where somebody else
    /// marked it meanwhile, at `reason` when a mark is changed without one.
    pub fn mark_print(
        &mut self,
        class: ClassId,
        id: AssessmentId,
        said: &PrintMark,
        reason: &str,
    ) -> Result<Option<ScoreId>, Trouble> {
        let assessment = assessments::assessment(self.connection, class, id)?;
        let twice = second_marking::twice(self.connection, class, id)?;
        if twice.is_some_and(|twice| twice.keeps_blind(said.person)) {
            return Err(Trouble::Refused(Remark::new("two-still-blind")));
        }
        let weighed = criteria::weighed(self.connection, class, id)?;
        let known = history(self.connection, class, Some(id), None)?;
        let judged_before = judged(self.connection, class, Some(id), Some(said.person))?;
        let mut complaints = Vec::new();
        let judged = judge(&weighed, said, &mut complaints);
        let mark = as_mark(said, &judged, &known);
        self.only_students(class, std::slice::from_ref(&mark))?;
        let own = |score: &&Score| score.person == said.person;
        let standing = known.iter().filter(own).find(|score| score.superseded_at.is_none());
        let seen = known.iter().filter(own).find(|score| Some(score.id) == said.seen);
        let own_reason = own_reason(&judged, &mark, said);
        let says = |score: Option<&Score>| {
            let before = score.and_then(|score| judged_before.get(&score.id)).map_or(&[][..], Vec::as_slice);
            mark.says(score)
                && same_judgement(before, &judged)
                && score.map_or("", |score| score.own_points_reason.as_str()) == own_reason
        };
        if complaints.is_empty() && (says(seen) || says(standing)) {
            return Ok(standing.map(|score| score.id));
        }
        let change = standing.map_or(Change::New, Change::Correction);
        if let Change::Correction(before) = &change {
            if said.seen != Some(before.id) {
                complaints.push(Complaint::new("status", scores::stale(before)));
            } else if before.status.0 != Status::Pending && reason.is_empty() {
                complaints
                    .push(Complaint::new("reason", Remark::new("grades-reason-needed").with("count", 1)));
            }
        }
        check(&assessment, &weighed, &judged, &mark, said, &mut complaints);
        if !complaints.is_empty() {
            return Err(Trouble::Complaints(complaints));
        }
        let before = standing;
        let print = match assessment.project {
            Some(_) => {
                let prints = prints::prints(self.connection, class, None, Some(said.person))?;
                scores::handed_in(&prints, &assessment, said.person).map(|print| print.id)
            }
            None => None,
        };
        let stored = self.store_mark(id, class, &mark, before, print, reason)?;
        self.store_judgement(stored, &judged, own_reason)?;
        if let Some(before) = before {
            self.second_look_taken(before, stored, reason)?;
        }
        Ok(Some(stored))
    }

    fn store_judgement(&mut self, id: ScoreId, judged: &[Judged], own_reason: &str) -> Result<(), Trouble> {
        if !own_reason.is_empty() {
            diesel::update(score::table.find(id))
                .set(score::own_points_reason.eq(own_reason))
                .execute(self.connection)?;
        }
        for (position, one) in (1..).zip(judged) {
            diesel::insert_into(score_level::table)
                .values((
                    (score_level::score_id.eq(id), score_level::criterion_id.eq(one.criterion)),
                    (
                        score_level::position.eq(position),
                        score_level::criterion_title.eq(&one.criterion_title),
                    ),
                    (
                        score_level::level_position.eq(one.level),
                        score_level::level_title.eq(&one.level_title),
                    ),
                    score_level::descriptor.eq(&one.descriptor),
                    score_level::points_hundredths.eq(one.points_hundredths),
                    (score_level::of_hundredths.eq(one.of_hundredths), score_level::words.eq(&one.words)),
                ))
                .execute(self.connection)?;
        }
        Ok(())
    }
}

/// Reads levels against what the criteria offer now. A level nobody offers is complained about.
pub(super) fn judge(weighed: &[Weighed], said: &PrintMark, complaints: &mut Vec<Complaint>) -> Vec<Judged> {
    let mut judged = Vec::new();
    for one in weighed {
        let id = one.criterion.id;
        let found = said.levels.iter().find(|(criterion, ..)| *criterion == id);
        let chosen = found.and_then(|(_, level, _)| *level);
        let place = chosen.and_then(|level| usize::try_from(level).ok()?.checked_sub(1));
        let level = place.and_then(|place| one.criterion.levels.get(place));
        if chosen.is_some() && level.is_none() {
            let remark = Remark::new("form-no-choice").with("value", chosen.unwrap_or(0).to_string());
            complaints.push(Complaint::new(format!("level-{id}"), remark));
        }
        judged.push(Judged {
            criterion: id,
            criterion_title: one.criterion.title.clone(),
            level: level.and(chosen),
            level_title: level.map(|level| level.title.clone()).unwrap_or_default(),
            descriptor: level.map(|level| level.descriptor.clone()).unwrap_or_default(),
            points_hundredths: level.and_then(|level| points(one.points_hundredths, level.share_bp)),
            of_hundredths: one.points_hundredths,
            words: found.map(|(_, _, words)| words.clone()).unwrap_or_default(),
        });
    }
    judged
}

/// The mark as a row of scores: the sum, unless the marker gave points of their own. Levels chosen, or points typed,
/// where nothing was marked yet mean a graded score.
fn as_mark(said: &PrintMark, judged: &[Judged], known: &[Score]) -> Mark {
    let from_levels = if judged.is_empty() { None } else { sum(judged) };
    let graded = matches!(said.status, Status::Graded | Status::Pending);
    let mark = Mark {
        person: said.person,
        seen: said.seen,
        status: said.status,
        points_hundredths: said.own_points.or(from_levels.filter(|_| graded)),
        words: said.words.clone(),
    };
    scores::as_meant(&mark, known)
}

/// The reason kept with points that differ from what the levels add up to.
fn own_reason<'a>(judged: &[Judged], mark: &Mark, said: &'a PrintMark) -> &'a str {
    let differs =
        !judged.is_empty() && mark.status == Status::Graded && mark.points_hundredths != sum(judged);
    if differs { &said.own_reason } else { "" }
}

fn same_judgement(before: &[Judged], now: &[Judged]) -> bool {
    let told = |one: &&Judged| one.level.is_some() || !one.words.is_empty();
    let key = |one: &Judged| (one.criterion, one.level, one.words.clone(), one.points_hundredths);
    let before: Vec<_> = before.iter().filter(told).map(key).collect();
    before == now.iter().filter(told).map(key).collect::<Vec<_>>()
}

fn check(
    assessment: &Assessment,
    weighed: &[Weighed],
    judged: &[Judged],
    mark: &Mark,
    said: &PrintMark,
    complaints: &mut Vec<Complaint>,
) {
    let not_complained =
        |complaints: &[Complaint], field: &str| complaints.iter().all(|one| one.field != field);
    if mark.status == Status::Graded && said.own_points.is_none() && !weighed.is_empty() {
        for one in judged.iter().filter(|one| one.level.is_none()) {
            let field = format!("level-{}", one.criterion);
            if not_complained(complaints, &field) {
                complaints.push(Complaint::new(field, Remark::new("criteria-choose-level")));
            }
        }
    } else if let Some(remark) = scores::check_points(assessment, mark) {
        complaints.push(Complaint::new("own_points", remark));
    }
    let no_score = matches!(mark.status, Status::Excused | Status::Missing);
    if no_score && judged.iter().any(|one| one.level.is_some()) && not_complained(complaints, "status") {
        complaints.push(Complaint::new("status", Remark::new("criteria-levels-not-graded")));
    }
    let levels = sum(judged).filter(|_| !judged.is_empty());
    let differs = mark.status == Status::Graded && said.own_points.is_some() && said.own_points != levels;
    if differs && !judged.is_empty() && said.own_reason.is_empty() {
        let remark = match levels {
            Some(levels) => Remark::new("criteria-own-reason")
                .with("points", Exact::hundredths(said.own_points.unwrap_or(0)).to_string())
                .with("sum", Exact::hundredths(levels).to_string()),
            None => Remark::new("criteria-own-reason-open"),
        };
        complaints.push(Complaint::new("own_reason", remark));
    }
}
