//! Exact numbers: rationals read from decimal text, reckoned without loss, and rounded once when written.
//!
//! Floats stop at the door: a JSON number becomes the decimal that its shortest text spells, so 0.1 is one
//! tenth and nothing else.

mod reading;
mod small;

use std::cmp::Ordering;
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, Mul, Sub};

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{One, Signed, ToPrimitive, Zero};

use crate::spelled;
use crate::trade::remark::Remark;

use small::Small;

/// A rational number of any size. Its unit is said by whoever holds it.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Exact(Size);

/// A number has one size only: whatever can be small is.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
enum Size {
    Small(Small),
    Large(Box<BigRational>),
}

spelled!(
    /// What to do with the digits after the last place.
    Ties {
        /// To the nearest, a tie away from zero: 89.5 becomes 90. The usual rule for grades.
        HalfUp = "half_up",
        /// To the nearest, a tie to the even digit: the default of NIST SP 811 and ASTM E29 (from memory).
        HalfEven = "half_even",
        /// Cut off: what some registrars do with grade points.
        Truncate = "truncate",
    }
);

/// Decimal places and what happens to the rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rounding {
    pub places: u32,
    pub ties: Ties,
}

impl Rounding {
    /// The most decimal places that may be asked for.
    pub const MOST_PLACES: u32 = 12;

    /// To the nearest, ties away from zero.
    #[must_use]
    pub const fn half_up(places: u32) -> Self {
        Self { places, ties: Ties::HalfUp }
    }

    /// # Errors
    /// More than [`Rounding::MOST_PLACES`] are asked for.
    pub fn check(self) -> Result<(), Remark> {
        if self.places <= Self::MOST_PLACES {
            return Ok(());
        }
        Err(Remark::new("exact-places-bad")
            .with("value", i64::from(self.places))
            .with("most", i64::from(Self::MOST_PLACES)))
    }
}

impl Exact {
    /// Longer text is no number of ours; the longest f64 fits.
    const MOST_DIGITS: usize = 1100;

    #[must_use]
    pub fn whole(number: i64) -> Self {
        Self(Size::Small(Small::whole(number)))
    }

    /// From hundredths of a unit: points are kept so.
    #[must_use]
    pub fn hundredths(number: i64) -> Self {
        Small::ratio(number, 100)
    }

    /// `number` with its last `places` digits behind the point: `with_places(9990, 4)` is 0.999.
    #[must_use]
    pub fn with_places(number: i64, places: u32) -> Self {
        match 10_u64.checked_pow(places) {
            Some(by) => Small::ratio(number, by),
            None => BigRational::new(number.into(), ten_to(places)).into(),
        }
    }

    /// A number of percent from basis points: weights are kept so, 5000 being 50 percent.
    #[must_use]
    pub fn percent_from_basis_points(number: i64) -> Self {
        Self::hundredths(number)
    }

    #[must_use]
    pub fn zero() -> Self {
        Self::whole(0)
    }

    #[must_use]
    pub fn one() -> Self {
        Self::whole(1)
    }

    /// Reads plain decimal text: a sign, digits, a point and digits; no exponent, no blanks.
    ///
    /// ```
    /// use tympan::trade::exact::Exact;
    /// assert_eq!(Exact::decimal("88.50"), Some(Exact::hundredths(8850)));
    /// assert_eq!(Exact::decimal("88,50"), None);
    /// ```
    #[must_use]
    pub fn decimal(text: &str) -> Option<Self> {
        let (minus, digits) = match text.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, text),
        };
        let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
        let all_digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
        if !all_digits(whole) || !all_digits(part) || text.len() > Self::MOST_DIGITS {
            return None;
        }
        let number: BigInt = format!("{whole}{part}").parse().ok()?;
        let number = if minus { -number } else { number };
        Some(BigRational::new(number, ten_to(u32::try_from(part.len()).ok()?)).into())
    }

    #[must_use]
    pub fn is_zero(&self) -> bool {
        self.signum() == 0
    }

    #[must_use]
    pub fn is_negative(&self) -> bool {
        self.signum() < 0
    }

    /// 1, 0 or −1.
    fn signum(&self) -> i64 {
        match &self.0 {
            Size::Small(small) => small.signum(),
            Size::Large(large) => {
                if large.is_negative() {
                    -1
                } else {
                    1
                }
            }
        }
    }

    /// The number as the library reckons with it.
    fn large(&self) -> BigRational {
        match &self.0 {
            Size::Small(small) => small.large(),
            Size::Large(large) => (**large).clone(),
        }
    }

    /// The quotient, or nothing when `by` is zero.
    #[must_use]
    pub fn over(&self, by: &Self) -> Option<Self> {
        if let (Size::Small(number), Size::Small(by)) = (&self.0, &by.0) {
            return number.over(*by);
        }
        (!by.is_zero()).then(|| (self.large() / by.large()).into())
    }

    #[must_use]
    pub fn squared(&self) -> Self {
        self * self
    }

    /// The smallest whole number not below this one.
    #[must_use]
    pub fn ceiling(&self) -> Self {
        self.large().ceil().into()
    }

    /// The largest whole number not above this one.
    #[must_use]
    pub fn floor(&self) -> Self {
        self.large().floor().into()
    }

    /// The nearest f64, for physics and for JSON; infinite when the number is beyond all of them.
    #[must_use]
    pub fn to_f64(&self) -> f64 {
        self.large().to_f64().unwrap_or(f64::INFINITY)
    }

    /// This number if it is a whole one that fits.
    #[must_use]
    pub fn to_i64(&self) -> Option<i64> {
        match &self.0 {
            Size::Small(small) => small.to_i64(),
            Size::Large(_) => None,
        }
    }

    /// The nearest number with so many decimal places.
    #[must_use]
    pub fn rounded(&self, rounding: Rounding) -> Self {
        let scaled = self.scaled_small(rounding).and_then(|scaled| i64::try_from(scaled).ok());
        match (scaled, 10_u64.checked_pow(rounding.places)) {
            (Some(scaled), Some(by)) => Small::ratio(scaled, by),
            _ => BigRational::new(self.scaled(rounding), ten_to(rounding.places)).into(),
        }
    }

    /// Decimal text with exactly so many places.
    ///
    /// ```
    /// use tympan::trade::exact::{Exact, Rounding};
    /// assert_eq!(Exact::whole(2).over(&Exact::whole(3)).unwrap().text(Rounding::half_up(4)), "0.6667");
    /// ```
    #[must_use]
    pub fn text(&self, rounding: Rounding) -> String {
        let places = usize::try_from(rounding.places).unwrap_or(usize::MAX);
        let width = places.saturating_add(1);
        let (minus, digits) = match self.scaled_small(rounding) {
            Some(scaled) => (scaled < 0, format!("{:0>width$}", scaled.unsigned_abs())),
            None => {
                let scaled = self.scaled(rounding);
                (scaled.is_negative(), format!("{:0>width$}", scaled.abs()))
            }
        };
        let sign = if minus { "-" } else { "" };
        let (whole, part) = digits.split_at(digits.len().saturating_sub(places));
        if part.is_empty() { format!("{sign}{whole}") } else { format!("{sign}{whole}.{part}") }
    }

    /// Whether the number is written in full by at most six decimal places.
    #[must_use]
    pub fn is_short(&self) -> bool {
        match &self.0 {
            Size::Small(small) => small.divides(SHORT_DENOMINATOR),
            Size::Large(large) => (BigInt::from(SHORT_DENOMINATOR) % large.denom()).is_zero(),
        }
    }

    /// The sign to set before what `Display` writes, when what it follows from is written the same way: "=" if
    /// all is in full, "≈" if any digits are left out.
    #[must_use]
    pub fn equals(&self, from: &[&Self]) -> &'static str {
        if self.is_short() && from.iter().all(|number| number.is_short()) { "=" } else { "≈" }
    }

    fn scaled(&self, rounding: Rounding) -> BigInt {
        let scaled = self.large() * BigRational::from_integer(ten_to(rounding.places));
        let whole = scaled.trunc().to_integer();
        let half = (scaled.fract() * BigRational::from_integer(2.into())).abs().cmp(&BigRational::one());
        let odd = (&whole % BigInt::from(2)) != BigInt::zero();
        if rounding.ties.away(half, odd) { whole + scaled.numer().signum() } else { whole }
    }

    fn scaled_small(&self, rounding: Rounding) -> Option<i128> {
        let Size::Small(number) = &self.0 else { return None };
        let (whole, half) = number.scaled(10_i64.checked_pow(rounding.places)?)?;
        let away = rounding.ties.away(half, whole % 2 != 0);
        Some(if away { whole + i128::from(number.signum()) } else { whole })
    }
}

impl From<BigRational> for Exact {
    fn from(number: BigRational) -> Self {
        Self(Small::of(&number).map_or_else(|| Size::Large(Box::new(number)), Size::Small))
    }
}

impl Ties {
    /// Whether what was cut off, twice it compared with one as `half` says, takes the last digit away from zero.
    fn away(self, half: Ordering, odd: bool) -> bool {
        match self {
            Self::HalfUp => half.is_ge(),
            Self::HalfEven => half.is_gt() || (half.is_eq() && odd),
            Self::Truncate => false,
        }
    }
}

/// For people: all decimal places when there are at most six, otherwise four; [`Exact::equals`] tells which.
impl fmt::Display for Exact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.is_short() {
            return f.write_str(&self.text(Rounding::half_up(4)));
        }
        let text = self.text(SHORT);
        f.write_str(text.trim_end_matches('0').trim_end_matches('.'))
    }
}

const SHORT: Rounding = Rounding { places: 6, ties: Ties::Truncate };
const SHORT_DENOMINATOR: u64 = 1_000_000;

fn ten_to(places: u32) -> BigInt {
    BigInt::from(10).pow(places)
}

impl Ord for Exact {
    fn cmp(&self, other: &Self) -> Ordering {
        match (&self.0, &other.0) {
            (Size::Small(one), Size::Small(other)) => one.compare(*other),
            _ => self.large().cmp(&other.large()),
        }
    }
}

impl PartialOrd for Exact {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

macro_rules! operator {
    ($name:ident, $method:ident, $sign:tt, $small:expr) => {
        impl $name<&Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact {
                match (&self.0, &other.0) {
                    (Size::Small(one), Size::Small(other)) => $small(*one, *other),
                    _ => (self.large() $sign other.large()).into(),
                }
            }
        }
        impl $name for Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact {
                &self $sign &other
            }
        }
    };
}

operator!(Add, add, +, Small::plus);
operator!(Sub, sub, -, Small::minus);
operator!(Mul, mul, *, Small::times);

impl Sum for Exact {
    fn sum<I: Iterator<Item = Self>>(numbers: I) -> Self {
        numbers.fold(Self::zero(), |sum, number| sum + number)
    }
}

impl<'a> Sum<&'a Exact> for Exact {
    fn sum<I: Iterator<Item = &'a Exact>>(numbers: I) -> Self {
        numbers.fold(Self::zero(), |sum, number| &sum + number)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exact(text: &str) -> Exact {
        Exact::decimal(text).unwrap()
    }

    #[test]
    fn other_text_is_no_decimal() {
        for text in ["", "-", ".", "1.", ".5", "1e3", " 1", "1,5", "+1", "--1", "٣"] {
            assert_eq!(Exact::decimal(text), None, "{text}");
        }
    }

    /// (number, places, half up, half even, truncate), by Python's `decimal` module.
    #[test]
    fn rounding_treats_ties_as_told() {
        for (number, places, up, even, cut) in [
            ("89.5", 0, "90", "90", "89"),
            ("88.5", 0, "89", "88", "88"),
            ("-88.5", 0, "-89", "-88", "-88"),
            ("88.4999", 0, "88", "88", "88"),
            ("0.00005", 4, "0.0001", "0.0000", "0.0000"),
            ("-0.00004", 4, "0.0000", "0.0000", "0.0000"),
            ("2.675", 2, "2.68", "2.68", "2.67"),
            ("2.665", 2, "2.67", "2.66", "2.66"),
            ("100", 2, "100.00", "100.00", "100.00"),
        ] {
            for (ties, text) in [(Ties::HalfUp, up), (Ties::HalfEven, even), (Ties::Truncate, cut)] {
                let rounding = Rounding { places, ties };
                assert_eq!(exact(number).text(rounding), text, "{number} {ties:?}");
                assert_eq!(exact(number).rounded(rounding), exact(text), "{number} {ties:?}");
            }
        }
    }

    #[test]
    fn people_read_short_numbers_and_know_when_digits_are_missing() {
        assert_eq!(exact("88.50").to_string(), "88.5");
        assert_eq!(exact("100").to_string(), "100");
        let third = Exact::whole(266).over(&Exact::whole(3)).unwrap();
        assert_eq!((third.equals(&[]), third.to_string().as_str()), ("≈", "88.6667"));
        assert_eq!(exact("0.000001").equals(&[]), "=");
        assert_eq!(exact("1").equals(&[&third]), "≈");
    }
}
