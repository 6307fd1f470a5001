//! The mix page: what gum and drops come to before anything is mixed. All of it stands in the address, so a mix can be
//! linked and bookmarked; nothing is stored.

use chrono::NaiveDate;
use serde::Serialize;

use crate::ids::PlateId;
use crate::pages::answer::{Reply, encode};
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, decimal_text};
use crate::pages::mixing::outcome::{Outcome, minutes, outcome, row_words};
use crate::pages::mixing::reading::{self, Shelf, Wish, acid_for, row_for};
use crate::pages::mixing::{self, Cautions, asked, container_words, units};
use crate::speech::figures::figures;
use crate::store::classes::etch_table::{self, Row};
use crate::store::classes::facts;
use crate::store::plates::prints;
use crate::store::studio::{Substance, containers};
use crate::trade::measure::Ph;
use crate::trade::procedure::Surface;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

pub(super) const FORM: &str = "mixing";
/// What makes an address one that asks for a mix.
const FIELDS: [&str; 9] =
    ["gum", "volume", "unit", "acid", "drops", "row", "stock", "stock_volume", "measured_ph"];

#[derive(Serialize)]
struct View {
    form: Form,
    base: String,
    containers: String,
    staff: bool,
    instructor: bool,
    gums: Vec<Choice>,
    acids: Vec<Choice>,
    stocks: Vec<Choice>,
    units: Vec<Choice>,
    rows: Vec<Choice>,
    surfaces: Vec<Choice>,
    /// The plate it is for, if the address names one.
    plate: Option<i32>,
    outcome: Option<Outcome>,
    label: Option<String>,
    table: Vec<TableLine>,
    cautions: Cautions,
}

#[derive(Serialize)]
struct TableLine {
    surface: String,
    material: String,
    weight: String,
    drops: String,
    applications: i32,
    each: String,
    source: String,
    take: String,
}

/// What the page has to know: the shelf, the table, the class's window, and the plate it is for.
pub(super) struct Bench {
    pub shelf: Shelf,
    pub window: Option<(Ph, Ph)>,
    plate: Option<(i32, Surface, &'static str, String)>,
}

pub(super) async fn bench(ask: &InClass) -> Result<Bench, Trouble> {
    let (class, studio, owner) = (ask.class(), ask.membership.studio, ask.owner());
    let today = ask.now().local_date(ask.membership.zone);
    let plate = ask.query("plate").map(|id| id.parse::<PlateId>()).transpose();
    let plate = plate.map_err(|_no_id| Trouble::NotFound)?;
    ask.house
        .db
        .read(move |db| {
            let mut held = containers(db, studio)?;
            held.retain(|one| one.finished_at.is_none());
            let (_, rows) = etch_table::etch_table(db, class)?;
            let rules = facts::class(db, class)?.rules;
            let plate = match plate {
                None => None,
                Some(id) => {
                    let row = prints::drawing(db, class, id, owner)?;
                    Some((row.number, row.surface.0, row.weight.0.word(), row.materials))
                }
            };
            let ph = |hundredths: Option<i32>| hundredths.and_then(|ph| Ph::hundredths("ph", ph).ok());
            Ok(Bench {
                shelf: Shelf { held, rows, today },
                window: ph(rules.ph_low_hundredths).zip(ph(rules.ph_high_hundredths)),
                plate,
            })
        })
        .await
}

impl Bench {
    /// The address with usual values in what it leaves out, and whether it asks for a mix.
    pub(super) fn filled(&self, ask: &InClass) -> (Filled, bool) {
        let asked = asked(ask);
        let surface = match (&self.plate, asked.get("surface").and_then(Surface::from_word)) {
            (_, Some(surface)) => surface,
            (Some((_, surface, ..)), None) => *surface,
            (None, None) => Surface::Plate,
        };
        let weight = self.plate.as_ref().map(|(_, _, weight, _)| *weight).or_else(|| asked.get("weight"));
        let materials = self.plate.as_ref().map(|(.., materials)| materials.as_str()).unwrap_or_default();
        let row = weight.and_then(|weight| row_for(&self.shelf.rows, surface.word(), weight, materials));
        let row = row.map(|(row, _)| row);
        let named = FIELDS.iter().any(|field| asked.get(field).is_some());
        let ounces = ask.person.volume_unit == "us_fl_oz";
        let id = |substance| self.shelf.usual(substance).map(|one| one.id.to_string()).unwrap_or_default();
        let usual = [
            ("gum", id(Substance::Gum)),
            ("volume", if ounces { "1" } else { "30" }.to_owned()),
            ("unit", ask.person.volume_unit.clone()),
            ("acid", id(acid_for(surface))),
            (
                "row",
                if named { String::new() } else { row.map(|row| row.id.to_string()).unwrap_or_default() },
            ),
            ("surface", surface.word().to_owned()),
        ];
        (reading::with_usual(&asked, &usual), named || row.is_some())
    }
}

/// The page.
pub async fn page(ask: InClass) -> Reply {
    let bench = bench(&ask).await?;
    let (filled, wanted) = bench.filled(&ask);
    let speech = &ask.house.speech;
    let tried = if wanted { reading::read(&filled, &bench.shelf).map(Some) } else { Ok(None) };
    let (wish, form, again) = match tried {
        Ok(wish) => (wish, Form::refused(FORM, &filled, &[], speech), false),
        Err(trouble) => (None, Form::after(FORM, &filled, trouble, speech)?, true),
    };
    let outcome = wish.as_ref().map(|wish| outcome(wish, bench.window.clone(), bench.shelf.today, speech));
    let more = outcome.as_ref().map(|outcome| outcome.handling.clone()).unwrap_or_default();
    let bottles = match &wish {
        Some(Wish { gum, acid, stock, .. }) => [acid, stock, gum].into_iter().flatten().cloned().collect(),
        None => bench.shelf.held.iter().filter(|one| one.substance.0.is_acid()).cloned().collect(),
    };
    let label = wish.is_some().then(|| format!("{}/label?{}", base(&ask), query(&filled)));
    let view = view(&ask, &bench, form, outcome, label, mixing::cautions(&ask, bottles, more).await?);
    if again {
        ask.show_again("mixing/mix", "mixing-mix", &view)
    } else {
        ask.show("mixing/mix", "mixing-mix", &view)
    }
}

fn base(ask: &InClass) -> String {
    format!("/classes/{}/mix", ask.class())
}

/// The fields of a mix as the query of an address.
fn query(filled: &Filled) -> String {
    let fields = filled.pairs.iter().filter(|(_, value)| !value.is_empty());
    fields.map(|(field, value)| format!("{}={}", encode(field), encode(value))).collect::<Vec<_>>().join("&")
}

fn view(
    ask: &InClass,
    bench: &Bench,
    form: Form,
    outcome: Option<Outcome>,
    label: Option<String>,
    cautions: Cautions,
) -> View {
    let (speech, shelf) = (&ask.house.speech, &bench.shelf);
    let of = |fits: fn(Substance) -> bool| choices(ask, shelf, shelf.today, fits);
    let base = base(ask);
    View {
        form,
        containers: format!("/classes/{}/containers", ask.class()),
        staff: ask.is_staff(),
        instructor: ask.is_instructor(),
        gums: of(|substance| substance == Substance::Gum),
        acids: of(Substance::is_acid),
        stocks: of(|substance| substance == Substance::Stock),
        units: units(speech),
        rows: shelf
            .rows
            .iter()
            .map(|row| {
                let surface = speech.plain(&format!("plates-surface-{}", row.surface.0.word()));
                Choice::new(row.id.to_string(), format!("{surface}: {}", row_words(row, speech)))
            })
            .collect(),
        surfaces: Choice::of_words::<Surface>("plates-surface", speech),
        plate: bench.plate.as_ref().map(|(number, ..)| *number),
        outcome,
        label,
        table: shelf.rows.iter().map(|row| table_line(ask, row, &base)).collect(),
        cautions,
        base,
    }
}

pub(super) fn choices(
    ask: &InClass,
    shelf: &Shelf,
    today: NaiveDate,
    fits: fn(Substance) -> bool,
) -> Vec<Choice> {
    let fitting = shelf.held.iter().filter(|one| fits(one.substance.0));
    fitting
        .map(|one| Choice::new(one.id.to_string(), container_words(one, today, &ask.house.speech)))
        .collect()
}

fn table_line(ask: &InClass, row: &Row, base: &str) -> TableLine {
    let speech = &ask.house.speech;
    TableLine {
        surface: speech.plain(&format!("plates-surface-{}", row.surface.0.word())),
        material: row.material.clone(),
        weight: speech.plain(&format!("plates-weight-{}", row.weight.0.word())),
        drops: figures(decimal_text(row.drops_hundredths.into(), 2)),
        applications: row.applications,
        each: minutes(row.seconds),
        source: row.source.clone(),
        take: format!("{base}?surface={}&row={}", row.surface.0.word(), row.id),
    }
}
