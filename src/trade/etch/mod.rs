//! The etch: what is in a mixture of gum and acid, exactly, and what its pH may be, by estimate.
//!
//! [`strength`] tells the two apart in its types: [`Exact`] and [`Volume`] follow by arithmetic from what was
//! told (with the [`Span`] that the dropper leaves); [`EtchPh`] says how the pH is known, if it is. A measured
//! pH outranks every estimate. There is none for gum marked sour, nor for a stock etch, as it is or cut with
//! gum, because nobody here knows what is in it.

pub mod balance;
pub mod batch;
pub mod came_up;
pub mod cautions;
pub mod estimate;
pub mod logged;
pub mod table;

use crate::trade::exact::Exact;
use crate::trade::measure::acid::Acid;
use crate::trade::measure::dropper::Dropper;
use crate::trade::measure::{Baume, Ph, Span, Volume, quotient};
use crate::trade::remark::Remark;

pub use estimate::Estimate;

use estimate::Ingredients;

/// Gum as its container's label tells it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gum {
    volume: Volume,
    baume: Option<Baume>,
    ph: Option<Ph>,
    sour: bool,
}

impl Gum {
    /// About 55 percent by weight, the most that dissolves (sidco.co.th).
    const MOST_BAUME: i64 = 31;

    /// Gum of a volume; `sour`: bacteria have made acids of their own in it.
    ///
    /// # Errors
    /// More degrees Baumé than a gum solution can have; the remark names `baume`.
    pub fn told(volume: Volume, baume: Option<Baume>, ph: Option<Ph>, sour: bool) -> Result<Self, Remark> {
        if let Some(baume) = baume.as_ref().filter(|baume| *baume.value() > Exact::whole(Self::MOST_BAUME)) {
            return Err(Remark::new("etch-gum-too-thick")
                .with("field", "baume")
                .with("value", baume.value().to_string())
                .with("most", Self::MOST_BAUME));
        }
        Ok(Self { volume, baume, ph, sour })
    }

    #[must_use]
    pub fn volume(&self) -> &Volume {
        &self.volume
    }
}

/// What goes onto the plate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Recipe {
    PureGum(Gum),
    AcidInGum {
        gum: Gum,
        drops: u32,
        dropper: Dropper,
        /// None: nobody told what the bottle holds.
        acid: Option<Acid>,
    },
    /// A stock etch as it is.
    Stock(Option<Volume>),
    /// A stock etch cut with gum.
    StockCut {
        stock: Volume,
        gum: Gum,
    },
}

/// What a recipe comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct Strength {
    /// Volumes taken to add up. None: a stock etch whose volume nobody told.
    pub mixture: Option<Volume>,
    /// None where no acid is counted in drops.
    pub acid: Option<AcidIn>,
    /// The part of a cut stock etch that is stock, by volume.
    pub stock_share: Option<Exact>,
    pub ph: EtchPh,
}

/// The acid in a mixture.
#[derive(Debug, Clone, PartialEq)]
pub struct AcidIn {
    /// Of liquid from the bottle.
    pub volume: Span<Volume>,
    /// None: nobody told what the bottle holds.
    pub concentration: Option<Concentration>,
}

/// How much pure acid the mixture holds, at the middle of the dropper's span.
#[derive(Debug, Clone, PartialEq)]
pub struct Concentration {
    pub mol_per_litre: Exact,
    /// Mass of pure acid in 100 of mixture. None: nobody told the gum's Baumé, so its mass is unknown.
    pub weight_percent: Option<Exact>,
    /// By full charge balance, were it water and not gum: for comparison only, never the pH of the etch.
    pub ph_in_water: f64,
}

/// How the pH of an etch is known.
#[derive(Debug, Clone, PartialEq)]
pub enum EtchPh {
    /// By strip or meter in this very mixture.
    Measured(Ph),
    /// Nothing was added to the gum, so it is the one told for the gum.
    OfGum(Ph),
    Estimated(Estimate),
    NotEstimated(Why),
}

/// Why no pH is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    GumSour,
    GumPhUntold,
    GumBaumeUntold,
    /// No gum with nothing but a base in it has the told pH.
    GumNotPlain,
    AcidUntold,
    StockEtch,
    StockCut,
}

/// Reckons a recipe; `measured` is a pH read in the mixture.
///
/// ```
/// use tympan::trade::etch::{EtchPh, Gum, Recipe, strength};
/// use tympan::trade::exact::{Exact, Rounding};
/// use tympan::trade::measure::{Baume, Ph, Unit, Volume, acid::{Acid, AcidKind}, dropper::Dropper};
///
/// let etch = strength(
///     &Recipe::AcidInGum {
///         gum: Gum::told(
///             Volume::told("volume", &Exact::one(), Unit::UsFluidOunce)?,
///             Some(Baume::tenths("baume", 140)?),
///             Some(Ph::hundredths("ph", 430)?),
///             false,
///         )?,
///         drops: 5,
///         dropper: Dropper::hundredths(Some(2000), Some(0))?,
///         acid: Some(Acid::basis_points("weight_percent", AcidKind::Phosphoric, 8500)?),
///     },
///     None,
/// );
/// let acid = etch.acid.unwrap();
/// assert_eq!(acid.volume.at.ml(), Exact::hundredths(25));
/// let concentration = acid.concentration.unwrap();
/// assert_eq!(concentration.mol_per_litre.text(Rounding::half_up(4)), "0.1228");
/// assert_eq!(format!("{:.2}", concentration.ph_in_water), "1.58");
/// let EtchPh::Estimated(ph) = etch.ph else { panic!() };
/// assert_eq!(ph.shown(), ["3.2", "3.0", "3.4"]);
/// # Ok::<(), tympan::trade::remark::Remark>(())
/// ```
#[must_use]
pub fn strength(recipe: &Recipe, measured: Option<&Ph>) -> Strength {
    let mut strength = match recipe {
        Recipe::PureGum(gum) => pure_gum(gum),
        Recipe::AcidInGum { gum, drops, dropper, acid } => {
            acid_in_gum(gum, &dropper.volume(*drops), acid.as_ref())
        }
        Recipe::Stock(volume) => Strength {
            mixture: volume.clone(),
            acid: None,
            stock_share: None,
            ph: EtchPh::NotEstimated(Why::StockEtch),
        },
        Recipe::StockCut { stock, gum } => {
            let mixture = stock.plus(&gum.volume);
            Strength {
                acid: None,
                stock_share: Some(stock.over(&mixture)),
                mixture: Some(mixture),
                ph: EtchPh::NotEstimated(Why::StockCut),
            }
        }
    };
    if let Some(ph) = measured {
        strength.ph = EtchPh::Measured(ph.clone());
    }
    strength
}

fn pure_gum(gum: &Gum) -> Strength {
    Strength { mixture: Some(gum.volume.clone()), acid: None, stock_share: None, ph: ph_of_gum(gum) }
}

fn ph_of_gum(gum: &Gum) -> EtchPh {
    match &gum.ph {
        _ if gum.sour => EtchPh::NotEstimated(Why::GumSour),
        None => EtchPh::NotEstimated(Why::GumPhUntold),
        Some(ph) => EtchPh::OfGum(ph.clone()),
    }
}

fn acid_in_gum(gum: &Gum, volume: &Span<Volume>, acid: Option<&Acid>) -> Strength {
    let mixture = gum.volume.plus(&volume.at);
    Strength {
        acid: Some(AcidIn {
            volume: volume.clone(),
            concentration: acid.map(|acid| concentration(gum, acid, &volume.at, &mixture)),
        }),
        stock_share: None,
        ph: if volume.at.ml().is_zero() { ph_of_gum(gum) } else { ph_of_mixture(gum, volume, acid) },
        mixture: Some(mixture),
    }
}

fn concentration(gum: &Gum, acid: &Acid, volume: &Volume, mixture: &Volume) -> Concentration {
    let mol_per_litre = &acid.mol_per_litre() * &volume.over(mixture);
    let acid_grams = &volume.ml() * &acid.grams_per_ml();
    let weight_percent = gum.baume.as_ref().map(|baume| {
        let grams = &acid_grams + &(&gum.volume.ml() * &baume.grams_per_ml());
        quotient(&(&acid_grams * acid.percent()), &grams)
    });
    let ph_in_water = estimate::ph_in_water(acid.kind(), &mol_per_litre);
    Concentration { mol_per_litre, weight_percent, ph_in_water }
}

fn ph_of_mixture(gum: &Gum, volume: &Span<Volume>, acid: Option<&Acid>) -> EtchPh {
    let estimated = match (gum, acid) {
        (Gum { sour: true, .. }, _) => Err(Why::GumSour),
        (_, None) => Err(Why::AcidUntold),
        (Gum { ph: None, .. }, _) => Err(Why::GumPhUntold),
        (Gum { baume: None, .. }, _) => Err(Why::GumBaumeUntold),
        (Gum { baume: Some(baume), ph: Some(ph), .. }, Some(acid)) => {
            let ingredients = Ingredients::new(&gum.volume, baume, ph, acid);
            estimate::estimate(ingredients, volume).ok_or(Why::GumNotPlain)
        }
    };
    estimated.map_or_else(EtchPh::NotEstimated, EtchPh::Estimated)
}

impl EtchPh {
    /// What a page says about the pH: one decimal with its range and how it is known, or why there is none.
    #[must_use]
    pub fn remark(&self) -> Remark {
        match self {
            Self::Measured(ph) => Remark::new("etch-ph-measured").with("ph", ph.to_string()),
            Self::OfGum(ph) => Remark::new("etch-ph-of-gum").with("ph", ph.to_string()),
            Self::Estimated(estimate) => {
                let [middle, low, high] = estimate.shown();
                Remark::new("etch-ph-estimated").with("ph", middle).with("low", low).with("high", high)
            }
            Self::NotEstimated(why) => why.remark(),
        }
    }
}

impl Estimate {
    /// Middle, low and high with one decimal, as pages show them. A range too narrow for that is shown a little wider: no
    /// estimate is as sure as a range without width would say.
    #[must_use]
    pub fn shown(&self) -> [String; 3] {
        let [middle, low, high] = [self.middle, self.low, self.high].map(one_decimal);
        if low != high {
            return [middle, low, high];
        }
        let tenths = [(self.low * 10.0).floor(), (self.high * 10.0).ceil()];
        let [low, high] = tenths.map(|tenths| one_decimal(tenths / 10.0));
        [middle, low, high]
    }
}

fn one_decimal(ph: f64) -> String {
    let text = format!("{ph:.1}");
    if text == "-0.0" { "0.0".to_owned() } else { text }
}

impl Why {
    /// The reason, with what to do about it.
    #[must_use]
    pub fn remark(self) -> Remark {
        Remark::new(match self {
            Self::GumSour => "etch-no-ph-gum-sour",
            Self::GumPhUntold => "etch-no-ph-gum-ph-untold",
            Self::GumBaumeUntold => "etch-no-ph-gum-baume-untold",
            Self::GumNotPlain => "etch-no-ph-gum-not-plain",
            Self::AcidUntold => "etch-no-ph-acid-untold",
            Self::StockEtch => "etch-no-ph-stock",
            Self::StockCut => "etch-no-ph-stock-cut",
        })
    }
}

#[cfg(test)]
mod tests;
