//! The walk along the steps in order, forward and back, that both passes share.

use super::calendar::{Calendar, Need, Span};
use super::graph::{Graph, Maximum, Step};
use super::hours::end_of_day;
use super::passes::{Ask, Breaks, RestBroken, Rests, State};
use super::{DAY, MINUTE, Millis};

/// A graph with everything that depends on one plate looked up once.
pub(super) struct Walk<'a> {
    graph: &'a Graph,
    calendar: &'a Calendar,
    /// One for each step.
    of_steps: Vec<OfStep>,
}

/// What a plate's state and the asking make of a step.
#[derive(Debug, Clone, Copy)]
struct OfStep {
    state: State,
    need: Need,
    rest: Millis,
}

impl<'a> Walk<'a> {
    pub(super) fn new(graph: &'a Graph, calendar: &'a Calendar, ask: &Ask<'_>) -> Self {
        let of_step = |(number, step): (usize, &Step)| {
            let state = ask.states.get(number).copied().unwrap_or(State::ToDo);
            let need = match state {
                State::ToDo | State::Resting { .. } => step.need(step.hands_on(ask.sheets)),
                State::Begun { left_minutes } => step.need(i64::from(left_minutes) * MINUTE),
                State::Done { .. } => Need::Clock(0),
            };
            let rest = match ask.rests {
                Rests::Advised => step.rest.counted(),
                Rests::Shortest => step.rest.minimum(),
            };
            OfStep { state, need, rest }
        };
        Self { graph, calendar, of_steps: graph.steps().iter().enumerate().map(of_step).collect() }
    }

    fn state(&self, step: usize) -> State {
        self.of_steps.get(step).map_or(State::ToDo, |of| of.state)
    }

    /// The end of a rest that already runs.
    fn not_before(&self, step: usize) -> Millis {
        match self.state(step) {
            State::Resting { not_before: Some(at), .. } => at,
            _ => Millis::MIN,
        }
    }

    pub(super) fn is_done(&self, step: usize) -> bool {
        matches!(self.state(step), State::Done { .. })
    }

    pub(super) fn all_done(&self) -> bool {
        self.of_steps.iter().all(|of| matches!(of.state, State::Done { .. }))
    }

    /// The hours of the place at which a step is done.
    fn hours(&self, step: usize) -> &'a Calendar {
        self.graph.steps().get(step).map_or(self.calendar, |step| self.calendar.at(step.place))
    }

    fn need(&self, step: usize) -> Need {
        self.of_steps.get(step).map_or(Need::Clock(0), |of| of.need)
    }

    fn rest(&self, step: usize) -> Millis {
        self.of_steps.get(step).map_or(0, |of| of.rest)
    }

    /// The earliest place of each step; a done one stands at the instant it ended.
    pub(super) fn forward(&self, start: Millis) -> Vec<Option<Span>> {
        let mut spans = vec![None; self.of_steps.len()];
        for &step in self.graph.order() {
            let span = match self.state(step) {
                State::Done { at } => Some(Span { start: at, finish: at }),
                State::Begun { .. } => self.hours(step).earliest(start, self.need(step)),
                State::ToDo | State::Resting { .. } => self
                    .last_end(step, &spans)
                    .map(|ended| ended.map_or(start, |at| at.saturating_add(self.rest(step)).max(start)))
                    .map(|from| from.max(self.not_before(step)))
                    .and_then(|from| self.hours(step).earliest(from, self.need(step))),
            };
            if let Some(cell) = spans.get_mut(step) {
                *cell = span;
            }
        }
        spans
    }

    /// When the last step before has ended: `None` if one of them has no place, `Some(None)` if there is none.
    fn last_end(&self, step: usize, spans: &[Option<Span>]) -> Option<Option<Millis>> {
        self.graph.before(step).iter().try_fold(None, |last: Option<Millis>, &earlier| {
            let finish = place(spans, earlier)?.finish;
            Some(Some(last.map_or(finish, |last| last.max(finish))))
        })
    }

    /// The latest place of each step still to end, so that all end by `by`.
    pub(super) fn back(&self, by: Millis) -> Vec<Option<Span>> {
        let mut spans = vec![None; self.of_steps.len()];
        for &step in self.graph.order().iter().rev().filter(|step| !self.is_done(**step)) {
            let waiting = self.graph.after(step).iter().filter(|later| self.state(**later).is_to_do());
            let bound = waiting.copied().try_fold(by, |bound, later| {
                Some(bound.min(place(&spans, later)?.start.saturating_sub(self.rest(later))))
            });
            let span = bound.and_then(|bound| self.hours(step).latest(bound, self.need(step)));
            if let Some(cell) = spans.get_mut(step) {
                *cell = span;
            }
        }
        spans
    }

    /// The end of the last step still to end, or of the last done one when all are done.
    pub(super) fn finish(&self, earliest: &[Option<Span>]) -> Option<Millis> {
        let all_done = self.all_done();
        let ends = earliest.iter().enumerate().filter(|(step, _)| all_done || !self.is_done(*step));
        ends.map(|(_, span)| span.map(|span| span.finish))
            .reduce(|one, other| Some(one?.max(other?)))
            .flatten()
    }

    pub(super) fn breaks(&self, earliest: &[Option<Span>], due: Option<Millis>) -> Option<Breaks> {
        let order = self.graph.order();
        if let Some(&step) = order.iter().find(|step| place(earliest, **step).is_none()) {
            return Some(Breaks::NoPlace { step });
        }
        let late = order.iter().filter(|step| !self.is_done(**step)).filter_map(|&step| {
            let finish = place(earliest, step)?.finish;
            (finish > due?).then_some((finish, step))
        });
        // `min_by_key` keeps the first in order of those that end together.
        late.min_by_key(|(finish, _)| *finish).map(|(_, step)| Breaks::Due { step })
    }

    pub(super) fn rests_broken(&self, earliest: &[Option<Span>]) -> Vec<RestBroken> {
        let to_do = self.graph.order().iter().copied().filter(|step| self.state(*step).is_to_do());
        let broken = to_do.filter_map(|step| {
            let ended = self.last_end(step, earliest)??;
            let start = place(earliest, step)?.start;
            let begin_by = begin_by(self.graph, self.calendar, step, ended)?;
            let hold_until = match self.graph.steps().get(step)?.rest.maximum {
                Maximum::SameDay => end_of_day(start.saturating_sub(DAY), self.calendar.zone()),
                _ => start - (begin_by - ended),
            };
            (start > begin_by).then_some(RestBroken { step, rest: start - ended, begin_by, hold_until })
        });
        broken.collect()
    }
}

/// The last instant at which a step may begin under its maximum rest, the one before having ended at `ended`.
pub(super) fn begin_by(graph: &Graph, calendar: &Calendar, step: usize, ended: Millis) -> Option<Millis> {
    match graph.steps().get(step)?.rest.maximum {
        Maximum::None => None,
        Maximum::Minutes(minutes) => Some(ended.saturating_add(i64::from(minutes) * MINUTE)),
        Maximum::SameDay => Some(end_of_day(ended, calendar.zone()) - 1),
    }
}

pub(super) fn place(spans: &[Option<Span>], step: usize) -> Option<Span> {
    spans.get(step).copied().flatten()
}
