//! The picture of a class's etches: how strong each was against how it came up, with the plates of one person marked. It
//! says what was seen and proves nothing: drawing, gum and time differ from plate to plate.

use serde::Serialize;

use crate::ids::PersonId;
use crate::speech::Speech;
use crate::store::etches::logs::Log;
use crate::trade::etch::came_up::CameUp;
use crate::trade::exact::{Exact, Rounding};
use crate::trade::spelled::Spelled;

const WIDTH: i64 = 360;
/// Where the scale begins, after the names of the rows, and how long it is; after it stands how many etches a row has.
const LEFT: i64 = 158;
const ROOM: i64 = 170;
/// How far two marks of one row must be apart to stand side by side, and how far one is set below another.
const APART: i64 = 10;
const BELOW: i64 = 10;
const MOST_BELOW: i64 = 5;
/// Steps of the scale in ten-thousandths of a mole to the litre: the first with at most five of them is taken.
const STEPS: [i64; 9] = [50, 100, 200, 500, 1_000, 2_000, 5_000, 10_000, 50_000];

/// What the template draws, and the same as a table.
#[derive(Debug, Serialize)]
pub struct Picture {
    width: i64,
    height: i64,
    left: i64,
    right: i64,
    axis_y: i64,
    tick_y: i64,
    unit_y: i64,
    ticks: Vec<Tick>,
    rows: Vec<Row>,
    /// Etches that are not in it: nobody told how they came up, or their strength cannot be reckoned.
    left_out: i64,
}

#[derive(Debug, Serialize)]
struct Tick {
    x: i64,
    label: String,
}

#[derive(Debug, Serialize)]
struct Row {
    label: String,
    text_y: i64,
    line_y: i64,
    marks: Vec<Mark>,
    etches: i64,
    marked: i64,
    weakest: String,
    middle: String,
    strongest: String,
}

#[derive(Debug, Serialize)]
struct Mark {
    x: i64,
    y: i64,
    own: bool,
}

/// How strong an etch was in ten-thousandths of a mole to the litre, how it came up, and whether it is marked.
#[derive(Debug, Clone, Copy)]
struct Point {
    strength: i64,
    how: CameUp,
    own: bool,
}

fn point(log: &Log, marked: Option<PersonId>) -> Option<Point> {
    let how = log.came_up.as_ref()?.how.0;
    let strength = log.entry.poured.mix().strength().ok()?;
    let molar = strength.acid?.concentration?.mol_per_litre;
    let strength = (&molar * &Exact::whole(10_000)).rounded(Rounding::half_up(0)).to_i64()?;
    Some(Point { strength, how, own: Some(log.plate.person) == marked })
}

/// Draws the etches of which both are known; none where there is no such etch.
#[must_use]
pub fn picture(logs: &[Log], marked: Option<PersonId>, speech: &Speech) -> Option<Picture> {
    let points: Vec<Point> = logs.iter().filter_map(|log| point(log, marked)).collect();
    let left_out = i64::try_from(logs.len().saturating_sub(points.len())).unwrap_or(i64::MAX);
    draw(&points, left_out, |how| speech.plain(&format!("etches-how-{}", how.word())))
}

fn draw(points: &[Point], left_out: i64, called: impl Fn(CameUp) -> String) -> Option<Picture> {
    let most = points.iter().map(|point| point.strength).max()?;
    let step = STEPS.into_iter().find(|step| most <= step * 5).unwrap_or(most.max(1));
    let ends = (most.max(1)).div_euclid(step).saturating_add(i64::from(most % step > 0)).max(1) * step;
    let x = |strength: i64| LEFT + strength.saturating_mul(ROOM) / ends;
    let mut rows = Vec::new();
    let mut top = 8;
    for how in CameUp::ALL {
        let mut of_row: Vec<Point> = points.iter().copied().filter(|point| point.how == *how).collect();
        if of_row.is_empty() {
            continue;
        }
        of_row.sort_by_key(|point| point.strength);
        let (marks, levels) = placed(&of_row, top, x);
        let height = 16 + (levels - 1) * BELOW;
        rows.push(row(called(*how), &of_row, marks, (top, height)));
        top += height + 12;
    }
    let ticks = (0..=ends / step).map(|number| Tick { x: x(number * step), label: molar(number * step) });
    Some(Picture {
        width: WIDTH,
        height: top + 44,
        left: LEFT,
        right: LEFT + ROOM,
        axis_y: top,
        tick_y: top + 16,
        unit_y: top + 36,
        ticks: ticks.collect(),
        rows,
        left_out,
    })
}

/// The marks of a row, each in the first line in which it touches no other, and how many lines that takes.
fn placed(points: &[Point], top: i64, x: impl Fn(i64) -> i64) -> (Vec<Mark>, i64) {
    let mut ends: Vec<i64> = Vec::new();
    let mut marks = Vec::new();
    for point in points {
        let at = x(point.strength);
        let free = ends.iter().position(|end| end + APART <= at);
        let level = match free {
            Some(level) => level,
            // Where the row is as high as may be, marks lie over each other in its last line.
            None if i64::try_from(ends.len()).is_ok_and(|lines| lines >= MOST_BELOW) => ends.len() - 1,
            None => {
                ends.push(at);
                ends.len() - 1
            }
        };
        if let Some(end) = ends.get_mut(level) {
            *end = at;
        }
        let down = i64::try_from(level).unwrap_or(0) * BELOW;
        marks.push(Mark { x: at, y: top + 8 + down, own: point.own });
    }
    (marks, i64::try_from(ends.len()).unwrap_or(1).max(1))
}

fn row(label: String, points: &[Point], marks: Vec<Mark>, (top, height): (i64, i64)) -> Row {
    let count = |count: usize| i64::try_from(count).unwrap_or(i64::MAX);
    let strength = |place: usize| points.get(place).map(|point| molar(point.strength)).unwrap_or_default();
    Row {
        label,
        text_y: top + 12,
        line_y: top + height + 6,
        etches: count(points.len()),
        marked: count(points.iter().filter(|point| point.own).count()),
        weakest: strength(0),
        // Of an even number the weaker of the two in the middle: an etch that was.
        middle: strength(points.len().saturating_sub(1) / 2),
        strongest: strength(points.len().saturating_sub(1)),
        marks,
    }
}

/// Ten-thousandths as a decimal: 1228 is “0.1228”.
fn molar(strength: i64) -> String {
    crate::pages::forms::decimal_text(strength, 4)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(points: &[(i64, CameUp, bool)]) -> Option<Picture> {
        let points: Vec<Point> = points
            .iter()
            .map(|(strength, how, own)| Point { strength: *strength, how: *how, own: *own })
            .collect();
        draw(&points, 3, |how| how.word().to_owned())
    }

    #[test]
    fn each_row_says_its_weakest_middle_and_strongest() {
        let (burned, drawn_so) = (CameUp::Burned, CameUp::AsDrawn);
        let picture = drawn(&[
            (2436, burned, true),
            (739, drawn_so, false),
            (1228, drawn_so, true),
            (1228, drawn_so, false),
            (985, drawn_so, false),
        ])
        .unwrap();
        let rows: Vec<_> = picture
            .rows
            .iter()
            .map(|row| {
                (row.label.as_str(), row.etches, row.marked, row.weakest.as_str(), row.middle.as_str())
            })
            .collect();
        assert_eq!(rows, [("as-drawn", 4, 1, "0.0739", "0.0985"), ("burned", 1, 1, "0.2436", "0.2436")]);
        assert_eq!(picture.left_out, 3);
        let ticks: Vec<&str> = picture.ticks.iter().map(|tick| tick.label.as_str()).collect();
        assert_eq!(ticks, ["0", "0.05", "0.1", "0.15", "0.2", "0.25"]);
    }

    #[test]
    fn marks_of_one_strength_do_not_hide_each_other_and_none_leaves_the_picture() {
        let many: Vec<_> = (0..40).map(|number| (1000 + number % 3, CameUp::Weak, number == 7)).collect();
        let picture = drawn(&many).unwrap();
        let row = &picture.rows[0];
        let places: std::collections::BTreeSet<(i64, i64)> =
            row.marks.iter().map(|mark| (mark.x, mark.y)).collect();
        assert!(places.len() as i64 >= MOST_BELOW, "{places:?}");
        assert!(
            row.marks.iter().all(|mark| (LEFT..=LEFT + ROOM).contains(&mark.x) && mark.y < picture.axis_y)
        );
        assert_eq!(row.marks.iter().filter(|mark| mark.own).count(), 1);
        assert!(drawn(&[]).is_none());
        let pure = drawn(&[(0, CameUp::AsDrawn, false)]).unwrap();
        assert_eq!(pure.rows[0].marks[0].x, LEFT);
    }
}
