//! The criteria of a class and what they are worth in each assessment. Marks keep the words they were given by, so that
//! a criterion may be rewritten at any time.

use diesel::prelude::*;
use serde_json::json;

use crate::ids::{AssessmentId, ClassId, CriterionId, PersonId};
use crate::store::classes::carrying;
use crate::store::connections::AnyConnection;
use crate::store::grades::assessments::{self, Assessment};
use crate::store::schema::{assessment, assessment_criterion, criterion, criterion_level};
use crate::store::write::Tx;
use crate::trade::criteria::{self, Level};
use crate::trade::exact::Exact;
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

/// A criterion of a class with its levels, the best first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Criterion {
    pub id: CriterionId,
    pub title: String,
    pub about: String,
    pub version: i64,
    pub levels: Vec<Level>,
}

/// What an instructor writes about one.
#[derive(Debug, Clone)]
pub struct CriterionDraft {
    pub title: String,
    pub about: String,
    pub levels: Vec<Level>,
}

/// A criterion as an assessment uses it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Weighed {
    pub criterion: Criterion,
    pub points_hundredths: i64,
}

/// How many criteria a class may have.
const MOST: usize = 40;

/// The criteria of a class in their order. Two statements.
///
/// # Errors
/// The database cannot be read.
pub fn criteria(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Criterion>, Trouble> {
    type Row = (CriterionId, String, String, i64);
    let rows: Vec<Row> = criterion::table
        .filter(criterion::class_id.eq(class).and(criterion::removed_at.is_null()))
        .order((criterion::position, criterion::id))
        .select((criterion::id, criterion::title, criterion::about, criterion::version))
        .load(db)?;
    let levels: Vec<(CriterionId, String, String, i32)> = criterion_level::table
        .inner_join(criterion::table)
        .filter(criterion::class_id.eq(class))
        .order((criterion_level::criterion_id, criterion_level::position))
        .select((
            criterion_level::criterion_id,
            criterion_level::title,
            criterion_level::descriptor,
            criterion_level::share_bp,
        ))
        .load(db)?;
    let of = |id: CriterionId| {
        let own = levels.iter().filter(move |level| level.0 == id);
        own.map(|(_, title, descriptor, share_bp)| Level {
            title: title.clone(),
            descriptor: descriptor.clone(),
            share_bp: *share_bp,
        })
        .collect()
    };
    Ok(rows
        .into_iter()
        .map(|(id, title, about, version)| Criterion { id, title, about, version, levels: of(id) })
        .collect())
}

/// One criterion of a class.
///
/// # Errors
/// `NotFound`, or the database cannot be read.
pub fn criterion_of(db: &mut AnyConnection, class: ClassId, id: CriterionId) -> Result<Criterion, Trouble> {
    criteria(db, class)?.into_iter().find(|one| one.id == id).ok_or(Trouble::NotFound)
}

/// What an assessment is marked by, in order; nothing where it is marked in points alone. Three statements.
///
/// # Errors
/// The database cannot be read.
pub fn weighed(db: &mut AnyConnection, class: ClassId, id: AssessmentId) -> Result<Vec<Weighed>, Trouble> {
    let rows: Vec<(CriterionId, i64)> = assessment_criterion::table
        .filter(assessment_criterion::assessment_id.eq(id))
        .order((assessment_criterion::position, assessment_criterion::criterion_id))
        .select((assessment_criterion::criterion_id, assessment_criterion::points_hundredths))
        .load(db)?;
    if rows.is_empty() {
        return Ok(Vec::new());
    }
    let all = criteria(db, class)?;
    Ok(rows
        .into_iter()
        .filter_map(|(id, points_hundredths)| {
            let criterion = all.iter().find(|one| one.id == id)?.clone();
            Some(Weighed { criterion, points_hundredths })
        })
        .collect())
}

/// The assessments of a class that are marked by criteria. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn assessments_by_criteria(db: &mut AnyConnection, class: ClassId) -> Result<Vec<AssessmentId>, Trouble> {
    Ok(assessment_criterion::table
        .filter(
            assessment_criterion::assessment_id
                .eq_any(assessment::table.filter(assessment::class_id.eq(class)).select(assessment::id)),
        )
        .select(assessment_criterion::assessment_id)
        .distinct()
        .load(db)?)
}

/// A level that is worth no whole hundredth of a point.
fn uneven(weighed: &Criterion, level: &Level, of_hundredths: i64) -> Remark {
    Remark::new("criteria-points-uneven")
        .with("level", level.title.as_str())
        .with("criterion", weighed.title.as_str())
        .with("share", Exact::percent_from_basis_points(level.share_bp.into()).to_string())
        .with("points", Exact::hundredths(of_hundredths).to_string())
}

impl Tx<'_> {
    /// Adds a criterion at the end.
    ///
    /// # Errors
    /// Complaints, at `level-<place>` about a level.
    pub fn add_criterion(&mut self, class: ClassId, draft: &CriterionDraft) -> Result<CriterionId, Trouble> {
        self.check_criterion(class, None, draft)?;
        if criteria(self.connection, class)?.len() >= MOST {
            let most = i64::try_from(MOST).unwrap_or(i64::MAX);
            return Err(Trouble::Refused(Remark::new("criteria-full").with("most", most)));
        }
        let last: Option<i32> = criterion::table
            .filter(criterion::class_id.eq(class))
            .select(diesel::dsl::max(criterion::position))
            .first(self.connection)?;
        let id: CriterionId = self.id();
        diesel::insert_into(criterion::table)
            .values((
                (criterion::id.eq(id), criterion::class_id.eq(class)),
                criterion::position.eq(last.unwrap_or(0) + 1),
                (criterion::title.eq(&draft.title), criterion::about.eq(&draft.about)),
                criterion::version.eq(1),
            ))
            .execute(self.connection)?;
        self.keep_levels(id, &draft.levels)?;
        self.journal("criterion.added", id, &detail(draft))?;
        Ok(id)
    }

    /// Rewrites a criterion. Marks that were given keep the words they were given by.
    ///
    /// # Errors
    /// `NotFound`, stale, or complaints.
    pub fn change_criterion(
        &mut self,
        class: ClassId,
        id: CriterionId,
        seen: i64,
        draft: &CriterionDraft,
    ) -> Result<(), Trouble> {
        let standing = criterion_of(self.connection, class, id)?;
        if standing.version != seen {
            return Err(Trouble::Stale(Remark::new("form-stale")));
        }
        self.check_criterion(class, Some(id), draft)?;
        diesel::update(criterion::table.find(id))
            .set((
                criterion::title.eq(&draft.title),
                criterion::about.eq(&draft.about),
                criterion::version.eq(seen + 1),
            ))
            .execute(self.connection)?;
        diesel::delete(criterion_level::table.filter(criterion_level::criterion_id.eq(id)))
            .execute(self.connection)?;
        self.keep_levels(id, &draft.levels)?;
        self.journal("criterion.changed", id, &detail(draft))
    }

    fn keep_levels(&mut self, id: CriterionId, levels: &[Level]) -> Result<(), Trouble> {
        for (position, level) in (1..).zip(levels) {
            diesel::insert_into(criterion_level::table)
                .values((
                    (criterion_level::criterion_id.eq(id), criterion_level::position.eq(position)),
                    (criterion_level::title.eq(&level.title), criterion_level::share_bp.eq(level.share_bp)),
                    criterion_level::descriptor.eq(&level.descriptor),
                ))
                .execute(self.connection)?;
        }
        Ok(())
    }

    /// Levels that are sound by themselves, and even where an assessment already uses the criterion.
    fn check_criterion(
        &mut self,
        class: ClassId,
        id: Option<CriterionId>,
        draft: &CriterionDraft,
    ) -> Result<(), Trouble> {
        let field = |place: Option<usize>| place.map_or(String::new(), |place| format!("share-{place}"));
        let mut complaints: Vec<Complaint> = criteria::check(&draft.levels)
            .err()
            .unwrap_or_default()
            .into_iter()
            .map(|(place, remark)| Complaint::new(field(place), remark))
            .collect();
        let others = criteria(self.connection, class)?;
        if others.iter().any(|one| Some(one.id) != id && one.title == draft.title) {
            let remark = Remark::new("criteria-twice").with("title", draft.title.as_str());
            complaints.push(Complaint::new("title", remark));
        }
        let uses: Vec<i64> = match id {
            Some(id) => assessment_criterion::table
                .filter(assessment_criterion::criterion_id.eq(id))
                .select(assessment_criterion::points_hundredths)
                .load(self.connection)?,
            None => Vec::new(),
        };
        let as_drafted = Criterion {
            id: id.unwrap_or_else(|| self.id()),
            title: draft.title.clone(),
            about: String::new(),
            version: 0,
            levels: Vec::new(),
        };
        for (place, level) in draft.levels.iter().enumerate() {
            let odd = uses.iter().find(|points| criteria::points(**points, level.share_bp).is_none());
            if let Some(points) = odd {
                complaints.push(Complaint::new(field(Some(place)), uneven(&as_drafted, level, *points)));
            }
        }
        if complaints.is_empty() { Ok(()) } else { Err(Trouble::Complaints(complaints)) }
    }

    /// Takes a criterion away that no assessment uses; marks that were given by it keep their words.
    ///
    /// # Errors
    /// `NotFound`, or it is used.
    pub fn remove_criterion(&mut self, class: ClassId, id: CriterionId) -> Result<(), Trouble> {
        let standing = criterion_of(self.connection, class, id)?;
        let used: i64 = assessment_criterion::table
            .filter(assessment_criterion::criterion_id.eq(id))
            .count()
            .get_result(self.connection)?;
        if used > 0 {
            let remark =
                Remark::new("criteria-in-use").with("title", standing.title.as_str()).with("count", used);
            return Err(Trouble::Refused(remark));
        }
        diesel::update(criterion::table.find(id))
            .set(criterion::removed_at.eq(self.now))
            .execute(self.connection)?;
        self.journal("criterion.removed", id, &json!({ "title": standing.title }))
    }

    /// Takes over the criteria the program proposes, where a title is not there yet. Answers how many.
    ///
    /// # Errors
    /// The database refuses.
    pub fn begin_usual_criteria(&mut self, class: ClassId) -> Result<usize, Trouble> {
        let usual = criteria::proposals().map_err(|error| Trouble::broken("reading the criteria", error))?;
        let drafts = usual
            .into_iter()
            .map(|one| CriterionDraft { title: one.title, about: one.about, levels: one.levels })
            .collect();
        self.bring_criteria(class, drafts)
    }

    /// Copies the criteria of an earlier class that this person taught, where a title is not there yet.
    ///
    /// # Errors
    /// `NotFound` for a class of somebody else's.
    pub fn copy_criteria(&mut self, class: ClassId, from: ClassId, by: PersonId) -> Result<usize, Trouble> {
        if carrying::sources(self.connection, Some(by))?.iter().all(|one| one.id != from) {
            return Err(Trouble::NotFound);
        }
        let drafts = self.drafts_of(from)?;
        self.bring_criteria(class, drafts)
    }

    fn drafts_of(&mut self, from: ClassId) -> Result<Vec<CriterionDraft>, Trouble> {
        let draft =
            |one: Criterion| CriterionDraft { title: one.title, about: one.about, levels: one.levels };
        Ok(criteria(self.connection, from)?.into_iter().map(draft).collect())
    }

    fn bring_criteria(&mut self, class: ClassId, drafts: Vec<CriterionDraft>) -> Result<usize, Trouble> {
        let there = criteria(self.connection, class)?;
        let new = drafts.iter().filter(|draft| there.iter().all(|one| one.title != draft.title));
        let mut brought = 0;
        for draft in new {
            self.add_criterion(class, draft)?;
            brought += 1;
        }
        Ok(brought)
    }

    /// Brings criteria along into a class that starts from an earlier one, with what they are worth in each assessment;
    /// `copies` says which assessment became which.
    pub(in crate::store) fn carry_criteria(
        &mut self,
        from: ClassId,
        into: ClassId,
        copies: &[(AssessmentId, AssessmentId)],
    ) -> Result<(), Trouble> {
        let earlier = criteria(self.connection, from)?;
        let drafts = self.drafts_of(from)?;
        self.bring_criteria(into, drafts)?;
        let there = criteria(self.connection, into)?;
        for (was, now) in copies {
            let uses: Vec<(CriterionId, i32, i64)> = assessment_criterion::table
                .filter(assessment_criterion::assessment_id.eq(was))
                .select((
                    assessment_criterion::criterion_id,
                    assessment_criterion::position,
                    assessment_criterion::points_hundredths,
                ))
                .load(self.connection)?;
            for (id, position, points) in uses {
                let title = earlier.iter().find(|one| one.id == id).map(|one| one.title.as_str());
                let Some(copy) = there.iter().find(|one| Some(one.title.as_str()) == title) else { continue };
                self.use_criterion(*now, copy.id, position, points)?;
            }
        }
        Ok(())
    }

    fn use_criterion(
        &mut self,
        assessment: AssessmentId,
        id: CriterionId,
        position: i32,
        points_hundredths: i64,
    ) -> Result<(), Trouble> {
        diesel::insert_into(assessment_criterion::table)
            .values((
                assessment_criterion::assessment_id.eq(assessment),
                assessment_criterion::criterion_id.eq(id),
                assessment_criterion::position.eq(position),
                assessment_criterion::points_hundredths.eq(points_hundredths),
            ))
            .execute(self.connection)?;
        Ok(())
    }

    /// Keeps by which criteria an assessment is marked, with the points of each; none at all is marking in points alone.
    /// Together they make the assessment's points. `seen` is its version.
    ///
    /// # Errors
    /// `NotFound`, stale, or complaints at `points-<criterion>`.
    pub fn keep_weighed(
        &mut self,
        class: ClassId,
        id: AssessmentId,
        seen: i64,
        uses: &[(CriterionId, i64)],
    ) -> Result<(), Trouble> {
        let one = assessments::assessment(self.connection, class, id)?;
        if one.version != seen {
            return Err(Trouble::Stale(Remark::new("form-stale")));
        }
        let all = criteria(self.connection, class)?;
        check_weighed(&one, &all, uses)?;
        diesel::delete(assessment_criterion::table.filter(assessment_criterion::assessment_id.eq(id)))
            .execute(self.connection)?;
        for (position, (criterion, points)) in (1..).zip(uses) {
            self.use_criterion(id, *criterion, position, *points)?;
        }
        diesel::update(assessment::table.find(id))
            .set(assessment::version.eq(seen + 1))
            .execute(self.connection)?;
        self.journal("assessment.weighed", id, &json!({ "criteria": uses }))
    }
}

fn check_weighed(one: &Assessment, all: &[Criterion], uses: &[(CriterionId, i64)]) -> Result<(), Trouble> {
    let mut complaints = Vec::new();
    for (id, points) in uses {
        let used = all.iter().find(|criterion| criterion.id == *id).ok_or(Trouble::NotFound)?;
        let odd = used.levels.iter().find(|level| criteria::points(*points, level.share_bp).is_none());
        if let Some(level) = odd {
            complaints.push(Complaint::new(format!("points-{id}"), uneven(used, level, *points)));
        }
    }
    let sum: i64 = uses.iter().map(|(_, points)| points).sum();
    if !uses.is_empty() && sum != one.points_hundredths {
        let remark = Remark::new("criteria-points-sum")
            .with("sum", Exact::hundredths(sum).to_string())
            .with("points", Exact::hundredths(one.points_hundredths).to_string());
        complaints.push(Complaint::new("", remark));
    }
    if complaints.is_empty() { Ok(()) } else { Err(Trouble::Complaints(complaints)) }
}

fn detail(draft: &CriterionDraft) -> serde_json::Value {
    let levels: Vec<_> = draft.levels.iter().map(|level| json!([level.title, level.share_bp])).collect();
    json!({ "title": draft.title, "levels": levels })
}
