//! `reckon press`: whether shared places are enough for all prints, and what would help.
//!
//! `{"zone", "from", "to", "open", "extra", "closed", "stations": [{"name", "count", "down": [{"unit", "from",
//! "to"}]}], "prints": N, "sheets": N, "steps": [{"key", "minutes", "minutes_per_sheet", "station", "after",
//! "min_wait_minutes", "max_wait_minutes", "same_day", "may_split", "anywhere"}]}`, or instead of the last three
//! `"work": [{"print", "due", "sheets", "steps", "counted"}]`; one with `"counted": false` takes its place and stands
//! in no count. Times are local, `YYYY-MM-DDTHH:MM`. A step without a station
//! runs in open hours, or at any time with `anywhere`; with `same_day` it belongs to the day on which the one before
//! it ended. `instead` lists changes to try, each by itself: `{"extra": {"date", "from", "to"}}` for one opening more,
//! `{"weekly": {"day", "from", "to"}}` for one every week, `{"sheets": N}`, `{"repaired": {"station", "unit"}}`
//! (without `unit`: all of them), and is answered in the same order.
//!
//! `places` shows where everything counted goes, so the count can be checked by hand.

mod found;
mod given;

use found::{InsteadOut, PressOut};
use given::PressIn;

use crate::speech::Speech;
use crate::trade::planning::press::{self, Change};
use crate::trade::remark::Remark;

pub(super) fn answer(speech: &Speech, input: &str) -> Result<String, Remark> {
    let input: PressIn = super::read("press", input)?;
    let problem = given::problem(&input)?;
    let changes =
        input.instead().iter().enumerate().map(|(number, change)| given::change_in(number, change, &problem));
    let changes: Vec<Change> = changes.collect::<Result<_, _>>()?;
    let names = given::names(&input, problem.asked());
    let answer = press::reckon(&problem);
    let instead = changes.iter().map(|change| {
        let other = press::reckon(&problem.changed(change));
        InsteadOut::new(&names, &answer, &other)
    });
    let instead = instead.collect();
    super::write("press", &PressOut::new(speech, &problem, &names, &answer, instead))
}
