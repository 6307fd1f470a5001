//! What a plan knows of a studio: when it is open, and which stations it has, with the times at which some of their
//! units are out of order.

use std::collections::{BTreeSet, VecDeque};
use std::sync::{Arc, Mutex};

use chrono::{NaiveDate, Weekday};
use chrono_tz::Tz;
use diesel::Queryable;
use diesel::sql_types::{BigInt, Integer, Nullable, Text};

use crate::clock::{DAY_MS, Instant};
use crate::ids::{ClassId, StationId, StudioId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::standing::Standing;
use crate::store::types::Word;
use crate::trade::planning::hours::{DayTime, Extra, Hours, Stretch, Weekly};
use crate::trade::planning::press::{Down, Station};
use crate::trade::planning::{Calendar, Millis, Span};
use crate::trouble::Trouble;

/// How far plans look back, because a latest start may have passed long ago, and ahead.
const BACK_MS: i64 = 190 * DAY_MS;
const AHEAD_MS: i64 = 400 * DAY_MS;

/// Hours and stations. Stations of one kind are counted together, because a step names a kind; each unit keeps its own
/// times out of order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Premises {
    pub hours: Hours,
    /// Called by the word by which steps name them.
    pub stations: Vec<Station>,
}

/// Premises over a time: what plans of plates stand on.
#[derive(Debug, Clone)]
pub struct Ground {
    pub premises: Premises,
    pub calendar: Calendar,
    /// The kinds of stations, in the calendar's order.
    pub kinds: Vec<String>,
}

impl Premises {
    fn of(rows: &[Row], zone: Tz) -> Self {
        Self { hours: hours(rows, zone), stations: stations(rows) }
    }
}

impl Ground {
    fn work_out(premises: Premises, day: i64) -> Self {
        let (from, to) = (day * DAY_MS - BACK_MS, (day + 1) * DAY_MS + AHEAD_MS);
        let mut calendar = premises.hours.over(from, to);
        let open: Vec<Span> = calendar.within(Calendar::FAR_PAST, Calendar::FAR_FUTURE).collect();
        for (number, station) in premises.stations.iter().enumerate().filter(|(_, one)| !one.down.is_empty())
        {
            let usable = (1..=station.count).flat_map(|unit| usable(&open, &station.down, unit)).collect();
            calendar = calendar.with_station(number, usable);
        }
        let kinds = premises.stations.iter().map(|station| station.name.clone()).collect();
        Self { premises, calendar, kinds }
    }
}

/// Grounds worked out lately, by all they follow from; the latest in front.
struct Known {
    rows: Vec<Row>,
    zone: Tz,
    day: i64,
    ground: Arc<Ground>,
}

/// As many as a school has classes in term, and some to spare.
const MOST_KNOWN: usize = 48;
static KNOWN: Mutex<VecDeque<Known>> = Mutex::new(VecDeque::new());

/// The open times in which a unit is not out of order.
fn usable(open: &[Span], down: &[Down], unit: u32) -> Vec<Span> {
    let mut left = open.to_vec();
    for down in down.iter().filter(|down| down.unit == unit) {
        left = left
            .into_iter()
            .flat_map(|span| {
                let before = Span { start: span.start, finish: span.finish.min(down.from) };
                let after = Span { start: span.start.max(down.to), finish: span.finish };
                [before, after]
            })
            .filter(|span| span.start < span.finish)
            .collect();
    }
    left
}

const ASKED: [&str; 6] = [
    "SELECT 'weekly' AS kind, CAST(NULL AS TEXT) AS id, CAST(NULL AS INTEGER) AS position, weekday AS number, \
     CAST(NULL AS TEXT) AS word, CAST(NULL AS INTEGER) AS unit, CAST(from_minute AS BIGINT) AS from_at, \
     CAST(to_minute AS BIGINT) AS to_at, CAST(NULL AS BIGINT) AS ended_at FROM opening WHERE studio_id = ",
    " UNION ALL SELECT 'closed', NULL, NULL, NULL, CAST(day AS TEXT), NULL, NULL, NULL, NULL \
     FROM closure WHERE studio_id = ",
    " UNION ALL SELECT 'extra', NULL, NULL, NULL, CAST(day AS TEXT), NULL, from_minute, to_minute, NULL \
     FROM extra_opening WHERE studio_id = ",
    " UNION ALL SELECT 'station', s.id, s.position, s.units, s.kind, d.unit, d.from_at, d.to_at, d.ended_at \
     FROM station s LEFT JOIN station_down d ON d.station_id = s.id AND d.unit <= s.units WHERE s.studio_id = ",
    " UNION ALL SELECT 'there', NULL, NULL, m.weekday, NULL, NULL, m.from_minute, m.to_minute, NULL FROM meeting m \
     WHERE (m.kind = 'meeting' OR EXISTS (SELECT 1 FROM enrolment e WHERE e.class_id = m.class_id \
     AND e.person_id = m.person_id AND e.role = 'instructor' AND e.state IN ('enrolled', 'incomplete'))) \
     AND m.class_id = ",
    " ORDER BY 3, 2, 7",
];

/// The hours and stations of a studio, and when the instructor of one of its classes is there: at the class's meetings
/// and where an instructor's presence is entered. All in one statement: every page with a plan asks for them.
///
/// # Errors
/// The database cannot be read.
pub fn premises(
    db: &mut AnyConnection,
    studio: StudioId,
    class: ClassId,
    zone: Tz,
) -> Result<Premises, Trouble> {
    Ok(Premises::of(&asked(db, studio, class)?, zone))
}

/// The premises, with what plans of `now` stand on. They are read anew each time; where nothing has changed since, on the
/// same day, what follows from them is the same and is not worked out again: that takes longer than reading.
///
/// # Errors
/// The database cannot be read.
pub fn ground(
    db: &mut AnyConnection,
    studio: StudioId,
    class: ClassId,
    zone: Tz,
    now: Instant,
) -> Result<Arc<Ground>, Trouble> {
    let rows = asked(db, studio, class)?;
    let day = now.millis().div_euclid(DAY_MS);
    let work_out = |rows: &[Row]| Arc::new(Ground::work_out(Premises::of(rows, zone), day));
    let Ok(mut known) = KNOWN.lock() else { return Ok(work_out(&rows)) };
    let same = |one: &Known| one.day == day && one.zone == zone && one.rows == rows;
    let found = known.iter().position(same).and_then(|place| known.remove(place));
    let one = found.unwrap_or_else(|| Known { ground: work_out(&rows), rows, zone, day });
    let ground = one.ground.clone();
    known.push_front(one);
    known.truncate(MOST_KNOWN);
    Ok(ground)
}

fn asked(db: &mut AnyConnection, studio: StudioId, class: ClassId) -> Result<Vec<Row>, Trouble> {
    let id = studio.as_str();
    Ok(Standing::<Columns, _>::in_order(|| &ASKED, &[id, id, id, id, class.as_str()]).load(db)?)
}

spelled!(
    /// What a row tells.
    Kind { Weekly = "weekly", Closed = "closed", Extra = "extra", Station = "station", There = "there" }
);

/// An opening or a time at which the instructor is there (`number` is its weekday, the times are minutes of the day), a
/// closed or extra day (`word`), or a station (`number` units of the kind `word`) with one stretch out of order.
#[derive(PartialEq, Eq, Queryable)]
struct Row {
    kind: Word<Kind>,
    id: Option<StationId>,
    /// What they are in order of.
    _position: Option<i32>,
    number: Option<i32>,
    word: Option<String>,
    unit: Option<i32>,
    from_at: Option<i64>,
    to_at: Option<i64>,
    ended_at: Option<i64>,
}

/// The columns of a row, in order.
type Columns = (
    Text,
    Nullable<Text>,
    Nullable<Integer>,
    Nullable<Integer>,
    Nullable<Text>,
    Nullable<Integer>,
    Nullable<BigInt>,
    Nullable<BigInt>,
    Nullable<BigInt>,
);

fn hours(rows: &[Row], zone: Tz) -> Hours {
    let mut weekly = Vec::new();
    let mut extra = Vec::new();
    let mut closed = BTreeSet::new();
    let mut there = Vec::new();
    for row in rows {
        let minute = |at: Option<i64>| at.and_then(|at| i32::try_from(at).ok());
        let stretch = minute(row.from_at).zip(minute(row.to_at)).and_then(|(from, to)| stretch(from, to));
        let date = row.word.as_deref().and_then(|day| NaiveDate::parse_from_str(day, "%Y-%m-%d").ok());
        let weekday = row.number.and_then(|day| Weekday::try_from(u8::try_from(day - 1).ok()?).ok());
        match (row.kind.0, stretch, date, weekday) {
            (Kind::Weekly, Some(stretch), _, Some(day)) => weekly.push(Weekly { day, stretch }),
            (Kind::There, Some(stretch), _, Some(day)) => there.push(Weekly { day, stretch }),
            (Kind::Extra, Some(stretch), Some(date), _) => extra.push(Extra { date, stretch }),
            (Kind::Closed, _, Some(date), _) => {
                closed.insert(date);
            }
            _ => {}
        }
    }
    // A studio without hours written down is planned as always open rather than never.
    let weekly = (!weekly.is_empty() || !extra.is_empty()).then_some(weekly);
    Hours::new(zone, weekly, extra, closed).with_instructor(there)
}

/// A stretch of a day from minutes as the store keeps them.
#[must_use]
pub fn stretch(from: i32, to: i32) -> Option<Stretch> {
    let time = |minute: i32| DayTime::parse("time", &format!("{:02}:{:02}", minute / 60, minute % 60)).ok();
    Stretch::new("time", time(from)?, time(to)?).ok()
}

fn stations(rows: &[Row]) -> Vec<Station> {
    let rows: Vec<&Row> = rows.iter().filter(|row| row.kind.0 == Kind::Station).collect();
    let mut found: Vec<Station> = Vec::new();
    for rows in rows.chunk_by(|one, other| one.id == other.id) {
        let Some(first) = rows.first() else { continue };
        let kind = first.word.clone().unwrap_or_default();
        let units = first.number.and_then(|units| u32::try_from(units).ok()).unwrap_or(0);
        let number = match found.iter().position(|station| station.name == kind) {
            Some(number) => number,
            None => {
                found.push(Station { name: kind, count: 0, down: Vec::new() });
                found.len() - 1
            }
        };
        let Some(station) = found.get_mut(number) else { continue };
        let before = station.count;
        station.down.extend(rows.iter().filter_map(|row| down(row, before)));
        station.count += units;
    }
    found.retain(|station| station.count > 0);
    found
}

/// A stretch out of order, its unit counted on from those of the same kind before it.
fn down(row: &Row, before: u32) -> Option<Down> {
    let unit = u32::try_from(row.unit?).ok()? + before;
    let until: Option<Millis> = [row.to_at, row.ended_at].into_iter().flatten().min();
    let (from, to) = (row.from_at?, until.unwrap_or(Calendar::FAR_FUTURE));
    (from < to).then_some(Down { unit, from, to })
}
