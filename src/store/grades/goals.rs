//! Learning goals of a class, the criteria that show them, and how many students reach each: for the department's
//! review, with small groups hidden.

use std::collections::BTreeMap;

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, CriterionId, GoalId, PersonId};
use crate::spelled;
use crate::store::classes::stale;
use crate::store::connections::AnyConnection;
use crate::store::grades::criteria;
use crate::store::grades::marks;
use crate::store::grades::scores::{self, Which};
use crate::store::people::members;
use crate::store::people::sessions::Role;
use crate::store::schema::{goal, goal_criterion, submitted_grade};
use crate::store::write::Tx;
use crate::trade::concealment::{LEAST, Shown, conceal_together};
use crate::trade::grading::Status;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

spelled!(
    /// How far a student has come with a goal, by the share of the points that its criteria brought.
    Reach {
        /// Nine tenths and more.
        Far = "far",
        /// Three quarters and more.
        There = "there",
        /// Six tenths and more.
        Near = "near",
        NotYet = "not_yet",
    }
);

impl Reach {
    /// Where so many of so many points are: common practice, no published source.
    #[must_use]
    pub fn of(points: i64, possible: i64) -> Self {
        match (points.saturating_mul(100), possible) {
            (points, possible) if points >= possible.saturating_mul(90) => Self::Far,
            (points, possible) if points >= possible.saturating_mul(75) => Self::There,
            (points, possible) if points >= possible.saturating_mul(60) => Self::Near,
            _ => Self::NotYet,
        }
    }
}

/// A goal with the criteria that show it.
#[derive(Debug, Clone)]
pub struct Goal {
    pub id: GoalId,
    pub title: String,
    pub version: i64,
    pub criteria: Vec<CriterionId>,
}

/// The goals of a class in their order. Two statements.
///
/// # Errors
/// The database cannot be read.
pub fn goals(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Goal>, Trouble> {
    let rows: Vec<(GoalId, String, i64)> = goal::table
        .filter(goal::class_id.eq(class).and(goal::removed_at.is_null()))
        .order((goal::position, goal::id))
        .select((goal::id, goal::title, goal::version))
        .load(db)?;
    let links: Vec<(GoalId, CriterionId)> = goal_criterion::table
        .inner_join(goal::table)
        .filter(goal::class_id.eq(class))
        .order((goal_criterion::goal_id, goal_criterion::criterion_id))
        .select((goal_criterion::goal_id, goal_criterion::criterion_id))
        .load(db)?;
    let of = |id: GoalId| links.iter().filter(|link| link.0 == id).map(|link| link.1).collect();
    Ok(rows.into_iter().map(|(id, title, version)| Goal { criteria: of(id), id, title, version }).collect())
}

/// How many students have come how far with a goal, and with each criterion that shows it, in the order of `Reach::ALL`.
#[derive(Debug, Clone)]
pub struct Attained {
    pub goal: Goal,
    pub shown: Shown,
    /// Title of the criterion as it stands.
    pub criteria: Vec<(CriterionId, String, Shown)>,
}

type Sums = BTreeMap<PersonId, (i64, i64)>;

fn counts(sums: &Sums) -> Vec<u64> {
    let count = |reach: &Reach| {
        let those = sums.values().filter(|(points, possible)| Reach::of(*points, *possible) == *reach);
        u64::try_from(those.count()).unwrap_or(u64::MAX)
    };
    Reach::ALL.iter().map(count).collect()
}

/// Goals by the criteria they share, over as many steps as it takes: places in the list, those of a group together.
fn groups(goals: &[Goal]) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for (place, goal) in goals.iter().enumerate() {
        let shares = |other: &usize| {
            goals.get(*other).is_some_and(|other| other.criteria.iter().any(|id| goal.criteria.contains(id)))
        };
        let (with, without): (Vec<_>, Vec<_>) =
            groups.into_iter().partition(|group| group.iter().any(shares));
        groups = without;
        groups.push(with.into_iter().flatten().chain([place]).collect());
    }
    groups
}

/// From which marks attainment is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Told {
    /// What was handed back so far: for the instructors, who know every mark.
    SoFar,
    /// What the submitted grades rested on, and nothing before: for everybody else. It stays the same from then on, so
    /// that nobody learns a single student's level by taking one table from another.
    Submitted,
}

/// When the grades of a class counted as submitted: the moment from which there were as many as are never hidden. A grade
/// or two decided early do not make it so, and nothing later moves it.
fn submitted_at(db: &mut AnyConnection, class: ClassId) -> Result<Option<Instant>, Trouble> {
    let rows: Vec<(PersonId, Instant)> = submitted_grade::table
        .filter(submitted_grade::class_id.eq(class).and(submitted_grade::corrects.is_null()))
        .order((submitted_grade::at, submitted_grade::id))
        .select((submitted_grade::person_id, submitted_grade::at))
        .load(db)?;
    let least = usize::try_from(LEAST).unwrap_or(usize::MAX);
    Ok(rows.get(least.saturating_sub(1)).map(|(_, at)| *at))
}

/// How many students have come how far with each goal and its criteria. What tells of the same people is hidden together.
/// Nine statements at most, whatever the size of the class.
///
/// # Errors
/// The database cannot be read.
pub fn attainment(db: &mut AnyConnection, class: ClassId, told: Told) -> Result<Vec<Attained>, Trouble> {
    let goals = goals(db, class)?;
    let students = members::members(db, class)?;
    let marks = match told {
        Told::SoFar => scores::scores(db, class, Which::HandedBack, None)?,
        Told::Submitted => match submitted_at(db, class)? {
            Some(at) => scores::scores(db, class, Which::InHandAt(at), None)?,
            None => Vec::new(),
        },
    };
    let judged = marks::judged(db, class, None, None)?;
    let in_class = |person: PersonId| {
        students.iter().any(|member| member.person == person && member.role.0 == Role::Student)
    };
    let titles: BTreeMap<CriterionId, String> =
        criteria::criteria(db, class)?.into_iter().map(|one| (one.id, one.title)).collect();
    let of = |wanted: &dyn Fn(CriterionId) -> bool| {
        let mut sums = Sums::new();
        for mark in marks.iter().filter(|mark| mark.status.0 == Status::Graded && in_class(mark.person)) {
            for one in judged.get(&mark.id).into_iter().flatten().filter(|one| wanted(one.criterion)) {
                let Some(points) = one.points_hundredths else { continue };
                let sum = sums.entry(mark.person).or_default();
                *sum = (sum.0 + points, sum.1 + one.of_hundredths);
            }
        }
        counts(&sums)
    };
    let mut all: Vec<(usize, Attained)> = Vec::new();
    for group in groups(&goals) {
        let members: Vec<(usize, &Goal)> =
            group.iter().filter_map(|place| Some((*place, goals.get(*place)?))).collect();
        let mut rows = Vec::new();
        for (_, goal) in &members {
            rows.push(of(&|id| goal.criteria.contains(&id)));
            rows.extend(goal.criteria.iter().map(|id| of(&|other| other == *id)));
        }
        let mut shown = conceal_together(&rows).into_iter();
        for (place, goal) in members {
            let Some(own) = shown.next() else { break };
            let criteria = goal
                .criteria
                .iter()
                .zip(shown.by_ref().take(goal.criteria.len()))
                .map(|(id, shown)| (*id, titles.get(id).cloned().unwrap_or_default(), shown))
                .collect();
            all.push((place, Attained { goal: goal.clone(), shown: own, criteria }));
        }
    }
    all.sort_by_key(|(place, _)| *place);
    Ok(all.into_iter().map(|(_, one)| one).collect())
}

impl Tx<'_> {
    /// Adds a goal at the end.
    ///
    /// # Errors
    /// Complaints at `title`, `criteria`.
    pub fn add_goal(
        &mut self,
        class: ClassId,
        title: &str,
        shown_by: &[CriterionId],
    ) -> Result<GoalId, Trouble> {
        self.goal_fits(class, None, title, shown_by)?;
        let last: Option<i32> = goal::table
            .filter(goal::class_id.eq(class))
            .select(diesel::dsl::max(goal::position))
            .first(self.connection)?;
        let id: GoalId = self.id();
        diesel::insert_into(goal::table)
            .values((
                (goal::id.eq(id), goal::class_id.eq(class), goal::title.eq(title)),
                (goal::position.eq(last.unwrap_or(0) + 1), goal::version.eq(1)),
            ))
            .execute(self.connection)?;
        self.show_goal_by(id, shown_by)?;
        self.journal("goal.added", id, &json!({ "title": title, "criteria": shown_by }))?;
        Ok(id)
    }

    fn goal_fits(
        &mut self,
        class: ClassId,
        own: Option<GoalId>,
        title: &str,
        shown_by: &[CriterionId],
    ) -> Result<(), Trouble> {
        let known = criteria::criteria(self.connection, class)?;
        if shown_by.is_empty() || shown_by.iter().any(|id| known.iter().all(|one| one.id != *id)) {
            return Err(Trouble::about("criteria", Remark::new("goal-shown-by-what")));
        }
        let there = goals(self.connection, class)?;
        if there.iter().any(|one| one.title == title && Some(one.id) != own) {
            return Err(Trouble::about("title", Remark::new("goal-twice").with("title", title)));
        }
        Ok(())
    }

    fn show_goal_by(&mut self, id: GoalId, shown_by: &[CriterionId]) -> Result<(), Trouble> {
        for criterion in shown_by {
            diesel::insert_into(goal_criterion::table)
                .values((goal_criterion::goal_id.eq(id), goal_criterion::criterion_id.eq(criterion)))
                .execute(self.connection)?;
        }
        Ok(())
    }

    /// Says a goal otherwise, or shows it by other criteria.
    ///
    /// # Errors
    /// `NotFound`, `Stale`, or complaints as `add_goal`.
    pub fn change_goal(&mut self, class: ClassId, new: &Goal) -> Result<(), Trouble> {
        let before = goals(self.connection, class)?.into_iter().find(|one| one.id == new.id);
        let before = before.ok_or(Trouble::NotFound)?;
        if before.version != new.version {
            return Err(stale());
        }
        self.goal_fits(class, Some(new.id), &new.title, &new.criteria)?;
        diesel::update(goal::table.find(new.id))
            .set((goal::title.eq(&new.title), goal::version.eq(new.version + 1)))
            .execute(self.connection)?;
        diesel::delete(goal_criterion::table.filter(goal_criterion::goal_id.eq(new.id)))
            .execute(self.connection)?;
        self.show_goal_by(new.id, &new.criteria)?;
        let detail = json!({ "title": new.title, "criteria": new.criteria, "was": before.title });
        self.journal("goal.changed", new.id, &detail)
    }

    /// Takes a goal away.
    ///
    /// # Errors
    /// `NotFound`.
    pub fn remove_goal(&mut self, class: ClassId, id: GoalId) -> Result<(), Trouble> {
        let one = goals(self.connection, class)?.into_iter().find(|one| one.id == id);
        let title = one.ok_or(Trouble::NotFound)?.title;
        diesel::update(goal::table.find(id)).set(goal::removed_at.eq(self.now)).execute(self.connection)?;
        self.journal("goal.removed", id, &json!({ "title": title }))
    }
}
