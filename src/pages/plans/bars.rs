//! The picture of a station's weeks: how much time there is, and how much the prints want.

use chrono::NaiveDate;
use serde::Serialize;

use super::length;
use crate::pages::dates;
use crate::trade::planning::Millis;

const WIDTH: i64 = 360;
/// Where the bars begin, after the day, and the room they have before the figures.
const LEFT: i64 = 78;
const ROOM: i64 = 160;
const ROW: i64 = 26;

/// One week of a station.
#[derive(Debug, Clone, Copy)]
pub struct Week {
    pub monday: NaiveDate,
    pub had: Millis,
    pub wanted: Millis,
    pub placed: Millis,
}

/// What the template draws and lists.
#[derive(Debug, Serialize)]
pub struct Bars {
    width: i64,
    height: i64,
    left: i64,
    rows: Vec<Row>,
}

#[derive(Debug, Serialize)]
struct Row {
    y: i64,
    text_y: i64,
    wanted_y: i64,
    day: String,
    had_width: i64,
    wanted_width: i64,
    had: String,
    wanted: String,
    placed: String,
    /// What is wanted beyond what there is.
    short: Option<String>,
}

/// Draws the weeks of one station on one scale.
#[must_use]
pub fn bars(weeks: &[Week]) -> Bars {
    let most = weeks.iter().map(|week| week.had.max(week.wanted)).max().unwrap_or(0).max(1);
    let width = |time: Millis| time.max(0).saturating_mul(ROOM) / most;
    let row = |(week, number): (&Week, i64)| {
        let y = 6 + number * ROW;
        let short = week.wanted - week.had;
        Row {
            y,
            text_y: y + 13,
            wanted_y: y + 5,
            day: dates::day(week.monday),
            had_width: width(week.had),
            wanted_width: if week.wanted > 0 { width(week.wanted).max(1) } else { 0 },
            had: length(week.had),
            wanted: length(week.wanted),
            placed: length(week.placed),
            short: (short > 0).then(|| length(short)),
        }
    };
    let rows: Vec<Row> = weeks.iter().zip(0_i64..).map(row).collect();
    let height = 10 + ROW * i64::try_from(rows.len()).unwrap_or(0);
    Bars { width: WIDTH, height, left: LEFT, rows }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::planning::MINUTE;

    #[test]
    fn the_longest_bar_fills_the_room_and_nothing_is_wider() {
        let monday = NaiveDate::from_ymd_opt(2026, 10, 19).unwrap();
        let week =
            |had: i64, wanted: i64| Week { monday, had: had * MINUTE, wanted: wanted * MINUTE, placed: 0 };
        let drawn = bars(&[week(600, 900), week(600, 1), week(0, 0)]);
        assert_eq!(drawn.rows[0].wanted_width, ROOM);
        assert_eq!(drawn.rows[0].had_width, ROOM * 600 / 900);
        assert_eq!(drawn.rows[0].short.as_deref(), Some("5\u{a0}h"));
        assert_eq!((drawn.rows[1].wanted_width, drawn.rows[1].short.clone()), (1, None), "a little is seen");
        assert_eq!((drawn.rows[2].had_width, drawn.rows[2].wanted_width), (0, 0));
        assert!(bars(&[]).rows.is_empty());
    }
}
