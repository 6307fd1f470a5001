//! What is refused, at its field and with what was typed still there; and who may do what.

use super::{copy, form_of, keep, last, list, send, with};
use crate::on_both;
use crate::stories::plates::{fresh, train};
use crate::stories::{refuses, rows};
use crate::studio::world::*;

on_both! {
    fn bad_fields_come_back_at_their_place(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let instructor = studio.signed_in(INSTRUCTOR);
        let list = list(studio);
        let long = "x".repeat(81);
        refuses(&instructor, &format!("{list}/new"), "procedures-new", &[("name", "Mine"), ("surface", "plate")], &[
            ("name", "", "This is missing"),
            ("name", &long, "at most 80"),
            ("name", "a\u{7}b", "control characters"),
            ("name", "Ball-grained aluminium plate", "already a procedure"),
            ("surface", "slate", "not one of the choices"),
        ]);
        let writing = copy(&instructor, &list, &things.procedure.to_string(), "Mine");
        refuses(&instructor, &format!("{writing}/steps"), "procedures-add", &[("title", "New")], &[
            ("title", "", "This is missing"),
            ("title", "a\u{0}b", "control characters"),
            ("after", "nobody", "not one of the choices"),
        ]);
        let step = format!("{writing}/steps/first-etch");
        let form = form_of(&instructor.get(&step), &step);
        let fields: Vec<(&str, &str)> = form.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
        let (line, lines) = ("y".repeat(601), "a\n".repeat(41));
        refuses(&instructor, &step, "procedures-step", &fields, &[
            ("title", "", "This is missing"),
            ("minutes", "", "This is missing"),
            ("minutes", "long", "no length of time"),
            ("minutes", "-5", "outside what is possible"),
            ("minutes", "3 d", "outside what is possible"),
            ("per_sheet", "a lot", "no length of time"),
            ("rest_advised", "99999999999 d", "outside what is possible"),
            ("rest_minimum", "12 weeks", "no length of time"),
            ("before", "a\u{0}b", "control characters"),
            ("during", &line, "a line too long"),
            ("afterwards", &lines, "These are 41 lines"),
            ("after", "first-etch", "cannot come after itself"),
            ("after", "nobody", "not one of the choices"),
            ("rest_since", "nobody", "not one of the choices"),
            ("hazards", "tigers", "not one of the choices"),
            ("place", "moon", "not one of the choices"),
            ("station", "", "Name the kind of station"),
            ("records", "sound", "not one of the choices"),
            ("recording_link", "javascript:alert(1)", "no address of a recording"),
            ("recording_minute", "twelve", "is no number"),
            ("counts_as", "gummed", "cannot be a word in rules"),
            ("then_only", "nobody", "not one of the choices"),
        ]);
        for (other, at, said) in [
            ([("maximum", Some("minutes"))], "maximum_time", "Say how long"),
            ([("need0_kind", Some("after_any_of"))], "need0_of", "names no step"),
            ([("recording_minute", Some("3"))], "recording_link", "needs the address"),
        ] {
            let page = send(&instructor, &step, &with(&form, &other));
            assert_eq!(page.status, 422);
            assert!(page.has(&format!("id=\"procedures-step-{at}-complaint\"")) && page.read().contains(said), "{at}: {}", page.read());
        }
        assert_eq!(rows(studio, "procedure_draft"), 0, "nothing was stored");
    }

    fn a_circle_a_lost_word_and_a_rest_that_cannot_be_kept_are_said_at_their_steps(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let instructor = studio.signed_in(INSTRUCTOR);
        let writing = copy(&instructor, &list(studio), &things.procedure.to_string(), "Mine");
        let change = |key: &str, other: &[(&str, Option<&str>)]| {
            let step = format!("{writing}/steps/{key}");
            let form = form_of(&instructor.get(&step), &step);
            let page = send(&instructor, &step, &with(&form, other));
            assert_eq!(page.status, 303, "{key}: {}", page.read());
        };
        change("prepare", &[("after", Some("draw"))]);
        change("first-etch", &[("rest_minimum", Some("1 d")), ("rest_advised", Some("12 h"))]);
        let page = keep(&instructor, &writing);
        assert_eq!(page.status, 422);
        let read = page.read();
        assert!(read.contains("Prepare waits for itself: Prepare → Draw → Prepare"), "{read}");
        assert!(read.contains("First etch: the advised rest of 12\u{a0}h is shorter than the shortest, 1\u{a0}d")
            || read.contains("First etch: the advised rest of 12 h is shorter than the shortest, 1 d"), "{read}");
        assert!(page.has("href=\"#procedures-draft-prepare\"") && page.has("id=\"procedures-draft-prepare\""));
        assert!(read.contains("2 things are to be mended"), "{read}");
        change("prepare", &[("after", None)]);
        change("first-etch", &[("rest_minimum", Some("")), ("rest_advised", Some("12 h"))]);
        assert!(!instructor.get(&writing).read().contains("to be mended"));
    }

    fn a_stale_save_keeps_what_was_typed_and_the_same_submit_twice_is_stored_once(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let instructor = studio.signed_in(INSTRUCTOR);
        let list = list(studio);
        let new = [("name", "From nothing"), ("surface", "stone")];
        for _ in 0..2 {
            assert_eq!(instructor.post_once(&format!("{list}/new"), &new, "one-once-key-for-two").status, 303);
        }
        assert_eq!(rows(studio, "procedure WHERE name = 'From nothing'"), 1);
        let writing = copy(&instructor, &list, &things.procedure.to_string(), "Mine");
        let step = format!("{writing}/steps/draw");
        let form = form_of(&instructor.get(&step), &step);
        let other = format!("{writing}/steps/proof");
        let beside = form_of(&instructor.get(&other), &other);
        assert_eq!(send(&instructor, &step, &with(&form, &[("title", Some("Draw and note"))])).status, 303);
        assert_eq!(send(&instructor, &other, &with(&beside, &[("source", Some("ours"))])).status, 303, "another step is not stale");
        let stale = send(&instructor, &step, &with(&form, &[("title", Some("Draw slowly"))]));
        assert_eq!(stale.status, 422);
        assert!(stale.has("value=\"Draw slowly\"") && stale.read().contains("“Draw and note”"), "{}", stale.read());
        let again = form_of(&stale, &step);
        assert_eq!(send(&instructor, &step, &again).status, 303, "saving again is a choice");
        let head = form_of(&instructor.get(&writing), &writing);
        assert_eq!(send(&instructor, &writing, &with(&head, &[("name", Some("Ours"))])).status, 303);
        let stale = send(&instructor, &writing, &with(&head, &[("name", Some("Theirs"))]));
        assert!(stale.status == 422 && stale.has("value=\"Theirs\"") && stale.read().contains("“Ours”"), "{}", stale.read());
        let added = format!("{writing}/steps");
        for _ in 0..2 {
            assert_eq!(instructor.post_once(&added, &[("title", "Twice")], "a-second-key-for-two").status, 303);
        }
        assert_eq!(instructor.get(&writing).text().matches("id=\"procedures-draft-twice").count(), 1);
        let keep_form = form_of(&instructor.get(&writing), &format!("{writing}/keep"));
        let fields: Vec<(&str, &str)> = keep_form.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
        for _ in 0..2 {
            let kept = instructor.post_once(&format!("{writing}/keep"), &fields, "a-third-key-for-two");
            assert_eq!(kept.status, 303, "{}", kept.read());
        }
        assert_eq!(rows(studio, "procedure_version WHERE number = 2"), 1);
        assert_eq!(rows(studio, "procedure_version WHERE number = 3"), 0);
    }

    fn a_step_that_somebody_took_out_meanwhile_keeps_what_was_typed(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let instructor = studio.signed_in(INSTRUCTOR);
        let writing = copy(&instructor, &list(studio), &things.procedure.to_string(), "Mine");
        let step = format!("{writing}/steps/draw");
        let form = with(&form_of(&instructor.get(&step), &step), &[("title", Some("Draw with tusche"))]);
        let version = |page: &crate::studio::Page| {
            let form = form_of(page, &format!("{writing}/order"));
            form.into_iter().find(|(name, _)| name == "version").unwrap().1
        };
        let seen = version(&instructor.get(&writing));
        let out = [("step", "draw"), ("deed", "remove"), ("version", seen.as_str())];
        assert_eq!(instructor.post(&format!("{writing}/order"), &out).status, 303);
        assert_eq!(instructor.get(&step).status, 404);
        let gone = send(&instructor, &step, &form);
        assert_eq!(gone.status, 422, "{}", gone.read());
        assert!(gone.has("value=\"Draw with tusche\"") && gone.read().contains("Somebody took this step out of the draft"), "{}", gone.read());
        assert!(!gone.has(&format!("{step}/pictures")), "pictures go to a step that stands");
        let empty = send(&instructor, &step, &with(&form_of(&gone, &step), &[("minutes", Some(""))]));
        assert!(empty.status == 422 && empty.has("procedures-step-minutes-complaint") && empty.has("Draw with tusche"), "{}", empty.read());
        let again = with(&form_of(&empty, &step), &[("minutes", Some("4 h"))]);
        assert_eq!(send(&instructor, &step, &again).status, 303);
        assert!(instructor.get(&step).has("value=\"Draw with tusche\""));
        let order: Vec<usize> = ["prepare", "draw", "first-etch"]
            .map(|key| instructor.get(&writing).text().find(&format!("id=\"procedures-draft-{key}\"")).unwrap()).to_vec();
        assert!(order.is_sorted(), "behind the step it comes after: {order:?}");
        // Somebody else had it back already: then it is a stale save like any other.
        let stale = send(&instructor, &step, &with(&again, &[("title", Some("Third"))]));
        assert!(stale.status == 422 && stale.has("value=\"Third\"") && stale.read().contains("“Draw with tusche”"), "{}", stale.read());
        assert_eq!(instructor.post(&format!("{writing}/steps/No%20Key"), &[("title", "x")]).status, 404);
    }

    fn a_draft_is_thrown_away_on_purpose_and_can_be_taken_back(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let instructor = studio.signed_in(INSTRUCTOR);
        let list = list(studio);
        let begun = instructor.post(&format!("{list}/new"), &[("name", "From nothing"), ("surface", "stone")]);
        let writing = begun.location().split('?').next().unwrap().to_owned();
        assert_eq!(instructor.post(&format!("{writing}/steps"), &[("title", "Grain the stone")]).status, 303);
        let page = instructor.get(&writing);
        assert!(page.has(&format!("href=\"{writing}/discard\"")) && !page.has(&format!("action=\"{writing}/discard\"")), "asked first");
        let asked = instructor.get(&format!("{writing}/discard"));
        for said in ["From nothing", "The draft has 1 step.", "No version was ever kept", "take the draft back"] {
            assert!(asked.read().contains(said), "{said}: {}", asked.read());
        }
        let form = form_of(&asked, &format!("{writing}/discard"));
        let stale = send(&instructor, &format!("{writing}/discard"), &with(&form, &[("version", Some("1"))]));
        assert_eq!(stale.status, 422, "somebody wrote in it meanwhile: {}", stale.read());
        let gone = send(&instructor, &format!("{writing}/discard"), &form);
        assert!(gone.location().starts_with(&format!("{list}?done=")), "{}", gone.location());
        assert_eq!(instructor.get(&writing).status, 404);
        assert_eq!(instructor.get(&format!("{writing}/discard")).status, 404);
        let page = instructor.get(&list);
        assert!(page.read().contains("Thrown away") && page.read().contains("From nothing 1 Ines Ravel"), "{}", page.read());
        // Its name is free meanwhile; then it cannot come back under it.
        let other = instructor.post(&format!("{list}/new"), &[("name", "From nothing"), ("surface", "plate")]);
        assert_eq!(other.status, 303, "{}", other.read());
        let back = format!("{writing}/take-back");
        let taken = instructor.post(&back, &[]);
        assert!(taken.status == 422 && taken.read().contains("already a procedure"), "{}", taken.read());
        let second = other.location().split('?').next().unwrap().to_owned();
        let head = form_of(&instructor.get(&second), &second);
        assert_eq!(send(&instructor, &second, &with(&head, &[("name", Some("Another"))])).status, 303);
        assert_eq!(instructor.post(&back, &[]).status, 303);
        assert!(instructor.get(&writing).read().contains("Grain the stone"), "back as it was");
        assert_eq!(instructor.post(&back, &[]).status, 404, "it is not away any more");
        assert_eq!(studio.signed_in(STUDENT).post(&back, &[]).status, 403);
        // Of a procedure that was kept the version goes on holding.
        let kept = copy(&instructor, &list, &things.procedure.to_string(), "Kept");
        let head = form_of(&instructor.get(&kept), &kept);
        assert_eq!(send(&instructor, &kept, &with(&head, &[("about", Some("Changed"))])).status, 303);
        let asked = instructor.get(&format!("{kept}/discard"));
        assert!(asked.read().contains("Version 1 goes on holding"), "{}", asked.read());
        assert_eq!(send(&instructor, &format!("{kept}/discard"), &form_of(&asked, &format!("{kept}/discard"))).status, 303);
        assert!(!instructor.get(&kept).has("Changed"));
        assert_eq!(instructor.post(&format!("{kept}/take-back"), &[]).status, 303);
        assert!(instructor.get(&kept).has("Changed"));
        let findings = tympan::store::journal::check(&mut studio.connection()).unwrap();
        assert_eq!(findings, []);
    }

    fn files_that_are_no_procedure_are_refused_with_step_and_field(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/brought", list(studio));
        let step = |more: &str| format!("{{\"name\": \"x\", \"surface\": \"plate\", \"steps\": [{{\"key\": \"a\", \"title\": \"Wash out\", \"minutes\": {{\"fixed\": 1}}, \"where\": \"anywhere\"{more}}}]}}");
        let many: Vec<String> = (0..200).map(|n| format!("{{\"key\": \"s{n}\", \"title\": \"S\", \"minutes\": {{\"fixed\": 1}}, \"where\": \"anywhere\"}}")).collect();
        let many = format!("{{\"name\": \"x\", \"surface\": \"plate\", \"steps\": [{}]}}", many.join(","));
        for (file, said) in [
            (b"no json".to_vec(), "cannot be read"),
            (vec![0xff, 0xfe, 0x00], "UTF-8"),
            (step(", \"leaves\": \"asleep\"").into_bytes(), "Wash out (in “steps”): the field “leaves” cannot be read"),
            (step(", \"source\": \"a\\u0000b\"").into_bytes(), "Wash out: the field “source” has control characters"),
            (many.into_bytes(), "The procedure has 200 steps: keep to 60"),
            (b"{\"name\": \" \", \"surface\": \"plate\", \"steps\": []}".to_vec(), "write one to 80 characters"),
        ] {
            let page = instructor.upload(&path, &[], ("file", "p.json", &file));
            assert_eq!(page.status, 422, "{said}: {}", page.read());
            assert!(page.has("id=\"procedures-brought-file-complaint\"") && page.read().contains(said), "{said}: {}", page.read());
        }
        assert_eq!(instructor.upload(&path, &[], ("file", "p.json", &vec![b' '; 400_000])).status, 422);
        assert_eq!(instructor.post(&path, &[]).status, 422, "no file at all");
        assert_eq!(rows(studio, "procedure_draft"), 0);
        // Unsound but readable: brought in as a draft, and not kept.
        let odd = instructor.upload(&path, &[], ("file", "p.json", step(", \"after\": [\"nobody\"]").as_bytes()));
        assert_eq!(odd.status, 303, "{}", odd.read());
        let writing = odd.location().split('?').next().unwrap().to_owned();
        assert!(instructor.get(&writing).read().contains("Wash out comes after “nobody”, which is no step here"));
        assert_eq!(keep(&instructor, &writing).status, 422);
    }

    fn pictures_come_with_right_and_go_from_the_draft_but_not_from_what_was_kept(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let (instructor, student) = (studio.signed_in(INSTRUCTOR), studio.signed_in(STUDENT));
        let writing = copy(&instructor, &list(studio), &things.procedure.to_string(), "Mine");
        let id = last(&writing).to_owned();
        let step = format!("{writing}/steps/draw");
        let pictures = format!("{step}/pictures");
        let photo = std::fs::read("tests/pictures/whole.jpg").unwrap();
        let told = [("shows", "wrong"), ("caption", "Crayon broken through")];
        for (fields, bytes, at, said) in [
            (&told[..], b"no picture".to_vec(), "file", "not a picture"),
            (&[("shows", "wrong"), ("caption", "")][..], photo.clone(), "caption", "This is missing"),
            (&[("shows", "maybe"), ("caption", "c")][..], photo.clone(), "shows", "not one of the choices"),
            (&told[..], vec![0; 25_200_000], "file", "larger than 25 MB"),
        ] {
            let page = instructor.upload(&pictures, fields, ("file", "a.jpg", &bytes));
            assert_eq!(page.status, 422, "{at}: {}", page.read());
            assert!(page.read().contains(said), "{at}: {}", page.read());
            let caption = fields[1].1;
            assert!(page.has(&format!("value=\"{caption}\"")), "{at}: what was typed stays");
        }
        for _ in 0..2 {
            let page = instructor.upload_once(&instructor.seal(), "one-once-key-for-two", &pictures, &told, ("file", "a.jpg", &photo));
            assert_eq!(page.status, 303, "{}", page.read());
        }
        assert_eq!(rows(studio, "procedure_picture"), 1, "the same picture sent twice is one");
        let page = instructor.get(&step).text();
        let (_, rest) = page.split_once(&format!("/procedures/{id}/pictures/")).unwrap();
        let photo_id = rest.split('/').next().unwrap().to_owned();
        let shown = format!("{}/procedures/{id}/pictures/{photo_id}/320", studio.class_path());
        let seen = instructor.get(&shown);
        assert_eq!((seen.status, seen.headers.get("content-type").map(String::as_str)), (200, Some("image/jpeg")));
        assert_eq!(student.get(&shown).status, 404, "a draft is not the class's to see");
        assert_eq!(keep(&instructor, &writing).status, 303);
        assert_eq!(student.get(&shown).status, 200);
        let handout = student.get(&format!("{}/procedures/{id}", studio.class_path()));
        assert!(handout.has(&shown) && handout.read().contains("how wrong looks Crayon broken through"), "{}", handout.read());
        let elsewhere = format!("{}/procedures/{}/pictures/{photo_id}/320", studio.class_path(), things.procedure);
        assert_eq!(student.get(&elsewhere).status, 404, "that procedure does not name it");
        assert_eq!(studio.signed_in(STRANGER).get(&format!("/classes/{}/procedures/{id}/pictures/{photo_id}/320", studio.world.other_class)).status, 404);
        let gone = format!("{pictures}/{photo_id}/remove");
        assert_eq!(instructor.post(&gone, &[]).status, 303);
        assert_eq!(instructor.post(&gone, &[]).status, 404);
        assert!(!instructor.get(&step).has(&photo_id), "taken out of the draft");
        assert_eq!(student.get(&shown).status, 200, "what was kept goes on showing it");
    }

    fn a_sixty_first_step_is_refused_and_what_was_typed_stays(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let instructor = studio.signed_in(INSTRUCTOR);
        let steps: Vec<String> = (0..60).map(|n| format!("{{\"key\": \"s{n}\", \"title\": \"Step {n}\", \"minutes\": {{\"fixed\": 1}}, \"where\": \"anywhere\"}}")).collect();
        let full = format!("{{\"name\": \"Full\", \"surface\": \"plate\", \"steps\": [{}]}}", steps.join(","));
        let page = instructor.upload(&format!("{}/brought", list(studio)), &[], ("file", "p.json", full.as_bytes()));
        let writing = page.location().split('?').next().unwrap().to_owned();
        let more = instructor.post(&format!("{writing}/steps"), &[("title", "One too many")]);
        assert_eq!(more.status, 422);
        assert!(more.has("value=\"One too many\"") && more.read().contains("at most 60 steps"), "{}", more.read());
    }

    fn a_procedure_of_another_class_or_of_the_school_is_not_there_to_be_written(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let (instructor, stranger) = (studio.signed_in(INSTRUCTOR), studio.signed_in(STRANGER));
        let theirs = format!("/classes/{}/settings/procedures", studio.world.other_class);
        let begun = stranger.post(&format!("{theirs}/new"), &[("name", "Theirs"), ("surface", "plate")]);
        let id = last(begun.location().split('?').next().unwrap()).to_owned();
        let here = format!("{}/{id}", list(studio));
        for path in [here.clone(), format!("{here}/steps/draw"), format!("{}/procedures/{id}", studio.class_path())] {
            assert_eq!(instructor.get(&path).status, 404, "{path}");
        }
        for path in ["", "/steps", "/keep", "/discard", "/order"] {
            let fields = [("version", "1"), ("name", "Mine"), ("surface", "plate"), ("title", "T"), ("step", "a"), ("deed", "up")];
            assert_eq!(instructor.post(&format!("{here}{path}"), &fields).status, 404, "{path}");
        }
        assert_eq!(instructor.get(&format!("{}/new?from={id}", list(studio))).status, 404);
        assert_eq!(instructor.get(&format!("{}/new?from=x", list(studio))).status, 404);
        assert!(!instructor.get(&list(studio)).has("Theirs"));
        let of_school = school_procedure(studio);
        assert_eq!(instructor.get(&format!("{}/procedures/{of_school}", studio.class_path())).status, 200);
        assert_eq!(instructor.get(&format!("{}/{of_school}", list(studio))).status, 404, "copy it to write in it");
        for email in [STUDENT, ASSISTANT] {
            let visitor = studio.signed_in(email);
            assert_eq!(visitor.get(&format!("{}/procedures/{of_school}", studio.class_path())).status, 200);
            assert_eq!(visitor.get(&format!("{}/procedures/{of_school}?version=7", studio.class_path())).status, 404);
            assert_eq!(visitor.get(&list(studio)).status, 403);
        }
        assert_eq!(studio.signed_in(RECORDS).get(&format!("{}/procedures/{of_school}", studio.class_path())).status, 403);
    }
}

fn school_procedure(studio: &crate::studio::Studio) -> String {
    use diesel::prelude::*;
    use tympan::store::schema::{procedure, procedure_version};
    let db = &mut studio.connection();
    let id = uuid::Uuid::now_v7().to_string();
    diesel::insert_into(procedure::table)
        .values((
            procedure::id.eq(&id),
            procedure::name.eq("Stone"),
            procedure::surface.eq("stone"),
            procedure::created_at.eq(NOW),
        ))
        .execute(db)
        .unwrap();
    diesel::insert_into(procedure_version::table)
        .values((
            procedure_version::id.eq(uuid::Uuid::now_v7().to_string()),
            procedure_version::procedure_id.eq(&id),
            procedure_version::number.eq(1),
            procedure_version::body.eq(std::fs::read_to_string("seed/procedures/stone.json").unwrap()),
            procedure_version::created_at.eq(NOW),
        ))
        .execute(db)
        .unwrap();
    id
}
