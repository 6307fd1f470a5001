//! Droppers: how much of a liquid a drop is, and how sure that is.
//!
//! "20 drops are 1 mL" holds for water from one kind of tip. The drop depends on tip, liquid, speed and hand
//! (USP 32 <1101>), and the same tip lets fall about half as much again drops per mL of 85 % phosphoric acid
//! (our estimate). So a dropper is calibrated by weighing drops of the very acid, and every volume it gives has
//! a span.

use crate::trade::exact::Exact;
use crate::trade::measure::acid::Acid;
use crate::trade::measure::{Span, Volume, quotient};
use crate::trade::remark::Remark;

/// The most drops that are taken from outside.
pub const MOST_DROPS: i64 = 10_000;
const MOST_PER_ML: i64 = 1000;
/// What is taken for a dropper nobody has calibrated, and how far it may be off: from water in a wide tip to
/// strong acid in a narrow one (our estimate).
const UNCALIBRATED: (i64, i64) = (25, 8);
const PER_ML: &str = "drops_per_ml";
const SPREAD: &str = "drops_per_ml_spread";

/// Drops per millilitre of the acid it serves, give or take a spread.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Dropper {
    per_ml: Exact,
    spread: Exact,
    calibrated: bool,
}

impl Dropper {
    /// A dropper by its drops per mL; none means that nobody has calibrated it. A spread nobody told is taken as
    /// a tenth, the ±2 on 20 drops of the UNC pharmacy school's page on droppers.
    ///
    /// # Errors
    /// Drops per mL that are zero, negative or above 1000; a spread that is negative, not below the drops per
    /// mL, or told alone. The remark names `drops_per_ml` or `drops_per_ml_spread`.
    pub fn told(per_ml: Option<Exact>, spread: Option<Exact>) -> Result<Self, Remark> {
        match (per_ml, spread) {
            (Some(per_ml), spread) => Self::calibrated(per_ml, spread),
            (None, None) => Ok(Self::uncalibrated()),
            (None, Some(spread)) => Err(outside("measure-dropper-spread-alone", SPREAD, &spread)),
        }
    }

    /// A dropper as it is kept, in hundredths of a drop per mL.
    ///
    /// # Errors
    /// As for [`Dropper::told`].
    pub fn hundredths(per_ml: Option<i32>, spread: Option<i32>) -> Result<Self, Remark> {
        let exact = |hundredths: i32| Exact::hundredths(hundredths.into());
        Self::told(per_ml.map(exact), spread.map(exact))
    }

    fn calibrated(per_ml: Exact, spread: Option<Exact>) -> Result<Self, Remark> {
        if per_ml <= Exact::zero() || per_ml > Exact::whole(MOST_PER_ML) {
            return Err(outside("measure-dropper-outside", PER_ML, &per_ml).with("most", MOST_PER_ML));
        }
        let spread = spread.unwrap_or_else(|| &per_ml * &Exact::with_places(1, 1));
        if spread.is_negative() || spread >= per_ml {
            let remark = outside("measure-dropper-spread-outside", SPREAD, &spread);
            return Err(remark.with("drops", per_ml.to_string()));
        }
        Ok(Self { per_ml, spread, calibrated: true })
    }

    /// A dropper nobody has calibrated: 25 drops per mL, give or take 8.
    #[must_use]
    pub fn uncalibrated() -> Self {
        let (per_ml, spread) = UNCALIBRATED;
        Self { per_ml: Exact::whole(per_ml), spread: Exact::whole(spread), calibrated: false }
    }

    #[must_use]
    pub fn is_calibrated(&self) -> bool {
        self.calibrated
    }

    #[must_use]
    pub fn per_ml(&self) -> &Exact {
        &self.per_ml
    }

    #[must_use]
    pub fn spread(&self) -> &Exact {
        &self.spread
    }

    /// The volume of so many drops.
    #[must_use]
    pub fn volume(&self, drops: u32) -> Span<Volume> {
        let of = |per_ml: &Exact| Volume::of_ml(&quotient(&Exact::whole(drops.into()), per_ml));
        Span {
            at: of(&self.per_ml),
            low: of(&(&self.per_ml + &self.spread)),
            high: of(&(&self.per_ml - &self.spread)),
        }
    }
}

/// Drops of an acid on a balance.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Weighing {
    pub drops: u32,
    pub grams: Exact,
    pub acid: Acid,
}

impl Weighing {
    /// Drops per mL: drops × density / grams.
    ///
    /// # Errors
    /// No drops, no weight, or drops too small or too large for any dropper; the remark names `grams`.
    pub fn drops_per_ml(&self) -> Result<Exact, Remark> {
        let drops = Exact::whole(self.drops.into());
        let told = |key| outside(key, "grams", &self.grams).with("drops", i64::from(self.drops));
        if self.drops == 0 || self.grams <= Exact::zero() {
            return Err(told("measure-weighing-empty"));
        }
        let per_ml = quotient(&(&drops * &self.acid.grams_per_ml()), &self.grams);
        if per_ml < Exact::one() || per_ml > Exact::whole(MOST_PER_ML) {
            return Err(told("measure-weighing-absurd")
                .with("per_ml", per_ml.to_string())
                .with("most", MOST_PER_ML));
        }
        Ok(per_ml)
    }
}

/// A number of drops.
///
/// # Errors
/// Not a whole number from 0 to 10,000; the remark names `field`.
pub fn drops(field: &str, told: &Exact) -> Result<u32, Remark> {
    let whole = told.to_i64().filter(|drops| (0..=MOST_DROPS).contains(drops));
    whole
        .and_then(|drops| u32::try_from(drops).ok())
        .ok_or_else(|| outside("measure-drops-outside", field, told).with("most", MOST_DROPS))
}

fn outside(key: &'static str, field: &str, value: &Exact) -> Remark {
    Remark::new(key).with("field", field).with("value", value.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::measure::acid::AcidKind;

    fn exact(text: &str) -> Exact {
        Exact::decimal(text).unwrap()
    }

    #[test]
    fn drops_have_a_span_that_narrows_with_the_spread() {
        let dropper = Dropper::hundredths(Some(2000), Some(200)).unwrap();
        let acid = dropper.volume(4);
        assert_eq!(acid.at.ml(), exact("0.2"));
        assert_eq!(acid.low.ml(), Exact::whole(4).over(&Exact::whole(22)).unwrap());
        assert_eq!(acid.high.ml(), Exact::whole(4).over(&Exact::whole(18)).unwrap());
        let sure = Dropper::hundredths(Some(2000), Some(0)).unwrap().volume(4);
        assert_eq!((&sure.low, &sure.high), (&sure.at, &sure.at));
        assert_eq!(dropper.volume(0).high.ml(), Exact::zero());
    }

    #[test]
    fn a_dropper_not_calibrated_is_25_give_or_take_8() {
        let dropper = Dropper::hundredths(None, None).unwrap();
        assert!(!dropper.is_calibrated());
        assert_eq!((dropper.per_ml(), dropper.spread()), (&Exact::whole(25), &Exact::whole(8)));
        let tenth = Dropper::hundredths(Some(3000), None).unwrap();
        assert!(tenth.is_calibrated() && *tenth.spread() == Exact::whole(3));
    }

    #[test]
    fn what_no_dropper_does_is_refused() {
        for (per_ml, spread, key) in [
            (Some(0), Some(0), "measure-dropper-outside"),
            (Some(-2000), Some(0), "measure-dropper-outside"),
            (Some(100_001), Some(0), "measure-dropper-outside"),
            (Some(2000), Some(2000), "measure-dropper-spread-outside"),
            (Some(2000), Some(-1), "measure-dropper-spread-outside"),
            (None, Some(200), "measure-dropper-spread-alone"),
        ] {
            assert_eq!(Dropper::hundredths(per_ml, spread).unwrap_err().key, key, "{per_ml:?} {spread:?}");
        }
        assert_eq!(drops("drops", &Exact::whole(4)), Ok(4));
        for told in ["-1", "2.5", "10001"] {
            assert_eq!(drops("drops", &exact(told)).unwrap_err().key, "measure-drops-outside", "{told}");
        }
    }

    #[test]
    fn a_slip_between_grams_and_milligrams_is_noticed() {
        let acid = Acid::basis_points("acid", AcidKind::Phosphoric, 8500).unwrap();
        let weighing = |drops, grams| Weighing { drops, grams: exact(grams), acid: acid.clone() };
        assert_eq!(weighing(30, "1.689").drops_per_ml(), Ok(Exact::whole(30)));
        for (drops, grams, key) in [
            (0, "1", "measure-weighing-empty"),
            (20, "0", "measure-weighing-empty"),
            (20, "-1", "measure-weighing-empty"),
            (20, "1126", "measure-weighing-absurd"),
            (20, "0.001", "measure-weighing-absurd"),
        ] {
            assert_eq!(weighing(drops, grams).drops_per_ml().unwrap_err().key, key, "{drops} {grams}");
        }
    }
}
