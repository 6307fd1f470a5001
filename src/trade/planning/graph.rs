//! The steps of a procedure and what must come before what, put in order once and then only read.

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::sync::Arc;

use super::calendar::Need;
use super::{MINUTE, MOST_MINUTES, MOST_STEPS, Millis};
use crate::trade::remark::Remark;

/// A step as a procedure declares it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Step {
    pub key: Arc<str>,
    /// Hands-on minutes whatever the edition.
    pub minutes: u32,
    /// Hands-on minutes for each sheet.
    pub minutes_per_sheet: u32,
    /// Keys of the steps that must have ended before.
    pub after: Arc<[Arc<str>]>,
    /// The rest after the last of those has ended.
    pub rest: Rest,
    /// May be put down and taken up again, in another opening too.
    pub may_split: bool,
    pub place: Where,
}

/// A rest before a step, on the clock. Without steps before it there is nothing to rest from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Rest {
    /// The rule: not sooner.
    pub minimum_minutes: u32,
    /// What plans count when it is longer than the minimum.
    pub advised_minutes: Option<u32>,
    /// What to warn about.
    pub maximum: Maximum,
}

/// The longest rest before a step begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Maximum {
    #[default]
    None,
    Minutes(u32),
    /// The step belongs to the local day on which the one before it ended.
    SameDay,
}

/// Where a step's hands-on minutes run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Where {
    /// In the studio, in open hours, without a shared place.
    #[default]
    Studio,
    /// At the shared place of this number (its index in the list of stations), in open hours.
    Station(usize),
    /// In the studio with the instructor: in open hours at which the instructor is there, where that is known.
    Instructor,
    /// Anywhere: not held to open hours.
    Anywhere,
}

/// Steps in an order in which each comes after all it waits for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Graph {
    steps: Vec<Step>,
    order: Vec<usize>,
    before: Edges,
    after: Edges,
}

/// For each step the numbers of some others, all in one list: a class plans hundreds of plates.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Edges {
    others: Vec<usize>,
    /// Where the list of each step ends.
    ends: Vec<usize>,
}

impl Edges {
    fn of(&self, step: usize) -> &[usize] {
        let begin = step.checked_sub(1).map_or(Some(&0), |before| self.ends.get(before));
        let range = begin.zip(self.ends.get(step)).map(|(begin, end)| *begin..*end);
        range.and_then(|range| self.others.get(range)).unwrap_or(&[])
    }

    fn lists(&self) -> impl Iterator<Item = &[usize]> {
        (0..self.ends.len()).map(|step| self.of(step))
    }

    /// The same edges seen from their other ends, each list in order.
    fn turned_round(&self) -> Self {
        let mut ends = vec![0; self.ends.len()];
        for &other in &self.others {
            if let Some(count) = ends.get_mut(other) {
                *count += 1;
            }
        }
        let mut begin = 0;
        for end in &mut ends {
            // What was the count is where the next free place of the list is; filled up, it is the end.
            (*end, begin) = (begin, begin + *end);
        }
        let mut others = vec![0; self.others.len()];
        for (step, list) in self.lists().enumerate() {
            for &other in list {
                if let Some(free) = ends.get_mut(other) {
                    if let Some(cell) = others.get_mut(*free) {
                        *cell = step;
                    }
                    *free += 1;
                }
            }
        }
        Self { others, ends }
    }
}

impl Graph {
    /// Reads the order out of the steps; among steps free to go, the one listed first goes first.
    ///
    /// # Errors
    /// No steps or more than [`MOST_STEPS`], a key twice, an unknown predecessor, a circle, minutes beyond [`MOST_MINUTES`], or a maximum
    /// rest shorter than the minimum.
    pub fn new(steps: Vec<Step>) -> Result<Self, Remark> {
        if steps.is_empty() {
            return Err(Remark::new("planning-no-steps"));
        }
        if steps.len() > MOST_STEPS {
            let count = i64::try_from(steps.len()).unwrap_or(i64::MAX);
            let most = i64::try_from(MOST_STEPS).unwrap_or(i64::MAX);
            return Err(Remark::new("planning-steps-too-many").with("count", count).with("most", most));
        }
        for step in &steps {
            check(step)?;
        }
        let numbers = Numbers::of(&steps)?;
        let before = edges(&steps, &numbers)?;
        let after = before.turned_round();
        let order = order(&before, &after);
        if order.len() < steps.len() {
            return Err(Remark::new("planning-circle").with("steps", circle(&steps, &before, &order)));
        }
        Ok(Self { steps, order, before, after })
    }

    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// Numbers of the steps, each after all it waits for.
    #[must_use]
    pub fn order(&self) -> &[usize] {
        &self.order
    }

    /// Numbers of the steps directly before a step.
    #[must_use]
    pub fn before(&self, step: usize) -> &[usize] {
        self.before.of(step)
    }

    /// Numbers of the steps directly after a step.
    #[must_use]
    pub fn after(&self, step: usize) -> &[usize] {
        self.after.of(step)
    }
}

impl Step {
    /// Hands-on time for an edition of so many sheets.
    #[must_use]
    pub fn hands_on(&self, sheets: u32) -> Millis {
        (i64::from(self.minutes) + i64::from(self.minutes_per_sheet) * i64::from(sheets)) * MINUTE
    }

    /// What so much hands-on time of this step needs of the hours; none needs no open time.
    #[must_use]
    pub fn need(&self, time: Millis) -> Need {
        match (self.place, self.may_split) {
            (Where::Anywhere, _) => Need::Clock(time),
            _ if time <= 0 => Need::Clock(0),
            (_, true) => Need::Split(time),
            (_, false) => Need::Whole(time),
        }
    }
}

impl Rest {
    /// The shortest rest allowed.
    #[must_use]
    pub fn minimum(&self) -> Millis {
        i64::from(self.minimum_minutes) * MINUTE
    }

    /// The rest plans count.
    #[must_use]
    pub fn counted(&self) -> Millis {
        i64::from(self.advised_minutes.unwrap_or(0).max(self.minimum_minutes)) * MINUTE
    }
}

fn check(step: &Step) -> Result<(), Remark> {
    let rest = &step.rest;
    let maximum = if let Maximum::Minutes(minutes) = rest.maximum { minutes } else { 0 };
    let all = [step.minutes, step.minutes_per_sheet, rest.minimum_minutes, maximum];
    let largest = all.into_iter().chain(rest.advised_minutes).max().unwrap_or(0);
    if largest > MOST_MINUTES {
        let remark = Remark::new("planning-minutes-too-many").with("step", &*step.key);
        return Err(remark.with("value", i64::from(largest)).with("most", i64::from(MOST_MINUTES)));
    }
    if matches!(rest.maximum, Maximum::Minutes(most) if most < rest.minimum_minutes) {
        let remark = Remark::new("planning-rests-contradict").with("step", &*step.key);
        let remark = remark.with("maximum", i64::from(maximum));
        return Err(remark.with("minimum", i64::from(rest.minimum_minutes)));
    }
    Ok(())
}

/// The numbers of the steps in the order of their keys.
struct Numbers<'a> {
    steps: &'a [Step],
    by_key: Vec<usize>,
}

impl<'a> Numbers<'a> {
    fn of(steps: &'a [Step]) -> Result<Self, Remark> {
        let key = |number: &usize| steps.get(*number).map(|step| &step.key);
        let mut by_key: Vec<usize> = (0..steps.len()).collect();
        by_key.sort_by(|one, other| key(one).cmp(&key(other)));
        let same = |pair: &&[usize]| matches!(pair, [one, other] if key(one) == key(other));
        match by_key.windows(2).find(same).and_then(|pair| key(pair.first()?)) {
            Some(twice) => Err(Remark::new("planning-step-twice").with("step", &**twice)),
            None => Ok(Self { steps, by_key }),
        }
    }

    fn find(&self, key: &str) -> Option<usize> {
        let found = self.by_key.binary_search_by(|number| {
            self.steps.get(*number).map_or(std::cmp::Ordering::Less, |step| (*step.key).cmp(key))
        });
        found.ok().and_then(|place| self.by_key.get(place)).copied()
    }
}

/// Which steps come directly before which, each list in order and without repetition.
fn edges(steps: &[Step], numbers: &Numbers<'_>) -> Result<Edges, Remark> {
    let mut others = Vec::with_capacity(steps.iter().map(|step| step.after.len()).sum());
    let mut ends = Vec::with_capacity(steps.len());
    let mut list = Vec::new();
    for step in steps {
        list.clear();
        for key in step.after.iter() {
            let number = numbers.find(key).ok_or_else(|| {
                Remark::new("planning-after-unknown").with("step", &*step.key).with("value", &**key)
            })?;
            list.push(number);
        }
        list.sort_unstable();
        list.dedup();
        others.extend_from_slice(&list);
        ends.push(others.len());
    }
    Ok(Edges { others, ends })
}

/// Kahn's order; shorter than the list of steps when there is a circle.
fn order(before: &Edges, after: &Edges) -> Vec<usize> {
    // A list that is in order already, as most are, is its own order.
    if before.lists().enumerate().all(|(step, list)| list.last().is_none_or(|last| *last < step)) {
        return (0..before.ends.len()).collect();
    }
    let mut waits: Vec<usize> = before.lists().map(<[usize]>::len).collect();
    let free = waits.iter().enumerate().filter(|(_, count)| **count == 0);
    let mut free: BinaryHeap<_> = free.map(|(step, _)| Reverse(step)).collect();
    let mut order = Vec::with_capacity(waits.len());
    while let Some(Reverse(step)) = free.pop() {
        order.push(step);
        for &next in after.of(step) {
            if let Some(count) = waits.get_mut(next) {
                *count -= 1;
                if *count == 0 {
                    free.push(Reverse(next));
                }
            }
        }
    }
    order
}

/// One circle among the steps that found no place in the order, written "a, b, a" with each after the next.
fn circle(steps: &[Step], before: &Edges, placed: &[usize]) -> String {
    let mut free = vec![true; steps.len()];
    for &step in placed {
        if let Some(cell) = free.get_mut(step) {
            *cell = false;
        }
    }
    let is_free = |step: usize| free.get(step).copied().unwrap_or(false);
    // Every step left over waits for another one left over: walking back must come round.
    let mut walk: Vec<usize> = Vec::new();
    let mut at = (0..steps.len()).find(|&step| is_free(step));
    while let Some(step) = at {
        if let Some(begin) = walk.iter().position(|&seen| seen == step) {
            walk.drain(..begin);
            walk.push(step);
            break;
        }
        walk.push(step);
        at = before.of(step).iter().copied().find(|&earlier| is_free(earlier));
    }
    let keys: Vec<&str> = walk.iter().filter_map(|&step| steps.get(step)).map(|step| &*step.key).collect();
    keys.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn step(key: &str, after: &[&str]) -> Step {
        let after = after.iter().map(|&key| key.into()).collect();
        Step { key: key.into(), minutes: 1, after, ..Step::default() }
    }

    #[test]
    fn each_step_comes_after_all_it_waits_for() {
        let graph = Graph::new(vec![step("c", &["a", "b", "a"]), step("b", &["a"]), step("a", &[])]).unwrap();
        assert_eq!(graph.order(), [2, 1, 0]);
        assert_eq!(graph.before(0), [1, 2]);
        assert_eq!(graph.after(2), [0, 1]);
        let graph = Graph::new(vec![step("a", &[]), step("b", &[]), step("c", &["b"]), step("d", &["a"])]);
        let graph = graph.unwrap();
        assert_eq!(graph.order(), [0, 1, 2, 3], "in order already");
        assert_eq!([graph.after(0), graph.after(1), graph.after(3)], [&[3][..], &[2], &[]]);
        assert_eq!((graph.before(3), graph.before(9)), (&[0][..], &[][..]));
    }

    #[test]
    fn what_has_no_order_is_refused_by_name() {
        let circle = vec![step("d", &["c"]), step("a", &["c"]), step("b", &["a"]), step("c", &["b"])];
        let remark = Graph::new(circle).unwrap_err();
        assert_eq!(remark, Remark::new("planning-circle").with("steps", "c, b, a, c"));
        let remark = Graph::new(vec![step("a", &["a"])]).unwrap_err();
        assert_eq!(remark, Remark::new("planning-circle").with("steps", "a, a"));
        assert_eq!(Graph::new(vec![step("a", &["x"])]).unwrap_err().key, "planning-after-unknown");
        assert_eq!(Graph::new(vec![step("a", &[]), step("a", &[])]).unwrap_err().key, "planning-step-twice");
        assert_eq!(Graph::new(vec![]).unwrap_err().key, "planning-no-steps");
        let many = (0..=MOST_STEPS).map(|number| step(&number.to_string(), &[])).collect();
        assert_eq!(Graph::new(many).unwrap_err().key, "planning-steps-too-many");
        let rest = Rest { minimum_minutes: 61, maximum: Maximum::Minutes(60), ..Rest::default() };
        let steps = vec![Step { rest, ..step("a", &[]) }];
        assert_eq!(Graph::new(steps).unwrap_err().key, "planning-rests-contradict");
        let steps = vec![Step { minutes: MOST_MINUTES + 1, ..step("a", &[]) }];
        assert_eq!(Graph::new(steps).unwrap_err().key, "planning-minutes-too-many");
    }
}
