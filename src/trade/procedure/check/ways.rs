//! Keys, words and the way through: what names what, circles, and steps that could never begin.

use std::collections::BTreeSet;

use super::{excerpt, name_of};
use crate::trade::procedure::step::{Need, Step};
use crate::trade::procedure::{GUMMED, Procedure};
use crate::trade::remark::Remark;

pub(super) fn check(procedure: &Procedure, remarks: &mut Vec<Remark>) {
    let before = remarks.len();
    for (place, step) in procedure.all().enumerate() {
        let mut complain = |remark: Remark| remarks.push(remark.with("step", name_of(step, place)));
        if procedure.all().take(place).any(|other| other.key == step.key) {
            complain(Remark::new("procedure-check-key-twice").with("value", excerpt(&step.key)));
        }
        names(procedure, step, &mut complain);
        words(procedure, step, &mut complain);
    }
    if let Some(circle) = circle(procedure) {
        let titles: Vec<&str> = circle.iter().map(|step| step.title.as_str()).collect();
        let remark = Remark::new("procedure-check-circle").with("value", titles.join(" → "));
        remarks.push(remark.with("step", titles.first().copied().unwrap_or_default()));
    }
    numbers(procedure, remarks);
    // A wrong name or a circle already explains why a step cannot begin.
    if remarks.len() == before {
        for step in out_of_reach(procedure) {
            remarks.push(Remark::new("procedure-check-out-of-reach").with("step", step.title.as_str()));
        }
    }
}

/// Keys in `after` and `then_only`.
fn names(procedure: &Procedure, step: &Step, complain: &mut dyn FnMut(Remark)) {
    for key in &step.after {
        if procedure.any_time.iter().any(|other| other.key == *key) {
            complain(Remark::new("procedure-check-after-any-time").with("value", excerpt(key)));
        } else if procedure.find(key).is_none() {
            complain(Remark::new("procedure-check-after").with("value", excerpt(key)));
        }
    }
    for key in step.then_only.iter().flatten() {
        if procedure.find(key).is_none() {
            complain(Remark::new("procedure-check-then-only").with("value", excerpt(key)));
        }
    }
}

/// Words in rules, rests and `counts_as`.
fn words(procedure: &Procedure, step: &Step, complain: &mut dyn FnMut(Remark)) {
    let known = |word: &str| word == GUMMED || procedure.all().any(|other| other.answers_to(word));
    for word in step.rest.since.iter().filter(|word| !known(word)) {
        complain(Remark::new("procedure-check-rest-since").with("value", excerpt(word)));
    }
    for need in &step.needs {
        for word in need.of().iter().chain(need.since()).filter(|word| !known(word)) {
            complain(Remark::new("procedure-check-need").with("value", excerpt(word)));
        }
        let empty = match need {
            Need::AfterAnyOf { of, .. } => of.is_empty(),
            Need::RequiresSince { of, since, .. } => of.is_empty() || since.is_empty(),
            Need::Once { .. } => false,
        };
        if empty {
            complain(Remark::new("procedure-check-need-empty"));
        }
    }
    for word in &step.counts_as {
        if !super::is_key(word) {
            complain(Remark::new("procedure-check-key").with("value", excerpt(word)));
        } else if !is_asked(procedure, word) {
            complain(Remark::new("procedure-check-counts-as").with("value", excerpt(word)));
        }
    }
}

/// Whether any rule or rest asks for the word, or a step has it as key.
fn is_asked(procedure: &Procedure, word: &str) -> bool {
    procedure.find(word).is_some()
        || procedure.all().any(|step| {
            let asked = step.needs.iter().flat_map(|need| need.of().iter().chain(need.since()));
            asked.chain(&step.rest.since).any(|other| other == word)
        })
}

/// The numbering step must come after one that records sheets.
fn numbers(procedure: &Procedure, remarks: &mut Vec<Remark>) {
    use crate::trade::procedure::step::Records;
    if let Some(step) = procedure.numbering_step() {
        let mut sheets =
            procedure.all().filter(|other| other.records == Records::Sheets && other.key != step.key);
        if !sheets.any(|other| procedure.comes_after(step, &other.key)) {
            remarks.push(Remark::new("procedure-check-numbers-early").with("step", step.title.as_str()));
        }
    }
}

/// A circle of steps each of which waits for the next, the first again at the end.
fn circle(procedure: &Procedure) -> Option<Vec<&Step>> {
    let start = procedure.all().find(|step| procedure.comes_after(step, &step.key))?;
    let mut way = vec![start];
    let mut at = start;
    loop {
        let mut next = at.after.iter().filter_map(|key| procedure.find(key));
        let next = next.find(|step| step.key == start.key || procedure.comes_after(step, &start.key))?;
        way.push(next);
        // A circle inside the circle would never come back to the start.
        if next.key == start.key || way.len() > procedure.all().count() + 1 {
            return Some(way);
        }
        at = next;
    }
}

/// Steps that cannot begin however a plate is worked: what they wait for or need cannot be done before them.
fn out_of_reach(procedure: &Procedure) -> Vec<&Step> {
    let mut reached: BTreeSet<&str> = BTreeSet::new();
    loop {
        let next = procedure
            .all()
            .find(|step| !reached.contains(step.key.as_str()) && opens(procedure, step, &reached));
        match next {
            Some(step) => reached.insert(&step.key),
            None => return procedure.all().filter(|step| !reached.contains(step.key.as_str())).collect(),
        };
    }
}

/// Whether a step can begin once the steps in `reached` can be done.
fn opens(procedure: &Procedure, step: &Step, reached: &BTreeSet<&str>) -> bool {
    let answered = |words: &[String]| {
        words.iter().any(|word| {
            word == GUMMED
                || procedure.all().any(|other| reached.contains(other.key.as_str()) && other.answers_to(word))
        })
    };
    step.after.iter().all(|key| reached.contains(key.as_str()))
        && step.needs.iter().all(|need| match need {
            Need::AfterAnyOf { of, .. } => answered(of),
            Need::RequiresSince { of, since, .. } => answered(of) || !answered(since),
            Need::Once { .. } => true,
        })
}
