//! The line: asking with one tap, one's place in it, taking back, done and undo, the end of the day.

use diesel::prelude::*;
use tympan::store::schema::asking;

use super::{askings, asks, things, tonight};
use crate::on_both;
use crate::stories::rows;
use crate::studio::world::*;

on_both! {
    fn a_student_asks_and_reads_the_place_in_the_line(studio) {
        let things = things(studio);
        let (one, other) = (studio.signed_in(STUDENT), studio.signed_in(OTHER_STUDENT));
        let today = studio.class_path();
        let read = one.get(&today).read();
        assert!(read.contains("Ask for somebody") && !read.contains("in the line."), "{read}");
        asks(studio, &other, &[("kind", "sign_off"), ("place", "slab 2"), ("from", "today")]);
        studio.later_ms(3 * 60_000);
        let plate = things.plate.to_string();
        let own = [("kind", "help"), ("plate", plate.as_str()), ("place", "table 3"), ("from", "today")];
        asks(studio, &one, &own);
        let page = one.get(&today);
        assert!(page.read().contains("Help, plate 1 : you are 2nd in the line. asked at 10:03"), "{}", page.read());
        assert!(page.has("id=\"asking-place\" name=\"place\" value=\"table 3\""), "where one is is remembered");
        assert!(other.get(&today).read().contains("A sign-off : you are next. asked at 10:00"));
        let on_plate = one.get(&format!("{today}/plates/{plate}")).read();
        assert!(on_plate.contains("you are 2nd in the line"), "{on_plate}");
        let assistant = studio.signed_in(ASSISTANT);
        studio.later_ms(2 * 60_000);
        let page = assistant.get(&tonight(studio));
        let read = page.read();
        let (first, second) = (read.find("Otis Wren").unwrap(), read.find("table 3").unwrap());
        assert!(first < second, "the longest waiting stands first: {read}");
        assert!(read.contains("5 min Otis Wren , slab 2 A sign-off"), "{read}");
        assert!(page.has(&format!("/plates/{plate}")) && page.has("/sign-offs\" id=\"to-"), "links to what is needed");
        let staff_today = assistant.get(&today).read();
        assert!(staff_today.contains("2 people wait for you."), "{staff_today}");
    }

    fn asking_twice_is_stored_once(studio) {
        let things = things(studio);
        let before = rows(studio, "asking");
        let student = studio.signed_in(STUDENT);
        let plate = things.plate.to_string();
        let fields = [("kind", "mix"), ("plate", plate.as_str()), ("place", "table 1")];
        // A double tap sends the same form twice; asking again sends another.
        student.post_once(&askings(studio), &fields, "0123456789abcdef0123");
        student.post_once(&askings(studio), &fields, "0123456789abcdef0123");
        studio.later_ms(60_000);
        assert_eq!(student.post(&askings(studio), &[fields[0], fields[1], ("place", "etching table")]).status, 303);
        assert_eq!(rows(studio, "asking"), before + 1);
        let read = studio.signed_in(INSTRUCTOR).get(&tonight(studio)).read();
        assert!(read.contains("1 min") && read.contains("etching table"), "the old place in the line, the new table: {read}");
        // Another kind, and the same kind without a plate, are other askings.
        student.post(&askings(studio), &[("kind", "help"), fields[1]]);
        student.post(&askings(studio), &[("kind", "mix"), ("plate", "")]);
        student.post(&askings(studio), &[("kind", "mix"), ("plate", "")]);
        assert_eq!(rows(studio, "asking"), before + 3);
    }

    fn what_cannot_be_used_comes_back_at_its_field(studio) {
        let things = things(studio);
        let before = rows(studio, "asking");
        let student = studio.signed_in(STUDENT);
        let long = "a".repeat(41);
        let page = student.post(&askings(studio), &[("kind", "help"), ("place", &long)]);
        assert_eq!(page.status, 422);
        assert!(page.has("id=\"asking-place-complaint\"") && page.has(&long), "{}", page.read());
        for kind in ["", "dance"] {
            assert_eq!(student.post(&askings(studio), &[("kind", kind), ("place", "table 3")]).status, 422, "{kind}");
        }
        let plate = things.plate.to_string();
        let other = studio.signed_in(OTHER_STUDENT);
        let page = other.post(&askings(studio), &[("kind", "help"), ("plate", &plate)]);
        assert_eq!(page.status, 404, "another student's plate is not there: {}", page.read());
        assert_eq!(rows(studio, "asking"), before);
    }

    fn an_asking_is_taken_back_by_its_own_student_alone(studio) {
        things(studio);
        let (one, other) = (studio.signed_in(STUDENT), studio.signed_in(OTHER_STUDENT));
        let id = asks(studio, &one, &[("kind", "help"), ("place", "")]);
        let back = format!("{}/{id}/take-back", askings(studio));
        assert_eq!(other.post(&back, &[]).status, 404);
        assert_eq!(studio.signed_in(INSTRUCTOR).post(&back, &[]).status, 403);
        assert_eq!(one.post(&back, &[("from", "today")]).status, 303);
        assert_eq!(one.post(&back, &[("from", "today")]).status, 303, "twice is once");
        assert!(one.get(&askings(studio)).read().contains("Ask for somebody"));
        assert!(!one.get(&askings(studio)).read().contains("you are next"));
        let read = studio.signed_in(INSTRUCTOR).get(&tonight(studio)).read();
        assert!(read.contains("Nobody waits.") && !read.contains("Done a moment ago"), "{read}");
    }

    fn done_is_one_tap_and_can_be_undone_for_ten_minutes(studio) {
        things(studio);
        let (student, other) = (studio.signed_in(STUDENT), studio.signed_in(OTHER_STUDENT));
        let (assistant, stranger) = (studio.signed_in(ASSISTANT), studio.signed_in(STRANGER));
        let id = asks(studio, &student, &[("kind", "help"), ("place", "table 3")]);
        studio.later_ms(1000);
        asks(studio, &other, &[("kind", "help"), ("place", "table 4")]);
        let [done, undo] = ["done", "undo"].map(|act| format!("{}/{id}/{act}", askings(studio)));
        for act in [&done, &undo] {
            assert_eq!(stranger.post(act, &[]).status, 404, "another class");
            assert_eq!(student.post(act, &[]).status, 403);
        }
        assert_eq!(assistant.post(&done, &[]).status, 303);
        assert_eq!(assistant.post(&done, &[]).status, 303, "a double tap");
        let read = assistant.get(&tonight(studio)).read();
        assert!(read.contains("Done a moment ago") && read.contains("table 4") && !read.contains("table 3"), "{read}");
        assert!(other.get(&askings(studio)).read().contains("you are next"), "the line moves on");
        studio.later_ms(9 * 60_000);
        assert_eq!(assistant.post(&undo, &[]).status, 303);
        assert!(other.get(&askings(studio)).read().contains("you are 2nd"), "the old place holds");
        assistant.post(&done, &[]);
        studio.later_ms(10 * 60_000);
        let page = assistant.post(&undo, &[]);
        assert_eq!(page.status, 409);
        assert!(page.read().contains("more than ten minutes ago"), "{}", page.read());
        assert!(!assistant.get(&tonight(studio)).read().contains("Done a moment ago"));
        // Who asked again meanwhile stands in the line once.
        let again = asks(studio, &student, &[("kind", "help"), ("place", "table 3")]);
        assistant.post(&format!("{}/{again}/done", askings(studio)), &[]);
        asks(studio, &student, &[("kind", "help"), ("place", "table 3")]);
        let page = assistant.post(&format!("{}/{again}/undo", askings(studio)), &[]);
        assert_eq!(page.status, 409, "{}", page.read());
        assert!(page.read().contains("asked for the same again"), "{}", page.read());
    }

    /// The day ends at midnight in New York, four hours behind UTC in October.
    fn at_the_end_of_the_local_day_the_line_is_empty(studio) {
        things(studio);
        let student = studio.signed_in(STUDENT);
        studio.at("2026-10-21T03:50:00Z");
        let id = asks(studio, &student, &[("kind", "help"), ("place", "table 3")]);
        let until: i64 = asking::table.find(id).select(asking::until_at).first(&mut studio.connection()).unwrap();
        assert_eq!(until, 1_792_555_200_000, "2026-10-21T04:00:00Z");
        let instructor = studio.signed_in(INSTRUCTOR);
        assert!(instructor.get(&tonight(studio)).read().contains("table 3"));
        studio.at("2026-10-21T04:00:00Z");
        assert!(instructor.get(&tonight(studio)).read().contains("Nobody waits."));
        assert!(!student.get(&askings(studio)).read().contains("you are next"));
        asks(studio, &student, &[("kind", "help"), ("place", "table 3")]);
        assert!(student.get(&askings(studio)).read().contains("you are next"), "the next day one asks anew");
    }
}
