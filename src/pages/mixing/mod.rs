//! Mixing: what an etch will be before it is mixed, the dropper, the class's table of etches, the batch for tonight, data
//! sheets and labels.

pub mod batch;
pub mod dilute;
pub mod dropper;
pub mod label;
pub mod label_sheet;
pub mod mix;
pub mod outcome;
mod pictograms;
pub mod reading;
pub mod sheet;
pub mod table;
pub mod tonight;

use actix_web::web;
use serde::Serialize;

use crate::pages::entry::{Ask, InClass};
use crate::pages::fields::Choice;
use crate::pages::forms::{Filled, decimal_text};
use crate::speech::Speech;
use crate::speech::figures::figures;
use crate::store::people::school::school;
use crate::store::studio::sheets::DataSheet;
use crate::store::studio::{Container, Substance};
use crate::trade::exact::{Exact, Rounding};
use crate::trade::measure::{Unit, Volume};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// What stands in the query part of an address, read as a form is: a mix can be linked and bookmarked.
pub(super) fn asked(ask: &Ask) -> Filled {
    let pairs = web::Query::<Vec<(String, String)>>::from_query(ask.request.query_string());
    let pairs = pairs.map(web::Query::into_inner).unwrap_or_default();
    Filled { pairs: pairs.into_iter().filter(|(name, _)| name != "done").collect(), once: None }
}

/// An exact figure as pages show it, without needless zeros.
pub(super) fn figure(exact: &Exact, places: u32) -> String {
    figures(exact.rounded(Rounding::half_up(places)).to_string())
}

/// A volume in both units people measure in.
pub(super) fn both_units(volume: &Volume) -> String {
    let ounces = figure(&volume.amount(Unit::UsFluidOunce), 3);
    format!("{}\u{a0}mL, {ounces}\u{a0}US\u{a0}fl\u{a0}oz", figure(&volume.ml(), 2))
}

/// A volume as it was told, in its own unit.
pub(super) fn in_unit(volume: &Volume, unit: Unit) -> String {
    let (places, word) = match unit {
        Unit::UsFluidOunce => (4, "US\u{a0}fl\u{a0}oz"),
        Unit::Millilitre => (3, "mL"),
    };
    format!("{}\u{a0}{word}", figure(&volume.amount(unit), places))
}

/// The units a volume may be told in. The imperial ounce is there to be caught, with the sentence that says why.
pub(super) fn units(speech: &Speech) -> Vec<Choice> {
    ["us_fl_oz", "ml", "imp_fl_oz"]
        .map(|word| Choice::new(word, speech.plain(&format!("mixing-unit-{word}"))))
        .into()
}

/// A unit by the word of a form, or the sentence that catches another.
pub(super) fn unit(word: &str) -> Result<Unit, Remark> {
    Unit::read("unit", word).map_err(|remark| match remark.key {
        "measure-unit-imperial" => Remark::new("mixing-unit-imperial"),
        _ => Remark::new("mixing-unit-other").with("value", word.chars().take(40).collect::<String>()),
    })
}

/// A container in a list to choose from: its mark, what it holds with its figures, and why it is not to be used.
pub(super) fn container_words(held: &Container, today: chrono::NaiveDate, speech: &Speech) -> String {
    use crate::store::studio::containers::Usable;
    let figure = |value: Option<i32>, places| value.map(|value| decimal_text(value.into(), places));
    let said = |key: &str, value: Option<String>| {
        value.map(|value| {
            speech.say(key, &[("value", value.into())]).unwrap_or_else(|_unspoken| key.to_owned())
        })
    };
    let mut words = vec![speech.plain(&format!("studio-substance-{}", held.substance.0.word()))];
    words.extend(said("studio-baume", figure(held.told.baume_tenths, 1)));
    words.extend(said("studio-ph", figure(held.told.ph_hundredths, 2)));
    words.extend(said("studio-weight", figure(held.told.weight_bp, 2)));
    if held.told.sour {
        words.push(speech.plain("studio-sour"));
    }
    match held.usable(today) {
        Usable::DoNotUse => words.push(speech.plain("studio-do-not-use")),
        Usable::PastDiscard => words.push(speech.plain("studio-past-discard")),
        Usable::Yes | Usable::Finished => {}
    }
    format!("{}: {}", held.mark(), words.join(", "))
}

/// The cautions that stand beside every mix.
#[derive(Debug, Serialize)]
pub(in crate::pages) struct Cautions {
    eyewash: String,
    office: String,
    /// Nitric acid is on the shelf or in the mix.
    nitric: bool,
    /// What the bottle and the mixture add of their own.
    more: Vec<String>,
    sheets: Vec<SheetLine>,
}

/// Whether the data sheet of a bottle is on file, one tap away.
#[derive(Debug, Serialize)]
pub(in crate::pages) struct SheetLine {
    mark: String,
    /// None: none is on file.
    file: Option<String>,
    about: String,
    supplier: Option<String>,
    revised: Option<String>,
}

pub(super) fn sheet_line(ask: &InClass, held: &Container, sheet: Option<&DataSheet>) -> SheetLine {
    let about = format!("/classes/{}/containers/{}/sheet", ask.class(), held.id);
    SheetLine {
        mark: held.mark(),
        file: sheet.map(|_| format!("{about}/file")),
        about,
        supplier: sheet.map(|sheet| sheet.supplier.clone()),
        revised: sheet.map(|sheet| crate::pages::dates::day_with_year(sheet.revised)),
    }
}

/// The cautions for mixing from these bottles.
pub(super) async fn cautions(
    ask: &InClass,
    bottles: Vec<Container>,
    more: Vec<String>,
) -> Result<Cautions, Trouble> {
    use crate::store::studio::sheets::sheet_of;
    let studio = ask.membership.studio;
    let nitric = bottles.iter().any(|held| held.substance.0 == Substance::Nitric);
    let (office, found) = ask
        .house
        .db
        .read(move |db| {
            let office = school(db)?.map(|school| school.safety_office).unwrap_or_default();
            let mut found = Vec::new();
            for held in bottles {
                let sheet = sheet_of(db, studio, held.id)?;
                found.push((held, sheet));
            }
            Ok((office, found))
        })
        .await?;
    let sheets = found.iter().map(|(held, sheet)| sheet_line(ask, held, sheet.as_ref())).collect();
    Ok(Cautions { eyewash: ask.membership.eyewash.clone(), office, nitric, more, sheets })
}
