//! Civil time: dates, wall clocks and IANA zones as people write them, and the instants they mean.
//!
//! People's rules (a due date, an opening) are local wall times in a zone; arithmetic needs instants. Twice a
//! year the two do not fit: a wall time inside a *gap* never happens, one inside an *overlap* happens twice.
//! Both are read with the offset in force before the change, so a gap's 02:30 is the instant the clock shows
//! as 03:30, and an overlap's 01:30 is the first of the two. This is the rule of RFC 5545 section 3.3.5 and of
//! Python's `zoneinfo` with `fold=0`.

use chrono::offset::{LocalResult, Offset, TimeZone};
use chrono::{DateTime, Datelike, FixedOffset, NaiveDate, NaiveDateTime, Timelike, Utc};
use chrono_tz::Tz;

use crate::trade::remark::Remark;

/// Years a typed date may have; outside them a slip of the finger is likelier than a class.
pub const YEARS: std::ops::RangeInclusive<i32> = 1900..=2099;

/// How often a wall time happens in its zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fit {
    Once,
    /// Never: the clock was put forward over it.
    Gap,
    /// Twice: the clock was put back over it.
    Overlap,
}

/// The instant a wall time means, by the rule above.
///
/// ```
/// use tympan::trade::civil::{instant, local, zone};
/// let new_york = zone("zone", "America/New_York")?;
/// let never = local("due", "2026-03-08T02:30")?;
/// assert_eq!(instant(never, new_york).to_rfc3339(), "2026-03-08T07:30:00+00:00"); // 03:30 daylight time
/// # Ok::<(), tympan::trade::remark::Remark>(())
/// ```
#[must_use]
pub fn instant(local: NaiveDateTime, zone: Tz) -> DateTime<Utc> {
    let offset = match zone.offset_from_local_datetime(&local) {
        LocalResult::Single(offset) => offset.fix(),
        // The larger offset gives the earlier instant.
        LocalResult::Ambiguous(one, other) => east(one.fix(), other.fix()),
        LocalResult::None => offset_before_gap(local, zone),
    };
    // Only thousands of years away from any class does the subtraction leave the calendar.
    local.checked_sub_offset(offset).unwrap_or(local).and_utc()
}

/// How often the wall time happens.
#[must_use]
pub fn fit(local: NaiveDateTime, zone: Tz) -> Fit {
    match zone.offset_from_local_datetime(&local) {
        LocalResult::Single(_) => Fit::Once,
        LocalResult::Ambiguous(..) => Fit::Overlap,
        LocalResult::None => Fit::Gap,
    }
}

/// What the clock on the wall shows at an instant.
#[must_use]
pub fn wall(at: DateTime<Utc>, zone: Tz) -> NaiveDateTime {
    let utc = at.naive_utc();
    utc.checked_add_offset(zone.offset_from_utc_datetime(&utc).fix()).unwrap_or(utc)
}

/// A zone by its IANA name.
///
/// # Errors
/// The name is not in the IANA list; the remark names `field`.
pub fn zone(field: &str, name: &str) -> Result<Tz, Remark> {
    name.parse()
        .map_err(|_unknown| Remark::new("civil-zone-unknown").with("field", field).with("value", name))
}

/// A date written `YYYY-MM-DD`.
///
/// # Errors
/// Another spelling, a day the calendar does not have, or a year outside [`YEARS`].
pub fn date(field: &str, text: &str) -> Result<NaiveDate, Remark> {
    let read = shaped(text, "dddd-dd-dd").then(|| NaiveDate::parse_from_str(text, "%Y-%m-%d").ok()).flatten();
    read.filter(|day| YEARS.contains(&day.year()))
        .ok_or_else(|| Remark::new("civil-date-unreadable").with("field", field).with("value", text))
}

/// A wall time written `YYYY-MM-DDTHH:MM`, with `:SS` if wanted.
///
/// # Errors
/// Another spelling, a moment the calendar does not have, or a year outside [`YEARS`].
pub fn local(field: &str, text: &str) -> Result<NaiveDateTime, Remark> {
    let format = match () {
        () if shaped(text, "dddd-dd-ddTdd:dd") => Some("%Y-%m-%dT%H:%M"),
        () if shaped(text, "dddd-dd-ddTdd:dd:dd") => Some("%Y-%m-%dT%H:%M:%S"),
        () => None,
    };
    format
        .and_then(|format| NaiveDateTime::parse_from_str(text, format).ok())
        .filter(|at| YEARS.contains(&at.year()) && at.nanosecond() < 1_000_000_000)
        .ok_or_else(|| Remark::new("civil-local-unreadable").with("field", field).with("value", text))
}

/// An instant written as RFC 3339, with `Z` or an offset.
///
/// # Errors
/// Another spelling, or a year outside [`YEARS`].
pub fn rfc3339(field: &str, text: &str) -> Result<DateTime<Utc>, Remark> {
    DateTime::parse_from_rfc3339(text)
        .ok()
        .map(|at| at.with_timezone(&Utc))
        .filter(|at| YEARS.contains(&at.year()))
        .ok_or_else(|| Remark::new("civil-instant-unreadable").with("field", field).with("value", text))
}

/// Whether the text has the pattern's shape: `d` stands for a digit, all else for itself.
fn shaped(text: &str, pattern: &str) -> bool {
    text.len() == pattern.len()
        && text.bytes().zip(pattern.bytes()).all(|(byte, shape)| match shape {
            b'd' => byte.is_ascii_digit(),
            _ => byte == shape,
        })
}

/// The offset in force before the gap that swallows `local`.
///
/// Let the change at T go from offset a to the larger b. Inside the gap local - a is at or after T, where b
/// holds, and local - b is before T, where a holds: looking up the offset at "local minus one of them" always
/// gives the other. So two look-ups from either start visit both, and the smaller is the one before.
fn offset_before_gap(local: NaiveDateTime, zone: Tz) -> FixedOffset {
    let at = |offset: FixedOffset| {
        let utc = local.checked_sub_offset(offset).unwrap_or(local);
        zone.offset_from_utc_datetime(&utc).fix()
    };
    let one = at(zone.offset_from_utc_datetime(&local).fix());
    let other = at(one);
    if one.local_minus_utc() < other.local_minus_utc() { one } else { other }
}

fn east(one: FixedOffset, other: FixedOffset) -> FixedOffset {
    if one.local_minus_utc() > other.local_minus_utc() { one } else { other }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// (zone, wall time, how often, UTC): printed by Python 3.11 `zoneinfo` with `fold=0` and tzdata 2025b.
    const ZONEINFO: &[(&str, &str, Fit, &str)] = &[
        ("America/New_York", "2026-03-08T01:59", Fit::Once, "2026-03-08T06:59:00Z"),
        ("America/New_York", "2026-03-08T02:00", Fit::Gap, "2026-03-08T07:00:00Z"),
        ("America/New_York", "2026-03-08T02:30", Fit::Gap, "2026-03-08T07:30:00Z"),
        ("America/New_York", "2026-03-08T03:00", Fit::Once, "2026-03-08T07:00:00Z"),
        ("America/New_York", "2026-11-01T00:59", Fit::Once, "2026-11-01T04:59:00Z"),
        ("America/New_York", "2026-11-01T01:30", Fit::Overlap, "2026-11-01T05:30:00Z"),
        ("America/New_York", "2026-11-01T02:00", Fit::Once, "2026-11-01T07:00:00Z"),
        ("Europe/Berlin", "2026-03-29T02:30", Fit::Gap, "2026-03-29T01:30:00Z"),
        ("Europe/Berlin", "2026-10-25T02:30", Fit::Overlap, "2026-10-25T00:30:00Z"),
        ("Europe/Dublin", "2026-03-29T01:30", Fit::Gap, "2026-03-29T01:30:00Z"),
        ("Australia/Lord_Howe", "2026-10-04T02:15", Fit::Gap, "2026-10-03T15:45:00Z"),
        ("Australia/Lord_Howe", "2026-04-05T01:45", Fit::Overlap, "2026-04-04T14:45:00Z"),
        ("Pacific/Apia", "2011-12-30T12:00", Fit::Gap, "2011-12-30T22:00:00Z"),
        ("Asia/Kathmandu", "2026-06-01T12:00", Fit::Once, "2026-06-01T06:15:00Z"),
    ];

    #[test]
    fn wall_times_mean_what_zoneinfo_says() {
        for (name, text, often, utc) in ZONEINFO {
            let zone = zone("zone", name).unwrap();
            let local = local("due", text).unwrap();
            assert_eq!(fit(local, zone), *often, "{name} {text}");
            assert_eq!(instant(local, zone), rfc3339("utc", utc).unwrap(), "{name} {text}");
        }
    }

    #[test]
    fn a_wall_time_that_happens_once_comes_back() {
        let zone = zone("zone", "America/New_York").unwrap();
        let noon = local("due", "2026-07-04T12:00").unwrap();
        assert_eq!(wall(instant(noon, zone), zone), noon);
        let never = local("due", "2026-03-08T02:30").unwrap();
        assert_eq!(wall(instant(never, zone), zone), local("due", "2026-03-08T03:30").unwrap());
    }

    #[test]
    fn other_spellings_are_refused() {
        for text in
            ["2026-3-08T02:30", "2026-03-08 02:30", "2026-02-30T10:00", "2026-03-08T24:00", "+2026-03-08T1"]
        {
            assert!(local("due", text).is_err(), "{text}");
        }
        assert!(local("due", "2026-03-08T23:59:60").is_err());
        assert!(local("due", "1026-03-08T23:59").is_err());
        assert!(local("due", "2026-03-08T23:59:59").is_ok());
        for text in ["2026-02-29", "26-02-28", "2026-02-28T", "２０２６-02-28"] {
            assert!(date("due", text).is_err(), "{text}");
        }
        assert!(rfc3339("received", "2026-03-08T02:30").is_err());
        assert!(rfc3339("received", "2026-03-08T02:30:00-05:00").is_ok());
        assert_eq!(zone("zone", "Atlantis/Main").unwrap_err().key, "civil-zone-unknown");
    }

    #[test]
    fn far_years_do_not_panic() {
        let zone = zone("zone", "Pacific/Kiritimati").unwrap();
        for at in [NaiveDateTime::MIN, NaiveDateTime::MAX] {
            let _ = fit(at, zone);
            assert_eq!(instant(at, zone).naive_utc().date().year(), at.date().year());
            assert_eq!(wall(at.and_utc(), zone).date().year(), at.date().year());
        }
    }
}
