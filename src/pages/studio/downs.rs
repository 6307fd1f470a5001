//! Stations out of order: telling that a unit is, and that it runs again. One act each; every plan uses it at once.

use actix_web::web;
use serde::Serialize;

use crate::clock::Instant;
use crate::ids::{StationDownId, StationId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::plans::down_words;
use crate::pages::reasons;
use crate::pages::studio::studio_path;
use crate::store::studio::downs::{DownDraft, downs};
use crate::store::studio::stations;
use crate::store::{Scope, Tx};
use crate::trade::civil;
use crate::trouble::Trouble;

const FORM: &str = "studio-down";

#[derive(Serialize)]
struct View {
    form: Form,
    base: String,
    zone: String,
    stations: Vec<Choice>,
    downs: Vec<DownView>,
}

#[derive(Serialize)]
struct DownView {
    id: StationDownId,
    words: String,
    by: String,
}

async fn page(ask: &InClass, form: Form, again: bool) -> Reply {
    let (studio, zone, now) = (ask.membership.studio, ask.membership.zone, ask.now());
    let (stations, downs) =
        ask.house.db.read(move |db| Ok((stations(db, studio)?, downs(db, studio, now)?))).await?;
    let called = |station: crate::store::studio::Station| {
        Choice::new(station.id.to_string(), format!("{} ({})", station.name, station.units))
    };
    let view = View {
        form,
        base: studio_path(ask, ""),
        zone: zone.name().to_owned(),
        stations: stations.into_iter().map(called).collect(),
        downs: downs
            .iter()
            .map(|down| DownView {
                id: down.id,
                words: down_words(&ask.house.speech, down, zone),
                by: format!("{} {}", down.given_name, down.family_name),
            })
            .collect(),
    };
    if again {
        ask.show_again("studio/downs", "studio-downs", &view)
    } else {
        ask.show("studio/downs", "studio-downs", &view)
    }
}

pub async fn list(ask: InClass) -> Reply {
    let from = ask.now().local(ask.membership.zone).format("%Y-%m-%dT%H:%M").to_string();
    page(&ask, Form::new(FORM).with("unit", "1").with("from", from), false).await
}

pub async fn add(ask: InClass, filled: Filled) -> Reply {
    match try_add(&ask, &filled).await {
        Err(trouble) => page(&ask, Form::after(FORM, &filled, trouble, &ask.house.speech)?, true).await,
        fine => fine,
    }
}

async fn try_add(ask: &InClass, filled: &Filled) -> Reply {
    let (station, draft) = read(ask, filled)?;
    let studio = ask.membership.studio;
    let next = said(studio_path(ask, "/downs"), "done-station-down");
    let act = move |tx: &mut Tx<'_>| tx.set_down(studio, station, &draft).map(drop);
    ask.act(Scope::School, filled, next, act).await
}

fn read(ask: &InClass, filled: &Filled) -> Result<(StationId, DownDraft), Trouble> {
    let zone = ask.membership.zone;
    let mut sheet = Sheet::new(filled);
    let station = sheet.id("station");
    let unit = i32::try_from(sheet.whole("unit", 1..=99)).unwrap_or(1);
    let from = sheet.local_time("from");
    let to = sheet.maybe_local_time("to");
    let reason = reasons::DOWN.read(&mut sheet, &ask.house.speech);
    sheet.done()?;
    let moment = |local| Instant::from_utc(civil::instant(local, zone));
    Ok((station, DownDraft { unit, from: moment(from), to: to.map(moment), reason }))
}

pub async fn end(ask: InClass, path: web::Path<(String, StationDownId)>, filled: Filled) -> Reply {
    let (studio, id) = (ask.membership.studio, path.into_inner().1);
    let next = said(studio_path(&ask, "/downs"), "done-station-runs");
    ask.act(Scope::School, &filled, next, move |tx| tx.end_down(studio, id)).await
}
