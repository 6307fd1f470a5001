//! The form of an etch log: what it offers and carries over, and how it is read.

use chrono::NaiveDate;
use serde::Serialize;

use crate::clock::{DAY_MS, Instant};
use crate::ids::ContainerId;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet, decimal_text, exact_decimal};
use crate::speech::Speech;
use crate::store::etches::logs::{Log, Part};
use crate::store::etches::recording::{Draft, LONGEST_SECONDS, MOST_APPLICATIONS, holds, uses};
use crate::store::plates::folder::Folder;
use crate::store::plates::put_downs::PutDownDraft;
use crate::store::studio::containers::{Container, Usable};
use crate::trade::etch::cautions::{Caution, Place, cautions};
use crate::trade::etch::logged::Kind;
use crate::trade::exact::{Exact, Rounding};
use crate::trade::measure::{Unit, Volume};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;

pub const FORM: &str = "etches-log";
/// Chosen where something came out of no labelled container.
const NONE: &str = "none";
/// A finished container is offered for so long: logs are told later from cards.
const FINISHED_OFFERED_MS: i64 = 60 * DAY_MS;
/// Rows for applications that are always shown.
const ROWS: usize = 3;

/// What every form of a log shows.
#[derive(Serialize)]
pub struct Offers {
    pub plate_path: String,
    print_title: String,
    number: i32,
    who: String,
    recipes: Vec<Choice>,
    pub gums: Vec<Choice>,
    pub acids: Vec<Choice>,
    pub stocks: Vec<Choice>,
    pub gum_say: String,
    pub stock_say: String,
    rows: Vec<String>,
    more_rows: Vec<String>,
    more_open: bool,
    stock_open: bool,
    cautions: Vec<String>,
}

/// The names of the fields for applications.
fn rows() -> impl Iterator<Item = String> {
    (1..=MOST_APPLICATIONS).map(|row| format!("application_{row}"))
}

/// What the form offers; `stands` is what is carried over or corrected.
#[must_use]
pub fn offers(
    ask: &InClass,
    folder: &Folder,
    held: &[Container],
    stands: Option<&Log>,
    form: &Form,
) -> Offers {
    let speech = &ask.house.speech;
    let today = ask.now().local_date(ask.membership.zone);
    let offer = |part: Part| {
        let chosen = stands.and_then(|log| log.entry.poured.named(part));
        offered(speech, held, part, chosen, today, ask.now())
    };
    let unit = form.value("unit").unwrap_or("ml");
    let recipe = form.value("recipe").and_then(Kind::from_word);
    Offers {
        plate_path: crate::pages::plates::path(ask, folder.row.id),
        print_title: folder.row.print.title.clone(),
        number: folder.row.number,
        who: format!("{} {}", folder.row.person.given_name, folder.row.person.family_name),
        recipes: Choice::of_words::<Kind>("etches-recipe", speech),
        gums: offer(Part::Gum),
        acids: offer(Part::Acid),
        stocks: offer(Part::Stock),
        gum_say: say_in("gum_volume", unit),
        stock_say: say_in("stock_volume", unit),
        rows: rows().take(ROWS).collect(),
        more_rows: rows().skip(ROWS).collect(),
        more_open: rows()
            .skip(ROWS)
            .any(|row| form.complains(&row) || form.value(&row).is_some_and(|typed| !typed.is_empty())),
        stock_open: recipe.is_some_and(|recipe| uses(recipe, Part::Stock)),
        cautions: care(ask, folder, stands),
    }
}

impl Offers {
    /// What a form shows that knows nothing of any plate yet: a phone without signal fills it.
    #[must_use]
    pub fn blank(speech: &Speech) -> Self {
        Self {
            plate_path: String::new(),
            print_title: String::new(),
            number: 0,
            who: String::new(),
            recipes: Choice::of_words::<Kind>("etches-recipe", speech),
            gums: Vec::new(),
            acids: Vec::new(),
            stocks: Vec::new(),
            gum_say: say_in("gum_volume", Unit::Millilitre.word()),
            stock_say: say_in("stock_volume", Unit::Millilitre.word()),
            rows: rows().take(ROWS).collect(),
            more_rows: rows().skip(ROWS).collect(),
            more_open: false,
            stock_open: false,
            cautions: Vec::new(),
        }
    }
}

fn say_in(field: &str, unit: &str) -> String {
    let unit = if unit == Unit::UsFluidOunce.word() { "ounces" } else { "ml" };
    format!("etches-log-{field}-{unit}")
}

/// The cautions of the mixture carried over, or the plain ones for acid.
fn care(ask: &InClass, folder: &Folder, stands: Option<&Log>) -> Vec<String> {
    let place = Place { surface: folder.row.surface.0, window: None };
    let of_mixture = stands.and_then(|log| {
        let mix = log.entry.poured.mix();
        let recipe = mix.recipe().ok()?;
        Some(cautions(&recipe, &mix.strength().ok()?, &place))
    });
    let plain = || vec![Caution::Protect, Caution::AcidIntoGum];
    let found = of_mixture.filter(|found| !found.is_empty()).unwrap_or_else(plain);
    found.iter().map(|caution| ask.house.speech.remark(&caution.remark())).collect()
}

fn offered(
    speech: &Speech,
    held: &[Container],
    part: Part,
    chosen: Option<ContainerId>,
    today: NaiveDate,
    now: Instant,
) -> Vec<Choice> {
    let mut fitting: Vec<&Container> = held
        .iter()
        .filter(|one| holds(one.substance.0, part))
        .filter(|one| {
            let recent = |at: Instant| now.millis() - at.millis() <= FINISHED_OFFERED_MS;
            one.finished_at.is_none_or(recent) || Some(one.id) == chosen
        })
        .collect();
    fitting.sort_by_key(|one| (one.usable(today), one.number));
    let mut choices: Vec<Choice> = fitting
        .into_iter()
        .map(|one| Choice::new(one.id.to_string(), container_words(speech, one, today)))
        .collect();
    choices.push(Choice::new(NONE, speech.plain("etches-not-named")));
    choices
}

/// “G3, Gum arabic, 14 °Bé, pH 4.3: do not use”.
fn container_words(speech: &Speech, held: &Container, today: NaiveDate) -> String {
    let mut words = vec![held.mark(), held.told.label.clone()];
    for (key, value, places) in [
        ("etches-figure-baume", held.told.baume_tenths, 1),
        ("etches-figure-ph", held.told.ph_hundredths, 2),
        ("etches-figure-weight", held.told.weight_bp, 2),
    ] {
        if let Some(value) = value {
            words.push(speech.remark(&Remark::new(key).with("value", decimal_text(value.into(), places))));
        }
    }
    if held.told.sour {
        words.push(speech.plain("etches-figure-sour"));
    }
    let usable = held.usable(today);
    if usable != Usable::Yes {
        words.push(speech.plain(&format!("etches-usable-{}", usable.word())));
    }
    words.join(", ")
}

/// A new form with what a log says; a container that may not be used is not carried over.
#[must_use]
pub fn fresh(log: Option<&Log>, unit: Unit, held: &[Container], today: Option<NaiveDate>) -> Form {
    let form = Form::new(FORM).with("unit", unit.word());
    let Some(log) = log else { return form.with("recipe", Kind::AcidInGum.word()) };
    let poured = &log.entry.poured;
    let usable = |id: &ContainerId| {
        let found = held.iter().find(|one| one.id == *id);
        today.is_none_or(|today| found.is_some_and(|one| one.usable(today) == Usable::Yes))
    };
    let mut form = form.with("recipe", poured.recipe.0.word());
    for (part, field) in [(Part::Gum, "gum"), (Part::Acid, "acid"), (Part::Stock, "stock")] {
        form = match poured.named(part).filter(usable) {
            Some(id) => match log.mark(part) {
                Some(mark) => form.with_choice(field, id.to_string(), mark),
                None => form.with(field, id.to_string()),
            },
            None if today.is_none() && uses(poured.recipe.0, part) => form.with(field, NONE),
            None => form.with(field, ""),
        };
    }
    form = form
        .with(
            "gum_volume",
            poured.gum_microlitres.map(|amount| volume_text(amount, unit)).unwrap_or_default(),
        )
        .with(
            "stock_volume",
            poured.stock_microlitres.map(|amount| volume_text(amount, unit)).unwrap_or_default(),
        )
        .with("drops", poured.drops.map(|drops| drops.to_string()).unwrap_or_default())
        .with("tool", &log.entry.tool)
        .with("helper", &log.entry.helper);
    // Carried over is what was meant to be: an etch that was stopped early is no measure for the next plate.
    let meant = today.and_then(|_| log.planned());
    with_applications(form, meant.as_deref().unwrap_or(&log.applications))
}

/// A form with the seconds of each application, and no others.
#[must_use]
pub fn with_applications(form: Form, seconds: &[i32]) -> Form {
    let told = |row: usize| seconds.get(row).map(|seconds| minutes_text(*seconds)).unwrap_or_default();
    rows().enumerate().fold(form, |form, (row, field)| form.with(&field, told(row)))
}

/// What the log was measured and seen with: its own, so it is corrected but never carried over.
#[must_use]
pub fn with_what_was_seen(form: Form, log: &Log) -> Form {
    let ph = log.entry.poured.measured_ph_hundredths.map(|ph| decimal_text(ph.into(), 2));
    form.with("measured_ph", ph.unwrap_or_default())
        .with("seen", &log.entry.seen)
        .with("version", log.entry.id.to_string())
}

/// A kept volume in a unit, with three decimals at the most.
#[must_use]
pub fn volume_text(microlitres: i64, unit: Unit) -> String {
    Volume::from_microlitres("volume", microlitres)
        .map(|volume| volume.amount(unit).rounded(Rounding::half_up(3)).to_string())
        .unwrap_or_default()
}

/// Seconds as minutes: “2”, “1:30”.
#[must_use]
pub fn minutes_text(seconds: i32) -> String {
    match (seconds / 60, seconds % 60) {
        (minutes, 0) => minutes.to_string(),
        (minutes, rest) => format!("{minutes}:{rest:02}"),
    }
}

/// Reads minutes as “2”, “1.5”, “1,5” or “2:30”, in seconds.
#[must_use]
pub fn seconds_of(typed: &str) -> Option<i32> {
    let seconds = match typed.split_once(':') {
        Some((minutes, rest)) if rest.len() == 2 && rest.bytes().all(|byte| byte.is_ascii_digit()) => {
            let (minutes, rest) = (exact_decimal(minutes, 0)?, exact_decimal(rest, 0)?);
            if minutes < 0 || !(0..60).contains(&rest) {
                return None;
            }
            minutes.checked_mul(60)?.checked_add(rest)?
        }
        Some(_) => return None,
        None => exact_decimal(typed, 2)?.checked_mul(60)?.checked_add(50)?.div_euclid(100),
    };
    i32::try_from(seconds).ok()
}

/// Reads the mixture and its applications; what the recipe has no use for is not looked at.
pub fn read(sheet: &mut Sheet<'_>, filled: &Filled) -> Draft {
    let recipe = sheet.choice("recipe", Kind::AcidInGum);
    let unit = sheet.choice("unit", Unit::Millilitre);
    let used = |part| uses(recipe, part);
    let gum = if used(Part::Gum) { container(sheet, filled, "gum") } else { None };
    let gum_microlitres = if used(Part::Gum) { volume(sheet, "gum_volume", unit, true) } else { None };
    let acid = if used(Part::Acid) { container(sheet, filled, "acid") } else { None };
    let drops = if used(Part::Acid) { i32::try_from(sheet.whole("drops", 1..=1000)).ok() } else { None };
    let stock = if used(Part::Stock) { container(sheet, filled, "stock") } else { None };
    let stock_microlitres =
        if used(Part::Stock) { volume(sheet, "stock_volume", unit, recipe == Kind::StockCut) } else { None };
    Draft {
        recipe,
        gum,
        gum_microlitres,
        unit,
        acid,
        drops,
        stock,
        stock_microlitres,
        measured_ph_hundredths: sheet
            .maybe_decimal("measured_ph", 2, 0..=1400)
            .and_then(|ph| i32::try_from(ph).ok()),
        applications: applications(sheet, filled),
        tool: sheet.maybe_text("tool", 80).unwrap_or_default(),
        helper: sheet.maybe_text("helper", 80).unwrap_or_default(),
        seen: sheet.words("seen", 1000),
    }
}

fn container(sheet: &mut Sheet<'_>, filled: &Filled, field: &str) -> Option<ContainerId> {
    if filled.get(field) == Some(NONE) { None } else { Some(sheet.id(field)) }
}

/// A volume in thousandths of its unit: up to 400 fl oz or 12 litres.
fn volume(sheet: &mut Sheet<'_>, field: &str, unit: Unit, must: bool) -> Option<i64> {
    let range = match unit {
        Unit::UsFluidOunce => 1..=400_000,
        Unit::Millilitre => 10..=12_000_000,
    };
    let typed =
        if must { Some(sheet.decimal(field, 3, range)) } else { sheet.maybe_decimal(field, 3, range) };
    let amount = Exact::with_places(typed?, 3);
    Volume::told(field, &amount, unit).ok().map(|volume| volume.to_microlitres())
}

fn applications(sheet: &mut Sheet<'_>, filled: &Filled) -> Vec<i32> {
    let mut found = Vec::new();
    for field in rows() {
        let Some(typed) = sheet.maybe_text(&field, 20) else { continue };
        match seconds_of(&typed) {
            Some(seconds) if (1..=LONGEST_SECONDS).contains(&seconds) => found.push(seconds),
            Some(_) => sheet.complain(&field, Remark::new("etches-minutes-outside")),
            None => sheet.complain(&field, Remark::new("etches-no-minutes").with("value", typed)),
        }
    }
    let known: Vec<String> = rows().collect();
    let too_many = filled.pairs.iter().any(|(field, typed)| {
        field.starts_with("application_") && !known.contains(field) && !typed.trim().is_empty()
    });
    let most = i64::try_from(MOST_APPLICATIONS).unwrap_or(i64::MAX);
    if too_many {
        sheet.complain("application_1", Remark::new("etches-applications-count").with("most", most));
    } else if known.iter().all(|field| filled.get(field).unwrap_or_default().trim().is_empty()) {
        sheet.complain("application_1", Remark::new("form-empty"));
    }
    found
}

/// Reads how the plate was put down: every sitting ends with gum and a rack place, unless it goes on.
pub fn read_down(sheet: &mut Sheet<'_>) -> Option<PutDownDraft> {
    let (gummed, buffed, talc) = (sheet.tick("gummed"), sheet.tick("buffed"), sheet.tick("talc"));
    if sheet.tick("goes_on") {
        return None;
    }
    if buffed && !gummed {
        sheet.complain("gummed", Remark::new("plates-buffed-without-gum"));
    }
    let rack_place = match sheet.maybe_text("rack_place", 40) {
        Some(place) => place,
        None => {
            sheet.complain("rack_place", Remark::new("etches-rack-place-missing"));
            String::new()
        }
    };
    Some(PutDownDraft { gummed, buffed, talc, rack_place })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn minutes_are_read_as_people_type_them() {
        for (typed, seconds) in
            [("2", 120), ("1.5", 90), ("1,5", 90), ("2:30", 150), ("0:45", 45), (".5", 30), ("0.33", 20)]
        {
            assert_eq!(seconds_of(typed), Some(seconds), "{typed}");
        }
        for typed in ["", "two", "2:3", "2:60", "-1:30", "1:2:3", "2 min", "2:+5", "99999999999"] {
            assert_eq!(seconds_of(typed), None, "{typed}");
        }
        assert_eq!((minutes_text(120), minutes_text(95)), ("2".to_owned(), "1:35".to_owned()));
    }

    #[test]
    fn an_ounce_kept_in_microlitres_reads_as_an_ounce() {
        assert_eq!(volume_text(29_574, Unit::UsFluidOunce), "1");
        assert_eq!(volume_text(44_360, Unit::UsFluidOunce), "1.5");
        assert_eq!(volume_text(30_000, Unit::Millilitre), "30");
    }
}
