//! More time: how far a due date moves for somebody who is granted days, or percent of the time the class has.

use chrono::{Days, NaiveDateTime};

/// What is granted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MoreTime {
    Days(u32),
    /// Percent of the calendar days between when the class begins on it and when it is due.
    Percent(u32),
}

impl MoreTime {
    /// The due date with more time: whole days later, begun days counted whole, at the same wall time. None where the
    /// calendar ends.
    #[must_use]
    pub fn due(self, begins: NaiveDateTime, due: NaiveDateTime) -> Option<NaiveDateTime> {
        let days = match self {
            Self::Days(days) => u64::from(days),
            Self::Percent(percent) => {
                let span = due.date().signed_duration_since(begins.date()).num_days();
                u64::try_from(span).unwrap_or(0).checked_mul(u64::from(percent))?.div_ceil(100)
            }
        };
        due.checked_add_days(Days::new(days))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::civil;

    fn at(text: &str) -> NaiveDateTime {
        civil::local("at", text).unwrap()
    }

    #[test]
    fn begun_days_are_whole_and_the_clock_stays() {
        // By hand: from 1 to 15 September are 14 days; half more are 7, a quarter more 3.5, so 4 begun days.
        let (begins, due) = (at("2026-09-01T09:00"), at("2026-09-15T16:30"));
        assert_eq!(MoreTime::Percent(50).due(begins, due), Some(at("2026-09-22T16:30")));
        assert_eq!(MoreTime::Percent(25).due(begins, due), Some(at("2026-09-19T16:30")));
        assert_eq!(MoreTime::Days(3).due(begins, due), Some(at("2026-09-18T16:30")));
        assert_eq!(MoreTime::Percent(50).due(due, begins), Some(begins), "nothing lies between");
        assert_eq!(MoreTime::Percent(0).due(begins, due), Some(due));
    }
}
