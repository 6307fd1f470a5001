//! What coming late costs an item.

use crate::spelled;
use crate::trade::exact::Exact;

/// The rule of a class. How late a piece of work is comes from `trade::lateness` or is told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LateRule {
    /// Percent that each day late takes, 0 to 100.
    pub percent_per_day: Exact,
    /// Of what.
    pub of: Of,
    /// Work later than this scores 0; none: however late, the daily percent is all.
    pub max_days: Option<u32>,
    /// Hours after the due time that cost nothing; only lateness told in hours needs them.
    pub grace_hours: Exact,
}

spelled!(
    /// What a day's percent is taken of.
    Of {
        /// Of the points the item could bring.
        Possible = "possible",
        /// Of the points it did bring.
        Earned = "earned",
    }
);

/// How late an item came.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Lateness {
    /// Days already counted, grace and uncounted dates seen to.
    Days(u32),
    /// Hours after the due time: the grace comes off, then every begun 24 hours are a day.
    Hours(Exact),
}

/// A score with its penalty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Penalty {
    pub(super) days: Exact,
    /// What the days ask for, which can be more than there is.
    pub(super) off: Exact,
    pub(super) left: Exact,
    pub(super) too_late: bool,
}

impl Lateness {
    /// Days late under a grace.
    pub(super) fn days(&self, grace_hours: &Exact) -> Exact {
        match self {
            Self::Days(days) => Exact::whole(i64::from(*days)),
            Self::Hours(hours) => {
                let days =
                    (hours - grace_hours).over(&Exact::whole(24)).unwrap_or_else(Exact::zero).ceiling();
                days.max(Exact::zero())
            }
        }
    }

    pub(super) fn is_late(&self) -> bool {
        match self {
            Self::Days(days) => *days > 0,
            Self::Hours(hours) => *hours > Exact::zero(),
        }
    }
}

impl LateRule {
    /// The penalty on `score` out of `points`; never takes more than there is.
    pub(super) fn on(&self, score: &Exact, points: &Exact, lateness: &Lateness) -> Penalty {
        let days = lateness.days(&self.grace_hours);
        let too_late = self.max_days.is_some_and(|most| days > Exact::whole(i64::from(most)));
        let base = match self.of {
            Of::Possible => points,
            Of::Earned => score,
        };
        let share = &(&self.percent_per_day * &days) * &Exact::hundredths(1);
        let off = &share * base;
        let left = if too_late { Exact::zero() } else { (score - &off).max(Exact::zero()) };
        Penalty { days, off, left, too_late }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rule(of: Of, max_days: Option<u32>) -> LateRule {
        LateRule { percent_per_day: Exact::whole(10), of, max_days, grace_hours: Exact::hundredths(25) }
    }

    fn left(rule: &LateRule, score: i64, lateness: Lateness) -> Exact {
        rule.on(&Exact::whole(score), &Exact::whole(100), &lateness).left
    }

    #[test]
    fn a_day_takes_its_percent_of_what_the_rule_names() {
        assert_eq!(left(&rule(Of::Possible, None), 80, Lateness::Days(2)), Exact::whole(60));
        assert_eq!(left(&rule(Of::Earned, None), 80, Lateness::Days(2)), Exact::whole(64));
        assert_eq!(left(&rule(Of::Possible, None), 15, Lateness::Days(2)), Exact::zero());
        assert_eq!(left(&rule(Of::Earned, None), 80, Lateness::Days(11)), Exact::zero());
    }

    #[test]
    fn later_than_the_last_day_scores_nothing() {
        assert_eq!(left(&rule(Of::Possible, Some(5)), 80, Lateness::Days(5)), Exact::whole(30));
        assert_eq!(left(&rule(Of::Possible, Some(5)), 80, Lateness::Days(6)), Exact::zero());
        assert_eq!(left(&rule(Of::Earned, Some(0)), 80, Lateness::Days(1)), Exact::zero());
    }

    #[test]
    fn hours_count_after_the_grace_and_in_begun_days() {
        for (hours, days) in [("0", 0), ("0.25", 0), ("0.26", 1), ("24.25", 1), ("24.2501", 2)] {
            let lateness = Lateness::Hours(Exact::decimal(hours).unwrap());
            assert_eq!(lateness.days(&Exact::hundredths(25)), Exact::whole(days), "{hours}");
        }
    }
}
