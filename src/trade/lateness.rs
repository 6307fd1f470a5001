//! How many days late a piece of work is.
//!
//! Work is due at a local date and time in a zone. The first day late begins when that moment plus the grace
//! has passed, the next when the same wall clock plus the grace has passed on the following date, and so on;
//! so a day late is a day of the calendar, 23 or 25 hours long when the clock changes. The grace is elapsed
//! time. A day late is charged on the date on which it begins, by the wall clock of the zone, unless that date
//! is one that the class does not count.

use std::collections::BTreeSet;

use chrono::{DateTime, Days, NaiveDate, NaiveDateTime, TimeDelta, Utc};
use chrono_tz::Tz;

use crate::trade::civil;

/// When a piece of work is due for one person.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Deadline {
    /// The class's due date and wall time.
    pub due: NaiveDateTime,
    /// The person's own, which replaces it.
    pub personal_due: Option<NaiveDateTime>,
    pub zone: Tz,
    /// Minutes after the due time that cost nothing.
    pub grace_minutes: u32,
    /// Dates on which no day late is charged: weekends, holidays, days the studio is closed.
    pub uncounted: BTreeSet<NaiveDate>,
}

/// The outcome for work received at some instant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Late {
    /// Days charged.
    pub days: u32,
    /// The dates they are charged on, in order.
    pub charged_on: Vec<NaiveDate>,
}

impl Deadline {
    /// The due date and wall time that holds for the person.
    #[must_use]
    pub fn due_local(&self) -> NaiveDateTime {
        self.personal_due.unwrap_or(self.due)
    }

    /// The due moment, before any grace.
    #[must_use]
    pub fn due_at(&self) -> DateTime<Utc> {
        civil::instant(self.due_local(), self.zone)
    }

    /// The last instant at which work is in time.
    #[must_use]
    pub fn in_time_until(&self) -> DateTime<Utc> {
        self.with_grace(self.due_local())
    }

    /// How late work received at this instant is.
    #[must_use]
    pub fn late(&self, received: DateTime<Utc>) -> Late {
        let mut charged_on = Vec::new();
        let mut before = None;
        let dues = (0..).map_while(|days| self.due_local().checked_add_days(Days::new(days)));
        for begins in dues.map(|due| self.with_grace(due)).take_while(|begins| *begins < received) {
            // A date that a zone skipped whole (Samoa, 2011-12-30) begins no day of its own.
            if before.is_none_or(|before| before < begins) {
                charged_on.push(civil::wall(begins, self.zone).date());
            }
            before = Some(begins);
        }
        charged_on.retain(|date| !self.uncounted.contains(date));
        Late { days: u32::try_from(charged_on.len()).unwrap_or(u32::MAX), charged_on }
    }

    fn with_grace(&self, due: NaiveDateTime) -> DateTime<Utc> {
        let due = civil::instant(due, self.zone);
        due.checked_add_signed(TimeDelta::minutes(self.grace_minutes.into()))
            .unwrap_or(DateTime::<Utc>::MAX_UTC)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn deadline(zone: &str, due: &str, grace_minutes: u32, uncounted: &[&str]) -> Deadline {
        Deadline {
            due: civil::local("due", due).unwrap(),
            personal_due: None,
            zone: civil::zone("zone", zone).unwrap(),
            grace_minutes,
            uncounted: uncounted.iter().map(|date| civil::date("uncounted", date).unwrap()).collect(),
        }
    }

    fn charged(deadline: &Deadline, received: &str) -> Vec<String> {
        let late = deadline.late(civil::rfc3339("received", received).unwrap());
        assert_eq!(usize::try_from(late.days).unwrap(), late.charged_on.len());
        late.charged_on.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_day_late_begins_when_the_due_clock_and_the_grace_have_passed() {
        let friday = deadline("America/New_York", "2026-09-18T17:00", 15, &[]);
        assert!(charged(&friday, "2026-09-18T17:00:00-04:00").is_empty());
        assert!(charged(&friday, "2026-09-18T17:15:00-04:00").is_empty());
        assert_eq!(charged(&friday, "2026-09-18T17:15:01-04:00"), ["2026-09-18"]);
        assert_eq!(charged(&friday, "2026-09-19T17:15:00-04:00"), ["2026-09-18"]);
        assert_eq!(charged(&friday, "2026-09-19T17:16:00-04:00"), ["2026-09-18", "2026-09-19"]);
        assert!(charged(&friday, "2026-08-01T12:00:00Z").is_empty());
    }

    #[test]
    fn dates_the_class_does_not_count_are_not_charged() {
        let friday = deadline("America/New_York", "2026-09-18T17:00", 0, &["2026-09-19", "2026-09-20"]);
        assert_eq!(charged(&friday, "2026-09-21T10:00:00-04:00"), ["2026-09-18"]);
        assert_eq!(charged(&friday, "2026-09-21T18:00:00-04:00"), ["2026-09-18", "2026-09-21"]);
    }

    #[test]
    fn a_grace_over_midnight_moves_the_charge_to_the_next_date() {
        let sunday = deadline("America/New_York", "2026-09-20T23:59", 10, &["2026-09-20"]);
        assert!(charged(&sunday, "2026-09-21T00:09:00-04:00").is_empty());
        assert_eq!(charged(&sunday, "2026-09-21T08:00:00-04:00"), ["2026-09-21"]);
    }

    #[test]
    fn a_personal_due_date_replaces_that_of_the_class() {
        let own = Deadline {
            personal_due: Some(civil::local("due", "2026-09-25T17:00").unwrap()),
            ..deadline("America/New_York", "2026-09-18T17:00", 0, &[])
        };
        assert!(charged(&own, "2026-09-25T17:00:00-04:00").is_empty());
        assert_eq!(charged(&own, "2026-09-25T17:00:01-04:00"), ["2026-09-25"]);
        assert_eq!(own.due_at(), own.in_time_until());
    }

    /// Instants as Python's `zoneinfo` with `fold=0` gives them.
    #[test]
    fn both_changes_of_the_clock_keep_the_wall_time() {
        // 02:30 on the next date is in the gap and read as 03:30 daylight time, 07:30Z.
        let spring = deadline("America/New_York", "2026-03-07T02:30", 0, &[]);
        assert_eq!(charged(&spring, "2026-03-08T07:30:00Z"), ["2026-03-07"]);
        assert_eq!(charged(&spring, "2026-03-08T07:30:01Z"), ["2026-03-07", "2026-03-08"]);
        // 01:30 happens twice on the next date; the first, 05:30Z, begins the second day late.
        let autumn = deadline("America/New_York", "2026-10-31T01:30", 0, &[]);
        assert_eq!(charged(&autumn, "2026-11-01T05:30:00Z"), ["2026-10-31"]);
        assert_eq!(charged(&autumn, "2026-11-01T05:30:01Z"), ["2026-10-31", "2026-11-01"]);
        // The day after is 25 hours later.
        assert_eq!(charged(&autumn, "2026-11-02T06:30:00Z").len(), 2);
        assert_eq!(charged(&autumn, "2026-11-02T06:30:01Z").len(), 3);
    }

    #[test]
    fn a_date_that_a_zone_skipped_is_no_day_late() {
        let samoa = deadline("Pacific/Apia", "2011-12-29T12:00", 0, &[]);
        assert_eq!(charged(&samoa, "2011-12-31T13:00:00+14:00"), ["2011-12-29", "2011-12-31"]);
    }
}
