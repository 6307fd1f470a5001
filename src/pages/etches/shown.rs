//! A log in words and figures: what was mixed, how strong it was by exact arithmetic, its pH and how that is known.

use serde::Serialize;

use crate::clock::Instant;
use crate::ids::{CameUpId, EtchId, PlateId};
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::etches::form::volume_text;
use crate::pages::forms::decimal_text;
use crate::speech::Speech;
use crate::store::etches::logs::{Doubt, Log, Part};
use crate::store::etches::recording::uses;
use crate::trade::etch::Strength;
use crate::trade::etch::logged::Kind;
use crate::trade::exact::{Exact, Rounding};
use crate::trade::measure::{Unit, Volume};
use crate::trade::procedure::RuleName;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;

/// How an etch came up.
#[derive(Debug, Serialize)]
pub struct Seen {
    pub id: CameUpId,
    pub how: String,
    pub note: String,
    pub by: String,
    pub at: String,
}

/// A log as pages show it. Volumes are in the unit of who reads.
#[derive(Debug, Serialize)]
pub struct Shown {
    pub etch: EtchId,
    pub path: String,
    pub plate: PlateId,
    pub plate_path: String,
    pub number: i32,
    pub print_title: String,
    pub who: String,
    pub step: String,
    pub at: String,
    pub known: String,
    pub by: String,
    pub written: String,
    pub recipe: String,
    /// One line for each part of the mixture.
    pub parts: Vec<MixedPart>,
    pub drops_per_ounce: Option<String>,
    pub strength: Option<StrengthShown>,
    /// Why the strength cannot be reckoned.
    pub no_strength: Option<String>,
    pub ph: Option<String>,
    pub ph_estimated: bool,
    pub applications: String,
    pub tool: String,
    pub helper: String,
    pub seen: String,
    pub came_up: Option<Seen>,
    pub doubts: Vec<String>,
    pub outside: Vec<String>,
    pub waits: bool,
    /// A second phone told of it otherwise; what it told stands on the plate's page.
    pub told_twice: bool,
    /// Something about it is marked.
    pub flagged: bool,
    pub corrected: bool,
    pub reason: String,
}

/// Gum, acid or stock etch in a mixture.
#[derive(Debug, Serialize)]
pub struct MixedPart {
    pub name: String,
    pub amount: String,
    pub figures: String,
}

/// What follows from the recipe by arithmetic.
#[derive(Debug, Serialize)]
pub struct StrengthShown {
    pub acid_volume: Option<String>,
    pub mixture: Option<String>,
    pub mol_per_litre: Option<String>,
    pub weight_percent: Option<String>,
    pub stock_share: Option<String>,
}

/// Shows a log; `step` is the title of its step.
#[must_use]
pub fn shown(ask: &InClass, log: &Log, step: &str) -> Shown {
    let (speech, zone) = (&ask.house.speech, ask.membership.zone);
    let near = |at: Instant| dates::near(at, ask.now(), zone);
    let entry = &log.entry;
    let reckoned = entry.poured.mix().strength();
    let rules = log.run.outside_rules.split(',').filter_map(RuleName::from_word);
    Shown {
        etch: entry.id,
        path: crate::pages::etches::path(ask, log.plate.id, entry.id),
        plate: log.plate.id,
        plate_path: crate::pages::plates::path(ask, log.plate.id),
        number: log.plate.number,
        print_title: log.plate.print_title.clone(),
        who: format!("{} {}", log.plate.given_name, log.plate.family_name),
        step: step.to_owned(),
        at: near(entry.at),
        known: speech.plain(&format!("plates-known-{}", entry.known_how.0.word())),
        by: log.by_name.clone(),
        written: near(entry.received_at),
        recipe: speech.plain(&format!("etches-recipe-{}", entry.poured.recipe.0.word())),
        parts: parts(speech, log, unit_of(ask)),
        drops_per_ounce: drops_per_ounce(log),
        ph: reckoned.as_ref().ok().map(|strength| speech.remark(&strength.ph.remark())),
        ph_estimated: reckoned
            .as_ref()
            .is_ok_and(|strength| matches!(strength.ph, crate::trade::etch::EtchPh::Estimated(_))),
        no_strength: reckoned.as_ref().err().map(|remark| speech.remark(remark)),
        strength: reckoned.ok().map(|strength| strength_shown(speech, &strength)),
        applications: applications(&log.applications),
        tool: entry.tool.clone(),
        helper: entry.helper.clone(),
        seen: entry.seen.clone(),
        came_up: log.came_up.as_ref().map(|seen| Seen {
            id: seen.id,
            how: speech.plain(&format!("etches-how-{}", seen.how.0.word())),
            note: seen.note.clone(),
            by: format!("{} {}", seen.by_given, seen.by_family),
            at: near(seen.at),
        }),
        doubts: doubts(speech, log),
        outside: rules
            .map(|rule| speech.plain(&format!("plates-rule-{}", rule.word().replace('_', "-"))))
            .collect(),
        flagged: !log.run.outside_rules.is_empty() || entry.doubts().next().is_some() || log.run.told_twice,
        waits: !log.run.outside_rules.is_empty() && log.run.settled_at.is_none(),
        told_twice: log.run.told_twice,
        corrected: entry.id != entry.root,
        reason: entry.reason.clone(),
    }
}

/// The unit in which the person asking reads volumes.
#[must_use]
pub fn unit_of(ask: &InClass) -> Unit {
    Unit::from_word(&ask.person.volume_unit).unwrap_or(Unit::Millilitre)
}

/// “2:00 + 1:30”.
#[must_use]
pub fn applications(seconds: &[i32]) -> String {
    let each: Vec<String> =
        seconds.iter().map(|seconds| format!("{}:{:02}", seconds / 60, seconds % 60)).collect();
    each.join(" + ")
}

/// A volume in a unit, with its name.
#[must_use]
pub fn volume_words(speech: &Speech, microlitres: i64, unit: Unit) -> String {
    let key = match unit {
        Unit::UsFluidOunce => "etches-ounces",
        Unit::Millilitre => "etches-millilitres",
    };
    speech.remark(&Remark::new(key).with("value", volume_text(microlitres, unit)))
}

fn parts(speech: &Speech, log: &Log, unit: Unit) -> Vec<MixedPart> {
    let poured = &log.entry.poured;
    let volume = |amount: Option<i64>| match amount {
        Some(amount) => volume_words(speech, amount, unit),
        None => speech.plain("etches-amount-untold"),
    };
    [Part::Gum, Part::Acid, Part::Stock]
        .into_iter()
        .filter(|part| uses(poured.recipe.0, *part))
        .map(|part| {
            let amount = match part {
                Part::Gum => volume(poured.gum_microlitres),
                Part::Acid => {
                    let drops = i64::from(poured.drops.unwrap_or(0));
                    speech.remark(&Remark::new("etches-drops").with("drops", drops))
                }
                Part::Stock => volume(poured.stock_microlitres),
            };
            let amount = match log.mark(part) {
                Some(mark) => {
                    speech.remark(&Remark::new("etches-amount-of").with("amount", amount).with("mark", mark))
                }
                None => amount,
            };
            MixedPart {
                name: speech.plain(&format!("etches-part-{}", part.word())),
                amount,
                figures: figures(speech, log, part),
            }
        })
        .collect()
}

/// What the container was said to hold at the time.
fn figures(speech: &Speech, log: &Log, part: Part) -> String {
    let poured = &log.entry.poured;
    let say = |key, value: i32, places| {
        speech.remark(&Remark::new(key).with("value", decimal_text(value.into(), places)))
    };
    let mut words = Vec::new();
    match part {
        Part::Gum => {
            words.extend(poured.gum_baume_tenths.map(|value| say("etches-figure-baume", value, 1)));
            words.extend(poured.gum_ph_hundredths.map(|value| say("etches-figure-ph", value, 2)));
            words.extend(poured.gum_sour.then(|| speech.plain("etches-figure-sour")));
        }
        Part::Acid => {
            let kind = poured.acid_kind.map(|kind| speech.plain(&format!("etches-acid-{}", kind.0.word())));
            words.extend(kind);
            words.extend(poured.acid_weight_bp.map(|value| say("etches-figure-weight", value, 2)));
            words.push(match (poured.drops_per_ml_hundredths, poured.drops_spread_hundredths) {
                (None, _) => speech.plain("etches-not-calibrated"),
                (Some(drops), None) => say("etches-figure-drops", drops, 2),
                (Some(drops), Some(spread)) => speech.remark(
                    &Remark::new("etches-figure-drops-spread")
                        .with("value", decimal_text(drops.into(), 2))
                        .with("spread", decimal_text(spread.into(), 2)),
                ),
            });
        }
        Part::Stock => {}
    }
    words.join(", ")
}

/// Drops of acid to a US fluid ounce of gum: what logs of one batch are compared by.
fn drops_per_ounce(log: &Log) -> Option<String> {
    let poured = &log.entry.poured;
    if poured.recipe.0 != Kind::AcidInGum {
        return None;
    }
    let gum = Volume::from_microlitres("gum", poured.gum_microlitres?).ok()?;
    let ounces = gum.amount(Unit::UsFluidOunce);
    let drops = Exact::whole(poured.drops?.into()).over(&ounces)?;
    Some(drops.rounded(Rounding::half_up(2)).to_string())
}

fn strength_shown(speech: &Speech, strength: &Strength) -> StrengthShown {
    let text = |number: &Exact, places| number.text(Rounding::half_up(places));
    let concentration = strength.acid.as_ref().and_then(|acid| acid.concentration.as_ref());
    let span = |acid: &crate::trade::etch::AcidIn| {
        let (at, low, high) = (&acid.volume.at, &acid.volume.low, &acid.volume.high);
        speech.remark(
            &Remark::new("etches-acid-volume")
                .with("at", text(&at.ml(), 3))
                .with("low", text(&low.ml(), 3))
                .with("high", text(&high.ml(), 3)),
        )
    };
    let say = |key, value: String| speech.remark(&Remark::new(key).with("value", value));
    StrengthShown {
        acid_volume: strength.acid.as_ref().map(span),
        mixture: strength.mixture.as_ref().map(|volume| say("etches-millilitres", text(&volume.ml(), 2))),
        mol_per_litre: concentration.map(|acid| say("etches-molar", text(&acid.mol_per_litre, 4))),
        weight_percent: concentration
            .and_then(|acid| acid.weight_percent.as_ref())
            .map(|percent| say("etches-percent", text(percent, 2))),
        stock_share: strength
            .stock_share
            .as_ref()
            .map(|share| say("etches-percent", text(&(share * &Exact::whole(100)), 1))),
    }
}

fn doubts(speech: &Speech, log: &Log) -> Vec<String> {
    log.entry
        .doubts()
        .map(|(part, doubt)| {
            let name = speech.plain(&format!("etches-part-{}", part.word()));
            let mark = log.mark(part).unwrap_or_default();
            let key = match doubt {
                Doubt::DoNotUse => "etches-doubt-do-not-use",
                Doubt::PastDiscard => "etches-doubt-past-discard",
                Doubt::Finished => "etches-doubt-finished",
                Doubt::NotNamed => "etches-doubt-not-named",
            };
            speech.remark(&Remark::new(key).with("part", name).with("mark", mark))
        })
        .collect()
}
