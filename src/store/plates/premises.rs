//! What a plan knows of a studio: when it is open, and which stations it has, with the times at which some of their
//! units are out of order.

use std::collections::BTreeSet;

use chrono::{NaiveDate, Weekday};
use chrono_tz::Tz;
use diesel::{QueryableByName, RunQueryDsl};
use diesel::sql_types::{BigInt, Integer, Nullable, Text};

use crate::clock::{DAY_MS, Instant};
use crate::ids::StudioId;
use crate::store::connections::AnyConnection;
use crate::trade::planning::hours::{DayTime, Extra, Hours, Stretch, Weekly};
use crate::trade::planning::press::{Down, Station};
use crate::trade::planning::{Calendar, Millis, Span};
use crate::trouble::Trouble;

/// How far plans look back and ahead: a latest start may have passed long ago.
const REACH_MS: i64 = 190 * DAY_MS;

/// Hours and stations. Stations of one kind are counted together, because a step names a kind; each unit keeps its own
/// times out of order.
#[derive(Debug, Clone)]
pub struct Premises {
    pub hours: Hours,
    /// Called by the word by which steps name them.
    pub stations: Vec<Station>,
}

/// Premises over a time, as plans of plates use them.
#[derive(Debug, Clone)]
pub struct Ground {
    pub calendar: Calendar,
    /// The kinds of stations, in the calendar's order.
    pub kinds: Vec<String>,
}

impl Ground {
    /// The kinds as the trade takes them.
    #[must_use]
    pub fn kinds(&self) -> Vec<&str> {
        self.kinds.iter().map(String::as_str).collect()
    }
}

impl Premises {
    /// The ground that plans of `now` stand on.
    #[must_use]
    pub fn ground(&self, now: Instant) -> Ground {
        let (from, to) = (now.millis() - REACH_MS, now.millis() + REACH_MS);
        let mut calendar = self.hours.over(from, to);
        let open: Vec<Span> = calendar.within(Calendar::FAR_PAST, Calendar::FAR_FUTURE).collect();
        for (number, station) in self.stations.iter().enumerate().filter(|(_, one)| !one.down.is_empty()) {
            let usable = (1..=station.count).flat_map(|unit| usable(&open, &station.down, unit)).collect();
            calendar = calendar.with_station(number, usable);
        }
        Ground { calendar, kinds: self.stations.iter().map(|station| station.name.clone()).collect() }
    }
}

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

/// The hours and stations of a studio. Two statements.
///
/// # Errors
/// The database cannot be read.
pub fn premises(db: &mut AnyConnection, studio: StudioId, zone: Tz) -> Result<Premises, Trouble> {
    Ok(Premises { hours: hours(db, studio, zone)?, stations: stations(db, studio)? })
}

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

fn hours(db: &mut AnyConnection, studio: StudioId, zone: Tz) -> Result<Hours, Trouble> {
    let rows: Vec<HourRow> = diesel::sql_query(
        "SELECT 'weekly' AS kind, weekday, NULL AS day, from_minute, to_minute FROM opening WHERE studio_id = $1 \
         UNION ALL SELECT 'closed', NULL, CAST(day AS TEXT), NULL, NULL FROM closure WHERE studio_id = $2 \
         UNION ALL SELECT 'extra', NULL, CAST(day AS TEXT), from_minute, to_minute FROM extra_opening \
         WHERE studio_id = $3",
    )
    .bind::<Text, _>(studio)
    .bind::<Text, _>(studio)
    .bind::<Text, _>(studio)
    .load(db)?;
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

/// A stretch of a day from minutes as the store keeps them.
#[must_use]
pub fn stretch(from: i32, to: i32) -> Option<Stretch> {
    let time = |minute: i32| DayTime::parse("time", &format!("{:02}:{:02}", minute / 60, minute % 60)).ok();
    Stretch::new("time", time(from)?, time(to)?).ok()
}

#[derive(QueryableByName)]
struct StationRow {
    #[diesel(sql_type = Text)]
    id: String,
    #[diesel(sql_type = Text)]
    kind: String,
    #[diesel(sql_type = Integer)]
    units: i32,
    #[diesel(sql_type = Nullable<Integer>)]
    unit: Option<i32>,
    #[diesel(sql_type = Nullable<BigInt>)]
    from_at: Option<i64>,
    #[diesel(sql_type = Nullable<BigInt>)]
    to_at: Option<i64>,
    #[diesel(sql_type = Nullable<BigInt>)]
    ended_at: Option<i64>,
}

fn stations(db: &mut AnyConnection, studio: StudioId) -> Result<Vec<Station>, Trouble> {
    let rows: Vec<StationRow> = diesel::sql_query(
        "SELECT s.id, s.kind, s.units, d.unit, d.from_at, d.to_at, d.ended_at FROM station s \
         LEFT JOIN station_down d ON d.station_id = s.id AND d.unit <= s.units \
         WHERE s.studio_id = $1 ORDER BY s.position, s.id, d.from_at",
    )
    .bind::<Text, _>(studio)
    .load(db)?;
    let mut found: Vec<Station> = Vec::new();
    for rows in rows.chunk_by(|one, other| one.id == other.id) {
        let Some(first) = rows.first() else { continue };
        let units = u32::try_from(first.units).unwrap_or(0);
        let number = match found.iter().position(|station| station.name == first.kind) {
            Some(number) => number,
            None => {
                found.push(Station { name: first.kind.clone(), count: 0, down: Vec::new() });
                found.len() - 1
            }
        };
        let Some(station) = found.get_mut(number) else { continue };
        let before = station.count;
        station.down.extend(rows.iter().filter_map(|row| down(row, before)));
        station.count += units;
    }
    found.retain(|station| station.count > 0);
    Ok(found)
}

/// A stretch out of order, its unit counted on from those of the same kind before it.
fn down(row: &StationRow, before: u32) -> Option<Down> {
    let unit = u32::try_from(row.unit?).ok()? + before;
    let until: Option<Millis> = [row.to_at, row.ended_at].into_iter().flatten().min();
    let (from, to) = (row.from_at?, until.unwrap_or(Calendar::FAR_FUTURE));
    (from < to).then_some(Down { unit, from, to })
}
