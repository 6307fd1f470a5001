//! Learning goals: written, linked to criteria, and how many students reach them, with small groups hidden.

use actix_web::web;
use serde_json::{Value, json};

use crate::ids::{ClassId, GoalId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::grades::say;
use crate::store::Scope;
use crate::store::grades::attainment::{self, Standing};
use crate::store::grades::criteria;
use crate::store::grades::goals::{self, Goal};
use crate::trade::concealment::{LEAST, Shown};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const FORM: &str = "goal";

fn base(ask: &InClass) -> String {
    format!("/classes/{}/goals", ask.class())
}

/// The goals, who reaches them, and the form for another.
pub async fn page(ask: InClass) -> Reply {
    show(&ask, Form::new(FORM), false).await
}

async fn show(ask: &InClass, form: Form, again: bool) -> Reply {
    let class = ask.class();
    let (all, known, standing) = ask
        .house
        .db
        .read(move |db| {
            let standing = attainment::standing(db, class)?;
            Ok((attainment::so_far(db, class)?, criteria::criteria(db, class)?, standing))
        })
        .await?;
    let speech = &ask.house.speech;
    let cell =
        |count: &Option<u64>| count.map_or_else(|| speech.plain("goals-hidden"), |count| count.to_string());
    let cells = |shown: &Shown| shown.cells.iter().map(cell).collect::<Vec<_>>();
    let rows: Vec<Value> = all
        .iter()
        .map(|one| {
            let shown_by: Vec<Value> = one
                .criteria
                .iter()
                .map(|(_, title, shown)| json!({ "title": title, "cells": cells(shown), "total": cell(&shown.total) }))
                .collect();
            json!({
                "title": one.goal.title, "cells": cells(&one.shown), "total": cell(&one.shown.total),
                "shown_by": shown_by, "path": format!("{}/{}", base(ask), one.goal.id),
            })
        })
        .collect();
    let heads: Vec<String> = ["far", "there", "near", "not_yet"]
        .iter()
        .map(|reach| speech.plain(&format!("goals-reach-{reach}")))
        .collect();
    let choices: Vec<Choice> =
        known.iter().map(|one| Choice::new(one.id.to_string(), one.title.as_str())).collect();
    let view = json!({
        "class_path": format!("/classes/{class}"), "base": base(ask), "rows": rows, "heads": heads, "form": form,
        "criteria": choices,
        "about": say(speech, "goals-about", "least", least()),
        "settled": settled_view(ask, standing), "can_be_settled": standing.can_be_settled() && !all.is_empty(),
    });
    if again {
        ask.show_again("grades/goals", "goals-title", &view)
    } else {
        ask.show("grades/goals", "goals-title", &view)
    }
}

fn least() -> i64 {
    i64::try_from(LEAST).unwrap_or(i64::MAX)
}

/// What is said of the department's table.
fn settled_view(ask: &InClass, standing: Standing) -> String {
    let remark = match standing {
        Standing::Settled(at) => {
            Remark::new("goals-settled").with("at", dates::moment(at, ask.membership.zone))
        }
        Standing::Open { submitted, students } => Remark::new("goals-open")
            .with("submitted", submitted)
            .with("students", students)
            .with("least", least()),
    };
    ask.house.speech.remark(&remark)
}

/// Settles the table for the department.
pub async fn settle(ask: InClass, filled: Filled) -> Reply {
    let class = ask.class();
    let next = said(base(&ask), "done-goals-settled");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.settle_attainment(class)).await
}

/// Adds one.
pub async fn add(ask: InClass, filled: Filled) -> Reply {
    let outcome = async {
        let mut sheet = Sheet::new(&filled);
        let (title, shown_by) = (sheet.text("title", 200), sheet.ids("criteria"));
        if shown_by.is_empty() {
            sheet.complain("criteria", Remark::new("goal-shown-by-what"));
        }
        sheet.done()?;
        let class = ask.class();
        let next = said(base(&ask), "done-goal");
        ask.act(Scope::Class(class), &filled, next, move |tx| tx.add_goal(class, &title, &shown_by).map(drop))
            .await
    };
    match outcome.await {
        Err(trouble @ Trouble::Complaints(_)) => {
            show(&ask, Form::after(FORM, &filled, trouble, &ask.house.speech)?, true).await
        }
        other => other,
    }
}

/// The form of one goal.
pub async fn edit(ask: InClass, path: web::Path<(ClassId, GoalId)>) -> Reply {
    let (class, id) = path.into_inner();
    let goal = one(&ask, class, id).await?;
    let form = Form::new(FORM).with("title", goal.title.as_str()).with("version", goal.version.to_string());
    let form = goal.criteria.iter().fold(form, |form, id| form.ticked("criteria", id.to_string()));
    show_one(&ask, &goal, form, false).await
}

async fn one(ask: &InClass, class: ClassId, id: GoalId) -> Result<Goal, Trouble> {
    let all = ask.house.db.read(move |db| goals::goals(db, class)).await?;
    all.into_iter().find(|one| one.id == id).ok_or(Trouble::NotFound)
}

async fn show_one(ask: &InClass, goal: &Goal, form: Form, again: bool) -> Reply {
    let class = ask.class();
    let known = ask.house.db.read(move |db| criteria::criteria(db, class)).await?;
    let choices: Vec<Choice> =
        known.iter().map(|one| Choice::new(one.id.to_string(), one.title.as_str())).collect();
    let view = json!({
        "path": format!("{}/{}", base(ask), goal.id), "back": base(ask), "form": form, "criteria": choices,
    });
    if again {
        ask.show_again("grades/goal", "goal-change", &view)
    } else {
        ask.show("grades/goal", "goal-change", &view)
    }
}

/// Says one otherwise.
pub async fn change(ask: InClass, path: web::Path<(ClassId, GoalId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let goal = one(&ask, class, id).await?;
    let outcome = async {
        let mut sheet = Sheet::new(&filled);
        let new = Goal {
            id,
            version: sheet.whole("version", 0..=i64::MAX),
            title: sheet.text("title", 200),
            criteria: sheet.ids("criteria"),
        };
        if new.criteria.is_empty() {
            sheet.complain("criteria", Remark::new("goal-shown-by-what"));
        }
        sheet.done()?;
        let next = said(base(&ask), "done-goal-changed");
        ask.act(Scope::Class(class), &filled, next, move |tx| tx.change_goal(class, &new)).await
    };
    match outcome.await {
        Err(trouble @ (Trouble::Complaints(_) | Trouble::Stale(_))) => {
            show_one(&ask, &goal, Form::after(FORM, &filled, trouble, &ask.house.speech)?, true).await
        }
        other => other,
    }
}

/// Takes one away.
pub async fn remove(ask: InClass, path: web::Path<(ClassId, GoalId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let next = said(base(&ask), "done-goal-removed");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.remove_goal(class, id)).await
}
