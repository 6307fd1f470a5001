//! VTIMEZONE: a zone over the time a calendar covers. The zone data names no changes, so they are found by bisecting
//! the offset from UTC.

use chrono::{DateTime, Offset, TimeDelta, TimeZone, Utc};
use chrono_tz::{OffsetComponents, OffsetName, Tz};

use super::lines::Lines;

/// Two changes closer together than this could be missed; the closest on record are four weeks apart.
const STRIDE: TimeDelta = TimeDelta::days(7);

/// Changes of a zone's offset between two moments, each at its first instant.
fn changes(zone: Tz, from: DateTime<Utc>, to: DateTime<Utc>) -> Vec<DateTime<Utc>> {
    let mut found = Vec::new();
    let mut at = from;
    while at < to {
        let next = at.checked_add_signed(STRIDE).unwrap_or(to).min(to);
        if seconds(zone, at) != seconds(zone, next) {
            found.push(bisect(zone, at, next));
        }
        at = next;
    }
    found
}

/// The first second at which the offset is that of `after`.
fn bisect(zone: Tz, before: DateTime<Utc>, after: DateTime<Utc>) -> DateTime<Utc> {
    let old = seconds(zone, before);
    let (mut low, mut high) = (before.timestamp(), after.timestamp());
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        match DateTime::from_timestamp(middle, 0) {
            Some(at) if seconds(zone, at) == old => low = middle,
            _ => high = middle,
        }
    }
    DateTime::from_timestamp(high, 0).unwrap_or(after)
}

fn seconds(zone: Tz, at: DateTime<Utc>) -> i32 {
    zone.offset_from_utc_datetime(&at.naive_utc()).fix().local_minus_utc()
}

/// Writes the zone with what holds at the beginning and every change until the end.
pub(super) fn write(out: &mut Lines, zone: Tz, from: DateTime<Utc>, to: DateTime<Utc>) {
    // Some weeks more on both sides: a client may ask for times beside the first and last entry.
    let (from, to) = (from - STRIDE * 8, to + STRIDE * 8);
    out.plain("BEGIN", "VTIMEZONE");
    out.plain("TZID", zone.name());
    observance(out, zone, from, seconds(zone, from));
    for change in changes(zone, from, to) {
        observance(out, zone, change, seconds(zone, change - TimeDelta::seconds(1)));
    }
    out.plain("END", "VTIMEZONE");
}

/// What holds from an instant on; it begins at a local time by the offset before it.
fn observance(out: &mut Lines, zone: Tz, at: DateTime<Utc>, before: i32) {
    let offset = zone.offset_from_utc_datetime(&at.naive_utc());
    let kind = if offset.dst_offset().is_zero() { "STANDARD" } else { "DAYLIGHT" };
    let began = at.naive_utc() + TimeDelta::seconds(i64::from(before));
    out.plain("BEGIN", kind);
    out.plain("DTSTART", &began.format("%Y%m%dT%H%M%S").to_string());
    out.plain("TZOFFSETFROM", &spelled(before));
    out.plain("TZOFFSETTO", &spelled(offset.fix().local_minus_utc()));
    if let Some(name) = offset.abbreviation() {
        out.text("TZNAME", name);
    }
    out.plain("END", kind);
}

/// An offset as RFC 5545, section 3.3.14, writes it: sign, hours, minutes, and seconds where there are any.
fn spelled(offset: i32) -> String {
    let (sign, offset) = if offset < 0 { ('-', -offset) } else { ('+', offset) };
    let (hours, minutes, seconds) = (offset / 3600, offset / 60 % 60, offset % 60);
    match seconds {
        0 => format!("{sign}{hours:02}{minutes:02}"),
        _ => format!("{sign}{hours:02}{minutes:02}{seconds:02}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(zone: &str, from: &str, to: &str) -> Vec<String> {
        let at = |text: &str| text.parse::<DateTime<Utc>>().unwrap();
        let changes = changes(zone.parse().unwrap(), at(from), at(to));
        changes.iter().map(|at| at.to_rfc3339_opts(chrono::SecondsFormat::Secs, true)).collect()
    }

    #[test]
    fn changes_are_found_to_the_second() {
        let year = ("2026-01-01T00:00:00Z", "2027-01-01T00:00:00Z");
        // 15 U.S.C. 260a: second Sunday of March and first of November, 02:00 local.
        let new_york = ["2026-03-08T07:00:00Z", "2026-11-01T06:00:00Z"];
        assert_eq!(found("America/New_York", year.0, year.1), new_york);
        // Directive 2000/84/EC: last Sundays of March and October, 01:00 UTC.
        assert_eq!(found("Europe/Vienna", year.0, year.1), ["2026-03-29T01:00:00Z", "2026-10-25T01:00:00Z"]);
        // Half an hour: Lord Howe Island (from memory: first Sundays of April and October, 02:00 local).
        let lord_howe = ["2026-04-04T15:00:00Z", "2026-10-03T15:30:00Z"];
        assert_eq!(found("Australia/Lord_Howe", year.0, year.1), lord_howe);
        assert_eq!(found("Asia/Kolkata", year.0, year.1), [""; 0]);
    }

    #[test]
    fn offsets_are_spelled_as_the_standard_has_them() {
        for (offset, text) in [(-18_000, "-0500"), (19_800, "+0530"), (0, "+0000"), (-17_762, "-045602")] {
            assert_eq!(spelled(offset), text);
        }
    }
}
