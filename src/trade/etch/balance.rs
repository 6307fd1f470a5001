//! The pH at which the charges in a solution cancel.
//!
//! Every dissolved acid gives up protons step by step, each step with its pKa; positive and negative charges,
//! those of water included, must add up to nothing. The balance rises steadily with the concentration of H+,
//! so halving its logarithm finds the one solution. The solution is taken as ideal: concentrations stand for
//! activities, 25 °C. For 0.1 mol/L of phosphoric acid that is 0.009 pH below the value by the Davies equation.

/// Phosphoric acid at 25 °C and no ionic strength: R. N. Goldberg, N. Kishore and R. M. Lennen, J. Phys. Chem.
/// Ref. Data 31, 231 (2002); digits as found in public code.
pub const PHOSPHORIC_PKA: [f64; 3] = [2.148, 7.198, 12.35];

/// The product of the concentrations of H+ and OH- at 25 °C.
const WATER: f64 = 1e-14;
/// Concentrations of H+ between which every solution on a table lies, in mol/L.
const LEAST_H: f64 = 1e-18;
const MOST_H: f64 = 1e3;
/// Halvings after which the two ends are one f64.
const HALVINGS: u32 = 64;

/// A dissolved acid.
#[derive(Debug, Clone, PartialEq)]
pub struct Dissolved {
    /// All its forms together.
    mol_per_litre: f64,
    /// Charge with every proton on: 0 for H3PO4, 1 for NH4+.
    charge: f64,
    /// Dissociation constants, the most acid proton first.
    constants: Vec<f64>,
}

impl Dissolved {
    /// An acid by its pKa values, the lowest first, and the charge it has before it gives up a proton.
    #[must_use]
    pub fn new(mol_per_litre: f64, charge: i8, pka: &[f64]) -> Self {
        let constants = pka.iter().map(|pka| 10_f64.powf(-pka)).collect();
        Self { mol_per_litre, charge: charge.into(), constants }
    }

    /// Phosphoric acid with all three steps.
    #[must_use]
    pub fn phosphoric(mol_per_litre: f64) -> Self {
        Self::new(mol_per_litre, 0, &PHOSPHORIC_PKA)
    }

    /// Charge in mol/L at a concentration of H+.
    fn charge_at(&self, h: f64) -> f64 {
        let fully_protonated = (1.0, 1.0, self.charge, self.charge);
        let (_, forms, _, charges) =
            self.constants.iter().fold(fully_protonated, |(form, forms, charge, charges), constant| {
                let (form, charge) = (form * constant / h, charge - 1.0);
                (form, forms + form, charge, form.mul_add(charge, charges))
            });
        self.mol_per_litre * charges / forms
    }
}

/// The pH of water in which `acids` are dissolved together with ions that take no part: `strong_ions` is their
/// charge in mol/L, above zero for a strong base (sodium), below for a strong acid (nitrate).
///
/// ```
/// use tympan::trade::etch::balance::{Dissolved, ph};
/// assert_eq!(format!("{:.3}", ph(&[Dissolved::phosphoric(0.1)], 0.0)), "1.632");
/// ```
#[must_use]
pub fn ph(acids: &[Dissolved], strong_ions: f64) -> f64 {
    let (mut low, mut high) = (LEAST_H, MOST_H);
    for _ in 0..HALVINGS {
        let h = (low * high).sqrt();
        if charge(acids, strong_ions, h) > 0.0 { high = h } else { low = h }
    }
    -(low * high).sqrt().log10()
}

/// The strong ions, in mol/L of charge, that give the solution this pH.
#[must_use]
pub fn strong_ions_at(acids: &[Dissolved], ph: f64) -> f64 {
    -charge(acids, 0.0, 10_f64.powf(-ph))
}

fn charge(acids: &[Dissolved], strong_ions: f64, h: f64) -> f64 {
    h - WATER / h + strong_ions + acids.iter().map(|acid| acid.charge_at(h)).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(ours: f64, theirs: f64, within: f64) {
        assert!((ours - theirs).abs() < within, "{ours} against {theirs}");
    }

    #[test]
    fn water_strong_acid_and_strong_base_are_as_by_hand() {
        near(ph(&[], 0.0), 7.0, 1e-9);
        near(ph(&[], -0.1), 1.0, 1e-9);
        near(ph(&[], 0.1), 13.0, 1e-9);
        // h - 1e-14/h = 1e-8 has the root 1.0512e-7.
        near(ph(&[], -1e-8), -(0.5e-8_f64 + (0.25e-16_f64 + 1e-14).sqrt()).log10(), 1e-9);
    }

    #[test]
    fn a_half_neutralised_acid_sits_near_its_pka() {
        near(ph(&[Dissolved::new(0.2, 0, &[4.76])], 0.1), 4.76, 1e-3);
        near(ph(&[Dissolved::phosphoric(0.2)], 0.3), 7.198, 1e-3);
    }

    #[test]
    fn the_ions_for_a_ph_give_that_ph() {
        for ph_wanted in [2.0, 3.3, 4.3, 5.5, 7.0, 9.0] {
            let acids = [Dissolved::new(0.25, 0, &[3.3]), Dissolved::phosphoric(0.1)];
            near(ph(&acids, strong_ions_at(&acids, ph_wanted)), ph_wanted, 1e-9);
        }
    }

    #[test]
    fn what_is_beyond_every_table_still_has_an_answer() {
        assert!(ph(&[Dissolved::phosphoric(1e6)], 0.0).is_finite());
        assert!(ph(&[], -1e9).is_finite() && ph(&[], 1e9).is_finite());
    }
}
