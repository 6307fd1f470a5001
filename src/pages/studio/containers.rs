//! The containers on the shelf: what may be used now comes first; staff add, change and finish them.

use actix_web::web;
use chrono::NaiveDate;
use serde::Serialize;

use crate::ids::ContainerId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::{CLASS_SEATS, InClass};
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::speech::Speech;
use crate::store::studio::containers::{self, Container, Substance, Told, Usable};
use crate::store::studio::sheets::sheets_by_container;
use crate::store::{Scope, Tx};
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const FORM: &str = "studio-container";

fn path(ask: &InClass, part: &str) -> String {
    format!("/classes/{}/containers{part}", ask.class())
}

fn today(ask: &InClass) -> NaiveDate {
    ask.now().local_date(ask.membership.zone)
}

// ---- the shelf ----

#[derive(Serialize)]
struct ShelfView {
    base: String,
    studio: String,
    staff: bool,
    /// Those who mix in this class.
    may_mix: bool,
    today: String,
    /// Nothing was ever put on it.
    bare: bool,
    usable: Vec<ContainerView>,
    not_to_use: Vec<ContainerView>,
    finished: Vec<ContainerView>,
    acid: bool,
}

#[derive(Serialize)]
struct ContainerView {
    id: ContainerId,
    mark: String,
    substance: String,
    label: String,
    baume: Option<String>,
    ph: Option<String>,
    weight: Option<String>,
    drops: Option<String>,
    spread: Option<String>,
    acid: bool,
    opened: String,
    discard: Option<String>,
    past_discard: bool,
    sour: bool,
    do_not_use: Option<String>,
    finished: Option<String>,
    note: String,
    /// A data sheet is on file.
    sheet: bool,
}

fn view(
    held: Container,
    sheet: bool,
    today: NaiveDate,
    zone: chrono_tz::Tz,
    speech: &Speech,
) -> ContainerView {
    let decimal = |value: Option<i32>, places| value.map(|value| decimal_text(value.into(), places));
    ContainerView {
        id: held.id,
        mark: held.mark(),
        past_discard: held.usable(today) == Usable::PastDiscard,
        substance: speech.plain(&format!("studio-substance-{}", held.substance.0.word())),
        baume: decimal(held.told.baume_tenths, 1),
        ph: decimal(held.told.ph_hundredths, 2),
        weight: decimal(held.told.weight_bp, 2),
        drops: decimal(held.told.drops_per_ml_hundredths, 2),
        spread: decimal(held.told.drops_spread_hundredths, 2),
        acid: held.substance.0.is_acid(),
        opened: dates::day_with_year(held.opened),
        discard: held.told.discard.map(dates::day_with_year),
        finished: held.finished_at.map(|at| dates::day_with_year(at.local_date(zone))),
        label: held.told.label,
        sour: held.told.sour,
        do_not_use: held.told.do_not_use,
        note: held.told.note,
        sheet,
    }
}

pub async fn shelf(ask: InClass) -> Reply {
    let studio = ask.membership.studio;
    let (all, sheets) = ask
        .house
        .db
        .read(move |db| Ok((containers::containers(db, studio)?, sheets_by_container(db, studio)?)))
        .await?;
    let today = today(&ask);
    let mut view_of = ShelfView {
        base: path(&ask, ""),
        studio: format!("/classes/{}/studio", ask.class()),
        staff: ask.is_staff(),
        may_mix: CLASS_SEATS.contains(&ask.seat()),
        today: dates::day_with_year(today),
        bare: all.is_empty(),
        usable: Vec::new(),
        not_to_use: Vec::new(),
        finished: Vec::new(),
        acid: all.iter().any(|held| held.substance.0.is_acid() && held.finished_at.is_none()),
    };
    for held in all {
        let place = match held.usable(today) {
            Usable::Yes => &mut view_of.usable,
            Usable::PastDiscard | Usable::DoNotUse => &mut view_of.not_to_use,
            Usable::Finished => &mut view_of.finished,
        };
        let sheet = sheets.iter().any(|(container, _)| *container == held.id);
        place.push(view(held, sheet, today, ask.membership.zone, &ask.house.speech));
    }
    ask.show("studio/containers", "studio-containers", &view_of)
}

// ---- one container ----

#[derive(Serialize)]
struct View {
    form: Form,
    base: String,
    /// None for a new one.
    id: Option<ContainerId>,
    /// The mark on the label, or the letter it will begin with.
    mark: String,
    substance: String,
    gum: bool,
    acid: bool,
    stock: bool,
    finished: bool,
}

fn page(ask: &InClass, substance: Substance, held: Option<&Container>, form: Form, again: bool) -> Reply {
    let view = View {
        form,
        base: path(ask, ""),
        id: held.map(|held| held.id),
        mark: held.map_or_else(|| substance.letter().to_owned(), Container::mark),
        substance: ask.house.speech.plain(&format!("studio-substance-{}", substance.word())),
        gum: substance == Substance::Gum,
        acid: substance.is_acid(),
        stock: substance == Substance::Stock,
        finished: held.is_some_and(|held| held.finished_at.is_some()),
    };
    let title = if held.is_some() { "studio-container-change" } else { "studio-container-add" };
    if again {
        ask.show_again("studio/container", title, &view)
    } else {
        ask.show("studio/container", title, &view)
    }
}

fn fresh(held: &Container) -> Form {
    let told = &held.told;
    let decimal = |value: Option<i32>, places| {
        value.map(|value| decimal_text(value.into(), places)).unwrap_or_default()
    };
    let form = Form::new(FORM)
        .with("label", &told.label)
        .with("opened", held.opened.to_string())
        .with("discard", told.discard.map(|day| day.to_string()).unwrap_or_default())
        .with("do_not_use", told.do_not_use.clone().unwrap_or_default())
        .with("note", &told.note)
        .with("version", held.version.to_string());
    match held.substance.0 {
        Substance::Gum => form
            .with("baume", decimal(told.baume_tenths, 1))
            .with("ph", decimal(told.ph_hundredths, 2))
            .tick("sour", told.sour),
        Substance::Phosphoric | Substance::Nitric => form
            .with("weight", decimal(told.weight_bp, 2))
            .with("drops_per_ml", decimal(told.drops_per_ml_hundredths, 2))
            .with("drops_spread", decimal(told.drops_spread_hundredths, 2)),
        Substance::Stock => form.with("ph", decimal(told.ph_hundredths, 2)),
    }
}

struct Draft {
    opened: NaiveDate,
    told: Told,
    version: i64,
}

fn read(filled: &Filled) -> Result<Draft, Trouble> {
    let mut sheet = Sheet::new(filled);
    let mut figure = |field: &str, places, range| {
        sheet.maybe_decimal(field, places, range).and_then(|value| i32::try_from(value).ok())
    };
    let baume_tenths = figure("baume", 1, 1..=400);
    let ph_hundredths = figure("ph", 2, 0..=1400);
    let weight_bp = figure("weight", 2, 1..=10_000);
    let drops_per_ml_hundredths = figure("drops_per_ml", 2, 100..=20_000);
    let drops_spread_hundredths = figure("drops_spread", 2, 0..=20_000);
    let told = Told {
        label: sheet.text("label", 120),
        baume_tenths,
        ph_hundredths,
        weight_bp,
        drops_per_ml_hundredths,
        drops_spread_hundredths,
        discard: sheet.maybe_date("discard"),
        sour: sheet.tick("sour"),
        do_not_use: sheet.maybe_text("do_not_use", 200),
        note: sheet.words("note", 1000),
    };
    let opened = sheet.date("opened");
    let version = sheet.maybe_whole("version", 1..=i64::MAX).unwrap_or(0);
    sheet.done()?;
    Ok(Draft { opened, told, version })
}

#[derive(Serialize)]
struct WhatView {
    base: String,
    what: Vec<Choice>,
}

/// First asks what it holds, since each substance has its own figures.
pub async fn new(ask: InClass) -> Reply {
    match ask.query("what").and_then(|word| Substance::from_word(&word)) {
        Some(substance) => {
            let form = Form::new(FORM).with("what", substance.word()).with("opened", today(&ask).to_string());
            page(&ask, substance, None, form, false)
        }
        None => {
            let what = Choice::of_words::<Substance>("studio-substance", &ask.house.speech);
            ask.show(
                "studio/container-what",
                "studio-container-add",
                &WhatView { base: path(&ask, ""), what },
            )
        }
    }
}

pub async fn add(ask: InClass, filled: Filled) -> Reply {
    let mut sheet = Sheet::new(&filled);
    let substance = sheet.choice("what", Substance::Gum);
    sheet.done()?;
    let (studio, today, next) = (ask.membership.studio, today(&ask), path(&ask, ""));
    let tried = match read(&filled) {
        Ok(Draft { opened, told, .. }) => {
            let act =
                move |tx: &mut Tx<'_>| tx.add_container(studio, substance, opened, &told, today).map(drop);
            ask.act(Scope::School, &filled, said(next, "done-container-added"), act).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => {
            let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?;
            page(&ask, substance, None, form, true)
        }
        fine => fine,
    }
}

async fn held(ask: &InClass, id: ContainerId) -> Result<Container, Trouble> {
    let studio = ask.membership.studio;
    ask.house.db.read(move |db| containers::container(db, studio, id)).await
}

pub async fn edit(ask: InClass, place: web::Path<(String, ContainerId)>) -> Reply {
    let held = held(&ask, place.into_inner().1).await?;
    page(&ask, held.substance.0, Some(&held), fresh(&held), false)
}

pub async fn change(ask: InClass, place: web::Path<(String, ContainerId)>, filled: Filled) -> Reply {
    let (studio, id, today) = (ask.membership.studio, place.into_inner().1, today(&ask));
    let tried = match read(&filled) {
        Ok(Draft { opened, told, version }) => {
            let next = said(path(&ask, ""), "done-container-changed");
            let act = move |tx: &mut Tx<'_>| tx.change_container(studio, id, version, opened, &told, today);
            ask.act(Scope::School, &filled, next, act).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => {
            let stands = held(&ask, id).await?;
            let form = Form::after_save(&filled, trouble, &fresh(&stands), &ask.house.speech)?;
            page(&ask, stands.substance.0, Some(&stands), form, true)
        }
        fine => fine,
    }
}

/// Finished, or not after all.
pub async fn finish(ask: InClass, place: web::Path<(String, ContainerId)>, filled: Filled) -> Reply {
    let (studio, id) = (ask.membership.studio, place.into_inner().1);
    let finished = filled.get("finished") == Some("yes");
    let key = if finished { "done-container-finished" } else { "done-container-reopened" };
    let next = said(path(&ask, ""), key);
    ask.act(Scope::School, &filled, next, move |tx| tx.finish_container(studio, id, finished)).await
}
