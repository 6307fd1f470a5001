//! The stations of the studio: setting up, changing, taking away.

use actix_web::web;
use serde::Serialize;

use crate::ids::StationId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::studio::studio_path;
use crate::store::studio::stations::{self, Station, StationDraft, USUAL_KINDS};
use crate::store::{Scope, Tx};
use crate::trouble::Trouble;

const FORM: &str = "studio-station";

#[derive(Serialize)]
struct View {
    form: Form,
    base: String,
    id: Option<StationId>,
    kinds: &'static [&'static str],
}

fn page(ask: &InClass, id: Option<StationId>, form: Form, again: bool) -> Reply {
    let title = if id.is_some() { "studio-station-change" } else { "studio-station-add" };
    let view = View { form, base: studio_path(ask, ""), id, kinds: USUAL_KINDS };
    if again {
        ask.show_again("studio/station", title, &view)
    } else {
        ask.show("studio/station", title, &view)
    }
}

fn fresh(station: &Station) -> Form {
    Form::new(FORM)
        .with("kind", &station.kind)
        .with("name", &station.name)
        .with("units", station.units.to_string())
        .with("version", station.version.to_string())
}

fn read(filled: &Filled) -> Result<(StationDraft, i64), Trouble> {
    let mut sheet = Sheet::new(filled);
    let draft = StationDraft {
        kind: sheet.text("kind", 40),
        name: sheet.text("name", 80),
        units: i32::try_from(sheet.whole("units", 1..=99)).unwrap_or(1),
    };
    let version = sheet.maybe_whole("version", 1..=i64::MAX).unwrap_or(0);
    sheet.done()?;
    Ok((draft, version))
}

pub async fn new(ask: InClass) -> Reply {
    page(&ask, None, Form::new(FORM).with("units", "1"), false)
}

pub async fn add(ask: InClass, filled: Filled) -> Reply {
    let studio = ask.membership.studio;
    let tried = match read(&filled) {
        Ok((draft, _)) => {
            let next = said(studio_path(&ask, "#stations"), "done-station-added");
            ask.act(Scope::School, &filled, next, move |tx| tx.add_station(studio, &draft).map(drop)).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => page(&ask, None, Form::after(FORM, &filled, trouble, &ask.house.speech)?, true),
        fine => fine,
    }
}

pub async fn edit(ask: InClass, path: web::Path<(String, StationId)>) -> Reply {
    let (studio, id) = (ask.membership.studio, path.into_inner().1);
    let station = ask.house.db.read(move |db| stations::station(db, studio, id)).await?;
    page(&ask, Some(id), fresh(&station), false)
}

pub async fn change(ask: InClass, path: web::Path<(String, StationId)>, filled: Filled) -> Reply {
    let (studio, id) = (ask.membership.studio, path.into_inner().1);
    let tried = match read(&filled) {
        Ok((draft, version)) => {
            let next = said(studio_path(&ask, "#stations"), "done-station-changed");
            let act = move |tx: &mut Tx<'_>| tx.change_station(studio, id, version, &draft);
            ask.act(Scope::School, &filled, next, act).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => {
            let stands = ask.house.db.read(move |db| stations::station(db, studio, id)).await?;
            let form = Form::after_save(&filled, trouble, &fresh(&stands), &ask.house.speech)?;
            page(&ask, Some(id), form, true)
        }
        fine => fine,
    }
}

pub async fn remove(ask: InClass, path: web::Path<(String, StationId)>, filled: Filled) -> Reply {
    let (studio, id) = (ask.membership.studio, path.into_inner().1);
    let next = said(studio_path(&ask, &format!("?gone={id}#stations")), "done-station-removed");
    ask.act(Scope::School, &filled, next, move |tx| tx.remove_station(studio, id)).await
}
