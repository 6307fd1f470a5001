//! Plans: of one plate back from its due date, and of a whole class on the places it shares. Every picture has a table
//! as its text form. A plan is an estimate from minutes somebody wrote into a procedure, and the pages say so.

pub mod bars;
pub mod class;
pub mod feed;
pub mod plate;
pub mod timeline;
mod what_if;

use class::Answered;

use serde::Serialize;

use crate::clock::Instant;
use crate::pages::dates;
use crate::speech::Speech;
use crate::store::studio::downs::Down;
use crate::trade::planning::{MINUTE, Millis};
use crate::trade::remark::Remark;

/// A length of time in hours and minutes, never in days: an open day is shorter than the clock's. “26 h 30 min”.
#[must_use]
pub fn length(time: Millis) -> String {
    let minutes = time.div_euclid(MINUTE);
    let (sign, minutes) = if minutes < 0 { ("−", minutes.saturating_neg()) } else { ("", minutes) };
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{sign}{minutes}\u{a0}min"),
        (hours, 0) => format!("{sign}{hours}\u{a0}h"),
        (hours, minutes) => format!("{sign}{hours}\u{a0}h {minutes}\u{a0}min"),
    }
}

/// What is out of order, in one sentence.
#[must_use]
pub fn down_words(speech: &Speech, down: &Down, zone: chrono_tz::Tz) -> String {
    let key = if down.until().is_some() { "studio-down-until" } else { "studio-down-open" };
    speech.remark(
        &Remark::new(key)
            .with("station", down.station_name.as_str())
            .with("unit", i64::from(down.unit))
            .with("from", dates::moment(down.from_at, zone))
            .with("to", down.until().map(|at| dates::moment(at, zone)).unwrap_or_default())
            .with("reason", down.reason.as_str()),
    )
}

/// A moment in milliseconds as people read it.
fn moment(at: Millis, zone: chrono_tz::Tz) -> String {
    dates::moment(Instant::from_millis(at), zone)
}

/// A label on a picture's axis.
#[derive(Debug, Serialize)]
pub(crate) struct Tick {
    x: i64,
    label: String,
    anchor: &'static str,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_hours_and_minutes() {
        for (minutes, said) in
            [(0, "0 min"), (45, "45 min"), (60, "1 h"), (1_590, "26 h 30 min"), (-90, "−1 h 30 min")]
        {
            assert_eq!(length(minutes * MINUTE).replace('\u{a0}', " "), said);
        }
    }
}
