//! Hours, instants and minutes as the planning reckonings read and write them.

use chrono::{DateTime, Offset, SecondsFormat, Utc};
use chrono_tz::Tz;
use serde::Deserialize;

use crate::trade::civil;
use crate::trade::planning::hours::weekday;
use crate::trade::planning::{DayTime, Extra, Hours, MINUTE, Millis, Step, Stretch, Weekly, Where};
use crate::trade::remark::Remark;

/// `{"day":"mon","from":"09:00","to":"17:00"}`
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct OpeningIn {
    day: String,
    from: String,
    to: String,
}

/// `{"date":"2026-11-14","from":"18:00","to":"21:00"}`
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ExtraIn {
    date: String,
    from: String,
    to: String,
}

/// Reads hours; `open` of `None` is always open.
pub(super) fn hours(
    zone: Tz,
    open: Option<&[OpeningIn]>,
    extra: &[ExtraIn],
    closed: &[String],
) -> Result<Hours, Remark> {
    let weekly = open.map(|open| weekly_openings("open", open)).transpose()?;
    let extra =
        extra.iter().enumerate().map(|(number, extra)| extra_opening(&format!("extra[{number}]"), extra));
    let closed =
        closed.iter().enumerate().map(|(number, text)| civil::date(&format!("closed[{number}]"), text));
    Ok(Hours::new(zone, weekly, extra.collect::<Result<_, _>>()?, closed.collect::<Result<_, _>>()?))
}

pub(super) fn weekly_openings(field: &str, openings: &[OpeningIn]) -> Result<Vec<Weekly>, Remark> {
    let numbered = openings.iter().enumerate();
    numbered.map(|(number, opening)| weekly_opening(&format!("{field}[{number}]"), opening)).collect()
}

pub(super) fn weekly_opening(field: &str, opening: &OpeningIn) -> Result<Weekly, Remark> {
    let day = weekday(&format!("{field}.day"), &opening.day)?;
    Ok(Weekly { day, stretch: stretch(field, &opening.from, &opening.to)? })
}

/// Hours that can hold no work at all are a slip in the input, not a lack of time. `from` and `to` as they were given.
pub(super) fn check<'a>(
    hours: &Hours,
    mut steps: impl Iterator<Item = &'a Step>,
    (start, finish): (Millis, Millis),
    (from, to): (&str, &str),
) -> Result<(), Remark> {
    let takes_time = |step: &Step| step.minutes > 0 || step.minutes_per_sheet > 0;
    if !steps.any(|step| step.place != Where::Anywhere && takes_time(step)) {
        return Ok(());
    }
    if hours.never_open() {
        return Err(Remark::new("planning-never-open"));
    }
    let open = |hours: &Hours| hours.over(start, finish).open_between(start, finish);
    if open(hours) == 0 && open(&hours.clone().without_closures()) > 0 {
        return Err(Remark::new("planning-closed-throughout").with("from", from).with("to", to));
    }
    Ok(())
}

pub(super) fn extra_opening(field: &str, extra: &ExtraIn) -> Result<Extra, Remark> {
    let date = civil::date(&format!("{field}.date"), &extra.date)?;
    Ok(Extra { date, stretch: stretch(field, &extra.from, &extra.to)? })
}

fn stretch(field: &str, from: &str, to: &str) -> Result<Stretch, Remark> {
    let from = DayTime::parse(&format!("{field}.from"), from)?;
    Stretch::new(field, from, DayTime::parse(&format!("{field}.to"), to)?)
}

/// One remark for each extra opening that a closed date takes back.
pub(super) fn taken_back(hours: &Hours) -> Vec<Remark> {
    let dates = hours.extras_on_closed_dates().into_iter();
    dates.map(|date| Remark::new("planning-extra-on-closed").with("date", date.to_string())).collect()
}

/// Whole minutes, none below nothing; how many are too many is the trade's to say.
pub(super) fn minutes(step: &str, field: &str, value: i64) -> Result<u32, Remark> {
    u32::try_from(value).map_err(|_outside| {
        let remark = Remark::new("planning-minutes-outside").with("step", step);
        remark.with("field", field).with("value", value)
    })
}

/// RFC 3339 with the zone's offset, or in UTC where the zone's offset then was no whole minutes.
pub(super) fn rfc3339(at: Millis, zone: Tz) -> String {
    let utc = DateTime::<Utc>::from_timestamp_millis(at).unwrap_or(DateTime::<Utc>::MAX_UTC);
    let format = if at % 1_000 == 0 { SecondsFormat::Secs } else { SecondsFormat::Millis };
    let local = utc.with_timezone(&zone);
    match local.offset().fix().local_minus_utc() % 60 {
        0 => local.to_rfc3339_opts(format, false),
        _ => utc.to_rfc3339_opts(format, true),
    }
}

/// Whole minutes of a duration, rounded down.
pub(super) fn whole_minutes(time: Millis) -> i64 {
    time.div_euclid(MINUTE)
}
