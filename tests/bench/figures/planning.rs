//! Planning a class's plates: forward and back through eleven steps, within the studio's hours of a term.

use std::collections::BTreeSet;
use std::time::Instant;

use chrono::{NaiveDate, Weekday};
use tympan::trade::planning::hours::{DayTime, Hours, Stretch, Weekly};
use tympan::trade::planning::{Ask, Calendar, Graph, Maximum, Rest, Rests, State, Step, outlook};

use crate::figure::{Bench, Taken};
use crate::load::median;

const MINUTE: i64 = 60_000;
const DAY: i64 = 24 * 60 * MINUTE;
/// Key, minutes of work, minutes to rest before it.
const STEPS: [(&str, u32, u32); 11] = [
    ("grain", 60, 0),
    ("prepare", 30, 30),
    ("draw", 240, 0),
    ("talc", 10, 15),
    ("first-etch", 45, 0),
    ("rest", 10, 720),
    ("wash-out", 30, 60),
    ("roll-up", 60, 0),
    ("second-etch", 45, 15),
    ("proof", 90, 720),
    ("edition", 240, 1440),
];

pub fn take(bench: &Bench) -> Result<Taken, String> {
    let graph = graph()?;
    let (calendar, start) = term()?;
    let mut values = Vec::new();
    for _ in 0..bench.options.pairs {
        values.push(milliseconds(&graph, &calendar, start, 1_000));
    }
    let per_ms: Vec<String> = [1_000, 10_000, 100_000]
        .iter()
        .map(|plates| {
            let rate = f64::from(*plates) / milliseconds(&graph, &calendar, start, *plates);
            format!("{rate:.0} a ms of {plates}")
        })
        .collect();
    let levels = format!("{:.1} ms", median(&values));
    Ok(Taken { values, levels, notes: vec![format!("plates planned: {}", per_ms.join(", "))] })
}

fn graph() -> Result<Graph, String> {
    let mut steps: Vec<Step> = Vec::new();
    for (key, minutes, rest) in STEPS {
        let after = steps.last().map(|step| step.key.clone()).into_iter().collect();
        steps.push(Step {
            key: key.into(),
            minutes,
            after,
            rest: Rest {
                minimum_minutes: rest,
                advised_minutes: Some(rest),
                maximum: if key == "second-etch" { Maximum::SameDay } else { Maximum::None },
            },
            may_split: minutes >= 240,
            ..Step::default()
        });
    }
    Graph::new(steps).map_err(|remark| format!("{remark:?}"))
}

/// Sixteen weeks from 31 August 2026, weekdays nine to nine, Saturdays ten to four.
fn term() -> Result<(Calendar, i64), String> {
    let time = |text| DayTime::parse("time", text).map_err(|remark| format!("{remark:?}"));
    let stretch =
        |from, to| Stretch::new("hours", time(from)?, time(to)?).map_err(|remark| format!("{remark:?}"));
    let mut weekly = Vec::new();
    for day in [Weekday::Mon, Weekday::Tue, Weekday::Wed, Weekday::Thu, Weekday::Fri] {
        weekly.push(Weekly { day, stretch: stretch("09:00", "21:00")? });
    }
    weekly.push(Weekly { day: Weekday::Sat, stretch: stretch("10:00", "16:00")? });
    let hours = Hours::new(chrono_tz::America::New_York, Some(weekly), Vec::new(), BTreeSet::new());
    let first = NaiveDate::from_ymd_opt(2026, 8, 31).and_then(|day| day.and_hms_opt(13, 0, 0));
    let start = first.ok_or("no such day")?.and_utc().timestamp_millis();
    Ok((hours.over(start - DAY, start + 16 * 7 * DAY), start))
}

/// How long so many plates take, each somewhere else on its way and somewhere else in the term.
fn milliseconds(graph: &Graph, calendar: &Calendar, start: i64, plates: i32) -> f64 {
    let began = Instant::now();
    let mut feasible = 0;
    for plate in 0..i64::from(plates) {
        let now = start + plate % 70 * DAY + plate % 11 * 37 * MINUTE;
        let done = plate % 11;
        let states: Vec<State> = (0..11)
            .map(|step| if step < done { State::Done { at: now - (done - step) * DAY } } else { State::ToDo })
            .collect();
        let due = Some(start + (84 + plate % 21) * DAY);
        let ask = Ask { start: now, due, sheets: 10, states: &states, rests: Rests::Advised };
        feasible += u32::from(outlook(graph, calendar, &ask).feasible);
    }
    let took = began.elapsed();
    assert!(feasible > 0, "some plate can be done in time");
    took.as_secs_f64() * 1000.0
}
