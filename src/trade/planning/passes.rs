//! The two passes over a procedure: forward from the start, back from the due date.
//!
//! Forward gives the earliest every step can run; back gives the latest it may, so that the last one ends by
//! the due date. The open time between the two starts is a step's slack. A step is critical when it cannot
//! move without moving the plan's own finish, whether or not the due date leaves room after that.

use super::calendar::{Calendar, Span};
use super::graph::{Graph, Where};
use super::hours::Hours;
use super::walk::{Walk, place};
use super::{DAY, MOST_DAYS, Millis};

/// What is to be planned.
#[derive(Debug, Clone, Copy)]
pub struct Ask<'a> {
    /// Nothing still to do begins before.
    pub start: Millis,
    /// Everything must have ended by then; without it nothing is ever too late.
    pub due: Option<Millis>,
    /// Sheets of the edition, for steps that take minutes for each.
    pub sheets: u32,
    /// The state of each step, in the order of the graph's steps; a missing one is still to do.
    pub states: &'a [State],
    pub rests: Rests,
}

/// How far a step is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    ToDo,
    /// To do, under a rest that already runs from something the graph does not hold; each bound may be open.
    Resting {
        /// It begins no sooner.
        not_before: Option<Millis>,
        /// It should begin by then.
        begin_by: Option<Millis>,
        /// It should have ended by then.
        end_by: Option<Millis>,
    },
    /// Begun and not ended: hands-on minutes left. It waits for nothing any more.
    Begun {
        left_minutes: u32,
    },
    /// Ended at an instant; the rest after it counts from there.
    Done {
        at: Millis,
    },
}

impl State {
    /// Not begun, so it waits for what comes before it.
    #[must_use]
    pub fn is_to_do(self) -> bool {
        matches!(self, Self::ToDo | Self::Resting { .. })
    }
}

/// Which rests a plan counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Rests {
    /// The advised rest, or the minimum where that is longer.
    #[default]
    Advised,
    /// The minimum alone.
    Shortest,
}

/// The answer, with one entry for each step of the graph, in its order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    pub steps: Vec<Planned>,
    /// When the last step can end at the earliest; `None` when some step has no place at all.
    pub finish: Option<Millis>,
    pub feasible: bool,
    /// Of a plan that is not feasible: where it breaks.
    pub breaks: Option<Breaks>,
    /// Maximum rests the earliest times do not keep.
    pub rests_broken: Vec<RestBroken>,
}

/// One step's times; `None` where it has no place in the calendar or is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Planned {
    pub earliest: Option<Span>,
    pub latest: Option<Span>,
    /// Time the step may run in, between earliest and latest start; negative when it is already too late.
    pub slack: Option<Millis>,
    pub critical: bool,
}

/// The step at which a plan breaks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Breaks {
    /// The first step in time that cannot have ended by the due date.
    Due { step: usize },
    /// No opening is long enough, or none is left.
    NoPlace { step: usize },
}

/// A maximum rest that the earliest times do not keep.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RestBroken {
    pub step: usize,
    /// The rest as planned.
    pub rest: Millis,
    /// The step should have begun by then.
    pub begin_by: Millis,
    /// The rest would be kept if the last step before ended no sooner than this.
    pub hold_until: Millis,
}

/// Plans within a calendar, which must cover the time from `start` to well past `due`.
#[must_use]
pub fn plan(graph: &Graph, calendar: &Calendar, ask: &Ask<'_>) -> Plan {
    let walk = Walk::new(graph, calendar, ask);
    let earliest = walk.forward(ask.start);
    let finish = walk.finish(&earliest);
    let latest = ask.due.map(|due| walk.back(due));
    // What cannot move without moving the finish is found by walking back from the finish itself.
    let held = finish.filter(|finish| ask.due != Some(*finish)).map(|finish| walk.back(finish));
    let held = held.as_ref().or(latest.as_ref()).filter(|_| finish.is_some());
    let mut steps = Vec::with_capacity(earliest.len());
    for (number, (span, step)) in earliest.iter().zip(graph.steps()).enumerate() {
        let earliest = span.filter(|_| !walk.is_done(number));
        let latest = latest.as_ref().and_then(|spans| place(spans, number));
        let slack = |latest: Option<Span>| {
            let (from, to) = (earliest?.start, latest?.start);
            let open = || calendar.at(step.place).open_between(from, to);
            Some(if step.place == Where::Anywhere { to - from } else { open() })
        };
        let critical = slack(held.and_then(|spans| place(spans, number))) == Some(0);
        steps.push(Planned { earliest, latest, slack: slack(latest), critical });
    }
    let in_time = |finish| ask.due.is_none_or(|due| finish <= due);
    let feasible = walk.all_done() || finish.is_some_and(in_time);
    let breaks = if feasible { None } else { walk.breaks(&earliest, ask.due) };
    Plan { steps, finish, feasible, breaks, rests_broken: walk.rests_broken(&earliest) }
}

/// Plans within hours, looking as far ahead and back as the steps need, up to [`MOST_DAYS`].
#[must_use]
pub fn plan_within(graph: &Graph, hours: &Hours, ask: &Ask<'_>) -> Plan {
    let due = ask.due.unwrap_or(ask.start);
    let (first, last) = (ask.start.min(due), ask.start.max(due));
    let reaching = |days: i64| {
        let reach = days * DAY;
        plan(graph, &hours.over(first.saturating_sub(reach), last.saturating_add(reach)), ask)
    };
    let placed = |number: usize, step: &Planned| {
        matches!(ask.states.get(number), Some(State::Done { .. }))
            || step.earliest.is_some() && (ask.due.is_none() || step.latest.is_some())
    };
    let near = [30, 400].into_iter().map(reaching);
    near.into_iter()
        .find(|plan| plan.steps.iter().enumerate().all(|(number, step)| placed(number, step)))
        .unwrap_or_else(|| reaching(MOST_DAYS))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::civil;
    use crate::trade::planning::MINUTE;
    use crate::trade::planning::graph::{Maximum, Rest, Step};
    use crate::trade::planning::hours::{DayTime, Stretch, Weekly, weekday};

    fn at(text: &str) -> Millis {
        civil::rfc3339("at", &format!("{text}:00-04:00")).unwrap().timestamp_millis()
    }

    /// Monday to Friday 09:00 to 17:00 in New York.
    fn office() -> Hours {
        let time = |text| DayTime::parse("open", text).unwrap();
        let stretch = Stretch::new("open", time("09:00"), time("17:00")).unwrap();
        let days = ["mon", "tue", "wed", "thu", "fri"].map(|day| weekday("open", day).unwrap());
        let weekly = days.into_iter().map(|day| Weekly { day, stretch }).collect();
        let zone = civil::zone("zone", "America/New_York").unwrap();
        Hours::new(zone, Some(weekly), vec![], std::collections::BTreeSet::new())
    }

    fn step(key: &str, minutes: u32, after: &[&str]) -> Step {
        let after = after.iter().map(|&key| key.into()).collect();
        Step { key: key.into(), minutes, after, ..Step::default() }
    }

    fn ask(start: &str, due: &str) -> Ask<'static> {
        Ask { start: at(start), due: Some(at(due)), sheets: 0, states: &[], rests: Rests::Advised }
    }

    fn earliest(plan: &Plan, step: usize) -> (Millis, Millis) {
        let span = plan.steps[step].earliest.unwrap();
        (span.start, span.finish)
    }

    /// A rest of 12 hours begun on Friday evening makes Monday the next open slot: rests run on the clock,
    /// work in open hours (common practice, no published source).
    #[test]
    fn a_rest_begun_on_friday_ends_in_mondays_opening() {
        let rest = Rest { advised_minutes: Some(12 * 60), ..Rest::default() };
        let roll = Step { rest, ..step("roll up", 60, &["etch"]) };
        let graph = Graph::new(vec![step("etch", 45, &[]), roll]).unwrap();
        // 18 September 2026 is a Friday.
        let plan = plan_within(&graph, &office(), &ask("2026-09-18T16:15", "2026-09-21T10:00"));
        assert_eq!(earliest(&plan, 1), (at("2026-09-21T09:00"), at("2026-09-21T10:00")));
        assert!(plan.feasible && plan.steps[1].critical);
        // The etch may wait till 21:00 before Monday's slot by the rest alone, but not by the open hours.
        assert_eq!(plan.steps[0].latest.unwrap().start, at("2026-09-18T16:15"));
        assert_eq!(plan.steps[0].slack, Some(0));
    }

    #[test]
    fn unsplit_work_waits_for_an_opening_that_holds_it() {
        let split = Step { may_split: true, ..step("draw", 600, &[]) };
        let nowhere = Step { place: Where::Anywhere, ..step("tear", 30, &["draw"]) };
        let steps = vec![split, nowhere, step("etch", 480, &["tear"]), step("nod", 0, &["etch"])];
        let graph = Graph::new(steps).unwrap();
        let plan = plan_within(&graph, &office(), &ask("2026-09-17T15:00", "2026-09-25T17:00"));
        // Two hours on Thursday, eight on Friday; torn after closing; Monday is the next whole day.
        assert_eq!(earliest(&plan, 0), (at("2026-09-17T15:00"), at("2026-09-18T17:00")));
        assert_eq!(earliest(&plan, 1), (at("2026-09-18T17:00"), at("2026-09-18T17:30")));
        assert_eq!(earliest(&plan, 2), (at("2026-09-21T09:00"), at("2026-09-21T17:00")));
        assert_eq!(earliest(&plan, 3), (at("2026-09-21T17:00"), at("2026-09-21T17:00")));
        assert_eq!(plan.finish, Some(at("2026-09-21T17:00")));
        assert_eq!(plan.steps[2].slack, Some(4 * 480 * MINUTE));
        // Paper can be torn all weekend: its slack runs on the clock.
        let torn = plan.steps[1];
        assert_eq!(torn.latest.unwrap().finish, at("2026-09-25T09:00"));
        assert_eq!(torn.slack, Some(at("2026-09-25T08:30") - at("2026-09-18T17:00")));
        assert!(!torn.critical && plan.steps[2].critical);
    }

    #[test]
    fn what_has_no_place_or_no_time_is_named() {
        let graph = Graph::new(vec![step("draw", 481, &[]), step("etch", 45, &["draw"])]).unwrap();
        let plan = plan_within(&graph, &office(), &ask("2026-09-14T09:00", "2026-09-25T17:00"));
        assert_eq!((plan.feasible, plan.finish), (false, None));
        assert_eq!(plan.breaks, Some(Breaks::NoPlace { step: 0 }));
        assert_eq!(plan.steps[1].earliest, None);
        let graph =
            Graph::new(vec![step("a", 60, &[]), step("b", 60, &["a"]), step("c", 60, &["b"])]).unwrap();
        let plan = plan_within(&graph, &office(), &ask("2026-09-14T09:00", "2026-09-14T10:30"));
        assert_eq!(plan.breaks, Some(Breaks::Due { step: 1 }));
        // Back from 10:30 the half hour of Monday morning is no use to b: it and a belong on Friday afternoon.
        assert_eq!(plan.steps[0].latest.unwrap().start, at("2026-09-11T15:00"));
        assert_eq!(plan.steps[0].slack, Some(-120 * MINUTE));
        assert_eq!(plan.finish, Some(at("2026-09-14T12:00")));
        assert!(plan.steps.iter().all(|step| step.critical));
    }

    #[test]
    fn a_broken_maximum_rest_is_a_warning() {
        let rest = Rest { maximum: Maximum::Minutes(24 * 60), ..Rest::default() };
        let roll = Step { rest, ..step("roll up", 60, &["etch"]) };
        let graph = Graph::new(vec![step("etch", 45, &[]), roll]).unwrap();
        let plan = plan_within(&graph, &office(), &ask("2026-09-18T16:00", "2026-09-25T17:00"));
        let broken = RestBroken {
            step: 1,
            rest: at("2026-09-21T09:00") - at("2026-09-18T16:45"),
            begin_by: at("2026-09-19T16:45"),
            hold_until: at("2026-09-20T09:00"),
        };
        assert!(plan.feasible);
        assert_eq!(plan.rests_broken, [broken]);
        let same_day = Rest { maximum: Maximum::SameDay, ..Rest::default() };
        let second = Step { rest: same_day, ..step("second etch", 45, &["roll up"]) };
        let graph = Graph::new(vec![step("roll up", 60, &[]), second]).unwrap();
        let plan = plan_within(&graph, &office(), &ask("2026-09-14T15:30", "2026-09-25T17:00"));
        assert_eq!(plan.rests_broken[0].hold_until, at("2026-09-15T00:00"));
        let plan = plan_within(&graph, &office(), &ask("2026-09-14T15:15", "2026-09-25T17:00"));
        assert_eq!(plan.rests_broken, []);
    }

    #[test]
    fn done_and_begun_steps_bind_what_follows() {
        let rest = Rest { minimum_minutes: 120, ..Rest::default() };
        let dry = Step { rest, ..step("dry", 30, &["pull"]) };
        let graph = Graph::new(vec![step("etch", 60, &[]), step("pull", 60, &["etch"]), dry]).unwrap();
        let states = [State::Done { at: at("2026-09-14T09:30") }, State::Begun { left_minutes: 20 }];
        let ask = Ask { states: &states, ..ask("2026-09-14T10:00", "2026-09-14T17:00") };
        let plan = plan_within(&graph, &office(), &ask);
        assert_eq!(plan.steps[0], Planned::default());
        assert_eq!(earliest(&plan, 1), (at("2026-09-14T10:00"), at("2026-09-14T10:20")));
        assert_eq!(earliest(&plan, 2), (at("2026-09-14T12:20"), at("2026-09-14T12:50")));
        assert_eq!(plan.steps[1].latest.unwrap().start, at("2026-09-14T14:10"));
        assert_eq!(plan.finish, Some(at("2026-09-14T12:50")));
    }
}
