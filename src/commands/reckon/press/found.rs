//! What `reckon press` found, written as JSON.

use serde::Serialize;

use super::super::hours;
use super::given::Name;
use crate::speech::Speech;
use crate::trade::planning::Millis;
use crate::trade::planning::press::{self, Answer, Problem, Station, Work};
use crate::trade::remark::Remark;

#[derive(Debug, Serialize)]
pub(super) struct PressOut {
    had_minutes: i64,
    wanted_minutes: i64,
    short_minutes: i64,
    fits_at_most: usize,
    /// What no placing can exceed.
    no_more_than: Option<usize>,
    first_without_place: Option<Name>,
    stations: Vec<StationOut>,
    weeks: Vec<WeekOut>,
    places: Vec<PlaceOut>,
    instead: Vec<InsteadOut>,
    warnings: Vec<String>,
}

#[derive(Debug, Serialize)]
struct StationOut {
    station: String,
    had_minutes: i64,
    wanted_minutes: i64,
    short_minutes: i64,
    taken_minutes: i64,
}

#[derive(Debug, Serialize)]
struct WeekOut {
    monday: String,
    station: String,
    had_minutes: i64,
    /// Of steps whose latest start lies in this week.
    wanted_minutes: i64,
    taken_minutes: i64,
}

#[derive(Debug, Serialize)]
struct PlaceOut {
    print: Name,
    step: String,
    station: Option<String>,
    unit: Option<u32>,
    start: String,
    finish: String,
    /// Start and finish of each piece of a step that was split.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pieces: Vec<[String; 2]>,
}

/// What a change of the same place in the input's `instead` gives.
#[derive(Debug, Serialize)]
pub(super) struct InsteadOut {
    had_minutes: i64,
    wanted_minutes: i64,
    short_minutes: i64,
    fits_at_most: usize,
    first_without_place: Option<Name>,
    /// Prints more than without the change.
    more: i64,
}

impl PressOut {
    pub(super) fn new(
        speech: &Speech,
        problem: &Problem,
        names: &[Name],
        answer: &Answer,
        instead: Vec<InsteadOut>,
    ) -> Self {
        let minutes = hours::whole_minutes;
        let station = |(station, figures): (&Station, &press::StationFigures)| StationOut {
            station: station.name.clone(),
            had_minutes: minutes(figures.had),
            wanted_minutes: minutes(figures.wanted),
            short_minutes: minutes(figures.short),
            taken_minutes: minutes(figures.taken),
        };
        let mut warnings = hours::taken_back(problem.hours());
        if answer.short() == 0 && answer.first_without_place.is_some() {
            warnings.push(Remark::new("planning-pieces-too-short"));
        }
        Self {
            had_minutes: minutes(answer.had()),
            wanted_minutes: minutes(answer.wanted()),
            short_minutes: minutes(answer.short()),
            fits_at_most: answer.fits,
            no_more_than: answer.bound,
            first_without_place: answer.first_without_place.and_then(|print| names.get(print).cloned()),
            stations: problem.stations().iter().zip(&answer.stations).map(station).collect(),
            weeks: weeks(problem, answer),
            places: answer.places.iter().map(|place| PlaceOut::new(problem, names, place)).collect(),
            instead,
            warnings: warnings.iter().map(|remark| speech.remark(remark)).collect(),
        }
    }
}

fn weeks(problem: &Problem, answer: &Answer) -> Vec<WeekOut> {
    let minutes = hours::whole_minutes;
    let wanted = press::wanted_by_week(problem);
    let week = |(week, wanted): (&press::WeekFigures, &Vec<Millis>)| {
        let figures = week.stations.iter().zip(wanted);
        let row = |(station, ((had, taken), wanted)): (&Station, (&(Millis, Millis), &Millis))| WeekOut {
            monday: week.monday.to_string(),
            station: station.name.clone(),
            had_minutes: minutes(*had),
            wanted_minutes: minutes(*wanted),
            taken_minutes: minutes(*taken),
        };
        problem.stations().iter().zip(figures).map(row).collect::<Vec<_>>()
    };
    answer.weeks.iter().zip(&wanted).flat_map(week).collect()
}

impl PlaceOut {
    fn new(problem: &Problem, names: &[Name], place: &press::Place) -> Self {
        let graph = match problem.work() {
            Work::Alike { steps, .. } => Some(steps),
            Work::Each(prints) => prints.get(place.print).map(|print| print.steps.as_ref()),
        };
        let key = graph.and_then(|graph| graph.steps().get(place.step)).map(|step| step.key.to_string());
        let station = place.unit.and_then(|(station, _)| problem.stations().get(station));
        let write = |at| hours::rfc3339(at, problem.hours().zone());
        let pieces = place.pieces.iter().map(|piece| [write(piece.start), write(piece.finish)]);
        Self {
            print: names.get(place.print).cloned().unwrap_or(Name::Text(String::new())),
            step: key.unwrap_or_default(),
            station: station.map(|station| station.name.clone()),
            unit: place.unit.map(|(_, unit)| unit),
            start: place.pieces.first().map(|piece| write(piece.start)).unwrap_or_default(),
            finish: place.pieces.last().map(|piece| write(piece.finish)).unwrap_or_default(),
            pieces: if place.pieces.len() > 1 { pieces.collect() } else { Vec::new() },
        }
    }
}

impl InsteadOut {
    pub(super) fn new(names: &[Name], before: &Answer, after: &Answer) -> Self {
        let count = |answer: &Answer| i64::try_from(answer.fits).unwrap_or(i64::MAX);
        Self {
            had_minutes: hours::whole_minutes(after.had()),
            wanted_minutes: hours::whole_minutes(after.wanted()),
            short_minutes: hours::whole_minutes(after.short()),
            fits_at_most: after.fits,
            first_without_place: after.first_without_place.and_then(|print| names.get(print).cloned()),
            more: count(after) - count(before),
        }
    }
}
