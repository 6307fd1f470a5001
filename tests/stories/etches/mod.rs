//! Etch logs: recorded at the table, corrected, asked about at the roll-up, and read across the class.

mod at_the_table;
mod beside;
mod came_up;
mod corrected;
mod in_spanish;
mod recorded;
mod refused;
mod tablet;

use diesel::prelude::*;
use tympan::ids::{EtchId, StepRunId};
use tympan::store::schema::{container, etch, etch_application, sign_off, step_run};

use crate::studio::things::Things;
use crate::studio::world::NOW;
use crate::studio::{Page, Studio, Visitor};

/// A plate without any step, and a student who holds every sign-off; the bottle's dropper gives 20 ± 2 drops per mL.
fn scene(studio: &Studio) -> Things {
    let db = &mut studio.connection();
    let things = Things::set(db, &studio.world);
    diesel::delete(etch_application::table).execute(db).unwrap();
    diesel::delete(etch::table).execute(db).unwrap();
    diesel::delete(step_run::table).execute(db).unwrap();
    diesel::update(container::table.find(things.acid))
        .set((
            container::drops_per_ml_hundredths.eq(Some(2000)),
            container::drops_spread_hundredths.eq(Some(200)),
        ))
        .execute(db)
        .unwrap();
    for key in ["studio-basics", "acid-and-gum", "solvents", "press"] {
        things.sign(db, &studio.world, key, "watched");
    }
    diesel::update(sign_off::table)
        .set((
            sign_off::given_at.eq(NOW.plus_ms(-30 * 86_400_000)),
            sign_off::acknowledged_at.eq(Some(NOW.plus_ms(-30 * 86_400_000))),
        ))
        .execute(db)
        .unwrap();
    things
}

fn plate(studio: &Studio, things: &Things) -> String {
    format!("{}/plates/{}", studio.class_path(), things.plate)
}

/// Prepared and drawn the days before, and the first etch started now.
fn under_way(studio: &Studio, things: &Things, student: &Visitor) -> StepRunId {
    let plate = plate(studio, things);
    for (step, began, ended) in [
        ("prepare", "2026-10-17T10:00", "2026-10-17T10:30"),
        ("draw", "2026-10-18T10:00", "2026-10-18T15:00"),
    ] {
        let told = [("step", step), ("began", began), ("ended", ended)];
        let page = student.post(&format!("{plate}/tell"), &told);
        assert!(page.location().ends_with("done-told"), "{step}: {} {}", page.location(), page.read());
    }
    start(studio, things, student, "first-etch")
}

fn start(studio: &Studio, things: &Things, student: &Visitor, step: &str) -> StepRunId {
    let page = student.post(&format!("{}/start", plate(studio, things)), &[("step", step)]);
    assert_eq!(page.status, 303, "{step}: {}", page.read());
    step_run::table
        .filter(step_run::step_key.eq(step).and(step_run::ended_at.is_null()))
        .select(step_run::id)
        .first(&mut studio.connection())
        .unwrap()
}

/// Ends a step that records no etch.
fn end(studio: &Studio, things: &Things, student: &Visitor, run: StepRunId) {
    let page = student.post(&format!("{}/end", plate(studio, things)), &[("run", &run.to_string())]);
    assert_eq!(page.status, 303, "{}", page.read());
}

/// The usual first etch: 1 US fl oz of gum, 4 drops, three applications.
struct Told {
    run: String,
    gum: String,
    acid: String,
}

impl Told {
    fn new(things: &Things, run: StepRunId) -> Self {
        Self { run: run.to_string(), gum: things.gum.to_string(), acid: things.acid.to_string() }
    }

    fn fields(&self) -> Vec<(&str, &str)> {
        let mut all = vec![("run", self.run.as_str())];
        all.extend(self.mixture());
        all.extend([("gummed", "yes"), ("buffed", "yes"), ("rack_place", "B4")]);
        all
    }

    fn mixture(&self) -> Vec<(&str, &str)> {
        vec![
            ("unit", "us_fl_oz"),
            ("recipe", "acid_in_gum"),
            ("gum", &self.gum),
            ("gum_volume", "1"),
            ("acid", &self.acid),
            ("drops", "4"),
            ("application_1", "2"),
            ("application_2", "1.5"),
            ("application_3", "2:30"),
            ("tool", "brush"),
            ("helper", "Otis Wren"),
            ("measured_ph", ""),
            ("seen", "even film, no bubbles"),
        ]
    }
}

fn logs(studio: &Studio) -> Vec<EtchId> {
    etch::table.order((etch::received_at, etch::id)).select(etch::id).load(&mut studio.connection()).unwrap()
}

/// Records the usual first etch and gives its log.
fn recorded(studio: &Studio, things: &Things, student: &Visitor) -> EtchId {
    let run = under_way(studio, things, student);
    studio.later_ms(45 * 60_000);
    let page = new(studio, things, student, &Told::new(things, run).fields());
    assert!(page.location().ends_with("done-etch-recorded"), "{} {}", page.location(), page.read());
    logs(studio)[0]
}

fn new(studio: &Studio, things: &Things, visitor: &Visitor, fields: &[(&str, &str)]) -> Page {
    visitor.post(&format!("{}/etches/new", plate(studio, things)), fields)
}
