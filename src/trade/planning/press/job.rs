//! One print's steps still to be placed, in an order that can be walked from either end.

use chrono_tz::Tz;

use super::super::graph::{Graph, Maximum, Where};
use super::super::passes::State;
use super::super::{MINUTE, Millis};
use super::board::Placed;
use super::limits::{Bound, Kept, Limit, kept};
use super::{Print, Problem, Work};

/// Orders of one print's tasks to try when the first fails, and tasks up to which it is tried at all.
const MOST_ORDERS: usize = 24;
const MOST_REORDERED: usize = 64;

/// The tasks of a print, each after all it waits for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Job {
    pub(super) tasks: Vec<Task>,
    /// Longest rests, which are judged on the clock on the wall in `zone`.
    limits: Vec<Limit>,
    mirrored: bool,
    zone: Tz,
    from: Millis,
    /// One of those the question is about.
    pub(super) counted: bool,
}

/// A step to be placed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Task {
    /// The step's number in its procedure.
    pub(super) step: usize,
    pub(super) time: Millis,
    pub(super) split: bool,
    pub(super) place: Where,
    pub(super) not_before: Millis,
    pub(super) not_after: Millis,
    /// Tasks of this job (their place in `tasks`) that must have ended so long before.
    pub(super) waits: Vec<(usize, Millis)>,
}

/// The jobs of a problem: one for alike prints, otherwise one for each print.
pub(super) fn jobs(problem: &Problem) -> Vec<Job> {
    match &problem.work {
        Work::Alike { sheets, steps, .. } => vec![Job::new(problem, steps, *sheets, problem.to, &[])],
        Work::Each(prints) => prints.iter().map(|print| Job::of(problem, print)).collect(),
    }
}

impl Job {
    fn of(problem: &Problem, print: &Print) -> Self {
        let due = print.due.map_or(problem.to, |due| due.min(problem.to));
        let job = Self::new(problem, &print.steps, print.sheets, due, &print.states);
        Self { counted: print.counted, ..job }
    }

    fn new(problem: &Problem, graph: &Graph, sheets: u32, due: Millis, states: &[State]) -> Self {
        let state = |step: usize| states.get(step).copied().unwrap_or(State::ToDo);
        let mut tasks: Vec<Task> = Vec::with_capacity(graph.order().len());
        let mut limits = Vec::new();
        for &number in graph.order() {
            let Some(step) = graph.steps().get(number) else { continue };
            let time = match state(number) {
                State::ToDo | State::Resting { .. } => step.hands_on(sheets),
                State::Begun { left_minutes } => i64::from(left_minutes) * MINUTE,
                State::Done { .. } => continue,
            };
            let mut not_before = match state(number) {
                State::Resting { not_before: Some(at), .. } => at.max(problem.from),
                _ => problem.from,
            };
            let mut waits = Vec::new();
            let before = if state(number).is_to_do() { graph.before(number) } else { &[] };
            let mut since = None;
            for &earlier in before {
                if let State::Done { at } = state(earlier) {
                    since = since.max(Some(at));
                    not_before = not_before.max(at.saturating_add(step.rest.counted()));
                } else if let Some(index) = tasks.iter().position(|task| task.step == earlier) {
                    waits.push((index, step.rest.counted()));
                }
            }
            let earlier: Vec<usize> = waits.iter().map(|(index, _)| *index).collect();
            let limit = |bound| Limit { later: tasks.len(), earlier: earlier.clone(), since, bound };
            let bound = match step.rest.maximum {
                Maximum::None => None,
                Maximum::Minutes(most) => Some(Bound::Within(i64::from(most) * MINUTE)),
                Maximum::SameDay => Some(Bound::SameDay),
            };
            let (begin_by, end_by) = match state(number) {
                State::Resting { begin_by, end_by, .. } => (begin_by, end_by),
                _ => (None, None),
            };
            let bounds = [begin_by.map(Bound::BeginBy), end_by.map(|by| Bound::EndBy(by.saturating_add(1)))];
            let bounds = bounds.into_iter().chain([bound.filter(|_| !before.is_empty())]).flatten();
            limits.extend(bounds.map(limit));
            let split = step.may_split && step.place != Where::Anywhere;
            let place = step.place;
            tasks.push(Task { step: number, time, split, place, not_before, not_after: due, waits });
        }
        let (zone, from) = (problem.hours.zone(), problem.from);
        Self { tasks, limits, mirrored: false, zone, from, counted: true }
    }

    /// Whether what was placed keeps the longest rests.
    pub(super) fn kept(&self, placed: &[Placed]) -> Kept {
        kept(&self.limits, placed, self.mirrored, self.from, self.zone)
    }

    /// The job as time sees it running backwards: last task first, earliest become latest.
    pub(super) fn mirrored(&self) -> Self {
        let count = self.tasks.len();
        let mut tasks: Vec<Task> = self.tasks.iter().rev().cloned().collect();
        for task in &mut tasks {
            (task.not_before, task.not_after) = (-task.not_after, -task.not_before);
            task.waits.clear();
        }
        for (index, task) in self.tasks.iter().enumerate() {
            for &(earlier, rest) in &task.waits {
                if let Some(mirrored) = tasks.get_mut(count - 1 - earlier) {
                    mirrored.waits.push((count - 1 - index, rest));
                }
            }
        }
        let limits = self.limits_at(|task| count - 1 - task);
        Self { tasks, limits, mirrored: !self.mirrored, ..*self }
    }

    /// The limits for tasks that stand elsewhere now.
    fn limits_at(&self, now: impl Fn(usize) -> usize) -> Vec<Limit> {
        let moved = self.limits.iter().map(|limit| Limit {
            later: now(limit.later),
            earlier: limit.earlier.iter().map(|task| now(*task)).collect(),
            ..*limit
        });
        moved.collect()
    }

    /// The same tasks in other orders that keep what waits for what, at most [`MOST_ORDERS`]; with each, where
    /// its tasks stand in this job.
    pub(super) fn other_orders(&self) -> Vec<(Vec<usize>, Self)> {
        let mut orders = Vec::new();
        if self.tasks.len() > MOST_REORDERED {
            return Vec::new();
        }
        self.extend(&mut Vec::with_capacity(self.tasks.len()), &mut orders);
        orders.into_iter().skip(1).map(|order| (order.clone(), self.reordered(&order))).collect()
    }

    /// Adds every order that begins like `begun`; the first one found is the job's own.
    fn extend(&self, begun: &mut Vec<usize>, orders: &mut Vec<Vec<usize>>) {
        if begun.len() == self.tasks.len() {
            orders.push(begun.clone());
        }
        for (index, task) in self.tasks.iter().enumerate() {
            let ready = task.waits.iter().all(|(earlier, _)| begun.contains(earlier));
            if ready && !begun.contains(&index) && orders.len() <= MOST_ORDERS {
                begun.push(index);
                self.extend(begun, orders);
                begun.pop();
            }
        }
    }

    fn reordered(&self, order: &[usize]) -> Self {
        let mut tasks: Vec<Task> = order.iter().filter_map(|index| self.tasks.get(*index)).cloned().collect();
        let now = |task: usize| order.iter().position(|index| *index == task).unwrap_or(task);
        for (earlier, _) in tasks.iter_mut().flat_map(|task| task.waits.iter_mut()) {
            *earlier = now(*earlier);
        }
        Self { tasks, limits: self.limits_at(now), ..*self }
    }

    /// Time wanted of a station.
    pub(super) fn wanted(&self, station: usize) -> Millis {
        self.at(station).map(|task| task.time).sum()
    }

    /// Time wanted of all stations.
    pub(super) fn wanted_of_all(&self) -> Millis {
        let at_stations = self.tasks.iter().filter(|task| matches!(task.place, Where::Station(_)));
        at_stations.map(|task| task.time).sum()
    }

    /// Tasks that need a station.
    pub(super) fn at(&self, station: usize) -> impl Iterator<Item = &Task> {
        self.tasks.iter().filter(move |task| task.place == Where::Station(station) && task.time > 0)
    }
}
