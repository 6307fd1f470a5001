//! The picture of a plate's plan: a line for each step, as early as it goes, and how far it may slip.

use chrono::Days;
use chrono_tz::Tz;
use serde::Serialize;

use super::Tick;
use crate::clock::Instant;
use crate::pages::dates;
use crate::trade::civil;
use crate::trade::planning::{DAY, Millis, Span};

/// Units of the picture's own square paper; at 360 px a unit is a little less than a pixel.
pub(crate) const WIDTH: i64 = 360;
pub(crate) const LEFT: i64 = 4;
pub(crate) const TOP: i64 = 26;
pub(crate) const ROW: i64 = 34;
/// Most labels the axis has room for.
const TICKS: i64 = 5;

/// What the template draws; all lengths in the picture's units.
#[derive(Debug, Serialize)]
pub struct Timeline {
    width: i64,
    height: i64,
    foot: i64,
    ticks: Vec<Tick>,
    rows: Vec<Row>,
    /// Where the due date stands.
    due: Option<i64>,
    due_anchor: &'static str,
}

/// One step to draw.
#[derive(Debug, Clone)]
pub struct Line {
    pub title: String,
    pub may_split: bool,
    pub earliest: Option<Span>,
    /// Where the latest place ends.
    pub latest_end: Option<Millis>,
    /// The rest before it, as the plan counts it.
    pub rest: Option<Span>,
}

#[derive(Debug, Serialize)]
struct Row {
    title: String,
    title_y: i64,
    y: i64,
    middle: i64,
    bar: Option<Piece>,
    /// A step that may be split is drawn as an outline: it is not worked on all the while.
    outline: bool,
    rest: Option<Piece>,
    slack: Option<(i64, i64)>,
}

/// A stretch of time as it is drawn.
#[derive(Debug, Serialize)]
pub(crate) struct Piece {
    pub x: i64,
    pub width: i64,
}

/// Draws the steps from `now` to the last of them or the due date.
#[must_use]
pub fn timeline(lines: &[Line], now: Millis, due: Option<Millis>, zone: Tz) -> Timeline {
    let ends = lines.iter().flat_map(|line| [line.earliest.map(|span| span.finish), line.latest_end]);
    let last = ends.flatten().chain(due).max().unwrap_or(now).max(now + DAY);
    let scale = Scale { from: now, to: last + (last - now) / 50 };
    let mut rows = Vec::with_capacity(lines.len());
    for (line, number) in lines.iter().zip(0_i64..) {
        let y = TOP + number * ROW + 18;
        let earliest = line.earliest.map(|span| span.finish);
        let slack = earliest.zip(line.latest_end).filter(|(from, to)| from < to);
        rows.push(Row {
            title: line.title.clone(),
            title_y: y - 5,
            y,
            middle: y + 5,
            bar: line.earliest.map(|span| scale.piece(span)),
            outline: line.may_split,
            rest: line.rest.filter(|rest| rest.finish > now).map(|rest| scale.piece(rest)),
            slack: slack.map(|(from, to)| (scale.x(from), scale.x(to))),
        });
    }
    let foot = TOP + ROW * i64::try_from(lines.len()).unwrap_or(0) + 4;
    let due = due.filter(|due| *due >= now).map(|due| scale.x(due));
    let due_anchor = if due.is_some_and(|x| x > WIDTH / 2) { "end" } else { "start" };
    Timeline { width: WIDTH, height: foot + 18, foot, ticks: scale.ticks(zone), rows, due, due_anchor }
}

/// The line of time of a picture.
pub(crate) struct Scale {
    pub from: Millis,
    pub to: Millis,
}

impl Scale {
    pub(crate) fn x(&self, at: Millis) -> i64 {
        let whole = (self.to - self.from).max(1);
        LEFT + (at.clamp(self.from, self.to) - self.from).saturating_mul(WIDTH - 2 * LEFT) / whole
    }

    pub(crate) fn piece(&self, span: Span) -> Piece {
        let x = self.x(span.start);
        Piece { x, width: (self.x(span.finish) - x).max(2) }
    }

    /// Local midnights, as many as there is room for.
    pub(crate) fn ticks(&self, zone: Tz) -> Vec<Tick> {
        let first = Instant::from_millis(self.from).local_date(zone);
        let days = (self.to - self.from) / DAY + 1;
        let each = u64::try_from((days + TICKS - 1) / TICKS).unwrap_or(1).max(1);
        let mut ticks = Vec::new();
        let mut date = first.checked_add_days(Days::new(1)).unwrap_or(first);
        loop {
            let at = civil::instant(date.and_time(chrono::NaiveTime::MIN), zone).timestamp_millis();
            if at > self.to {
                return ticks;
            }
            let x = self.x(at);
            // A day at the right edge has its line; its words would run into those before them.
            let label = if x > WIDTH - 66 { String::new() } else { dates::day(date) };
            ticks.push(Tick { x, label, anchor: "start" });
            match date.checked_add_days(Days::new(each)) {
                Some(next) => date = next,
                None => return ticks,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::planning::MINUTE;

    fn line(start: Millis, finish: Millis, latest_end: Millis) -> Line {
        let earliest = Some(Span { start, finish });
        Line { title: "Etch".into(), may_split: false, earliest, latest_end: Some(latest_end), rest: None }
    }

    #[test]
    fn everything_lies_inside_the_picture_and_in_order() {
        // Both changes of the clock of 2026 lie between: 8 March and 1 November, 2026-02-01 to 2026-12-01.
        let (from, due) = (1_769_922_000_000, 1_796_101_200_000);
        let lines = [line(from, from + 45 * MINUTE, due), line(due - 90 * MINUTE, due, due)];
        let drawn = timeline(&lines, from, Some(due), chrono_tz::America::New_York);
        let first = drawn.rows[0].bar.as_ref().unwrap();
        assert_eq!((first.x, first.width), (LEFT, 2), "a short step is still seen");
        assert_eq!(drawn.rows[1].slack, None, "no room is no line");
        assert!(drawn.due.unwrap() < WIDTH && drawn.rows[0].slack.unwrap().1 == drawn.due.unwrap());
        assert!((3..=TICKS + 1).contains(&i64::try_from(drawn.ticks.len()).unwrap()), "{:?}", drawn.ticks);
        assert!(drawn.ticks.windows(2).all(|pair| pair[0].x < pair[1].x));
    }

    #[test]
    fn nothing_to_draw_and_times_long_past_do_not_break_it() {
        let drawn = timeline(&[], 0, None, chrono_tz::UTC);
        assert!(drawn.rows.is_empty() && drawn.due.is_none());
        let late = Line { rest: Some(Span { start: -9 * DAY, finish: -DAY }), ..line(0, MINUTE, -DAY) };
        let drawn = timeline(&[late], 0, Some(-DAY), chrono_tz::UTC);
        assert!(drawn.due.is_none() && drawn.rows[0].rest.is_none() && drawn.rows[0].slack.is_none());
    }
}
