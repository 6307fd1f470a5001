//! What is asked for on the mix page: bottles, volumes, drops and the row of the class's table, read from the address with
//! a usual value for whatever is left out, and one complaint at each field that cannot be.

use chrono::NaiveDate;

use crate::ids::ContainerId;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::mixing::unit;
use crate::store::classes::etch_table::Row;
use crate::store::studio::Container;
use crate::store::studio::containers::{Substance, Usable};
use crate::trade::etch::table;
use crate::trade::etch::{Gum, Recipe};
use crate::trade::measure::acid::Acid;
use crate::trade::measure::dropper::{Dropper, MOST_DROPS};
use crate::trade::measure::{Baume, Ph, Unit, Volume};
use crate::trade::procedure::Surface;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// The bottles and rows one may choose from.
#[derive(Debug, Clone)]
pub struct Shelf {
    /// None of them finished.
    pub held: Vec<Container>,
    pub rows: Vec<Row>,
    pub today: NaiveDate,
}

/// What was asked for, fit to be reckoned.
#[derive(Debug, Clone)]
pub struct Wish {
    pub recipe: Recipe,
    pub surface: Surface,
    pub unit: Unit,
    pub gum: Option<Container>,
    pub acid: Option<Container>,
    pub stock: Option<Container>,
    /// Zero where no acid is counted.
    pub drops: u32,
    pub row: Option<Row>,
    /// Read in the mixture.
    pub measured: Option<Ph>,
    /// What is left in the bottle of gum or stock etch, and in that of acid.
    pub gum_left: Option<Volume>,
    pub acid_left: Option<Volume>,
}

impl Shelf {
    /// The first bottle of a substance that may be used today.
    #[must_use]
    pub fn usual(&self, substance: Substance) -> Option<&Container> {
        self.held.iter().find(|one| one.substance.0 == substance && one.usable(self.today) == Usable::Yes)
    }

    fn named(&self, id: Option<ContainerId>) -> Option<&Container> {
        self.held.iter().find(|one| Some(one.id) == id)
    }
}

/// The acid that common practice has for a surface.
#[must_use]
pub fn acid_for(surface: Surface) -> Substance {
    match surface {
        Surface::Stone => Substance::Nitric,
        Surface::Plate => Substance::Phosphoric,
    }
}

/// Reads what is asked for.
///
/// # Errors
/// Complaints at the fields.
pub fn read(filled: &Filled, shelf: &Shelf) -> Result<Wish, Trouble> {
    let mut sheet = Sheet::new(filled);
    let told_unit = filled.get("unit").unwrap_or_default();
    let unit = unit(told_unit).unwrap_or_else(|remark| {
        sheet.complain("unit", remark);
        Unit::Millilitre
    });
    let mut bottle = |field: &str, fits: fn(Substance) -> bool| {
        let id = sheet.maybe_id(field);
        let found = shelf.named(id).filter(|held| fits(held.substance.0)).cloned();
        if id.is_some() && found.is_none() {
            sheet.complain(field, Remark::new("mixing-bottle-gone"));
        }
        found
    };
    let gum = bottle("gum", |substance| substance == Substance::Gum);
    let acid = bottle("acid", Substance::is_acid);
    let stock = bottle("stock", |substance| substance == Substance::Stock);
    let volume = volume_of(&mut sheet, "volume", unit);
    let stock_volume = volume_of(&mut sheet, "stock_volume", unit);
    let gum_left = volume_of(&mut sheet, "gum_left", unit);
    let acid_left = volume_of(&mut sheet, "acid_left", Unit::Millilitre);
    let row = row(&mut sheet, shelf);
    let surface = sheet.choice("surface", Surface::Plate);
    let told_drops = sheet.maybe_whole("drops", 0..=MOST_DROPS).and_then(|drops| u32::try_from(drops).ok());
    let measured = sheet.maybe_decimal("measured_ph", 2, 0..=1400);
    let measured =
        measured.and_then(|ph| i32::try_from(ph).ok()).and_then(|ph| Ph::hundredths("measured_ph", ph).ok());
    let drops = told_drops.or_else(|| Some(table::drops(volume.as_ref()?, row.as_ref()?.drops_hundredths)));
    let parts = Parts { gum, acid, stock, volume, stock_volume, drops };
    let recipe = parts.recipe(&mut sheet);
    sheet.done()?;
    let recipe = recipe.ok_or_else(|| Trouble::about("gum", Remark::new("form-empty")))?;
    let drops = if matches!(recipe, Recipe::AcidInGum { .. }) { parts.drops.unwrap_or(0) } else { 0 };
    let Parts { gum, acid, stock, .. } = parts;
    let acid = acid.filter(|_| drops > 0);
    Ok(Wish { recipe, surface, unit, gum, acid, stock, drops, row, measured, gum_left, acid_left })
}

/// A volume in ten-thousandths of its unit, above zero and of 100 litres at most.
pub(super) fn volume_of(sheet: &mut Sheet<'_>, field: &str, unit: Unit) -> Option<Volume> {
    let most = match unit {
        Unit::UsFluidOunce => 33_810_000,
        Unit::Millilitre => Volume::MOST_ML * 10_000,
    };
    let told = sheet.maybe_decimal(field, 4, 1..=most)?;
    Volume::told(field, &crate::trade::exact::Exact::with_places(told, 4), unit).ok()
}

fn row(sheet: &mut Sheet<'_>, shelf: &Shelf) -> Option<Row> {
    let id = sheet.maybe_id("row");
    let found = shelf.rows.iter().find(|row| Some(row.id) == id).cloned();
    if id.is_some() && found.is_none() {
        sheet.complain("row", Remark::new("mixing-row-gone"));
    }
    found
}

struct Parts {
    gum: Option<Container>,
    acid: Option<Container>,
    stock: Option<Container>,
    volume: Option<Volume>,
    stock_volume: Option<Volume>,
    drops: Option<u32>,
}

impl Parts {
    /// The recipe, or None with what is amiss complained about.
    fn recipe(&self, sheet: &mut Sheet<'_>) -> Option<Recipe> {
        if self.gum.is_none() && self.stock.is_none() {
            sheet.complain("gum", Remark::new("mixing-nothing-chosen"));
            return None;
        }
        let gum = self.gum(sheet);
        if self.stock.is_some() {
            return self.with_stock(gum, sheet);
        }
        let gum = gum?;
        match (&self.acid, self.drops) {
            (_, None) => {
                sheet.complain("drops", Remark::new("mixing-drops-untold"));
                None
            }
            (None, Some(0)) => Some(Recipe::PureGum(gum)),
            (None, Some(_)) => {
                sheet.complain("acid", Remark::new("mixing-acid-untold"));
                None
            }
            (Some(held), Some(drops)) => {
                let acid = acid(held, "acid", sheet);
                let dropper = dropper(held)?;
                Some(Recipe::AcidInGum { gum, drops, dropper, acid })
            }
        }
    }

    fn gum(&self, sheet: &mut Sheet<'_>) -> Option<Gum> {
        let held = self.gum.as_ref()?;
        let Some(volume) = self.volume.clone() else {
            sheet.complain("volume", Remark::new("form-empty"));
            return None;
        };
        let baume = held.told.baume_tenths.and_then(|tenths| Baume::tenths("gum", tenths).ok());
        let ph = held.told.ph_hundredths.and_then(|ph| Ph::hundredths("gum", ph).ok());
        match Gum::told(volume, baume, ph, held.told.sour) {
            Ok(gum) => Some(gum),
            Err(remark) => {
                sheet.complain("gum", remark);
                None
            }
        }
    }

    /// A stock etch as it is, or cut with gum; never with drops of acid besides.
    fn with_stock(&self, gum: Option<Gum>, sheet: &mut Sheet<'_>) -> Option<Recipe> {
        if self.drops.is_some_and(|drops| drops > 0) && self.acid.is_some() {
            sheet.complain("stock", Remark::new("mixing-stock-with-acid"));
            return None;
        }
        match (gum, self.gum.is_some(), self.stock_volume.clone()) {
            (None, true, _) => None,
            (None, false, volume) => Some(Recipe::Stock(volume)),
            (Some(_), _, None) => {
                sheet.complain("stock_volume", Remark::new("form-empty"));
                None
            }
            (Some(gum), _, Some(stock)) => Some(Recipe::StockCut { stock, gum }),
        }
    }
}

/// What a bottle holds, with a complaint where it is told stronger than any density known here.
pub(super) fn acid(held: &Container, field: &str, sheet: &mut Sheet<'_>) -> Option<Acid> {
    held.acid().unwrap_or_else(|remark| {
        sheet.complain(field, remark);
        None
    })
}

/// The dropper of a bottle as it stands: calibrated, or counted as 25 give or take 8.
pub(super) fn dropper(held: &Container) -> Option<Dropper> {
    let told = &held.told;
    Dropper::hundredths(told.drops_per_ml_hundredths, told.drops_spread_hundredths).ok()
}

/// The form with a usual value in each field that the address leaves out.
#[must_use]
pub fn with_usual(asked: &Filled, usual: &[(&str, String)]) -> Filled {
    let mut pairs = asked.pairs.clone();
    for (field, value) in usual {
        if asked.get(field).is_none() {
            pairs.push(((*field).to_owned(), value.clone()));
        }
    }
    Filled { pairs, once: None }
}

/// The row of the class's table for a drawing, and whether its words say so. Of several rows for one weight it is the one
/// whose words the drawing shares most; where several share as much, the first of them with any acid: a guess.
#[must_use]
pub fn row_for<'r>(rows: &'r [Row], surface: &str, weight: &str, materials: &str) -> Option<(&'r Row, bool)> {
    let fits = |row: &&Row| row.surface.0.word() == surface && row.weight.0.word() == weight;
    let shared = |row: &Row| table::shared_words(&row.material, materials);
    let fitting: Vec<(&Row, usize)> = rows.iter().filter(fits).map(|row| (row, shared(row))).collect();
    let most = fitting.iter().map(|(_, shared)| *shared).max()?;
    let best: Vec<&Row> = fitting.iter().filter(|(_, shared)| *shared == most).map(|(row, _)| *row).collect();
    let sure = fitting.len() == 1 || (best.len() == 1 && most > 0);
    let row = best.iter().find(|row| row.drops_hundredths > 0).or(best.first())?;
    Some((row, sure))
}
