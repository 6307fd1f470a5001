//! What the pH of acid in gum may be: gum arabic holds the pH back, so acid in gum is not acid in water.
//!
//! Five drops of 85 % acid in a fluid ounce bring water to pH 1.6, but gum to about 3.2. The model, all of it
//! our own estimate: gum of so many degrees Baumé has a density of 0.9990 × 145/(145 − Bé) g/mL; with a partial
//! specific volume of 0.62 mL/g the gum is (1/0.9990 − 1/density) / (1/0.9990 − 0.62) of the mass, at 14 degrees
//! about 280 g/L. One equivalent of carboxyl groups is in 1100 g of gum (1000 to 1200), with an apparent pKa of
//! 3.3 (3.0 to 3.6). As many cations of a strong base are with it as give the pure gum the pH it is told to
//! have. Then the acid is added, volumes adding up, and the charges are balanced anew.
//!
//! The error of the model is shared by all mixtures of one gum and bottle: within a batch compare by drops.

use crate::trade::etch::balance::{Dissolved, ph, strong_ions_at};
use crate::trade::exact::Exact;
use crate::trade::measure::acid::{Acid, AcidKind};
use crate::trade::measure::{Baume, Ph, Span, Volume};

/// An estimated pH and the range it may lie in; never a measurement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    pub middle: f64,
    pub low: f64,
    pub high: f64,
}

/// Gum and acid before they meet, in the floats of physics.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ingredients {
    gum_ml: f64,
    gum_grams_per_litre: f64,
    gum_ph: f64,
    acid: AcidKind,
    acid_mol_per_litre: f64,
}

impl Ingredients {
    pub(super) fn new(gum: &Volume, baume: &Baume, ph: &Ph, acid: &Acid) -> Self {
        Self {
            gum_ml: gum.ml().to_f64(),
            gum_grams_per_litre: gum_grams_per_litre(baume),
            gum_ph: ph.value(),
            acid: acid.kind(),
            acid_mol_per_litre: acid.mol_per_litre().to_f64(),
        }
    }
}

/// Grams of gum with one equivalent of carboxyl groups, and their apparent pKa.
#[derive(Debug, Clone, Copy)]
struct Model {
    grams_per_equivalent: f64,
    pka: f64,
}

const MIDDLE: Model = Model { grams_per_equivalent: 1100.0, pka: 3.3 };
const GRAMS_PER_EQUIVALENT: [f64; 2] = [1000.0, 1200.0];
/// Between the ends the pH may pass through a highest or lowest value, so the range is walked.
const PKA: [f64; 7] = [3.0, 3.1, 3.2, 3.3, 3.4, 3.5, 3.6];

/// mL of solution that a gram of dissolved gum takes up.
const PARTIAL_SPECIFIC_VOLUME: f64 = 0.62;
const WATER_GRAMS_PER_ML: f64 = 0.9990;

/// Estimates the pH of gum with acid in it. None: no gum with only a base in it has the told pH, so something
/// else is in it, or the told pH is above 7.
pub(super) fn estimate(of: Ingredients, acid: &Span<Volume>) -> Option<Estimate> {
    if of.gum_ph > 7.0 || MIDDLE.cations(of) < 0.0 {
        return None;
    }
    let middle = MIDDLE.ph(of, acid.at.ml().to_f64());
    let mut range = Estimate { middle, low: middle, high: middle };
    for acid_ml in [acid.low.ml().to_f64(), acid.high.ml().to_f64()] {
        for grams_per_equivalent in GRAMS_PER_EQUIVALENT {
            for pka in PKA {
                let ph = Model { grams_per_equivalent, pka }.ph(of, acid_ml);
                range.low = range.low.min(ph);
                range.high = range.high.max(ph);
            }
        }
    }
    Some(range)
}

/// Grams of gum in a litre of its solution.
#[must_use]
pub fn gum_grams_per_litre(baume: &Baume) -> f64 {
    let density = baume.grams_per_ml().to_f64();
    let lightness = WATER_GRAMS_PER_ML.recip();
    let fraction = (lightness - density.recip()) / (lightness - PARTIAL_SPECIFIC_VOLUME);
    fraction * density * 1000.0
}

/// What acid of this molarity is in plain water: for comparison only, no etch is water.
pub(super) fn ph_in_water(kind: AcidKind, mol_per_litre: &Exact) -> f64 {
    let (acid, strong_ions) = dissolved(kind, mol_per_litre.to_f64());
    ph(acid.as_slice(), strong_ions)
}

fn dissolved(kind: AcidKind, mol_per_litre: f64) -> (Option<Dissolved>, f64) {
    match kind {
        AcidKind::Phosphoric => (Some(Dissolved::phosphoric(mol_per_litre)), 0.0),
        // Fully dissociated (from memory): nitrate takes no part.
        AcidKind::Nitric => (None, -mol_per_litre),
    }
}

impl Model {
    /// Strong-base cations in the pure gum, in mol/L.
    fn cations(self, of: Ingredients) -> f64 {
        strong_ions_at(&[self.carboxyl(of, 1.0)], of.gum_ph)
    }

    fn carboxyl(self, of: Ingredients, diluted: f64) -> Dissolved {
        Dissolved::new(of.gum_grams_per_litre / self.grams_per_equivalent * diluted, 0, &[self.pka])
    }

    fn ph(self, of: Ingredients, acid_ml: f64) -> f64 {
        let diluted = of.gum_ml / (of.gum_ml + acid_ml);
        let (acid, strong_ions) = dissolved(of.acid, of.acid_mol_per_litre * (1.0 - diluted));
        let mut acids = vec![self.carboxyl(of, diluted)];
        acids.extend(acid);
        ph(&acids, self.cations(of).mul_add(diluted, strong_ions))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gum_of_14_degrees_holds_about_280_grams_in_a_litre() {
        let gum = Baume::tenths("baume", 140).unwrap();
        assert!((gum_grams_per_litre(&gum) - 280.0).abs() < 1.0, "{}", gum_grams_per_litre(&gum));
        assert!(gum_grams_per_litre(&Baume::tenths("baume", 0).unwrap()).abs() < 1e-9);
    }

    fn of(tenths: i32, hundredths: i32) -> Option<Estimate> {
        let volume = Volume::from_microlitres("gum", 30_000).unwrap();
        let baume = Baume::tenths("baume", tenths).unwrap();
        let ph = Ph::hundredths("ph", hundredths).unwrap();
        let acid = Acid::basis_points("acid", AcidKind::Phosphoric, 8500).unwrap();
        let drops = crate::trade::measure::dropper::Dropper::uncalibrated().volume(5);
        estimate(Ingredients::new(&volume, &baume, &ph, &acid), &drops)
    }

    #[test]
    fn a_ph_that_gum_alone_cannot_have_gives_no_estimate() {
        assert!(of(140, 430).is_some());
        assert_eq!(of(140, 701), None);
        // Free acid of a quarter mole per litre and pKa 3.3 is pH 1.95: what is more acid has another acid in it.
        assert!(of(140, 196).is_some());
        assert_eq!(of(140, 190), None);
        // Water at pH 4.3 is no gum.
        assert_eq!(of(0, 430), None);
    }
}
