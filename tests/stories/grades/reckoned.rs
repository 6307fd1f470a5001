//! Handing back, what a student sees, and the grades themselves.

use super::*;
use crate::stories::names;

on_both! {
    fn nothing_that_is_not_handed_back_shows(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let student = studio.signed_in(STUDENT);
        let own = format!("{}/grades", studio.class_path());
        let page = student.get(&own);
        assert!(page.read().contains("Nothing was handed back to you yet"), "{}", page.read());
        for secret in ["88", "Good blacks."] {
            assert!(!page.read().contains(secret), "{secret}: {}", page.read());
        }
        hand_back(studio, &instructor, things.assessment);
        let page = student.get(&own).read();
        for part in ["88 of 100", "Good blacks.", "handed back", "88 %", "B+", "3.3 grade points", "from 100 % of the weight", "Prints: 88 ÷ 100 = 88 %"] {
            assert!(page.contains(part), "{part}: {page}");
        }
        // A correction does not show before it is handed back too, and neither does its reason.
        studio.later_ms(60_000);
        let change = [(studio.world.student, Some(things.score), "graded", "93.5", "Better in daylight.")];
        let marked = send(&instructor, &marking(studio, things.assessment), &fields(&change, "Looked at by day"));
        assert_eq!(marked.status, 303, "{}", marked.read());
        let page = student.get(&own).read();
        for secret in ["93.5", "daylight", "Looked at by day", "Before it was"] {
            assert!(!page.contains(secret), "{secret}: {page}");
        }
        assert!(page.contains("88 of 100") && page.contains("Good blacks."), "{page}");
        hand_back(studio, &instructor, things.assessment);
        let page = student.get(&own).read();
        assert!(page.contains("93.5 of 100") && page.contains("Before it was 88 of 100. Changed because: Looked at by day"), "{page}");
        let other = studio.signed_in(OTHER_STUDENT).get(&own).read();
        assert!(!other.contains("93.5") && !other.contains("88 of"), "{other}");
    }

    fn handing_back_wants_the_password_and_writes_letters(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let sheet = fields(&[(studio.world.other_student, None, "pending", "", "Come and see me.")], "");
        assert_eq!(send(&instructor, &marking(studio, things.assessment), &sheet).status, 303);
        let path = format!("{}/hand-back", marking(studio, things.assessment));
        studio.later_ms(10 * 60_000 + 1);
        assert!(instructor.get(&path).location().starts_with("/account/confirm?next="));
        assert_eq!(instructor.post(&path, &[]).status, 401);
        let letters = |studio: &Studio| -> Vec<(String, PersonId, Option<String>, String)> {
            letter::table
                .filter(letter::kind.eq("handed-back"))
                .select((letter::kind, letter::person_id, letter::cause, letter::detail))
                .load(&mut studio.connection())
                .unwrap()
        };
        assert!(letters(studio).is_empty());
        assert_eq!(instructor.post("/account/confirm", &[("current", PASSWORD), ("next", &path)]).status, 303);
        let page = instructor.get(&path).read();
        assert!(page.contains("Sami Vale") && !page.contains("Otis Wren") && page.contains("Still not yet marked: 1"), "{page}");
        for _ in 0..2 {
            assert_eq!(instructor.post_once(&path, &[], "hand-back-sent-two-times").status, 303);
        }
        let sent = letters(studio);
        assert_eq!(sent.len(), 1, "not yet marked is not handed back");
        assert_eq!(sent[0].1, studio.world.student);
        assert_eq!(sent[0].2, Some(format!("handed-back {}", things.score)));
        assert!(!names(&sent[0].3, "88"), "no score in a letter");
        let nothing = instructor.post(&path, &[]);
        assert_eq!(nothing.status, 409);
        assert!(nothing.read().contains("Nothing waits to be handed back"), "{}", nothing.read());
        let page = instructor.get(&format!("{}/grades", studio.class_path())).read();
        assert!(!page.contains("(88)") && page.contains("88"), "{page}");
    }

    /// By hand: 88 of 100 and 45.5 of 50, at 50 % each, are (88 + 91) / 2 = 89.5 exactly. Trade fact 6.1: half up gives
    /// 90; cut off is 89.
    fn a_grade_on_the_middle_is_exact(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let (student, id) = (studio.world.student, things.category.to_string());
        let path = format!("{}/grades/categories", studio.class_path());
        let both = [("version", "0"), ("id-0", id.as_str()), ("title-0", "Prints"), ("weight-0", "50"), ("title-1", "Logs"), ("weight-1", "50")];
        assert_eq!(instructor.post(&path, &both).status, 303);
        let logs: CategoryId = category::table
            .filter(category::title.eq("Logs")).select(category::id).first(&mut studio.connection()).unwrap();
        let log = another(studio, logs, "Etch log", 5000);
        let sheet = fields(&[(student, None, "graded", "45.5", "")], "");
        assert_eq!(send(&instructor, &marking(studio, log), &sheet).status, 303);
        let rules = format!("{}/grades/rules", studio.class_path());
        for (version, places, ties, rounded, letter) in [
            ("1", "0", "half_up", "90", "A"), ("2", "0", "truncate", "89", "B"), ("3", "1", "half_even", "89.5", "B"),
        ] {
            let fields = but(&but(&but(&RULES, "version", version), "places", places), "ties", ties);
            assert_eq!(instructor.post(&rules, &fields).status, 303);
            let rows = grade_rows(&mut studio.connection(), studio.world.class, ZONE, Which::InHand).unwrap();
            let row = rows.iter().find(|row| row.person == student).unwrap();
            assert_eq!(
                (row.percent.as_str(), row.rounded.as_str(), row.letter.as_str(), row.counted_weight.as_str(), row.listing.as_str()),
                ("89.5000", rounded, letter, "100", "LIT 220-01"), "{ties}"
            );
            let other = rows.iter().find(|row| row.person == studio.world.other_student).unwrap();
            assert_eq!((other.percent.as_str(), other.letter.as_str(), other.counted_weight.as_str()), ("", "", "0"));
        }
        let handed = grades_of_class(&mut studio.connection(), studio.world.class, ZONE, Which::HandedBack).unwrap();
        assert_eq!(handed.len(), 2, "the students and nobody else");
        assert!(handed.iter().all(|(_, outcome)| outcome.as_ref().unwrap().percent.is_none()));
        hand_back(studio, &instructor, log);
        let handed = grades_of_class(&mut studio.connection(), studio.world.class, ZONE, Which::HandedBack).unwrap();
        let grade = handed.iter().find(|(person, _)| *person == student).unwrap().1.clone().unwrap();
        assert_eq!(grade.percent_text().as_deref(), Some("91.0000"), "from the log alone");
        assert_eq!((grade.possible_low_text().as_deref(), grade.possible_high_text().as_deref()), (Some("45.5000"), Some("95.5000")));
        let page = studio.signed_in(STUDENT).get(&format!("{}/grades", studio.class_path())).read();
        assert!(page.contains("from 50 % of the weight") && page.contains("Lowest possible 45.5 % Highest possible 95.5 %"), "{page}");
        let page = instructor.get(&format!("{}/grades/people/{student}", studio.class_path())).read();
        assert!(page.contains("Percent 89.5 %") && page.contains("(50 × 88 + 50 × 91) ÷ (50 + 50) = 89.5 %"), "{page}");
    }

    /// Due Tuesday 24 November 16:30 New York (21:30 UTC); 25 hours later is the second day late.
    fn late_work_costs_and_an_own_due_date_counts(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let student = studio.world.student;
        let received = chrono::DateTime::parse_from_rfc3339("2026-11-25T22:30:00Z").unwrap().timestamp_millis();
        diesel::update(print::table.find(things.print))
            .set(print::handed_in_at.eq(tympan::clock::Instant::from_millis(received)))
            .execute(&mut studio.connection())
            .unwrap();
        let percent = |studio: &Studio| {
            let all = grades_of_class(&mut studio.connection(), studio.world.class, ZONE, Which::InHand).unwrap();
            all.into_iter().find(|one| one.0 == student).unwrap().1.unwrap().percent_text().unwrap()
        };
        assert_eq!(percent(studio), "68.0000", "2 × 10 of the possible points off 88");
        hand_back(studio, &instructor, things.assessment);
        for page in [
            instructor.get(&marking(studio, things.assessment)).read(),
            instructor.get(&format!("{}/grades", studio.class_path())).read(),
            studio.signed_in(STUDENT).get(&format!("{}/grades", studio.class_path())).read(),
        ] {
            assert!(page.contains("2 days late"), "{page}");
        }
        let page = studio.signed_in(STUDENT).get(&format!("{}/grades", studio.class_path())).read();
        assert!(page.contains("2 × 10 % of the 100 possible points is 20 off, 88 − 20 = 68"), "{page}");
        diesel::insert_into(own_due::table)
            .values((
                (own_due::id.eq(OwnDueId::new(NOW)), own_due::project_id.eq(things.project)),
                (own_due::person_id.eq(student), own_due::due_local.eq("2026-11-25T16:30")),
                (own_due::reason.eq("ill"), own_due::by_id.eq(studio.world.instructor), own_due::at.eq(NOW)),
            ))
            .execute(&mut studio.connection())
            .unwrap();
        assert_eq!(percent(studio), "78.0000", "one day by the own due date");
        let rules = format!("{}/grades/rules", studio.class_path());
        assert_eq!(instructor.post(&rules, &but(&RULES, "grace", "60")).status, 303);
        assert_eq!(percent(studio), "88.0000", "an hour late is inside the grace");
        let page = instructor.get(&marking(studio, things.assessment)).read();
        assert!(page.contains("own due date Wed 25 Nov, 16:30"), "{page}");
    }

    fn weights_that_miss_say_why_there_is_no_grade(studio) {
        let things = set(studio);
        diesel::update(category::table.find(things.category))
            .set(category::weight_bp.eq(9000))
            .execute(&mut studio.connection())
            .unwrap();
        let all = grades_of_class(&mut studio.connection(), studio.world.class, ZONE, Which::InHand).unwrap();
        assert!(all.iter().all(|(_, outcome)| outcome.as_ref().unwrap_err().key == "grading-weights-sum"));
        let page = studio.signed_in(INSTRUCTOR).get(&format!("{}/grades", studio.class_path())).read();
        assert!(page.contains("add up to 90"), "{page}");
        let page = studio.signed_in(STUDENT).get(&format!("{}/grades", studio.class_path())).read();
        assert!(page.contains("cannot be reckoned") && page.contains("Ask the instructor"), "{page}");
    }

    fn grades_are_for_the_student_and_the_instructor(studio) {
        let things = set(studio);
        let own = format!("{}/grades", studio.class_path());
        for email in [ASSISTANT, SAFETY_OFFICER, RECORDS] {
            let visitor = studio.signed_in(email);
            assert_eq!(visitor.get(&own).status, 403, "{email}");
            assert_eq!(visitor.get(&marking(studio, things.assessment)).status, 403, "{email}");
        }
        let student = studio.signed_in(STUDENT);
        for path in [marking(studio, things.assessment), format!("{own}/rules"), format!("{own}/people/{}", studio.world.other_student)] {
            assert_eq!(student.get(&path).status, 403, "{path}");
        }
        let instructor = studio.signed_in(INSTRUCTOR);
        assert_eq!(instructor.get(&format!("{own}/people/{}", studio.world.assistant)).status, 404);
        assert_eq!(instructor.get(&format!("{own}/people/{}", studio.world.student)).status, 200);
    }
}
