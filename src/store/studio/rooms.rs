//! Rooms: where a studio is, and where help is when something goes wrong in it.

use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClassId, StudioId};
use crate::store::connections::AnyConnection;
use crate::store::schema::studio;
use crate::store::studio::stale;
use crate::store::types::columns;
use crate::store::write::Tx;
use crate::trouble::Trouble;

/// A studio's room as pages show it.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct Room {
    pub id: StudioId,
    pub name: String,
    pub room_address: String,
    pub eyewash: String,
    pub emergency_numbers: String,
    /// What the campus wants on a container of waste.
    pub waste_words: String,
    pub version: i64,
}

/// What people type about a room.
#[derive(Debug, Clone, serde::Serialize)]
pub struct RoomDraft {
    pub name: String,
    pub room_address: String,
    pub eyewash: String,
    pub emergency_numbers: String,
    /// What the campus wants on a container of waste.
    pub waste_words: String,
}

/// The classes that work in a studio while their term runs, by code.
///
/// # Errors
/// The database cannot be read.
pub fn classes_in(
    db: &mut AnyConnection,
    studio: StudioId,
    on: chrono::NaiveDate,
) -> Result<Vec<(ClassId, String)>, Trouble> {
    use crate::store::schema::{class, term};
    Ok(class::table
        .inner_join(term::table)
        .filter(class::studio_id.eq(studio).and(term::starts.le(on)).and(term::ends.ge(on)))
        .order((class::code, class::id))
        .select((class::id, class::code))
        .load(db)?)
}

/// Every studio of the school, by name.
///
/// # Errors
/// The database cannot be read.
pub fn rooms(db: &mut AnyConnection) -> Result<Vec<Room>, Trouble> {
    Ok(studio::table.select(COLUMNS).order((studio::name, studio::id)).load(db)?)
}

/// One studio.
///
/// # Errors
/// `NotFound`, or the database cannot be read.
pub fn room(db: &mut AnyConnection, id: StudioId) -> Result<Room, Trouble> {
    Ok(studio::table.find(id).select(COLUMNS).first(db)?)
}

columns! {
    const COLUMNS: Columns = (
        studio::id,
        studio::name,
        studio::room_address,
        studio::eyewash,
        studio::emergency_numbers,
        studio::waste_words,
        studio::version,
    );
}

impl Tx<'_> {
    /// Makes a studio.
    ///
    /// # Errors
    /// The database refuses.
    pub fn add_studio(&mut self, draft: &RoomDraft) -> Result<StudioId, Trouble> {
        let id: StudioId = self.id();
        diesel::insert_into(studio::table)
            .values((
                studio::id.eq(id),
                studio::name.eq(&draft.name),
                studio::room_address.eq(&draft.room_address),
                studio::eyewash.eq(&draft.eyewash),
                studio::emergency_numbers.eq(&draft.emergency_numbers),
                studio::waste_words.eq(&draft.waste_words),
                studio::created_at.eq(self.now),
                studio::version.eq(1),
            ))
            .execute(self.connection)?;
        self.journal("studio.added", id, &json!(draft))?;
        Ok(id)
    }

    /// Changes what is known of a studio, if it still has the version it was shown with.
    ///
    /// # Errors
    /// `NotFound`, `Stale`, or the database refuses.
    pub fn change_studio(&mut self, id: StudioId, version: i64, draft: &RoomDraft) -> Result<(), Trouble> {
        let before = room(self.connection, id)?;
        let changed = diesel::update(studio::table.find(id).filter(studio::version.eq(version)))
            .set((
                studio::name.eq(&draft.name),
                studio::room_address.eq(&draft.room_address),
                studio::eyewash.eq(&draft.eyewash),
                studio::emergency_numbers.eq(&draft.emergency_numbers),
                studio::waste_words.eq(&draft.waste_words),
                studio::version.eq(version + 1),
            ))
            .execute(self.connection)?;
        if changed == 0 {
            return Err(stale());
        }
        self.journal("studio.changed", id, &json!({ "before": before, "after": draft }))
    }
}
