//! The order of a run sheet, where people put it otherwise than the program does: kept for one day.

use chrono::NaiveDate;
use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClassId, PlateId};
use crate::store::connections::AnyConnection;
use crate::store::schema::run_place;
use crate::store::write::Tx;
use crate::trouble::Trouble;

/// A plate's step on a run sheet.
pub type Item = (PlateId, String);

/// What was put in an order on a day, in that order. Every station's are counted by themselves. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn run_order(db: &mut AnyConnection, class: ClassId, day: NaiveDate) -> Result<Vec<Item>, Trouble> {
    Ok(run_place::table
        .filter(run_place::class_id.eq(class).and(run_place::day.eq(day)))
        .order((run_place::position, run_place::plate_id, run_place::step_key))
        .select((run_place::plate_id, run_place::step_key))
        .load(db)?)
}

impl Tx<'_> {
    /// Keeps the order of one station's pieces of work for a day.
    ///
    /// # Errors
    /// The database refuses.
    pub fn put_in_order(&mut self, class: ClassId, day: NaiveDate, items: &[Item]) -> Result<(), Trouble> {
        for (place, (plate, step)) in items.iter().enumerate() {
            let position = i32::try_from(place).unwrap_or(i32::MAX);
            let known = run_place::table.find((class, day, plate, step));
            let moved =
                diesel::update(known).set(run_place::position.eq(position)).execute(self.connection)?;
            if moved == 0 {
                diesel::insert_into(run_place::table)
                    .values((
                        (
                            run_place::class_id.eq(class),
                            run_place::day.eq(day),
                            run_place::plate_id.eq(plate),
                        ),
                        (run_place::step_key.eq(step), run_place::position.eq(position)),
                    ))
                    .execute(self.connection)?;
            }
        }
        self.journal("run-sheet.ordered", class, &json!({ "day": day, "items": items }))
    }
}
