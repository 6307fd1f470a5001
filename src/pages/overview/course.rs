//! The picture of a plate's course: its runs, rests, photos and times under gum on one line of time, with the due date,
//! and the same as a table. It shows what happened; what is still to come is the plan's.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::clock::Instant;
use crate::pages::dates;
use crate::pages::plans::Tick;
use crate::pages::plans::timeline::{LEFT, Piece, ROW, Scale, TOP, WIDTH};
use crate::speech::Speech;
use crate::store::plates::folder::Folder;
use crate::store::proofs::pulls::{Numbered, ProofKind};
use crate::trade::planning::{DAY, Millis, Span};
use crate::trade::spelled::Spelled;

/// How near the end of what happened a due date must be to have its place on the line, in parts of what happened.
const NEAR: i64 = 1;

/// What the template draws; all lengths in the picture's units.
#[derive(Debug, Serialize)]
pub struct Picture {
    width: i64,
    height: i64,
    foot: i64,
    ticks: Vec<Tick>,
    rows: Vec<Row>,
    now: i64,
    due: Option<i64>,
    due_anchor: &'static str,
    /// A due date that lies beyond the picture, in words.
    due_later: Option<String>,
    lines: Vec<Line>,
    from: String,
    to: String,
    steps: usize,
    photos: usize,
}

#[derive(Debug, Default, Serialize)]
struct Row {
    title: String,
    title_y: i64,
    y: i64,
    middle: i64,
    bars: Vec<Piece>,
    rests: Vec<Piece>,
    gum: Vec<Piece>,
    photos: Vec<i64>,
}

/// A line of the table.
#[derive(Debug, Serialize)]
struct Line {
    #[serde(skip)]
    at: Millis,
    what: String,
    from: String,
    to: Option<String>,
    goes_on: bool,
}

/// Something that happened: what a row and a line of the table are made of.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Event {
    kind: Kind,
    /// What its row is called.
    row: String,
    /// What the table calls it.
    what: String,
    from: Millis,
    /// None: it goes on. For a photo and a putting down, the same as `from`.
    to: Option<Millis>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Run,
    Rest,
    Gum,
    Photo,
    Due,
}

/// The course of a plate up to `now`; none where nothing was done on it.
#[must_use]
pub fn picture(speech: &Speech, folder: &Folder, proofs: &[Numbered], now: Instant) -> Option<Picture> {
    if folder.runs.is_empty() {
        return None;
    }
    let events = events(speech, folder, proofs, now);
    let due = folder.due().map(|due| due.timestamp_millis());
    Some(draw(&events, due, now.millis(), folder.zone))
}

fn events(speech: &Speech, folder: &Folder, proofs: &[Numbered], now: Instant) -> Vec<Event> {
    let title =
        |key: &str| folder.procedure.find(key).map_or_else(|| key.to_owned(), |step| step.title.clone());
    let mut events: Vec<Event> = Vec::new();
    for run in &folder.runs {
        let (row, to) = (title(&run.step_key), run.ended_at.map(Instant::millis));
        events.push(Event { kind: Kind::Run, what: row.clone(), row, from: run.began_at.millis(), to });
    }
    let course = folder.case().course(now.utc());
    for rest in course.rests {
        let row = title(&rest.before);
        let what =
            speech.remark(&crate::trade::remark::Remark::new("course-rest").with("step", row.as_str()));
        let (from, to) = (rest.from.timestamp_millis(), Some(rest.to.timestamp_millis()));
        events.push(Event { kind: Kind::Rest, row, what, from, to });
    }
    let gum = speech.plain("course-under-gum");
    for stretch in course.under_gum {
        let (from, to) = (stretch.from.timestamp_millis(), stretch.to.map(|to| to.timestamp_millis()));
        events.push(Event { kind: Kind::Gum, row: gum.clone(), what: gum.clone(), from, to });
    }
    let photos = speech.plain("course-photos");
    for one in proofs {
        let at = one.proof.pulled_at.millis();
        let what = photo_words(speech, one.number, one.proof.kind.0);
        events.push(Event { kind: Kind::Photo, row: photos.clone(), what, from: at, to: Some(at) });
    }
    if let Some(due) = folder.due().map(|due| due.timestamp_millis()) {
        let what = speech.plain("course-due");
        events.push(Event { kind: Kind::Due, row: String::new(), what, from: due, to: Some(due) });
    }
    events
}

fn photo_words(speech: &Speech, number: usize, kind: ProofKind) -> String {
    let kind = speech.plain(&format!("proofs-kind-{}", kind.word()));
    let number = i64::try_from(number).unwrap_or(i64::MAX);
    let remark = crate::trade::remark::Remark::new("course-photo").with("number", number).with("kind", kind);
    speech.remark(&remark)
}

fn draw(events: &[Event], due: Option<Millis>, now: Millis, zone: chrono_tz::Tz) -> Picture {
    let told = || events.iter().filter(|event| event.kind != Kind::Due);
    let from = told().map(|event| event.from).min().unwrap_or(now).min(now);
    let last = told().filter_map(|event| event.to).chain([now]).max().unwrap_or(now);
    let length = (last - from).max(DAY);
    let near = due.filter(|due| (from..=last + length * NEAR).contains(due));
    let to = near.unwrap_or(last).max(last).max(from + DAY);
    let scale = Scale { from, to: to + (to - from) / 50 };
    let rows = rows(events, &scale, now);
    let foot = TOP + ROW * i64::try_from(rows.len()).unwrap_or(0) + 4;
    let day = |at: Millis| dates::day(Instant::from_millis(at).local_date(zone));
    let due_x = near.map(|due| scale.x(due));
    Picture {
        width: WIDTH,
        height: foot + 34,
        foot,
        ticks: scale.ticks(zone),
        steps: told()
            .filter(|event| event.kind == Kind::Run)
            .map(|event| &event.row)
            .collect::<BTreeSet<_>>()
            .len(),
        photos: told().filter(|event| event.kind == Kind::Photo).count(),
        rows,
        now: scale.x(now),
        due: due_x,
        due_anchor: if due_x.is_some_and(|x| x > WIDTH / 2) { "end" } else { "start" },
        due_later: due.filter(|due| near.is_none() && *due > last).map(day),
        lines: lines(events, zone),
        from: day(from),
        to: day(last),
    }
}

/// A row for each step in the order in which they were begun, then gum, then photos.
fn rows(events: &[Event], scale: &Scale, now: Millis) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for kind in [Kind::Run, Kind::Rest, Kind::Gum, Kind::Photo] {
        for event in events.iter().filter(|event| event.kind == kind) {
            let known = rows.iter().position(|row| row.title == event.row);
            let place = known.unwrap_or(rows.len());
            if known.is_none() {
                let y = TOP + ROW * i64::try_from(place).unwrap_or(0) + 18;
                rows.push(Row {
                    title: event.row.clone(),
                    title_y: y - 5,
                    y,
                    middle: y + 5,
                    ..Row::default()
                });
            }
            let Some(row) = rows.get_mut(place) else { continue };
            let piece =
                scale.piece(Span { start: event.from, finish: event.to.unwrap_or(now).max(event.from) });
            match kind {
                Kind::Run => row.bars.push(piece),
                Kind::Rest => row.rests.push(piece),
                Kind::Gum => row.gum.push(piece),
                Kind::Photo => row.photos.push(scale.x(event.from).clamp(LEFT + 4, WIDTH - LEFT - 4)),
                Kind::Due => {}
            }
        }
    }
    rows
}

fn lines(events: &[Event], zone: chrono_tz::Tz) -> Vec<Line> {
    let moment = |at: Millis| dates::moment(Instant::from_millis(at), zone);
    let mut lines: Vec<Line> = events
        .iter()
        .map(|event| Line {
            at: event.from,
            what: event.what.clone(),
            from: moment(event.from),
            to: event.to.filter(|to| *to != event.from).map(moment),
            goes_on: event.to.is_none(),
        })
        .collect();
    lines.sort_by_key(|line| line.at);
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::planning::MINUTE;

    const BEGAN: Millis = 1_792_000_000_000;

    fn event(kind: Kind, row: &str, from: Millis, to: Option<Millis>) -> Event {
        Event { kind, row: row.into(), what: row.into(), from, to }
    }

    #[test]
    fn everything_lies_inside_the_picture_and_each_step_has_one_row() {
        let later = |days: i64| BEGAN + days * DAY;
        let events = [
            event(Kind::Run, "Etch", BEGAN, Some(BEGAN + 45 * MINUTE)),
            event(Kind::Run, "Proof", later(3), Some(later(3) + 90 * MINUTE)),
            event(Kind::Run, "Etch", later(5), None),
            event(Kind::Rest, "Proof", BEGAN + 45 * MINUTE, Some(later(1))),
            event(Kind::Gum, "Gum", BEGAN, None),
            event(Kind::Photo, "Photos", later(3), Some(later(3))),
            event(Kind::Due, "", later(7), Some(later(7))),
        ];
        let drawn = draw(&events, Some(later(7)), later(6), chrono_tz::America::New_York);
        let titles: Vec<&str> = drawn.rows.iter().map(|row| row.title.as_str()).collect();
        assert_eq!(titles, ["Etch", "Proof", "Gum", "Photos"]);
        assert_eq!((drawn.steps, drawn.photos), (2, 1));
        assert_eq!(drawn.rows[0].bars.len(), 2);
        assert!(drawn.rows[0].bars[0].width >= 2, "a short run is still seen");
        let ends = drawn.rows.iter().flat_map(|row| row.bars.iter().chain(&row.rests).chain(&row.gum));
        assert!(ends.map(|piece| piece.x + piece.width).all(|end| end <= WIDTH), "{drawn:?}");
        assert!(drawn.now < drawn.due.unwrap() && drawn.due.unwrap() < WIDTH && drawn.due_later.is_none());
        assert!(drawn.lines.windows(2).all(|pair| pair[0].at <= pair[1].at));
        assert!(drawn.lines.iter().any(|line| line.goes_on) && drawn.lines.len() == events.len());
    }

    #[test]
    fn a_due_date_far_ahead_or_long_past_does_not_press_what_happened_together() {
        let events = [event(Kind::Run, "Etch", BEGAN, Some(BEGAN + 45 * MINUTE))];
        let far = draw(&events, Some(BEGAN + 60 * DAY), BEGAN + DAY, chrono_tz::UTC);
        assert!(far.due.is_none() && far.due_later.is_some());
        assert!(far.now > WIDTH * 9 / 10, "{far:?}");
        let past = draw(&events, Some(BEGAN - DAY), BEGAN + DAY, chrono_tz::UTC);
        assert!(past.due.is_none() && past.due_later.is_none());
        let alone = draw(&[], None, BEGAN, chrono_tz::UTC);
        assert!(alone.rows.is_empty() && alone.lines.is_empty());
    }
}
