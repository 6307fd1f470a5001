//! A studio's hours as people write them: openings that come back each week, dates on which it stays closed,
//! and openings added for one date. Local wall times in one zone, turned into a [`Calendar`] over a span.

use std::collections::BTreeSet;

use chrono::{DateTime, Datelike, Days, NaiveDate, NaiveTime, TimeDelta, Utc, Weekday};
use chrono_tz::Tz;

use super::calendar::{Calendar, Span};
use super::{DAY, Millis};
use crate::trade::civil;
use crate::trade::remark::Remark;

/// A studio's hours. A closed date closes what falls on it, extra openings included (as EXDATE does in
/// RFC 5545 section 3.8.5.1): a plan must not count on an hour somebody has taken back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hours {
    zone: Tz,
    /// `None`: always open, except on closed dates.
    weekly: Option<Vec<Weekly>>,
    extra: Vec<Extra>,
    closed: BTreeSet<NaiveDate>,
    /// When the instructor is there each week; `None` where nobody said.
    instructor: Option<Vec<Weekly>>,
}

/// An opening that comes back each week.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Weekly {
    pub day: Weekday,
    pub stretch: Stretch,
}

/// An opening of one date.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Extra {
    pub date: NaiveDate,
    pub stretch: Stretch,
}

/// Part of a local day, from before to; never empty.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stretch {
    from: DayTime,
    to: DayTime,
}

/// A wall time: minutes since midnight, 0 to 1440 (24:00, the end of the day).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct DayTime(u16);

impl Hours {
    /// Hours in a zone; `weekly` of `None` means always open.
    #[must_use]
    pub fn new(
        zone: Tz,
        weekly: Option<Vec<Weekly>>,
        extra: Vec<Extra>,
        closed: BTreeSet<NaiveDate>,
    ) -> Self {
        Self { zone, weekly, extra, closed, instructor: None }
    }

    /// The same hours, the instructor being there on these stretches of every week as far as the studio is open. Where
    /// none of them lies in an opening of the week, nothing is known: the instructor must come at some time.
    #[must_use]
    pub fn with_instructor(mut self, there: Vec<Weekly>) -> Self {
        let meets = |one: &Weekly, other: &Weekly| {
            one.day == other.day && one.stretch.from < other.stretch.to && other.stretch.from < one.stretch.to
        };
        let known = match &self.weekly {
            Some(weekly) => there.iter().any(|one| weekly.iter().any(|opening| meets(one, opening))),
            None => !there.is_empty(),
        };
        self.instructor = known.then_some(there);
        self
    }

    #[must_use]
    pub fn zone(&self) -> Tz {
        self.zone
    }

    /// The same hours with one opening more.
    #[must_use]
    pub fn with_extra(mut self, extra: Extra) -> Self {
        self.extra.push(extra);
        self
    }

    /// The same hours with one opening more every week; what is always open stays so.
    #[must_use]
    pub fn with_weekly(mut self, opening: Weekly) -> Self {
        if let Some(weekly) = &mut self.weekly {
            weekly.push(opening);
        }
        self
    }

    /// The same hours as if no date were closed.
    #[must_use]
    pub fn without_closures(mut self) -> Self {
        self.closed.clear();
        self
    }

    /// Whether nothing is ever open, closures aside.
    #[must_use]
    pub fn never_open(&self) -> bool {
        self.extra.is_empty() && self.weekly.as_ref().is_some_and(Vec::is_empty)
    }

    /// Extra openings that a closed date takes back: someone should be told.
    #[must_use]
    pub fn extras_on_closed_dates(&self) -> Vec<NaiveDate> {
        self.extra.iter().map(|extra| extra.date).filter(|date| self.closed.contains(date)).collect()
    }

    /// The local date at an instant.
    #[must_use]
    pub fn date_at(&self, at: Millis) -> NaiveDate {
        let utc = DateTime::<Utc>::from_timestamp_millis(at).unwrap_or(DateTime::<Utc>::MAX_UTC);
        civil::wall(utc, self.zone).date()
    }

    /// The open hours of every local date that `from..to` touches, and of the day before and after.
    ///
    /// Openings that overlap or touch become one, also across midnight. An opening that a change of the clock
    /// leaves without a minute is dropped; one across the change is as long as the clock says, not the wall.
    #[must_use]
    pub fn over(&self, from: Millis, to: Millis) -> Calendar {
        let (first, last) =
            (self.date_at(from.saturating_sub(DAY)), self.date_at(to.max(from).saturating_add(DAY)));
        let calendar = self.open_over(first, last);
        let Some(instructor) = &self.instructor else { return calendar };
        let days = first.iter_days().take_while(|day| *day <= last);
        let mut there = Vec::new();
        for day in days {
            for one in instructor.iter().filter(|one| one.day == day.weekday()) {
                let span = one.stretch.on(day, self.zone);
                there.extend(calendar.within(span.start, span.finish));
            }
        }
        calendar.with_instructor(there)
    }

    fn open_over(&self, first: NaiveDate, last: NaiveDate) -> Calendar {
        let Some(weekly) = &self.weekly else { return Calendar::new(self.zone, self.all_but_closed()) };
        let days = first.iter_days().take_while(|day| *day <= last).filter(|day| !self.closed.contains(day));
        let mut openings = Vec::new();
        for day in days {
            let on_day = weekly.iter().filter(|opening| opening.day == day.weekday());
            openings.extend(on_day.map(|opening| opening.stretch.on(day, self.zone)));
        }
        let extra = self.extra.iter().filter(|extra| (first..=last).contains(&extra.date));
        let extra = extra.filter(|extra| !self.closed.contains(&extra.date));
        openings.extend(extra.map(|extra| extra.stretch.on(extra.date, self.zone)));
        Calendar::new(self.zone, openings)
    }

    /// All time outside the closed dates.
    fn all_but_closed(&self) -> Vec<Span> {
        let mut open = Vec::with_capacity(self.closed.len() + 1);
        let mut from = Calendar::FAR_PAST;
        for date in &self.closed {
            let closed = Stretch::WHOLE_DAY.on(*date, self.zone);
            open.push(Span { start: from, finish: closed.start });
            from = from.max(closed.finish);
        }
        open.push(Span { start: from, finish: Calendar::FAR_FUTURE });
        open
    }
}

impl Stretch {
    /// From midnight to midnight.
    pub const WHOLE_DAY: Self = Self { from: DayTime(0), to: DayTime(24 * 60) };

    /// # Errors
    /// The stretch ends before or when it begins; the remark names `field`.
    pub fn new(field: &str, from: DayTime, to: DayTime) -> Result<Self, Remark> {
        if from < to {
            return Ok(Self { from, to });
        }
        let remark = Remark::new("planning-opening-backwards").with("field", field);
        Err(remark.with("from", from.to_string()).with("to", to.to_string()))
    }

    /// The instants of this stretch of a date; empty or reversed where the clock was changed over it.
    #[must_use]
    pub fn on(self, date: NaiveDate, zone: Tz) -> Span {
        Span { start: self.from.on(date, zone), finish: self.to.on(date, zone) }
    }
}

impl DayTime {
    /// Reads `HH:MM`, 00:00 to 24:00.
    ///
    /// # Errors
    /// Another spelling, or an hour the day does not have.
    pub fn parse(field: &str, text: &str) -> Result<Self, Remark> {
        let remark = || Remark::new("planning-time-unreadable").with("field", field).with("value", text);
        let (hours, minutes) = text.split_once(':').ok_or_else(remark)?;
        let digits = |part: &str| part.len() == 2 && part.bytes().all(|byte| byte.is_ascii_digit());
        let number = |part: &str| if digits(part) { part.parse::<u16>().ok() } else { None };
        match (number(hours), number(minutes)) {
            (Some(hours @ 0..24), Some(minutes @ 0..60)) => Ok(Self(hours * 60 + minutes)),
            (Some(24), Some(0)) => Ok(Self(24 * 60)),
            _ => Err(remark()),
        }
    }

    fn on(self, date: NaiveDate, zone: Tz) -> Millis {
        let minutes = TimeDelta::minutes(i64::from(self.0));
        let local = date.and_time(NaiveTime::MIN).checked_add_signed(minutes);
        // Only the last day the calendar knows has no midnight after it.
        civil::instant(local.unwrap_or(date.and_time(NaiveTime::MIN)), zone).timestamp_millis()
    }
}

impl std::fmt::Display for DayTime {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:02}:{:02}", self.0 / 60, self.0 % 60)
    }
}

/// The weekday a three-letter English word means.
///
/// # Errors
/// Another word; the remark names `field`.
pub fn weekday(field: &str, word: &str) -> Result<Weekday, Remark> {
    const DAYS: [(&str, Weekday); 7] = [
        ("mon", Weekday::Mon),
        ("tue", Weekday::Tue),
        ("wed", Weekday::Wed),
        ("thu", Weekday::Thu),
        ("fri", Weekday::Fri),
        ("sat", Weekday::Sat),
        ("sun", Weekday::Sun),
    ];
    let found = DAYS.iter().find(|(known, _)| *known == word).map(|(_, day)| *day);
    found.ok_or_else(|| Remark::new("planning-day-unknown").with("field", field).with("value", word))
}

/// The first instant of the local date on which `at` falls.
#[must_use]
pub fn start_of_day(at: Millis, zone: Tz) -> Millis {
    let utc = DateTime::<Utc>::from_timestamp_millis(at).unwrap_or(DateTime::<Utc>::MAX_UTC);
    civil::instant(civil::wall(utc, zone).date().and_time(NaiveTime::MIN), zone).timestamp_millis()
}

/// The first instant after the local date on which `at` falls.
#[must_use]
pub fn end_of_day(at: Millis, zone: Tz) -> Millis {
    let utc = DateTime::<Utc>::from_timestamp_millis(at).unwrap_or(DateTime::<Utc>::MAX_UTC);
    let date = civil::wall(utc, zone).date();
    let next = date.checked_add_days(Days::new(1)).unwrap_or(date);
    civil::instant(next.and_time(NaiveTime::MIN), zone).timestamp_millis()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::planning::{MINUTE, Need};

    fn at(text: &str) -> Millis {
        civil::rfc3339("at", text).unwrap().timestamp_millis()
    }

    fn stretch(from: &str, to: &str) -> Stretch {
        let read = |text| DayTime::parse("open", text).unwrap();
        Stretch::new("open", read(from), read(to)).unwrap()
    }

    fn weekly(word: &str, from: &str, to: &str) -> Weekly {
        Weekly { day: weekday("open", word).unwrap(), stretch: stretch(from, to) }
    }

    fn hours(weekly: Vec<Weekly>, extra: Vec<Extra>, closed: &[&str]) -> Hours {
        let zone = civil::zone("zone", "America/New_York").unwrap();
        let closed = closed.iter().map(|text| civil::date("closed", text).unwrap()).collect();
        Hours::new(zone, Some(weekly), extra, closed)
    }

    #[test]
    fn overlapping_and_touching_openings_are_one() {
        let open = vec![weekly("mon", "09:00", "12:00"), weekly("mon", "11:00", "17:00")];
        let open = [open, vec![weekly("mon", "17:00", "24:00"), weekly("tue", "00:00", "02:00")]].concat();
        let calendar = hours(open, vec![], &[]).over(at("2026-09-14T00:00:00Z"), at("2026-09-16T00:00:00Z"));
        let night = calendar.opening_at(at("2026-09-14T15:00:00Z")).unwrap();
        assert_eq!(night.start, at("2026-09-14T09:00:00-04:00"));
        assert_eq!(night.finish, at("2026-09-15T02:00:00-04:00"));
    }

    #[test]
    fn closures_take_back_weekly_and_extra_openings() {
        let date = |text| civil::date("date", text).unwrap();
        let extra = vec![
            Extra { date: date("2026-09-12"), stretch: stretch("10:00", "14:00") },
            Extra { date: date("2026-09-13"), stretch: stretch("10:00", "14:00") },
        ];
        let hours = hours(vec![weekly("mon", "09:00", "17:00")], extra, &["2026-09-13", "2026-09-14"]);
        let (from, to) = (at("2026-09-11T00:00:00-04:00"), at("2026-09-18T00:00:00-04:00"));
        assert_eq!(hours.over(from, to).open_between(from, to), 4 * 60 * MINUTE);
        assert_eq!(hours.extras_on_closed_dates(), [date("2026-09-13")]);
        assert_eq!(hours.without_closures().over(from, to).open_between(from, to), (4 + 4 + 8) * 60 * MINUTE);
    }

    /// US changes of 2026: 8 March 02:00 and 1 November 02:00 (15 U.S.C. 260a).
    #[test]
    fn a_night_across_a_change_of_the_clock_has_its_true_length() {
        let night = hours(vec![weekly("sun", "00:00", "06:00")], vec![], &[]);
        for (day, minutes) in [("2026-03-08", 300), ("2026-06-07", 360), ("2026-11-01", 420)] {
            let from = at(&format!("{day}T00:00:00Z"));
            let calendar = night.over(from, from + DAY);
            assert_eq!(calendar.open_between(from, from + DAY), minutes * MINUTE, "{day}");
        }
        // Wholly inside the missing hour: read with the offset before, 02:15 to 02:45 is 03:15 to 03:45.
        let gap = hours(vec![weekly("sun", "02:15", "02:45")], vec![], &[]);
        let gap = gap.over(at("2026-03-08T00:00:00Z"), at("2026-03-09T00:00:00Z"));
        let opening = gap.opening_at(at("2026-03-08T07:20:00Z")).unwrap();
        assert_eq!(opening.start, at("2026-03-08T03:15:00-04:00"));
        // From inside the missing hour to just after it: nothing is left.
        let none = hours(vec![weekly("sun", "02:30", "03:15")], vec![], &[]);
        let (from, to) = (at("2026-03-08T00:00:00Z"), at("2026-03-09T00:00:00Z"));
        assert_eq!(none.over(from, to).open_between(from, to), 0);
    }

    #[test]
    fn always_open_leaves_out_closed_dates_only() {
        let zone = civil::zone("zone", "America/New_York").unwrap();
        let closed = ["2026-03-08", "2026-03-09"].map(|text| civil::date("closed", text).unwrap());
        let always = Hours::new(zone, None, vec![], closed.into_iter().collect());
        let (from, to) = (at("2026-03-07T00:00:00-05:00"), at("2026-03-12T00:00:00-04:00"));
        let calendar = always.over(from, to);
        assert_eq!(calendar.open_between(from, to), 3 * DAY);
        let gone = at("2026-03-08T00:00:00-05:00");
        assert_eq!(calendar.opening_at(gone), None);
        let back = calendar.earliest(gone, Need::Whole(MINUTE)).unwrap();
        assert_eq!(back.start, at("2026-03-10T00:00:00-04:00"));
    }

    #[test]
    fn times_of_day_are_read_strictly() {
        for text in ["9:00", "09:60", "24:01", "0900", "09:00:00", "-9:00", "+9:00", ""] {
            assert_eq!(DayTime::parse("open", text).unwrap_err().key, "planning-time-unreadable", "{text}");
        }
        let nine = DayTime::parse("open", "09:00").unwrap();
        assert_eq!(Stretch::new("open", nine, nine).unwrap_err().key, "planning-opening-backwards");
        assert_eq!(DayTime::parse("open", "24:00").unwrap().to_string(), "24:00");
        assert_eq!(weekday("open", "Mon").unwrap_err().key, "planning-day-unknown");
    }

    #[test]
    fn far_instants_do_not_panic() {
        let hours = hours(vec![weekly("sun", "00:00", "24:00")], vec![], &[]);
        for instant in [i64::MIN, i64::MAX] {
            assert_eq!(hours.over(instant, instant).open_between(0, DAY), 0);
        }
    }
}
