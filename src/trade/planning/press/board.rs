//! The board of free times, one line for each unit, on which tasks are placed.

use std::borrow::Cow;

use super::super::Millis;
use super::super::calendar::{Calendar, Span};
use super::super::graph::Where;
use super::job::{Job, Task};
use super::limits::Kept;
use super::{Problem, Station};

/// Free times: of every unit of every station, of the open studio, and of the clock.
#[derive(Debug, Clone)]
pub(super) struct Board {
    /// `stations[station][unit]`: disjoint spans in order.
    pub(super) stations: Vec<Vec<Vec<Span>>>,
    studio: Vec<Span>,
    /// The studio's open times at which the instructor is there.
    instructor: Vec<Span>,
    clock: Vec<Span>,
}

/// How often a print is tried again with a step held back for a longest rest.
const MOST_HOLDS: usize = 64;

/// A task on the board.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Placed {
    /// Station and unit, both counted from 0.
    pub(super) unit: Option<(usize, usize)>,
    pub(super) pieces: Vec<Span>,
}

impl Board {
    pub(super) fn of(problem: &Problem) -> Self {
        let calendar = problem.hours.over(problem.from, problem.to);
        let studio: Vec<Span> = calendar.within(problem.from, problem.to).collect();
        let units =
            |station: &Station| (1..=station.count).map(|unit| without(&studio, station, unit)).collect();
        let stations = problem.stations.iter().map(units).collect();
        let instructor = calendar.at(Where::Instructor).within(problem.from, problem.to).collect();
        let clock = vec![Span { start: Calendar::FAR_PAST, finish: Calendar::FAR_FUTURE }];
        Self { stations, studio, instructor, clock }
    }

    /// Free time of a station's units.
    pub(super) fn had(&self, station: usize) -> Millis {
        let units = self.stations.get(station).into_iter().flatten();
        units.flatten().map(|free| free.finish - free.start).sum()
    }

    /// The board as time sees it running backwards.
    pub(super) fn mirrored(&self) -> Self {
        let line = |spans: &Vec<Span>| mirror(spans);
        let units = |units: &Vec<Vec<Span>>| units.iter().map(line).collect();
        let stations = self.stations.iter().map(units).collect();
        let (studio, instructor) = (mirror(&self.studio), mirror(&self.instructor));
        Self { stations, studio, instructor, clock: mirror(&self.clock) }
    }

    /// Places all tasks of a job as early as they go, or none. Where the procedure leaves the order open and
    /// the first one fails, others are tried: a print alone on the board finds a place if there is one.
    pub(super) fn place(&self, job: &Job) -> Option<Vec<Placed>> {
        self.place_in_order(job).or_else(|| {
            job.other_orders().iter().find_map(|(order, other)| {
                let mut placed: Vec<_> = order.iter().zip(self.place_in_order(other)?).collect();
                placed.sort_by_key(|(index, _)| **index);
                Some(placed.into_iter().map(|(_, placed)| placed).collect())
            })
        })
    }

    /// Holding a step back moves it later each time, so this ends.
    fn place_in_order(&self, job: &Job) -> Option<Vec<Placed>> {
        let mut job = Cow::Borrowed(job);
        for _ in 0..MOST_HOLDS {
            let mut placed = Vec::with_capacity(job.tasks.len());
            for task in &job.tasks {
                placed.push(self.place_task(task, &placed)?);
            }
            match job.kept(&placed) {
                Kept::All => return Some(placed),
                Kept::Never => return None,
                Kept::Not { hold, not_before } => {
                    let task = job.to_mut().tasks.get_mut(hold)?;
                    if task.not_before >= not_before {
                        return None;
                    }
                    task.not_before = not_before;
                }
            }
        }
        None
    }

    /// Places one task as early as it goes beside those of its print placed before it.
    pub(super) fn place_task(&self, task: &Task, placed: &[Placed]) -> Option<Placed> {
        let ends = task
            .waits
            .iter()
            .filter_map(|(index, rest)| Some(placed.get(*index)?.finish()?.saturating_add(*rest)));
        let from = ends.fold(task.not_before, Millis::max);
        let busy = placed.iter().flat_map(|placed| placed.pieces.iter().copied());
        let busy: Vec<Span> = busy.filter(|piece| piece.start < piece.finish).collect();
        let on = |line: &[Span]| {
            if task.split { split(line, &busy, from, task.time) } else { whole(line, &busy, from, task.time) }
        };
        let found = match task.place {
            _ if task.time <= 0 => Placed { unit: None, pieces: vec![Span { start: from, finish: from }] },
            Where::Anywhere => Placed { unit: None, pieces: on(&self.clock)? },
            Where::Studio => Placed { unit: None, pieces: on(&self.studio)? },
            Where::Instructor => Placed { unit: None, pieces: on(&self.instructor)? },
            Where::Station(station) => {
                let units = self.stations.get(station)?.iter().enumerate();
                let places = units.filter_map(|(unit, line)| {
                    Some(Placed { unit: Some((station, unit)), pieces: on(line)? })
                });
                places.min_by_key(Placed::finish)?
            }
        };
        (found.finish()? <= task.not_after).then_some(found)
    }

    /// Takes what was placed off the board.
    pub(super) fn take(&mut self, placed: &Placed) {
        let Some((station, unit)) = placed.unit else { return };
        let Some(line) = self.stations.get_mut(station).and_then(|units| units.get_mut(unit)) else { return };
        for piece in &placed.pieces {
            cut(line, *piece);
        }
    }
}

impl Placed {
    pub(super) fn finish(&self) -> Option<Millis> {
        self.pieces.last().map(|piece| piece.finish)
    }

    /// From its first piece to its last as the clock on the wall shows it, whichever way the board's time runs.
    pub(super) fn on_the_wall(&self, mirrored: bool) -> Option<Span> {
        let (start, finish) = (self.pieces.first()?.start, self.pieces.last()?.finish);
        Some(if mirrored { Span { start: -finish, finish: -start } } else { Span { start, finish } })
    }

    pub(super) fn mirrored(&self) -> Self {
        Self { unit: self.unit, pieces: mirror(&self.pieces) }
    }
}

/// The first place for unsplit time at or after `from`, as one piece.
fn whole(line: &[Span], busy: &[Span], from: Millis, time: Millis) -> Option<Vec<Span>> {
    let first = line.partition_point(|free| free.finish <= from);
    for free in line.get(first..).unwrap_or(&[]) {
        let mut span = Span { start: free.start.max(from), finish: 0 };
        while free.finish - span.start >= time {
            span.finish = span.start + time;
            match busy.iter().find(|other| other.start < span.finish && span.start < other.finish) {
                Some(other) => span.start = other.finish,
                None => return Some(vec![span]),
            }
        }
    }
    None
}

/// The first pieces of free time at or after `from` that make up the time.
fn split(line: &[Span], busy: &[Span], from: Millis, time: Millis) -> Option<Vec<Span>> {
    let first = line.partition_point(|free| free.finish <= from);
    let mut pieces = Vec::new();
    let mut left = time;
    for free in line.get(first..).unwrap_or(&[]) {
        let mut start = free.start.max(from);
        while start < free.finish {
            if let Some(other) = busy.iter().find(|other| other.start <= start && start < other.finish) {
                start = other.finish;
                continue;
            }
            let next = busy.iter().map(|other| other.start).filter(|other| *other > start).min();
            let finish = free.finish.min(next.unwrap_or(free.finish)).min(start + left);
            pieces.push(Span { start, finish });
            left -= finish - start;
            if left == 0 {
                return Some(pieces);
            }
            start = finish;
        }
    }
    None
}

/// The studio's open times without those in which a unit is down.
fn without(open: &[Span], station: &Station, unit: u32) -> Vec<Span> {
    let mut line = open.to_vec();
    for down in station.down.iter().filter(|down| down.unit == unit) {
        cut(&mut line, Span { start: down.from, finish: down.to });
    }
    line
}

/// Cuts a span out of a line.
fn cut(line: &mut Vec<Span>, out: Span) {
    let first = line.partition_point(|free| free.finish <= out.start);
    let end = line.partition_point(|free| free.start < out.finish).max(first);
    let touched = line.get(first..end).unwrap_or(&[]);
    let before = touched.first().map(|free| Span { start: free.start, finish: out.start });
    let after = touched.last().map(|free| Span { start: out.finish, finish: free.finish });
    let left = [before, after].into_iter().flatten().filter(|free| free.start < free.finish);
    line.splice(first..end, left.collect::<Vec<_>>());
}

fn mirror(spans: &[Span]) -> Vec<Span> {
    spans.iter().rev().map(|span| Span { start: -span.finish, finish: -span.start }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spans(list: &[(i64, i64)]) -> Vec<Span> {
        list.iter().map(|&(start, finish)| Span { start, finish }).collect()
    }

    #[test]
    fn cutting_leaves_what_is_beside() {
        for (out, left) in [
            ((3, 5), vec![(0, 3), (5, 10), (20, 30)]),
            ((0, 10), vec![(20, 30)]),
            ((5, 25), vec![(0, 5), (25, 30)]),
            ((10, 20), vec![(0, 10), (20, 30)]),
            ((-5, 40), vec![]),
            ((12, 15), vec![(0, 10), (20, 30)]),
        ] {
            let mut line = spans(&[(0, 10), (20, 30)]);
            cut(&mut line, Span { start: out.0, finish: out.1 });
            assert_eq!(line, spans(&left), "{out:?}");
        }
    }

    #[test]
    fn a_print_is_never_in_two_places() {
        let line = spans(&[(0, 10), (20, 40)]);
        assert_eq!(whole(&line, &spans(&[(2, 8)]), 0, 3), Some(spans(&[(20, 23)])));
        assert_eq!(whole(&line, &spans(&[(3, 8)]), 0, 3), Some(spans(&[(0, 3)])));
        assert_eq!(
            split(&line, &spans(&[(2, 8), (22, 25)]), 1, 8),
            Some(spans(&[(1, 2), (8, 10), (20, 22), (25, 28)]))
        );
        assert_eq!(whole(&line, &[], 25, 16), None);
        assert_eq!(split(&line, &[], 25, 16), None);
    }
}
