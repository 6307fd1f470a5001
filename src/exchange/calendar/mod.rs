//! Calendars as other programs subscribe to them: RFC 5545 with the NAME and REFRESH-INTERVAL of RFC 7986. What is at a
//! local time every week keeps its zone and carries its own VTIMEZONE; single moments are written in UTC.

mod lines;
mod zones;

use chrono::{DateTime, NaiveDateTime, Utc, Weekday};
use chrono_tz::Tz;

use lines::Lines;

/// A calendar to be written.
#[derive(Debug, Clone)]
pub struct Calendar {
    pub name: String,
    /// When it is written.
    pub stamp: DateTime<Utc>,
    /// What zones are described over.
    pub from: DateTime<Utc>,
    pub to: DateTime<Utc>,
    pub events: Vec<Event>,
}

/// One entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Event {
    /// The same for as long as it is the same thing; it names nobody.
    pub uid: String,
    /// Rises when anything about it changes.
    pub sequence: i64,
    pub summary: String,
    pub description: String,
    pub location: String,
    pub url: Option<String>,
    pub at: At,
    /// It was there and is not to be any more: subscribers strike it through instead of wondering where it went.
    pub cancelled: bool,
}

/// When an entry is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum At {
    /// One stretch of time; without an end a moment.
    Once { start: DateTime<Utc>, end: Option<DateTime<Utc>> },
    /// Every week from the first time to the last, at local time.
    Weekly { first: NaiveDateTime, minutes: i64, day: Weekday, last: NaiveDateTime, zone: Tz },
    /// One time of the weekly entry with the same UID, which takes its place.
    OneOf { start: NaiveDateTime, minutes: i64, zone: Tz },
}

/// Writes a calendar: CRLF at the end of each line, lines folded at 75 octets.
#[must_use]
pub fn write(calendar: &Calendar) -> String {
    let mut out = Lines::default();
    out.plain("BEGIN", "VCALENDAR");
    out.plain("VERSION", "2.0");
    out.plain("PRODID", "-//Tympan//Print studio//EN");
    out.plain("CALSCALE", "GREGORIAN");
    out.text("NAME", &calendar.name);
    out.text("X-WR-CALNAME", &calendar.name);
    out.plain("REFRESH-INTERVAL;VALUE=DURATION", "PT4H");
    let mut zones: Vec<Tz> = calendar.events.iter().filter_map(|event| event.at.zone()).collect();
    zones.sort_unstable_by_key(|zone| zone.name());
    zones.dedup();
    for zone in zones {
        zones::write(&mut out, zone, calendar.from, calendar.to);
    }
    for event in &calendar.events {
        event.write(&mut out, calendar.stamp);
    }
    out.plain("END", "VCALENDAR");
    out.done()
}

impl At {
    fn zone(&self) -> Option<Tz> {
        match self {
            Self::Once { .. } => None,
            Self::Weekly { zone, .. } | Self::OneOf { zone, .. } => Some(*zone),
        }
    }
}

impl Event {
    fn write(&self, out: &mut Lines, stamp: DateTime<Utc>) {
        out.plain("BEGIN", "VEVENT");
        out.text("UID", &self.uid);
        out.plain("DTSTAMP", &utc(stamp));
        out.plain("SEQUENCE", &self.sequence.to_string());
        match &self.at {
            At::Once { start, end } => {
                out.plain("DTSTART", &utc(*start));
                if let Some(end) = end.filter(|end| end > start) {
                    out.plain("DTEND", &utc(end));
                }
            }
            At::Weekly { first, minutes, day, last, zone } => {
                stretch(out, *first, *minutes, *zone);
                let until = utc(crate::trade::civil::instant(*last, *zone));
                out.plain("RRULE", &format!("FREQ=WEEKLY;UNTIL={until};BYDAY={}", two_letters(*day)));
            }
            At::OneOf { start, minutes, zone } => {
                out.plain(&format!("RECURRENCE-ID;TZID={}", zone.name()), &local(*start));
                stretch(out, *start, *minutes, *zone);
            }
        }
        out.text("SUMMARY", &self.summary);
        for (name, words) in [("DESCRIPTION", &self.description), ("LOCATION", &self.location)] {
            if !words.is_empty() {
                out.text(name, words);
            }
        }
        if let Some(url) = &self.url {
            out.plain("URL", url);
        }
        out.plain("STATUS", if self.cancelled { "CANCELLED" } else { "CONFIRMED" });
        // Open hours and latest starts fill nobody's day.
        out.plain("TRANSP", "TRANSPARENT");
        out.plain("END", "VEVENT");
    }
}

fn stretch(out: &mut Lines, start: NaiveDateTime, minutes: i64, zone: Tz) {
    let end = start.checked_add_signed(chrono::TimeDelta::minutes(minutes)).unwrap_or(start);
    out.plain(&format!("DTSTART;TZID={}", zone.name()), &local(start));
    out.plain(&format!("DTEND;TZID={}", zone.name()), &local(end));
}

fn utc(at: DateTime<Utc>) -> String {
    at.format("%Y%m%dT%H%M%SZ").to_string()
}

fn local(at: NaiveDateTime) -> String {
    at.format("%Y%m%dT%H%M%S").to_string()
}

const fn two_letters(day: Weekday) -> &'static str {
    match day {
        Weekday::Mon => "MO",
        Weekday::Tue => "TU",
        Weekday::Wed => "WE",
        Weekday::Thu => "TH",
        Weekday::Fri => "FR",
        Weekday::Sat => "SA",
        Weekday::Sun => "SU",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::NaiveDate;

    fn at(text: &str) -> DateTime<Utc> {
        text.parse().unwrap()
    }

    fn event(at: At) -> Event {
        Event {
            uid: "open-1@studio.example".into(),
            sequence: 3,
            summary: "Open; the studio, “lower” \\ room".into(),
            description: "First line\r\nsecond line\u{7}".into(),
            location: String::new(),
            url: Some("https://studio.example/classes/1".into()),
            at,
            cancelled: false,
        }
    }

    fn one(events: Vec<Event>) -> String {
        let (from, to) = (at("2026-08-31T04:00:00Z"), at("2026-12-19T05:00:00Z"));
        write(&Calendar { name: "Lithography".into(), stamp: from, from, to, events })
    }

    #[test]
    fn lines_end_in_crlf_and_texts_are_escaped() {
        let text = one(vec![event(At::Once { start: at("2026-10-20T14:00:00Z"), end: None })]);
        assert!(text.ends_with("END:VCALENDAR\r\n") && !text.replace("\r\n", "").contains(['\r', '\n']));
        assert!(text.contains("SUMMARY:Open\\; the studio\\, “lower” \\\\ room\r\n"), "{text}");
        assert!(text.contains("DESCRIPTION:First line\\nsecond line\r\n"), "{text}");
        assert!(text.contains("DTSTART:20261020T140000Z\r\n") && !text.contains("DTEND"));
        assert!(!text.contains("VTIMEZONE"), "moments in UTC need no zone");
    }

    #[test]
    fn a_weekly_entry_keeps_its_zone_and_describes_it() {
        let day = |day| NaiveDate::from_ymd_opt(2026, 9, day).unwrap().and_hms_opt(18, 0, 0).unwrap();
        let last = NaiveDate::from_ymd_opt(2026, 12, 15).unwrap().and_hms_opt(18, 0, 0).unwrap();
        let zone = chrono_tz::America::New_York;
        let weekly = event(At::Weekly { first: day(1), minutes: 180, day: Weekday::Tue, last, zone });
        let mut off = event(At::OneOf { start: day(8), minutes: 180, zone });
        off.cancelled = true;
        let text = one(vec![weekly, off]);
        assert!(text.contains("DTSTART;TZID=America/New_York:20260901T180000\r\n"));
        assert!(text.contains("RRULE:FREQ=WEEKLY;UNTIL=20261215T230000Z;BYDAY=TU\r\n"), "{text}");
        assert!(text.contains("RECURRENCE-ID;TZID=America/New_York:20260908T180000\r\n"));
        assert_eq!(text.matches("STATUS:CANCELLED").count(), 1);
        // 15 U.S.C. 260a: on 1 November 2026 at 02:00 the clocks go back.
        assert_eq!(text.matches("BEGIN:VTIMEZONE").count(), 1);
        let standard = text.split("BEGIN:STANDARD").nth(1).unwrap();
        for line in ["DTSTART:20261101T020000", "TZOFFSETFROM:-0400", "TZOFFSETTO:-0500", "TZNAME:EST"] {
            assert!(standard.contains(&format!("{line}\r\n")), "{line} in {standard}");
        }
    }
}
