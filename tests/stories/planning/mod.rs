//! Plans over HTTP: of a plate, of the class, what is out of order, and what follows from a moved date.

mod calendar;
mod class;
mod downs;
mod letters;
mod plate;

use diesel::prelude::*;
use tympan::ids::{OpeningId, StationId, StudioId};
use tympan::store::AnyConnection;
use tympan::store::schema::*;

use crate::studio::Studio;
use crate::studio::things::Things;
use crate::studio::world::NOW;

/// One plate on which nothing was done yet.
fn set(studio: &Studio) -> Things {
    let db = &mut studio.connection();
    let things = Things::set(db, &studio.world);
    diesel::delete(letter::table).execute(db).unwrap();
    diesel::delete(etch_application::table).execute(db).unwrap();
    diesel::delete(etch::table).execute(db).unwrap();
    diesel::delete(step_run::table).execute(db).unwrap();
    things
}

/// Signs the student off on everything.
fn train(studio: &Studio, things: &Things) {
    for key in ["studio-basics", "acid-and-gum", "solvents", "press"] {
        things.sign(&mut studio.connection(), &studio.world, key, "watched");
    }
}

/// Tells a step of the plate, its times local.
fn done(studio: &Studio, things: &Things, step: &str, began: &str, ended: &str) {
    let student = studio.signed_in(crate::studio::world::STUDENT);
    let path = format!("{}/plates/{}/tell", studio.class_path(), things.plate);
    let page = student.post(&path, &[("step", step), ("began", began), ("ended", ended)]);
    assert_eq!(page.status, 303, "{step}: {}", page.read());
}

/// A station of the studio.
pub fn station(studio: &Studio, kind: &str, units: i32) -> StationId {
    let (id, db) = (StationId::new(NOW), &mut studio.connection());
    let position: i64 = station::table.count().get_result(db).unwrap();
    diesel::insert_into(station::table)
        .values((
            (station::id.eq(id), station::studio_id.eq(studio.world.studio), station::kind.eq(kind)),
            (station::name.eq(format!("the {kind}")), station::units.eq(units)),
            (station::position.eq(i32::try_from(position).unwrap()), station::version.eq(1)),
        ))
        .execute(db)
        .unwrap();
    id
}

/// Opens the studio on these stretches alone: weekday from Monday, 1, and minutes.
fn open(db: &mut AnyConnection, studio: StudioId, stretches: &[(i32, i32, i32)]) {
    diesel::delete(opening::table).execute(db).unwrap();
    for (weekday, from, to) in stretches {
        diesel::insert_into(opening::table)
            .values((
                (opening::id.eq(OpeningId::new(NOW)), opening::studio_id.eq(studio)),
                (opening::weekday.eq(weekday), opening::from_minute.eq(from), opening::to_minute.eq(to)),
            ))
            .execute(db)
            .unwrap();
    }
}

fn plan_path(studio: &Studio, things: &Things) -> String {
    format!("{}/plates/{}/plan", studio.class_path(), things.plate)
}
