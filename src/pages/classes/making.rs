//! A class made by a keeper, and what the keeper may change about it.

use actix_web::web;
use serde::Serialize;

use crate::ids::ClassId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::classes::full_name;
use crate::pages::classes::instructors::{read_teacher, teacher_choices};
use crate::pages::entry::Ask;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::store::classes::making::{self, NewClass, Teacher};
use crate::store::classes::{Class, facts, terms};
use crate::store::studio::rooms;
use crate::store::{AnyConnection, Scope};
use crate::trouble::Trouble;

const NEW: &str = "classes-new";
const KEPT: &str = "classes-kept";

/// What a class can be made of.
#[derive(Serialize)]
pub(super) struct Choices {
    pub terms: Vec<Choice>,
    pub studios: Vec<Choice>,
    pub people: Vec<Choice>,
}

pub(super) fn choices(db: &mut AnyConnection, filled: Option<&Filled>) -> Result<Choices, Trouble> {
    let terms = terms::terms(db)?.into_iter().map(|term| Choice::new(term.id.to_string(), term.name));
    let terms = terms.collect();
    let studios = rooms::rooms(db)?.into_iter().map(|room| Choice::new(room.id.to_string(), room.name));
    Ok(Choices { terms, studios: studios.collect(), people: teacher_choices(db, filled)? })
}

/// Reads what a new class is made of.
pub(super) fn read_class(sheet: &mut Sheet<'_>) -> (NewClass, Option<Teacher>) {
    let new = NewClass {
        term: sheet.id("term"),
        studio: sheet.id("studio"),
        code: sheet.text("code", 20),
        title: sheet.text("title", 120),
    };
    (new, read_teacher(sheet))
}

#[derive(Serialize)]
struct NewView {
    form: Form,
    choices: Choices,
    /// Without a term or a studio no class can be made.
    ready: bool,
}

async fn new_page(ask: &Ask, form: Form, filled: Option<Filled>) -> Reply {
    let again = filled.is_some();
    let choices = ask.house.db.read(move |db| choices(db, filled.as_ref())).await?;
    let ready = !choices.terms.is_empty() && !choices.studios.is_empty();
    let view = NewView { form, choices, ready };
    if again {
        ask.show_again("classes/new", "classes-class-add", &view)
    } else {
        ask.show("classes/new", "classes-class-add", &view)
    }
}

pub async fn new(ask: Ask) -> Reply {
    let newest = ask.house.db.read(|db| Ok(terms::terms(db)?.into_iter().next())).await?;
    let form = Form::new(NEW).with_maybe("term", newest.map(|term| term.id.to_string()));
    new_page(&ask, form, None).await
}

pub async fn add(ask: Ask, filled: Filled) -> Reply {
    match try_add(&ask, &filled).await {
        Err(trouble) => {
            let form = Form::after(NEW, &filled, trouble, &ask.house.speech)?;
            new_page(&ask, form, Some(filled)).await
        }
        fine => fine,
    }
}

async fn try_add(ask: &Ask, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let (new, teacher) = read_class(&mut sheet);
    sheet.done()?;
    let teacher = teacher.ok_or(Trouble::NotFound)?;
    let house = ask.house.clone();
    ask.act_to(Scope::School, filled, move |tx| {
        let made = tx.add_class(&new, &teacher)?;
        if let Some(newcomer) = made.newcomer {
            tx.invite(&house.key, newcomer, Some(made.class))?;
        }
        Ok(said(format!("/school/classes/{}", made.class), "done-class-added"))
    })
    .await
}

#[derive(Serialize)]
struct KeptView {
    form: Form,
    id: ClassId,
    class: String,
    term: String,
    studios: Vec<Choice>,
    instructors: Vec<String>,
}

fn fresh(class: &Class, studios: &[Choice]) -> Form {
    let studio = class.studio.to_string();
    let called = studios.iter().find(|choice| choice.value == studio).map(|choice| choice.label.clone());
    Form::new(KEPT)
        .with("code", &class.code)
        .with("title", &class.rules.title)
        .with_choice("studio", studio, called.unwrap_or_default())
        .with("version", class.version.to_string())
}

async fn kept_page(ask: &Ask, id: ClassId, refused: Option<(Filled, Trouble)>) -> Reply {
    let (class, rooms, teaching) = ask
        .house
        .db
        .read(move |db| Ok((facts::class(db, id)?, rooms::rooms(db)?, making::instructors(db)?)))
        .await?;
    let studios: Vec<Choice> =
        rooms.into_iter().map(|room| Choice::new(room.id.to_string(), room.name)).collect();
    let stands = fresh(&class, &studios);
    let again = refused.is_some();
    let form = match refused {
        Some((filled, trouble)) => Form::after_save(&filled, trouble, &stands, &ask.house.speech)?,
        None => stands,
    };
    let instructors = teaching.into_iter().filter(|(class, _)| *class == id);
    let names = instructors.map(|(_, person)| full_name(&person.given_name, &person.family_name));
    let view = KeptView {
        form,
        id,
        class: class.rules.title,
        term: class.term.name,
        studios,
        instructors: names.collect(),
    };
    if again {
        ask.show_again("classes/kept", "classes-class-change", &view)
    } else {
        ask.show("classes/kept", "classes-class-change", &view)
    }
}

pub async fn edit(ask: Ask, id: web::Path<ClassId>) -> Reply {
    kept_page(&ask, id.into_inner(), None).await
}

pub async fn change(ask: Ask, id: web::Path<ClassId>, filled: Filled) -> Reply {
    let id = id.into_inner();
    match try_change(&ask, id, &filled).await {
        Err(trouble) => kept_page(&ask, id, Some((filled, trouble))).await,
        fine => fine,
    }
}

async fn try_change(ask: &Ask, id: ClassId, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let (code, title) = (sheet.text("code", 20), sheet.text("title", 120));
    let studio = sheet.id("studio");
    let version = sheet.whole("version", 1..=i64::MAX);
    sheet.done()?;
    let next = said("/school", "done-class-changed");
    ask.act(Scope::School, filled, next, move |tx| tx.change_class(id, version, &code, &title, studio)).await
}
