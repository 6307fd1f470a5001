//! Labels for bottles, mixes and waste, to be printed on a sheet of labels. What a label says of hazards is what staff
//! entered from the data sheet on file: 29 CFR 1910.1200(f)(6)(ii) wants the product and words, pictures or symbols that
//! give at least general information about its hazards, with the sheet at hand.

use actix_web::web;
use serde::Serialize;

use crate::ids::ContainerId;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::pages::mixing::label_sheet::{self, Layout, Paper, Places};
use crate::pages::mixing::pictograms::{Drawn, drawn};
use crate::pages::mixing::reading::{self, Wish};
use crate::pages::mixing::sheet::signal_words;
use crate::pages::mixing::{asked, figure, mix};
use crate::speech::Speech;
use crate::spelled;
use crate::store::studio::sheets::{DataSheet, sheet_of};
use crate::store::studio::{Container, Room, Substance, container, room};
use crate::trade::etch::{Recipe, strength};
use crate::trade::measure::acid::AcidKind;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const FORM: &str = "mixing-label";

spelled!(
    /// What a label is for.
    Kind {
        /// What the bottle holds.
        Stock = "stock",
        /// Waste of it, in the campus's own words.
        Waste = "waste",
    }
);

/// What stands on one label.
#[derive(Debug, Default, Serialize)]
struct Card {
    product: String,
    mark: String,
    signal: Option<String>,
    pictograms: Vec<Drawn>,
    hazards: Vec<String>,
    lines: Vec<String>,
}

#[derive(Serialize)]
struct View {
    form: Form,
    /// Where the form asks, and the way back.
    action: String,
    back: String,
    back_words: String,
    heading: String,
    /// Fields of the mix, carried along.
    carried: Vec<(String, String)>,
    kinds: Vec<Choice>,
    papers: Vec<Choice>,
    mix: bool,
    card: Option<Card>,
    places: Option<Places>,
    style: Option<String>,
    small: bool,
    /// Why the label is not whole yet, and where that is mended.
    lacks: Option<&'static str>,
    mend: Option<String>,
}

/// What is asked of a label besides its sheet.
struct Wanted {
    kind: Kind,
    by: String,
    discard: Option<chrono::NaiveDate>,
    layout: Layout,
}

fn read(filled: &Filled) -> Result<Wanted, Trouble> {
    let mut sheet = Sheet::new(filled);
    let (kind, by) = (sheet.choice("kind", Kind::Stock), sheet.text("by", 60));
    let discard = sheet.maybe_date("discard");
    let (told, layout) = (sheet.done(), label_sheet::read(filled));
    match (told, layout) {
        (Ok(()), Ok(layout)) => Ok(Wanted { kind, by, discard, layout }),
        (Err(Trouble::Complaints(mut all)), Err(Trouble::Complaints(more))) => {
            all.extend(more);
            Err(Trouble::Complaints(all))
        }
        (Err(trouble), _) | (_, Err(trouble)) => Err(trouble),
    }
}

fn usual(ask: &InClass, filled: &Filled) -> Filled {
    let person = &ask.person;
    let mut usual = vec![
        ("kind", Kind::Stock.word().to_owned()),
        ("by", format!("{} {}", person.given_name, person.family_name)),
    ];
    usual.extend(label_sheet::USUAL.map(|(field, value)| (field, value.to_owned())));
    reading::with_usual(filled, &usual)
}

/// Gives a card what the data sheet says of hazards.
fn tell_hazards(card: &mut Card, sheet: Option<&DataSheet>, speech: &Speech) {
    match sheet {
        None => card.hazards.push(speech.plain("mixing-label-unclear")),
        Some(sheet) => {
            card.signal = signal_words(sheet.signal.0, speech);
            card.pictograms = drawn(sheet, speech);
            card.hazards.extend(sheet.hazards().into_iter().map(str::to_owned));
            if card.hazards.is_empty() {
                card.hazards.push(speech.plain("mixing-label-no-hazard"));
            }
        }
    }
}

fn by_whom(by: &str) -> Remark {
    Remark::new("mixing-label-by-whom").with("who", by)
}

fn last_day(day: Option<chrono::NaiveDate>) -> Remark {
    match day {
        Some(day) => Remark::new("mixing-label-discard").with("day", dates::day_with_year(day)),
        None => Remark::new("mixing-label-no-discard"),
    }
}

fn of_bottle(held: &Container, sheet: Option<&DataSheet>, wanted: &Wanted, speech: &Speech) -> Card {
    let mut card = Card {
        product: sheet.map_or_else(|| held.told.label.clone(), |sheet| sheet.product.clone()),
        mark: held.mark(),
        ..Card::default()
    };
    tell_hazards(&mut card, sheet, speech);
    let decimal = |key, value: Option<i32>, places| {
        value.map(|value| Remark::new(key).with("value", decimal_text(value.into(), places)))
    };
    let opened = Remark::new("mixing-label-opened").with("day", dates::day_with_year(held.opened));
    let told = &held.told;
    let lines = [
        decimal("studio-weight", told.weight_bp, 2),
        decimal("studio-baume", told.baume_tenths, 1),
        decimal("studio-ph", told.ph_hundredths, 2),
        Some(opened),
        Some(by_whom(&wanted.by)),
        Some(last_day(wanted.discard.or(told.discard))),
    ];
    card.lines = lines.iter().flatten().map(|remark| speech.remark(remark)).collect();
    card
}

fn of_waste(
    held: &Container,
    room: &Room,
    wanted: &Wanted,
    today: chrono::NaiveDate,
    speech: &Speech,
) -> Card {
    let words = || room.waste_words.lines().map(str::trim).filter(|line| !line.is_empty());
    let began = Remark::new("mixing-label-began").with("day", dates::day_with_year(today));
    let mut lines: Vec<String> = words().skip(1).map(str::to_owned).collect();
    lines.extend([began, by_whom(&wanted.by)].iter().map(|remark| speech.remark(remark)));
    Card {
        product: words().next().unwrap_or_default().to_owned(),
        mark: held.mark(),
        lines,
        ..Card::default()
    }
}

/// The label of a bottle, or of the waste of what it holds.
pub async fn bottle(ask: InClass, place: web::Path<(String, ContainerId)>) -> Reply {
    let (studio, id) = (ask.membership.studio, place.into_inner().1);
    let (held, sheet, room) = ask
        .house
        .db
        .read(move |db| Ok((container(db, studio, id)?, sheet_of(db, studio, id)?, room(db, studio)?)))
        .await?;
    let speech = &ask.house.speech;
    let filled = usual(&ask, &asked(&ask));
    let today = ask.now().local_date(ask.membership.zone);
    let shelf = format!("/classes/{}/containers/{id}", ask.class());
    let waste = filled.get("kind") == Some(Kind::Waste.word());
    let card = |wanted: &Wanted| match wanted.kind {
        Kind::Stock => of_bottle(&held, sheet.as_ref(), wanted, speech),
        Kind::Waste => of_waste(&held, &room, wanted, today, speech),
    };
    let (lacks, mend) = match (waste, sheet.is_some(), room.waste_words.is_empty()) {
        (true, _, true) => {
            (Some("mixing-label-waste-words"), Some(format!("/classes/{}/studio/room", ask.class())))
        }
        (false, false, _) => (Some("mixing-label-incomplete"), Some(format!("{shelf}/sheet"))),
        _ => (None, None),
    };
    let heading = Remark::new("mixing-label-of").with("mark", held.mark());
    let back = Remark::new("mixing-back-container").with("mark", held.mark());
    show(
        &ask,
        &filled,
        card,
        Frame {
            action: format!("{shelf}/label"),
            back: shelf.clone(),
            back_words: speech.remark(&back),
            heading: speech.remark(&heading),
            carried: Vec::new(),
            mix: false,
            lacks,
            mend,
        },
    )
}

/// What the page around a label is.
struct Frame {
    action: String,
    back: String,
    back_words: String,
    heading: String,
    carried: Vec<(String, String)>,
    mix: bool,
    lacks: Option<&'static str>,
    mend: Option<String>,
}

fn show(ask: &InClass, filled: &Filled, card: impl Fn(&Wanted) -> Card, frame: Frame) -> Reply {
    let speech = &ask.house.speech;
    let (form, wanted) = match read(filled) {
        Ok(wanted) => (Form::refused(FORM, filled, &[], speech), Some(wanted)),
        Err(trouble) => (Form::after(FORM, filled, trouble, speech)?, None),
    };
    let layout = wanted.as_ref().map(|wanted| wanted.layout);
    let view = View {
        form,
        kinds: Choice::of_words::<Kind>("mixing-label-kind", speech),
        papers: Choice::of_words::<Paper>("mixing-label-paper", speech),
        card: wanted.as_ref().map(card),
        places: layout.map(|layout| layout.places()),
        style: layout.map(|layout| format!("/classes/{}/labels.css?{}", ask.class(), layout.query())),
        small: layout.is_some_and(|layout| layout.is_small()),
        action: frame.action,
        back: frame.back,
        back_words: frame.back_words,
        heading: frame.heading,
        carried: frame.carried,
        mix: frame.mix,
        lacks: frame.lacks,
        mend: frame.mend,
    };
    let title = view.heading.clone();
    if wanted.is_some() {
        ask.show("mixing/label", &title, &view)
    } else {
        ask.show_again("mixing/label", &title, &view)
    }
}

fn of_mix(wish: &Wish, sheet: Option<&DataSheet>, wanted: &Wanted, made: String, speech: &Speech) -> Card {
    let mut card = Card { product: product(wish, speech), ..Card::default() };
    if wish.acid.is_some() || wish.stock.is_some() {
        card.hazards.extend(sheet.map(|_| speech.plain("mixing-label-bottle-hazards")));
        tell_hazards(&mut card, sheet, speech);
    }
    let came_to = strength(&wish.recipe, wish.measured.as_ref());
    let marks = [&wish.gum, &wish.acid, &wish.stock].into_iter().flatten().map(Container::mark);
    let strong = came_to.acid.as_ref().and_then(|acid| acid.concentration.as_ref()).map(|in_it| {
        let mol = figure(&in_it.mol_per_litre, 3);
        match &in_it.weight_percent {
            Some(percent) => {
                Remark::new("mixing-label-strength").with("percent", figure(percent, 2)).with("mol", mol)
            }
            None => Remark::new("mixing-label-mol").with("mol", mol),
        }
    });
    let lines = [
        strong.filter(|_| wish.drops > 0),
        Some(Remark::new("mixing-label-from").with("marks", marks.collect::<Vec<_>>().join(", "))),
        Some(Remark::new("mixing-label-made").with("day", made)),
        Some(by_whom(&wanted.by)),
        Some(last_day(wanted.discard)),
    ];
    card.lines = lines.iter().flatten().map(|remark| speech.remark(remark)).collect();
    card.lines.extend(wish.measured.is_some().then(|| speech.remark(&came_to.ph.remark())));
    card
}

fn product(wish: &Wish, speech: &Speech) -> String {
    match &wish.recipe {
        Recipe::AcidInGum { acid, drops: 1.., .. } => {
            let nitric = acid.as_ref().is_some_and(|acid| acid.kind() == AcidKind::Nitric);
            let kind = if nitric { "nitric" } else { "phosphoric" };
            speech.remark(&Remark::new("mixing-label-etch").with("kind", kind))
        }
        Recipe::PureGum(_) | Recipe::AcidInGum { .. } => speech.plain("mixing-label-gum"),
        Recipe::Stock(_) => speech.plain(&format!("studio-substance-{}", Substance::Stock.word())),
        Recipe::StockCut { .. } => speech.plain("mixing-label-stock-cut"),
    }
}

/// The fields of a label, not of the mix on it.
fn is_of_label(field: &str) -> bool {
    matches!(field, "kind" | "by" | "discard") || label_sheet::USUAL.iter().any(|(name, _)| *name == field)
}

/// The label of a mix, asked for as the mix page asks.
pub async fn of_a_mix(ask: InClass) -> Reply {
    let bench = mix::bench(&ask).await?;
    let (asked_for, _) = bench.filled(&ask);
    let speech = &ask.house.speech;
    let wish = match reading::read(&asked_for, &bench.shelf) {
        Ok(wish) => wish,
        // Without a mix there is nothing to label: the mix page says what is amiss.
        Err(Trouble::Complaints(_)) => {
            let query = ask.request.query_string();
            return Ok(crate::pages::answer::see_other(format!("/classes/{}/mix?{query}", ask.class())));
        }
        Err(trouble) => return Err(trouble),
    };
    let studio = ask.membership.studio;
    let source = wish.acid.as_ref().or(wish.stock.as_ref()).map(|held| held.id);
    let sheet = match source {
        Some(id) => ask.house.db.read(move |db| sheet_of(db, studio, id)).await?,
        None => None,
    };
    let filled = usual(&ask, &asked(&ask));
    let carried: Vec<(String, String)> = filled
        .pairs
        .iter()
        .filter(|(field, value)| !is_of_label(field) && !value.is_empty())
        .cloned()
        .collect();
    let made = dates::day_with_year(bench.shelf.today);
    let lacks = (source.is_some() && sheet.is_none()).then_some("mixing-label-acid-incomplete");
    let base = format!("/classes/{}/mix", ask.class());
    let card = |wanted: &Wanted| of_mix(&wish, sheet.as_ref(), wanted, made.clone(), speech);
    show(
        &ask,
        &filled,
        card,
        Frame {
            action: format!("{base}/label"),
            back: format!("{base}?{}", ask.request.query_string()),
            back_words: speech.plain("mixing-mix"),
            heading: speech.plain("mixing-label-for-mix"),
            carried,
            mix: true,
            lacks,
            mend: None,
        },
    )
}
