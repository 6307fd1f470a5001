//! Starting a class from an earlier one. A keeper makes the new class and everything in it in one act; an instructor
//! fills a class the keeper made, from one they teach or taught.

use actix_web::web;
use serde::Serialize;

use crate::ids::{ClassId, StudioId, TermId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::classes::carrying::{Preview, PreviewView, preview};
use crate::pages::classes::making::{Choices, choices, read_class};
use crate::pages::classes::settings_path;
use crate::pages::entry::{Ask, InClass};
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::store::Scope;
use crate::store::classes::carrying::{self, Source};
use crate::store::classes::facts::ClassTerm;
use crate::store::classes::{Class, facts, projects, terms};
use crate::store::studio::rooms;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const FORM: &str = "classes-again";

/// All of the query part of the address, to be read like a form.
fn queried(ask: &Ask) -> Filled {
    let pairs = web::Query::<Vec<(String, String)>>::from_query(ask.request.query_string());
    Filled { pairs: pairs.map(web::Query::into_inner).unwrap_or_default(), once: None }
}

// ---- a keeper ----

#[derive(Serialize)]
struct KeeperView {
    form: Form,
    id: ClassId,
    class: String,
    choices: Choices,
    /// None until term and studio are chosen.
    preview: Option<PreviewView>,
}

/// What stands before the preview: where the new class is to be.
struct Place {
    term: TermId,
    studio: StudioId,
}

fn read_place(filled: &Filled) -> Result<Place, Trouble> {
    let mut sheet = Sheet::new(filled);
    let place = Place { term: sheet.id("term"), studio: sheet.id("studio") };
    sheet.done()?;
    Ok(place)
}

type Loaded = (Class, Choices, Option<Preview>);

async fn load(ask: &Ask, from: ClassId, place: Option<Place>, filled: Filled) -> Result<Loaded, Trouble> {
    let gone = |field: &'static str| {
        move |trouble| match trouble {
            Trouble::NotFound => Trouble::about(field, Remark::new("classes-choice-gone")),
            other => other,
        }
    };
    ask.house
        .db
        .read(move |db| {
            let class = facts::class(db, from)?;
            let preview = match place {
                None => None,
                Some(place) => {
                    let term = terms::term(db, place.term).map_err(gone("term"))?;
                    rooms::room(db, place.studio).map_err(gone("studio"))?;
                    Some(preview(db, from, class_term(term), place.studio)?)
                }
            };
            Ok((class, choices(db, Some(&filled))?, preview))
        })
        .await
}

fn class_term(term: terms::Term) -> ClassTerm {
    ClassTerm { id: term.id, name: term.name, starts: term.starts, ends: term.ends, zone: term.zone }
}

/// First asks for term and studio, then shows the preview with the rest of the form. Nothing is made yet.
pub async fn begin(ask: Ask, from: web::Path<ClassId>) -> Reply {
    let (from, query) = (from.into_inner(), queried(&ask));
    let begun = query.get("term").is_some();
    let loaded = match read_place(&query) {
        Ok(place) if begun => load(&ask, from, Some(place), query.clone()).await,
        Err(trouble) if begun => Err(trouble),
        _ => load(&ask, from, None, query.clone()).await,
    };
    match loaded {
        Ok((class, choices, preview)) => {
            let newest = choices.terms.first().map(|choice| choice.value.clone());
            let form = Form::new(FORM)
                .with("term", query.get("term").map(str::to_owned).or(newest).unwrap_or_default())
                .with("studio", query.get("studio").map_or(class.studio.to_string(), str::to_owned))
                .with("code", &class.code)
                .with("title", &class.rules.title);
            let form = preview.as_ref().map_or(form.clone(), |preview| preview.fill(form));
            show(&ask, from, form, (class, choices, preview), None)
        }
        Err(trouble @ Trouble::Complaints(_)) => {
            let form = Form::after(FORM, &query, trouble, &ask.house.speech)?;
            let loaded = load(&ask, from, None, query.clone()).await?;
            show(&ask, from, form, loaded, Some(&query))
        }
        Err(trouble) => Err(trouble),
    }
}

fn show(ask: &Ask, id: ClassId, form: Form, loaded: Loaded, refused: Option<&Filled>) -> Reply {
    let (class, choices, preview) = loaded;
    let preview = preview.map(|preview| preview.view(refused));
    let view = KeeperView {
        form,
        id,
        class: format!("{}, {}", class.rules.title, class.term.name),
        choices,
        preview,
    };
    if refused.is_some() {
        ask.show_again("classes/again", "classes-again", &view)
    } else {
        ask.show("classes/again", "classes-again", &view)
    }
}

/// Makes the class with everything in it, in one act.
pub async fn confirm(ask: Ask, from: web::Path<ClassId>, filled: Filled) -> Reply {
    let from = from.into_inner();
    match try_confirm(&ask, from, &filled).await {
        Err(trouble) => {
            let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?;
            let loaded = match read_place(&filled) {
                Ok(place) => load(&ask, from, Some(place), filled.clone()).await,
                Err(_) => load(&ask, from, None, filled.clone()).await,
            };
            let loaded = match loaded {
                Err(Trouble::Complaints(_)) => load(&ask, from, None, filled.clone()).await?,
                other => other?,
            };
            show(&ask, from, form, loaded, Some(&filled))
        }
        fine => fine,
    }
}

async fn try_confirm(ask: &Ask, from: ClassId, filled: &Filled) -> Reply {
    let place = read_place(filled)?;
    let (_, _, preview) = load(ask, from, Some(place), filled.clone()).await?;
    let preview = preview.ok_or(Trouble::NotFound)?;
    let mut sheet = Sheet::new(filled);
    let (new, teacher) = read_class(&mut sheet);
    let dues = preview.read(&mut sheet);
    sheet.done()?;
    let teacher = teacher.ok_or(Trouble::NotFound)?;
    let house = ask.house.clone();
    ask.act_to(Scope::School, filled, move |tx| {
        let made = tx.add_class(&new, &teacher)?;
        tx.carry_over(from, made.class, &dues)?;
        if let Some(newcomer) = made.newcomer {
            tx.invite(&house.key, newcomer, Some(made.class))?;
        }
        Ok(said(format!("/school/classes/{}", made.class), "done-class-started"))
    })
    .await
}

// ---- an instructor ----

#[derive(Serialize)]
struct InstructorView {
    form: Form,
    base: String,
    sources: Vec<Source>,
    /// Something is in the class already, so nothing can be brought into it.
    begun: bool,
    preview: Option<PreviewView>,
}

/// Offers the classes the instructor teaches or taught; with one chosen, the preview.
pub async fn choose(ask: InClass) -> Reply {
    let query = queried(&ask);
    let mut sheet = Sheet::new(&query);
    let from = sheet.maybe_id("from");
    fill_page(&ask, from, None).await
}

async fn fill_page(ask: &InClass, from: Option<ClassId>, refused: Option<(Filled, Trouble)>) -> Reply {
    let (class, person, studio) = (ask.class(), ask.person.id, ask.membership.studio);
    let (begun, sources, preview) = ask
        .house
        .db
        .read(move |db| {
            let mut sources = carrying::sources(db, Some(person))?;
            sources.retain(|source| source.id != class);
            let begun = !projects::projects(db, class)?.is_empty();
            let chosen = from.map(|from| own(&sources, from)).transpose()?;
            let term = facts::class(db, class)?.term;
            let preview = match chosen {
                Some(from) => Some(preview(db, from, term, studio)?),
                None => None,
            };
            Ok((begun, sources, preview))
        })
        .await?;
    let again = refused.is_some();
    let (form, filled) = match refused {
        Some((filled, trouble)) => (Form::after(FORM, &filled, trouble, &ask.house.speech)?, Some(filled)),
        None => (Form::new(FORM).with_maybe("from", from.map(|from| from.to_string())), None),
    };
    let form = match &preview {
        Some(preview) if !again => preview.fill(form),
        _ => form,
    };
    let view = InstructorView {
        form,
        base: settings_path(ask, ""),
        sources,
        begun,
        preview: preview.map(|preview| preview.view(filled.as_ref())),
    };
    if again {
        ask.show_again("classes/fill", "classes-fill", &view)
    } else {
        ask.show("classes/fill", "classes-fill", &view)
    }
}

/// The chosen class, if the person may start from it.
fn own(sources: &[Source], from: ClassId) -> Result<ClassId, Trouble> {
    sources.iter().find(|source| source.id == from).map(|source| source.id).ok_or(Trouble::NotFound)
}

/// Fills the class in one act.
pub async fn fill(ask: InClass, filled: Filled) -> Reply {
    let mut sheet = Sheet::new(&filled);
    let from: ClassId = sheet.id("from");
    sheet.done()?;
    match try_fill(&ask, from, &filled).await {
        Err(trouble @ (Trouble::Complaints(_) | Trouble::Refused(_))) => {
            fill_page(&ask, Some(from), Some((filled, trouble))).await
        }
        other => other,
    }
}

async fn try_fill(ask: &InClass, from: ClassId, filled: &Filled) -> Reply {
    let (class, person, studio) = (ask.class(), ask.person.id, ask.membership.studio);
    let preview = ask
        .house
        .db
        .read(move |db| {
            own(&carrying::sources(db, Some(person))?, from)?;
            let term = facts::class(db, class)?.term;
            preview(db, from, term, studio)
        })
        .await?;
    let mut sheet = Sheet::new(filled);
    let dues = preview.read(&mut sheet);
    sheet.done()?;
    let next = said(settings_path(ask, ""), "done-class-filled");
    ask.act(Scope::Class(class), filled, next, move |tx| tx.carry_over(from, class, &dues)).await
}
