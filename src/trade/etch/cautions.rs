//! Cautions that belong to a mixture, as codes; the safety data sheet, local rules and the school's safety
//! office come before all of them.

use crate::trade::etch::{EtchPh, Gum, Recipe, Strength, Why};
use crate::trade::exact::{Exact, Rounding};
use crate::trade::measure::Ph;
use crate::trade::measure::acid::{Acid, AcidKind};
use crate::trade::procedure::Surface;
use crate::trade::remark::Remark;

/// Where the etch goes and what the class has settled about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// A plate is of aluminium.
    pub surface: Surface,
    /// Lowest and highest pH the class works with, if it has said so.
    pub window: Option<(Ph, Ph)>,
}

/// A pH in a caution, and how it is known.
#[derive(Debug, Clone, PartialEq)]
pub enum Known {
    Measured(Ph),
    /// The middle of an estimate.
    Estimated(f64),
}

/// Something to be told before the mixture is made or used.
#[derive(Debug, Clone, PartialEq)]
pub enum Caution {
    /// Gloves, goggles, apron; who decides.
    Protect,
    /// Acid goes into gum, never the other way round, and away from the plate.
    AcidIntoGum,
    /// The bottle's acid burns skin and eyes.
    BottleBurns(Acid),
    /// The bottle's acid irritates skin and eyes.
    BottleIrritates(Acid),
    /// Nitric acid fumes and feeds fire.
    NitricFumes,
    /// Common practice has phosphoric acid on aluminium.
    NitricOnAluminium,
    /// The bottle asks for an eyewash and a drench within reach.
    EyewashForBottle(Acid),
    /// So does the mixture itself, with so many weight percent of phosphoric acid.
    EyewashForMixture(Exact),
    /// At pH 2 or below a mixture counts as corrosive until tests show otherwise; of an estimate the low end
    /// counts.
    MixtureCorrosive(Known),
    DropperNotCalibrated,
    /// The gum's pH is none that is published for gum; has it soured?
    GumPhUnusual(Ph),
    NoPh(Why),
    /// The pH is an estimate: measure it.
    EstimateOnly,
    /// Below 1.5 the etch is a counter-etch and destroys a drawing on aluminium.
    DestroysDrawing(Known),
    /// The middle of the estimate is above 1.5, its low end is not.
    MayDestroyDrawing,
    /// Outside what the class works with.
    OutsideWindow {
        ph: Known,
        low: Ph,
        high: Ph,
    },
}

/// Below this pH the liquid acts as a counter-etch on aluminium: workshop notes after a summer course, "Day 2:
/// 1st etch, second etch", 2009, wishinbones.blogspot.com (a secondary source).
pub const DESTROYS_BELOW: f64 = 1.5;
/// At or below this pH GHS takes a mixture as corrosive when there are no test data (from memory).
const CORROSIVE_AT: f64 = 2.0;
/// pH of gum solutions in print: 3.9 (nguyenquan.vn) to 5.5 (aceinternationalgum.com), in tenths.
const USUAL_GUM_PH: (i64, i64) = (39, 55);

/// Weight percent above which an eyewash and a quick drench belong within reach: for phosphoric acid by the
/// NIOSH Pocket Guide, npgd0506; for nitric acid any, for want of a figure in percent.
fn eyewash_above(kind: AcidKind) -> Exact {
    match kind {
        AcidKind::Phosphoric => Exact::with_places(16, 1),
        AcidKind::Nitric => Exact::zero(),
    }
}

/// Every caution for a recipe, in the order in which they should be read.
#[must_use]
pub fn cautions(recipe: &Recipe, strength: &Strength, place: &Place) -> Vec<Caution> {
    let mut cautions = about_handling(recipe, strength, place);
    cautions.extend(about_gum(recipe));
    cautions.extend(about_ph(&strength.ph, place, !matches!(recipe, Recipe::PureGum(_))));
    cautions
}

fn about_handling(recipe: &Recipe, strength: &Strength, place: &Place) -> Vec<Caution> {
    let (acid, dropper) = match recipe {
        Recipe::PureGum(_) => return Vec::new(),
        Recipe::Stock(_) | Recipe::StockCut { .. } => return vec![Caution::Protect],
        Recipe::AcidInGum { drops: 0, .. } => return Vec::new(),
        Recipe::AcidInGum { acid, dropper, .. } => (acid, dropper),
    };
    let mut cautions = vec![Caution::Protect, Caution::AcidIntoGum];
    if let Some(acid) = acid {
        cautions.extend(about_bottle(acid, place));
    }
    cautions.extend(acid.as_ref().and_then(|acid| about_mixture(acid, strength)));
    if !dropper.is_calibrated() {
        cautions.push(Caution::DropperNotCalibrated);
    }
    cautions
}

fn about_mixture(acid: &Acid, strength: &Strength) -> Option<Caution> {
    let concentration = strength.acid.as_ref()?.concentration.as_ref()?;
    let percent = concentration.weight_percent.as_ref()?;
    let phosphoric = acid.kind() == AcidKind::Phosphoric;
    (phosphoric && *percent > eyewash_above(acid.kind())).then(|| Caution::EyewashForMixture(percent.clone()))
}

/// Limits of EU regulation 1272/2008, annex VI (from memory): phosphoric acid burns from 25 % and irritates
/// from 10 %; nitric acid burns from 5 %.
fn about_bottle(acid: &Acid, place: &Place) -> Vec<Caution> {
    let from = |percent| *acid.percent() >= Exact::whole(percent);
    let nitric = acid.kind() == AcidKind::Nitric;
    let mut cautions = Vec::new();
    if from(if nitric { 5 } else { 25 }) {
        cautions.push(Caution::BottleBurns(acid.clone()));
    } else if from(10) {
        cautions.push(Caution::BottleIrritates(acid.clone()));
    }
    if nitric {
        cautions.push(Caution::NitricFumes);
    }
    if nitric && place.surface == Surface::Plate {
        cautions.push(Caution::NitricOnAluminium);
    }
    if *acid.percent() > eyewash_above(acid.kind()) {
        cautions.push(Caution::EyewashForBottle(acid.clone()));
    }
    cautions
}

fn about_gum(recipe: &Recipe) -> Option<Caution> {
    let (Recipe::PureGum(gum) | Recipe::AcidInGum { gum, .. } | Recipe::StockCut { gum, .. }) = recipe else {
        return None;
    };
    let Gum { ph: Some(ph), sour: false, .. } = gum else { return None };
    let (low, high) = USUAL_GUM_PH;
    let usual = Exact::with_places(low, 1)..=Exact::with_places(high, 1);
    (!usual.contains(ph.exact())).then(|| Caution::GumPhUnusual(ph.clone()))
}

/// `etches`: something other than gum is in the mixture.
fn about_ph(ph: &EtchPh, place: &Place, etches: bool) -> Vec<Caution> {
    let mut cautions = Vec::new();
    let (known, low) = match ph {
        EtchPh::NotEstimated(why) => return vec![Caution::NoPh(*why)],
        EtchPh::OfGum(_) => return cautions,
        EtchPh::Measured(ph) => (Known::Measured(ph.clone()), ph.value()),
        EtchPh::Estimated(estimate) => {
            cautions.push(Caution::EstimateOnly);
            (Known::Estimated(estimate.middle), estimate.low)
        }
    };
    if etches && low <= CORROSIVE_AT {
        cautions.push(Caution::MixtureCorrosive(known.clone()));
    }
    if place.surface == Surface::Plate && known.value() < DESTROYS_BELOW {
        cautions.push(Caution::DestroysDrawing(known.clone()));
    } else if place.surface == Surface::Plate && low < DESTROYS_BELOW {
        cautions.push(Caution::MayDestroyDrawing);
    }
    if let Some((low, high)) = &place.window
        && !(low.value()..=high.value()).contains(&known.value())
    {
        cautions.push(Caution::OutsideWindow { ph: known, low: low.clone(), high: high.clone() });
    }
    cautions
}

impl Known {
    fn value(&self) -> f64 {
        match self {
            Self::Measured(ph) => ph.value(),
            Self::Estimated(ph) => *ph,
        }
    }

    /// A reading is repeated; an estimate is not, because the one decimal it is shown with may seem to
    /// contradict the limit it has passed.
    fn told(&self, measured: &'static str, estimated: &'static str) -> Remark {
        match self {
            Self::Measured(ph) => Remark::new(measured).with("ph", ph.to_string()),
            Self::Estimated(_) => Remark::new(estimated),
        }
    }
}

impl Caution {
    /// The caution as a key of the word catalogue.
    #[must_use]
    pub fn remark(&self) -> Remark {
        let bottle = |key, acid: &Acid| Remark::new(key).with("percent", acid.percent().to_string());
        match self {
            Self::Protect => Remark::new("etch-caution-protect"),
            Self::AcidIntoGum => Remark::new("etch-caution-acid-into-gum"),
            Self::BottleBurns(acid) => bottle("etch-caution-bottle-burns", acid),
            Self::BottleIrritates(acid) => bottle("etch-caution-bottle-irritates", acid),
            Self::NitricFumes => Remark::new("etch-caution-nitric-fumes"),
            Self::NitricOnAluminium => Remark::new("etch-caution-nitric-on-aluminium"),
            Self::EyewashForBottle(acid) => bottle(
                match acid.kind() {
                    AcidKind::Phosphoric => "etch-caution-eyewash-bottle",
                    AcidKind::Nitric => "etch-caution-eyewash-nitric",
                },
                acid,
            ),
            Self::EyewashForMixture(percent) => Remark::new("etch-caution-eyewash-mixture")
                .with("percent", percent.text(Rounding::half_up(2))),
            Self::MixtureCorrosive(ph) => {
                ph.told("etch-caution-corrosive-measured", "etch-caution-corrosive-estimated")
            }
            Self::DropperNotCalibrated => Remark::new("etch-caution-dropper-not-calibrated"),
            Self::GumPhUnusual(ph) => Remark::new("etch-caution-gum-ph-unusual").with("ph", ph.to_string()),
            Self::NoPh(why) => why.remark(),
            Self::EstimateOnly => Remark::new("etch-caution-estimate-only"),
            Self::DestroysDrawing(ph) => {
                ph.told("etch-caution-destroys-measured", "etch-caution-destroys-estimated")
            }
            Self::MayDestroyDrawing => Remark::new("etch-caution-may-destroy"),
            Self::OutsideWindow { ph, low, high } => ph
                .told("etch-caution-window-measured", "etch-caution-window-estimated")
                .with("low", low.to_string())
                .with("high", high.to_string()),
        }
    }
}
