//! Second looks, reckoning ahead, handing everything back, critique notes, and how lateness is counted.

use super::criteria::weighed;
use super::*;
use crate::stories::names;
use tympan::store::schema::{critique, critique_note, journal, second_look};

fn letters_of(studio: &Studio, kind: &str) -> Vec<(PersonId, String)> {
    letter::table
        .filter(letter::kind.eq(kind))
        .select((letter::person_id, letter::detail))
        .load(&mut studio.connection())
        .unwrap()
}

on_both! {
    fn a_second_look_is_asked_once_and_answered_with_a_letter_to_each(studio) {
        let things = set(studio);
        let (instructor, student) = (studio.signed_in(INSTRUCTOR), studio.signed_in(STUDENT));
        let path = format!("{}/second-look", marking(studio, things.assessment));
        assert_eq!(student.get(&path).status, 404, "nothing was handed back");
        hand_back(studio, &instructor, things.assessment);
        assert!(student.get(&format!("{}/grades", studio.class_path())).has(&path));
        let page = student.post(&path, &[("reason", " ")]);
        assert_eq!(page.status, 422);
        assert!(page.read().contains("Say why it should be looked at again"), "{}", page.read());
        assert_eq!(student.post(&path, &[("reason", "The second state was not looked at.")]).status, 303);
        assert_eq!(student.post(&path, &[("reason", "Once more.")]).status, 409, "once for each mark");
        let sent = letters_of(studio, "second-look-asked");
        assert_eq!(sent.len(), 1);
        assert_eq!(sent[0].0, studio.world.instructor);
        assert!(sent[0].1.contains("Sami Vale") && !sent[0].1.contains("second state") && !names(&sent[0].1, "88"));
        assert_eq!(studio.signed_in(OTHER_STUDENT).get(&path).status, 404, "another student has nothing to ask about");
        let ledger = instructor.get(&format!("{}/grades", studio.class_path())).read();
        assert!(ledger.contains("1 student asks for a second look"), "{ledger}");
        let beside = instructor.get(&format!("{}/marking/{}", marking(studio, things.assessment), studio.world.student));
        assert!(beside.read().contains("The second state was not looked at."), "{}", beside.read());
        let id: SecondLookId = second_look::table.select(second_look::id).first(&mut studio.connection()).unwrap();
        let answer = format!("{}/second-looks/{id}", studio.class_path());
        assert_eq!(instructor.post(&answer, &[("why", "")]).status, 422);
        assert_eq!(instructor.post(&answer, &[("why", "It was; the log dates it later.")]).status, 303);
        assert_eq!(instructor.post(&answer, &[("why", "Again.")]).status, 409);
        assert_eq!(letters_of(studio, "second-look-answered").len(), 1);
        let own = student.get(&format!("{}/grades", studio.class_path())).read();
        assert!(own.contains("the mark stays: It was; the log dates it later."), "{own}");
    }

    fn a_new_mark_answers_once_it_is_handed_back(studio) {
        let set = weighed(studio);
        let (instructor, student) = (studio.signed_in(INSTRUCTOR), studio.signed_in(STUDENT));
        hand_back(studio, &instructor, set.things.assessment);
        let ask = format!("{}/second-look", marking(studio, set.things.assessment));
        assert_eq!(student.post(&ask, &[("reason", "Added up wrongly?")]).status, 303);
        let path = set.path(studio, studio.world.student);
        studio.later_ms(60_000);
        let new = set.form(Some(set.things.score), ["1", "1"], &[("status", "graded"), ("reason", "The last proof counts")]);
        let page = send(&instructor, &path, &new);
        assert_eq!(page.status, 303, "{}", page.read());
        let own = format!("{}/grades", studio.class_path());
        let before = student.get(&own).read();
        assert!(before.contains("88 of 100") && !before.contains("The last proof counts") && before.contains("waits for the instructor"), "{before}");
        hand_back(studio, &instructor, set.things.assessment);
        let after = student.get(&own).read();
        assert!(after.contains("100 of 100") && after.contains("this mark was given: The last proof counts"), "{after}");
        assert_eq!(student.post(&ask, &[("reason", "And again?")]).status, 409, "an answer is not asked about");
    }

    /// By hand, both worth half: 88 of 100 and a supposed 45 of 50 (90 %) are 89; nothing is stored by asking.
    fn a_student_reckons_ahead_and_nothing_is_stored(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let id = things.category.to_string();
        let both = [("version", "0"), ("id-0", id.as_str()), ("title-0", "Prints"), ("weight-0", "50"), ("title-1", "Logs"), ("weight-1", "50")];
        assert_eq!(instructor.post(&format!("{}/grades/categories", studio.class_path()), &both).status, 303);
        let logs: CategoryId = category::table.filter(category::title.eq("Logs")).select(category::id).first(&mut studio.connection()).unwrap();
        let open = another(studio, logs, "Etch logs", 5000);
        hand_back(studio, &instructor, things.assessment);
        let student = studio.signed_in(STUDENT);
        let rows = || -> (i64, i64) {
            let db = &mut studio.connection();
            (score::table.count().get_result(db).unwrap(), journal::table.count().get_result(db).unwrap())
        };
        let before = rows();
        let ahead = format!("{}/grades/ahead", studio.class_path());
        let page = student.get(&ahead).read();
        assert!(page.contains("Etch logs") && !page.contains("With these scores"), "{page}");
        let page = student.get(&format!("{ahead}?ahead-{open}=45"));
        let read = page.read();
        assert!(read.contains("With these scores it would be") && read.contains("89 %") && read.contains("How it was reckoned"), "{read}");
        assert!(page.has("value=\"45\""));
        let page = student.get(&format!("{ahead}?ahead-{open}=50.5"));
        assert_eq!(page.status, 422);
        assert!(page.read().contains("“50.5” is above the 50 points"), "{}", page.read());
        assert_eq!(student.get(&format!("{ahead}?ahead-{open}=much")).status, 422);
        // What is marked cannot be supposed away.
        let marked = student.get(&format!("{ahead}?ahead-{}=0", things.assessment)).read();
        assert!(!marked.contains("With these scores"), "{marked}");
        assert_eq!(rows(), before);
    }

    fn everything_is_handed_back_with_one_letter_each(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let second = another(studio, things.category, "Etch logs", 5000);
        let sheet = fields(&[(studio.world.student, None, "graded", "40", "Full."), (studio.world.other_student, None, "missing", "", "")], "");
        assert_eq!(send(&instructor, &marking(studio, second), &sheet).status, 303);
        let all = format!("{}/grades/hand-back", studio.class_path());
        let page = instructor.get(&all).read();
        assert!(page.contains("A room at night: 88 of 100") && page.contains("Etch logs: 40 of 50"), "{page}");
        assert_eq!(instructor.post(&all, &[]).status, 303);
        let sent = letters_of(studio, "handed-back");
        assert_eq!(sent.len(), 2, "one letter for each student");
        let own = sent.iter().find(|(person, _)| *person == studio.world.student).unwrap();
        assert!(own.1.contains("A room at night") && own.1.contains("Etch logs"), "{}", own.1);
        assert_eq!(instructor.post(&all, &[]).status, 409, "nothing waits any more");
    }

    fn critique_notes_are_written_in_hanging_order_and_handed_back_in_one_act(studio) {
        let things = set(studio);
        let second = Id::new(NOW);
        diesel::insert_into(print::table)
            .values((
                (print::id.eq(second), print::class_id.eq(studio.world.class)),
                (print::project_id.eq(things.project), print::person_id.eq(studio.world.other_student)),
                (print::title.eq("Ferry steps"), print::created_at.eq(NOW), print::version.eq(1)),
            ))
            .execute(&mut studio.connection())
            .unwrap();
        let instructor = studio.signed_in(INSTRUCTOR);
        let base = format!("{}/critiques", studio.class_path());
        let project = things.project.to_string();
        assert_eq!(instructor.post(&base, &[("project", &project), ("held_on", "")]).status, 422);
        let page = instructor.post(&base, &[("project", &project), ("held_on", "2026-10-20")]);
        assert_eq!(page.status, 303, "{}", page.read());
        let path = page.location().to_owned();
        assert!(instructor.get(&path).read().contains("Stair lamp"));
        let line = |print: PrintId| format!("words-{print}");
        let (one, two) = (line(things.print), line(second));
        let moved = format!("later {}", things.print);
        let order = |studio: &Studio| -> Vec<PrintId> {
            critique_note::table.order(critique_note::position).select(critique_note::print_id).load(&mut studio.connection()).unwrap()
        };
        let first = order(studio);
        let page = instructor.post(&path, &[("version", "1"), (&one, "The lamp holds."), (&two, ""), ("move", &moved)]);
        assert_eq!(page.status, 303, "{}", page.read());
        let expected: Vec<PrintId> = if first[0] == things.print { vec![second, things.print] } else { first };
        assert_eq!(order(studio), expected, "a move keeps the last place at the end");
        // Another page that was opened before: its line is kept, and what stands is shown beside it.
        let page = instructor.post(&path, &[("version", "1"), (&one, "The lamp is small."), (&two, "")]);
        assert_eq!(page.status, 422);
        assert!(page.has("The lamp is small.") && page.read().contains("The lamp holds."), "{}", page.read());
        let student = studio.signed_in(STUDENT);
        let own = format!("{}/grades", studio.class_path());
        assert!(!student.get(&own).read().contains("The lamp holds."), "kept back");
        let back = format!("{path}/hand-back");
        assert_eq!(instructor.post(&back, &[]).status, 303);
        assert_eq!(letters_of(studio, "handed-back").len(), 1, "a letter to whom a line is about");
        assert!(student.get(&own).read().contains("The lamp holds."));
        assert!(!studio.signed_in(OTHER_STUDENT).get(&own).read().contains("The lamp holds."));
        assert_eq!(instructor.post(&back, &[]).status, 409);
        assert_eq!(instructor.post(&path, &[("version", "3"), (&one, "Later."), (&two, "")]).status, 422);
        assert_eq!(instructor.get(&format!("/classes/{}/critiques", studio.world.other_class)).status, 404);
        let of_other = path.replace(&studio.world.class.to_string(), &studio.world.other_class.to_string());
        assert_eq!(studio.signed_in(STRANGER).get(&of_other).status, 404, "a critique of another class");
        let handed: i64 = critique::table.filter(critique::handed_back_at.is_not_null()).count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(handed, 1);
    }

    /// By hand: due Tue 24 Nov 16:30, handed in Fri 27 Nov 10:00. Days begin on the 24th, 25th and 26th; the 26th is not
    /// counted, so two are charged.
    fn days_late_are_told_with_how_they_were_counted(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let days = format!("{}/grades/uncounted", studio.class_path());
        for (typed, said) in [("Thanksgiving", "does not begin with a date"), ("2026-11-26\n2026-11-26 again", "stands there twice")] {
            let page = instructor.post(&days, &[("days", typed)]);
            assert_eq!(page.status, 422);
            assert!(page.read().contains(said), "{}", page.read());
        }
        assert_eq!(instructor.post(&days, &[("days", "2026-11-26 Thanksgiving")]).status, 303);
        let received = ZONE.with_ymd_and_hms(2026, 11, 27, 10, 0, 0).unwrap().timestamp_millis();
        diesel::update(print::table.find(things.print))
            .set(print::handed_in_at.eq(tympan::clock::Instant::from_millis(received)))
            .execute(&mut studio.connection())
            .unwrap();
        let page = instructor.get(&format!("{}/marking/{}", marking(studio, things.assessment), studio.world.student)).read();
        assert!(page.contains("2 days late are charged") && page.contains("Tue 24 Nov; Wed 25 Nov"), "{page}");
        assert!(page.contains("1 day more began on a date that is not counted"), "{page}");
        let table = instructor.get(&format!("{}/records/prints.csv", studio.class_path())).text();
        assert!(table.contains(",2,") || table.contains(",2\r\n"), "the table counts alike: {table}");
    }

    fn work_due_before_a_late_add_is_proposed_as_excused(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let ledger = format!("{}/grades", studio.class_path());
        assert!(!instructor.get(&ledger).read().contains("Proposed as excused"));
        diesel::update(project::table.find(things.project))
            .set(project::due_local.eq("2026-09-10T16:30"))
            .execute(&mut studio.connection())
            .unwrap();
        diesel::update(enrolment::table.filter(enrolment::person_id.eq(studio.world.other_student)))
            .set((enrolment::since.eq(chrono::NaiveDate::from_ymd_opt(2026, 9, 14).unwrap()), enrolment::joined_at.eq(NOW)))
            .execute(&mut studio.connection())
            .unwrap();
        let page = instructor.get(&ledger).read();
        assert!(page.contains("Otis Wren: “A room at night” was due Thu 10 Sep, 16:30; in the class since Mon 14 Sep"), "{page}");
        let excuse = format!("{}/excuse/{}", marking(studio, things.assessment), studio.world.other_student);
        assert_eq!(instructor.post(&excuse, &[]).status, 303);
        assert_eq!(standing(studio, things.assessment, studio.world.other_student).1, "excused");
        assert!(!instructor.get(&ledger).read().contains("Proposed as excused"));
        assert_eq!(instructor.post(&excuse, &[]).status, 409, "no longer proposed");
    }
}
