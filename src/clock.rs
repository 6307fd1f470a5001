//! Instants and the clock. Everything below asks for the time as an argument; only the edges read this clock.

use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use chrono::{DateTime, NaiveDate, NaiveDateTime, SecondsFormat, Utc};
use chrono_tz::Tz;

/// Milliseconds in a day of 24 hours.
pub const DAY_MS: i64 = 86_400_000;

/// A moment: whole milliseconds since 1970-01-01T00:00:00Z.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
#[serde(transparent)]
pub struct Instant(i64);

impl Instant {
    #[must_use]
    pub const fn from_millis(millis: i64) -> Self {
        Self(millis)
    }

    #[must_use]
    pub const fn millis(self) -> i64 {
        self.0
    }

    /// The number in place, for those who must borrow it.
    #[must_use]
    pub const fn as_millis_ref(&self) -> &i64 {
        &self.0
    }

    #[must_use]
    pub const fn plus_ms(self, millis: i64) -> Self {
        Self(self.0.saturating_add(millis))
    }

    /// The same moment for calendar work. Moments beyond the years chrono knows become its last one.
    #[must_use]
    pub fn utc(self) -> DateTime<Utc> {
        DateTime::from_timestamp_millis(self.0).unwrap_or(DateTime::<Utc>::MAX_UTC)
    }

    #[must_use]
    pub fn from_utc(at: DateTime<Utc>) -> Self {
        Self(at.timestamp_millis())
    }

    /// The wall clock of a zone at this moment.
    #[must_use]
    pub fn local(self, zone: Tz) -> NaiveDateTime {
        self.utc().with_timezone(&zone).naive_local()
    }

    #[must_use]
    pub fn local_date(self, zone: Tz) -> NaiveDate {
        self.local(zone).date()
    }

    /// RFC 3339 in UTC with three digits after the second.
    #[must_use]
    pub fn rfc3339(self) -> String {
        self.utc().to_rfc3339_opts(SecondsFormat::Millis, true)
    }
}

/// Where the program takes its time from.
#[derive(Debug, Clone)]
pub enum Clock {
    /// The machine's clock.
    Machine,
    /// The machine's clock, moved by so many milliseconds: a demo that plays in mid-term.
    Moved(i64),
    /// A clock a test sets by hand.
    Set(Arc<AtomicI64>),
}

impl Clock {
    #[must_use]
    pub fn now(&self) -> Instant {
        match self {
            Self::Machine => Instant(Utc::now().timestamp_millis()),
            Self::Moved(by) => Instant(Utc::now().timestamp_millis().saturating_add(*by)),
            Self::Set(at) => Instant(at.load(Ordering::SeqCst)),
        }
    }

    /// A clock that shows `at` now and runs on from there.
    #[must_use]
    pub fn starting_at(at: Instant) -> Self {
        Self::Moved(at.millis().saturating_sub(Utc::now().timestamp_millis()))
    }
}
