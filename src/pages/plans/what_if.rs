//! What the class plan is asked beside how things stand: one more evening, a smaller edition, a repaired press.

use chrono::Weekday;

use crate::ids::ProjectId;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::plans::Answered;
use crate::pages::studio::hours::weekday;
use crate::speech::Speech;
use crate::store::plates::class_plan::ClassWork;
use crate::store::plates::premises::stretch;
use crate::store::studio::hours::{Stretch, clock};
use crate::trade::planning::Weekly;
use crate::trade::planning::press::{self, Answer, Change, Problem};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Most sheets of an edition that a plan is asked about.
const MOST_SHEETS: i64 = 500;

/// The questions of one visit.
#[derive(Debug, Clone, Default)]
pub(super) struct WhatIf {
    pub(super) project: Option<ProjectId>,
    /// Weekday (Monday is 1) and stretch of one more opening each week.
    evening: Option<(i32, Stretch)>,
    sheets: Option<u32>,
    /// A kind of station of which nothing is out of order.
    repaired: Option<String>,
}

/// Reads the questions from the address.
///
/// # Errors
/// Complaints at the fields.
pub(super) fn read(asked: &Filled) -> Result<WhatIf, Trouble> {
    let mut sheet = Sheet::new(asked);
    let given = |field: &str| asked.get(field).is_some_and(|value| !value.trim().is_empty());
    let evening = if given("day") || given("from") || given("to") {
        let day = i32::try_from(sheet.whole("day", 1..=7)).unwrap_or(1);
        let (from, to) = (sheet.minutes_of_day("from"), sheet.minutes_of_day("to"));
        let stretch = Stretch { from_minute: from, to_minute: if to == 0 { 1440 } else { to } };
        if given("from") && given("to") && stretch.check().is_err() {
            let remark = Remark::new("studio-ends-before").with("from", clock(from)).with("to", clock(to));
            sheet.complain("to", remark);
        }
        Some((day, stretch))
    } else {
        None
    };
    let found = WhatIf {
        project: sheet.maybe_id("project"),
        evening,
        sheets: sheet.maybe_whole("sheets", 1..=MOST_SHEETS).and_then(|sheets| u32::try_from(sheets).ok()),
        repaired: sheet.maybe_text("repaired", 40),
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
    if let Some((day, hours)) = ask.evening
        && let Some(opening) = opening(day, hours)
    {
        let label = Remark::new("plans-if-evening")
            .with("day", weekday(speech, day))
            .with("from", clock(hours.from_minute))
            .with("to", clock(hours.to_minute));
        answer(label, &problem.changed(&Change::EachWeek(opening)));
    }
    if let Some(sheets) = ask.sheets
        && let Some(smaller) = work.problem(Some(sheets))?
    {
        answer(Remark::new("plans-if-sheets").with("sheets", i64::from(sheets)), &smaller);
    }
    if let Some(kind) = &ask.repaired
        && let Some(station) = problem.stations().iter().position(|station| station.name == *kind)
    {
        let changed = problem.changed(&Change::Repaired { station, unit: None });
        answer(Remark::new("plans-if-repaired").with("station", kind.as_str()), &changed);
    }
    Ok(Some((problem, now, answered)))
}

fn opening(day: i32, hours: Stretch) -> Option<Weekly> {
    let day = Weekday::try_from(u8::try_from(day - 1).ok()?).ok()?;
    Some(Weekly { day, stretch: stretch(hours.from_minute, hours.to_minute)? })
}
