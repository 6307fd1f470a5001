//! What stations have, what is wanted of them and what is taken, over the span and week by week.

use chrono::{Datelike, Days, NaiveDate};

use super::board::Board;
use super::job::jobs;
use super::{Place, Problem, StationFigures, WeekFigures, Work};
use crate::trade::planning::calendar::Span;
use crate::trade::planning::graph::{Graph, Where};
use crate::trade::planning::hours::Stretch;
use crate::trade::planning::passes::{Ask, Rests, State, plan};
use crate::trade::planning::{DAY, MINUTE, Millis};

pub(super) fn stations(problem: &Problem, board: &Board, places: &[Place]) -> Vec<StationFigures> {
    let jobs = jobs(problem);
    let times = match &problem.work {
        Work::Alike { prints, .. } => i64::from(*prints),
        Work::Each(_) => 1,
    };
    let figures = (0..board.stations.len()).map(|station| {
        let had = board.had(station);
        let wanted = jobs.iter().map(|job| job.wanted(station)).sum::<Millis>() * times;
        let of_others = jobs.iter().filter(|job| !job.counted).map(|job| job.wanted(station)).sum();
        let taken = pieces(places, station).map(length).sum();
        StationFigures { had, wanted, of_others, short: (wanted - had).max(0), taken }
    });
    figures.collect()
}

/// One entry for each local week, Monday to Sunday, that the span touches.
pub(super) fn weeks(problem: &Problem, board: &Board, places: &[Place]) -> Vec<WeekFigures> {
    let mondays = mondays(problem);
    let begins = beginnings(problem, &mondays);
    let mut weeks: Vec<WeekFigures> =
        mondays.into_iter().map(|monday| WeekFigures { monday, stations: Vec::new() }).collect();
    for (station, units) in board.stations.iter().enumerate() {
        let had = by_week(&begins, units.iter().flatten());
        let taken = by_week(&begins, pieces(places, station));
        for (week, both) in weeks.iter_mut().zip(had.into_iter().zip(taken)) {
            week.stations.push(both);
        }
    }
    weeks
}

/// As [`super::wanted_by_week`].
pub(super) fn wanted_by_week(problem: &Problem) -> Vec<Vec<Millis>> {
    let begins = beginnings(problem, &mondays(problem));
    let mut sums = vec![vec![0; problem.stations.len()]; begins.len()];
    let mut add = |at: Option<Millis>, station: usize, time: Millis| {
        let week = at.map_or(0, |at| begins.partition_point(|begin| *begin <= at).saturating_sub(1));
        if let Some(sum) = sums.get_mut(week).and_then(|week| week.get_mut(station)) {
            *sum += time;
        }
    };
    let calendar = problem.hours.over(problem.from - 30 * DAY, problem.to);
    let mut count = |graph: &Graph, due: Millis, sheets: u32, states: &[State], times: Millis| {
        let ask = Ask { start: problem.from, due: Some(due), sheets, states, rests: Rests::Advised };
        let planned = plan(graph, &calendar, &ask);
        for (number, (step, planned)) in graph.steps().iter().zip(&planned.steps).enumerate() {
            let Where::Station(station) = step.place else { continue };
            let time = match states.get(number) {
                Some(State::Done { .. }) => continue,
                Some(State::Begun { left_minutes }) => i64::from(*left_minutes) * MINUTE,
                _ => step.hands_on(sheets),
            };
            add(planned.latest.map(|span| span.start.max(problem.from)), station, time * times);
        }
    };
    match &problem.work {
        Work::Alike { prints, sheets, steps } => {
            count(steps, problem.to, *sheets, &[], i64::from(*prints));
        }
        Work::Each(prints) => {
            for print in prints {
                let due = print.due.map_or(problem.to, |due| due.min(problem.to));
                count(&print.steps, due, print.sheets, &print.states, 1);
            }
        }
    }
    sums
}

/// The first instants of the weeks.
fn beginnings(problem: &Problem, mondays: &[NaiveDate]) -> Vec<Millis> {
    mondays.iter().map(|monday| Stretch::WHOLE_DAY.on(*monday, problem.hours.zone()).start).collect()
}

fn mondays(problem: &Problem) -> Vec<NaiveDate> {
    let first = problem.hours.date_at(problem.from);
    let back = u64::from(first.weekday().num_days_from_monday());
    let first = first.checked_sub_days(Days::new(back)).unwrap_or(first);
    let last = problem.hours.date_at(problem.to - 1);
    first.iter_weeks().take_while(|monday| *monday <= last).collect()
}

/// The length of the spans in each week; `begins` are the first instants of the weeks.
fn by_week<'a>(begins: &[Millis], spans: impl Iterator<Item = &'a Span>) -> Vec<Millis> {
    let mut sums = vec![0; begins.len()];
    for span in spans {
        let first = begins.partition_point(|begin| *begin <= span.start).saturating_sub(1);
        for (week, sum) in sums.iter_mut().enumerate().skip(first) {
            let begin = begins.get(week).copied().unwrap_or(Millis::MAX);
            let end = begins.get(week + 1).copied().unwrap_or(Millis::MAX);
            if begin >= span.finish {
                break;
            }
            *sum += (span.finish.min(end) - span.start.max(begin)).max(0);
        }
    }
    sums
}

fn pieces(places: &[Place], station: usize) -> impl Iterator<Item = &Span> {
    let here = places.iter().filter(move |place| place.unit.is_some_and(|(at, _)| at == station));
    here.flat_map(|place| place.pieces.iter())
}

fn length(span: &Span) -> Millis {
    span.finish - span.start
}
