//! Categories, rules and assessments: kept, refused, stale.

use super::*;

on_both! {
    fn an_instructor_sets_up_categories_that_make_a_hundred(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let rules = format!("{}/grades/rules", studio.class_path());
        let path = format!("{}/grades/categories", studio.class_path());
        let empty = instructor.get(&format!("{}/grades", studio.class_path()));
        assert!(empty.read().contains("No categories yet"), "{}", empty.read());
        let page = instructor.get(&rules);
        assert!(page.read().contains("These are the usual rules") && page.has("B+ 87"), "{}", page.read());
        let good = [
            ("version", "0"), ("title-0", "Prints"), ("weight-0", "62.5"), ("drop-0", "1"),
            ("title-1", "Portfolio"), ("weight-1", "37,50"), ("drop-1", ""), ("title-2", ""), ("weight-2", ""), ("drop-2", ""),
        ];
        for (name, value, said) in [
            ("weight-1", "30", "add up to 92.5 %, which is 7.5 % short of 100 %"),
            ("weight-1", "40.25", "add up to 102.75 %, which is 2.75 % more than 100 %"),
            ("weight-1", "half", "“half” is no number"),
            ("weight-1", "-1", "outside what is possible"),
            ("weight-1", "37.505", "at most 2 decimals"),
            ("weight-1", "", "Weight of category 2: This is missing"),
            ("title-1", "", "needs a title"),
            ("title-1", "Prints", "Two categories are called “Prints”"),
            ("title-1", "Por\u{7}tfolio", "control characters"),
            ("drop-0", "1.5", "is no number"),
            ("drop-0", "99", "outside what is possible"),
            ("version", "x", "is no number"),
        ] {
            let page = instructor.post(&path, &but(&good, name, value));
            assert_eq!(page.status, 422, "{name} {value}");
            assert!(page.read().contains(said), "{name} {value}: {}", page.read());
            assert!(page.has("62.5"), "what was typed is kept");
        }
        let long = "x".repeat(81);
        assert_eq!(instructor.post(&path, &but(&good, "title-1", &long)).status, 422);
        assert_eq!(instructor.post(&path, &[("version", "0")]).status, 422, "no category at all");
        let unknown = [&good[..], &[("id-0", "00000000-0000-0000-0000-000000000000")]].concat();
        assert_eq!(instructor.post(&path, &unknown).status, 404);
        for _ in 0..2 {
            let kept = instructor.post_once(&path, &good, "one-key-for-both-sendings");
            assert_eq!(kept.status, 303, "{}", kept.read());
        }
        let stored: Vec<(String, i32, i32)> = category::table
            .order(category::position)
            .select((category::title, category::weight_bp, category::drop_lowest))
            .load(&mut studio.connection())
            .unwrap();
        assert_eq!(stored, [("Prints".to_owned(), 6250, 1), ("Portfolio".to_owned(), 3750, 0)]);
        let stale = instructor.post(&path, &but(&good, "title-0", "Plates"));
        assert_eq!(stale.status, 422);
        let read = stale.read();
        assert!(read.contains("Somebody saved the rules") && read.contains("Prints: 62.5 %, 1 dropped"), "{read}");
        assert!(stale.has("Plates") && stale.has("name=\"version\" value=\"1\""), "typed kept, next save goes over it");
    }

    /// One always stays: by hand, 88 of 100 alone is 88 %, however many may be dropped.
    fn as_many_to_drop_as_there_are_is_told_and_one_stays(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let (path, rules) = (format!("{}/grades/categories", studio.class_path()), format!("{}/grades/rules", studio.class_path()));
        let id = things.category.to_string();
        let mut version = 0;
        let mut keep = |drop: &str| {
            let seen = version.to_string();
            let page = instructor.post(&path, &[("version", &seen), ("id-0", &id), ("title-0", "Prints"), ("weight-0", "100"), ("drop-0", drop)]);
            assert_eq!(page.status, 303, "{}", page.read());
            version += 1;
            instructor.get(&rules).read()
        };
        assert!(!keep("0").contains("At least one always counts"), "nothing is dropped");
        let one = keep("1");
        assert!(one.contains("Prints: up to 1 may be dropped, and there is one assessment in it. At least one always counts; lower the number if more should."), "{one}");
        another(studio, things.category, "A second night", 10_000);
        let two = keep("1");
        assert!(!two.contains("At least one always counts"), "one of two may go: {two}");
        let five = keep("5");
        assert!(five.contains("Prints: up to 5 may be dropped, and there are 2 assessments in it."), "{five}");
        hand_back(studio, &instructor, things.assessment);
        let ledger = instructor.get(&format!("{}/grades/people/{}", studio.class_path(), studio.world.student)).read();
        assert!(ledger.contains("Prints: up to 5 may be dropped, and no more than 1 count so far, so at least one stays."), "{ledger}");
        assert!(ledger.contains("88 %"), "{ledger}");
    }

    fn a_category_in_use_stays(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/grades/categories", studio.class_path());
        let page = instructor.post(&path, &[("version", "0"), ("title-0", "Other"), ("weight-0", "100")]);
        assert_eq!(page.status, 422);
        assert!(page.read().contains("“Prints” cannot be taken away: 1 assessment belongs"), "{}", page.read());
        let versions: i64 = grading_scheme::table.count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(versions, 0, "nothing was stored");
        let id = things.category.to_string();
        let page = instructor.post(&path, &[("version", "0"), ("id-0", &id), ("title-0", "Editions"), ("weight-0", "100")]);
        assert_eq!(page.status, 303, "{}", page.read());
    }

    fn rules_are_kept_and_bad_ones_are_not(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/grades/rules", studio.class_path());
        for (name, value, said) in [
            ("late", "101", "outside"), ("late", "", "missing"), ("late_of", "paid", "not one of the choices"),
            ("max_days", "-1", "outside"), ("grace", "soon", "no number"), ("places", "9", "outside"),
            ("ties", "up", "not one of the choices"), ("scale", "A", "is not a letter and the percent"),
            ("scale", "A 90\nB 95\nF 0", "out of order"), ("scale", "A 90", "gap"), ("version", "", "missing"),
        ] {
            let page = instructor.post(&path, &but(&RULES, name, value));
            assert_eq!(page.status, 422, "{name} {value}");
            assert!(page.read().contains(said), "{name} {value}: {}", page.read());
        }
        assert_eq!(instructor.post(&path, &RULES).status, 303);
        let page = instructor.get(&path);
        assert!(page.has("A 90") && !page.read().contains("These are the usual rules"));
        let stale = instructor.post(&path, &but(&RULES, "late", "20"));
        assert_eq!(stale.status, 422);
        assert!(stale.read().contains("10 % a day of the points it could bring, at most 5 days"), "{}", stale.read());
        let over = but(&but(&RULES, "late", "20"), "version", "1");
        assert_eq!(instructor.post(&path, &over).status, 303, "seen, then put in its place");
    }

    fn assessments_are_made_changed_and_taken_away(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/assessments", studio.class_path());
        assert_eq!(instructor.get(&path).status, 200);
        let (category, project) = (things.category.to_string(), things.project.to_string());
        let good = [("title", "Etch log"), ("category", category.as_str()), ("project", project.as_str()), ("points", "12.25")];
        let nowhere = "00000000-0000-0000-0000-000000000000";
        let long = "x".repeat(121);
        for (name, value) in [
            ("title", ""), ("title", &long), ("title", "a\u{0}b"), ("category", ""), ("category", nowhere),
            ("category", "prints"), ("project", nowhere), ("points", ""), ("points", "0"), ("points", "-5"),
            ("points", "ten"), ("points", "1.005"), ("points", "1000000"),
        ] {
            let page = instructor.post(&path, &but(&good, name, value));
            assert_eq!(page.status, 422, "{name} {value}: {}", page.read());
        }
        for _ in 0..2 {
            assert_eq!(instructor.post_once(&path, &good, "the-same-form-sent-twice").status, 303);
        }
        let made: Vec<(AssessmentId, i64)> = assessment::table
            .filter(assessment::title.eq("Etch log"))
            .select((assessment::id, assessment::points_hundredths))
            .load(&mut studio.connection())
            .unwrap();
        assert_eq!(made.len(), 1, "the same submit twice is one assessment");
        assert_eq!(made[0].1, 1225);
        let remove = format!("{path}/{}/remove", made[0].0);
        assert_eq!(instructor.post(&remove, &[]).status, 303);
        assert_eq!(instructor.post(&remove, &[]).status, 404);
        let marked = instructor.post(&format!("{path}/{}/remove", things.assessment), &[]);
        assert_eq!(marked.status, 409);
        assert!(marked.read().contains("has marks, which are never thrown away"), "{}", marked.read());
        let facts = format!("{path}/{}/facts", things.assessment);
        assert!(instructor.get(&facts).has("A room at night"));
        let change = [&good[..], &[("version", "1")]].concat();
        let page = instructor.post(&facts, &but(&change, "points", "80"));
        assert_eq!(page.status, 422);
        assert!(page.read().contains("A score of 88 points was given"), "{}", page.read());
        assert_eq!(instructor.post(&facts, &but(&change, "points", "90")).status, 303);
        let stale = instructor.post(&facts, &but(&change, "points", "95"));
        assert_eq!(stale.status, 422);
        assert!(stale.read().contains("Points: Now stands here: “90”") && stale.has("value=\"95\""), "{}", stale.read());
        assert_eq!(instructor.post(&format!("{path}/{nowhere}/facts"), &change).status, 404);
    }
}
