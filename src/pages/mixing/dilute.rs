//! Diluting stock acid: how much of it into how much water. Acid goes into water, never the reverse.

use serde::Serialize;

use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::mixing::reading::{self, Shelf};
use crate::pages::mixing::{self, Cautions, asked, figure, in_unit, units};
use crate::store::studio::{Container, Substance};
use crate::trade::etch::batch::{Dilution, dilute};
use crate::trade::exact::Exact;
use crate::trade::measure::Unit;
use crate::trade::measure::acid::{Acid, AcidKind};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const FORM: &str = "mixing-dilution";

#[derive(Serialize)]
struct View {
    form: Form,
    mix: String,
    acids: Vec<Choice>,
    units: Vec<Choice>,
    /// What to do, in order.
    steps: Vec<String>,
    cautions: Cautions,
}

/// What is to be made.
struct Wish {
    bottle: Container,
    stock: Acid,
    wanted: Acid,
    unit: Unit,
    made: Dilution,
}

fn read(filled: &Filled, shelf: &Shelf) -> Result<Wish, Trouble> {
    let mut sheet = Sheet::new(filled);
    let unit = mixing::unit(filled.get("unit").unwrap_or_default()).unwrap_or_else(|remark| {
        sheet.complain("unit", remark);
        Unit::Millilitre
    });
    let id = sheet.id("acid");
    let bottle = shelf.held.iter().find(|one| one.id == id && one.substance.0.is_acid()).cloned();
    if bottle.is_none() {
        sheet.complain("acid", Remark::new("mixing-bottle-gone"));
    }
    let stock = bottle.as_ref().and_then(|held| reading::acid(held, "acid", &mut sheet));
    let percent = sheet.decimal("wanted", 2, 1..=10_000);
    let total = reading::volume_of(&mut sheet, "total", unit);
    if total.is_none() {
        sheet.complain("total", Remark::new("form-empty"));
    }
    sheet.done()?;
    let nothing = || Trouble::about("acid", Remark::new("mixing-bottle-gone"));
    let (bottle, stock, total) = match (bottle, stock, total) {
        (Some(bottle), Some(stock), Some(total)) => (bottle, stock, total),
        _ => return Err(nothing()),
    };
    let wanted = Acid::told("wanted", stock.kind(), Exact::percent_from_basis_points(percent))
        .map_err(|_remark| Trouble::about("wanted", stronger(&stock, percent)))?;
    let made = dilute(&stock, &wanted, &total).map_err(|remark| Trouble::about("wanted", remark))?;
    Ok(Wish { bottle, stock, wanted, unit, made })
}

/// Stronger than any density known here, so stronger than the bottle too.
fn stronger(stock: &Acid, percent: i64) -> Remark {
    Remark::new("etch-dilution-stronger")
        .with("stock", stock.percent().to_string())
        .with("wanted", Exact::percent_from_basis_points(percent).to_string())
}

/// The page.
pub async fn page(ask: InClass) -> Reply {
    let shelf = mixing::mix::bench(&ask).await?.shelf;
    let told = asked(&ask);
    let wanted = told.get("wanted").is_some();
    let usual = shelf.usual(Substance::Phosphoric).or_else(|| shelf.usual(Substance::Nitric));
    let filled = reading::with_usual(
        &told,
        &[("acid", usual.map(|one| one.id.to_string()).unwrap_or_default()), ("unit", "ml".to_owned())],
    );
    let speech = &ask.house.speech;
    let tried = if wanted { read(&filled, &shelf).map(Some) } else { Ok(None) };
    let (wish, form, again) = match tried {
        Ok(wish) => (wish, Form::refused(FORM, &filled, &[], speech), false),
        Err(trouble) => (None, Form::after(FORM, &filled, trouble, speech)?, true),
    };
    let bottles = match &wish {
        Some(wish) => vec![wish.bottle.clone()],
        None => shelf.held.iter().filter(|one| one.substance.0.is_acid()).cloned().collect(),
    };
    let steps = wish.as_ref().map(steps).unwrap_or_default();
    let view = View {
        form,
        mix: format!("/classes/{}/mix", ask.class()),
        acids: mixing::mix::choices(&ask, &shelf, shelf.today, Substance::is_acid),
        units: units(speech),
        steps: steps.iter().map(|remark| speech.remark(remark)).collect(),
        cautions: mixing::cautions(&ask, bottles, Vec::new()).await?,
    };
    if again {
        ask.show_again("mixing/dilute", "mixing-dilute", &view)
    } else {
        ask.show("mixing/dilute", "mixing-dilute", &view)
    }
}

/// Water first, then acid, then water up to the mark.
fn steps(wish: &Wish) -> Vec<Remark> {
    let half = &wish.made.water_grams * &Exact::with_places(5, 1);
    let kind = match wish.stock.kind() {
        AcidKind::Phosphoric => "phosphoric",
        AcidKind::Nitric => "nitric",
    };
    vec![
        Remark::new("mixing-dilution-step-water").with("water", figure(&half, 0)),
        Remark::new("mixing-dilution-step-acid")
            .with("ml", figure(&wish.made.acid.ml(), 2))
            .with("grams", figure(&wish.made.acid_grams, 2))
            .with("percent", wish.stock.percent().to_string())
            .with("mark", wish.bottle.mark()),
        Remark::new("mixing-dilution-step-up")
            .with("total", in_unit(&wish.made.total, wish.unit))
            .with("water", figure(&wish.made.water_grams, 1)),
        Remark::new("mixing-dilution-step-made")
            .with("percent", wish.wanted.percent().to_string())
            .with("mol", figure(&wish.wanted.mol_per_litre(), 3))
            .with("kind", kind),
    ]
}
