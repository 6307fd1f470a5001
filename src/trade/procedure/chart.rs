//! A procedure with what its rules mean worked out once: which step comes after which, and which steps a word of a rule
//! names. Judging every step of every plate of a class asks this again and again.

use std::ops::Deref;
use std::sync::Arc;

use super::history::ClassChoice;
use super::step::{Need, Place, Step};
use super::{GUMMED, Procedure};

/// A procedure and its chart. It is read like the procedure itself, and like it never changes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Charted {
    procedure: Procedure,
    /// In the order of [`Procedure::all`].
    marks: Vec<Marks>,
}

/// What is worked out of one step. Steps are named by their places in [`Procedure::all`].
#[derive(Debug, Clone, PartialEq, Eq)]
struct Marks {
    /// Key, title and place, to be handed out without being copied.
    names: Names,
    /// The steps in its `after`, each once.
    after: Vec<usize>,
    /// Those it comes after, over however many others.
    comes_after: Steps,
    /// Those a run of which counts as this one.
    fulfilled_by: Steps,
    rests_from: Meant,
    /// What the words of each of its needs mean: `of`, then `since`.
    needs: Vec<(Meant, Meant)>,
}

/// What a step is called, shared: every look at every plate names every step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Names {
    pub(super) key: Arc<str>,
    pub(super) title: Arc<str>,
    pub(super) place: Arc<Place>,
}

/// A set of steps, by their places.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Steps(Vec<bool>);

/// What the words of a rule or a rest mean.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Meant {
    words: Vec<String>,
    /// The steps that answer to any of them.
    pub(super) steps: Steps,
    /// [`GUMMED`] is among them.
    pub(super) gummed: bool,
}

/// A step of a charted procedure, at its place.
#[derive(Debug, Clone, Copy)]
pub(super) struct StepAt<'a> {
    step: &'a Step,
    marks: &'a Marks,
    /// Its place in [`Procedure::all`].
    pub(super) number: usize,
}

/// A rule a step declares about itself, with what its words mean.
#[derive(Debug, Clone, Copy)]
pub(super) struct Needed<'a> {
    pub(super) need: &'a Need,
    pub(super) of: &'a Meant,
    pub(super) since: &'a Meant,
}

impl Charted {
    /// Works the chart out.
    #[must_use]
    pub fn of(procedure: Procedure) -> Self {
        let place = |key: &String| procedure.all().position(|step| step.key == *key);
        let after: Vec<Vec<usize>> = procedure
            .all()
            .map(|step| {
                let mut places: Vec<usize> = Vec::new();
                for place in step.after.iter().filter_map(place) {
                    if !places.contains(&place) {
                        places.push(place);
                    }
                }
                places
            })
            .collect();
        let meant = |words: &[String]| Meant::of(words, &procedure);
        let marks = procedure.all().zip(&after).map(|(step, own)| Marks {
            names: Names {
                key: step.key.as_str().into(),
                title: step.title.as_str().into(),
                place: step.place.clone().into(),
            },
            after: own.clone(),
            comes_after: all_before(own, &after),
            fulfilled_by: Steps(procedure.all().map(|other| other.answers_to(&step.key)).collect()),
            rests_from: meant(step.rest_since()),
            needs: step.needs.iter().map(|need| (meant(need.of()), meant(need.since()))).collect(),
        });
        let marks = marks.collect();
        Self { procedure, marks }
    }

    /// Every step at its place: the way first, then the any-time steps.
    pub(super) fn steps_at(&self) -> impl Iterator<Item = StepAt<'_>> {
        let marked = self.procedure.all().zip(&self.marks).enumerate();
        marked.map(|(number, (step, marks))| StepAt { step, marks, number })
    }

    /// The steps of the way a class keeps.
    pub(super) fn way_at<'a>(&'a self, choice: &'a ClassChoice) -> impl Iterator<Item = StepAt<'a>> {
        self.steps_at().take(self.steps.len()).filter(|step| !choice.leaves_out(step))
    }

    /// The step of that key, on the way or any-time.
    pub(super) fn find_at(&self, key: &str) -> Option<StepAt<'_>> {
        self.steps_at().find(|step| step.key == key)
    }

    fn at(&self, number: usize) -> Option<StepAt<'_>> {
        let any_time = || self.any_time.get(number.checked_sub(self.steps.len())?);
        let step = self.steps.get(number).or_else(any_time);
        step.zip(self.marks.get(number)).map(|(step, marks)| StepAt { step, marks, number })
    }

    /// Whether the step stands on the way, rather than being an any-time step.
    pub(super) fn is_of_the_way(&self, step: StepAt<'_>) -> bool {
        step.number < self.steps.len()
    }

    /// What `step` waits for: its `after`, and for a step the class does without, what that one waits for.
    pub(super) fn waits_for<'a>(
        &'a self,
        step: StepAt<'a>,
        choice: &ClassChoice,
    ) -> impl Iterator<Item = StepAt<'a>> + use<'a> {
        let directly = step.marks.after.iter().filter_map(|number| self.at(*number));
        // Asked for every step of every plate, and hardly ever led past a step: then nothing is gathered.
        let through = directly.clone().any(|before| choice.leaves_out(&before));
        let (directly, through) = match through {
            true => (None, self.waits_through(step, choice)),
            false => (Some(directly), Vec::new()),
        };
        directly.into_iter().flatten().chain(through)
    }

    fn waits_through<'a>(&'a self, step: StepAt<'a>, choice: &ClassChoice) -> Vec<StepAt<'a>> {
        let mut found: Vec<StepAt<'a>> = Vec::with_capacity(step.marks.after.len());
        let mut seen: Vec<usize> = Vec::new();
        let mut open: Vec<usize> = step.marks.after.iter().rev().copied().collect();
        while let Some(before) = open.pop().and_then(|number| self.at(number)) {
            if !choice.leaves_out(&before) {
                if found.iter().all(|known| known.number != before.number) {
                    found.push(before);
                }
            } else if !seen.contains(&before.number) {
                seen.push(before.number);
                open.extend(before.marks.after.iter().rev());
            }
        }
        found
    }
}

impl Deref for Charted {
    type Target = Procedure;
    fn deref(&self) -> &Procedure {
        &self.procedure
    }
}

/// Everything before what comes directly before, a circle gone round once.
fn all_before(directly: &[usize], after: &[Vec<usize>]) -> Steps {
    let mut found = vec![false; after.len()];
    let mut open = directly.to_vec();
    while let Some(place) = open.pop() {
        if let Some(cell) = found.get_mut(place).filter(|cell| !**cell) {
            *cell = true;
            open.extend(after.get(place).into_iter().flatten());
        }
    }
    Steps(found)
}

impl Steps {
    pub(super) fn has(&self, step: StepAt<'_>) -> bool {
        self.0.get(step.number).copied().unwrap_or_default()
    }
}

impl Meant {
    fn of(words: &[String], procedure: &Procedure) -> Self {
        let named = |step: &Step| words.iter().any(|word| step.answers_to(word));
        Self {
            words: words.to_vec(),
            steps: Steps(procedure.all().map(named).collect()),
            gummed: words.iter().any(|word| word == GUMMED),
        }
    }

    /// Whether a key that the procedure does not know is among the words.
    pub(super) fn has_strange(&self, key: &str) -> bool {
        self.words.iter().any(|word| word == key)
    }
}

impl<'a> StepAt<'a> {
    pub(super) fn step(self) -> &'a Step {
        self.step
    }

    pub(super) fn names(self) -> &'a Names {
        &self.marks.names
    }

    pub(super) fn is(self, other: StepAt<'_>) -> bool {
        self.number == other.number
    }

    /// Whether it comes, over however many steps, after the other.
    pub(super) fn comes_after(self, other: StepAt<'_>) -> bool {
        self.marks.comes_after.has(other)
    }

    /// Whether a run of it counts as one of the other.
    pub(super) fn fulfils(self, other: StepAt<'_>) -> bool {
        other.marks.fulfilled_by.has(self)
    }

    /// What the rest before it runs from.
    pub(super) fn rests_from(self) -> &'a Meant {
        &self.marks.rests_from
    }

    pub(super) fn needed(self) -> impl Iterator<Item = Needed<'a>> {
        let needs = self.step.needs.iter().zip(&self.marks.needs);
        needs.map(|(need, (of, since))| Needed { need, of, since })
    }
}

impl Deref for StepAt<'_> {
    type Target = Step;
    fn deref(&self) -> &Step {
        self.step
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::procedure::shipped;

    fn agrees(procedure: &Procedure) {
        let charted = Charted::of(procedure.clone());
        for step in charted.steps_at() {
            assert_eq!(charted.at(step.number).map(|it| &it.step.key), Some(&step.step.key));
            for other in charted.steps_at() {
                let pair = format!("{} and {}", step.key, other.key);
                assert_eq!(step.comes_after(other), procedure.comes_after(&step, &other.key), "{pair}");
                assert_eq!(step.fulfils(other), step.answers_to(&other.key), "{pair}");
                let rests = step.rest_since().iter().any(|word| other.answers_to(word));
                assert_eq!(step.rests_from().steps.has(other), rests, "{pair}");
                for needed in step.needed() {
                    for (meant, words) in [(needed.of, needed.need.of()), (needed.since, needed.need.since())]
                    {
                        let named = words.iter().any(|word| other.answers_to(word));
                        assert_eq!(meant.steps.has(other), named, "{pair}: {words:?}");
                        assert_eq!(meant.gummed, words.iter().any(|word| word == GUMMED), "{words:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn the_chart_says_what_the_procedure_says() {
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
    fn what_a_class_does_without_is_waited_through() {
        let mut procedure = shipped::procedures().unwrap().swap_remove(0);
        let model = Step { needs: vec![], after: vec![], ..procedure.steps.last().unwrap().clone() };
        let step = |key: &str, after: &[&str], optional| Step {
            key: key.into(),
            after: after.iter().map(|key| (*key).to_owned()).collect(),
            optional,
            ..model.clone()
        };
        procedure.steps = vec![
            step("a", &[], false),
            step("b", &["a"], true),
            step("c", &["b", "a"], true),
            step("d", &["c", "b", "a", "c", "gone"], false),
        ];
        let charted = Charted::of(procedure);
        let waits = |without: &[&str]| {
            let without = without.iter().map(|key| (*key).to_owned()).collect();
            let choice = ClassChoice { without, gum_limit_minutes: None };
            let found = charted.waits_for(charted.find_at("d").unwrap(), &choice);
            found.map(|step| step.key.clone()).collect::<Vec<_>>()
        };
        assert_eq!(waits(&[]), ["c", "b", "a"]);
        assert_eq!(waits(&["c"]), ["b", "a"]);
        assert_eq!(waits(&["b"]), ["c", "a"]);
        assert_eq!(waits(&["b", "c", "a"]), ["a"], "a is not optional");
    }
}
