//! A batch: the plates that are ready for an etch, the recipes chosen for them, what is to be mixed, and what the bottles
//! last for after it.

use crate::pages::forms::{Filled, Sheet};
use crate::pages::mixing::reading::{self, Shelf, row_for};
use crate::pages::mixing::{self, figure, in_unit};
use crate::speech::Speech;
use crate::store::classes::etch_table::Row;
use crate::store::plates::folder::Folder;
use crate::store::plates::plans::Look;
use crate::store::studio::{Container, Substance};
use crate::trade::etch::batch::{Batch, acid_lasts, batch, lasts};
use crate::trade::etch::table;
use crate::trade::exact::Exact;
use crate::trade::measure::dropper::Dropper;
use crate::trade::measure::{Span, Unit, Volume};
use crate::trade::procedure::{Records, StepState, Surface};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// A plate that is ready for an etch.
pub(in crate::pages) struct Ready {
    pub(super) number: i32,
    pub(super) who: String,
    pub(super) step: String,
    pub(super) materials: String,
    pub(super) surface: Surface,
    pub(super) weight: &'static str,
    pub(super) field: String,
}

pub(super) fn ready(folder: &Folder, look: &Look) -> Option<Ready> {
    let next = look.outlook.next_step()?;
    let etches = folder.procedure.all().any(|step| *step.key == *next.key && step.records == Records::Etch);
    if !etches
        || next.state != StepState::Ready
        || look.outlook.blocked_by.is_some()
        || folder.replaced
        || folder.left()
    {
        return None;
    }
    Some(Ready::of(folder, &next.title))
}

impl Ready {
    /// The plate of this folder, ready for the etch of that title.
    pub(in crate::pages) fn of(folder: &Folder, step: &str) -> Self {
        let row = &folder.row;
        Self {
            number: row.number,
            who: format!("{} {}", row.person.given_name, row.person.family_name),
            step: step.to_owned(),
            materials: row.materials.clone(),
            surface: row.surface.0,
            weight: row.weight.0.word(),
            field: format!("row-{}", row.id),
        }
    }

    /// The row of the class's table for its drawing, and whether its words say so.
    pub(super) fn row<'r>(&self, rows: &'r [Row]) -> Option<(&'r Row, bool)> {
        row_for(rows, self.surface.word(), self.weight, &self.materials)
    }
}

/// What is to be mixed.
pub(super) struct Plan {
    pub(super) unit: Unit,
    pub(super) each: Volume,
    pub(super) gum: Container,
    pub(super) gum_left: Option<Volume>,
    pub(super) bottles: Vec<Bottle>,
    pub(super) batches: Vec<(Row, usize, Batch)>,
}

/// An acid bottle with what is left in it.
pub(super) struct Bottle {
    pub(super) held: Container,
    pub(super) dropper: Dropper,
    pub(super) left: Option<Volume>,
    pub(super) surface: Surface,
}

pub(super) fn read(filled: &Filled, shelf: &Shelf, plates: &[Ready]) -> Result<Plan, Trouble> {
    let mut sheet = Sheet::new(filled);
    let unit = mixing::unit(filled.get("unit").unwrap_or_default()).unwrap_or_else(|remark| {
        sheet.complain("unit", remark);
        Unit::Millilitre
    });
    let each = reading::volume_of(&mut sheet, "each", unit);
    if each.is_none() {
        sheet.complain("each", Remark::new("form-empty"));
    }
    let margin = i32::try_from(sheet.decimal("margin", 2, 0..=10_000)).unwrap_or(0);
    let gum = held(&mut sheet, shelf, "gum", |substance| substance == Substance::Gum);
    if gum.is_none() {
        sheet.complain("gum", Remark::new("form-empty"));
    }
    let gum_left = reading::volume_of(&mut sheet, "gum_left", Unit::Millilitre);
    let chosen = chosen(&mut sheet, shelf, plates);
    let bottles = bottles(&mut sheet, shelf, &chosen);
    sheet.done()?;
    let (Some(each), Some(gum)) = (each, gum) else {
        return Err(Trouble::about("each", Remark::new("form-empty")));
    };
    let mut batches = Vec::new();
    for (row, count) in chosen {
        let bottle = bottles.iter().find(|bottle| bottle.surface == row.surface.0);
        let dropper = bottle.map_or_else(Dropper::uncalibrated, |bottle| bottle.dropper.clone());
        let drops = table::drops(&each, row.drops_hundredths);
        let plates = u32::try_from(count).unwrap_or(u32::MAX);
        let made = batch(&each, drops, &dropper, plates, margin)
            .map_err(|remark| Trouble::about("margin", remark))?;
        batches.push((row, count, made));
    }
    Ok(Plan { unit, each, gum, gum_left, bottles, batches })
}

fn held(
    sheet: &mut Sheet<'_>,
    shelf: &Shelf,
    field: &str,
    fits: impl Fn(Substance) -> bool,
) -> Option<Container> {
    let id = sheet.maybe_id(field);
    let found = shelf.held.iter().find(|one| Some(one.id) == id && fits(one.substance.0)).cloned();
    if id.is_some() && found.is_none() {
        sheet.complain(field, Remark::new("mixing-bottle-gone"));
    }
    found
}

/// The rows chosen, each with how many plates it is for.
fn chosen(sheet: &mut Sheet<'_>, shelf: &Shelf, plates: &[Ready]) -> Vec<(Row, usize)> {
    let mut chosen: Vec<(Row, usize)> = Vec::new();
    for plate in plates {
        let id = sheet.maybe_id(&plate.field);
        let row = shelf.rows.iter().find(|row| Some(row.id) == id && row.surface.0 == plate.surface);
        match (id, row) {
            (Some(_), None) => sheet.complain(&plate.field, Remark::new("mixing-row-gone")),
            (_, Some(row)) => match chosen.iter_mut().find(|(known, _)| known.id == row.id) {
                Some((_, count)) => *count += 1,
                None => chosen.push((row.clone(), 1)),
            },
            (None, None) => {}
        }
    }
    chosen
}

/// The acid bottles that the chosen rows need, for plates and for stones.
fn bottles(sheet: &mut Sheet<'_>, shelf: &Shelf, chosen: &[(Row, usize)]) -> Vec<Bottle> {
    let mut found = Vec::new();
    for (surface, field, left) in
        [(Surface::Plate, "acid", "acid_left"), (Surface::Stone, "nitric", "nitric_left")]
    {
        let needed = chosen.iter().any(|(row, _)| row.surface.0 == surface && row.drops_hundredths > 0);
        let left = reading::volume_of(sheet, left, Unit::Millilitre);
        let bottle = held(sheet, shelf, field, Substance::is_acid);
        match bottle {
            Some(held) => {
                found.extend(reading::dropper(&held).map(|dropper| Bottle { held, dropper, left, surface }))
            }
            None if needed => sheet.complain(field, Remark::new("mixing-acid-untold")),
            None => {}
        }
    }
    found
}

fn sum<'v>(volumes: impl Iterator<Item = &'v Volume>) -> Exact {
    volumes.fold(Exact::zero(), |all, volume| all + volume.ml())
}

fn millilitres(ml: &Exact) -> Option<Volume> {
    Volume::told("left", ml, Unit::Millilitre).ok()
}

pub(super) fn all_gum(plan: &Plan) -> Option<Volume> {
    millilitres(&sum(plan.batches.iter().map(|(_, _, made)| &made.gum)))
}

/// The drops of each acid bottle in all, and what they come to by its dropper.
pub(super) fn all_acid(plan: &Plan) -> Vec<(String, u32, Span<Volume>)> {
    let of = |bottle: &Bottle| {
        let mine = plan.batches.iter().filter(|(row, _, _)| row.surface.0 == bottle.surface);
        let drops = mine.fold(0_u32, |all, (_, _, made)| all.saturating_add(made.drops));
        (drops > 0).then(|| (bottle.held.mark(), drops, bottle.dropper.volume(drops)))
    };
    plan.bottles.iter().filter_map(of).collect()
}

/// What the bottles last for after tonight, as far as somebody told what is left in them.
pub(super) fn last(plan: &Plan, speech: &Speech) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(left) = &plan.gum_left {
        said.push(gum_lasts(plan, left));
    }
    for bottle in &plan.bottles {
        said.extend(bottle.left.as_ref().and_then(|left| acid_lasts_for(plan, bottle, left)));
    }
    said.iter().map(|remark| speech.remark(remark)).collect()
}

fn gum_lasts(plan: &Plan, left: &Volume) -> Remark {
    let wanted = sum(plan.batches.iter().map(|(_, _, made)| &made.gum));
    let mark = plan.gum.mark();
    if wanted > left.ml() {
        return Remark::new("mixing-tonight-gum-short")
            .with("mark", mark)
            .with("left", figure(&left.ml(), 1))
            .with("wanted", figure(&wanted, 1));
    }
    let after = &left.ml() - &wanted;
    let plates = millilitres(&after).map_or(0, |after| lasts(&after, &plan.each));
    Remark::new("mixing-tonight-gum-lasts")
        .with("mark", mark)
        .with("left", figure(&after, 1))
        .with("plates", plates)
        .with("each", in_unit(&plan.each, plan.unit))
}

/// By the strongest recipe of tonight; None where none takes acid from this bottle.
fn acid_lasts_for(plan: &Plan, bottle: &Bottle, left: &Volume) -> Option<Remark> {
    let mine = || plan.batches.iter().filter(|(row, _, _)| row.surface.0 == bottle.surface);
    let drops = mine().map(|(row, _, _)| table::drops(&plan.each, row.drops_hundredths)).max()?;
    let most = sum(mine().map(|(_, _, made)| &made.acid.high));
    let mark = bottle.held.mark();
    if most > left.ml() {
        return Some(
            Remark::new("mixing-tonight-acid-short")
                .with("mark", mark)
                .with("left", figure(&left.ml(), 2))
                .with("wanted", figure(&most, 2)),
        );
    }
    let after = &left.ml() - &sum(mine().map(|(_, _, made)| &made.acid.at));
    let spare = millilitres(&after)?;
    let plates = acid_lasts(&spare, &bottle.dropper, drops)?;
    Some(
        Remark::new("mixing-tonight-acid-lasts")
            .with("mark", mark)
            .with("left", figure(&after, 2))
            .with("plates", plates.at)
            .with("drops", i64::from(drops))
            .with("low", plates.low)
            .with("high", plates.high),
    )
}
