//! From what a procedure says is still to do on a plate to a graph and states that can be planned.

use super::graph::{Graph, Maximum, Rest, Step, Where};
use super::passes::State;
use super::{MINUTE, Millis};
use crate::trade::procedure::{Place, RemainingStep};
use crate::trade::remark::Remark;

/// The steps left on a plate, ready for [`outlook`](super::outlook()) or [`press`](super::press).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remaining {
    pub graph: Graph,
    /// One for each step of the graph.
    pub states: Vec<State>,
}

impl Remaining {
    /// Takes over a list of [`Case::remaining`](crate::trade::procedure::Case::remaining), made for `now` and an
    /// edition; the minutes of its sheets are in it. A station is its index in `stations`; one that is not
    /// there is planned as the open studio. `None` when nothing is left.
    ///
    /// Of an unsplit step under way the minutes since its start count as worked; how much of a split one is
    /// done nobody wrote down, so it counts whole.
    ///
    /// # Errors
    /// Minutes no plan takes.
    pub fn of(
        left: &[RemainingStep],
        stations: &[impl AsRef<str>],
        now: Millis,
    ) -> Result<Option<Self>, Remark> {
        if left.is_empty() {
            return Ok(None);
        }
        let mut steps = Vec::with_capacity(left.len());
        for step in left {
            steps.push(taken_over(step, stations)?);
        }
        let states = left.iter().zip(&steps).map(|(step, plain)| state(step, plain, now)).collect();
        Ok(Some(Self { graph: Graph::new(steps)?, states }))
    }
}

fn taken_over(step: &RemainingStep, stations: &[impl AsRef<str>]) -> Result<Step, Remark> {
    let read = |value: i64| {
        u32::try_from(value).map_err(|_outside| {
            let remark = Remark::new("planning-minutes-outside").with("step", &*step.title);
            remark.with("field", "minutes").with("value", value)
        })
    };
    // A rest that begins in the list is the graph's; one that runs already is the state's.
    let maximum = match step.maximum_wait_minutes {
        Some(minutes) => Maximum::Minutes(read(minutes)?),
        None if step.same_day && step.latest_by.is_none() => Maximum::SameDay,
        None => Maximum::None,
    };
    let minimum_minutes = read(step.minimum_wait_minutes)?;
    let rest = Rest { minimum_minutes, advised_minutes: Some(read(step.wait_minutes)?), maximum };
    let place = match &*step.place {
        Place::Anywhere => Where::Anywhere,
        Place::Instructor => Where::Instructor,
        Place::Station(word) => {
            stations.iter().position(|station| station.as_ref() == word).map_or(Where::Studio, Where::Station)
        }
    };
    let (key, after) = (step.key.clone(), step.after.clone());
    Ok(Step {
        key,
        minutes: read(step.minutes)?,
        minutes_per_sheet: 0,
        after,
        rest,
        may_split: step.may_split,
        place,
    })
}

fn state(step: &RemainingStep, plain: &Step, now: Millis) -> State {
    if let Some(since) = step.under_way_since {
        let gone = (now - since.timestamp_millis()).max(0) / MINUTE;
        let worked = if step.may_split { 0 } else { u32::try_from(gone).unwrap_or(u32::MAX) };
        return State::Begun { left_minutes: plain.minutes.saturating_sub(worked) };
    }
    let not_before = step.not_before.map(|at| at.timestamp_millis());
    let latest = step.latest_by.map(|at| at.timestamp_millis());
    match (not_before, latest) {
        (None, None) => State::ToDo,
        _ if step.same_day => State::Resting { not_before, begin_by: None, end_by: latest },
        _ => State::Resting { not_before, begin_by: latest, end_by: None },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::civil;
    use crate::trade::planning::{
        Ask, BreaksFirst, DayTime, Hours, PlatePlan, Rests, Stretch, Weekly, hours::weekday, outlook,
    };
    use crate::trade::procedure::{Case, Charted, ClassChoice, Entry, History, shipped};
    use chrono::{DateTime, Utc};
    use chrono_tz::America::New_York;

    const STATIONS: [&str; 4] = ["graining sink", "etching table", "slab", "press"];

    fn at(text: &str) -> DateTime<Utc> {
        civil::instant(civil::local("at", text).unwrap(), New_York)
    }

    /// The shipped aluminium plate after these runs, planned for twelve sheets; the studio opens Monday to
    /// Friday from 10:00 to 21:00.
    fn planned(runs: &[(&str, &str, &str)], now: &str, due: &str) -> (Remaining, PlatePlan) {
        let procedure = Charted::of(shipped::procedures().unwrap().swap_remove(0));
        let ended = |text: &str| if text.is_empty() { None } else { Some(at(text)) };
        let entry = |(step, began, end): &(&str, &str, &str)| Entry::new(step, at(began), ended(end));
        let history = History { entries: runs.iter().map(entry).collect(), put_downs: vec![] };
        let case = Case {
            procedure: &procedure,
            choice: &ClassChoice::default(),
            history: &history,
            sign_offs: &[],
            allowances: &[],
            zone: New_York,
        };
        let (now, due) = (at(now), at(due).timestamp_millis());
        let left = case.remaining(now, 12);
        let left = Remaining::of(&left, &STATIONS, now.timestamp_millis()).unwrap().unwrap();
        let time = |text| DayTime::parse("open", text).unwrap();
        let stretch = Stretch::new("open", time("10:00"), time("21:00")).unwrap();
        let weekly = ["mon", "tue", "wed", "thu", "fri"]
            .map(|day| Weekly { day: weekday("open", day).unwrap(), stretch });
        let hours = Hours::new(New_York, Some(weekly.to_vec()), vec![], Default::default());
        let start = now.timestamp_millis();
        let ask = Ask { start, due: Some(due), sheets: 0, states: &left.states, rests: Rests::Advised };
        let plan = outlook(&left.graph, &hours.over(start - 60 * super::super::DAY, due), &ask);
        (left, plan)
    }

    fn number(left: &Remaining, key: &str) -> usize {
        left.graph.steps().iter().position(|step| *step.key == *key).unwrap()
    }

    #[test]
    fn a_second_etch_of_the_shipped_plate_is_due_the_same_evening() {
        let runs = [
            ("prepare", "2026-10-13T10:00", "2026-10-13T10:30"),
            ("draw", "2026-10-13T11:00", "2026-10-15T16:00"),
            ("first-etch", "2026-10-20T13:40", "2026-10-20T14:25"),
            ("roll-up", "2026-10-22T11:40", "2026-10-22T12:40"),
        ];
        let (left, plan) = planned(&runs, "2026-10-22T13:00", "2026-11-20T17:00");
        let etch = number(&left, "second-etch");
        let by = at("2026-10-22T20:15").timestamp_millis();
        assert_eq!(plan.breaks_first, Some(BreaksFirst::Rest { step: etch, by }));
        assert_eq!(plan.steps[etch].may_begin, Some(at("2026-10-22T13:00").timestamp_millis()));
        assert!(plan.feasible);
        assert_eq!(left.graph.steps()[number(&left, "edition")].minutes, 75 + 6 * 12);
        assert_eq!(left.graph.steps()[etch].place, Where::Station(1));
        // Three days of drying are counted on the clock, after the edition.
        let (edition, curate) = (number(&left, "edition"), number(&left, "curate"));
        let dry = plan.steps[curate].earliest.unwrap().start - plan.steps[edition].earliest.unwrap().finish;
        assert!(dry >= 3 * super::super::DAY, "{dry}");
    }

    #[test]
    fn a_rest_that_runs_and_a_step_under_way_are_taken_over() {
        let runs = [
            ("prepare", "2026-10-13T10:00", "2026-10-13T10:30"),
            ("draw", "2026-10-13T11:00", "2026-10-15T16:00"),
        ];
        let (left, plan) = planned(&runs, "2026-10-15T17:00", "2026-11-20T17:00");
        // Twelve hours after drawing it is four in the morning: the table opens at ten.
        let etch = plan.steps[number(&left, "first-etch")];
        assert_eq!(etch.earliest.unwrap().start, at("2026-10-16T10:00").timestamp_millis());
        let under_way = [&runs[..], &[("first-etch", "2026-10-20T13:40", "")]].concat();
        let (left, plan) = planned(&under_way, "2026-10-20T14:05", "2026-11-20T17:00");
        let etch = number(&left, "first-etch");
        assert_eq!(left.states[etch], State::Begun { left_minutes: 20 });
        assert_eq!(plan.steps[etch].earliest.unwrap().finish, at("2026-10-20T14:25").timestamp_millis());
        assert_eq!(plan.steps[etch].may_begin, None);
    }

    #[test]
    fn a_plate_that_is_through_leaves_nothing_to_plan() {
        assert_eq!(Remaining::of(&[], &STATIONS, 0).unwrap(), None);
    }
}
