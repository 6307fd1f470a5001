//! Making and changing a term.

use actix_web::web;
use chrono_tz::TZ_VARIANTS;
use serde::Serialize;

use crate::ids::TermId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::Ask;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::store::Scope;
use crate::store::classes::terms::{self, Term, TermDraft};
use crate::trouble::Trouble;

const FORM: &str = "classes-term";

#[derive(Serialize)]
struct View {
    form: Form,
    /// None for a new term.
    id: Option<TermId>,
    zones: Vec<&'static str>,
}

fn page(ask: &Ask, id: Option<TermId>, form: Form, again: bool) -> Reply {
    let zones = TZ_VARIANTS.iter().map(|zone| zone.name()).filter(|name| is_usual(name)).collect();
    let title = if id.is_some() { "classes-term-change" } else { "classes-term-add" };
    let view = View { form, id, zones };
    if again { ask.show_again("classes/term", title, &view) } else { ask.show("classes/term", title, &view) }
}

/// Offered are the zones of places; others may be typed.
fn is_usual(name: &str) -> bool {
    name.contains('/') && !name.starts_with("Etc/") && !name.starts_with("US/")
}

fn fresh(term: &Term) -> Form {
    Form::new(FORM)
        .with("name", &term.name)
        .with("starts", term.starts.to_string())
        .with("ends", term.ends.to_string())
        .with("zone", &term.zone)
        .with("version", term.version.to_string())
}

fn read(filled: &Filled) -> Result<(TermDraft, i64), Trouble> {
    let mut sheet = Sheet::new(filled);
    let draft = TermDraft {
        name: sheet.text("name", 80),
        starts: sheet.date("starts"),
        ends: sheet.date("ends"),
        zone: sheet.text("zone", 60),
    };
    let version = sheet.maybe_whole("version", 1..=i64::MAX).unwrap_or(0);
    sheet.done()?;
    Ok((draft, version))
}

/// A new term; the zone of the newest one stands there already.
pub async fn new(ask: Ask) -> Reply {
    let newest = ask.house.db.read(|db| Ok(terms::terms(db)?.into_iter().next())).await?;
    let form = Form::new(FORM).with_maybe("zone", newest.map(|term| term.zone));
    page(&ask, None, form, false)
}

pub async fn add(ask: Ask, filled: Filled) -> Reply {
    let tried = match read(&filled) {
        Ok((draft, _)) => {
            let next = said("/school", "done-term-added");
            ask.act(Scope::School, &filled, next, move |tx| tx.add_term(&draft).map(drop)).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => page(&ask, None, Form::after(FORM, &filled, trouble, &ask.house.speech)?, true),
        fine => fine,
    }
}

pub async fn edit(ask: Ask, id: web::Path<TermId>) -> Reply {
    let id = id.into_inner();
    let term = ask.house.db.read(move |db| terms::term(db, id)).await?;
    page(&ask, Some(id), fresh(&term), false)
}

pub async fn change(ask: Ask, id: web::Path<TermId>, filled: Filled) -> Reply {
    let id = id.into_inner();
    let tried = match read(&filled) {
        Ok((draft, version)) => {
            let next = said("/school", "done-term-changed");
            ask.act(Scope::School, &filled, next, move |tx| tx.change_term(id, version, &draft)).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => {
            let stands = ask.house.db.read(move |db| terms::term(db, id)).await?;
            let form = Form::after_save(&filled, trouble, &fresh(&stands), &ask.house.speech)?;
            page(&ask, Some(id), form, true)
        }
        fine => fine,
    }
}
