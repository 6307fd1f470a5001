//! `reckon press`: whether shared places are enough for all prints, and what would help.

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
