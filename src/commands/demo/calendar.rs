//! The demo school's calendar: so many days ago at that time, as instants. The studio is closed on Sundays; what would
//! fall on one is done the day before.

use chrono::{Datelike, Days, NaiveDate, NaiveTime, Weekday};
use chrono_tz::Tz;

use crate::clock::Instant;
use crate::store::studio::hours::Stretch;
use crate::trade::civil;
use crate::trouble::Trouble;

/// The moment the school plays at, and where.
#[derive(Debug, Clone, Copy)]
pub(super) struct Calendar {
    pub now: Instant,
    pub zone: Tz,
}

impl Calendar {
    pub(super) fn read(now: Instant, zone: &str) -> Result<Self, Trouble> {
        let zone = zone.parse().map_err(|error| Trouble::broken("reading the demo's zone", error))?;
        Ok(Self { now, zone })
    }

    /// The local date so many days ago; below zero, ahead.
    pub(super) fn date(&self, ago: i64) -> NaiveDate {
        let today = self.now.local_date(self.zone);
        let days = Days::new(ago.unsigned_abs());
        if ago < 0 { today.checked_add_days(days) } else { today.checked_sub_days(days) }.unwrap_or(today)
    }

    /// A time of a working day. It is never ahead of the school's moment.
    pub(super) fn at(&self, ago: i64, time: &str) -> Result<Instant, Trouble> {
        let mut day = self.date(ago);
        if day.weekday() == Weekday::Sun {
            day = day.pred_opt().unwrap_or(day);
        }
        let moment = Instant::from_utc(civil::instant(day.and_time(clock(time)?), self.zone));
        Ok(moment.min(self.now))
    }
}

/// A time of day as `HH:MM`.
pub(super) fn clock(time: &str) -> Result<NaiveTime, Trouble> {
    NaiveTime::parse_from_str(time, "%H:%M")
        .map_err(|error| Trouble::broken("reading a time of the demo", error))
}

/// From one time of day to another.
pub(super) fn stretch(from: &str, to: &str) -> Result<Stretch, Trouble> {
    Ok(Stretch { from_minute: minute(from)?, to_minute: minute(to)? })
}

fn minute(time: &str) -> Result<i32, Trouble> {
    let passed = clock(time)?.signed_duration_since(NaiveTime::MIN).num_minutes();
    Ok(i32::try_from(passed).unwrap_or(0))
}
