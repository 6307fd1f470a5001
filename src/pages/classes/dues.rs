//! A due date of a person's own, with a reason that only they and the instructor read.

use actix_web::web;
use serde::Serialize;

use crate::ids::{PersonId, ProjectId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::classes::projects::{OwnView, own_views};
use crate::pages::classes::{full_name, settings_path};
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::reasons;
use crate::store::classes::{dues, projects};
use crate::store::people::members::Member;
use crate::store::{Scope, Tx};

const FORM: &str = "classes-own-due";

#[derive(Serialize)]
struct View {
    form: Form,
    base: String,
    id: ProjectId,
    title: String,
    due: String,
    zone: String,
    students: Vec<Choice>,
    own: Vec<OwnView>,
}

async fn page(ask: &InClass, id: ProjectId, form: Form, again: bool) -> Reply {
    let class = ask.class();
    let (project, students, own) = ask
        .house
        .db
        .read(move |db| {
            Ok((
                projects::project(db, class, id)?,
                dues::students(db, class)?,
                dues::own_dues(db, class, None)?,
            ))
        })
        .await?;
    let student = |student: Member| {
        Choice::new(student.person.to_string(), full_name(&student.given_name, &student.family_name))
    };
    let view = View {
        form,
        base: settings_path(ask, ""),
        id,
        due: dates::day_and_time(project.due()?),
        title: project.title,
        zone: ask.membership.zone.name().to_owned(),
        students: students.into_iter().map(student).collect(),
        own: own_views(&own, id)?,
    };
    if again {
        ask.show_again("classes/own-due", "classes-own-due", &view)
    } else {
        ask.show("classes/own-due", "classes-own-due", &view)
    }
}

pub async fn list(ask: InClass, path: web::Path<(String, ProjectId)>) -> Reply {
    let person = ask.query("person").unwrap_or_default();
    page(&ask, path.into_inner().1, Form::new(FORM).with("person", person), false).await
}

pub async fn set(ask: InClass, path: web::Path<(String, ProjectId)>, filled: Filled) -> Reply {
    let id = path.into_inner().1;
    match try_set(&ask, id, &filled).await {
        Err(trouble) => page(&ask, id, Form::after(FORM, &filled, trouble, &ask.house.speech)?, true).await,
        fine => fine,
    }
}

async fn try_set(ask: &InClass, id: ProjectId, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let person = sheet.id("person");
    let due = sheet.local_time("due");
    let reason = reasons::OWN_DUE.read(&mut sheet, &ask.house.speech);
    sheet.done()?;
    let class = ask.class();
    let next = said(settings_path(ask, &format!("/projects/{id}/own-due")), "done-own-due-set");
    let act = move |tx: &mut Tx<'_>| tx.set_own_due(class, id, person, due, &reason);
    ask.act(Scope::Class(class), filled, next, act).await
}

pub async fn take_back(
    ask: InClass,
    path: web::Path<(String, ProjectId, PersonId)>,
    filled: Filled,
) -> Reply {
    let (class, (_, id, person)) = (ask.class(), path.into_inner());
    let next = said(settings_path(&ask, &format!("/projects/{id}/own-due")), "done-own-due-taken-back");
    let act = move |tx: &mut Tx<'_>| tx.take_back_own_due(class, id, person);
    ask.act(Scope::Class(class), &filled, next, act).await
}
