//! Measures of the etching table: volumes in millilitres and US fluid ounces, degrees Baumé, pH.
//!
//! Each measure is made by one door that refuses what cannot be, naming the field it was typed in; behind the
//! door all arithmetic is exact. [`acid`] knows how much acid a weight percent is, [`dropper`] what a drop is.

pub mod acid;
pub mod dropper;

use std::fmt;

use crate::spelled;
use crate::trade::exact::{Exact, Rounding};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;

spelled! {
    /// What a volume is told in. Drops are no unit: they are counted, and a [`dropper::Dropper`] turns them into one.
    Unit {
        /// 29.5735295625 mL: 1.8046875 cubic inches of 16.387064 mL (NIST Handbook 44, appendix C; digits from
        /// memory, recomputed).
        UsFluidOunce = "us_fl_oz",
        Millilitre = "ml",
    }
}

impl Unit {
    /// A unit by its word. The imperial fluid ounce (28.4130625 mL) is 4 % smaller than the US one, and a bare
    /// "oz" may be either or a weight, so neither is guessed.
    ///
    /// # Errors
    /// Any other word; the remark names `field`.
    pub fn read(field: &str, word: &str) -> Result<Self, Remark> {
        if let Some(unit) = Self::from_word(word) {
            return Ok(unit);
        }
        let plain: String = word.to_lowercase().chars().filter(char::is_ascii_alphabetic).collect();
        let key = match plain.as_str() {
            word if word.starts_with("imp") || word.starts_with("uk") || word.starts_with("br") => {
                "measure-unit-imperial"
            }
            "oz" | "floz" | "ounce" | "ounces" | "fluidounce" | "fluidounces" => "measure-unit-which-ounce",
            "drop" | "drops" => "measure-unit-drops",
            _ => "measure-unit-unknown",
        };
        Err(Remark::new(key).with("field", field).with("value", word))
    }

    /// How many microlitres one of it is.
    #[must_use]
    pub fn in_microlitres(self) -> Exact {
        match self {
            Self::UsFluidOunce => Exact::with_places(295_735_295_625, 7),
            Self::Millilitre => Exact::whole(1000),
        }
    }
}

/// An exact volume, never negative.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Volume {
    microlitres: Exact,
}

impl Volume {
    /// The most that is taken from outside; nobody mixes more than 100 litres.
    pub const MOST_ML: i64 = 100_000;

    /// A volume told in a unit.
    ///
    /// # Errors
    /// Not above zero, or more than [`Volume::MOST_ML`]; the remark names `field`.
    pub fn told(field: &str, amount: &Exact, unit: Unit) -> Result<Self, Remark> {
        let volume = Self { microlitres: amount * &unit.in_microlitres() };
        if volume.microlitres <= Exact::zero() || volume.ml() > Exact::whole(Self::MOST_ML) {
            return Err(Remark::new("measure-volume-outside")
                .with("field", field)
                .with("value", format!("{amount} {}", unit.word()))
                .with("most", (Self::MOST_ML / 1000).to_string()));
        }
        Ok(volume)
    }

    /// A volume as it is kept.
    ///
    /// # Errors
    /// As for [`Volume::told`].
    pub fn from_microlitres(field: &str, microlitres: i64) -> Result<Self, Remark> {
        Self::told(field, &Exact::with_places(microlitres, 3), Unit::Millilitre)
    }

    #[must_use]
    pub fn ml(&self) -> Exact {
        self.amount(Unit::Millilitre)
    }

    /// How many of a unit it is.
    #[must_use]
    pub fn amount(&self, unit: Unit) -> Exact {
        quotient(&self.microlitres, &unit.in_microlitres())
    }

    /// The nearest whole number of microlitres, for the record.
    #[must_use]
    pub fn to_microlitres(&self) -> i64 {
        self.microlitres.rounded(Rounding::half_up(0)).to_i64().unwrap_or(i64::MAX)
    }

    pub(in crate::trade) fn of_ml(ml: &Exact) -> Self {
        Self { microlitres: ml * &Exact::whole(1000) }
    }

    pub(in crate::trade) fn plus(&self, other: &Self) -> Self {
        Self { microlitres: &self.microlitres + &other.microlitres }
    }

    pub(in crate::trade) fn times(&self, factor: &Exact) -> Self {
        Self { microlitres: &self.microlitres * factor }
    }

    pub(in crate::trade) fn over(&self, other: &Self) -> Exact {
        quotient(&self.microlitres, &other.microlitres)
    }
}

/// A figure and how far it may be off, because a drop is no fixed volume.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Span<T> {
    pub at: T,
    pub low: T,
    pub high: T,
}

/// Degrees Baumé of a liquid heavier than water, by the modulus of 145 used in the United States at 60/60 °F
/// (Roberts and Etherington, "Bookbinding and the Conservation of Books"). The moduli 144, 144.3 and 146.78
/// are other scales of the same name.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Baume(Exact);

impl Baume {
    const MODULUS: i64 = 145;
    const MOST: i64 = 80;

    /// Degrees from 0 (water) to 80.
    ///
    /// # Errors
    /// Anything else; the remark names `field`.
    pub fn degrees(field: &str, degrees: Exact) -> Result<Self, Remark> {
        if degrees.is_negative() || degrees > Exact::whole(Self::MOST) {
            return Err(Remark::new("measure-baume-outside")
                .with("field", field)
                .with("value", degrees.to_string())
                .with("most", Self::MOST));
        }
        Ok(Self(degrees))
    }

    /// Degrees as they are kept.
    ///
    /// # Errors
    /// As for [`Baume::degrees`].
    pub fn tenths(field: &str, tenths: i32) -> Result<Self, Remark> {
        Self::degrees(field, Exact::with_places(tenths.into(), 1))
    }

    /// What a hydrometer marked in specific gravity shows, as degrees.
    ///
    /// # Errors
    /// Lighter than water, or beyond 80 degrees; the remark names `field`.
    pub fn of_specific_gravity(field: &str, gravity: &Exact) -> Result<Self, Remark> {
        let modulus = Exact::whole(Self::MODULUS);
        let lightness = if gravity.is_negative() { None } else { modulus.over(gravity) };
        lightness.ok_or_else(|| gravity_outside(field, gravity)).and_then(|lightness| {
            Self::degrees(field, &modulus - &lightness).map_err(|_degrees| gravity_outside(field, gravity))
        })
    }

    /// Density over that of water, both at 60 °F.
    ///
    /// ```
    /// use tympan::trade::{exact::{Exact, Rounding}, measure::Baume};
    /// let gum = Baume::tenths("baume", 140)?;
    /// assert_eq!(gum.specific_gravity().text(Rounding::half_up(4)), "1.1069");
    /// # Ok::<(), tympan::trade::remark::Remark>(())
    /// ```
    #[must_use]
    pub fn specific_gravity(&self) -> Exact {
        let modulus = Exact::whole(Self::MODULUS);
        quotient(&modulus, &(&modulus - &self.0))
    }

    /// Density in g/mL: water at 60 °F has 0.9990.
    #[must_use]
    pub fn grams_per_ml(&self) -> Exact {
        &self.specific_gravity() * &Exact::with_places(9990, 4)
    }

    #[must_use]
    pub fn value(&self) -> &Exact {
        &self.0
    }
}

fn gravity_outside(field: &str, gravity: &Exact) -> Remark {
    Remark::new("measure-gravity-outside").with("field", field).with("value", gravity.to_string())
}

/// A pH that somebody read off a strip, a meter or a label: between 0 and 14.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Ph(Exact);

impl Ph {
    /// A pH as it was told.
    ///
    /// # Errors
    /// Outside 0 to 14; the remark names `field`.
    pub fn told(field: &str, ph: Exact) -> Result<Self, Remark> {
        if ph.is_negative() || ph > Exact::whole(14) {
            return Err(Remark::new("measure-ph-outside").with("field", field).with("value", ph.to_string()));
        }
        Ok(Self(ph))
    }

    /// A pH as it is kept.
    ///
    /// # Errors
    /// As for [`Ph::told`].
    pub fn hundredths(field: &str, hundredths: i32) -> Result<Self, Remark> {
        Self::told(field, Exact::hundredths(hundredths.into()))
    }

    #[must_use]
    pub fn value(&self) -> f64 {
        self.0.to_f64()
    }

    #[must_use]
    pub fn exact(&self) -> &Exact {
        &self.0
    }
}

impl fmt::Display for Ph {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// The quotient by what a type of this floor keeps above zero; should a zero get there after all, the answer is
/// zero and not a panic.
pub(in crate::trade) fn quotient(top: &Exact, by: &Exact) -> Exact {
    top.over(by).unwrap_or_else(Exact::zero)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exact(text: &str) -> Exact {
        Exact::decimal(text).unwrap()
    }

    #[test]
    fn an_ounce_is_exact_and_survives_the_record() {
        let ounce = Volume::told("volume", &Exact::one(), Unit::UsFluidOunce).unwrap();
        assert_eq!(ounce.ml(), exact("29.5735295625"));
        assert_eq!(ounce.to_microlitres(), 29_574);
        assert_eq!(ounce.amount(Unit::UsFluidOunce), Exact::one());
        let kept = Volume::from_microlitres("volume", ounce.to_microlitres()).unwrap();
        assert_eq!(kept.ml(), exact("29.574"));
    }

    #[test]
    fn ounces_of_another_kind_are_never_guessed() {
        for (word, key) in [
            ("imp_fl_oz", "measure-unit-imperial"),
            ("Imperial fl oz", "measure-unit-imperial"),
            ("uk_fl_oz", "measure-unit-imperial"),
            ("oz", "measure-unit-which-ounce"),
            ("fl. oz", "measure-unit-which-ounce"),
            ("drops", "measure-unit-drops"),
            ("ML", "measure-unit-unknown"),
            ("", "measure-unit-unknown"),
        ] {
            assert_eq!(Unit::read("gum.unit", word).unwrap_err().key, key, "{word}");
        }
        assert_eq!(Unit::read("gum.unit", "us_fl_oz"), Ok(Unit::UsFluidOunce));
    }

    #[test]
    fn what_cannot_be_is_refused() {
        for amount in ["0", "-1", "100000.001", "1000000000000"] {
            let refused = Volume::told("volume", &exact(amount), Unit::Millilitre).unwrap_err();
            assert_eq!(refused.key, "measure-volume-outside", "{amount}");
        }
        assert!(Volume::from_microlitres("volume", i64::MIN).is_err());
        assert!(Volume::from_microlitres("volume", 1).is_ok());
        assert!(Baume::tenths("baume", -1).is_err() && Baume::tenths("baume", 801).is_err());
        assert!(Ph::hundredths("ph", -1).is_err() && Ph::hundredths("ph", 1401).is_err());
        for gravity in ["0", "-1", "0.99", "2.3"] {
            let refused = Baume::of_specific_gravity("gravity", &exact(gravity)).unwrap_err();
            assert_eq!(refused.key, "measure-gravity-outside", "{gravity}");
        }
    }

    #[test]
    fn specific_gravity_comes_back_as_the_same_degrees() {
        for tenths in 0..=800 {
            let baume = Baume::tenths("baume", tenths).unwrap();
            assert_eq!(Baume::of_specific_gravity("gravity", &baume.specific_gravity()), Ok(baume));
        }
    }
}
