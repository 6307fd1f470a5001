//! A term counted in weeks, and days carried by week from one term into another.
//!
//! Weeks run from Monday to Sunday, as in ISO 8601. Week 1 holds the term's first day; a term that begins on a
//! Saturday or Sunday has its first week after that weekend. Because a whole number of weeks is added, days keep
//! their weekday, their order and their distance.

use chrono::{Datelike, Days, NaiveDate, NaiveDateTime, TimeDelta};

/// The Monday of week 1.
#[must_use]
pub fn first_monday(starts: NaiveDate) -> NaiveDate {
    let past_monday = u64::from(starts.weekday().num_days_from_monday());
    let monday = if past_monday < 5 {
        starts.checked_sub_days(Days::new(past_monday))
    } else {
        starts.checked_add_days(Days::new(7 - past_monday))
    };
    // Only the first and last week of chrono's calendar have no such Monday.
    monday.unwrap_or(starts)
}

/// The week of the term a day falls into, counted from 1; 0 and less before the first.
#[must_use]
pub fn week(starts: NaiveDate, day: NaiveDate) -> i64 {
    day.signed_duration_since(first_monday(starts)).num_days().div_euclid(7) + 1
}

/// The same weekday, week of term and wall time in another term. `None` beyond the calendar.
#[must_use]
pub fn carried(local: NaiveDateTime, from_starts: NaiveDate, to_starts: NaiveDate) -> Option<NaiveDateTime> {
    let apart: TimeDelta = first_monday(to_starts).signed_duration_since(first_monday(from_starts));
    local.checked_add_signed(apart)
}

/// The first day after `day` that is open, looking at most `most` days ahead.
#[must_use]
pub fn next_open_day(day: NaiveDate, most: usize, open: impl Fn(NaiveDate) -> bool) -> Option<NaiveDate> {
    day.iter_days().skip(1).take(most).find(|day| open(*day))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::civil::{date, local};

    fn day(text: &str) -> NaiveDate {
        date("day", text).unwrap()
    }

    /// Week numbers of ISO 8601: `date.isocalendar().week` of Python 3.11.
    #[test]
    fn weeks_are_those_of_the_calendar() {
        // (term's first day, its ISO week, day, its ISO week), all within one year
        for (starts, first, at, then) in [
            ("2026-08-31", 36, "2026-08-31", 36),
            ("2026-08-31", 36, "2026-09-06", 36),
            ("2026-08-31", 36, "2026-09-07", 37),
            ("2026-09-02", 36, "2026-08-31", 36),
            ("2026-09-02", 36, "2026-11-25", 48),
            ("2027-01-20", 3, "2027-04-29", 17),
            ("2027-01-20", 3, "2027-01-17", 2),
        ] {
            assert_eq!(week(day(starts), day(at)), then - first + 1, "{starts} {at}");
            assert_eq!(i64::from(day(at).iso_week().week()), then);
        }
        // A term that begins on a Saturday: its first week is the next one.
        assert_eq!(week(day("2026-08-29"), day("2026-08-31")), 1);
        assert_eq!(week(day("2026-08-30"), day("2026-08-30")), 0);
    }

    #[test]
    fn a_due_date_keeps_its_weekday_week_and_wall_time() {
        let to = |text, from, into| carried(local("due", text).unwrap(), day(from), day(into)).unwrap();
        // Thursday of week 3 of a term that begins on a Monday, into one that begins on a Wednesday.
        let moved = to("2026-09-17T16:30", "2026-08-31", "2027-01-20");
        assert_eq!(moved, local("due", "2027-02-04T16:30").unwrap());
        assert_eq!(week(day("2027-01-20"), moved.date()), 3);
        assert_eq!(moved.weekday(), chrono::Weekday::Thu);
        // Back again, and over a leap day.
        assert_eq!(
            to("2027-02-04T16:30", "2027-01-20", "2026-08-31"),
            local("due", "2026-09-17T16:30").unwrap()
        );
        assert_eq!(
            to("2027-03-01T09:00", "2027-01-18", "2028-01-17"),
            local("due", "2028-02-28T09:00").unwrap()
        );
        // A Monday of the first week lies before a term that begins on a Wednesday: for a person to settle.
        assert_eq!(
            to("2026-08-31T12:00", "2026-08-31", "2027-01-20"),
            local("due", "2027-01-18T12:00").unwrap()
        );
    }

    #[test]
    fn the_next_open_day_is_after_the_day_and_within_reach() {
        let closed = [day("2026-11-26"), day("2026-11-27"), day("2026-11-28"), day("2026-11-29")];
        let open = |day: NaiveDate| !closed.contains(&day);
        assert_eq!(next_open_day(day("2026-11-26"), 60, open), Some(day("2026-11-30")));
        assert_eq!(next_open_day(day("2026-11-30"), 60, open), Some(day("2026-12-01")));
        assert_eq!(next_open_day(day("2026-11-26"), 3, open), None);
        assert_eq!(next_open_day(NaiveDate::MAX, 60, open), None);
    }

    #[test]
    fn the_ends_of_the_calendar_do_not_panic() {
        for at in [NaiveDate::MIN, NaiveDate::MAX] {
            let _ = week(at, NaiveDate::MAX);
            let _ = week(at, NaiveDate::MIN);
            let _ = carried(NaiveDateTime::MAX, at, NaiveDate::MAX);
        }
        assert_eq!(carried(NaiveDateTime::MAX, day("2026-08-31"), day("2027-01-18")), None);
    }
}
