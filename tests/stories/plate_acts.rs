//! What cannot be used comes back on the plate's page, at its field, with everything typed; and whatever is sent twice
//! is stored once.

use diesel::prelude::*;
use tympan::ids::{EtchId, StepRunId};
use tympan::store::schema::{allowance, etch as etch_table, put_down, refusal, step_run};

use super::plates::{fresh, path, set, train};
use crate::on_both;
use crate::stories::rows;
use crate::studio::Studio;
use crate::studio::browserlike::Page;
use crate::studio::world::*;

/// The complaint stands on top, and the control with this id is marked and described by it; a group of buttons is
/// described alone.
fn complains(page: &Page, id: &str, says: &str) {
    assert_eq!(page.status, 422, "{id}: {}", page.read());
    assert!(page.has("id=\"summary\"") && page.has(&format!("href=\"#{id}\"")), "{id} in the summary");
    assert!(page.has(&format!("id=\"{id}-complaint\"")), "{id} has its complaint beside it: {}", page.read());
    let text = page.text();
    let tag = text.split('<').find(|tag| tag.contains(&format!("id=\"{id}\""))).unwrap();
    assert!(tag.starts_with("fieldset") || tag.contains("aria-invalid=\"true\""), "{tag}");
    assert!(tag.contains(&format!("{id}-complaint\"")), "described by it: {tag}");
    assert!(page.read().contains(says), "{id}: {}", page.read());
    assert!(page.read().contains("Done so far"), "it is the plate's page");
}

fn a_run(studio: &Studio, step: &str) -> String {
    let run: StepRunId = step_run::table
        .filter(step_run::step_key.eq(step))
        .select(step_run::id)
        .first(&mut studio.connection())
        .unwrap();
    run.to_string()
}

fn runs(studio: &Studio) -> i64 {
    step_run::table.count().get_result(&mut studio.connection()).unwrap()
}

on_both! {
    fn a_note_for_a_step_that_was_ended_meanwhile_is_kept(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let student = studio.signed_in(STUDENT);
        let plate = path(studio, things.plate);
        assert_eq!(student.post(&format!("{plate}/start"), &[("step", "prepare")]).status, 303);
        let run = a_run(studio, "prepare");
        let end = format!("{plate}/end");
        assert_eq!(student.post(&end, &[("run", &run), ("note", "Counter-etched twice.")]).status, 303);
        studio.later_ms(60_000);
        let late = student.post(&end, &[("run", &run), ("sheets", "3"), ("note", "Grain is coarse at the left.")]);
        assert!(late.location().ends_with("done=done-noted-after"), "{}", late.read());
        let page = student.get(&plate);
        for said in ["Counter-etched twice.", "Sheets, told after the step had ended: 3", "Grain is coarse at the left."] {
            assert!(page.read().contains(said), "{said}: {}", page.read());
        }
        let (sheets, ended): (Option<i32>, Option<tympan::clock::Instant>) = step_run::table.select((step_run::sheets, step_run::ended_at))
            .filter(step_run::id.eq(run.parse::<StepRunId>().unwrap())).first(&mut studio.connection()).unwrap();
        assert_eq!((sheets, ended), (None, Some(NOW)), "when it ended stays as it was");
        let nothing = student.post(&end, &[("run", &run)]);
        assert!(nothing.status == 409 || nothing.status == 422, "{}", nothing.status);
        assert!(nothing.read().contains("This step is ended already"), "{}", nothing.read());
        let other = studio.signed_in(OTHER_STUDENT).post(&end, &[("run", &run), ("note", "mine")]);
        assert_eq!(other.status, 404);
    }

    fn a_step_told_wrongly_comes_back_at_its_fields(studio) {
        let things = fresh(studio);
        let student = studio.signed_in(STUDENT);
        let tell = format!("{}/tell", path(studio, things.plate));
        let long = "x".repeat(1001);
        for (field, value, id, says) in [
            ("began", "yesterday", "plates-tell-began", "“yesterday” is no day and time"),
            ("began", "", "plates-tell-began", "missing"),
            ("began", "2025-10-19T09:00", "plates-tell-began", "more than 120 days before the plate was entered"),
            ("ended", "2026-10-19T09:00", "plates-tell-ended", "before it began"),
            ("ended", "2026-10-21T11:00", "plates-tell-ended", "2026-10-21 11:00 lies ahead of now"),
            ("note", long.as_str(), "plates-tell-note", "1001 characters; at most 1000"),
            ("note", "bell\u{7}", "plates-tell-note", "control characters"),
            ("step", "sanding", "plates-tell-step", "“sanding” is no step"),
        ] {
            let mut fields = [
                ("step", "draw"), ("began", "2026-10-19T10:00"), ("ended", "2026-10-19T11:00"),
                ("note", "kept as typed"), ("card", "yes"),
            ];
            for one in &mut fields { if one.0 == field { one.1 = value; } }
            let page = student.post(&tell, &fields);
            complains(&page, id, says);
            let page_has = |text: &str| assert!(page.has(text), "{field}={value} keeps {text}");
            if field != "note" { page_has("kept as typed"); }
            if field != "ended" { page_has("value=\"2026-10-19T11:00\""); }
            page_has("name=\"card\" value=\"yes\" checked");
            page_has("<details open>");
        }
        assert_eq!(runs(studio), 0, "nothing of it was stored");
        let told = [("step", "draw"), ("began", "2026-10-19T10:00"), ("ended", "2026-10-19T11:00")];
        let ways: Vec<String> = (0..2).map(|_| student.post_once(&tell, &told, "told-once-and-again").location().to_owned()).collect();
        assert_eq!(ways[0], ways[1]);
        assert_eq!(runs(studio), 1);
        assert_eq!(studio.signed_in(OTHER_STUDENT).post(&tell, &[("began", "x")]).status, 404, "whatever was typed");
    }

    fn a_start_and_an_end_sent_twice_are_one(studio) {
        let things = fresh(studio);
        let student = studio.signed_in(STUDENT);
        let plate = path(studio, things.plate);
        let start = format!("{plate}/start");
        for _ in 0..2 {
            let page = student.post_once(&start, &[("step", "prepare")], "a-start-that-is-refused");
            assert_eq!(page.status, 409);
            assert!(page.read().contains("Acid and gum"), "{}", page.read());
        }
        let kept: i64 = refusal::table.count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(kept, 1, "one refusal: two would make the plate look stuck");
        train(studio, &things);
        assert_eq!(student.post_once(&start, &[("step", "prepare")], "a-start-that-is-refused").status, 303);
        assert_eq!(runs(studio), 0, "an old form starts nothing");
        let page = student.post(&start, &[("step", "sanding")]);
        assert_eq!(page.status, 422);
        assert!(page.has("id=\"summary\"") && page.read().contains("“sanding” is no step"), "{}", page.read());
        for _ in 0..2 {
            assert_eq!(student.post_once(&start, &[("step", "prepare")], "a-start-that-is-fine").status, 303);
        }
        assert_eq!(runs(studio), 1);
        let (end, run) = (format!("{plate}/end"), a_run(studio, "prepare"));
        let long = "y".repeat(1001);
        let page = student.post(&end, &[("run", &run), ("note", &long)]);
        complains(&page, "plates-end-note", "1001 characters");
        assert!(page.has(&long), "what was typed is kept");
        let page = student.post(&end, &[("run", "x"), ("note", "a note")]);
        assert_eq!(page.status, 422);
        assert!(page.has("id=\"summary\"") && page.has("a note"));
        for _ in 0..2 {
            assert_eq!(student.post_once(&end, &[("run", &run)], "an-end-that-is-fine").status, 303);
        }
        let late = student.post(&end, &[("run", &run)]);
        assert_eq!(late.status, 409, "somebody ended it meanwhile");
        assert!(late.has("id=\"summary\"") && late.read().contains("ended already"), "{}", late.read());
        let nobodys = "00000000-0000-7000-8000-000000000000";
        assert_eq!(student.post(&end, &[("run", nobodys)]).status, 404);
    }

    fn sheets_of_an_edition_are_a_number(studio) {
        let things = fresh(studio);
        let db = &mut studio.connection();
        let student = studio.signed_in(STUDENT);
        let plate = path(studio, things.plate);
        let instructor = studio.signed_in(INSTRUCTOR);
        let allow = [("step", "edition"), ("why", "shown")];
        assert_eq!(instructor.post(&format!("{plate}/allow"), &allow).status, 303);
        assert_eq!(student.post(&format!("{plate}/start"), &[("step", "edition")]).status, 303);
        let (end, run) = (format!("{plate}/end"), a_run(studio, "edition"));
        for (sheets, says) in [("a dozen", "“a dozen” is no number"), ("2001", "0 to 2000"), ("-1", "0 to 2000")] {
            let page = student.post(&end, &[("run", &run), ("sheets", sheets), ("note", "good black")]);
            complains(&page, "plates-end-sheets", says);
            assert!(page.has(&format!("value=\"{sheets}\"")) && page.has("good black"), "kept as typed");
        }
        assert_eq!(student.post(&end, &[("run", &run), ("sheets", "12")]).status, 303);
        let sheets: Option<i32> = step_run::table.select(step_run::sheets).first(db).unwrap();
        assert_eq!(sheets, Some(12));
    }

    fn a_plate_put_down_wrongly_comes_back_at_its_fields(studio) {
        let things = set(studio);
        let student = studio.signed_in(STUDENT);
        let down = format!("{}/put-down", path(studio, things.plate));
        let page = student.post(&down, &[("gummed", "yes"), ("talc", "yes"), ("rack_place", " ")]);
        complains(&page, "plates-down-rack_place", "missing");
        assert!(page.has("name=\"gummed\" value=\"yes\" checked"), "ticks are kept");
        let page = student.post(&down, &[("buffed", "yes"), ("rack_place", "B4")]);
        complains(&page, "plates-down-gummed", "buffed after it is gummed");
        assert!(page.has("value=\"B4\"") && page.has("name=\"buffed\" value=\"yes\" checked"));
        let long = "B".repeat(41);
        complains(&student.post(&down, &[("rack_place", &long)]), "plates-down-rack_place", "at most 40");
        for _ in 0..2 {
            let fine = [("gummed", "yes"), ("buffed", "yes"), ("rack_place", "B4")];
            assert!(student.post_once(&down, &fine, "put-down-once-only").location().ends_with("done-put-down"));
        }
        let kept: i64 = put_down::table.count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(kept, 1);
        let talced = [("gummed", "yes"), ("talc", "yes"), ("buffed", "yes"), ("rack_place", "B5")];
        assert_eq!(student.post(&down, &talced).status, 303);
        let kept: Vec<(bool, bool, String)> = put_down::table
            .order((put_down::at, put_down::id)).select((put_down::gummed, put_down::talc, put_down::rack_place))
            .load(&mut studio.connection()).unwrap();
        assert!(kept.contains(&(true, true, "B5".to_owned())) && kept.contains(&(true, false, "B4".to_owned())), "{kept:?}");
    }

    fn a_start_is_allowed_once_for_a_reason(studio) {
        let things = fresh(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let plate = path(studio, things.plate);
        let allow = format!("{plate}/allow");
        let long = "z".repeat(301);
        for (step, why, reason, id, says) in [
            ("first-etch", "", "", "plates-allow-reason", "This is missing"),
            ("first-etch", "mood", "", "plates-allow-why", "“mood” is not one of the choices"),
            ("first-etch", "other", "", "plates-allow-reason", "write it here"),
            ("first-etch", "beside", long.as_str(), "plates-allow-reason", "301 characters"),
            ("sanding", "beside", "for once", "plates-allow-step", "“sanding” is no step"),
            ("", "beside", "for once", "plates-allow-step", "missing"),
        ] {
            let page = instructor.post(&allow, &[("step", step), ("why", why), ("reason", reason)]);
            complains(&page, id, says);
            assert!(page.has("<details open>"), "the form stands open");
            assert!(reason.is_empty() || page.has(&format!("value=\"{reason}\"")), "kept as typed");
        }
        for _ in 0..2 {
            let fine = [("step", "prepare"), ("why", "beside"), ("reason", "first time")];
            assert_eq!(instructor.post_once(&allow, &fine, "allowed-once-and-again").status, 303);
        }
        let kept: Vec<String> = allowance::table.select(allowance::reason).load(&mut studio.connection()).unwrap();
        assert_eq!(kept, ["The instructor stands beside: first time"]);
        assert!(!studio.signed_in(STUDENT).get(&plate).has("/allow\""), "a student allows nothing");
    }

    fn a_step_beside_others_is_ended_or_taken_back_while_another_comes_next(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let student = studio.signed_in(STUDENT);
        let plate = path(studio, things.plate);
        let today = studio.class_path();
        for page in [&plate, &today] {
            assert!(!student.get(page).read().contains("Under way besides"), "{page}");
        }
        assert_eq!(student.post(&format!("{plate}/start"), &[("step", "tear-paper")]).status, 303);
        let run = a_run(studio, "tear-paper");
        let page = student.get(&plate);
        assert!(page.read().contains("Under way besides Tear paper"), "{}", page.read());
        let told = student.get(&today).read();
        assert!(told.contains("Under way besides: Tear paper, since "), "{told}");
        assert_eq!(page.text().matches(&format!("name=\"run\" value=\"{run}\"")).count(), 2, "to end and to take back");
        assert!(!studio.signed_in(ASSISTANT).get(&plate).has("/take-back\""), "an assistant looks on");
        studio.later_ms(11 * 60_000);
        let page = student.get(&plate);
        assert!(page.has("/end\"") && !page.has("/take-back\""), "{}", page.read());
        assert_eq!(student.post(&format!("{plate}/start"), &[("step", "prepare")]).status, 303);
        assert_eq!(student.post(&format!("{plate}/end"), &[("run", &run)]).status, 303);
        let page = student.get(&plate).read();
        assert!(!page.contains("Under way besides") && page.contains("Prepare is done"), "{page}");
    }

    fn what_an_instructor_began_no_student_ends_or_takes_back(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let (student, instructor) = (studio.signed_in(STUDENT), studio.signed_in(INSTRUCTOR));
        let plate = path(studio, things.plate);
        let allow = [("step", "go-ahead"), ("why", "beside"), ("reason", "shown")];
        assert_eq!(instructor.post(&format!("{plate}/allow"), &allow).status, 303);
        let begun = instructor.post(&format!("{plate}/start"), &[("step", "go-ahead")]);
        assert_eq!(begun.status, 303, "{}", begun.read());
        let run = a_run(studio, "go-ahead");
        let take_back = format!("{plate}/take-back");
        for path in [&take_back, &format!("{plate}/end")] {
            let refused = student.post(path, &[("run", &run)]);
            assert_eq!(refused.status, 409, "{path}: {}", refused.read());
            assert!(refused.read().contains("Go-ahead is the instructor’s to do."), "{path}: {}", refused.read());
        }
        assert!(!student.get(&plate).has(&format!("value=\"{run}\"")), "nor is either offered");
        assert!(instructor.get(&plate).has(&format!("value=\"{run}\"")), "but to the instructor");
        assert_eq!(runs(studio), 1);
        assert_eq!(instructor.post(&take_back, &[("run", &run)]).status, 303);
        assert_eq!(runs(studio), 0);
    }

    fn a_start_made_by_mistake_is_taken_back_and_what_was_allowed_leaves_a_trace(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let (student, instructor) = (studio.signed_in(STUDENT), studio.signed_in(INSTRUCTOR));
        let plate = path(studio, things.plate);
        let (start, take_back) = (format!("{plate}/start"), format!("{plate}/take-back"));
        let allow = [("step", "first-etch"), ("why", "beside"), ("reason", "drawn at home")];
        assert_eq!(student.post(&start, &[("step", "first-etch")]).status, 409, "nothing is drawn");
        assert_eq!(instructor.post(&format!("{plate}/allow"), &allow).status, 303);
        let unused = "because: The instructor stands beside: drawn at home. Not used so far.";
        for who in [&student, &instructor] {
            assert!(who.get(&plate).read().contains(unused), "{}", who.get(&plate).read());
        }
        studio.later_ms(60_000);
        assert_eq!(student.post(&start, &[("step", "first-etch")]).status, 303);
        let page = student.get(&plate);
        assert!(page.has(&take_back) && page.read().contains("drawn at home. Used "), "{}", page.read());
        let run = a_run(studio, "first-etch");
        assert_eq!(studio.signed_in(OTHER_STUDENT).post(&take_back, &[("run", &run)]).status, 404);
        studio.later_ms(9 * 60_000);
        for _ in 0..2 {
            let page = student.post_once(&take_back, &[("run", &run)], "taken-back-and-again");
            assert!(page.location().ends_with("done-start-taken-back"), "{} {}", page.location(), page.read());
        }
        assert_eq!(runs(studio), 0);
        assert!(student.get(&plate).read().contains(unused), "it can be used again");
        let standing: String = tympan::store::schema::plate::table
            .find(things.plate).select(tympan::store::schema::plate::standing).first(&mut studio.connection()).unwrap();
        assert_ne!(standing, "under_way");
        for act in ["step.started", "step.start-taken-back"] {
            assert_eq!(rows(studio, &format!("journal WHERE act = '{act}'")), 1, "{act}");
        }
        // What is kept under a start keeps the start, and after ten minutes it stays as well.
        assert_eq!(student.post(&start, &[("step", "first-etch")]).status, 303);
        let run = a_run(studio, "first-etch");
        let etch = [
            ("run", run.as_str()), ("unit", "us_fl_oz"), ("recipe", "pure_gum"), ("gum", "none"), ("gum_volume", "1"),
            ("acid", "none"), ("application_1", "2"), ("goes_on", "yes"),
        ];
        let logged = student.post(&format!("{plate}/etches/new"), &etch);
        assert_eq!(logged.status, 303, "{}", logged.read());
        let ended = student.post(&take_back, &[("run", &run)]);
        assert!(ended.status == 409 && ended.read().contains("while the step goes on"), "{} {}", ended.status, ended.read());
        studio.later_ms(60_000);
        assert_eq!(student.post(&start, &[("step", "roll-up")]).status, 303);
        let run = a_run(studio, "roll-up");
        let log: EtchId = etch_table::table.select(etch_table::id).first(&mut studio.connection()).unwrap();
        let seen = student.post(&format!("{plate}/etches/{log}/came-up"), &[("how", "as-drawn")]);
        assert_eq!(seen.status, 303, "{}", seen.read());
        let kept = student.post(&take_back, &[("run", &run)]);
        assert!(kept.status == 409 && kept.read().contains("is kept under this start"), "{} {}", kept.status, kept.read());
        studio.later_ms(10 * 60_000 + 1);
        let late = student.post(&take_back, &[("run", &run)]);
        assert!(late.status == 409 && late.read().contains("for ten minutes"), "{} {}", late.status, late.read());
        assert!(!student.get(&plate).has(&take_back));
        assert_eq!(runs(studio), 2);
    }

    fn a_run_outside_the_rules_is_settled_for_a_reason(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let (student, instructor) = (studio.signed_in(STUDENT), studio.signed_in(INSTRUCTOR));
        let plate = path(studio, things.plate);
        for began in ["2026-10-19T10:00", "2026-10-19T10:30"] {
            let told = [("step", "roll-up"), ("began", began), ("ended", "2026-10-19T11:00")];
            assert_eq!(student.post(&format!("{plate}/tell"), &told).status, 303);
        }
        let settle = format!("{plate}/settle");
        let run = a_run(studio, "roll-up");
        let page = instructor.post(&settle, &[("run", &run), ("ordered", "stands"), ("why", "other"), ("reason", " ")]);
        complains(&page, "plates-settle-reason", "write it here");
        assert!(page.has("value=\"other\" checked"), "the choice is kept");
        assert_eq!(page.text().matches("<fieldset class=\"field\" id=\"plates-settle-why-").count(), 1, "the other run has a form of its own");
        let page = instructor.post(&settle, &[("run", &run), ("ordered", "perhaps"), ("why", "looked")]);
        assert_eq!(page.status, 422);
        assert!(page.has("id=\"summary\"") && page.read().contains("“perhaps” is not one of the choices"));
        for _ in 0..2 {
            let fine = [("run", run.as_str()), ("ordered", "stands"), ("why", "log")];
            assert_eq!(instructor.post_once(&settle, &fine, "settled-once-and-again").status, 303);
        }
        let late = instructor.post(&settle, &[("run", &run), ("ordered", "again"), ("why", "looked")]);
        assert_eq!(late.status, 409, "somebody settled it meanwhile");
        assert!(late.has("id=\"summary\"") && late.read().contains("nothing to settle"), "{}", late.read());
        assert!(student.get(&plate).read().contains("It stands: The log is at fault, not the work"));
    }
}
