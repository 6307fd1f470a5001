//! What a phone takes along to the table for one plate: the step, its texts, the mix carried over, what may be chosen.
//! No names of others, no grades, no photos.

use serde::Serialize;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, PlateId, ProcedureId, StepRunId};
use crate::pages::entry::InClass;
use crate::pages::etches::form::{Offers, fresh, offers, with_applications};
use crate::pages::etches::shown::unit_of;
use crate::pages::fields::Form;
use crate::pages::mixing::reading::row_for as row_for_drawing;
use crate::pages::plates;
use crate::pages::procedures::said::LookedAt;
use crate::pages::sittings::beside::{self, Words};
use crate::pages::sittings::splash::Help;
use crate::store::classes::etch_table::Row;
use crate::store::etches::logs::Log;
use crate::store::plates::folder::{Folder, Run, seconds_told};
use crate::store::plates::plans::Look;
use crate::store::studio::containers::{Container, Substance, Usable};
use crate::trade::etch::logged::Kind;
use crate::trade::etch::table;
use crate::trade::exact::Exact;
use crate::trade::measure::{Unit, Volume};
use crate::trade::procedure::{Hazard, Records, Step, StepOutlook, Surface, Verdict};
use crate::trade::spelled::Spelled;

/// A pack is of no use after so long.
pub const KEPT_DAYS: i64 = 7;
/// Gum of a first mix: 30 mL, or one US fluid ounce.
const USUAL_MICROLITRES: i64 = 30_000;
/// For so long one mix serves the plates of a sitting; common practice, no published source.
const ONE_MIX_MS: i64 = 3 * 3_600_000;
/// A usual application, in seconds; common practice, no published source.
const USUAL_APPLICATION: i32 = 120;

/// One plate's pack. Its names are what the script at the table reads.
#[derive(Debug, Serialize)]
pub struct Pack {
    pub version: u8,
    pub made_ms: i64,
    pub kept_days: i64,
    pub person: PersonId,
    pub class: ClassId,
    pub plate: PlateId,
    pub path: String,
    pub plate_path: String,
    pub number: i32,
    pub print: String,
    pub step: String,
    pub title: String,
    /// The eyewash, and how long the sign-offs hold.
    pub beside: Vec<String>,
    /// The instructions may be folded away: its student may work alone.
    pub may_fold: bool,
    pub pictures: Vec<LookedAt>,
    /// Somebody of the staff can be asked from here.
    pub may_ask: bool,
    /// It is for the studio's tablet, which opens no other page.
    pub tablet: bool,
    pub before: Vec<String>,
    pub during: Vec<String>,
    pub after: Vec<String>,
    pub cautions: Vec<String>,
    /// Somebody else should be in the room: acid, solvent, press.
    pub wants_company: bool,
    pub wants_etch: bool,
    pub wants_sheets: bool,
    /// Where a photo of the proof goes, where the step makes one.
    pub photo_path: Option<String>,
    /// In which people tell times here.
    pub zone: String,
    pub may_start: bool,
    /// When what refuses it now ends by itself.
    pub may_start_from_ms: Option<i64>,
    /// Why it may not start.
    pub refusals: Vec<String>,
    pub minutes: i64,
    pub run: Option<Running>,
    pub fields: std::collections::BTreeMap<&'static str, String>,
    /// What the fields for volumes are called in this person's unit.
    pub labels: std::collections::BTreeMap<&'static str, String>,
    pub gums: Vec<crate::pages::fields::Choice>,
    pub acids: Vec<crate::pages::fields::Choice>,
    pub stocks: Vec<crate::pages::fields::Choice>,
    /// Where help is; with the page itself only, for all packs of a class have the same.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub help: Option<Help>,
}

/// A run that goes on.
#[derive(Debug, Serialize)]
pub struct Running {
    pub id: StepRunId,
    pub began_ms: i64,
    pub planned: Vec<i32>,
    pub in_room: String,
}

/// What a pack is made from.
#[derive(Debug)]
pub struct Ground {
    pub folder: Folder,
    pub look: Look,
    pub last: Option<Log>,
    /// What the plate's procedure is a version of.
    pub procedure: Option<ProcedureId>,
}

/// What stands in the studio and the class for every plate.
#[derive(Debug)]
pub struct Shelf {
    pub held: Vec<Container>,
    pub rows: Vec<Row>,
    pub words: Words,
}

const FIELDS: [&str; 23] = [
    "unit",
    "recipe",
    "gum",
    "gum_volume",
    "acid",
    "drops",
    "stock",
    "stock_volume",
    "tool",
    "helper",
    "application_1",
    "application_2",
    "application_3",
    "application_4",
    "application_5",
    "application_6",
    "application_7",
    "application_8",
    "application_9",
    "application_10",
    "application_11",
    "application_12",
    "rack_place",
];

/// The pack of a plate whose next step is known; None: nothing is left to do, or only the instructor can do it.
#[must_use]
pub fn pack(ask: &InClass, ground: &Ground, shelf: &Shelf) -> Option<(Pack, Form, Offers)> {
    let Ground { folder, look, last, procedure } = ground;
    let next = look.outlook.next_for(ask.is_instructor())?;
    let step = folder.procedure.find(&next.key)?;
    let today = ask.now().local_date(ask.membership.zone);
    let unit = unit_of(ask);
    let form = match last {
        Some(log) => set_to(fresh(Some(log), unit, &shelf.held, Some(today)), log, folder, shelf, ask.now()),
        None => usual(fresh(None, unit, &shelf.held, Some(today)), folder, shelf, unit, ask),
    };
    let form = form.with("rack_place", &folder.row.rack_place);
    let offers = offers(ask, folder, &shelf.held, last.as_ref(), &form);
    let values = FIELDS.iter().filter_map(|field| Some((*field, form.value(field)?.to_owned()))).collect();
    let pack = of_step(ask, folder, next, step, Carried { values, offers: &offers });
    let pack = Pack {
        beside: beside::lines(ask, &shelf.words, folder, step),
        may_fold: beside::may_fold(ask, folder, step),
        pictures: procedure
            .map(|of| beside::pictures(ask, &shelf.words, folder, of, step))
            .unwrap_or_default(),
        ..pack
    };
    Some((pack, form, offers))
}

struct Carried<'a> {
    values: std::collections::BTreeMap<&'static str, String>,
    offers: &'a Offers,
}

fn of_step(ask: &InClass, folder: &Folder, next: &StepOutlook, step: &Step, carried: Carried<'_>) -> Pack {
    let speech = &ask.house.speech;
    let plate_path = plates::path(ask, folder.row.id);
    let cautions = step.hazards.iter().map(|hazard| speech.remark(&hazard.caution()));
    let risky =
        |hazard: &Hazard| matches!(hazard, Hazard::Acid | Hazard::Nitric | Hazard::Solvent | Hazard::Press);
    let Carried { values, offers } = carried;
    let verdict = folder.verdict(next, ask.now());
    Pack {
        version: 1,
        made_ms: ask.now().millis(),
        kept_days: KEPT_DAYS,
        person: ask.person.id,
        class: ask.class(),
        plate: folder.row.id,
        path: format!("{plate_path}/table"),
        number: folder.row.number,
        print: folder.row.print.title.clone(),
        step: next.key.to_string(),
        title: next.title.to_string(),
        beside: Vec::new(),
        may_fold: false,
        pictures: Vec::new(),
        may_ask: ask.owner().is_some(),
        tablet: false,
        before: step.instructions.before.clone(),
        during: step.instructions.during.clone(),
        after: step.instructions.after.clone(),
        cautions: cautions.collect(),
        wants_company: step.hazards.iter().any(risky),
        wants_etch: step.records == Records::Etch,
        wants_sheets: step.records == Records::Sheets,
        photo_path: (step.records == Records::Proof).then(|| format!("{plate_path}/proofs/new")),
        zone: folder.zone.name().to_owned(),
        plate_path,
        may_start: verdict.may_start(),
        may_start_from_ms: from_when(&verdict),
        refusals: verdict.broken.iter().map(|one| speech.remark(&one.remark)).collect(),
        minutes: step.minutes.fixed,
        run: running(folder, &next.key),
        fields: values,
        labels: [("gum_volume", &offers.gum_say), ("stock_volume", &offers.stock_say)]
            .map(|(field, key)| (field, speech.plain(key)))
            .into(),
        gums: offers.gums.clone(),
        acids: offers.acids.clone(),
        stocks: offers.stocks.clone(),
        help: None,
    }
}

/// When the last of the rules that refuse it stops doing so; None where one does not by itself.
fn from_when(verdict: &Verdict) -> Option<i64> {
    let ends: Option<Vec<_>> = verdict.broken.iter().map(|one| one.until).collect();
    ends?.into_iter().max().map(|until| until.timestamp_millis())
}

fn running(folder: &Folder, key: &str) -> Option<Running> {
    let goes_on = |run: &&Run| run.step_key == key && run.ended_at.is_none();
    let run = folder.runs.iter().rev().find(goes_on)?;
    let planned = seconds_told(&run.planned_seconds);
    Some(Running { id: run.id, began_ms: run.began_at.millis(), planned, in_room: run.in_room.clone() })
}

/// What the clocks are set to: as the last etch's were, else as the class's table has it for the drawing. How long an
/// application took says neither: it may have been stopped. Another plate carries another drawing: its drops are the
/// table's, into as much gum as last time, unless the last mix is still in hand.
fn set_to(form: Form, last: &Log, folder: &Folder, shelf: &Shelf, now: Instant) -> Form {
    let Some(row) = row_for(folder, shelf) else { return form };
    let in_hand = now < last.entry.at.plus_ms(ONE_MIX_MS);
    let other = !in_hand && last.plate.id != folder.row.id && last.entry.poured.recipe.0 == Kind::AcidInGum;
    let gum = last.entry.poured.gum_microlitres.filter(|_| other);
    let form = match gum.and_then(|gum| Volume::from_microlitres("gum_volume", gum).ok()) {
        Some(gum) => mixed_by(form, row, &gum),
        None => form,
    };
    if other || last.planned().is_none() { with_applications(form, &by_table(row)) } else { form }
}

/// The mix of a row of the class's table: so many drops, or pure gum.
fn mixed_by(form: Form, row: &Row, gum: &Volume) -> Form {
    match table::drops(gum, row.drops_hundredths) {
        0 => form.with("recipe", Kind::PureGum.word()).with("drops", ""),
        drops => form.with("recipe", Kind::AcidInGum.word()).with("drops", drops.to_string()),
    }
}

fn by_table(row: &Row) -> Vec<i32> {
    let times = usize::try_from(row.applications.clamp(1, 3)).unwrap_or(1);
    vec![row.seconds; times]
}

/// The row of the class's table for the drawing on a plate.
fn row_for<'a>(folder: &Folder, shelf: &'a Shelf) -> Option<&'a Row> {
    let row = &folder.row;
    row_for_drawing(&shelf.rows, row.surface.0.word(), row.weight.0.word(), &row.materials)
        .map(|(row, _)| row)
}

/// Nothing to carry over: the first bottles that may be used, and the row of the class's table for the drawing.
fn usual(form: Form, folder: &Folder, shelf: &Shelf, unit: Unit, ask: &InClass) -> Form {
    let today = ask.now().local_date(ask.membership.zone);
    let acid = match folder.row.surface.0 {
        Surface::Stone => Substance::Nitric,
        Surface::Plate => Substance::Phosphoric,
    };
    let first = |substance: Substance| {
        let fits = |one: &&Container| one.substance.0 == substance && one.usable(today) == Usable::Yes;
        shelf.held.iter().find(fits).map(|one| one.id.to_string())
    };
    let volume = match unit {
        Unit::UsFluidOunce => Volume::told("gum_volume", &Exact::hundredths(100), unit).ok(),
        Unit::Millilitre => Volume::from_microlitres("gum_volume", USUAL_MICROLITRES).ok(),
    };
    let row = row_for(folder, shelf);
    let form = form
        .with_maybe("gum", first(Substance::Gum))
        .with_maybe("acid", first(acid))
        .with("gum_volume", if unit == Unit::UsFluidOunce { "1" } else { "30" });
    let form = match row.zip(volume.as_ref()) {
        Some((row, volume)) => mixed_by(form, row, volume),
        None => form,
    };
    with_applications(form, &row.map_or_else(|| vec![USUAL_APPLICATION], by_table))
}
