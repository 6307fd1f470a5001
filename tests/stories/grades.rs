//! Grades: categories and rules, assessments, marking, handing back, what a student sees, and exact grades.

use diesel::prelude::*;
use tympan::ids::*;
use tympan::store::grades::book::{grade_rows, grades_of_class};
use tympan::store::grades::scores::Which;
use tympan::store::schema::{assessment, category, enrolment, grading_scheme, letter, own_due, print, score};

use crate::on_both;
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Page, Studio, Visitor};

const ZONE: chrono_tz::Tz = chrono_tz::America::New_York;

fn set(studio: &Studio) -> Things {
    Things::set(&mut studio.connection(), &studio.world)
}

fn count_scores(studio: &Studio) -> i64 {
    score::table.count().get_result(&mut studio.connection()).unwrap()
}

/// A sheet of marks: (person, seen, status, points, comment).
type Line<'a> = (PersonId, Option<ScoreId>, &'a str, &'a str, &'a str);

fn fields(lines: &[Line<'_>], reason: &str) -> Vec<(String, String)> {
    let mut all = vec![("reason".to_owned(), reason.to_owned())];
    for (person, seen, status, points, words) in lines {
        all.push((format!("seen-{person}"), seen.map(|id| id.to_string()).unwrap_or_default()));
        all.push((format!("status-{person}"), (*status).to_owned()));
        all.push((format!("points-{person}"), (*points).to_owned()));
        all.push((format!("words-{person}"), (*words).to_owned()));
    }
    all
}

fn send(visitor: &Visitor, path: &str, all: &[(String, String)]) -> Page {
    let all: Vec<(&str, &str)> = all.iter().map(|(a, b)| (a.as_str(), b.as_str())).collect();
    visitor.post(path, &all)
}

fn standing(
    studio: &Studio,
    id: AssessmentId,
    person: PersonId,
) -> (ScoreId, String, Option<i64>, Option<ScoreId>) {
    score::table
        .filter(
            score::assessment_id.eq(id).and(score::person_id.eq(person)).and(score::superseded_at.is_null()),
        )
        .select((score::id, score::status, score::points_hundredths, score::corrects))
        .first(&mut studio.connection())
        .unwrap()
}

fn marking(studio: &Studio, id: AssessmentId) -> String {
    format!("{}/assessments/{id}", studio.class_path())
}

fn hand_back(studio: &Studio, instructor: &Visitor, id: AssessmentId) {
    let page = instructor.post(&format!("{}/hand-back", marking(studio, id)), &[]);
    assert_eq!(page.status, 303, "{}", page.read());
}

/// An assessment of its own category's, set down without the pages.
fn another(studio: &Studio, category_id: CategoryId, title: &str, hundredths: i64) -> AssessmentId {
    let id: AssessmentId = Id::new(NOW);
    diesel::insert_into(assessment::table)
        .values((
            (assessment::id.eq(id), assessment::class_id.eq(studio.world.class)),
            (
                assessment::category_id.eq(category_id),
                assessment::position.eq(9),
                assessment::title.eq(title),
            ),
            (assessment::points_hundredths.eq(hundredths), assessment::extra_credit.eq(false)),
            assessment::version.eq(1),
        ))
        .execute(&mut studio.connection())
        .unwrap();
    id
}

/// A second instructor: the stranger, who joins the class.
fn second_instructor(studio: &Studio) -> Visitor {
    diesel::insert_into(enrolment::table)
        .values((
            (enrolment::id.eq(EnrolmentId::new(NOW)), enrolment::class_id.eq(studio.world.class)),
            (enrolment::person_id.eq(studio.world.stranger), enrolment::role.eq("instructor")),
            (enrolment::state.eq("enrolled"), enrolment::joined_at.eq(NOW), enrolment::version.eq(1)),
            enrolment::since.eq(chrono::NaiveDate::from_ymd_opt(2026, 8, 31).unwrap()),
        ))
        .execute(&mut studio.connection())
        .unwrap();
    studio.signed_in(STRANGER)
}

const RULES: [(&str, &str); 9] = [
    ("version", "0"),
    ("late", "10"),
    ("late_of", "possible"),
    ("max_days", "5"),
    ("grace", "15"),
    ("missing", "yes"),
    ("places", "0"),
    ("ties", "half_up"),
    ("scale", "A 90\nB 80\nF 0"),
];

fn but<'a>(fields: &[(&'a str, &'a str)], name: &'a str, value: &'a str) -> Vec<(&'a str, &'a str)> {
    fields.iter().map(|field| if field.0 == name { (name, value) } else { *field }).collect()
}

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
        assert!(stale.read().contains("What stands now: Etch log, 90 points") && stale.has("value=\"95\""), "{}", stale.read());
        assert_eq!(instructor.post(&format!("{path}/{nowhere}/facts"), &change).status, 404);
    }

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
        for part in ["88 of 100", "Good blacks.", "handed back", "88 %", "B+", "from 100 % of the weight", "Prints: 88 ÷ 100 = 88 %"] {
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
        assert!(!sent[0].3.contains("88"), "no score in a letter");
        let nothing = instructor.post(&path, &[]);
        assert_eq!(nothing.status, 409);
        assert!(nothing.read().contains("Nothing waits to be handed back"), "{}", nothing.read());
        let page = instructor.get(&format!("{}/grades", studio.class_path())).read();
        assert!(!page.contains("(88)") && page.contains("88"), "{page}");
    }

    /// 88.75 of 100 and 45.5 of 50 at 50 % each are (88.75 + 91) / 2 = 89.875; with 44.875... by hand: 88 and 45.5 of 50
    /// are (88 + 91) / 2 = 89.5 exactly, which floats of thirds could miss.
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
        assert!(page.contains("from 50 % of the weight") && page.contains("45.5000 %") && page.contains("95.5000 %"), "{page}");
        let page = instructor.get(&format!("{}/grades/people/{student}", studio.class_path())).read();
        assert!(page.contains("89.5000 %") && page.contains("(50 × 88 + 50 × 91) ÷ (50 + 50) = 89.5 %"), "{page}");
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
        assert!(page.contains("own due date Wed\u{a0}25\u{a0}Nov, 16:30"), "{page}");
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
