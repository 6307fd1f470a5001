//! Entries from the table: a step that began and ended on a phone, with or without signal, is stored once, at the right
//! time, whatever rule it broke.

use diesel::prelude::*;
use tympan::store::schema::{
    enrolment, etch, etch_application, plate as plates, put_down, second_account, sign_off, step_run,
};

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
        assert!(seen.contains("could not be put right for certain; the time is an estimate"), "{seen}");
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

    fn one_mix_serves_a_sitting_and_another_day_the_table_has_the_drops_for_the_drawing(studio) {
        let things = scene(studio);
        crate::stories::mixing::keep_table(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let phone = Phone::new(studio, &things, 0);
        let page = send(studio, &things, &student, "offset=0", &phone.done(), "entry-mix-00000000000009");
        assert!(page.location().ends_with("done-table-kept"), "{} {}", page.location(), page.read());
        let (project, procedure) = (things.project.to_string(), things.procedure.to_string());
        let second = [
            ("project", project.as_str()), ("title", "Beside it"), ("procedure", &procedure), ("width", "25"), ("height", "35"),
            ("size_unit", "cm"), ("materials", "crayon 4"), ("weight", "medium"),
        ];
        let begun = student.post(&format!("{}/prints/new", studio.class_path()), &second);
        assert_eq!(begun.status, 303, "{}", begun.read());
        for (hours, drops) in [(0, "4"), (4, "7")] {
            studio.later_ms(hours * 60 * MINUTE);
            let text = studio.signed_in(STUDENT).get(&format!("{}/table/packs", studio.class_path())).text();
            let packs: serde_json::Value = serde_json::from_str(&text).unwrap();
            let pack = packs["packs"].as_array().unwrap().iter().find(|one| one["print"] == "Beside it").unwrap_or_else(|| panic!("{packs}"));
            assert_eq!(pack["fields"]["drops"], drops, "{hours}: {pack}");
            assert_eq!(pack["fields"]["recipe"], "acid_in_gum");
        }
    }

    fn the_clocks_of_the_next_plate_are_set_as_these_were_not_as_long_as_it_took(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let phone = Phone::new(studio, &things, 0);
        // Stopped after twenty seconds of the second application.
        let stopped = but(&but(&phone.done(), "application_2", "0:20"), "application_3", "");
        let page = send(studio, &things, &student, "offset=0", &stopped, "entry-stop-0000000000008");
        assert!(page.location().ends_with("done-table-kept"), "{} {}", page.location(), page.read());
        diesel::update(step_run::table.find(RUN))
            .set((step_run::began_at.eq(step_run::began_at - 86_400_000), step_run::ended_at.eq(studio.now().millis() - 86_400_000)))
            .execute(&mut studio.connection())
            .unwrap();
        let run = start(studio, &things, &student, "roll-up");
        crate::stories::etches::end(studio, &things, &student, run);
        let packs = student.get(&format!("{}/table/packs", studio.class_path())).text();
        let packs: serde_json::Value = serde_json::from_str(&packs).unwrap();
        let fields = &packs["packs"][0]["fields"];
        let set: Vec<&str> = (1..=4).map(|row| fields[format!("application_{row}")].as_str().unwrap_or_default()).collect();
        assert_eq!(set, ["2", "1:30", "2:30", ""], "{packs}");
        let form = student.get(&format!("{}/etches/new", plate(studio, &things)));
        assert!(form.has("name=\"application_2\"") && form.has("value=\"1:30\"") && !form.has("value=\"0:20\""), "{}", form.text());
    }

    fn who_else_was_in_the_room_stands_with_the_run_and_leaves_with_the_etches(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let phone = Phone::new(studio, &things, 0);
        let mut began = phone.began();
        began.push(("in_room", "Otis Wren"));
        send(studio, &things, &student, "offset=0", &began, "entry-began-room-00000001");
        let mut done = but(&phone.done(), "helper", "");
        done.push(("in_room", "Otis Wren"));
        let page = send(studio, &things, &student, "offset=0", &done, "entry-done-room-000000002");
        assert!(page.location().ends_with("done-table-kept"), "{} {}", page.location(), page.read());
        let found: String = step_run::table.find(RUN).select(step_run::in_room).first(&mut studio.connection()).unwrap();
        assert_eq!(found, "Otis Wren");
        let helper: String = etch::table.select(etch::helper).first(&mut studio.connection()).unwrap();
        assert_eq!(helper, "", "who is in the room does not hold the plate");
        let instructor = studio.signed_in(INSTRUCTOR);
        assert!(instructor.get(&plate(studio, &things)).read().contains("in the room: Otis Wren"));
        let table = instructor.get(&format!("{}/records/etches.csv", studio.class_path()));
        if table.status == 200 {
            assert!(table.text().contains("in_room") && table.text().contains("Otis Wren"), "{}", table.text());
        }
    }

    fn what_a_second_phone_tells_of_the_same_run_is_kept_beside_the_first(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let phone = Phone::new(studio, &things, 0);
        send(studio, &things, &student, "offset=0", &phone.done(), "entry-first-0000000000001");
        // The same once more, from another phone: nothing to keep.
        let page = send(studio, &things, &student, "offset=0", &phone.done(), "entry-other-0000000000002");
        assert!(page.location().ends_with("done-table-kept"), "{} {}", page.location(), page.read());
        assert_eq!(rows(studio, "second_account"), 0);
        let list = student.get(&format!("{}/etches", studio.class_path())).read();
        assert!(!list.contains("second phone"), "{list}");
        let mut other = but(&but(&phone.done(), "drops", "6"), "application_3", "");
        other.extend([("note", "The border foamed."), ("in_room", "Iris Low")]);
        let page = send(studio, &things, &student, "offset=0", &other, "entry-other-0000000000003");
        assert!(page.location().ends_with("done-table-kept"), "{} {}", page.location(), page.read());
        assert_eq!((rows(studio, "step_run WHERE step_key = 'first-etch'"), logs(studio).len()), (1, 1), "one run, one log");
        let db = &mut studio.connection();
        let (drops, seconds, note): (Option<i32>, String, String) = second_account::table
            .select((second_account::drops, second_account::application_seconds, second_account::note))
            .first(db)
            .unwrap();
        assert_eq!((drops, seconds.as_str(), note.as_str()), (Some(6), "120,90", "The border foamed."));
        let first: Option<i32> = etch::table.select(etch::drops).first(db).unwrap();
        assert_eq!(first, Some(4), "the first account stands");
        for who in [STUDENT, INSTRUCTOR] {
            let seen = studio.signed_in(who).get(&plate(studio, &things)).read();
            for words in ["Told a second time by", "6 drops", "2:00 + 1:30", "The border foamed.", "in the room: Iris Low"] {
                assert!(seen.contains(words), "{who}: {words}: {seen}");
            }
            let list = studio.signed_in(who).get(&format!("{}/etches", studio.class_path())).read();
            assert_eq!(list.matches("told otherwise by a second phone").count(), 1, "{who}: {list}");
        }
    }

    fn the_page_with_the_clocks_measured_only_what_it_measured(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let phone = Phone::new(studio, &things, 0);
        for (place, (measured, known)) in [("120,90,150", "measured"), ("120,90,20", "told")].into_iter().enumerate() {
            let mut done = phone.done();
            done.push(("measured", measured));
            let once = format!("entry-timed-0000000000-{place}");
            let page = send(studio, &things, &student, "offset=0", &done, &once);
            assert!(page.location().contains("done-table-kept"), "{} {}", page.location(), page.read());
            let db = &mut studio.connection();
            let found: String = etch::table.select(etch::known_how).first(db).unwrap();
            assert_eq!(found, known, "{measured}");
            diesel::delete(etch_application::table).execute(db).unwrap();
            diesel::delete(etch::table).execute(db).unwrap();
        }
    }

    fn a_phone_put_right_before_it_sends_tells_the_right_time_or_says_that_it_cannot(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let phone = Phone::new(studio, &things, 40 * MINUTE);
        // The last contact found it forty minutes ahead; it is right now, and no steady count says when that changed.
        let clock = "offset=-2400000&now_offset=0&elapsed=600000";
        let page = send(studio, &things, &student, clock, &phone.done(), "entry-set-00000000000001");
        assert_eq!(page.status, 303, "{}", page.read());
        let (began, ended, _, _, doubtful, _) = run_row(studio);
        let right = (studio.now().millis() - 20 * MINUTE, Some(studio.now().millis() - 10 * MINUTE));
        assert_eq!(((began, ended), doubtful), (right, true));
        let db = &mut studio.connection();
        for table in ["etch_application", "etch", "put_down WHERE rack_place = 'B4'"] {
            diesel::sql_query(format!("DELETE FROM {table}")).execute(db).unwrap();
        }
        diesel::delete(step_run::table.find(RUN)).execute(db).unwrap();
        let clock = "offset=-2400000&now_offset=0&elapsed=600000&steady=yes";
        let page = send(studio, &things, &student, clock, &phone.done(), "entry-set-00000000000002");
        assert_eq!(page.status, 303, "{}", page.read());
        let (began, ended, _, off, doubtful, _) = run_row(studio);
        assert_eq!(((began, ended), off, doubtful), (right, Some(40 * MINUTE), false));
    }

    fn a_clock_set_between_two_taps_does_not_turn_them_round(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        // Begun with the right clock and told at once; then the clock was put back by half an hour, and found so at the end.
        let phone = Phone::new(studio, &things, 0);
        let page = send(studio, &things, &student, "offset=0", &phone.began(), "entry-round-0000000000001");
        assert_eq!(page.status, 303, "{}", page.read());
        let clock = "offset=-1800000&now_offset=-1800000&elapsed=0&steady=yes";
        let page = send(studio, &things, &student, clock, &phone.done(), "entry-round-0000000000002");
        assert_eq!(page.status, 303, "{}", page.read());
        let (began, ended, _, _, doubtful, _) = run_row(studio);
        let begun = studio.now().millis() - 20 * MINUTE;
        assert_eq!((began, ended, doubtful), (begun, Some(begun), true), "the order is known, no more");
        assert_eq!(logs(studio).len(), 1);
    }

    fn what_was_put_down_after_a_clock_was_set_was_put_down_after_the_start(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let before: Vec<String> = put_down::table.select(put_down::id).load(&mut studio.connection()).unwrap();
        let phone = Phone::new(studio, &things, 0);
        let page = send(studio, &things, &student, "offset=0", &phone.began(), "entry-down-00000000000001");
        assert_eq!(page.status, 303, "{}", page.read());
        // Without a mix no log is made: the plate is put down by itself.
        let mut done = but(&phone.began(), "says", "done");
        done.push(("ended_ms", &phone.ended));
        done.extend([("gummed", "yes"), ("buffed", "yes"), ("rack_place", "B5")]);
        let clock = "offset=-1800000&now_offset=-1800000&elapsed=0&steady=yes";
        let page = send(studio, &things, &student, clock, &done, "entry-down-00000000000002");
        assert_eq!(page.status, 303, "{}", page.read());
        let fresh = put_down::table.filter(put_down::id.ne_all(before)).select(put_down::at);
        let at: i64 = fresh.first(&mut studio.connection()).unwrap();
        assert_eq!(at, studio.now().millis() - 20 * MINUTE);
    }

    fn somebody_who_dropped_meanwhile_still_gets_rid_of_what_happened(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        drawn(studio, &things, &student);
        let phone = Phone::new(studio, &things, 0);
        diesel::update(enrolment::table.filter(enrolment::person_id.eq(studio.world.student)))
            .set(enrolment::state.eq("dropped"))
            .execute(&mut studio.connection())
            .unwrap();
        assert_eq!(student.get(&plate(studio, &things)).status, 404);
        let page = send(studio, &things, &student, "offset=0", &phone.done(), "entry-dropped-00000000001");
        assert!(page.location().contains("done-table-kept"), "{} {}", page.location(), page.read());
        assert_eq!(logs(studio).len(), 1);
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
        assert_eq!(packs["class"].as_str(), Some(studio.world.class.to_string().as_str()));
        assert!(packs["help"]["eyewash"].as_str().is_some_and(|words| !words.is_empty()), "{packs}");
        let staff = studio.signed_in(ASSISTANT).get(&format!("{}/table/packs", studio.class_path()));
        let staff: serde_json::Value = serde_json::from_str(&staff.text()).unwrap();
        assert_eq!((staff["packs"].as_array().unwrap().len(), &staff["help"]), (0, &packs["help"]));
        for name in ["Ivo", OTHER_STUDENT, "score", "/photos/"] {
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
