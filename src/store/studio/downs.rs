//! Stations out of order: which unit, from when until when, why, and who said so. Every plan counts without it; ending
//! it is an act of its own, and what was told before stays written down.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{StationDownId, StationId, StudioId};
use crate::store::connections::AnyConnection;
use crate::store::schema::{person, station, station_down};
use crate::store::studio::{not_full, stations};
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// A unit that cannot be used for a while. Units of a station count from 1.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize)]
pub struct Down {
    pub id: StationDownId,
    pub station: StationId,
    pub station_name: String,
    pub unit: i32,
    pub from_at: Instant,
    /// Until when, as it was told; `None` until somebody says that it runs again.
    pub to_at: Option<Instant>,
    pub reason: String,
    pub ended_at: Option<Instant>,
    pub given_name: String,
    pub family_name: String,
}

impl Down {
    /// Until when it holds: the end that was told, or the moment at which somebody ended it.
    #[must_use]
    pub fn until(&self) -> Option<Instant> {
        [self.to_at, self.ended_at].into_iter().flatten().min()
    }
}

/// What people type about it.
#[derive(Debug, Clone, serde::Serialize)]
pub struct DownDraft {
    pub unit: i32,
    pub from: Instant,
    pub to: Option<Instant>,
    pub reason: String,
}

/// What is out of order in a studio now or later, the sooner first. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn downs(db: &mut AnyConnection, studio: StudioId, now: Instant) -> Result<Vec<Down>, Trouble> {
    Ok(station_down::table
        .inner_join(station::table)
        .inner_join(person::table.on(person::id.eq(station_down::by_id)))
        .filter(station::studio_id.eq(studio).and(station_down::ended_at.is_null()))
        .filter(station_down::to_at.is_null().or(station_down::to_at.gt(now)))
        .order((station_down::from_at, station_down::id))
        .select((
            station_down::id,
            station::id,
            station::name,
            station_down::unit,
            station_down::from_at,
            station_down::to_at,
            station_down::reason,
            station_down::ended_at,
            person::given_name,
            person::family_name,
        ))
        .load(db)?)
}

impl Tx<'_> {
    /// Says that a unit of a station is out of order.
    ///
    /// # Errors
    /// `NotFound`; a unit that is not there or told already for all of that time, an end that does not come after the beginning or has passed; or the
    /// database refuses.
    pub fn set_down(
        &mut self,
        studio: StudioId,
        station: StationId,
        draft: &DownDraft,
    ) -> Result<StationDownId, Trouble> {
        let found = stations::station(self.connection, studio, station)?;
        if !(1..=found.units).contains(&draft.unit) {
            let remark = Remark::new("studio-down-no-unit").with("units", i64::from(found.units));
            return Err(Trouble::about("unit", remark));
        }
        if draft.to.is_some_and(|to| to <= draft.from) {
            return Err(Trouble::about("to", Remark::new("studio-down-backwards")));
        }
        if draft.to.is_some_and(|to| to <= self.now) {
            return Err(Trouble::about("to", Remark::new("studio-down-over")));
        }
        let known: Vec<(Instant, Option<Instant>)> = station_down::table
            .filter(station_down::station_id.eq(station).and(station_down::unit.eq(draft.unit)))
            .filter(station_down::ended_at.is_null())
            .select((station_down::from_at, station_down::to_at))
            .load(self.connection)?;
        let around = |(from, to): &(Instant, Option<Instant>)| {
            let until = |to: Option<Instant>| to.map_or(i64::MAX, Instant::millis);
            *from <= draft.from && until(draft.to) <= until(*to)
        };
        if known.iter().any(around) {
            return Err(Trouble::about("unit", Remark::new("studio-down-already")));
        }
        let rows = station_down::table.filter(station_down::station_id.eq(station)).count();
        not_full(rows.get_result(self.connection)?)?;
        let (id, by): (StationDownId, _) = (self.id(), self.person()?);
        diesel::insert_into(station_down::table)
            .values((
                station_down::id.eq(id),
                station_down::station_id.eq(station),
                station_down::unit.eq(draft.unit),
                station_down::from_at.eq(draft.from),
                station_down::to_at.eq(draft.to),
                station_down::reason.eq(&draft.reason),
                station_down::by_id.eq(by),
                station_down::at.eq(self.now),
            ))
            .execute(self.connection)?;
        self.journal("station.down", id, &json!({ "station": found, "down": draft }))?;
        Ok(id)
    }

    /// Says that it runs again, or will not be down after all: from now on plans count with it.
    ///
    /// # Errors
    /// `NotFound` where it is not of this studio or was ended before, or the database refuses.
    pub fn end_down(&mut self, studio: StudioId, id: StationDownId) -> Result<(), Trouble> {
        let known: StationId = station_down::table
            .inner_join(station::table)
            .filter(station_down::id.eq(id).and(station::studio_id.eq(studio)))
            .filter(station_down::ended_at.is_null())
            .select(station::id)
            .first(self.connection)?;
        let by = self.person()?;
        diesel::update(station_down::table.find(id))
            .set((station_down::ended_at.eq(self.now), station_down::ended_by.eq(by)))
            .execute(self.connection)?;
        self.journal("station.runs_again", id, &json!({ "station": known }))
    }
}
