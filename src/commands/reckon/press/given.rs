//! What `reckon press` is given, read into a problem.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::super::hours::{self, ExtraIn, OpeningIn};
use crate::trade::civil;
use crate::trade::planning::press::{self, Change, Down, Print, Problem, Station, Work};
use crate::trade::planning::{Graph, Maximum, Millis, Rest, Span, Step, Where};
use crate::trade::remark::Remark;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PressIn {
    zone: String,
    from: String,
    to: String,
    #[serde(default)]
    open: Option<Vec<OpeningIn>>,
    #[serde(default)]
    extra: Vec<ExtraIn>,
    #[serde(default)]
    closed: Vec<String>,
    stations: Vec<StationIn>,
    prints: Option<i64>,
    sheets: Option<i64>,
    steps: Option<Vec<StepIn>>,
    work: Option<Vec<PrintIn>>,
    /// Changes to try, each by itself.
    #[serde(default)]
    instead: Vec<ChangeIn>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StationIn {
    name: String,
    count: i64,
    #[serde(default)]
    down: Vec<DownIn>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct DownIn {
    unit: i64,
    from: String,
    to: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct PrintIn {
    print: Name,
    due: Option<String>,
    #[serde(default)]
    sheets: i64,
    steps: Vec<StepIn>,
    #[serde(default = "counted")]
    counted: bool,
}

const fn counted() -> bool {
    true
}

/// A print's name: text, or a number that is given back as a number.
#[derive(Debug, Clone, Deserialize, Serialize)]
#[serde(untagged)]
pub(super) enum Name {
    Number(i64),
    Text(String),
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StepIn {
    key: String,
    minutes: i64,
    #[serde(default)]
    minutes_per_sheet: i64,
    station: Option<String>,
    #[serde(default)]
    after: Vec<String>,
    #[serde(default)]
    min_wait_minutes: i64,
    #[serde(default)]
    max_wait_minutes: Option<i64>,
    #[serde(default)]
    same_day: bool,
    #[serde(default)]
    may_split: bool,
    #[serde(default)]
    anywhere: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "snake_case")]
pub(super) enum ChangeIn {
    Extra(ExtraIn),
    Weekly(OpeningIn),
    Sheets(i64),
    Repaired(RepairedIn),
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RepairedIn {
    station: String,
    unit: Option<i64>,
}

pub(super) fn problem(input: &PressIn) -> Result<Problem, Remark> {
    let zone = civil::zone("zone", &input.zone)?;
    let local = |field: &str, text: &str| -> Result<Millis, Remark> {
        Ok(civil::instant(civil::local(field, text)?, zone).timestamp_millis())
    };
    let span = Span { start: local("from", &input.from)?, finish: local("to", &input.to)? };
    let hours = hours::hours(zone, input.open.as_deref(), &input.extra, &input.closed)?;
    let mut stations = Vec::with_capacity(input.stations.len());
    for (number, station) in input.stations.iter().enumerate() {
        let mut down = Vec::with_capacity(station.down.len());
        for (place, stretch) in station.down.iter().enumerate() {
            let field = format!("stations[{number}].down[{place}]");
            let unit = unit(&format!("{field}.unit"), stretch.unit)?;
            let from = local(&format!("{field}.from"), &stretch.from)?;
            down.push(Down { unit, from, to: local(&format!("{field}.to"), &stretch.to)? });
        }
        // A count beyond all bounds is refused by the trade, with the bound.
        let count = count(&format!("stations[{number}].count"), station.count)?;
        stations.push(Station { name: station.name.clone(), count, down });
    }
    let due = |number: usize, print: &PrintIn| {
        print.due.as_ref().map(|due| local(&format!("work[{number}].due"), due)).transpose()
    };
    let work = match (input.prints, &input.steps, &input.work) {
        (Some(prints), Some(steps), None) => Work::Alike {
            prints: count("prints", prints)?,
            sheets: count("sheets", input.sheets.unwrap_or(0))?,
            steps: graph("steps", steps, &stations)?,
        },
        (None, None, Some(_)) if input.sheets.is_some() => {
            return Err(Remark::new("planning-press-sheets-with-work"));
        }
        (None, None, Some(work)) => Work::Each(each(work, &stations, due)?),
        _ => return Err(Remark::new("planning-press-work-unclear")),
    };
    let problem = Problem::new(hours, span, stations, work)?;
    let steps = problem.work().graphs().flat_map(Graph::steps);
    hours::check(problem.hours(), steps, (span.start, span.finish), (&input.from, &input.to))?;
    Ok(problem)
}

fn each(
    work: &[PrintIn],
    stations: &[Station],
    due: impl Fn(usize, &PrintIn) -> Result<Option<Millis>, Remark>,
) -> Result<Vec<Print>, Remark> {
    let print = |(number, print): (usize, &PrintIn)| {
        Ok(Print {
            name: print.print.text(),
            due: due(number, print)?,
            sheets: count(&format!("work[{number}].sheets"), print.sheets)?,
            counted: print.counted,
            steps: Arc::new(graph(&format!("work[{number}].steps"), &print.steps, stations)?),
            states: Vec::new(),
        })
    };
    work.iter().enumerate().map(print).collect()
}

fn graph(field: &str, steps: &[StepIn], stations: &[Station]) -> Result<Graph, Remark> {
    let read = |(number, step)| step_in(&format!("{field}[{number}]"), step, stations);
    Graph::new(steps.iter().enumerate().map(read).collect::<Result<_, _>>()?)
}

fn step_in(field: &str, step: &StepIn, stations: &[Station]) -> Result<Step, Remark> {
    let minutes = |name, value| hours::minutes(&step.key, name, value);
    let place = match (&step.station, step.anywhere) {
        (Some(_), true) => {
            return Err(Remark::new("planning-step-in-two-places").with("step", step.key.as_str()));
        }
        (Some(name), false) => Where::Station(station(&format!("{field}.station"), name, stations)?),
        (None, true) => Where::Anywhere,
        (None, false) => Where::Studio,
    };
    let minimum_minutes = minutes("min_wait_minutes", step.min_wait_minutes)?;
    let maximum = match (step.max_wait_minutes, step.same_day) {
        (Some(_), true) => {
            return Err(Remark::new("planning-two-longest-rests").with("step", step.key.as_str()));
        }
        (Some(most), false) => Maximum::Minutes(minutes("max_wait_minutes", most)?),
        (None, true) => Maximum::SameDay,
        (None, false) => Maximum::None,
    };
    Ok(Step {
        key: step.key.as_str().into(),
        minutes: minutes("minutes", step.minutes)?,
        minutes_per_sheet: minutes("minutes_per_sheet", step.minutes_per_sheet)?,
        after: step.after.iter().map(|key| key.as_str().into()).collect(),
        rest: Rest { minimum_minutes, maximum, ..Rest::default() },
        may_split: step.may_split,
        place,
    })
}

pub(super) fn change_in(number: usize, change: &ChangeIn, problem: &Problem) -> Result<Change, Remark> {
    let field = format!("instead[{number}]");
    match change {
        ChangeIn::Extra(extra) => {
            Ok(Change::OneMore(hours::extra_opening(&format!("{field}.extra"), extra)?))
        }
        ChangeIn::Weekly(opening) => {
            Ok(Change::EachWeek(hours::weekly_opening(&format!("{field}.weekly"), opening)?))
        }
        ChangeIn::Sheets(sheets) => Ok(Change::Sheets(count(&format!("{field}.sheets"), *sheets)?)),
        ChangeIn::Repaired(repaired) => {
            let field = format!("{field}.repaired");
            let station = station(&format!("{field}.station"), &repaired.station, problem.stations())?;
            let unit = repaired.unit.map(|value| unit(&format!("{field}.unit"), value)).transpose()?;
            Ok(Change::Repaired { station, unit })
        }
    }
}

fn station(field: &str, name: &str, stations: &[Station]) -> Result<usize, Remark> {
    stations.iter().position(|station| station.name == name).ok_or_else(|| {
        let known = stations.iter().map(|station| station.name.as_str()).collect::<Vec<_>>().join(", ");
        let remark = Remark::new("planning-station-unknown").with("field", field).with("value", name);
        remark.with("known", known)
    })
}

fn unit(field: &str, value: i64) -> Result<u32, Remark> {
    u32::try_from(value)
        .ok()
        .filter(|unit| *unit > 0)
        .ok_or_else(|| Remark::new("planning-unit-outside").with("field", field).with("value", value))
}

fn count(field: &str, value: i64) -> Result<u32, Remark> {
    let most = i64::from(press::MOST_PRINTS);
    u32::try_from(value).ok().filter(|_| value <= most).ok_or_else(|| {
        Remark::new("planning-count-outside").with("field", field).with("value", value).with("most", most)
    })
}

impl PressIn {
    /// Changes to try.
    pub(super) fn instead(&self) -> &[ChangeIn] {
        &self.instead
    }
}

/// The names of the prints: those given, or numbers from 1.
pub(super) fn names(input: &PressIn, asked: usize) -> Vec<Name> {
    match &input.work {
        Some(work) => work.iter().map(|print| print.print.clone()).collect(),
        None => (1..).take(asked).map(Name::Number).collect(),
    }
}

impl Name {
    fn text(&self) -> String {
        match self {
            Self::Number(number) => number.to_string(),
            Self::Text(text) => text.clone(),
        }
    }
}
