//! Krippendorff's alpha: agreement of any number of raters, any of whom may have left units out.
//!
//! Definitions: K. Krippendorff, "Computing Krippendorff's alpha-reliability" (2011).

use std::collections::BTreeMap;

use super::{Coefficient, count, same_lengths};
use crate::spelled;
use crate::trade::exact::Exact;
use crate::trade::remark::Remark;

spelled!(
    /// What the values are, and so what their distance means.
    Level {
        /// Names: alike or not.
        Nominal = "nominal",
        /// Ranks: how many given values lie between.
        Ordinal = "ordinal",
        /// A scale with equal steps: the difference.
        Interval = "interval",
        /// A scale with a zero: the difference against the sum.
        Ratio = "ratio",
    }
);

/// Reckons alpha from a row for each rater and a column for each unit, `None` where a rater gave no value.
/// Units with fewer than two values say nothing about agreement and are left out.
///
/// # Errors
/// The rows differ in length, or a value on a ratio scale is negative.
pub fn krippendorff(ratings: &[Vec<Option<Exact>>], level: Level) -> Result<Coefficient, Remark> {
    let units = same_lengths(ratings)?;
    let negative = ratings.iter().flatten().flatten().find(|value| value.is_negative());
    if let (Level::Ratio, Some(value)) = (level, negative) {
        return Err(Remark::new("agreement-ratio-negative").with("value", value.to_string()));
    }
    let units: Vec<Counts<'_>> =
        (0..units).map(|unit| counts_of(ratings, unit)).filter(|counts| total(counts) > 1).collect();
    let mut all = Counts::new();
    for (value, times) in units.iter().flatten() {
        let sum: &mut i64 = all.entry(value).or_default();
        *sum = sum.saturating_add(*times);
    }
    let given = total(&all);
    let distances = Distances { level, all: &all };
    let observed: Exact = units.iter().map(|unit| distances.within(unit)).sum();
    let observed = observed.over(&Exact::whole(given)).unwrap_or_else(Exact::zero);
    let expected = distances.within(&all).over(&Exact::whole(given)).unwrap_or_else(Exact::zero);
    let value = observed.over(&expected).map(|share| Exact::one() - share);
    let working = working(&units, given, &observed, &expected, value.as_ref());
    Ok(Coefficient { value, observed, expected, working })
}

/// How often each value was given, in rising order.
type Counts<'a> = BTreeMap<&'a Exact, i64>;

fn counts_of(ratings: &[Vec<Option<Exact>>], unit: usize) -> Counts<'_> {
    let mut counts = Counts::new();
    for value in ratings.iter().filter_map(|row| row.get(unit)?.as_ref()) {
        let times = counts.entry(value).or_default();
        *times = times.saturating_add(1);
    }
    counts
}

fn total(counts: &Counts<'_>) -> i64 {
    counts.values().fold(0, |sum, times| sum.saturating_add(*times))
}

/// Distances of values under a level; ranks depend on how often all values were given.
struct Distances<'a> {
    level: Level,
    all: &'a Counts<'a>,
}

impl Distances<'_> {
    /// The sum over all ordered pairs of values given here, each over the number of partners a value has.
    /// Over one unit it is the unit's part of the observed disagreement, over all values that of chance.
    fn within(&self, counts: &Counts<'_>) -> Exact {
        let partners = Exact::whole(total(counts).saturating_sub(1));
        let pairs = counts.iter().flat_map(|(one, times)| {
            let later =
                counts.range::<Exact, _>((std::ops::Bound::Excluded(*one), std::ops::Bound::Unbounded));
            later.map(move |(other, others)| (one, other, Exact::whole(*times) * Exact::whole(*others)))
        });
        let sum: Exact = pairs.map(|(one, other, times)| times * self.squared(one, other)).sum();
        (Exact::whole(2) * sum).over(&partners).unwrap_or_else(Exact::zero)
    }

    /// The squared distance of two values, the first smaller.
    fn squared(&self, one: &Exact, other: &Exact) -> Exact {
        match self.level {
            Level::Nominal => Exact::one(),
            Level::Ordinal => self.ranks_between(one, other).squared(),
            Level::Interval => (other - one).squared(),
            // Both are 0 or more and they differ, so their sum is not zero.
            Level::Ratio => (other - one).over(&(one + other)).unwrap_or_else(Exact::zero).squared(),
        }
    }

    /// Times any value from the one to the other was given, both ends by half.
    fn ranks_between(&self, one: &Exact, other: &Exact) -> Exact {
        let times = |value: &Exact| self.all.get(value).copied().unwrap_or(0);
        let between =
            self.all.range::<Exact, _>(one..=other).map(|(_, times)| Exact::whole(*times)).sum::<Exact>();
        between - Exact::whole(times(one).saturating_add(times(other))) * Exact::hundredths(50)
    }
}

fn working(
    units: &[Counts<'_>],
    given: i64,
    observed: &Exact,
    expected: &Exact,
    value: Option<&Exact>,
) -> Vec<Remark> {
    let used = Remark::new("agreement-line-units").with("units", count(units.len())).with("values", given);
    let last = match value {
        Some(value) => Remark::new("agreement-line-krippendorff")
            .with("observed", observed.to_string())
            .with("expected", expected.to_string())
            .with("equals", value.equals(&[observed, expected]))
            .with("value", value.to_string()),
        None => Remark::new("agreement-line-krippendorff-none"),
    };
    vec![used, last]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::spelled::Spelled;

    fn row(values: &[i64]) -> Vec<Option<Exact>> {
        values.iter().map(|value| (*value >= 0).then(|| Exact::whole(*value))).collect()
    }

    #[test]
    fn full_agreement_is_one_and_no_variation_is_nothing() {
        for level in Level::ALL {
            let full = krippendorff(&[row(&[1, 2, 0]), row(&[1, 2, 0])], *level).unwrap();
            assert_eq!(full.value, Some(Exact::one()), "{level:?}");
            for ratings in
                [vec![row(&[3, 3]), row(&[3, 3])], vec![row(&[1, -1]), row(&[-1, 2])], vec![], vec![row(&[])]]
            {
                let none = krippendorff(&ratings, *level).unwrap();
                assert_eq!(none.value, None, "{level:?}");
                assert_eq!(none.working.last().unwrap().key, "agreement-line-krippendorff-none");
            }
        }
    }

    #[test]
    fn ratings_without_sense_are_refused() {
        assert_eq!(
            krippendorff(&[row(&[1, 2]), row(&[1])], Level::Nominal).unwrap_err().key,
            "agreement-rows-uneven"
        );
        let below = vec![vec![Some(Exact::whole(-1))], vec![Some(Exact::whole(1))]];
        assert_eq!(krippendorff(&below, Level::Ratio).unwrap_err().key, "agreement-ratio-negative");
        assert!(krippendorff(&below, Level::Interval).is_ok());
    }
}
