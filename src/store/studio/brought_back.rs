//! What somebody took away from the studio by mistake comes back as it was, under the id it had, so that calendars know
//! it again. The journal's row of taking it away tells what it was; that row stays, and another one is written.

use diesel::prelude::*;
use serde::{Deserialize, Serialize};
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClosureId, ExtraOpeningId, OpeningId, PersonId, StationDownId, StationId, StudioId};
use crate::store::journal::{nothing_to_bring_back, taken_away};
use crate::store::schema::{extra_opening, opening, station, station_down};
use crate::store::studio::hours::{Closure, ExtraOpening, Opening};
use crate::store::studio::not_full;
use crate::store::studio::stations::Station;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// A row that was taken away, and from which studio.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct Gone<T> {
    pub studio: StudioId,
    #[serde(flatten)]
    pub row: T,
}

/// A station with its place among the others, and what was told to be out of order.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct GoneStation {
    #[serde(flatten)]
    pub station: Station,
    pub position: i32,
    pub downs: Vec<GoneDown>,
}

#[derive(Debug, Queryable, Serialize, Deserialize)]
pub(super) struct GoneDown {
    id: StationDownId,
    unit: i32,
    from_at: Instant,
    to_at: Option<Instant>,
    reason: String,
    by_id: PersonId,
    at: Instant,
    ended_at: Option<Instant>,
    ended_by: Option<PersonId>,
}

/// Complains if it is there already.
fn not_there(rows: i64) -> Result<(), Trouble> {
    if rows == 0 { Ok(()) } else { Err(nothing_to_bring_back()) }
}

impl Tx<'_> {
    fn gone<T: serde::de::DeserializeOwned>(
        &mut self,
        studio: StudioId,
        act: &str,
        id: &str,
    ) -> Result<T, Trouble> {
        let gone: Gone<T> = taken_away(self, act, id)?;
        if gone.studio == studio { Ok(gone.row) } else { Err(nothing_to_bring_back()) }
    }

    /// Brings a weekly opening back.
    ///
    /// # Errors
    /// Whoever asks did not take it away lately, it is there, or the database refuses.
    pub fn bring_back_opening(&mut self, studio: StudioId, id: OpeningId) -> Result<(), Trouble> {
        let row: Opening = self.gone(studio, "hours.removed", &id.to_string())?;
        not_there(opening::table.find(id).count().get_result(self.connection)?)?;
        self.put_opening(studio, &row)?;
        self.call_on(&format!("open-{id}"))?;
        self.journal("hours.brought_back", studio, &json!(row))
    }

    /// Closes a day again.
    ///
    /// # Errors
    /// Whoever asks did not open it lately, it is closed anew, or the database refuses.
    pub fn bring_back_closure(&mut self, studio: StudioId, id: ClosureId) -> Result<(), Trouble> {
        let row: Closure = self.gone(studio, "closure.removed", &id.to_string())?;
        if self.is_closed(studio, row.day)? {
            return Err(nothing_to_bring_back());
        }
        self.put_closure(studio, &row)?;
        self.journal("closure.brought_back", studio, &json!(row))
    }

    /// Brings an extra opening back.
    ///
    /// # Errors
    /// Whoever asks did not take it away lately, it is there, its day was closed meanwhile, or the database refuses.
    pub fn bring_back_extra_opening(&mut self, studio: StudioId, id: ExtraOpeningId) -> Result<(), Trouble> {
        let row: ExtraOpening = self.gone(studio, "extra_opening.removed", &id.to_string())?;
        not_there(extra_opening::table.find(id).count().get_result(self.connection)?)?;
        if self.is_closed(studio, row.day)? {
            // There is no field of a day here to complain at.
            let remark = Remark::new("studio-extra-on-closed").with("day", row.day.to_string());
            return Err(Trouble::Refused(remark));
        }
        self.put_extra_opening(studio, &row)?;
        self.call_on(&format!("extra-{id}"))?;
        self.journal("extra_opening.brought_back", studio, &json!(row))
    }

    /// Brings a station back to its place among the others, with what was told to be out of order.
    ///
    /// # Errors
    /// Whoever asks did not take it away lately, it is there, or the database refuses.
    pub fn bring_back_station(&mut self, studio: StudioId, id: StationId) -> Result<(), Trouble> {
        let gone: GoneStation = self.gone(studio, "station.removed", &id.to_string())?;
        not_there(station::table.find(id).count().get_result(self.connection)?)?;
        let rows = station::table.filter(station::studio_id.eq(studio)).count();
        not_full(rows.get_result(self.connection)?)?;
        diesel::insert_into(station::table)
            .values((
                station::id.eq(id),
                station::studio_id.eq(studio),
                station::kind.eq(&gone.station.kind),
                station::name.eq(&gone.station.name),
                station::units.eq(gone.station.units),
                station::position.eq(gone.position),
                station::version.eq(gone.station.version),
            ))
            .execute(self.connection)?;
        for down in &gone.downs {
            diesel::insert_into(station_down::table)
                .values((
                    station_down::id.eq(down.id),
                    station_down::station_id.eq(id),
                    station_down::unit.eq(down.unit),
                    station_down::from_at.eq(down.from_at),
                    station_down::to_at.eq(down.to_at),
                    station_down::reason.eq(&down.reason),
                    station_down::by_id.eq(down.by_id),
                    station_down::at.eq(down.at),
                    station_down::ended_at.eq(down.ended_at),
                    station_down::ended_by.eq(down.ended_by),
                ))
                .execute(self.connection)?;
        }
        self.journal("station.brought_back", id, &json!(gone))
    }
}
