//! What the class plan is asked beside how things stand: one more evening, once or every week, a smaller edition, a
//! repaired press.

use chrono::{NaiveDate, Weekday};

use crate::ids::ProjectId;
use crate::pages::dates;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::plans::Answered;
use crate::pages::studio::hours::weekday;
use crate::speech::Speech;
use crate::store::plates::class_plan::ClassWork;
use crate::store::plates::premises::stretch;
use crate::store::studio::hours::{Stretch, clock};
use crate::trade::planning::press::{self, Answer, Change, Problem};
use crate::trade::planning::{Extra, Weekly};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Most sheets of an edition that a plan is asked about.
const MOST_SHEETS: i64 = 500;

/// The questions of one visit.
#[derive(Debug, Clone, Default)]
pub(super) struct WhatIf {
    pub(super) project: Option<ProjectId>,
    /// One more opening: its stretch, on a weekday (Monday is 1) of every week, on one date, or both beside each other.
    evening: Option<Stretch>,
    weekday: Option<i32>,
    date: Option<NaiveDate>,
    sheets: Option<u32>,
    /// A kind of station of which nothing is out of order, or one unit of it.
    repaired: Option<(String, Option<u32>)>,
}

/// How the form names a unit of a kind of station; without a unit it means all of them.
pub(super) fn repairable(kind: &str, unit: Option<u32>) -> String {
    unit.map_or_else(|| kind.to_owned(), |unit| format!("{kind}/{unit}"))
}

fn repaired(text: String) -> (String, Option<u32>) {
    let unit =
        text.rsplit_once('/').and_then(|(kind, unit)| Some((kind.to_owned(), Some(unit.parse().ok()?))));
    unit.unwrap_or((text, None))
}

/// Reads the questions from the address.
///
/// # Errors
/// Complaints at the fields.
pub(super) fn read(asked: &Filled) -> Result<WhatIf, Trouble> {
    let mut sheet = Sheet::new(asked);
    let given = |field: &str| asked.get(field).is_some_and(|value| !value.trim().is_empty());
    let date = sheet.maybe_date("date");
    let evening = given("day") || given("date") || given("from") || given("to");
    let weekday = if given("day") || (evening && !given("date")) {
        Some(i32::try_from(sheet.whole("day", 1..=7)).unwrap_or(1))
    } else {
        None
    };
    let evening = if evening {
        let (from, to) = (sheet.minutes_of_day("from"), sheet.minutes_of_day("to"));
        let stretch = Stretch { from_minute: from, to_minute: if to == 0 { 1440 } else { to } };
        if given("from") && given("to") && stretch.check().is_err() {
            let remark = Remark::new("studio-ends-before").with("from", clock(from)).with("to", clock(to));
            sheet.complain("to", remark);
        }
        Some(stretch)
    } else {
        None
    };
    let found = WhatIf {
        project: sheet.maybe_id("project"),
        evening,
        weekday,
        date,
        sheets: sheet.maybe_whole("sheets", 1..=MOST_SHEETS).and_then(|sheets| u32::try_from(sheets).ok()),
        repaired: sheet.maybe_text("repaired", 60).map(repaired),
    };
    sheet.done()?;
    Ok(found)
}

/// How things stand, then the answer to each question. This may take a moment: it is for a thread of its own.
///
/// # Errors
/// The work makes no problem: the sentence says why.
pub(super) fn answers(
    speech: &Speech,
    work: &ClassWork,
    ask: &WhatIf,
) -> Result<Option<(Problem, Answer, Vec<Answered>)>, Remark> {
    let Some(problem) = work.problem(None)? else { return Ok(None) };
    let now = press::reckon(&problem);
    let mut answered = Vec::new();
    let mut answer = |label: Remark, changed: &Problem| {
        answered.push(Answered { label: speech.remark(&label), answer: press::reckon(changed) });
    };
    if let Some(hours) = ask.evening
        && let Some(stretch) = stretch(hours.from_minute, hours.to_minute)
    {
        let label = |key, day: String| {
            let remark = Remark::new(key).with("day", day).with("from", clock(hours.from_minute));
            remark.with("to", clock(hours.to_minute))
        };
        if let Some((number, day)) = ask.weekday.and_then(|number| Some((number, day_of(number)?))) {
            let changed = problem.changed(&Change::EachWeek(Weekly { day, stretch }));
            answer(label("plans-if-evening", weekday(speech, number)), &changed);
        }
        if let Some(date) = ask.date {
            let changed = problem.changed(&Change::OneMore(Extra { date, stretch }));
            answer(label("plans-if-one-evening", dates::day(date)), &changed);
        }
    }
    if let Some(sheets) = ask.sheets
        && let Some(smaller) = work.problem(Some(sheets))?
    {
        answer(Remark::new("plans-if-sheets").with("sheets", i64::from(sheets)), &smaller);
    }
    if let Some((kind, unit)) = &ask.repaired
        && let Some(station) = problem.stations().iter().position(|station| station.name == *kind)
    {
        let changed = problem.changed(&Change::Repaired { station, unit: *unit });
        let label = match unit {
            Some(unit) => Remark::new("plans-if-repaired-unit").with("unit", i64::from(*unit)),
            None => Remark::new("plans-if-repaired"),
        };
        answer(label.with("station", kind.as_str()), &changed);
    }
    Ok(Some((problem, now, answered)))
}

fn day_of(number: i32) -> Option<Weekday> {
    Weekday::try_from(u8::try_from(number - 1).ok()?).ok()
}
