//! From a plate's folder to its plan: the steps still to do within the studio's hours, back from the due date; and
//! whether the plate is late or stuck.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, Datelike, NaiveDate, Utc, Weekday};
use chrono_tz::Tz;
use diesel::prelude::*;
use diesel::sql_types::{Integer, Nullable, Text};

use crate::clock::{DAY_MS, Instant};
use crate::ids::StudioId;
use crate::store::connections::AnyConnection;
use crate::store::plates::folder::Folder;
use crate::store::standing::Standing;
use crate::trade::planning::hours::{DayTime, Extra, Hours, Stretch, Weekly};
use crate::trade::planning::{
    Ask, Calendar, Graph, Maximum, PlatePlan, Rest, Rests, State, Step, Where, outlook,
};
use crate::trade::procedure::{Flag, Outlook, Place, RemainingStep, Watch};
use crate::trouble::Trouble;

#[derive(QueryableByName)]
struct HourRow {
    #[diesel(sql_type = Text)]
    kind: String,
    #[diesel(sql_type = Nullable<Integer>)]
    weekday: Option<i32>,
    #[diesel(sql_type = Nullable<Text>)]
    day: Option<String>,
    #[diesel(sql_type = Nullable<Integer>)]
    from_minute: Option<i32>,
    #[diesel(sql_type = Nullable<Integer>)]
    to_minute: Option<i32>,
}

const HOURS: [&str; 4] = [
    "SELECT 'weekly' AS kind, weekday, NULL AS day, from_minute, to_minute FROM opening WHERE studio_id = ",
    " UNION ALL SELECT 'closed', NULL, CAST(day AS TEXT), NULL, NULL FROM closure WHERE studio_id = ",
    " UNION ALL SELECT 'extra', NULL, CAST(day AS TEXT), from_minute, to_minute FROM extra_opening \
     WHERE studio_id = ",
    "",
];

/// The hours of a studio. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn hours(db: &mut AnyConnection, studio: StudioId, zone: Tz) -> Result<Hours, Trouble> {
    let id = studio.as_str();
    let rows: Vec<HourRow> = Standing::asking(&HOURS, &[id, id, id]).load(db)?;
    let mut weekly = Vec::new();
    let mut extra = Vec::new();
    let mut closed = BTreeSet::new();
    for row in rows {
        let stretch = row.from_minute.zip(row.to_minute).and_then(|(from, to)| stretch(from, to));
        let date = row.day.as_deref().and_then(|day| NaiveDate::parse_from_str(day, "%Y-%m-%d").ok());
        let weekday = row.weekday.and_then(|day| Weekday::try_from(u8::try_from(day - 1).ok()?).ok());
        match (row.kind.as_str(), stretch, date, weekday) {
            ("weekly", Some(stretch), _, Some(day)) => weekly.push(Weekly { day, stretch }),
            ("extra", Some(stretch), Some(date), _) => extra.push(Extra { date, stretch }),
            ("closed", _, Some(date), _) => {
                closed.insert(date);
            }
            _ => {}
        }
    }
    // A studio without hours written down is planned as always open rather than never.
    let weekly = (!weekly.is_empty() || !extra.is_empty()).then_some(weekly);
    Ok(Hours::new(zone, weekly, extra, closed))
}

fn stretch(from: i32, to: i32) -> Option<Stretch> {
    let time = |minute: i32| DayTime::parse("time", &format!("{:02}:{:02}", minute / 60, minute % 60)).ok();
    Stretch::new("time", time(from)?, time(to)?).ok()
}

/// The calendar that plans of now need: from today to half a year after it.
#[must_use]
pub fn calendar(hours: &Hours, now: Instant) -> Calendar {
    hours.over(now.millis() - DAY_MS, now.millis() + 190 * DAY_MS)
}

/// What is known about a plate at a moment.
#[derive(Debug, Clone)]
pub struct Look {
    pub outlook: Outlook,
    pub flags: Vec<Flag>,
    /// The plan of the steps still to do, by key.
    pub plan: Option<PlatePlan>,
    pub remaining: Vec<RemainingStep>,
    /// Latest starts by step key.
    pub start_by: BTreeMap<String, DateTime<Utc>>,
}

impl Look {
    /// The latest start of the next step.
    #[must_use]
    pub fn next_start_by(&self) -> Option<DateTime<Utc>> {
        self.outlook.next.as_ref().and_then(|key| self.start_by.get(key)).copied()
    }
}

/// Judges a plate and plans the rest of its way.
#[must_use]
pub fn look(folder: &Folder, calendar: &Calendar, now: Instant) -> Look {
    let case = folder.case();
    let outlook_now = case.outlook(now.utc());
    let handed_in = folder.row.print.handed_in_at.is_some();
    let remaining = case.remaining(now.utc(), folder.sheets());
    let due = folder.due().filter(|_| !handed_in);
    let plan = plan(&remaining, calendar, now, due);
    let mut start_by = BTreeMap::new();
    if let Some(plan) = &plan {
        for (step, planned) in remaining.iter().zip(&plan.steps) {
            if let Some(at) = planned.start_by.and_then(DateTime::from_timestamp_millis) {
                start_by.insert(step.key.clone(), at);
            }
        }
    }
    let watch = Watch {
        begun: folder.row.created_at.utc(),
        latest_starts: &start_by,
        refusals: &folder.refusals,
        replaced: folder.replaced,
        lost: false,
    };
    let flags = if handed_in { Vec::new() } else { case.late_or_stuck(now.utc(), &watch) };
    Look { outlook: outlook_now, flags, plan, remaining, start_by }
}

fn plan(
    remaining: &[RemainingStep],
    calendar: &Calendar,
    now: Instant,
    due: Option<DateTime<Utc>>,
) -> Option<PlatePlan> {
    if remaining.is_empty() {
        return None;
    }
    let mut steps: Vec<Step> = remaining.iter().map(planned).collect();
    let mut states: Vec<State> = remaining.iter().map(|step| state(step, now)).collect();
    // A rest that already runs ends at a known moment: it stands in the graph as something done by then.
    for step in remaining {
        if let Some(at) = step.not_before {
            steps.push(Step { key: rest_key(&step.key), ..Step::default() });
            states.push(State::Done { at: at.timestamp_millis() });
        }
    }
    let graph = Graph::new(steps).ok()?;
    let ask = Ask {
        start: now.millis(),
        due: due.map(|due| due.timestamp_millis()),
        sheets: 0,
        states: &states,
        rests: Rests::Advised,
    };
    Some(outlook(&graph, calendar, &ask))
}

fn rest_key(key: &str) -> String {
    format!("{key} rest")
}

fn planned(step: &RemainingStep) -> Step {
    let minutes = |minutes: i64| u32::try_from(minutes.max(0)).unwrap_or(0);
    let mut after = step.after.clone();
    let rest = if step.not_before.is_some() {
        after.push(rest_key(&step.key));
        Rest::default()
    } else {
        Rest {
            minimum_minutes: minutes(step.minimum_wait_minutes),
            advised_minutes: Some(minutes(step.wait_minutes)),
            maximum: match (step.same_day, step.maximum_wait_minutes) {
                (true, _) => Maximum::SameDay,
                (false, Some(most)) => Maximum::Minutes(minutes(most.max(step.wait_minutes))),
                (false, None) => Maximum::None,
            },
        }
    };
    Step {
        key: step.key.clone(),
        minutes: minutes(step.minutes),
        minutes_per_sheet: 0,
        after,
        rest,
        may_split: step.may_split,
        place: if step.place == Place::Anywhere { Where::Anywhere } else { Where::Studio },
    }
}

fn state(step: &RemainingStep, now: Instant) -> State {
    match step.under_way_since {
        None => State::ToDo,
        Some(since) => {
            let gone = (now.utc() - since).num_minutes();
            State::Begun { left_minutes: u32::try_from((step.minutes - gone).max(0)).unwrap_or(0) }
        }
    }
}

/// The days of a week as the store numbers them, Monday first.
#[must_use]
pub fn weekday_number(date: NaiveDate) -> i32 {
    i32::try_from(date.weekday().number_from_monday()).unwrap_or(1)
}
