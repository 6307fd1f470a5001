//! Which steps of a procedure come after which, over however many others: asked of every pair of steps of every plate, so
//! worked out once for all questions about one.

use super::Procedure;
use super::step::Step;

/// The steps each step comes after, as bits in the order of the procedure.
#[derive(Debug, Clone)]
pub(super) struct Order<'a> {
    procedure: &'a Procedure,
    /// Empty where there are more steps than bits, and the procedure is asked itself.
    before: Vec<u64>,
}

impl<'a> Order<'a> {
    pub(super) fn of(procedure: &'a Procedure) -> Self {
        let steps: Vec<&Step> = procedure.all().collect();
        if steps.len() > u64::BITS as usize {
            return Self { procedure, before: Vec::new() };
        }
        let place = |key: &str| steps.iter().position(|step| step.key == key);
        let bits =
            |step: &&Step| step.after.iter().filter_map(|key| place(key)).fold(0, |all, at| all | 1 << at);
        let mut before: Vec<u64> = steps.iter().map(bits).collect();
        // What comes before what comes before: over as many steps as there can be, for they may stand in any order.
        for through in 0..before.len() {
            let further = before.get(through).copied().unwrap_or_default();
            for known in &mut before {
                if *known & (1 << through) != 0 {
                    *known |= further;
                }
            }
        }
        Self { procedure, before }
    }

    /// Whether `step` comes, over however many steps, after `before`.
    pub(super) fn comes_after(&self, step: &Step, before: &Step) -> bool {
        let place = |step: &Step| self.procedure.all().position(|it| it.key == step.key);
        if self.before.is_empty() {
            return self.procedure.comes_after(step, &before.key);
        }
        let known = place(step).and_then(|place| self.before.get(place));
        known.zip(place(before)).is_some_and(|(known, place)| known & (1 << place) != 0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::procedure::shipped;

    fn agrees(procedure: &Procedure) {
        let order = Order::of(procedure);
        for step in procedure.all() {
            for other in procedure.all() {
                let asked = procedure.comes_after(step, &other.key);
                assert_eq!(order.comes_after(step, other), asked, "{} after {}", step.key, other.key);
            }
        }
    }

    #[test]
    fn the_table_says_what_the_procedure_says() {
        for mut procedure in shipped::procedures().unwrap() {
            agrees(&procedure);
            procedure.steps.reverse();
            agrees(&procedure);
            // A circle, as somebody may have typed it.
            let last = procedure.steps.first().unwrap().key.clone();
            procedure.steps.last_mut().unwrap().after.push(last);
            agrees(&procedure);
        }
    }

    #[test]
    fn more_steps_than_bits_are_asked_one_by_one() {
        let mut procedure = shipped::procedures().unwrap().swap_remove(0);
        let model = procedure.steps.last().unwrap().clone();
        for number in 0..70 {
            let after = procedure.steps.last().unwrap().key.clone();
            procedure.steps.push(Step { key: format!("more-{number}"), after: vec![after], ..model.clone() });
        }
        assert!(Order::of(&procedure).before.is_empty());
        agrees(&procedure);
    }
}
