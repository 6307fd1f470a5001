//! `reckon etch`: how strong acid in gum is, exactly, and what its pH may be, by estimate.
//!
//! `{"gum": {"volume": 1, "unit": "us_fl_oz" or "ml", "ph": 4.3, "baume": 14, "sour": false}, "acid": {"kind":
//! "phosphoric" or "nitric", "weight_percent": 85, "drops": 4, "drops_per_ml": 20, "drops_per_ml_spread": 2},
//! "surface": "plate" or "stone"}`. `ph` and `baume` may be left out: what needs them is null then, and a caution
//! says why. Without `drops_per_ml` the dropper counts as not calibrated, 25 give or take 8; without its spread a
//! tenth is taken. `surface`, which only cautions look at, is a plate if left out.
//!
//! Volumes, mol/L and percent (mass of pure acid in the mass of the mixture) follow exactly from what is told.
//! `ph_in_water` is for comparison; `ph_estimate` with its `_low` and `_high` is an estimate.

use serde::{Deserialize, Serialize};

use super::{read, write};
use crate::speech::Speech;
use crate::trade::etch::cautions::{Place, cautions};
use crate::trade::etch::{Concentration, EtchPh, Gum, Recipe, Strength, strength};
use crate::trade::exact::Exact;
use crate::trade::measure::acid::{Acid, AcidKind};
use crate::trade::measure::dropper::{self, Dropper};
use crate::trade::measure::{Baume, Ph, Unit, Volume};
use crate::trade::procedure::Surface;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Input {
    gum: GumInput,
    acid: AcidInput,
    #[serde(default = "plate")]
    surface: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct GumInput {
    volume: Exact,
    unit: String,
    #[serde(default)]
    ph: Option<Exact>,
    #[serde(default)]
    baume: Option<Exact>,
    #[serde(default)]
    sour: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AcidInput {
    kind: String,
    weight_percent: Exact,
    drops: Exact,
    #[serde(default)]
    drops_per_ml: Option<Exact>,
    #[serde(default)]
    drops_per_ml_spread: Option<Exact>,
}

fn plate() -> String {
    "plate".to_owned()
}

#[derive(Serialize)]
struct Answer {
    acid_ml: Option<f64>,
    acid_ml_low: Option<f64>,
    acid_ml_high: Option<f64>,
    mixture_ml: Option<f64>,
    acid_mol_per_l: Option<f64>,
    acid_weight_percent: Option<f64>,
    ph_in_water: Option<f64>,
    ph_estimate: Option<f64>,
    ph_estimate_low: Option<f64>,
    ph_estimate_high: Option<f64>,
    cautions: Vec<String>,
}

/// Reads the input, reckons, and puts the cautions into sentences.
pub(super) fn answer(speech: &Speech, input: &str) -> Result<String, Remark> {
    let input: Input = read("etch", input)?;
    let place = Place { surface: surface(&input.surface)?, window: None };
    let kind = acid_kind("acid.kind", &input.acid.kind)?;
    let recipe = Recipe::AcidInGum {
        gum: gum(input.gum)?,
        drops: dropper::drops("acid.drops", &input.acid.drops)?,
        dropper: Dropper::told(input.acid.drops_per_ml, input.acid.drops_per_ml_spread)?,
        acid: Some(Acid::told("acid.weight_percent", kind, input.acid.weight_percent)?),
    };
    let strength = strength(&recipe, None);
    let cautions = cautions(&recipe, &strength, &place);
    let said = cautions.iter().map(|caution| speech.remark(&caution.remark())).collect();
    write("etch", &in_figures(&strength, said))
}

/// The acid named in an input.
pub(super) fn acid_kind(field: &str, word: &str) -> Result<AcidKind, Remark> {
    let unknown = || Remark::new("etch-kind-unknown").with("field", field).with("value", word);
    AcidKind::from_word(word).ok_or_else(unknown)
}

fn surface(word: &str) -> Result<Surface, Remark> {
    let unknown = || Remark::new("etch-surface-unknown").with("field", "surface").with("value", word);
    Surface::from_word(word).ok_or_else(unknown)
}

fn gum(input: GumInput) -> Result<Gum, Remark> {
    Gum::told(
        Volume::told("gum.volume", &input.volume, Unit::read("gum.unit", &input.unit)?)?,
        input.baume.map(|degrees| Baume::degrees("gum.baume", degrees)).transpose()?,
        input.ph.map(|ph| Ph::told("gum.ph", ph)).transpose()?,
        input.sour,
    )
}

fn in_figures(strength: &Strength, cautions: Vec<String>) -> Answer {
    let acid = strength.acid.as_ref();
    let volume = acid.map(|acid| &acid.volume);
    let concentration = acid.and_then(|acid| acid.concentration.as_ref());
    let ml = |volume: &Volume| volume.ml().to_f64();
    let estimate = match &strength.ph {
        EtchPh::Measured(_) | EtchPh::NotEstimated(_) => None,
        EtchPh::OfGum(ph) => Some([ph.value(); 3]),
        EtchPh::Estimated(estimate) => Some([estimate.middle, estimate.low, estimate.high].map(four_places)),
    };
    let [middle, low, high] = estimate.map_or([None; 3], |phs| phs.map(Some));
    Answer {
        acid_ml: volume.map(|volume| ml(&volume.at)),
        acid_ml_low: volume.map(|volume| ml(&volume.low)),
        acid_ml_high: volume.map(|volume| ml(&volume.high)),
        mixture_ml: strength.mixture.as_ref().map(ml),
        acid_mol_per_l: concentration.map(|c| c.mol_per_litre.to_f64()),
        acid_weight_percent: concentration.and_then(weight_percent),
        ph_in_water: concentration.map(|c| four_places(c.ph_in_water)),
        ph_estimate: middle,
        ph_estimate_low: low,
        ph_estimate_high: high,
        cautions,
    }
}

fn weight_percent(concentration: &Concentration) -> Option<f64> {
    concentration.weight_percent.as_ref().map(Exact::to_f64)
}

/// Reckoned pH is no better than that by far; the further digits of an f64 would only pretend.
fn four_places(ph: f64) -> f64 {
    (ph * 1e4).round() / 1e4
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::*;
    use crate::trade::etch::batch::{batch, dilute};
    use crate::trade::etch::cautions::{Caution, Known};
    use crate::trade::etch::{Estimate, Why};

    /// The usual first etch with some fields changed: `"gum.ph"` to a value, or to nothing when the value is
    /// the word "absent".
    fn said(changes: &[(&str, Value)]) -> Result<Value, String> {
        let mut input = json!({
            "gum": {"volume": 1, "unit": "us_fl_oz", "ph": 4.3, "baume": 14},
            "acid": {"kind": "phosphoric", "weight_percent": 85, "drops": 4, "drops_per_ml": 20,
                     "drops_per_ml_spread": 2}});
        for (path, value) in changes {
            let (part, field) = path.split_once('.').unwrap_or(("", path));
            let object = if part.is_empty() { &mut input } else { &mut input[part] };
            if value == "absent" {
                object.as_object_mut().unwrap().remove(field);
            } else {
                object[field] = value.clone();
            }
        }
        let speech = Speech::load().unwrap();
        answer(&speech, &input.to_string())
            .map(|text| serde_json::from_str(&text).unwrap())
            .map_err(|remark| speech.remark(&remark))
    }

    #[test]
    fn the_usual_first_etch_has_every_figure() {
        let answer = said(&[]).unwrap();
        let keys: Vec<&String> = answer.as_object().unwrap().keys().collect();
        let mut wanted = vec![
            "acid_ml",
            "acid_ml_low",
            "acid_ml_high",
            "mixture_ml",
            "acid_mol_per_l",
            "acid_weight_percent",
            "ph_in_water",
            "ph_estimate",
            "ph_estimate_low",
            "ph_estimate_high",
            "cautions",
        ];
        wanted.sort_unstable();
        assert_eq!(keys, wanted);
        assert_eq!(answer["acid_ml"], json!(0.2));
        assert_eq!(answer["mixture_ml"], json!(29.773_529_562_5));
        let cautions = answer["cautions"].as_array().unwrap();
        assert!(
            cautions.iter().any(|said| said.as_str().unwrap().contains("an estimate, not a measurement"))
        );
    }

    #[test]
    fn without_what_an_estimate_needs_there_is_none_and_the_reason_is_said() {
        for (change, value, reason) in [
            ("gum.ph", json!("absent"), "the pH of the gum is not told"),
            ("gum.ph", Value::Null, "the pH of the gum is not told"),
            ("gum.baume", json!("absent"), "degrees Baumé"),
            ("gum.sour", json!(true), "marked sour"),
            ("gum.ph", json!(8.5), "something else is in it"),
        ] {
            let answer = said(&[(change, value)]).unwrap();
            for field in ["ph_estimate", "ph_estimate_low", "ph_estimate_high"] {
                assert!(answer[field].is_null(), "{change}");
            }
            assert!(answer["ph_in_water"].is_f64());
            assert_eq!(answer["acid_weight_percent"].is_null(), change == "gum.baume");
            let cautions: Vec<String> = serde_json::from_value(answer["cautions"].clone()).unwrap();
            assert!(cautions.iter().any(|said| said.contains(reason)), "{change}: {cautions:?}");
        }
    }

    /// Every caution, and every way a pH is or is not known, in words and not as a bare key.
    #[test]
    fn every_remark_has_its_words() {
        let ph = |hundredths| Ph::hundredths("ph", hundredths).unwrap();
        let known = [Known::Measured(ph(140)), Known::Estimated(1.4)];
        let acid = Acid::basis_points("acid", AcidKind::Nitric, 6800).unwrap();
        let whys = [
            Why::GumSour,
            Why::GumPhUntold,
            Why::GumBaumeUntold,
            Why::GumNotPlain,
            Why::AcidUntold,
            Why::StockEtch,
            Why::StockCut,
        ];
        let mut cautions = vec![
            Caution::Protect,
            Caution::AcidIntoGum,
            Caution::BottleBurns(acid.clone()),
            Caution::BottleIrritates(acid.clone()),
            Caution::NitricFumes,
            Caution::NitricOnAluminium,
            Caution::EyewashForBottle(acid),
            Caution::EyewashForBottle(Acid::basis_points("acid", AcidKind::Phosphoric, 8500).unwrap()),
            Caution::EyewashForMixture(Exact::one()),
            Caution::DropperNotCalibrated,
            Caution::GumPhUnusual(ph(350)),
            Caution::EstimateOnly,
            Caution::MayDestroyDrawing,
        ];
        cautions.extend(whys.map(Caution::NoPh));
        for ph_known in known {
            cautions.push(Caution::MixtureCorrosive(ph_known.clone()));
            cautions.push(Caution::DestroysDrawing(ph_known.clone()));
            cautions.push(Caution::OutsideWindow { ph: ph_known, low: ph(200), high: ph(450) });
        }
        let estimate = Estimate { middle: 3.0, low: 2.9, high: 3.1 };
        let ways = [EtchPh::Measured(ph(245)), EtchPh::OfGum(ph(430)), EtchPh::Estimated(estimate)];
        let speech = Speech::load().unwrap();
        let remarks = cautions.iter().map(Caution::remark).chain(ways.iter().map(EtchPh::remark));
        let said: Vec<String> = remarks.map(|remark| speech.remark(&remark)).collect();
        assert!(said.iter().all(|words| words.contains(' ')), "{said:#?}");
        assert!(said.iter().any(|words| words == "pH about 3.0 (2.9 to 3.1), an estimate"), "{said:#?}");
        let mut different = said.clone();
        different.sort_unstable();
        different.dedup();
        assert_eq!(different.len(), said.len());
    }

    #[test]
    fn amounts_that_a_batch_cannot_have_are_named() {
        let speech = Speech::load().unwrap();
        let volume = Volume::from_microlitres("gum", 30_000).unwrap();
        let acid = |points| Acid::basis_points("acid", AcidKind::Phosphoric, points).unwrap();
        let plates =
            |plates, margin| batch(&volume, 4, &Dropper::uncalibrated(), plates, margin).unwrap_err();
        let nitric = Acid::basis_points("acid", AcidKind::Nitric, 1000).unwrap();
        let mixed = |stock: &Acid, wanted: &Acid| dilute(stock, wanted, &volume).unwrap_err();
        let gravity = Baume::of_specific_gravity("gravity", &Exact::zero()).unwrap_err();
        let fuming = Acid::basis_points("acid", AcidKind::Nitric, 9000).unwrap_err();
        for (remark, words) in [
            (plates(0, 0), "0 plates are asked for: give 1 to 200."),
            (plates(1, -5), "A margin of -0.05 percent is asked for: give 0 to 100."),
            (mixed(&acid(8500), &nitric), "One acid cannot be diluted into another: choose the same kind."),
            (
                mixed(&acid(0), &acid(10)),
                "The bottle is told to hold 0 percent acid: there is nothing to dilute.",
            ),
            (
                mixed(&acid(1000), &acid(8500)),
                "10 percent acid cannot be diluted to 85 percent: ask for less than the bottle holds and more than 0.",
            ),
            (gravity, "“gravity” is a specific gravity of 0: give one from 1 to 2.23."),
            (
                fuming,
                "“acid” is 90 percent, but the densities of nitric acid known here end at 70: look at the bottle \
                 again; fuming acid has no place in a studio.",
            ),
        ] {
            assert_eq!(speech.remark(&remark), words);
        }
    }

    #[test]
    fn bad_gum_is_named_with_its_remedy() {
        for (change, value, sentence) in [
            (
                "gum.volume",
                json!(-1),
                "“gum.volume” is -1 us_fl_oz: give a volume above 0 and of 100 litres at most.",
            ),
            (
                "gum.volume",
                json!(0),
                "“gum.volume” is 0 us_fl_oz: give a volume above 0 and of 100 litres at most.",
            ),
            (
                "gum.unit",
                json!("imp_fl_oz"),
                "“gum.unit” is “imp_fl_oz”, an imperial fluid ounce (28.41 mL): write \
                us_fl_oz for the US one (29.57 mL), or give the amount in ml.",
            ),
            (
                "gum.unit",
                json!("cup"),
                "“gum.unit” is “cup”, which is no unit known here: write us_fl_oz or ml.",
            ),
            ("gum.ph", json!(15), "“gum.ph” is pH 15: give 0 to 14."),
            ("gum.baume", json!(-2), "“gum.baume” is -2 degrees Baumé: give 0 to 80."),
            (
                "gum.baume",
                json!(40),
                "“baume” is 40 degrees Baumé, but gum arabic hardly dissolves beyond 31: look at \
                the hydrometer again.",
            ),
        ] {
            assert_eq!(said(&[(change, value)]).unwrap_err(), sentence);
        }
    }

    #[test]
    fn bad_acid_is_named_with_its_remedy() {
        for (change, value, sentence) in [
            ("acid.kind", json!("acetic"), "“acid.kind” is “acetic”: write phosphoric or nitric."),
            (
                "acid.weight_percent",
                json!(101),
                "“acid.weight_percent” is 101 percent by weight: give 0 to 90, as on \
                the bottle.",
            ),
            ("acid.drops", json!(2.5), "“acid.drops” is 2.5: give a whole number of drops from 0 to 10000."),
            (
                "acid.drops_per_ml",
                json!(0),
                "“drops_per_ml” is 0: give more than 0 and at most 1000 drops per mL, or \
                nothing for a dropper that is not calibrated.",
            ),
            (
                "acid.drops_per_ml_spread",
                json!(20),
                "“drops_per_ml_spread” is 20: a spread is 0 or more and less than \
                the 20 drops per mL it belongs to.",
            ),
            (
                "acid.drops_per_ml",
                Value::Null,
                "“drops_per_ml_spread” is 2, but “drops_per_ml” is not told: give \
                both, or neither for a dropper that is not calibrated.",
            ),
            ("surface", json!("slate"), "“surface” is “slate”: write plate or stone."),
        ] {
            assert_eq!(said(&[(change, value)]).unwrap_err(), sentence);
        }
        for (change, value) in [
            ("gum.volume", json!("1")),
            ("acid.drops", Value::Null),
            ("gum", json!("absent")),
            ("mood", json!(1)),
        ] {
            assert!(said(&[(change, value)]).unwrap_err().contains("is not the JSON"), "{change}");
        }
    }
}
