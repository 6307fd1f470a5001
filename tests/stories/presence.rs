//! Rolls, duties, and what is granted: by thumb, as evidence, and with the reason kept where it belongs.

use diesel::prelude::*;
use tympan::exchange::tables::Table;
use tympan::ids::*;
use tympan::store::schema::*;
use tympan::trade::spelled::Spelled;

use crate::on_both;
use crate::stories::rows;
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Studio, Visitor};

/// A class that meets on Tuesdays from nine; `NOW` is Tuesday 20 October 2026, 10:00 there.
fn meets(studio: &Studio) -> (Things, Visitor) {
    let things = Things::set(&mut studio.connection(), &studio.world);
    let instructor = studio.signed_in(INSTRUCTOR);
    let meeting = [("kind", "meeting"), ("person", ""), ("weekday", "2"), ("from", "09:00"), ("to", "12:00")];
    let page = instructor.post(&format!("{}/settings/meetings", studio.class_path()), &meeting);
    assert_eq!(page.status, 303, "{}", page.read());
    (things, instructor)
}

fn own_due_of(studio: &Studio, person: PersonId) -> Option<String> {
    own_due::table
        .filter(own_due::person_id.eq(person).and(own_due::superseded_at.is_null()))
        .select(own_due::due_local)
        .first(&mut studio.connection())
        .optional()
        .unwrap()
}

on_both! {
    fn a_roll_is_called_corrected_and_read_by_each_student_alone(studio) {
        let (_, instructor) = meets(studio);
        let (student, other) = (studio.world.student, studio.world.other_student);
        let list = format!("{}/rolls", studio.class_path());
        let read = instructor.get(&list).read();
        assert!(read.contains("Tue 20 Oct, 09:00–12:00") && read.contains("not called"), "{read}");
        assert!(!read.contains("27 Oct"), "no roll is called ahead: {read}");
        let path = format!("{list}/2026-10-20T0900");
        for nowhere in ["2026-10-21T0900", "2026-10-27T0900", "2026-10-20T0901", "today", "9999999-01-01T0900"] {
            assert_eq!(instructor.get(&format!("{list}/{nowhere}")).status, 404, "{nowhere}");
        }
        let (one, two) = (format!("presence-{student}"), format!("presence-{other}"));
        let page = instructor.post(&path, &[("stage", "all-here"), (&one, "late")]);
        assert_eq!(page.status, 200, "{}", page.read());
        assert!(page.has(&format!("name=\"{one}\" value=\"late\" checked")), "what was chosen stays");
        assert!(page.has(&format!("name=\"{two}\" value=\"here\" checked")), "everybody else is here");
        let page = instructor.post(&path, &[(&one, ""), (&two, "")]);
        assert!(page.status == 422 && page.read().contains("Nobody is marked yet"), "{}", page.read());
        assert_eq!(rows(studio, "roll"), 0, "nothing is stored before it is kept");
        assert_eq!(instructor.post(&path, &[(&one, "late"), (&two, "here")]).status, 303);
        assert_eq!(instructor.post(&path, &[(&one, "lost")]).status, 422);
        let nobody = format!("presence-{}", studio.world.assistant);
        assert_eq!(instructor.post(&path, &[(&nobody, "here")]).status, 404);
        // A page that was opened before the roll was called knows nothing of it.
        let page = instructor.post(&path, &[(&one, "away"), (&two, "here")]);
        assert_eq!(page.status, 422);
        assert!(page.read().contains("Somebody else called this meanwhile: Late"), "{}", page.read());
        let seen: RollEntryId = roll_entry::table
            .filter(roll_entry::person_id.eq(student))
            .select(roll_entry::id)
            .first(&mut studio.connection())
            .unwrap();
        let (field, id) = (format!("seen-{student}"), seen.to_string());
        assert_eq!(instructor.post(&path, &[(&one, "excused"), (&field, &id)]).status, 303);
        assert_eq!(rows(studio, "roll_entry"), 3, "a correction is a new entry");
        assert_eq!(rows(studio, "roll"), 1);
        let read = instructor.get(&list).read();
        assert!(read.contains("here 1, late 0, away 0, excused 1"), "{read}");
        let own = format!("{}/grades", studio.class_path());
        let read = studio.signed_in(STUDENT).get(&own).read();
        assert!(read.contains("here 0, late 0, away 0, excused 1") && read.contains("Tue 20 Oct, 09:00: Excused"), "{read}");
        let read = instructor.get(&format!("{own}/people/{other}")).read();
        assert!(read.contains("here 1, late 0, away 0, excused 0"), "{read}");
        let table = instructor.get(&format!("{}/records/attendance.csv", studio.class_path())).text();
        assert_eq!(table.lines().count(), 3, "{table}");
        assert!(table.contains("2026-10-20,09:00,12:00,excused"), "{table}");
        let records = studio.signed_in(RECORDS).get(&format!("{}/records/attendance.csv", studio.class_path()));
        assert_eq!(records.status, 403, "records staff take no rolls");
    }

    fn duties_are_set_told_and_read(studio) {
        Things::set(&mut studio.connection(), &studio.world);
        let (student, other) = (studio.world.student.to_string(), studio.world.other_student.to_string());
        let assistant = studio.signed_in(ASSISTANT);
        let path = format!("{}/duties", studio.class_path());
        for (fields, said) in [
            (vec![("day", "2026-10-22"), ("what", "rags")], "Nobody is ticked"),
            (vec![("day", "soon"), ("what", "rags"), ("person", student.as_str())], "“soon”"),
            (vec![("day", "2026-10-22"), ("what", "floor"), ("person", student.as_str())], "not one of the choices"),
        ] {
            let page = assistant.post(&path, &fields);
            assert_eq!(page.status, 422, "{fields:?}");
            assert!(page.read().contains(said), "{said}: {}", page.read());
        }
        let both = [("day", "2026-10-22"), ("what", "rags"), ("person", student.as_str()), ("person", other.as_str())];
        assert_eq!(assistant.post(&path, &both).status, 303);
        assert_eq!(rows(studio, "duty"), 2);
        let own = studio.signed_in(STUDENT);
        let page = own.get(&path);
        assert!(page.read().contains("rags in their closed can") && page.read().contains("safety data sheet"), "{}", page.read());
        assert!(!page.read().contains("Otis Wren") && !page.has("name=\"outcome\""), "a student's own alone");
        let id: DutyId = duty::table
            .filter(duty::person_id.eq(studio.world.student))
            .select(duty::id)
            .first(&mut studio.connection())
            .unwrap();
        let tell = format!("{path}/{id}");
        assert_eq!(own.post(&tell, &[("outcome", "done")]).status, 403);
        assert_eq!(assistant.post(&tell, &[("outcome", "done")]).status, 303);
        assert_eq!(assistant.post(&tell, &[("outcome", "left")]).status, 409, "what was told since is looked at first");
        assert_eq!(rows(studio, "duty"), 3);
        let read = own.get(&format!("{}/grades", studio.class_path())).read();
        assert!(read.contains("rags in their closed can, the can in its place, done"), "{read}");
    }

    /// By hand: the term begins on 31 August, the project is due on 24 November 16:30, 85 days later. Half more are 42.5,
    /// so 43 begun days: 6 January. With the due date moved to 1 December, 92 days, half more are 46: 16 January.
    fn more_time_moves_the_persons_own_due_dates(studio) {
        let (things, instructor) = meets(studio);
        let student = studio.world.student.to_string();
        let path = format!("{}/accommodations", studio.class_path());
        for (fields, said) in [
            (vec![("person", student.as_str()), ("effect", "more_time")], "percent, or days, one of the two"),
            (vec![("person", student.as_str()), ("effect", "more_time"), ("percent", "50"), ("days", "3")], "one of the two"),
            (vec![("person", student.as_str()), ("effect", "other_solvent")], "which solvent is used instead"),
            (vec![("person", student.as_str()), ("effect", "more_time"), ("percent", "900")], "outside what is possible"),
            (vec![("effect", "more_time"), ("percent", "50")], "This is needed"),
        ] {
            let page = instructor.post(&path, &fields);
            assert_eq!(page.status, 422, "{fields:?}");
            assert!(page.read().contains(said) || said == "This is needed", "{said}: {}", page.read());
        }
        assert_eq!(rows(studio, "accommodation"), 0);
        let half = [("person", student.as_str()), ("effect", "more_time"), ("percent", "50")];
        assert_eq!(instructor.post(&path, &half).status, 303);
        assert_eq!(own_due_of(studio, studio.world.student).as_deref(), Some("2027-01-06T16:30"));
        assert_eq!(own_due_of(studio, studio.world.other_student), None);
        let moved = [("version", "1"), ("due", "2026-12-01T16:30"), ("reason", "The press was down")];
        let due = format!("{}/settings/projects/{}/due", studio.class_path(), things.project);
        let page = instructor.post(&due, &moved);
        assert_eq!(page.status, 303, "{}", page.read());
        assert_eq!(own_due_of(studio, studio.world.student).as_deref(), Some("2027-01-16T16:30"));
        let id: AccommodationId = accommodation::table.select(accommodation::id).first(&mut studio.connection()).unwrap();
        assert_eq!(instructor.post(&format!("{path}/{id}/end"), &[]).status, 303);
        assert_eq!(own_due_of(studio, studio.world.student), None, "the class's date holds again");
        assert_eq!(instructor.post(&format!("{path}/{id}/end"), &[]).status, 404);
    }

    fn a_date_set_by_hand_is_left_alone(studio) {
        let (things, instructor) = meets(studio);
        let student = studio.world.student.to_string();
        let own = format!("{}/settings/projects/{}/own-due", studio.class_path(), things.project);
        let by_hand = [("person", student.as_str()), ("due", "2026-12-20T12:00"), ("reason", "Away with the team")];
        assert_eq!(instructor.post(&own, &by_hand).status, 303);
        let days = [("person", student.as_str()), ("effect", "more_time"), ("days", "3")];
        assert_eq!(instructor.post(&format!("{}/accommodations", studio.class_path()), &days).status, 303);
        assert_eq!(own_due_of(studio, studio.world.student).as_deref(), Some("2026-12-20T12:00"));
    }

    fn the_effect_is_read_by_who_needs_it_and_the_reason_leaves_nowhere(studio) {
        let (_, instructor) = meets(studio);
        let student = studio.world.student.to_string();
        let path = format!("{}/accommodations", studio.class_path());
        const WHY: &str = "migraine-with-aura";
        let granted = [
            ("person", student.as_str()), ("effect", "more_time"), ("percent", "25"), ("words", ""), ("reason", WHY),
        ];
        assert_eq!(instructor.post(&path, &granted).status, 303);
        let other = [
            ("person", student.as_str()), ("effect", "other_solvent"), ("words", "Vegetable oil instead of turpentine"),
            ("reason", WHY),
        ];
        assert_eq!(instructor.post(&path, &other).status, 303);
        assert!(instructor.get(&path).read().contains(WHY));
        let id: AccommodationId = accommodation::table.select(accommodation::id).first(&mut studio.connection()).unwrap();
        let why = format!("{path}/{id}/reason");
        let long = "x".repeat(1001);
        assert_eq!(instructor.post(&why, &[("reason", &long)]).status, 422);
        assert_eq!(instructor.post(&why, &[("reason", "migraine-with-aura, seen by the office")]).status, 303);
        assert!(instructor.get(&path).read().contains("migraine-with-aura, seen by the office"));
        assert_eq!(studio.signed_in(ASSISTANT).post(&why, &[("reason", "x")]).status, 403);
        let assistant = studio.signed_in(ASSISTANT);
        let read = assistant.get(&path);
        assert!(read.read().contains("Sami Vale") && read.read().contains("Vegetable oil") && !read.has(WHY), "{}", read.read());
        let own = studio.signed_in(STUDENT).get(&path);
        assert!(own.read().contains("More time: 25 %") && !own.has(WHY), "{}", own.read());
        let others = studio.signed_in(OTHER_STUDENT).get(&path);
        assert!(!others.has("Vegetable oil") && others.read().contains("Nothing is granted"), "{}", others.read());
        for email in [RECORDS, SAFETY_OFFICER] {
            assert_eq!(studio.signed_in(email).get(&path).status, 403, "{email}");
        }
        // Whatever leaves the class, or is written down beside it.
        for table in Table::ALL {
            let page = instructor.get(&format!("{}/records/{}.csv", studio.class_path(), table.word()));
            assert_eq!(page.status, 200, "{}", table.word());
            assert!(!page.has(WHY), "{} names the reason", table.word());
            assert!(!page.has("Vegetable oil"), "{} names what is granted", table.word());
        }
        let leaves = [(INSTRUCTOR, "/records/archive.zip"), (INSTRUCTOR, "/records/oneroster.zip"), (STUDENT, "/own-data.zip")];
        for (email, what) in leaves {
            let page = studio.signed_in(email).get(&format!("{}{what}", studio.class_path()));
            assert_eq!(page.status, 200, "{what}");
            for (name, text) in page.unpacked() {
                assert!(!text.contains(WHY), "{what}: {name} names the reason");
            }
        }
        let db = &mut studio.connection();
        let details: Vec<String> = journal_detail::table.select(journal_detail::detail).load(db).unwrap();
        let letters: Vec<String> = letter::table.select(letter::detail).load(db).unwrap();
        let once: Vec<String> = once::table.select(once::location).load(db).unwrap();
        assert!(!letters.is_empty(), "a letter about the due date");
        for text in details.iter().chain(&letters).chain(&once) {
            assert!(!text.contains(WHY), "{text}");
        }
        for sent in studio.letters() {
            assert!(!format!("{sent:?}").contains(WHY), "{sent:?}");
        }
        for page in ["", "/all", "/grades", "/people", "/plan"] {
            let path = format!("{}{page}", studio.class_path());
            assert!(!instructor.get(&path).has(WHY), "{path}");
        }
    }
}
