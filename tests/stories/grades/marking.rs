//! Marking sheets: what is stored, what is refused, two markers at once.

use super::*;

on_both! {
    fn only_what_changed_is_stored_and_a_change_wants_a_reason(studio) {
        let things = set(studio);
        let (student, other) = (studio.world.student, studio.world.other_student);
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = marking(studio, things.assessment);
        let page = instructor.get(&path);
        assert!(page.has("Good blacks.") && page.read().contains("Otis Wren"), "{}", page.read());
        let same = (student, Some(things.score), "graded", "88.00", "Good blacks.");
        let sheet = fields(&[same, (other, None, "pending", "", "")], "");
        assert_eq!(send(&instructor, &path, &sheet).status, 303);
        assert_eq!(count_scores(studio), 1, "nothing changed, nothing stored");
        // Points beside “not yet marked” are a graded score.
        let sheet = fields(&[same, (other, None, "pending", "71,25", "Thin.")], "");
        assert_eq!(send(&instructor, &path, &sheet).status, 303);
        assert_eq!(count_scores(studio), 2, "one row of two changed");
        let (first, status, points, _) = standing(studio, things.assessment, other);
        assert_eq!((status.as_str(), points), ("graded", Some(7125)));
        let change = [same, (other, Some(first), "graded", "73.5", "Thin.")];
        let page = send(&instructor, &path, &fields(&change, ""));
        assert_eq!(page.status, 422);
        assert!(page.read().contains("1 mark that was stored before is changed. Say why"), "{}", page.read());
        assert!(page.has("73.5"));
        assert_eq!(send(&instructor, &path, &fields(&change, "Added up wrongly")).status, 303);
        let (second, _, points, corrects) = standing(studio, things.assessment, other);
        assert_eq!((points, corrects), (Some(7350), Some(first)));
        let (root, superseded, reason): (ScoreId, Option<tympan::clock::Instant>, String) = score::table
            .find(first)
            .select((score::root, score::superseded_at, score::reason))
            .first(&mut studio.connection())
            .unwrap();
        assert_eq!((root, superseded.is_some(), reason.as_str()), (first, true, ""), "the first stays as it was");
        let row: (ScoreId, String) =
            score::table.find(second).select((score::root, score::reason)).first(&mut studio.connection()).unwrap();
        assert_eq!(row, (first, "Added up wrongly".to_owned()));
        let page = instructor.get(&path).read();
        assert!(page.contains("71.25 of 100") && page.contains("Changed because: Added up wrongly"), "{page}");
    }

    fn bad_marks_are_named_and_nothing_is_stored(studio) {
        let things = set(studio);
        let (other, path) = (studio.world.other_student, marking(studio, things.assessment));
        let instructor = studio.signed_in(INSTRUCTOR);
        let long = "x".repeat(2001);
        for (status, points, words, said) in [
            ("graded", "100.01", "", "“100.01” is above the 100 points"),
            ("graded", "-1", "", "outside what is possible"),
            ("graded", "good", "", "“good” is no number"),
            ("graded", "88.125", "", "at most 2 decimals"),
            ("graded", "", "", "Points of Otis Wren: Graded needs points"),
            ("missing", "5", "", "5 points stand beside a standing that has none"),
            ("excused", "0", "", "0 points stand beside"),
            ("lost", "5", "", "not one of the choices"),
            ("graded", "5", &long, "2001 characters; at most 2000 fit"),
            ("graded", "5", "a\u{1}b", "control characters"),
        ] {
            let page = send(&instructor, &path, &fields(&[(other, None, status, points, words)], ""));
            assert_eq!(page.status, 422, "{status} {points}");
            assert!(page.read().contains(said), "{status} {points}: {}", page.read());
        }
        assert_eq!(count_scores(studio), 1);
        let full = fields(&[(other, None, "graded", "100", "")], "");
        let nowhere = marking(studio, Id::new(NOW));
        assert_eq!(instructor.get(&nowhere).status, 404);
        assert_eq!(send(&instructor, &nowhere, &full).status, 404, "no such assessment");
        let nobody = fields(&[(studio.world.assistant, None, "graded", "100", "")], "");
        assert_eq!(send(&instructor, &path, &nobody).status, 404, "no student");
        assert_eq!(instructor.post(&path, &[("status-me", "graded")]).status, 404);
        diesel::update(assessment::table.find(things.assessment))
            .set(assessment::extra_credit.eq(true))
            .execute(&mut studio.connection())
            .unwrap();
        assert_eq!(send(&instructor, &path, &fields(&[(other, None, "graded", "100.01", "")], "")).status, 303);
    }

    fn the_same_sheet_twice_is_stored_once(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let sheet = fields(&[(studio.world.other_student, None, "missing", "", "No print came.")], "");
        let sheet: Vec<(&str, &str)> = sheet.iter().map(|(a, b)| (a.as_str(), b.as_str())).collect();
        for _ in 0..2 {
            let page = instructor.post_once(&marking(studio, things.assessment), &sheet, "a-sheet-sent-two-times");
            assert_eq!(page.status, 303, "{}", page.read());
        }
        assert_eq!(count_scores(studio), 2);
    }

    fn of_two_who_mark_at_once_the_second_sees_both(studio) {
        let things = set(studio);
        let (student, other, path) =
            (studio.world.student, studio.world.other_student, marking(studio, things.assessment));
        let (one, two) = (studio.signed_in(INSTRUCTOR), second_instructor(studio));
        let seen = Some(things.score);
        let first = fields(&[(student, seen, "graded", "90", "Good blacks."), (other, None, "graded", "60", "Grey.")], "Seen again");
        assert_eq!(send(&one, &path, &first).status, 303);
        // The second left the first student alone and marked the other one.
        let second = fields(&[(student, seen, "graded", "88", "Good blacks."), (other, None, "graded", "65", "Soft.")], "");
        let page = send(&two, &path, &second);
        assert_eq!(page.status, 422);
        let read = page.read();
        assert!(read.contains("Somebody marked this student meanwhile: graded, 60 points, comment “Grey.”"), "{read}");
        assert!(page.has("value=\"65\"") && page.has("Soft."), "what was typed is kept");
        assert!(page.has("value=\"90\"") && !page.has("value=\"88\""), "the row left alone shows what stands");
        let (standing_id, _, points, _) = standing(studio, things.assessment, other);
        assert_eq!(points, Some(6000));
        assert!(page.has(&standing_id.to_string()), "the row now counts as seen");
        let over = fields(&[(other, Some(standing_id), "graded", "65", "Soft.")], "We agreed on 65");
        assert_eq!(send(&two, &path, &over).status, 303);
        assert_eq!(standing(studio, things.assessment, other).2, Some(6500));
        assert_eq!(standing(studio, things.assessment, student).2, Some(9000));
    }
}
