//! Prints and plates: beginning them, starts that are refused, steps told, settling, allowing once, putting down.

use diesel::prelude::*;
use tympan::ids::{PlateId, PrintId};
use tympan::store::schema::{
    allowance, etch, etch_application, plate, print, put_down, refusal, sign_off, step_run,
};

use crate::on_both;
use crate::studio::Studio;
use crate::studio::things::Things;
use crate::studio::world::*;

pub(super) fn set(studio: &Studio) -> Things {
    Things::set(&mut studio.connection(), &studio.world)
}

/// Things without the etch that `Things` tells, so that a plate begins at its beginning.
pub(super) fn fresh(studio: &Studio) -> Things {
    let things = set(studio);
    let db = &mut studio.connection();
    diesel::delete(etch_application::table).execute(db).unwrap();
    diesel::delete(etch::table).execute(db).unwrap();
    diesel::delete(step_run::table).execute(db).unwrap();
    things
}

pub(super) fn train(studio: &Studio, things: &Things) {
    for (key, grade) in [
        ("studio-basics", "watched"),
        ("acid-and-gum", "watched"),
        ("solvents", "watched"),
        ("press", "watched"),
    ] {
        things.sign(&mut studio.connection(), &studio.world, key, grade);
    }
}

pub(super) fn path(studio: &Studio, plate: PlateId) -> String {
    format!("{}/plates/{plate}", studio.class_path())
}

on_both! {
    fn a_student_begins_a_print_and_replaces_a_burned_plate(studio) {
        let things = set(studio);
        let student = studio.signed_in(STUDENT);
        let new = format!("{}/prints/new", studio.class_path());
        assert_eq!(student.get(&new).status, 200);
        let (project, procedure) = (things.project.to_string(), things.procedure.to_string());
        let fields = [
            ("project", project.as_str()), ("title", "Tide table"), ("procedure", &procedure), ("width", "25"),
            ("height", "35,5"), ("size_unit", "cm"), ("materials", "crayon 3"), ("weight", "heavy"),
        ];
        for (name, value, says) in [
            ("title", "", "missing"), ("width", "wide", "no number"), ("width", "0.5", "outside what is possible"),
            ("weight", "enormous", "not one of the choices"), ("project", "x", "not one of the choices"),
        ] {
            let mut bad = fields;
            for field in &mut bad { if field.0 == name { field.1 = value; } }
            let page = student.post(&new, &bad);
            assert_eq!(page.status, 422, "{name}={value}");
            assert!(page.read().contains(says), "{name}={value}: {}", page.read());
            assert!(page.has("crayon 3"), "what was typed is kept");
        }
        let unknown = [("project", "00000000-0000-7000-8000-000000000000")];
        let mut bad = fields;
        bad[0] = unknown[0];
        assert_eq!(student.post(&new, &bad).status, 404);
        for _ in 0..2 {
            let page = student.post_once(&new, &fields, "one-once-key-for-two");
            assert_eq!(page.status, 303, "{}", page.read());
        }
        let mine: Vec<(PlateId, PrintId, i32, i32)> = plate::table
            .filter(plate::materials.eq("crayon 3"))
            .select((plate::id, plate::print_id, plate::number, plate::height_hundredths))
            .load(&mut studio.connection()).unwrap();
        assert_eq!(mine.len(), 1, "the same submit twice is one plate");
        let (old, print_id, number, height) = mine[0];
        assert_eq!((number, height), (2, 3550));
        let another = format!("{}/prints/{print_id}/plates/new", studio.class_path());
        let form = student.get(&format!("{another}?replaces={old}"));
        assert!(form.has("crayon 3"), "carried over from the lost plate");
        let old_text = old.to_string();
        let again = [&fields[2..], &[("replaces", old_text.as_str())]].concat();
        assert_eq!(student.post(&another, &again).status, 303);
        let twice = student.post(&another, &again);
        assert_eq!(twice.status, 422, "{}", twice.read());
        let other = studio.signed_in(OTHER_STUDENT);
        assert_eq!(other.post(&another, &again).status, 404);
        assert!(student.get(&path(studio, old)).read().contains("taken the place of this one"));
    }

    fn a_start_without_its_sign_off_is_refused_and_says_who_can_give_it(studio) {
        let things = fresh(studio);
        let student = studio.signed_in(STUDENT);
        let plate = path(studio, things.plate);
        let page = student.post(&format!("{plate}/start"), &[("step", "prepare")]);
        assert_eq!(page.status, 409);
        assert!(page.read().contains("Acid and gum") && page.read().contains("Ines Ravel"), "{}", page.read());
        let kept: i64 = refusal::table.count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(kept, 1, "a refusal is kept, so that somebody stuck is seen");
        let runs: i64 = step_run::table.count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(runs, 0);
        assert_eq!(student.post(&format!("{plate}/allow"), &[("step", "prepare"), ("reason", "x")]).status, 403);
        let instructor = studio.signed_in(INSTRUCTOR);
        assert_eq!(instructor.post(&format!("{plate}/allow"), &[("step", "prepare"), ("reason", "")]).status, 422);
        let allowed = instructor.post(&format!("{plate}/allow"), &[("step", "prepare"), ("why", "beside")]);
        assert_eq!(allowed.status, 303);
        assert_eq!(student.post(&format!("{plate}/start"), &[("step", "prepare")]).status, 303);
        let used: Option<i64> = allowance::table.select(allowance::used_at).first(&mut studio.connection()).unwrap();
        assert!(used.is_some(), "used once");
    }

    fn a_plate_goes_its_way_and_the_order_is_kept(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let student = studio.signed_in(STUDENT);
        let plate = path(studio, things.plate);
        let early = student.post(&format!("{plate}/start"), &[("step", "roll-up")]);
        assert_eq!(early.status, 409, "no roll-up before a first etch: {}", early.read());
        for step in ["prepare", "draw"] {
            let page = student.post(&format!("{plate}/start"), &[("step", step)]);
            assert_eq!(page.status, 303, "{step}: {}", page.read());
            studio.later_ms(3_600_000);
            let run: tympan::ids::StepRunId = step_run::table
                .filter(step_run::step_key.eq(step)).select(step_run::id)
                .first(&mut studio.connection()).unwrap();
            let run = run.to_string();
            assert_eq!(student.post(&format!("{plate}/end"), &[("run", &run)]).status, 303);
            assert_eq!(student.post(&format!("{plate}/end"), &[("run", &run)]).status, 409, "ended once");
        }
        let standing: String = plate::table.find(things.plate).select(plate::standing)
            .first(&mut studio.connection()).unwrap();
        assert_eq!(standing, "drawn");
        let page = student.get(&plate);
        assert!(page.read().contains("First etch"), "{}", page.read());
        let today = student.get(&studio.class_path());
        assert!(today.read().contains("Stair lamp"), "{}", today.read());
    }

    fn what_has_happened_is_stored_marked_and_settled(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let (student, instructor) = (studio.signed_in(STUDENT), studio.signed_in(INSTRUCTOR));
        let plate = path(studio, things.plate);
        let told = [("step", "roll-up"), ("began", "2026-10-19T10:00"), ("ended", "2026-10-19T11:00"), ("note", "forgot to log")];
        let shown = student.get(&plate).text();
        let (before, folded) = shown.split_once("<summary>Scrap</summary>").expect("one tap does not end a plate");
        let start = "name=\"step\" value=\"scrap\"";
        assert!(!before.contains(start) && folded.split("</details>").next().unwrap().contains(start), "{shown}");
        let no_id = student.get(&format!("{}/plates/x", studio.class_path()));
        assert!(no_id.status == 404 && no_id.has("</html>"), "a page, not a word: {}", no_id.text());
        let ahead = [("step", "draw"), ("began", "2026-10-20T09:00"), ("ended", "2026-10-21T11:00")];
        assert_eq!(student.post(&format!("{plate}/tell"), &ahead).status, 422, "nothing lies ahead of now");
        let backwards = [("step", "draw"), ("began", "2026-10-19T11:00"), ("ended", "2026-10-19T10:00")];
        assert_eq!(student.post(&format!("{plate}/tell"), &backwards).status, 422);
        let page = student.post(&format!("{plate}/tell"), &told);
        assert!(page.location().ends_with("done=done-told-outside"), "{}", page.location());
        let today = instructor.get(&studio.class_path());
        assert!(today.read().contains("outside the rules"), "{}", today.read());
        let next = student.post(&format!("{plate}/start"), &[("step", "prepare")]);
        assert_eq!(next.status, 409, "it blocks what follows: {}", next.read());
        let run: tympan::ids::StepRunId = step_run::table.select(step_run::id).first(&mut studio.connection()).unwrap();
        let run = run.to_string();
        let settle = [("run", run.as_str()), ("ordered", "again"), ("why", "other"), ("reason", "start over, it was not etched")];
        assert_eq!(student.post(&format!("{plate}/settle"), &settle).status, 403);
        assert_eq!(instructor.post(&format!("{plate}/settle"), &settle).status, 303);
        assert_eq!(instructor.post(&format!("{plate}/settle"), &settle).status, 409);
        assert_eq!(student.post(&format!("{plate}/start"), &[("step", "prepare")]).status, 303);
    }

    fn a_sitting_ends_with_the_plate_gummed_or_with_a_warning(studio) {
        let things = set(studio);
        let student = studio.signed_in(STUDENT);
        let plate = path(studio, things.plate);
        assert_eq!(student.post(&format!("{plate}/put-down"), &[("gummed", "yes"), ("rack_place", "")]).status, 422);
        assert_eq!(student.post(&format!("{plate}/put-down"), &[("buffed", "yes"), ("rack_place", "B4")]).status, 422);
        let bare = student.post(&format!("{plate}/put-down"), &[("rack_place", "B4")]);
        assert!(bare.location().ends_with("done-put-down-bare"));
        let fine = student.post(&format!("{plate}/put-down"), &[("gummed", "yes"), ("buffed", "yes"), ("rack_place", "B4")]);
        assert!(fine.location().ends_with("done-put-down"));
        let kept: i64 = put_down::table.count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(kept, 2);
        assert!(student.get(&plate).read().contains("rack B4"));
    }

    fn a_print_is_handed_in_and_taken_back(studio) {
        let things = set(studio);
        let student = studio.signed_in(STUDENT);
        let hand_in = format!("{}/prints/{}/hand-in", studio.class_path(), things.print);
        assert_eq!(student.post(&hand_in, &[]).status, 303);
        let at: Option<i64> = print::table.find(things.print).select(print::handed_in_at).first(&mut studio.connection()).unwrap();
        assert_eq!(at, Some(studio.now().millis()));
        assert_eq!(student.post(&hand_in, &[("back", "yes")]).status, 303);
    }

    fn staff_see_the_class_late_and_stuck_first(studio) {
        set(studio);
        studio.at("2026-11-24T20:00:00Z");
        let page = studio.signed_in(INSTRUCTOR).get(&format!("{}/all", studio.class_path()));
        assert_eq!(page.status, 200);
        assert!(page.read().contains("Vale, Sami") && page.has("flag-"), "{}", page.read());
        assert_eq!(studio.signed_in(STUDENT).get(&format!("{}/all", studio.class_path())).status, 403);
        let late = studio.signed_in(ASSISTANT).get(&format!("{}/all?show=closed", studio.class_path()));
        assert!(!late.read().contains("Stair lamp"));
        let signed: i64 = sign_off::table.count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(signed, 1);
    }
}
