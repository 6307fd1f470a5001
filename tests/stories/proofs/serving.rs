//! A photo's bytes go to those who may see it, and again only where the browser does not hold them.

use super::*;
use crate::on_both;
use crate::studio::world::*;

on_both! {
    fn a_photo_is_for_its_student_and_the_staff_of_its_class(studio) {
        let things = bare_plate(studio);
        let student = studio.signed_in(STUDENT);
        send(studio, &student, things.plate, &drawn(1));
        let (_, photo) = kept(studio)[0];
        let list = proofs_path(studio, things.plate);
        for (email, status) in [
            (STUDENT, 200), (ASSISTANT, 200), (INSTRUCTOR, 200), (OTHER_STUDENT, 404), (STRANGER, 404), (KEEPER, 404),
            (RECORDS, 403), (SAFETY_OFFICER, 403),
        ] {
            let visitor = studio.signed_in(email);
            for size in ["full", "1600", "320"] {
                let page = visitor.get(&photo_path(studio, photo, size));
                assert_eq!(page.status, status, "{email} {size}");
                if status != 200 {
                    assert!(!page.body.starts_with(&[0xFF, 0xD8]), "{email}: no byte of it");
                }
            }
            assert_eq!(visitor.get(&list).status, status, "{email}");
            assert_eq!(visitor.get(&format!("{list}/compare")).status, status, "{email}");
        }
        assert_eq!(studio.visitor().get(&photo_path(studio, photo, "320")).status, 303, "to the sign-in");
        let other_class = format!("/classes/{}/photos/{photo}/320", studio.world.other_class);
        assert_eq!(studio.signed_in(STRANGER).get(&other_class).status, 404, "by another class's address");
        for wrong in ["640", "full.jpg", "320.jpg", "..", "FULL"] {
            assert_eq!(student.get(&photo_path(studio, photo, wrong)).status, 404, "{wrong}");
        }
        assert_eq!(student.get(&format!("{}/photos/no-id/320", studio.class_path())).status, 404);
    }

    fn staff_see_what_an_assistant_may_and_the_instructor_adds_too(studio) {
        let things = bare_plate(studio);
        let new = format!("{}/new", proofs_path(studio, things.plate));
        assert_eq!(studio.signed_in(ASSISTANT).get(&new).status, 403);
        assert!(!studio.signed_in(ASSISTANT).get(&proofs_path(studio, things.plate)).has("/proofs/new"));
        let instructor = studio.signed_in(INSTRUCTOR);
        assert_eq!(send(studio, &instructor, things.plate, &drawn(1)).status, 303);
        let student = studio.signed_in(STUDENT);
        assert!(student.get(&proofs_path(studio, things.plate)).read().contains("added by Ines Ravel"));
        let (id, _) = kept(studio)[0];
        let remove = format!("{}/proofs/{id}/remove", studio.class_path());
        assert_eq!(student.post(&remove, &[]).status, 409, "not the student's to take back");
    }

    fn a_browser_that_holds_it_is_told_so(studio) {
        let things = bare_plate(studio);
        let student = studio.signed_in(STUDENT);
        send(studio, &student, things.plate, &drawn(1));
        let (_, photo) = kept(studio)[0];
        let path = photo_path(studio, photo, "1600");
        let page = student.get_with(&path, &[("accept-encoding", "gzip")]);
        let etag = page.headers["etag"].clone();
        assert!(etag.starts_with('"') && etag.ends_with('"'), "strong: {etag}");
        for (name, value) in [
            ("cache-control", "private, no-cache"), ("content-type", "image/jpeg"),
            ("x-content-type-options", "nosniff"), ("content-disposition", "inline; filename=\"proof-1600.jpg\""),
        ] {
            assert_eq!(page.headers[name], value, "{name}");
        }
        assert!(!page.headers.contains_key("content-encoding"), "a JPEG is not packed again");
        for known in [etag.clone(), format!("\"x\", {etag}"), format!("W/{etag}"), "*".to_owned()] {
            let again = student.get_with(&path, &[("if-none-match", &known)]);
            assert_eq!((again.status, again.body.len()), (304, 0), "{known}");
            assert_eq!(again.headers["etag"], etag);
        }
        assert_eq!(student.get_with(&path, &[("if-none-match", "\"x\"")]).status, 200);
        let small = student.get(&photo_path(studio, photo, "320"));
        assert_ne!(small.headers["etag"], etag, "each size its own");
        let other = studio.signed_in(OTHER_STUDENT).get_with(&path, &[("if-none-match", &etag)]);
        assert_eq!(other.status, 404, "who knows the tag has no right by it");
    }

    fn a_plates_procedure_shows_what_was_kept_at_each_step(studio) {
        use diesel::prelude::*;
        use tympan::store::schema::step_run;
        let things = crate::stories::doors::things(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/plates/{}", studio.class_path(), things.plate);
        let at_step = |title: &str| {
            let text = instructor.get(&path).text();
            let (_, list) = text.split_once("<ol class=\"procedure\">").unwrap();
            let list = list.split_once("</ol>").unwrap().0;
            let step = list.split("<li>").find(|step| step.contains(&format!("step-name\">{title}<")));
            step.unwrap_or_else(|| panic!("{title} in {list}")).to_owned()
        };
        let photo = format!("{}/photos/{}/320", studio.class_path(), things.photo);
        let log = format!("href=\"{path}/etches/{}\"", things.etch);
        assert!(at_step("First etch").contains(&log) && !at_step("Proof").contains(&log));
        assert!(!at_step("First etch").contains(&photo), "no step printed it");

        let began = NOW.plus_ms(-3_600_000);
        diesel::insert_into(step_run::table)
            .values((
                (step_run::id.eq(tympan::ids::StepRunId::new(NOW)), step_run::class_id.eq(studio.world.class)),
                (step_run::plate_id.eq(things.plate), step_run::step_key.eq("proof")),
                (step_run::began_at.eq(began), step_run::ended_at.eq(began.plus_ms(1_800_000))),
                (step_run::by_id.eq(studio.world.student), step_run::received_at.eq(began)),
                (step_run::known_how.eq("told"), step_run::outside_rules.eq(""), step_run::note.eq("")),
            ))
            .execute(&mut studio.connection())
            .unwrap();
        assert!(at_step("Proof").contains(&photo) && !at_step("Edition").contains(&photo));
        assert!(!at_step("First etch").contains("burned"));
        let told = instructor.post(&format!("{path}/etches/{}/came-up", things.etch), &[("how", "burned")]);
        assert_eq!(told.status, 303, "{}", told.read());
        assert!(at_step("First etch").contains("burned: light tones lost"), "{}", at_step("First etch"));
    }

    fn two_stand_side_by_side(studio) {
        let things = bare_plate(studio);
        let student = studio.signed_in(STUDENT);
        let compare = format!("{}/compare", proofs_path(studio, things.plate));
        send(studio, &student, things.plate, &drawn(1));
        assert!(student.get(&compare).read().contains("once two have been added"));
        studio.later_ms(1000);
        send(studio, &student, things.plate, &drawn(2));
        let (first, second) = (kept(studio)[0], kept(studio)[1]);
        for path in [compare.clone(), format!("{compare}?left={}&right={}", first.0, second.0), format!("{compare}?left=&right={}", second.0)] {
            let page = student.get(&path);
            assert_eq!(page.status, 200, "{path}");
            let (left, right) = (page.text().find(&photo_path(studio, first.1, "1600")), page.text().find(&photo_path(studio, second.1, "1600")));
            assert!(left.is_some() && left < right, "{path}: the earlier on the left: {left:?} {right:?}");
        }
        let other = second_plate(studio, &student, &things);
        studio.later_ms(1000);
        send(studio, &student, other, &drawn(3));
        let foreign = kept(studio)[2].0;
        for pair in [format!("left={}&right={foreign}", first.0), format!("left={foreign}"), "left=x".to_owned()] {
            assert_eq!(student.get(&format!("{compare}?{pair}")).status, 404, "{pair}");
        }
    }
}
