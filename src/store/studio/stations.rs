//! Stations: the places of a studio at which steps are done, and how many of each there are.

use diesel::prelude::*;
use serde_json::json;

use crate::ids::{StationId, StudioId};
use crate::store::connections::AnyConnection;
use crate::store::schema::{station, station_down};
use crate::store::studio::brought_back::{Gone, GoneStation};
use crate::store::studio::{not_full, stale};
use crate::store::write::Tx;
use crate::trouble::Trouble;

/// Kinds by which procedures name the place of a step. A studio may have others; a step finds its place by the same
/// words in lower case.
pub const USUAL_KINDS: &[&str] = &["graining sink", "etching table", "slab", "press"];

/// A row of equal places: `units` of one kind.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize, serde::Deserialize)]
pub struct Station {
    pub id: StationId,
    pub kind: String,
    pub name: String,
    pub units: i32,
    pub version: i64,
}

/// What people type about a station.
#[derive(Debug, Clone, serde::Serialize)]
pub struct StationDraft {
    pub kind: String,
    pub name: String,
    pub units: i32,
}

/// The stations of a studio in the order they were set up.
///
/// # Errors
/// The database cannot be read.
pub fn stations(db: &mut AnyConnection, studio: StudioId) -> Result<Vec<Station>, Trouble> {
    Ok(station::table
        .filter(station::studio_id.eq(studio))
        .order((station::position, station::id))
        .select((station::id, station::kind, station::name, station::units, station::version))
        .load(db)?)
}

/// One station of a studio.
///
/// # Errors
/// `NotFound`, or the database cannot be read.
pub fn station(db: &mut AnyConnection, studio: StudioId, id: StationId) -> Result<Station, Trouble> {
    Ok(station::table
        .filter(station::id.eq(id).and(station::studio_id.eq(studio)))
        .select((station::id, station::kind, station::name, station::units, station::version))
        .first(db)?)
}

impl Tx<'_> {
    /// Sets up a station, after those that are there.
    ///
    /// # Errors
    /// The database refuses.
    pub fn add_station(&mut self, studio: StudioId, draft: &StationDraft) -> Result<StationId, Trouble> {
        let (rows, last): (i64, Option<i32>) = station::table
            .filter(station::studio_id.eq(studio))
            .select((diesel::dsl::count_star(), diesel::dsl::max(station::position)))
            .first(self.connection)?;
        not_full(rows)?;
        let id: StationId = self.id();
        diesel::insert_into(station::table)
            .values((
                station::id.eq(id),
                station::studio_id.eq(studio),
                station::kind.eq(draft.kind.to_lowercase()),
                station::name.eq(&draft.name),
                station::units.eq(draft.units),
                station::position.eq(last.unwrap_or(0) + 1),
                station::version.eq(1),
            ))
            .execute(self.connection)?;
        self.journal("station.added", id, &json!({ "studio": studio, "station": draft }))?;
        Ok(id)
    }

    /// Changes a station, if it still has the version it was shown with.
    ///
    /// # Errors
    /// `NotFound`, `Stale`, or the database refuses.
    pub fn change_station(
        &mut self,
        studio: StudioId,
        id: StationId,
        version: i64,
        draft: &StationDraft,
    ) -> Result<(), Trouble> {
        let before = station(self.connection, studio, id)?;
        let changed = diesel::update(station::table.find(id).filter(station::version.eq(version)))
            .set((
                station::kind.eq(draft.kind.to_lowercase()),
                station::name.eq(&draft.name),
                station::units.eq(draft.units),
                station::version.eq(version + 1),
            ))
            .execute(self.connection)?;
        if changed == 0 {
            return Err(stale());
        }
        self.journal("station.changed", id, &json!({ "before": before, "after": draft }))
    }

    /// Takes a station away.
    ///
    /// # Errors
    /// `NotFound` where it is not of this studio, or the database refuses.
    pub fn remove_station(&mut self, studio: StudioId, id: StationId) -> Result<(), Trouble> {
        let station = station(self.connection, studio, id)?;
        let position = station::table.find(id).select(station::position).first(self.connection)?;
        let downs = station_down::table
            .filter(station_down::station_id.eq(id))
            .order(station_down::id)
            .select((
                station_down::id,
                station_down::unit,
                station_down::from_at,
                station_down::to_at,
                station_down::reason,
                station_down::by_id,
                station_down::at,
                station_down::ended_at,
                station_down::ended_by,
            ))
            .load(self.connection)?;
        diesel::delete(station_down::table.filter(station_down::station_id.eq(id)))
            .execute(self.connection)?;
        diesel::delete(station::table.find(id)).execute(self.connection)?;
        let row = GoneStation { station, position, downs };
        self.journal("station.removed", id, &json!(Gone { studio, row }))
    }
}
