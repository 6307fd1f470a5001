//! The search for a placing of as many prints as possible: several simple orders, the best of them kept.

use super::board::{Board, Placed};
use super::job::{Job, jobs};
use super::limits::Kept;
use super::{MOST_PRINTS, Place, Problem, Work};
use crate::trade::planning::Millis;

/// Tasks one attempt at a better order may place; beyond that the first placing stands.
const MOST_TASKS: usize = 20_000;

pub(super) struct Found {
    pub(super) fits: usize,
    pub(super) bound: Option<usize>,
    pub(super) first_without_place: Option<usize>,
    pub(super) places: Vec<Place>,
}

/// Placed prints: the print's number and where each of its tasks is.
type Placing = Vec<(usize, Vec<Placed>)>;

pub(super) fn search(problem: &Problem, board: &Board) -> Found {
    let jobs = jobs(problem);
    match (&problem.work, jobs.first()) {
        (Work::Alike { .. }, Some(job)) => alike(problem.asked(), board, job),
        _ => each(board, &jobs),
    }
}

// ---- prints that are all alike ----

fn alike(asked: usize, board: &Board, job: &Job) -> Found {
    let bound = bound(board, job);
    let most = bound.unwrap_or(asked).min(usize::try_from(MOST_PRINTS).unwrap_or(usize::MAX));
    let mut best = one_by_one(board, job, most);
    if best.len() < most {
        let backward = one_by_one(&board.mirrored(), &job.mirrored(), most);
        if backward.len() > best.len() {
            best = backward.into_iter().map(turned).collect();
        }
    }
    while best.len() < most && (best.len() + 1) * job.tasks.len() <= MOST_TASKS {
        match side_by_side(board, job, best.len() + 1) {
            Some(better) => best = better,
            None => break,
        }
    }
    let fits = best.len();
    best.truncate(asked);
    let places = best.into_iter().enumerate().collect();
    Found {
        fits,
        bound,
        first_without_place: (fits < asked).then_some(fits),
        places: written(places, |_| Some(job)),
    }
}

/// Print after print, each as early as it goes, until one finds no place.
fn one_by_one(board: &Board, job: &Job, most: usize) -> Vec<Vec<Placed>> {
    let mut board = board.clone();
    let mut prints = Vec::new();
    while prints.len() < most {
        let Some(placed) = board.place(job) else { break };
        placed.iter().for_each(|placed| board.take(placed));
        prints.push(placed);
    }
    prints
}

/// The first step of every print, then the second of every print, and so on: all of them, or none.
fn side_by_side(board: &Board, job: &Job, count: usize) -> Option<Vec<Vec<Placed>>> {
    let mut board = board.clone();
    let mut prints: Vec<Vec<Placed>> = vec![Vec::with_capacity(job.tasks.len()); count];
    for task in &job.tasks {
        for print in &mut prints {
            let placed = board.place_task(task, print)?;
            board.take(&placed);
            print.push(placed);
        }
    }
    // Held back for a longest rest nothing would stay side by side: then the other orders stand.
    prints.iter().all(|print| job.kept(print) == Kept::All).then_some(prints)
}

/// What no placing can exceed: a station's time over a print's, and its room for unsplit steps.
fn bound(board: &Board, job: &Job) -> Option<usize> {
    let bounds = board.stations.iter().enumerate().filter_map(|(station, units)| {
        let wanted = job.wanted(station);
        let shortest = job.at(station).map(|task| task.time).min()?;
        let unsplit = job.at(station).all(|task| !task.split);
        let rooms: i64 =
            units.iter().flatten().map(|free| (free.finish - free.start).div_euclid(shortest)).sum();
        let steps = i64::try_from(job.at(station).count()).ok()?;
        let by_time = board.had(station).div_euclid(wanted);
        Some(if unsplit { by_time.min(rooms.div_euclid(steps)) } else { by_time })
    });
    bounds.min().and_then(|most| usize::try_from(most).ok())
}

// ---- prints with due dates and states of their own ----

fn each(board: &Board, jobs: &[Job]) -> Found {
    let due = |print: &usize| jobs.get(*print).and_then(|job| job.tasks.first()).map(|task| task.not_after);
    let wanted = |print: &usize| jobs.get(*print).map(Job::wanted_of_all);
    let mut by_due: Vec<usize> = (0..jobs.len()).collect();
    by_due.sort_by_key(due);
    let mut best = in_order(board, jobs, &by_due);
    let tasks: usize = jobs.iter().map(|job| job.tasks.len()).sum();
    if best.len() < jobs.len() && tasks <= MOST_TASKS {
        let slack = |print: &usize| Some(due(print)? - wanted(print)?);
        let (mut by_wanted, mut by_slack) = (by_due.clone(), by_due.clone());
        by_wanted.sort_by_key(wanted);
        by_slack.sort_by_key(slack);
        for order in [by_wanted, by_slack] {
            let other = in_order(board, jobs, &order);
            best = if other.len() > best.len() { other } else { best };
        }
        let backward: Vec<Job> = jobs.iter().map(Job::mirrored).collect();
        let last_first: Vec<usize> = by_due.iter().rev().copied().collect();
        let other = in_order(&board.mirrored(), &backward, &last_first);
        if other.len() > best.len() {
            best = other.into_iter().map(|(print, placed)| (print, turned(placed))).collect();
        }
    }
    let mut has_place = vec![false; jobs.len()];
    for (print, _) in &best {
        if let Some(cell) = has_place.get_mut(*print) {
            *cell = true;
        }
    }
    let counts = |print: usize| jobs.get(print).is_some_and(|job| job.counted);
    let without = |print: &usize| counts(*print) && has_place.get(*print) == Some(&false);
    let first_without_place = by_due.into_iter().find(without);
    let fits = best.iter().filter(|(print, _)| counts(*print)).count();
    let places = written(best, |print| jobs.get(print));
    let bounds = (0..board.stations.len()).map(|station| least_wanting(board, jobs, station));
    let asked = jobs.iter().filter(|job| job.counted).count();
    Found { fits, bound: bounds.chain([asked]).min(), first_without_place, places }
}

/// How many prints a station's time holds when those that want least of it come first.
fn least_wanting(board: &Board, jobs: &[Job], station: usize) -> usize {
    let counted = jobs.iter().filter(|job| job.counted);
    let mut wanted: Vec<Millis> = counted.map(|job| job.wanted(station)).collect();
    wanted.sort_unstable();
    let mut left = board.had(station);
    let held = wanted.into_iter().take_while(|wanted| {
        left -= wanted;
        left >= 0
    });
    held.count()
}

/// Print after print in the order given, leaving out those that find no place.
fn in_order(board: &Board, jobs: &[Job], order: &[usize]) -> Placing {
    let mut board = board.clone();
    let mut placing = Vec::new();
    for &print in order {
        if let Some(placed) = jobs.get(print).and_then(|job| board.place(job)) {
            placed.iter().for_each(|placed| board.take(placed));
            placing.push((print, placed));
        }
    }
    placing
}

// ---- both ----

/// A placing found with time running backwards, turned round.
fn turned(placed: Vec<Placed>) -> Vec<Placed> {
    placed.iter().rev().map(Placed::mirrored).collect()
}

fn written<'a>(placing: Placing, job: impl Fn(usize) -> Option<&'a Job>) -> Vec<Place> {
    let mut places = Vec::new();
    for (print, placed) in placing {
        let tasks = job(print).map_or(&[][..], |job| &job.tasks);
        for (task, placed) in tasks.iter().zip(placed) {
            let unit = placed.unit.and_then(|(station, unit)| Some((station, u32::try_from(unit).ok()? + 1)));
            places.push(Place { print, step: task.step, unit, pieces: placed.pieces });
        }
    }
    places.sort_by_key(|place| (place.print, place.pieces.first().map_or(Millis::MAX, |piece| piece.start)));
    places
}
