//! Acids as bottles hold them: kind and weight percent, and from these density and moles.
//!
//! Densities are in g/mL at 20 °C, linear between the rows. Above the last row there is no bottle for a print
//! studio, and no density is made up.

use crate::spelled;
use crate::trade::exact::Exact;
use crate::trade::measure::quotient;
use crate::trade::remark::Remark;

spelled! {
    /// The acids that go into gum.
    AcidKind {
        /// H3PO4, for aluminium plates.
        Phosphoric = "phosphoric",
        /// HNO3, for stones.
        Nitric = "nitric",
    }
}

/// Weight percent and density in 0.1 mg/mL.
type Row = (i64, i64);

/// International Critical Tables and Perry's handbook, from memory; the rows at 10, 30, 75 and 85 % and their
/// molarities are confirmed by homebrewtalk.com thread 674372. Those at 15 and 25 % are interpolated. 0 %
/// is water.
const PHOSPHORIC: &[Row] = &[
    (0, 9982),
    (1, 10_038),
    (2, 10_092),
    (4, 10_200),
    (6, 10_309),
    (8, 10_420),
    (10, 10_532),
    (15, 10_820),
    (20, 11_134),
    (25, 11_460),
    (30, 11_805),
    (35, 12_160),
    (40, 12_540),
    (50, 13_350),
    (55, 13_790),
    (60, 14_260),
    (65, 14_750),
    (70, 15_260),
    (75, 15_790),
    (80, 16_330),
    (85, 16_890),
    (90, 17_460),
];

/// Perry's Chemical Engineers' Handbook, 6th edition, the column for 20 °C as handymath.com prints it: seen
/// there or quoted from there up to 10 % and at 35 and 70 %; the row at 20 % (1.115) is in school books; the
/// others are from memory.
const NITRIC: &[Row] = &[
    (0, 9982),
    (1, 10_036),
    (2, 10_091),
    (4, 10_201),
    (6, 10_312),
    (8, 10_427),
    (10, 10_543),
    (15, 10_842),
    (20, 11_150),
    (25, 11_469),
    (30, 11_800),
    (35, 12_140),
    (40, 12_463),
    (45, 12_783),
    (50, 13_100),
    (55, 13_393),
    (60, 13_667),
    (65, 13_913),
    (70, 14_134),
];

impl AcidKind {
    /// Molar mass in g/mol.
    #[must_use]
    pub fn grams_per_mol(self) -> Exact {
        match self {
            Self::Phosphoric => Exact::with_places(97_994, 3),
            Self::Nitric => Exact::with_places(63_012, 3),
        }
    }

    /// The strongest acid of this kind with a known density, in weight percent.
    #[must_use]
    pub fn most_percent(self) -> i64 {
        self.rows().last().map_or(0, |(percent, _)| *percent)
    }

    fn rows(self) -> &'static [Row] {
        match self {
            Self::Phosphoric => PHOSPHORIC,
            Self::Nitric => NITRIC,
        }
    }
}

/// An acid of some strength; 0 % is water.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Acid {
    kind: AcidKind,
    percent: Exact,
}

impl Acid {
    /// An acid by its weight percent.
    ///
    /// # Errors
    /// Below 0 %, over 100 %, or stronger than the table of densities goes; the remark names `field`.
    pub fn told(field: &str, kind: AcidKind, percent: Exact) -> Result<Self, Remark> {
        let key = if percent.is_negative() || percent > Exact::whole(100) {
            "measure-percent-outside"
        } else if percent > Exact::whole(kind.most_percent()) {
            match kind {
                AcidKind::Phosphoric => "measure-phosphoric-too-strong",
                AcidKind::Nitric => "measure-nitric-too-strong",
            }
        } else {
            return Ok(Self { kind, percent });
        };
        let most = kind.most_percent();
        Err(Remark::new(key).with("field", field).with("value", percent.to_string()).with("most", most))
    }

    /// An acid by its weight percent as it is kept, in hundredths of a percent.
    ///
    /// # Errors
    /// As for [`Acid::told`].
    pub fn basis_points(field: &str, kind: AcidKind, points: i32) -> Result<Self, Remark> {
        Self::told(field, kind, Exact::percent_from_basis_points(points.into()))
    }

    #[must_use]
    pub fn kind(&self) -> AcidKind {
        self.kind
    }

    #[must_use]
    pub fn percent(&self) -> &Exact {
        &self.percent
    }

    /// Density at 20 °C.
    #[must_use]
    pub fn grams_per_ml(&self) -> Exact {
        let rows = self.kind.rows();
        let between = rows.iter().zip(rows.iter().skip(1));
        let row = between.take_while(|((low, _), _)| Exact::whole(*low) <= self.percent).last();
        let tenths_of_mg = row.map_or_else(Exact::zero, |((low, lighter), (high, denser))| {
            let into = &self.percent - &Exact::whole(*low);
            let slope = quotient(&Exact::whole(denser - lighter), &Exact::whole(high - low));
            Exact::whole(*lighter) + &into * &slope
        });
        tenths_of_mg * Exact::with_places(1, 4)
    }

    /// Moles of acid in a litre of it: 10 × weight percent × density / molar mass.
    ///
    /// ```
    /// use tympan::trade::{exact::Rounding, measure::acid::{Acid, AcidKind}};
    /// let bottle = Acid::basis_points("acid", AcidKind::Phosphoric, 8500)?;
    /// assert_eq!(bottle.mol_per_litre().text(Rounding::half_up(3)), "14.650");
    /// # Ok::<(), tympan::trade::remark::Remark>(())
    /// ```
    #[must_use]
    pub fn mol_per_litre(&self) -> Exact {
        let grams_per_litre = &(&self.percent * &self.grams_per_ml()) * &Exact::whole(10);
        quotient(&grams_per_litre, &self.kind.grams_per_mol())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::spelled::Spelled;

    #[test]
    fn density_grows_with_strength_and_is_linear_between_rows() {
        for kind in AcidKind::ALL {
            let at = |points| Acid::basis_points("acid", *kind, points).unwrap().grams_per_ml();
            let most = i32::try_from(kind.most_percent() * 100).unwrap();
            for points in (37..=most).step_by(37) {
                assert!(at(points - 37) < at(points), "{kind:?} {points}");
            }
            for ((low, lighter), (high, denser)) in kind.rows().iter().zip(kind.rows().iter().skip(1)) {
                let middle = i32::try_from((low + high) * 50).unwrap();
                assert_eq!(at(middle), Exact::with_places((lighter + denser) * 5, 5), "{kind:?} {middle}");
            }
            let (percent, last) = kind.rows().last().unwrap();
            assert_eq!(at(i32::try_from(percent * 100).unwrap()), Exact::with_places(*last, 4));
        }
    }

    #[test]
    fn strengths_beyond_the_table_are_refused() {
        for (kind, points, key) in [
            (AcidKind::Phosphoric, -1, "measure-percent-outside"),
            (AcidKind::Phosphoric, 10_001, "measure-percent-outside"),
            (AcidKind::Phosphoric, 9001, "measure-phosphoric-too-strong"),
            (AcidKind::Nitric, 7001, "measure-nitric-too-strong"),
            (AcidKind::Nitric, 10_001, "measure-percent-outside"),
        ] {
            assert_eq!(Acid::basis_points("acid", kind, points).unwrap_err().key, key, "{points}");
        }
    }
}
