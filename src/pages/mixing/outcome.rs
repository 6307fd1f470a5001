//! What a mix comes to, as the page shows it: exact figures with the dropper's spread, the pH and how it is known, and
//! what to be warned of.

use chrono::NaiveDate;
use serde::Serialize;

use crate::pages::mixing::reading::Wish;
use crate::pages::mixing::{both_units, figure, in_unit};
use crate::speech::Speech;
use crate::store::classes::etch_table::Row;
use crate::store::studio::Container;
use crate::store::studio::containers::Usable;
use crate::trade::etch::cautions::{Caution, Place, cautions};
use crate::trade::etch::{EtchPh, Recipe, Strength, batch, strength, table};
use crate::trade::measure::{Ph, Unit};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;

/// A box of the ticket: its label, what stands in it, and a word below.
#[derive(Debug, Serialize)]
pub struct Figure {
    label: String,
    value: String,
    note: Option<String>,
}

/// What a mix comes to.
#[derive(Debug, Serialize)]
pub struct Outcome {
    /// What goes into the cup, in the order it goes in.
    pub made_of: Vec<String>,
    figures: Vec<Figure>,
    /// The pH and how it is known; first of all when it was measured.
    pub ph: String,
    /// What the class works with, and whether this is in it.
    window: Option<String>,
    warnings: Vec<String>,
    /// What the bottles and the mixture add to the cautions.
    #[serde(skip)]
    pub handling: Vec<String>,
    /// The row of the class's table, beside what is counted here.
    beside: Option<String>,
    how_long: Option<String>,
    /// For how many such mixes the bottles will last.
    lasts: Vec<String>,
}

/// Reckons a wish in a class that works within `window`.
#[must_use]
pub fn outcome(wish: &Wish, window: Option<(Ph, Ph)>, today: NaiveDate, speech: &Speech) -> Outcome {
    let came_to = strength(&wish.recipe, wish.measured.as_ref());
    let place = Place { surface: wish.surface, window: window.clone() };
    let mut warnings: Vec<String> =
        bottles(wish).filter_map(|held| unusable(held, today)).map(|remark| speech.remark(&remark)).collect();
    let mut handling = Vec::new();
    let mut outside = false;
    for caution in cautions(&wish.recipe, &came_to, &place) {
        let said = speech.remark(&caution.remark());
        match caution {
            // Said beside every mix, or beside the pH.
            Caution::Protect | Caution::AcidIntoGum | Caution::NoPh(_) => {}
            Caution::BottleBurns(_)
            | Caution::BottleIrritates(_)
            | Caution::NitricFumes
            | Caution::EyewashForBottle(_)
            | Caution::EyewashForMixture(_)
            | Caution::MixtureCorrosive(_) => handling.push(said),
            // What ends a drawing is read first.
            Caution::DestroysDrawing(_) | Caution::MayDestroyDrawing => warnings.insert(0, said),
            Caution::OutsideWindow { .. } => {
                outside = true;
                warnings.push(said);
            }
            _ => warnings.push(said),
        }
    }
    let known = !matches!(came_to.ph, EtchPh::NotEstimated(_));
    Outcome {
        made_of: made_of(wish, speech),
        figures: figures(&came_to, speech),
        ph: speech.remark(&came_to.ph.remark()),
        window: window.map(|window| {
            let partly = !outside && reaches_beyond(&came_to.ph, &window);
            window_words(&window, known, outside, partly, speech)
        }),
        warnings,
        handling,
        beside: wish.row.as_ref().map(|row| beside(row, wish, speech)),
        how_long: wish.row.as_ref().map(|row| speech.remark(&how_long(row))),
        lasts: bottles_last(wish, speech),
    }
}

/// For how many mixes like this what is left will do: of gum or stock etch, and of acid by the dropper's spread.
fn bottles_last(wish: &Wish, speech: &Speech) -> Vec<String> {
    let remark = |key, left: String, held: &Option<Container>| {
        let mark = held.as_ref().map(Container::mark).unwrap_or_default();
        Remark::new(key).with("left", left).with("mark", mark)
    };
    let (each, held) = match &wish.recipe {
        Recipe::PureGum(gum) | Recipe::AcidInGum { gum, .. } => (Some(gum.volume()), &wish.gum),
        Recipe::Stock(volume) => (volume.as_ref(), &wish.stock),
        Recipe::StockCut { stock, .. } => (Some(stock), &wish.stock),
    };
    let gum = wish.gum_left.as_ref().zip(each).map(|(left, each)| {
        let mixes = batch::lasts(left, each);
        remark("mixing-lasts-gum", in_unit(left, wish.unit), held).with("mixes", mixes)
    });
    let acid = match (&wish.recipe, &wish.acid_left) {
        (Recipe::AcidInGum { drops, dropper, .. }, Some(left)) => batch::acid_lasts(left, dropper, *drops)
            .map(|mixes| {
                remark("mixing-lasts-acid", in_unit(left, Unit::Millilitre), &wish.acid)
                    .with("mixes", mixes.at)
                    .with("low", mixes.low)
                    .with("high", mixes.high)
            }),
        _ => None,
    };
    let mut all: Vec<String> = gum.iter().chain(&acid).map(|remark| speech.remark(remark)).collect();
    if !all.is_empty() {
        all.push(speech.plain("mixing-lasts-told"));
    }
    all
}

fn bottles(wish: &Wish) -> impl Iterator<Item = &Container> {
    [&wish.gum, &wish.acid, &wish.stock].into_iter().flatten()
}

/// Why a bottle is not to be used, if it is not.
pub(super) fn unusable(held: &Container, today: NaiveDate) -> Option<Remark> {
    match held.usable(today) {
        Usable::Yes => None,
        Usable::PastDiscard => {
            let last = held.told.discard.map(crate::pages::dates::day_with_year).unwrap_or_default();
            Some(Remark::new("mixing-past-discard").with("mark", held.mark()).with("day", last))
        }
        Usable::DoNotUse => {
            let why = held.told.do_not_use.clone().unwrap_or_default();
            Some(Remark::new("mixing-do-not-use").with("mark", held.mark()).with("why", why))
        }
        Usable::Finished => Some(Remark::new("mixing-finished").with("mark", held.mark())),
    }
}

/// Gum first: acid goes into it, never the reverse.
fn made_of(wish: &Wish, speech: &Speech) -> Vec<String> {
    let from = |key, volume: Option<String>, held: &Option<Container>| {
        let mark = held.as_ref().map(Container::mark).unwrap_or_default();
        let amount = volume.unwrap_or_else(|| speech.plain("mixing-some"));
        speech.remark(&Remark::new(key).with("amount", amount).with("mark", mark))
    };
    let told = |volume| Some(in_unit(volume, wish.unit));
    match &wish.recipe {
        Recipe::PureGum(gum) => vec![from("mixing-of-gum", told(gum.volume()), &wish.gum)],
        Recipe::AcidInGum { gum, drops: 0, .. } => {
            vec![from("mixing-of-gum", told(gum.volume()), &wish.gum)]
        }
        Recipe::AcidInGum { gum, drops, .. } => {
            let mark = wish.acid.as_ref().map(Container::mark).unwrap_or_default();
            let acid = Remark::new("mixing-of-acid").with("drops", i64::from(*drops)).with("mark", mark);
            vec![from("mixing-of-gum", told(gum.volume()), &wish.gum), speech.remark(&acid)]
        }
        Recipe::Stock(volume) => {
            vec![from("mixing-of-stock", volume.as_ref().and_then(told), &wish.stock)]
        }
        Recipe::StockCut { stock, gum } => vec![
            from("mixing-of-gum", told(gum.volume()), &wish.gum),
            from("mixing-of-stock", told(stock), &wish.stock),
        ],
    }
}

fn figures(came_to: &Strength, speech: &Speech) -> Vec<Figure> {
    let mut all = Vec::new();
    let mut add = |key: &str, value: String, note: Option<String>| {
        all.push(Figure { label: speech.plain(key), value, note });
    };
    if let Some(acid) = &came_to.acid {
        let span = &acid.volume;
        let [at, low, high] = [&span.at, &span.low, &span.high].map(|volume| figure(&volume.ml(), 3));
        let note = (low != high).then(|| {
            speech
                .remark(&Remark::new("mixing-from-to").with("low", low.as_str()).with("high", high.as_str()))
        });
        add("mixing-figure-acid", format!("{at}\u{a0}mL"), note);
    }
    if let Some(mixture) = &came_to.mixture {
        add("mixing-figure-mixture", both_units(mixture), None);
    }
    if let Some(concentration) = came_to.acid.as_ref().and_then(|acid| acid.concentration.as_ref()) {
        let strength = format!("{}\u{a0}mol/L", figure(&concentration.mol_per_litre, 4));
        add("mixing-figure-mol", strength, None);
        let percent = concentration.weight_percent.as_ref().map(|percent| figure(percent, 2));
        match percent {
            Some(percent) => add("mixing-figure-percent", format!("{percent}\u{a0}%"), None),
            None => add("mixing-figure-percent", speech.plain("mixing-no-percent"), None),
        }
        if !concentration.mol_per_litre.is_zero() {
            let ph = format!("{:.2}", concentration.ph_in_water);
            add("mixing-figure-water", ph, Some(speech.plain("mixing-figure-water-note")));
        }
    }
    if let Some(share) = &came_to.stock_share {
        let percent = share * &crate::trade::exact::Exact::whole(100);
        add("mixing-figure-share", format!("{}\u{a0}%", figure(&percent, 1)), None);
    }
    all
}

/// Whether an estimate whose middle lies within the class's pH may lie outside of it all the same.
fn reaches_beyond(ph: &EtchPh, (low, high): &(Ph, Ph)) -> bool {
    let within = low.value()..=high.value();
    matches!(ph, EtchPh::Estimated(one) if !within.contains(&one.low) || !within.contains(&one.high))
}

fn window_words((low, high): &(Ph, Ph), known: bool, outside: bool, partly: bool, speech: &Speech) -> String {
    let key = match (known, outside) {
        (true, false) if partly => "mixing-window-partly",
        (false, _) => "mixing-window",
        (true, true) => "mixing-window-outside",
        (true, false) => "mixing-window-inside",
    };
    speech.remark(&Remark::new(key).with("low", low.to_string()).with("high", high.to_string()))
}

/// What the class's table has for this drawing, beside what is counted here.
fn beside(row: &Row, wish: &Wish, speech: &Speech) -> String {
    let counted = match &wish.recipe {
        Recipe::PureGum(gum) | Recipe::AcidInGum { gum, .. } => {
            i64::from(table::drops(gum.volume(), row.drops_hundredths))
        }
        Recipe::Stock(_) | Recipe::StockCut { .. } => 0,
    };
    let key = if counted == i64::from(wish.drops) { "mixing-beside-same" } else { "mixing-beside-other" };
    let remark = Remark::new(key)
        .with("row", row_words(row, speech))
        .with("counted", counted)
        .with("drops", i64::from(wish.drops));
    speech.remark(&remark)
}

pub fn how_long(row: &Row) -> Remark {
    Remark::new("mixing-how-long")
        .with("applications", i64::from(row.applications))
        .with("time", minutes(row.seconds))
        .with("source", row.source.as_str())
}

/// “crayon 3 to 4, medium: 6.5 drops”.
pub fn row_words(row: &Row, speech: &Speech) -> String {
    let remark = Remark::new("mixing-row-words")
        .with("material", row.material.as_str())
        .with("weight", speech.plain(&format!("plates-weight-{}", row.weight.0.word())))
        .with("drops", crate::pages::forms::decimal_text(row.drops_hundredths.into(), 2));
    speech.remark(&remark)
}

/// Seconds as people say them: “2 min”, “90 s”.
pub(super) fn minutes(seconds: i32) -> String {
    if seconds % 60 == 0 { format!("{}\u{a0}min", seconds / 60) } else { format!("{seconds}\u{a0}s") }
}
