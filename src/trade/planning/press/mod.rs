//! Press: are the shared places of a studio enough for all the prints of a class?
//!
//! A station has one or more units, open in the studio's hours unless a unit is down. Prints want minutes of
//! them. What fits is shown by placing it: a print counts only when every one of its steps has a unit and a
//! time, in order, unsplit steps inside one opening, no unit and no print in two places at once. Finding the
//! greatest number is a job-shop problem (NP-hard: M. R. Garey, D. S. Johnson and R. Sethi, Mathematics of
//! Operations Research 1, 1976), so `fits` may stay below what cleverness could reach, never above; `bound`
//! is what it cannot exceed, and where both agree the answer is exact.

mod board;
mod figures;
mod job;
mod limits;
mod search;

use std::collections::HashSet;
use std::sync::Arc;

use chrono::NaiveDate;

use super::calendar::Span;
use super::graph::{Graph, Where};
use super::hours::{Extra, Hours, Weekly};
use super::passes::State;
use super::{DAY, MOST_DAYS, Millis};
use crate::trade::remark::Remark;

/// Units one station may have.
pub const MOST_UNITS: u32 = 1_000;

/// Prints one reckoning places, and counts up to.
pub const MOST_PRINTS: u32 = 10_000;

/// What is to be placed, where.
#[derive(Debug, Clone)]
pub struct Problem {
    hours: Hours,
    from: Millis,
    to: Millis,
    stations: Vec<Station>,
    work: Work,
}

/// Shared places of one kind.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Station {
    pub name: String,
    /// Units that can be used side by side.
    pub count: u32,
    pub down: Vec<Down>,
}

/// A stretch in which a unit cannot be used; units count from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Down {
    pub unit: u32,
    pub from: Millis,
    pub to: Millis,
}

/// The prints. A step's [`Where::Station`] is an index into the problem's stations.
#[derive(Debug, Clone)]
pub enum Work {
    /// So many prints of one procedure, none of them begun, due when the span ends.
    Alike {
        prints: u32,
        sheets: u32,
        steps: Graph,
    },
    Each(Vec<Print>),
}

/// One print with its own due date and state.
#[derive(Debug, Clone)]
pub struct Print {
    pub name: String,
    /// `None`: when the span ends.
    pub due: Option<Millis>,
    pub sheets: u32,
    pub steps: Arc<Graph>,
    /// As in [`super::Ask`]: a missing one is still to do.
    pub states: Vec<State>,
    /// Whether the question is about this one. What is not counted takes its place like all others, by its due date,
    /// and stands in no count of prints.
    pub counted: bool,
}

impl Work {
    /// The steps of all prints, those of alike ones once.
    pub fn graphs(&self) -> impl Iterator<Item = &Graph> {
        let (alike, each) = match self {
            Self::Alike { steps, .. } => (Some(steps), &[][..]),
            Self::Each(prints) => (None, prints.as_slice()),
        };
        alike.into_iter().chain(each.iter().map(|print| print.steps.as_ref()))
    }
}

/// A change to try: what would it give?
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// One more opening.
    OneMore(Extra),
    /// One more opening every week.
    EachWeek(Weekly),
    /// An edition of so many sheets for every print that is counted.
    Sheets(u32),
    /// A station's unit, or all of its units, never down.
    Repaired { station: usize, unit: Option<u32> },
}

/// What was found. Durations are milliseconds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answer {
    /// One for each station, in order.
    pub stations: Vec<StationFigures>,
    pub weeks: Vec<WeekFigures>,
    /// Prints that can be placed. Alike prints are counted on past those asked for, up to [`MOST_PRINTS`],
    /// unless no step needs a station.
    pub fits: usize,
    /// What `fits` cannot exceed, whoever places; `None` where no station sets a bound.
    pub bound: Option<usize>,
    /// The first print without a place, counted from 0: the next one of alike prints, or the first due.
    pub first_without_place: Option<usize>,
    /// The places found, of prints asked for and of those that are not counted.
    pub places: Vec<Place>,
}

/// One station over the whole span.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct StationFigures {
    /// Open unit time that is not down.
    pub had: Millis,
    /// Hands-on time all prints want of it, counted or not.
    pub wanted: Millis,
    /// What of it those want that are not counted.
    pub of_others: Millis,
    /// What is wanted beyond what there is.
    pub short: Millis,
    /// Time in `places`.
    pub taken: Millis,
}

/// One local week.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeekFigures {
    pub monday: NaiveDate,
    /// For each station: open unit time that is not down, and time in `places`.
    pub stations: Vec<(Millis, Millis)>,
}

/// A step's place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// Counted from 0.
    pub print: usize,
    pub step: usize,
    /// Station (counted from 0) and unit (from 1); `None` for a step that needs none.
    pub unit: Option<(usize, u32)>,
    /// In order; one piece unless the step may be split.
    pub pieces: Vec<Span>,
}

impl Problem {
    /// # Errors
    /// A span that ends before it begins or is longer than [`MOST_DAYS`]; a station twice, without units or
    /// with too many; a unit that is not there, or down until before it is down; no prints, too many, or one
    /// name twice; a step at a station that is not there.
    pub fn new(hours: Hours, span: Span, stations: Vec<Station>, work: Work) -> Result<Self, Remark> {
        if span.finish <= span.start {
            return Err(Remark::new("planning-press-span-backwards"));
        }
        if span.finish - span.start > MOST_DAYS * DAY {
            return Err(Remark::new("planning-press-span-too-long").with("most", MOST_DAYS));
        }
        let mut names = HashSet::new();
        for station in &stations {
            check_station(station)?;
            if !names.insert(station.name.as_str()) {
                return Err(Remark::new("planning-station-twice").with("station", station.name.as_str()));
            }
        }
        check_work(&work, stations.len())?;
        Ok(Self { hours, from: span.start, to: span.finish, stations, work })
    }

    #[must_use]
    pub fn stations(&self) -> &[Station] {
        &self.stations
    }

    #[must_use]
    pub fn hours(&self) -> &Hours {
        &self.hours
    }

    #[must_use]
    pub fn work(&self) -> &Work {
        &self.work
    }

    /// How many prints are asked for, those that are not counted aside.
    #[must_use]
    pub fn asked(&self) -> usize {
        match &self.work {
            Work::Alike { prints, .. } => usize::try_from(*prints).unwrap_or(usize::MAX),
            Work::Each(prints) => prints.iter().filter(|print| print.counted).count(),
        }
    }

    /// The problem with one thing changed.
    #[must_use]
    pub fn changed(&self, change: &Change) -> Self {
        let mut changed = self.clone();
        match change {
            Change::OneMore(extra) => changed.hours = changed.hours.with_extra(*extra),
            Change::EachWeek(opening) => changed.hours = changed.hours.with_weekly(*opening),
            Change::Sheets(wanted) => match &mut changed.work {
                Work::Alike { sheets, .. } => *sheets = *wanted,
                Work::Each(prints) => {
                    let counted = prints.iter_mut().filter(|print| print.counted);
                    counted.for_each(|print| print.sheets = *wanted);
                }
            },
            Change::Repaired { station, unit } => {
                if let Some(station) = changed.stations.get_mut(*station) {
                    station.down.retain(|down| unit.is_some_and(|unit| down.unit != unit));
                }
            }
        }
        changed
    }
}

/// For each local week of the span and each station, the time wanted of it: every step counts whole in the week of its
/// latest start back from its print's due date, or in the first week where that has passed or there is none.
#[must_use]
pub fn wanted_by_week(problem: &Problem) -> Vec<Vec<Millis>> {
    figures::wanted_by_week(problem)
}

/// Places what can be placed and counts what is short.
#[must_use]
pub fn reckon(problem: &Problem) -> Answer {
    let board = board::Board::of(problem);
    let found = search::search(problem, &board);
    let stations = figures::stations(problem, &board, &found.places);
    let weeks = figures::weeks(problem, &board, &found.places);
    let first_without_place = found.first_without_place;
    Answer {
        stations,
        weeks,
        fits: found.fits,
        bound: found.bound,
        first_without_place,
        places: found.places,
    }
}

impl Answer {
    /// Open unit time of all stations.
    #[must_use]
    pub fn had(&self) -> Millis {
        self.stations.iter().map(|station| station.had).sum()
    }

    /// Of the time wanted of all stations, that of prints that are not counted.
    #[must_use]
    pub fn of_others(&self) -> Millis {
        self.stations.iter().map(|station| station.of_others).sum()
    }

    /// Hands-on time wanted of all stations.
    #[must_use]
    pub fn wanted(&self) -> Millis {
        self.stations.iter().map(|station| station.wanted).sum()
    }

    /// What the stations that are short lack; time left over elsewhere does not help them.
    #[must_use]
    pub fn short(&self) -> Millis {
        self.stations.iter().map(|station| station.short).sum()
    }
}

fn check_station(station: &Station) -> Result<(), Remark> {
    let remark = |key| Remark::new(key).with("station", station.name.as_str());
    if station.count == 0 || station.count > MOST_UNITS {
        let remark = remark("planning-station-count").with("count", i64::from(station.count));
        return Err(remark.with("most", i64::from(MOST_UNITS)));
    }
    for down in &station.down {
        if down.unit == 0 || down.unit > station.count {
            let remark = remark("planning-unit-unknown").with("unit", i64::from(down.unit));
            return Err(remark.with("count", i64::from(station.count)));
        }
        if down.to <= down.from {
            return Err(remark("planning-down-backwards").with("unit", i64::from(down.unit)));
        }
    }
    Ok(())
}

fn check_work(work: &Work, stations: usize) -> Result<(), Remark> {
    let asked = match work {
        Work::Alike { prints, .. } => i64::from(*prints),
        Work::Each(prints) => i64::try_from(prints.len()).unwrap_or(i64::MAX),
    };
    if !(1..=i64::from(MOST_PRINTS)).contains(&asked) {
        let remark = Remark::new("planning-prints-count").with("count", asked);
        return Err(remark.with("most", i64::from(MOST_PRINTS)));
    }
    if let Work::Each(prints) = work {
        let mut names = HashSet::new();
        if let Some(print) = prints.iter().find(|print| !names.insert(print.name.as_str())) {
            return Err(Remark::new("planning-print-twice").with("print", print.name.as_str()));
        }
    }
    let lost = |step: &&super::Step| matches!(step.place, Where::Station(number) if number >= stations);
    match work.graphs().flat_map(Graph::steps).find(lost) {
        Some(step) => Err(Remark::new("planning-station-missing").with("step", &*step.key)),
        None => Ok(()),
    }
}
