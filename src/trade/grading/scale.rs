//! The letter scale of a class.

use std::collections::HashSet;

use crate::trade::exact::Exact;
use crate::trade::remark::Remark;

/// Letters with the percent each begins at, highest first, the last from 0; or no letters at all.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Scale(Vec<Step>);

/// One letter and the percent it begins at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    pub letter: String,
    pub from: Exact,
}

impl Scale {
    /// A scale from its steps; none at all for a class that gives no letters.
    ///
    /// # Errors
    /// A letter is blank or given twice, begins below 0 or above 100, the steps do not fall, or the lowest
    /// does not begin at 0, so that some percents have no letter.
    pub fn new(steps: Vec<Step>) -> Result<Self, Remark> {
        let mut letters = HashSet::new();
        let mut above: Option<&Step> = None;
        for step in &steps {
            let wrong = |key| {
                Remark::new(key).with("letter", step.letter.as_str()).with("from", step.from.to_string())
            };
            if step.letter.trim().is_empty() {
                return Err(wrong("grading-scale-letter-blank"));
            }
            if !letters.insert(step.letter.as_str()) {
                return Err(wrong("grading-scale-letter-twice"));
            }
            if step.from.is_negative() || step.from > Exact::whole(100) {
                return Err(wrong("grading-scale-out-of-range"));
            }
            if let Some(above) = above.filter(|above| above.from <= step.from) {
                return Err(wrong("grading-scale-out-of-order")
                    .with("above", above.letter.as_str())
                    .with("above_from", above.from.to_string()));
            }
            above = Some(step);
        }
        match steps.last() {
            Some(lowest) if !lowest.from.is_zero() => Err(Remark::new("grading-scale-gap")
                .with("letter", lowest.letter.as_str())
                .with("from", lowest.from.to_string())),
            _ => Ok(Self(steps)),
        }
    }

    /// The step a percent, already rounded, stands on.
    #[must_use]
    pub fn step(&self, percent: &Exact) -> Option<&Step> {
        self.0.iter().find(|step| *percent >= step.from)
    }

    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scale(steps: &[(&str, i64)]) -> Result<Scale, Remark> {
        let step =
            |(letter, from): &(&str, i64)| Step { letter: (*letter).to_owned(), from: Exact::whole(*from) };
        Scale::new(steps.iter().map(step).collect())
    }

    #[test]
    fn a_letter_begins_at_its_own_percent() {
        let scale = scale(&[("A", 93), ("A-", 90), ("F", 0)]).unwrap();
        for (percent, letter) in
            [("100", "A"), ("93", "A"), ("92.99", "A-"), ("90", "A-"), ("89.9", "F"), ("0", "F")]
        {
            let percent = Exact::decimal(percent).unwrap();
            assert_eq!(scale.step(&percent).map(|step| step.letter.as_str()), Some(letter), "{percent}");
        }
        assert_eq!(Scale::default().step(&Exact::whole(50)), None);
    }

    #[test]
    fn scales_that_leave_a_percent_without_its_one_letter_are_refused() {
        for (steps, key) in [
            (&[("A", 90), ("B", 95), ("F", 0)][..], "grading-scale-out-of-order"),
            (&[("A", 90), ("B", 90), ("F", 0)], "grading-scale-out-of-order"),
            (&[("A", 90), ("B", 80)], "grading-scale-gap"),
            (&[("A", 101), ("F", 0)], "grading-scale-out-of-range"),
            (&[("A", 90), ("F", -1)], "grading-scale-out-of-range"),
            (&[("A", 90), ("A", 0)], "grading-scale-letter-twice"),
            (&[(" ", 90), ("F", 0)], "grading-scale-letter-blank"),
        ] {
            assert_eq!(scale(steps).unwrap_err().key, key);
        }
    }
}
