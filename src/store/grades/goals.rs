//! Learning goals of a class, and the criteria that show them.

use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClassId, CriterionId, GoalId};
use crate::store::classes::stale;
use crate::store::connections::AnyConnection;
use crate::store::grades::criteria;
use crate::store::schema::{goal, goal_criterion};
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

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
