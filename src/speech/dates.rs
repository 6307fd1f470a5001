//! Days and times as people read them here: weekday, day, month, 24-hour clock. Spaces do not break.

use std::array::from_fn;
use std::sync::LazyLock;

use chrono::{Datelike, NaiveDate, NaiveDateTime, Timelike};
use chrono_tz::Tz;

use crate::clock::Instant;
use crate::speech::Speech;
use crate::speech::language::Language;

/// The names of the catalogue, read once: weekdays from Monday, months from January.
struct Names {
    days: [String; 7],
    months: [String; 12],
}

static ENGLISH: LazyLock<Names> = LazyLock::new(|| names(Language::English));
static SPANISH: LazyLock<Names> = LazyLock::new(|| names(Language::Spanish));

fn names(language: Language) -> Names {
    language.during(|| {
        let speech = Speech::load().ok();
        let name = |key: String| speech.as_ref().map_or_else(|| key.clone(), |speech| speech.plain(&key));
        Names {
            days: from_fn(|number| name(format!("dates-day-{}", number + 1))),
            months: from_fn(|number| name(format!("dates-month-{}", number + 1))),
        }
    })
}

fn at_hand() -> &'static Names {
    match Language::at_hand() {
        Language::English => &ENGLISH,
        Language::Spanish => &SPANISH,
    }
}

fn weekday_name(from_monday: usize) -> &'static str {
    at_hand().days.get(from_monday).map_or("", String::as_str)
}

fn month_name(date: NaiveDate) -> &'static str {
    at_hand().months.get(date.month0() as usize).map_or("", String::as_str)
}

/// “Tue 24 Nov”.
#[must_use]
pub fn day(date: NaiveDate) -> String {
    let (weekday, month) = (weekday_name(date.weekday().num_days_from_monday() as usize), month_name(date));
    format!("{weekday}\u{a0}{}\u{a0}{month}", date.day())
}

/// “Tue 24 Nov 2026”, where day and year matter.
#[must_use]
pub fn day_in_full(date: NaiveDate) -> String {
    format!("{}\u{a0}{}", day(date), date.year())
}

/// “24 Nov 2026”, where the year matters.
#[must_use]
pub fn day_with_year(date: NaiveDate) -> String {
    let month = month_name(date);
    format!("{}\u{a0}{month}\u{a0}{}", date.day(), date.year())
}

/// “Tue 24 Nov, 16:30”.
#[must_use]
pub fn day_and_time(local: NaiveDateTime) -> String {
    format!("{}, {}", day(local.date()), time(local))
}

/// “16:30”.
#[must_use]
pub fn time(local: NaiveDateTime) -> String {
    format!("{:02}:{:02}", local.hour(), local.minute())
}

/// A moment on a zone's wall clock: “Tue 24 Nov, 16:30”.
#[must_use]
pub fn moment(at: Instant, zone: Tz) -> String {
    day_and_time(at.local(zone))
}

/// A moment near `now`: “16:30” on the same day, else “Tue 24 Nov, 16:30”.
#[must_use]
pub fn near(at: Instant, now: Instant, zone: Tz) -> String {
    let local = at.local(zone);
    if local.date() == now.local_date(zone) { time(local) } else { day_and_time(local) }
}

/// Minutes of a day as “16:30”.
#[must_use]
pub fn minutes(of_day: i32) -> String {
    format!("{:02}:{:02}", of_day / 60, of_day % 60)
}

/// A weekly stretch: “Tue 09:00–12:00”; weekdays from Monday, 1.
#[must_use]
pub fn weekly(weekday: i32, from_minute: i32, to_minute: i32) -> String {
    let day = usize::try_from(weekday - 1).ok().map_or("", weekday_name);
    format!("{day}\u{a0}{}–{}", minutes(from_minute), minutes(to_minute))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::spelled::Spelled;

    #[test]
    fn every_day_and_month_has_a_name_of_its_own_in_every_language() {
        for language in Language::ALL {
            language.during(every_name_is_its_own);
        }
        assert_eq!(weekly(7, 540, 720), "Sun\u{a0}09:00–12:00");
        assert_eq!(Language::Spanish.during(|| weekly(7, 540, 720)), "dom\u{a0}09:00–12:00");
        assert_eq!(weekly(8, 0, 60), "\u{a0}00:00–01:00", "no such day");
    }

    fn every_name_is_its_own() {
        let mut names: Vec<&str> = (0..7).map(weekday_name).collect();
        names.extend((1..=12).map(|month| month_name(NaiveDate::from_ymd_opt(2026, month, 1).unwrap())));
        assert!(names.iter().all(|name| !name.is_empty() && !name.starts_with("dates-")), "{names:?}");
        let (mut days, mut months) = (names[..7].to_vec(), names[7..].to_vec());
        for each in [&mut days, &mut months] {
            each.sort_unstable();
            each.dedup();
        }
        assert_eq!((days.len(), months.len()), (7, 12));
    }

    #[test]
    fn days_read_weekday_day_month() {
        let date = NaiveDate::from_ymd_opt(2026, 11, 24).unwrap();
        assert_eq!(day(date), "Tue\u{a0}24\u{a0}Nov");
        assert_eq!(day_and_time(date.and_hms_opt(16, 5, 0).unwrap()), "Tue\u{a0}24\u{a0}Nov, 16:05");
        assert_eq!(day_in_full(date), "Tue\u{a0}24\u{a0}Nov\u{a0}2026");
        assert_eq!(minutes(1440), "24:00");
        assert_eq!(time(date.and_hms_opt(9, 5, 59).unwrap()), "09:05");
    }
}
