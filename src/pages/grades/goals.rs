//! Learning goals: written, linked to criteria, and how many students reach them, with small groups hidden.

use actix_web::web;
use serde_json::{Value, json};

use crate::ids::{ClassId, GoalId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::grades::say;
use crate::store::Scope;
use crate::store::grades::{criteria, goals};
use crate::trade::concealment::LEAST;
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
    let (all, known) = ask
        .house
        .db
        .read(move |db| Ok((goals::attainment(db, class)?, criteria::criteria(db, class)?)))
        .await?;
    let speech = &ask.house.speech;
    let cell =
        |count: &Option<u64>| count.map_or_else(|| speech.plain("goals-hidden"), |count| count.to_string());
    let rows: Vec<Value> = all
        .iter()
        .map(|(goal, shown)| {
            let titles: Vec<&str> = known
                .iter()
                .filter(|one| goal.criteria.contains(&one.id))
                .map(|one| one.title.as_str())
                .collect();
            json!({
                "title": goal.title, "criteria": titles.join("; "), "cells": shown.cells.iter().map(cell).collect::<Vec<_>>(),
                "total": cell(&shown.total), "path": format!("{}/{}/remove", base(ask), goal.id),
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
        "about": say(speech, "goals-about", "least", i64::try_from(LEAST).unwrap_or(i64::MAX)),
    });
    if again {
        ask.show_again("grades/goals", "goals-title", &view)
    } else {
        ask.show("grades/goals", "goals-title", &view)
    }
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

/// Takes one away.
pub async fn remove(ask: InClass, path: web::Path<(ClassId, GoalId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let next = said(base(&ask), "done-goal-removed");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.remove_goal(class, id)).await
}
