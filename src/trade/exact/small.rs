//! Arithmetic of exact numbers whose parts fit 64 bits, as nearly all of a class do. The results are those of the library,
//! which reduces every fraction by shifting big numbers and takes several times as long.

use std::cmp::Ordering;

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::ToPrimitive;

use super::{Exact, Size};

/// A reduced fraction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Small {
    numer: i64,
    /// From 1 to 2^63 − 1.
    denom: u64,
}

impl Small {
    pub(super) const fn whole(number: i64) -> Self {
        Self { numer: number, denom: 1 }
    }

    /// None: a part is larger, and the library reckons.
    pub(super) fn of(number: &BigRational) -> Option<Self> {
        let denom = u64::try_from(number.denom().to_i64()?).ok()?;
        Some(Self { numer: number.numer().to_i64()?, denom })
    }

    /// The same number as the library has it.
    pub(super) fn large(self) -> BigRational {
        BigRational::new_raw(BigInt::from(self.numer), BigInt::from(self.denom))
    }

    /// A number over a divisor that is not zero, reduced.
    pub(super) fn ratio(number: i64, by: u64) -> Exact {
        let common = gcd(number.unsigned_abs(), by).max(1);
        fraction(over(number.into(), common), u128::from(by / common))
    }

    /// The number times `by` as a whole, cut off towards zero, and twice what was cut off compared with one.
    /// None: `by` is too large.
    pub(super) fn scaled(self, by: i64) -> Option<(i128, Ordering)> {
        if let (Some(numer), Ok(denom)) = (self.numer.checked_mul(by), i64::try_from(self.denom)) {
            let rest = (numer % denom).unsigned_abs();
            return Some((i128::from(numer / denom), rest.cmp(&(self.denom - rest))));
        }
        let (numer, denom) = (i128::from(self.numer).checked_mul(by.into())?, i128::from(self.denom));
        let rest = (numer % denom).checked_abs()?;
        Some((numer / denom, rest.cmp(&(denom - rest))))
    }

    /// 1, 0 or −1.
    pub(super) fn signum(self) -> i64 {
        self.numer.signum()
    }

    /// Whether the denominator goes into a number.
    pub(super) fn divides(self, number: u64) -> bool {
        number.is_multiple_of(self.denom)
    }

    /// None: it is no whole number.
    pub(super) fn to_i64(self) -> Option<i64> {
        (self.denom == 1).then_some(self.numer)
    }

    pub(super) fn plus(self, other: Self) -> Exact {
        self.and(other.denom, other.numer.into())
    }

    pub(super) fn minus(self, other: Self) -> Exact {
        self.and(other.denom, -i128::from(other.numer))
    }

    /// With g the greatest common divisor of the denominators, only a divisor of g can be left to reduce by (Knuth, The Art
    /// of Computer Programming 2, 4.5.1).
    fn and(self, denom: u64, numer: i128) -> Exact {
        let common = gcd(self.denom, denom);
        let (own, others) = (self.denom / common, denom / common);
        let numer = i128::from(self.numer) * i128::from(others) + numer * i128::from(own);
        let left = match common {
            1 => 1,
            _ => gcd(u64::try_from(numer.unsigned_abs() % u128::from(common)).unwrap_or(0), common),
        };
        fraction(over(numer, left), u128::from(own) * u128::from(denom / left))
    }

    pub(super) fn times(self, other: Self) -> Exact {
        self.by(other.numer.into(), other.denom)
    }

    /// None: the other is zero.
    pub(super) fn over(self, other: Self) -> Option<Exact> {
        let denom = Some(other.numer.unsigned_abs()).filter(|denom| *denom > 0)?;
        Some(self.by(i128::from(other.denom) * i128::from(other.numer.signum()), denom))
    }

    /// Times a reduced fraction whose parts are no farther from zero than 2^63.
    fn by(self, numer: i128, denom: u64) -> Exact {
        let others = u64::try_from(numer.unsigned_abs()).unwrap_or(1);
        let (across, back) = (gcd(self.numer.unsigned_abs(), denom), gcd(others, self.denom));
        let numer = over(self.numer.into(), across) * over(numer, back);
        fraction(numer, u128::from(self.denom / back) * u128::from(denom / across))
    }

    pub(super) fn compare(self, other: Self) -> Ordering {
        let across = |one: Self, other: Self| i128::from(one.numer) * i128::from(other.denom);
        across(self, other).cmp(&across(other, self))
    }
}

/// A fraction that is reduced already, but for zero.
fn fraction(numer: i128, denom: u128) -> Exact {
    if numer == 0 {
        return Exact::zero();
    }
    if let (Ok(numer), Ok(denom)) = (i64::try_from(numer), i64::try_from(denom)) {
        return Exact(Size::Small(Small { numer, denom: denom.unsigned_abs() }));
    }
    Exact(Size::Large(Box::new(BigRational::new_raw(BigInt::from(numer), BigInt::from(denom)))))
}

/// A number by a divisor of it. Processors divide numbers of 64 bits themselves; longer ones take many times as long.
fn over(number: i128, by: u64) -> i128 {
    match (i64::try_from(number), i64::try_from(by)) {
        (_, Ok(1)) => number,
        (Ok(number), Ok(by)) => i128::from(number / by),
        _ => number / i128::from(by),
    }
}

fn gcd(mut one: u64, mut other: u64) -> u64 {
    while other != 0 {
        (one, other) = (other, one % other);
    }
    one
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Small and large parts, with the edges of 64 bits among them.
    fn parts() -> impl Strategy<Value = (i64, i64)> {
        let edge = prop::sample::select(vec![0, 1, -1, 100, i64::MAX, i64::MIN, i64::MIN + 1, i64::MAX - 1]);
        let numer = prop_oneof![4 => -10_000_i64..10_000, 2 => any::<i64>(), 1 => edge];
        let denom = prop_oneof![4 => 1_i64..10_000, 2 => 1_i64..=i64::MAX, 1 => Just(i64::MAX), 1 => Just(1)];
        (numer, denom)
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(4_000))]

        /// num-rational's own arithmetic is the reference.
        #[test]
        fn reckons_as_the_library_does((a, b) in parts(), (c, d) in parts()) {
            let (one, other) = (BigRational::new(a.into(), b.into()), BigRational::new(c.into(), d.into()));
            let (small, smaller) = (Small::of(&one).unwrap(), Small::of(&other).unwrap());
            prop_assert_eq!(small.plus(smaller), Exact::from(&one + &other));
            prop_assert_eq!(small.minus(smaller), Exact::from(&one - &other));
            prop_assert_eq!(small.times(smaller), Exact::from(&one * &other));
            prop_assert_eq!(small.compare(smaller), one.cmp(&other));
            prop_assert_eq!((small.signum() == 0, &small.large()), (a == 0, &one));
            match small.over(smaller) {
                Some(quotient) => prop_assert_eq!(quotient, Exact::from(&one / &other)),
                None => prop_assert_eq!(c, 0),
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(4_000))]

        #[test]
        fn cuts_off_as_the_library_does((a, b) in parts(), by in prop::sample::select(vec![1_i64, 10, 10_000, 1_000_000_000_000])) {
            let number = BigRational::new(a.into(), b.into());
            let scaled = &number * BigRational::from_integer(by.into());
            let (whole, half) = Small::of(&number).unwrap().scaled(by).unwrap();
            prop_assert_eq!(BigInt::from(whole), scaled.trunc().to_integer());
            let twice = scaled.fract() * BigRational::from_integer(2.into());
            prop_assert_eq!(half, num_traits::Signed::abs(&twice).cmp(&BigRational::from_integer(1.into())));
            let by = u64::try_from(by).unwrap();
            prop_assert_eq!(Small::ratio(a, by), Exact::from(BigRational::new(a.into(), by.into())));
        }
    }

    #[test]
    fn larger_parts_are_left_to_the_library() {
        let large = BigRational::from_integer(BigInt::from(i64::MAX) + 1);
        assert!(Small::of(&large).is_none() && Small::of(&large.recip()).is_none());
        // What grew too large and shrinks again is small again.
        let grown = &Exact::whole(i64::MAX) + &Exact::one();
        assert_eq!((&grown - &Exact::one()), Exact::whole(i64::MAX));
        assert_ne!(grown, Exact::whole(i64::MAX));
    }
}
