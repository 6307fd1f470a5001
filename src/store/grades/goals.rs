//! Learning goals of a class, the criteria that show them, and how many students reach each: for the department's
//! review, with small groups hidden.

use std::collections::BTreeMap;

use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClassId, CriterionId, GoalId, PersonId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::grades::criteria;
use crate::store::grades::marks;
use crate::store::grades::scores::{self, Which};
use crate::store::people::members;
use crate::store::people::sessions::Role;
use crate::store::schema::{goal, goal_criterion};
use crate::store::write::Tx;
use crate::trade::concealment::{Shown, conceal};
use crate::trade::grading::Status;
use crate::trade::remark::Remark;
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
    pub criteria: Vec<CriterionId>,
}

/// The goals of a class in their order. Two statements.
///
/// # Errors
/// The database cannot be read.
pub fn goals(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Goal>, Trouble> {
    let rows: Vec<(GoalId, String)> = goal::table
        .filter(goal::class_id.eq(class).and(goal::removed_at.is_null()))
        .order((goal::position, goal::id))
        .select((goal::id, goal::title))
        .load(db)?;
    let links: Vec<(GoalId, CriterionId)> = goal_criterion::table
        .inner_join(goal::table)
        .filter(goal::class_id.eq(class))
        .order((goal_criterion::goal_id, goal_criterion::criterion_id))
        .select((goal_criterion::goal_id, goal_criterion::criterion_id))
        .load(db)?;
    let of = |id: GoalId| links.iter().filter(|link| link.0 == id).map(|link| link.1).collect();
    Ok(rows.into_iter().map(|(id, title)| Goal { criteria: of(id), id, title }).collect())
}

/// How many students have come how far with each goal, in the order of `Reach::ALL`, from marks that were handed back.
/// Seven statements, whatever the size of the class.
///
/// # Errors
/// The database cannot be read.
pub fn attainment(db: &mut AnyConnection, class: ClassId) -> Result<Vec<(Goal, Shown)>, Trouble> {
    let goals = goals(db, class)?;
    let students = members::members(db, class)?;
    let marks = scores::scores(db, class, Which::HandedBack, None)?;
    let judged = marks::judged(db, class, None, None)?;
    let in_class = |person: PersonId| {
        students.iter().any(|member| member.person == person && member.role.0 == Role::Student)
    };
    let mut all = Vec::new();
    for goal in goals {
        let mut sums: BTreeMap<PersonId, (i64, i64)> = BTreeMap::new();
        for mark in marks.iter().filter(|mark| mark.status.0 == Status::Graded && in_class(mark.person)) {
            for one in judged.get(&mark.id).into_iter().flatten() {
                let Some(points) = one.points_hundredths.filter(|_| goal.criteria.contains(&one.criterion))
                else {
                    continue;
                };
                let sum = sums.entry(mark.person).or_default();
                *sum = (sum.0 + points, sum.1 + one.of_hundredths);
            }
        }
        let count = |reach: Reach| {
            let those = sums.values().filter(|(points, possible)| Reach::of(*points, *possible) == reach);
            u64::try_from(those.count()).unwrap_or(u64::MAX)
        };
        let counts = [Reach::Far, Reach::There, Reach::Near, Reach::NotYet].map(count);
        all.push((goal, conceal(&counts)));
    }
    Ok(all)
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
        let known = criteria::criteria(self.connection, class)?;
        if shown_by.is_empty() || shown_by.iter().any(|id| known.iter().all(|one| one.id != *id)) {
            return Err(Trouble::about("criteria", Remark::new("goal-shown-by-what")));
        }
        let there = goals(self.connection, class)?;
        if there.iter().any(|one| one.title == title) {
            return Err(Trouble::about("title", Remark::new("goal-twice").with("title", title)));
        }
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
        for criterion in shown_by {
            diesel::insert_into(goal_criterion::table)
                .values((goal_criterion::goal_id.eq(id), goal_criterion::criterion_id.eq(criterion)))
                .execute(self.connection)?;
        }
        self.journal("goal.added", id, &json!({ "title": title, "criteria": shown_by }))?;
        Ok(id)
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
