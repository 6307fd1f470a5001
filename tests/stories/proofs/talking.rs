//! Comments on a plate and critique notes on a proof.

use super::*;
use crate::on_both;
use crate::stories::{refuses, rows};
use crate::studio::world::*;

on_both! {
    fn a_plate_is_talked_about_by_its_student_and_the_staff(studio) {
        let things = bare_plate(studio);
        let path = format!("{}/plates/{}/comments", studio.class_path(), things.plate);
        let page = format!("{}/plates/{}", studio.class_path(), things.plate);
        for (email, words) in [(STUDENT, "Can I etch the coat alone?"), (ASSISTANT, "Gum first, then & only then."), (INSTRUCTOR, "Yes.\nFive drops.")] {
            let said = studio.signed_in(email).post(&path, &[("words", words), ("back", "plate")]);
            assert_eq!(said.status, 303, "{email}: {}", said.read());
            assert!(said.location().starts_with(&page) && said.location().ends_with("#comments"), "{}", said.location());
            studio.later_ms(1000);
        }
        for email in [STUDENT, ASSISTANT, INSTRUCTOR] {
            let read = studio.signed_in(email).get(&page).read();
            let places: Vec<_> = ["Can I etch", "Gum first, then & only then.", "Five drops."].iter().map(|words| read.find(words)).collect();
            assert!(places.iter().all(Option::is_some) && places.is_sorted(), "{email}: {places:?}");
        }
        for (email, status) in [(OTHER_STUDENT, 404), (STRANGER, 404), (RECORDS, 403), (SAFETY_OFFICER, 403)] {
            assert_eq!(studio.signed_in(email).post(&path, &[("words", "hello")]).status, status, "{email}");
        }
        assert_eq!(rows(studio, "comment"), 3);
        assert_eq!(rows(studio, "journal WHERE act = 'comment.added'"), 3);
    }

    fn critique_is_for_the_student_and_the_instructor(studio) {
        let things = bare_plate(studio);
        let (student, instructor, assistant) =
            (studio.signed_in(STUDENT), studio.signed_in(INSTRUCTOR), studio.signed_in(ASSISTANT));
        send(studio, &student, things.plate, &drawn(1));
        studio.later_ms(1000);
        send(studio, &student, things.plate, &drawn(2));
        let (first, second) = (kept(studio)[0].0.to_string(), kept(studio)[1].0.to_string());
        let path = format!("{}/plates/{}/comments", studio.class_path(), things.plate);
        let pair = format!("{first} {second}");
        let said = instructor.post(&path, &[("words", "The sleeve closed up."), ("proof", &first), ("back", &pair)]);
        assert!(said.location().contains(&format!("compare?left={first}&right={second}")), "{}", said.location());
        assert!(said.location().ends_with(&format!("#proof-{first}")));
        assert_eq!(student.post(&path, &[("words", "I see it now."), ("proof", &first)]).status, 303);
        assert_eq!(assistant.post(&path, &[("words", "Me too."), ("proof", &first)]).status, 403);
        let list = proofs_path(studio, things.plate);
        for path in [list.clone(), format!("{list}/compare")] {
            for visitor in [&student, &instructor] {
                let read = visitor.get(&path).read();
                assert!(read.contains("sleeve closed up") && read.contains("I see it now"), "{path}: {read}");
            }
            let read = assistant.get(&path).read();
            assert!(!read.contains("sleeve") && !read.contains("Comment on this proof"), "{path}: {read}");
        }
        let other = second_plate(studio, &student, &things);
        let foreign = format!("{}/plates/{other}/comments", studio.class_path());
        assert_eq!(student.post(&foreign, &[("words", "x"), ("proof", &first)]).status, 404, "a proof of another plate");
    }

    fn bad_comments_come_back_as_they_were_typed(studio) {
        let things = bare_plate(studio);
        let student = studio.signed_in(STUDENT);
        let path = format!("{}/plates/{}/comments", studio.class_path(), things.plate);
        let long = "ö".repeat(2001);
        refuses(&student, &path, "proofs-comment", &[], &[
            ("words", "", "missing"), ("words", " \r\n ", "missing"),
            ("words", &long, "2001 characters"), ("words", "bell \u{7}", "control characters"),
        ]);
        assert!(student.post(&path, &[("words", "<b>bold</b> \u{7}")]).has("&lt;b&gt;bold"), "kept and harmless");
        let wrong = student.post(&path, &[("words", "fine"), ("proof", "no id")]);
        assert_eq!(wrong.status, 422, "{}", wrong.read());
        assert!(wrong.has("fine"));
        let unknown = [("words", "fine"), ("proof", "00000000-0000-7000-8000-000000000000")];
        assert_eq!(student.post(&path, &unknown).status, 404);
        assert_eq!(rows(studio, "comment"), 0);
        for _ in 0..2 {
            assert_eq!(student.post_once(&path, &[("words", "once")], "one-once-key-for-two").status, 303);
        }
        assert_eq!(rows(studio, "comment"), 1, "the same form twice");
    }

    fn a_comment_is_taken_back_by_its_writer_soon_and_by_the_instructor_ever(studio) {
        let things = bare_plate(studio);
        let (student, instructor, assistant) =
            (studio.signed_in(STUDENT), studio.signed_in(INSTRUCTOR), studio.signed_in(ASSISTANT));
        let path = format!("{}/plates/{}/comments", studio.class_path(), things.plate);
        let newest = || -> String {
            comment::table.filter(comment::removed_at.is_null()).order(comment::at.desc())
                .select(comment::id).first::<tympan::ids::CommentId>(&mut studio.connection()).unwrap().to_string()
        };
        let remove = |id: &str| format!("{}/comments/{id}/remove", studio.class_path());
        student.post(&path, &[("words", "in the wrong place")]);
        let first = newest();
        assert_eq!(assistant.post(&remove(&first), &[]).status, 409, "somebody else's");
        assert_eq!(studio.signed_in(OTHER_STUDENT).post(&remove(&first), &[]).status, 404);
        assert_eq!(student.post(&remove(&first), &[]).status, 303);
        assert_eq!(student.post(&remove(&first), &[]).status, 404);
        studio.later_ms(1000);
        student.post(&path, &[("words", "I take that back")]);
        let second = newest();
        studio.later_ms(10 * 60_000 + 1);
        assert_eq!(student.post(&remove(&second), &[]).status, 409);
        assert_eq!(instructor.post(&remove(&second), &[]).status, 303);
        let plate = student.get(&format!("{}/plates/{}", studio.class_path(), things.plate));
        assert!(!plate.read().contains("I take that back"));
        assert_eq!(rows(studio, "comment WHERE removed_at IS NOT NULL"), 2, "the rows stay");
    }
}
