//! Correcting a log: a new entry with its reason; the old one stays to be read.

use actix_web::web;
use serde::Serialize;

use crate::ids::{ClassId, EtchId, PlateId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::etches::form::{Offers, fresh, offers, read, with_what_was_seen};
use crate::pages::etches::log::find;
use crate::pages::etches::path;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::plates;
use crate::pages::reasons;
use crate::speech::Speech;
use crate::store::etches::logs::Log;
use crate::store::etches::recording::Draft;
use crate::store::plates::folder::Folder;
use crate::store::studio::containers::{self, Container};
use crate::store::{Scope, Tx};
use crate::trade::measure::Unit;
use crate::trouble::Trouble;

#[derive(Serialize)]
struct View {
    form: Form,
    offers: Offers,
    log_path: String,
    step: String,
}

fn page(ask: &InClass, folder: &Folder, held: &[Container], log: &Log, form: Form, again: bool) -> Reply {
    let key = &log.entry.step_key;
    let view = View {
        offers: offers(ask, folder, held, Some(log), &form),
        form,
        log_path: path(ask, folder.row.id, log.entry.id),
        step: folder.procedure.find(key).map_or_else(|| key.clone(), |step| step.title.clone()),
    };
    if again {
        ask.show_again("etches/amend", "etches-amend", &view)
    } else {
        ask.show("etches/amend", "etches-amend", &view)
    }
}

async fn held(ask: &InClass) -> Result<Vec<Container>, Trouble> {
    let studio = ask.membership.studio;
    ask.house.db.read(move |db| containers::containers(db, studio)).await
}

/// The form as the log stands, in the unit it was told in.
fn standing(log: &Log, held: &[Container]) -> Form {
    let unit = log.entry.poured.unit.map_or(Unit::Millilitre, |unit| unit.0);
    with_what_was_seen(fresh(Some(log), unit, held, None), log)
}

/// The form.
pub async fn edit(ask: InClass, ids: web::Path<(ClassId, PlateId, EtchId)>) -> Reply {
    let (_, plate, etch) = ids.into_inner();
    let (folder, chain) = find(&ask, plate, etch).await?;
    let held = held(&ask).await?;
    let log = chain.first().ok_or(Trouble::NotFound)?;
    page(&ask, &folder, &held, log, standing(log, &held), false)
}

fn typed(filled: &Filled, speech: &Speech) -> Result<(Draft, EtchId, String), Trouble> {
    let mut sheet = Sheet::new(filled);
    let stands = sheet.id("version");
    let draft = read(&mut sheet, filled);
    let reason = reasons::AMEND.read(&mut sheet, speech);
    sheet.done()?;
    Ok((draft, stands, reason))
}

/// Stores the correction.
pub async fn amend(ask: InClass, ids: web::Path<(ClassId, PlateId, EtchId)>, filled: Filled) -> Reply {
    let (_, plate, etch) = ids.into_inner();
    find(&ask, plate, etch).await?;
    let tried = match typed(&filled, &ask.house.speech) {
        Ok((draft, stands, reason)) => {
            let at = plates::at(&ask, plate);
            let next = said(path(&ask, plate, etch), "done-etch-amended");
            let act = move |tx: &mut Tx<'_>| tx.amend_etch(&at, etch, stands, &draft, &reason).map(drop);
            ask.act(Scope::Class(ask.class()), &filled, next, act).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => {
            let (folder, chain) = find(&ask, plate, etch).await?;
            let held = held(&ask).await?;
            let log = chain.first().ok_or(Trouble::NotFound)?;
            let form = Form::after_save(&filled, trouble, &standing(log, &held), &ask.house.speech)?;
            page(&ask, &folder, &held, log, form, true)
        }
        fine => fine,
    }
}
