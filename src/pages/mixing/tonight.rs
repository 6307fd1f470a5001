//! The batch for tonight: how much gum and how many drops for the plates whose next step is an etch and may start now, per
//! recipe and with a margin, and what the bottles on the shelf last for after it.

use serde::Serialize;

use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::Filled;
use crate::pages::mixing::batch::{Plan, Ready, all_acid, all_gum, last, read, ready};
use crate::pages::mixing::outcome::{row_words, unusable};
use crate::pages::mixing::reading::{self, Shelf, acid_for};
use crate::pages::mixing::{self, Cautions, asked, both_units, figure, units};
use crate::pages::overview::looked_at;
use crate::speech::Speech;
use crate::store::classes::etch_table::Row;
use crate::store::studio::{Container, Substance};
use crate::trade::etch::batch::Batch;
use crate::trade::measure::{Span, Volume};
use crate::trade::procedure::Surface;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const FORM: &str = "mixing-tonight";

#[derive(Serialize)]
struct View {
    form: Form,
    base: String,
    time: String,
    plates: Vec<PlateLine>,
    gums: Vec<Choice>,
    acids: Vec<Choice>,
    nitrics: Vec<Choice>,
    units: Vec<Choice>,
    /// Stones are among them, or rows to choose for plates and stones.
    stones: bool,
    no_rows: bool,
    batches: Vec<BatchLine>,
    all: Option<String>,
    warnings: Vec<String>,
    lasts: Vec<String>,
    cautions: Cautions,
}

#[derive(Serialize)]
struct PlateLine {
    number: i32,
    who: String,
    step: String,
    drawing: String,
    /// Of its field in the form.
    name: String,
    rows: Vec<Choice>,
}

#[derive(Serialize)]
struct BatchLine {
    recipe: String,
    plates: usize,
    gum: String,
    drops: u32,
    pipette: Option<String>,
}

/// The page.
pub async fn page(ask: InClass) -> Reply {
    let shelf = mixing::mix::bench(&ask).await?.shelf;
    let looked = looked_at(&ask, None).await?;
    let plates: Vec<Ready> = looked.iter().filter_map(|(folder, look)| ready(folder, look)).collect();
    let told = asked(&ask);
    let named = told.get("each").is_some();
    let filled = usual(&ask, &told, &shelf, &plates);
    let speech = &ask.house.speech;
    let (form, plan, again) = match read(&filled, &shelf, &plates) {
        Ok(plan) => (Form::refused(FORM, &filled, &[], speech), Some(plan), false),
        // Nobody typed anything yet: what is missing on the shelf is said by its empty choices.
        Err(_) if !named => (Form::refused(FORM, &filled, &[], speech), None, false),
        Err(trouble) => {
            let form = Form::after(FORM, &filled, trouble, speech)?;
            let naming = |field: &str| {
                let plate = plates.iter().find(|plate| plate.field == field)?;
                let remark = Remark::new("mixing-tonight-row").with("number", i64::from(plate.number));
                Some(speech.remark(&remark))
            };
            (form.naming(naming), None, true)
        }
    };
    let bottles = match &plan {
        Some(plan) => {
            plan.bottles.iter().map(|bottle| bottle.held.clone()).chain([plan.gum.clone()]).collect()
        }
        None => shelf.held.iter().filter(|one| one.substance.0.is_acid()).cloned().collect(),
    };
    let cautions = mixing::cautions(&ask, bottles, Vec::new()).await?;
    let view = view(&ask, &shelf, &plates, form, plan.as_ref(), cautions);
    if again {
        ask.show_again("mixing/tonight", "mixing-tonight", &view)
    } else {
        ask.show("mixing/tonight", "mixing-tonight", &view)
    }
}

fn usual(ask: &InClass, told: &Filled, shelf: &Shelf, plates: &[Ready]) -> Filled {
    let ounces = ask.person.volume_unit == "us_fl_oz";
    let id = |substance| shelf.usual(substance).map(|one| one.id.to_string()).unwrap_or_default();
    let mut usual = vec![
        ("gum".to_owned(), id(Substance::Gum)),
        ("acid".to_owned(), id(acid_for(Surface::Plate))),
        ("nitric".to_owned(), id(acid_for(Surface::Stone))),
        ("each".to_owned(), if ounces { "1" } else { "30" }.to_owned()),
        ("unit".to_owned(), ask.person.volume_unit.clone()),
        ("margin".to_owned(), "10".to_owned()),
    ];
    usual.extend(plates.iter().map(|plate| {
        let row = plate.row(&shelf.rows);
        (plate.field.clone(), row.map(|(row, _)| row.id.to_string()).unwrap_or_default())
    }));
    let usual: Vec<(&str, String)> =
        usual.iter().map(|(field, value)| (field.as_str(), value.clone())).collect();
    reading::with_usual(told, &usual)
}

fn view(
    ask: &InClass,
    shelf: &Shelf,
    plates: &[Ready],
    form: Form,
    plan: Option<&Plan>,
    cautions: Cautions,
) -> View {
    let speech = &ask.house.speech;
    let of = |fits: fn(Substance) -> bool| mixing::mix::choices(ask, shelf, shelf.today, fits);
    let batches: Vec<BatchLine> =
        plan.map(|plan| plan.batches.iter().map(|one| batch_line(one, speech)).collect()).unwrap_or_default();
    let used = plan.map(|plan| plan.bottles.iter().map(|one| &one.held).chain([&plan.gum]));
    View {
        form,
        base: format!("/classes/{}/mix", ask.class()),
        time: dates::moment(ask.now(), ask.membership.zone),
        plates: plates.iter().map(|plate| plate_line(plate, shelf, speech)).collect(),
        gums: of(|substance| substance == Substance::Gum),
        acids: of(Substance::is_acid),
        nitrics: of(Substance::is_acid),
        units: units(speech),
        stones: plates.iter().any(|plate| plate.surface == Surface::Stone),
        no_rows: shelf.rows.is_empty(),
        all: plan.filter(|plan| !plan.batches.is_empty()).and_then(all_gum).map(|gum| both_units(&gum)),
        warnings: used
            .into_iter()
            .flatten()
            .filter_map(|held| unusable(held, shelf.today))
            .map(|remark| speech.remark(&remark))
            .collect(),
        lasts: plan.map(|plan| last(plan, speech)).unwrap_or_default(),
        batches,
        cautions,
    }
}

fn plate_line(plate: &Ready, shelf: &Shelf, speech: &Speech) -> PlateLine {
    let weight = speech.plain(&format!("plates-weight-{}", plate.weight));
    PlateLine {
        number: plate.number,
        who: plate.who.clone(),
        step: plate.step.clone(),
        drawing: format!("{}, {weight}", plate.materials),
        name: plate.field.clone(),
        rows: shelf
            .rows
            .iter()
            .filter(|row| row.surface.0 == plate.surface)
            .map(|row| Choice::new(row.id.to_string(), row_words(row, speech)))
            .collect(),
    }
}

fn batch_line((row, plates, made): &(Row, usize, Batch), speech: &Speech) -> BatchLine {
    let pipette = (made.drops > 0).then(|| {
        let [ml, low, high] =
            [&made.acid.at, &made.acid.low, &made.acid.high].map(|volume| figure(&volume.ml(), 2));
        let remark =
            Remark::new("mixing-tonight-by-pipette").with("ml", ml).with("low", low).with("high", high);
        speech.remark(&remark)
    });
    BatchLine {
        recipe: row_words(row, speech),
        plates: *plates,
        gum: both_units(&made.gum),
        drops: made.drops,
        pipette,
    }
}

/// What is to be mixed for some plates by the usual bottles and rows, shown beside other things to put out.
#[derive(Serialize)]
pub(in crate::pages) struct PutOut {
    gum: Option<String>,
    all: Option<String>,
    acids: Vec<String>,
    batches: Vec<BatchLine>,
    warnings: Vec<String>,
    /// Why nothing could be reckoned.
    missing: Option<String>,
    /// Plates without a row in the class's table.
    without: Vec<i32>,
    /// Plates whose drawing no row names: theirs is chosen by the weight alone.
    guessed: Vec<i32>,
    cautions: Cautions,
}

/// Reckons what is to be put out for these plates.
pub(in crate::pages) async fn put_out(ask: &InClass, plates: &[Ready]) -> Result<PutOut, Trouble> {
    let shelf = mixing::mix::bench(ask).await?.shelf;
    let filled = usual(ask, &Filled::default(), &shelf, plates);
    let speech = &ask.house.speech;
    let (plan, missing) = match read(&filled, &shelf, plates) {
        Ok(plan) => (Some(plan), None),
        Err(Trouble::Complaints(complaints)) => {
            let first = complaints.first().map(|one| match one.field.as_str() {
                "gum" => speech.plain("tonight-no-gum"),
                _ => speech.remark(&one.remark),
            });
            (None, first)
        }
        Err(trouble) => return Err(trouble),
    };
    let used: Vec<Container> = match &plan {
        Some(plan) => {
            plan.bottles.iter().map(|bottle| bottle.held.clone()).chain([plan.gum.clone()]).collect()
        }
        None => shelf.held.iter().filter(|one| one.substance.0.is_acid()).cloned().collect(),
    };
    let warnings = used.iter().filter_map(|held| unusable(held, shelf.today));
    let warnings = warnings.map(|remark| speech.remark(&remark)).collect();
    let batches = plan.iter().flat_map(|plan| &plan.batches);
    let numbers = |known: Option<bool>| {
        let such = |plate: &&Ready| plate.row(&shelf.rows).map(|(_, named)| named) == known;
        plates.iter().filter(such).map(|plate| plate.number).collect()
    };
    Ok(PutOut {
        gum: plan.as_ref().map(|plan| plan.gum.mark()),
        all: plan
            .as_ref()
            .filter(|plan| !plan.batches.is_empty())
            .and_then(all_gum)
            .map(|gum| both_units(&gum)),
        acids: plan.iter().flat_map(all_acid).map(|acid| acid_words(speech, acid)).collect(),
        batches: batches.map(|one| batch_line(one, speech)).collect(),
        warnings,
        missing: missing.filter(|_| !plates.is_empty()),
        without: numbers(None),
        guessed: numbers(Some(false)),
        cautions: mixing::cautions(ask, used, Vec::new()).await?,
    })
}

fn acid_words(speech: &Speech, (mark, drops, volume): (String, u32, Span<Volume>)) -> String {
    let [ml, low, high] = [&volume.at, &volume.low, &volume.high].map(|one| figure(&one.ml(), 2));
    let remark = Remark::new("tonight-acid").with("mark", mark).with("drops", i64::from(drops));
    speech.remark(&remark.with("ml", ml).with("low", low).with("high", high))
}
