//! Entries from the table: a step that began and ended on a phone, with or without signal, is stored once, at the right
//! time, whatever rule it broke.

use diesel::prelude::*;
use tympan::store::schema::{etch, etch_application, plate as plates, put_down, sign_off, step_run};

use super::{Told, logs, plate, scene, start, under_way};
use crate::on_both;
use crate::stories::{but, rows};
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Page, Studio, Visitor};

const RUN: &str = "0199b6a0-0000-7000-8000-000000000001";
const MINUTE: i64 = 60_000;

/// Prepared and drawn, nothing under way.
fn drawn(studio: &Studio, things: &Things, student: &Visitor) {
    let run = under_way(studio, things, student);
    diesel::delete(step_run::table.find(run)).execute(&mut studio.connection()).unwrap();
}

/// A first etch told by a phone whose clock is `ahead` of ours; it began 20 minutes ago and took 10.
struct Phone {
    began: String,
    ended: String,
    person: String,
    told: Told,
}

impl Phone {
    fn new(studio: &Studio, things: &Things, ahead: i64) -> Self {
        let at = |minutes_ago: i64| (studio.now().millis() - minutes_ago * MINUTE + ahead).to_string();
        Self {
            began: at(20),
            ended: at(10),
            person: studio.world.student.to_string(),
            told: Told { run: RUN.to_owned(), gum: things.gum.to_string(), acid: things.acid.to_string() },
        }
    }

    fn began(&self) -> Vec<(&str, &str)> {
        vec![
            ("person", &self.person),
            ("says", "began"),
            ("run", RUN),
            ("step", "first-etch"),
            ("began_ms", &self.began),
            ("planned", "120,90,150"),
        ]
    }

    fn done(&self) -> Vec<(&str, &str)> {
        let mut all = but(&self.began(), "says", "done");
        all.push(("ended_ms", &self.ended));
        all.extend(self.told.mixture());
        all.extend([("gummed", "yes"), ("buffed", "yes"), ("rack_place", "B4")]);
        all
    }
}

fn send(
    studio: &Studio,
    things: &Things,
    who: &Visitor,
    clock: &str,
    fields: &[(&str, &str)],
    once: &str,
) -> Page {
    who.post_once(&format!("{}/table?{clock}", plate(studio, things)), fields, once)
}

fn run_row(studio: &Studio) -> (i64, Option<i64>, String, Option<i64>, bool, String) {
    step_run::table
        .filter(step_run::id.eq(RUN))
        .select((
            step_run::began_at,
            step_run::ended_at,
            step_run::outside_rules,
            step_run::clock_off_ms,
            step_run::clock_doubtful,
            step_run::planned_seconds,
        ))
        .first(&mut studio.connection())
        .unwrap()
}

on_both! {
    fn an_etch_told_by_a_phone_is_stored_once_with_its_own_times(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let phone = Phone::new(studio, &things, 0);
        let page = send(studio, &things, &student, "offset=0&elapsed=1200000", &phone.began(), "entry-began-000000000001");
        assert!(page.location().ends_with("done-table-kept"), "{} {}", page.location(), page.read());
        let began = studio.now().millis() - 20 * MINUTE;
        assert_eq!(run_row(studio), (began, None, String::new(), Some(0), false, "120,90,150".to_owned()));
        // The answer is lost; the phone sends it again later, with another word about its clock.
        for elapsed in ["offset=0&elapsed=600000", "offset=3&elapsed=630000"] {
            let page = send(studio, &things, &student, elapsed, &phone.done(), "entry-done-0000000000002");
            assert!(page.location().ends_with("done-table-kept"), "{} {}", page.location(), page.read());
        }
        let ended = studio.now().millis() - 10 * MINUTE;
        assert_eq!(run_row(studio).1, Some(ended));
        assert_eq!(logs(studio).len(), 1, "stored once");
        let db = &mut studio.connection();
        let at: i64 = etch::table.select(etch::at).first(db).unwrap();
        assert_eq!(at, ended, "the log stands where the etch ended, not where it came in");
        let seconds: Vec<i32> = etch_application::table.order(etch_application::position)
            .select(etch_application::seconds).load(db).unwrap();
        assert_eq!(seconds, [120, 90, 150]);
        let down: i64 = put_down::table.order(put_down::at.desc()).select(put_down::at).first(db).unwrap();
        assert_eq!(down, ended);
        let (standing, rack): (String, String) = plates::table.find(things.plate)
            .select((plates::standing, plates::rack_place)).first(db).unwrap();
        assert_eq!((standing.as_str(), rack.as_str()), ("under_gum", "B4"));
        assert_eq!(rows(studio, "journal WHERE act = 'table.entry'"), 2);
        assert_eq!(rows(studio, "step_run WHERE step_key = 'first-etch'"), 1);
    }

    fn a_phone_forty_minutes_wrong_is_put_right_and_the_instructor_sees_it(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let phone = Phone::new(studio, &things, 40 * MINUTE);
        let page = send(studio, &things, &student, "offset=-2400000&elapsed=600000", &phone.done(), "entry-done-0000000000003");
        assert!(page.location().ends_with("done-table-kept"), "{} {}", page.location(), page.read());
        let (began, ended, _, off, doubtful, _) = run_row(studio);
        assert_eq!((began, ended), (studio.now().millis() - 20 * MINUTE, Some(studio.now().millis() - 10 * MINUTE)));
        assert_eq!((off, doubtful), (Some(40 * MINUTE), false));
        let seen = studio.signed_in(INSTRUCTOR).get(&plate(studio, &things)).read();
        assert!(seen.contains("The phone’s clock was 40 min ahead; put right"), "{seen}");
    }

    fn without_any_contact_the_time_is_reckoned_back_and_marked(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let phone = Phone::new(studio, &things, 40 * MINUTE);
        let page = send(studio, &things, &student, "elapsed=600000", &phone.done(), "entry-done-0000000000004");
        assert_eq!(page.status, 303, "{}", page.read());
        let (began, ended, _, _, doubtful, _) = run_row(studio);
        assert_eq!((began, ended), (studio.now().millis() - 20 * MINUTE, Some(studio.now().millis() - 10 * MINUTE)));
        assert!(doubtful);
        let seen = studio.signed_in(INSTRUCTOR).get(&plate(studio, &things)).read();
        assert!(seen.contains("reckoned back from when this came in"), "{seen}");
    }

    fn a_sign_off_withdrawn_meanwhile_marks_the_entry_and_refuses_nothing(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        diesel::update(sign_off::table)
            .set(sign_off::withdrawn_at.eq(Some(studio.now().millis() - 60 * MINUTE)))
            .execute(&mut studio.connection())
            .unwrap();
        let phone = Phone::new(studio, &things, 0);
        let page = send(studio, &things, &student, "offset=0", &phone.done(), "entry-done-0000000000005");
        assert!(page.location().ends_with("done-table-kept-outside"), "{} {}", page.location(), page.read());
        assert_eq!(run_row(studio).2, "sign_off");
        assert_eq!(logs(studio).len(), 1);
        let seen = studio.signed_in(INSTRUCTOR).get(&plate(studio, &things)).read();
        assert!(seen.contains("without a valid sign-off"), "{seen}");
    }

    fn left_off_half_way_is_told_as_it_was_and_waits_for_the_instructor(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let phone = Phone::new(studio, &things, 0);
        let fields = but(&but(&but(&phone.done(), "says", "left_off"), "application_2", ""), "application_3", "");
        let page = send(studio, &things, &student, "offset=0", &fields, "entry-left-0000000000006");
        assert!(page.location().ends_with("done-table-kept-outside"), "{} {}", page.location(), page.read());
        assert_eq!(run_row(studio).2, "left_off");
        let seconds: Vec<i32> = etch_application::table.select(etch_application::seconds)
            .load(&mut studio.connection()).unwrap();
        assert_eq!(seconds, [120], "one application was on the plate");
        let page = student.post(&format!("{}/start", plate(studio, &things)), &[("step", "roll-up")]);
        assert_eq!(page.status, 409, "what follows waits: {}", page.read());
        let seen = student.get(&plate(studio, &things)).read();
        assert!(seen.contains("left off half way"), "{seen}");
    }

    fn a_step_begun_on_the_plates_page_is_ended_at_the_table(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let run = start(studio, &things, &student, "first-etch");
        studio.later_ms(45 * MINUTE);
        let phone = Phone::new(studio, &things, 0);
        let page = send(studio, &things, &student, "offset=0", &phone.done(), "entry-done-0000000000007");
        assert!(page.location().ends_with("done-table-kept"), "{} {}", page.location(), page.read());
        let ended: Option<i64> = step_run::table.find(run).select(step_run::ended_at).first(&mut studio.connection()).unwrap();
        assert_eq!(ended, Some(studio.now().millis() - 10 * MINUTE));
        assert_eq!(rows(studio, "step_run WHERE step_key = 'first-etch'"), 1, "no second run");
        assert_eq!(logs(studio).len(), 1);
    }

    fn what_is_malformed_or_anothers_is_turned_away_and_nothing_is_stored(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let phone = Phone::new(studio, &things, 0);
        let before = rows(studio, "step_run");
        let good = phone.done();
        let later = (studio.now().millis() - 30 * MINUTE).to_string();
        for (place, (field, value, status, said)) in [
            ("drops", "four", 422, "four"),
            ("application_1", "two", 422, "two"),
            ("began_ms", "yesterday", 422, "yesterday"),
            ("ended_ms", later.as_str(), 422, "before it began"),
            ("ended_ms", "", 422, "Fill it in"),
            ("run", "not-an-id", 422, ""),
            ("step", "fly", 422, "fly"),
            ("person", OTHER_PERSON, 409, "another person"),
            ("gum", RUN, 422, ""),
        ].into_iter().enumerate() {
            let once = format!("entry-wrong-000000000-{place}");
            let page = send(studio, &things, &student, "offset=0", &but(&good, field, value), &once);
            assert_eq!(page.status, status, "{field}={value}: {}", page.read());
            assert!(page.read().contains(said), "{field}={value}: {}", page.read());
        }
        let other = studio.signed_in(OTHER_STUDENT);
        assert_eq!(send(studio, &things, &other, "offset=0", &good, "entry-other-00000000000").status, 404);
        assert_eq!(student.post_bare(&format!("{}/table", plate(studio, &things)), &good).status, 403, "unsealed");
        assert_eq!((rows(studio, "step_run"), logs(studio).len()), (before, 0));
    }

    fn a_phone_takes_its_own_packs_along_and_no_names_of_others(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let page = student.get(&format!("{}/table/packs", studio.class_path()));
        let packs: serde_json::Value = serde_json::from_str(&page.text()).unwrap();
        let found = packs["packs"].as_array().unwrap();
        assert_eq!(found.len(), 1, "{packs}");
        let pack = &found[0];
        assert_eq!((pack["step"].as_str(), pack["may_start"].as_bool()), (Some("first-etch"), Some(true)), "{pack}");
        assert_eq!(pack["wants_etch"].as_bool(), Some(true));
        assert!(pack["cautions"].as_array().unwrap().iter().any(|one| one.as_str().unwrap().contains("data sheet")), "{pack}");
        for name in ["Ivo", OTHER_STUDENT, "score", "photo"] {
            assert!(!page.text().contains(name), "{name}: {}", page.text());
        }
        let other = studio.signed_in(OTHER_STUDENT).get(&format!("{}/table/packs", studio.class_path()));
        assert!(!other.text().contains(&things.plate.to_string()), "{}", other.text());
        let hello: serde_json::Value = serde_json::from_str(&student.get("/table/hello").text()).unwrap();
        assert_eq!(hello["person"].as_str(), Some(studio.world.student.to_string().as_str()));
        assert_eq!(hello["now"].as_i64(), Some(studio.now().millis()));
        let nobody: serde_json::Value = serde_json::from_str(&studio.visitor().get("/table/hello").text()).unwrap();
        assert!(nobody["person"].is_null());
    }
}

const OTHER_PERSON: &str = "0199b6a0-0000-7000-8000-00000000ffff";
