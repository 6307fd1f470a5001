//! One plate: what may be done next, by when, and what breaks first.

use super::Millis;
use super::calendar::{Calendar, Need, Span};
use super::graph::{Graph, Maximum, Step};
use super::passes::{Ask, Breaks, Plan, Rests, State, plan};
use super::walk::{Walk, begin_by, place};

/// A plate's plan from now on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlatePlan {
    /// One for each step of the procedure, in its order.
    pub steps: Vec<StepOutlook>,
    /// When the last step can end at the earliest.
    pub finish: Option<Millis>,
    /// Whether the due date can be met with the advised rests.
    pub feasible: bool,
    /// Whether it can be met with the shortest rests allowed.
    pub feasible_at_shortest: bool,
    pub breaks_first: Option<BreaksFirst>,
}

/// One step of a plate; times are `None` for a done step, or where there is no place or no due date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct StepOutlook {
    /// All before it is done: it may begin from here on, in open hours, after the shortest rest allowed (or
    /// after the rest that [`State::Resting`] says runs).
    pub may_begin: Option<Millis>,
    pub earliest: Option<Span>,
    pub latest: Option<Span>,
    /// The sooner of the latest start and the end of the maximum rest, as a time at which the step can begin.
    pub start_by: Option<Millis>,
    pub slack: Option<Millis>,
    pub critical: bool,
    /// Now is past `start_by`.
    pub late: bool,
}

/// What gives way first if nobody does anything.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BreaksFirst {
    /// The step must begin by then, or the due date is missed.
    Start { step: usize, by: Millis },
    /// The step must begin by then, or its maximum rest is broken; it is, when that has passed.
    Rest { step: usize, by: Millis },
    /// The due date is missed already: this is the first step that cannot end by it.
    Due { step: usize },
    /// The step has no place: no opening is long enough, or none is left.
    NoPlace { step: usize },
}

/// Looks ahead for one plate; `ask.start` is now.
///
/// ```
/// use tympan::trade::planning::{Ask, Graph, Hours, Rests, State, Step, outlook};
/// let draw = Step { key: "draw".into(), minutes: 240, may_split: true, ..Step::default() };
/// let etch = Step { key: "etch".into(), minutes: 45, after: ["draw".into()].into(), ..Step::default() };
/// let graph = Graph::new(vec![draw, etch])?;
/// let always = Hours::new(tympan::trade::civil::zone("zone", "UTC")?, None, vec![], Default::default());
/// let states = [State::Begun { left_minutes: 60 }, State::ToDo];
/// let ask = Ask { start: 0, due: Some(10_800_000), sheets: 0, states: &states, rests: Rests::Advised };
/// let plate = outlook(&graph, &always.over(0, 10_800_000), &ask);
/// assert_eq!(plate.steps[0].start_by, Some(4_500_000)); // three hours less 105 minutes
/// # Ok::<(), tympan::trade::remark::Remark>(())
/// ```
#[must_use]
pub fn outlook(graph: &Graph, calendar: &Calendar, ask: &Ask<'_>) -> PlatePlan {
    let planned = plan(graph, calendar, &Ask { rests: Rests::Advised, ..*ask });
    let feasible_at_shortest =
        planned.feasible || plan(graph, calendar, &Ask { rests: Rests::Shortest, ..*ask }).feasible;
    let mut rest_ends = Vec::with_capacity(planned.steps.len());
    let mut steps = Vec::with_capacity(planned.steps.len());
    for (number, step) in planned.steps.iter().enumerate() {
        let ready = Ready::of(graph, calendar, ask, number);
        let rest_end = ready.as_ref().and_then(|ready| ready.rest_end(graph));
        let start_by = start_by(step.latest, rest_end);
        steps.push(StepOutlook {
            may_begin: ready.and_then(|ready| ready.may_begin(ask.start)),
            earliest: step.earliest,
            latest: step.latest,
            start_by,
            slack: step.slack,
            critical: step.critical,
            late: start_by.is_some_and(|by| by < ask.start) && state(ask, number).is_to_do(),
        });
        rest_ends.push(rest_end);
    }
    let breaks_first = breaks_first(&planned, &rest_ends, ask);
    PlatePlan {
        steps,
        finish: planned.finish,
        feasible: planned.feasible,
        feasible_at_shortest,
        breaks_first,
    }
}

/// The [`StepOutlook::start_by`] of each step alone, for a small part of the work: lists of many plates show nothing else.
#[must_use]
pub fn start_bys(graph: &Graph, calendar: &Calendar, ask: &Ask<'_>) -> Vec<Option<Millis>> {
    let advised = Ask { rests: Rests::Advised, ..*ask };
    let latest = ask.due.map(|due| Walk::new(graph, calendar, &advised).back(due));
    let of = |number| {
        let latest = latest.as_ref().and_then(|spans| place(spans, number));
        let ready = Ready::of(graph, calendar, ask, number);
        start_by(latest, ready.and_then(|ready| ready.rest_end(graph)))
    };
    (0..graph.steps().len()).map(of).collect()
}

fn start_by(latest: Option<Span>, rest_end: Option<Millis>) -> Option<Millis> {
    [latest.map(|span| span.start), rest_end].into_iter().flatten().min()
}

/// A step with everything before it done.
struct Ready<'a> {
    number: usize,
    step: &'a Step,
    state: State,
    calendar: &'a Calendar,
    /// The hours of its place.
    hours: &'a Calendar,
    need: Need,
    /// When the last of what comes before it ended.
    ended: Option<Millis>,
}

impl<'a> Ready<'a> {
    fn of(graph: &'a Graph, calendar: &'a Calendar, ask: &Ask<'_>, number: usize) -> Option<Self> {
        let state_of = |step| state(ask, step);
        let state = state_of(number);
        if !state.is_to_do() {
            return None;
        }
        let step = graph.steps().get(number)?;
        let ended = graph.before(number).iter().try_fold(None, |last, &earlier| match state_of(earlier) {
            State::Done { at } => Some(last.max(Some(at))),
            _ => None,
        })?;
        let need = step.need(step.hands_on(ask.sheets));
        Some(Self { number, step, state, calendar, hours: calendar.at(step.place), need, ended })
    }

    fn may_begin(&self, start: Millis) -> Option<Millis> {
        let rested = |at: Millis| at.saturating_add(self.step.rest.minimum()).max(start);
        let mut from = self.ended.map_or(start, rested);
        if let State::Resting { not_before, .. } = self.state {
            from = not_before.map_or(from, |at| at.max(from));
        }
        self.hours.earliest(from, self.need).map(|span| span.start)
    }

    /// The last start that keeps the maximum rest.
    fn rest_end(&self, graph: &Graph) -> Option<Millis> {
        let by = self.ended.and_then(|ended| begin_by(graph, self.calendar, self.number, ended));
        // The whole step belongs to the day, not its first minute alone.
        let same_day = self.step.rest.maximum == Maximum::SameDay;
        let (mut begin_by, mut end_by) = if same_day { (None, by) } else { (by, None) };
        if let State::Resting { begin_by: begin, end_by: end, .. } = self.state {
            begin_by = [begin_by, begin].into_iter().flatten().min();
            end_by = [end_by, end].into_iter().flatten().min();
        }
        // Where no opening is left after the step before, the clock's own limit is all there is.
        let open = |at: &Millis| Some(*at) >= self.ended;
        let begins = begin_by.map(|by| self.hours.latest_start(by, self.need).filter(open).unwrap_or(by));
        let ends = end_by.map(|by| {
            let by = by.saturating_add(1);
            self.hours.latest(by, self.need).map(|span| span.start).filter(open).unwrap_or(by - 1)
        });
        [begins, ends].into_iter().flatten().min()
    }
}

fn breaks_first(planned: &Plan, rest_ends: &[Option<Millis>], ask: &Ask<'_>) -> Option<BreaksFirst> {
    match planned.breaks {
        Some(Breaks::NoPlace { step }) => return Some(BreaksFirst::NoPlace { step }),
        Some(Breaks::Due { step }) => return Some(BreaksFirst::Due { step }),
        None => {}
    }
    let starts = planned.steps.iter().enumerate().filter_map(|(step, planned)| {
        let by = planned.latest?.start;
        state(ask, step).is_to_do().then_some(BreaksFirst::Start { step, by })
    });
    let rests = rest_ends.iter().enumerate();
    let rests = rests.filter_map(|(step, by)| by.map(|by| BreaksFirst::Rest { step, by }));
    starts.chain(rests).min_by_key(|first| match first {
        BreaksFirst::Start { by, .. } | BreaksFirst::Rest { by, .. } => *by,
        BreaksFirst::Due { .. } | BreaksFirst::NoPlace { .. } => Millis::MIN,
    })
}

fn state(ask: &Ask<'_>, step: usize) -> State {
    ask.states.get(step).copied().unwrap_or(State::ToDo)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::civil;
    use crate::trade::planning::graph::{Rest, Where};
    use crate::trade::planning::hours::{DayTime, Hours, Stretch, Weekly, weekday};

    fn at(text: &str) -> Millis {
        civil::rfc3339("at", &format!("{text}:00-04:00")).unwrap().timestamp_millis()
    }

    /// Monday to Friday 10:00 to 21:00, the second week of the autumn term of 2026.
    fn week() -> Calendar {
        let time = |text| DayTime::parse("open", text).unwrap();
        let stretch = Stretch::new("open", time("10:00"), time("21:00")).unwrap();
        let days = ["mon", "tue", "wed", "thu", "fri"].map(|day| weekday("open", day).unwrap());
        let weekly = days.into_iter().map(|day| Weekly { day, stretch }).collect();
        let zone = civil::zone("zone", "America/New_York").unwrap();
        let hours = Hours::new(zone, Some(weekly), vec![], std::collections::BTreeSet::new());
        hours.over(at("2026-09-01T00:00"), at("2026-10-10T00:00"))
    }

    /// First etch, roll-up, second etch the same day, proof: the default procedure's rests.
    fn graph() -> Graph {
        let step = |key: &str, minutes, after: &[&str], rest| {
            let after = after.iter().map(|&key| key.into()).collect();
            Step { key: key.into(), minutes, after, rest, ..Step::default() }
        };
        let advised = |minutes| Rest { advised_minutes: Some(minutes), ..Rest::default() };
        let same_day = Rest { maximum: Maximum::SameDay, ..Rest::default() };
        Graph::new(vec![
            step("first etch", 45, &[], Rest::default()),
            step("roll up", 60, &["first etch"], advised(60)),
            step("second etch", 45, &["roll up"], same_day),
            step("proof", 90, &["second etch"], advised(30)),
        ])
        .unwrap()
    }

    fn ask<'a>(now: &str, due: Option<&str>, states: &'a [State]) -> Ask<'a> {
        Ask { start: at(now), due: due.map(at), sheets: 0, states, rests: Rests::Advised }
    }

    /// The whole outlook, whose latest starts must be those asked for alone.
    fn outlook(graph: &Graph, calendar: &Calendar, ask: &Ask<'_>) -> PlatePlan {
        let plate = super::outlook(graph, calendar, ask);
        let alone = start_bys(graph, calendar, ask);
        assert_eq!(plate.steps.iter().map(|step| step.start_by).collect::<Vec<_>>(), alone, "{ask:?}");
        plate
    }

    #[test]
    fn a_second_etch_belongs_to_the_day_of_the_roll_up() {
        let done = |text| State::Done { at: at(text) };
        let states = [done("2026-09-15T11:00"), done("2026-09-16T12:40")];
        let plate = outlook(&graph(), &week(), &ask("2026-09-16T13:00", Some("2026-09-25T17:00"), &states));
        assert_eq!(plate.steps[2].start_by, Some(at("2026-09-16T20:15")));
        assert_eq!(plate.steps[2].may_begin, Some(at("2026-09-16T13:00")));
        assert_eq!(plate.breaks_first, Some(BreaksFirst::Rest { step: 2, by: at("2026-09-16T20:15") }));
        assert!(plate.feasible && !plate.steps[2].late);
        assert_eq!(plate.steps[0].earliest, None);
        assert_eq!(plate.steps[3].may_begin, None, "the second etch is not done");
        let late = outlook(&graph(), &week(), &ask("2026-09-17T09:00", None, &states));
        assert!(late.steps[2].late && late.feasible);
        assert_eq!(late.breaks_first, Some(BreaksFirst::Rest { step: 2, by: at("2026-09-16T20:15") }));
    }

    #[test]
    fn the_shortest_rests_may_still_save_a_plate() {
        let states = [State::Done { at: at("2026-09-16T16:30") }];
        let due = Some("2026-09-16T20:15");
        let plate = outlook(&graph(), &week(), &ask("2026-09-16T16:30", due, &states));
        // Advised: 17:30, 18:30, 19:15, 19:45, 21:15. Shortest: 16:30, 17:30, 18:15, 19:45.
        assert!(!plate.feasible && plate.feasible_at_shortest);
        assert_eq!(plate.breaks_first, Some(BreaksFirst::Due { step: 3 }));
        assert_eq!(plate.steps[1].may_begin, Some(at("2026-09-16T16:30")));
        assert_eq!(plate.steps[1].start_by, Some(at("2026-09-16T16:30")));
        assert!(!plate.steps[1].late, "the last minute is not too late");
        let plate = outlook(&graph(), &week(), &ask("2026-09-16T16:31", due, &states));
        assert!(plate.feasible_at_shortest && plate.steps[1].late);
        let plate = outlook(&graph(), &week(), &ask("2026-09-16T17:01", due, &states));
        assert!(!plate.feasible_at_shortest);
    }

    #[test]
    fn the_next_start_is_what_breaks_first() {
        let plate = outlook(&graph(), &week(), &ask("2026-09-14T10:00", Some("2026-09-18T21:00"), &[]));
        assert_eq!(plate.steps[3].start_by, Some(at("2026-09-18T19:30")));
        // 19:30 less 30 rest, 45 etch, 60 roll-up, 60 rest, 45 etch.
        assert_eq!(plate.breaks_first, Some(BreaksFirst::Start { step: 0, by: at("2026-09-18T15:30") }));
        let weekend = Graph::new(vec![
            Step { key: "etch".into(), minutes: 45, ..Step::default() },
            Step {
                key: "roll up".into(),
                minutes: 60,
                after: ["etch".into()].into(),
                rest: Rest { maximum: Maximum::Minutes(24 * 60), ..Rest::default() },
                place: Where::Station(0),
                ..Step::default()
            },
        ]);
        let states = [State::Done { at: at("2026-09-18T20:45") }];
        let plate = outlook(&weekend.unwrap(), &week(), &ask("2026-09-18T20:45", None, &states));
        let by = at("2026-09-19T20:45");
        assert_eq!(
            plate.breaks_first,
            Some(BreaksFirst::Rest { step: 1, by }),
            "no opening before the rest ends"
        );
    }

    #[test]
    fn a_finished_plate_asks_for_nothing() {
        let states = [State::Done { at: at("2026-09-14T12:00") }; 4];
        let plate = outlook(&graph(), &week(), &ask("2026-09-20T10:00", Some("2026-09-18T21:00"), &states));
        assert_eq!((plate.feasible, plate.breaks_first), (true, None));
        assert_eq!(plate.finish, Some(at("2026-09-14T12:00")));
    }
}
