//! Criteria and marks by them: the exact sum, words that outlast a rewriting, two markers at once, copies.

use super::*;
use tympan::store::schema::{assessment_criterion, criterion, score_level};

/// A class with two criteria, worth 60 and 40 of the 100 points.
pub struct Weighed {
    pub things: Things,
    pub craft: CriterionId,
    pub image: CriterionId,
}

const CRAFT: [(&str, &str); 8] = [
    ("title", "Craft"),
    ("about", "What acid did."),
    ("level-0", "Sure"),
    ("share-0", "100"),
    ("words-0", "Darks stay open."),
    ("level-1", "Thin"),
    ("share-1", "62.5"),
    ("words-1", "Lights burned out."),
];

fn criterion_called(studio: &Studio, title: &str) -> CriterionId {
    criterion::table
        .filter(criterion::title.eq(title))
        .select(criterion::id)
        .first(&mut studio.connection())
        .unwrap()
}

pub fn weighed(studio: &Studio) -> Weighed {
    let things = set(studio);
    let instructor = studio.signed_in(INSTRUCTOR);
    let base = format!("{}/criteria", studio.class_path());
    for title in ["Craft", "Image"] {
        let page = instructor.post(&format!("{base}/new"), &but(&CRAFT, "title", title));
        assert_eq!(page.status, 303, "{}", page.read());
    }
    let (craft, image) = (criterion_called(studio, "Craft"), criterion_called(studio, "Image"));
    let fields = [
        ("version".to_owned(), "1".to_owned()),
        ("typed".to_owned(), "weights".to_owned()),
        (format!("points-{craft}"), "60".to_owned()),
        (format!("points-{image}"), "40".to_owned()),
    ];
    let page = send(&instructor, &format!("{}/criteria", marking(studio, things.assessment)), &fields);
    assert_eq!(page.status, 303, "{}", page.read());
    Weighed { things, craft, image }
}

impl Weighed {
    pub fn path(&self, studio: &Studio, person: PersonId) -> String {
        format!("{}/marking/{person}", marking(studio, self.things.assessment))
    }

    /// The form of a mark: levels of craft and image, then what else differs from an empty form.
    pub fn form(
        &self,
        seen: Option<ScoreId>,
        levels: [&str; 2],
        other: &[(&str, &str)],
    ) -> Vec<(String, String)> {
        let mut all: Vec<(String, String)> =
            [("status", "pending"), ("words", ""), ("own_points", ""), ("own_reason", ""), ("reason", "")]
                .iter()
                .map(|(name, value)| {
                    let typed =
                        other.iter().find(|(field, _)| field == name).map_or(*value, |(_, typed)| *typed);
                    ((*name).to_owned(), typed.to_owned())
                })
                .collect();
        all.push(("seen".to_owned(), seen.map(|id| id.to_string()).unwrap_or_default()));
        for (id, level) in [(self.craft, levels[0]), (self.image, levels[1])] {
            all.push((format!("level-{id}"), level.to_owned()));
            all.push((format!("words-{id}"), "Look at the hem.".to_owned()));
        }
        all
    }
}

on_both! {
    /// By hand: 62.5 % of 60 points are 37.5, all of 40 are 40; together 77.5, and nothing was rounded.
    fn a_mark_is_the_exact_sum_of_its_levels(studio) {
        let set = weighed(studio);
        let other = studio.world.other_student;
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = set.path(studio, other);
        let page = instructor.get(&path);
        for part in ["Otis Wren", "2. Thin, 37.5 points: Lights burned out.", "1. Sure, 40 points", "Before: Sami Vale"] {
            assert!(page.read().contains(part) || part.starts_with("Before"), "{part}: {}", page.read());
        }
        let page = send(&instructor, &path, &set.form(None, ["2", "1"], &[("words", "Good blacks.")]));
        assert_eq!(page.status, 303, "{}", page.read());
        let (first, status, points, _) = standing(studio, set.things.assessment, other);
        assert_eq!((status.as_str(), points), ("graded", Some(7750)));
        // The same again changes nothing; another level wants a reason and keeps the mark before.
        assert_eq!(send(&instructor, &path, &set.form(Some(first), ["2", "1"], &[("status", "graded"), ("words", "Good blacks.")])).status, 303);
        assert_eq!(standing(studio, set.things.assessment, other).0, first);
        let page = send(&instructor, &path, &set.form(Some(first), ["1", "1"], &[("status", "graded")]));
        assert_eq!(page.status, 422);
        assert!(page.read().contains("Say why"), "{}", page.read());
        let again = set.form(Some(first), ["1", "1"], &[("status", "graded"), ("reason", "Seen by day")]);
        assert_eq!(send(&instructor, &path, &again).status, 303);
        let (second, _, points, corrects) = standing(studio, set.things.assessment, other);
        assert_eq!((points, corrects), (Some(10_000), Some(first)));
        // Rewriting a criterion leaves the words of both marks as they were.
        let rewritten = but(&CRAFT, "words-0", "Nothing filled in.");
        let rewritten: Vec<(&str, &str)> = [("version", "1")].into_iter().chain(rewritten).collect();
        let page = instructor.post(&format!("{}/criteria/{}", studio.class_path(), set.craft), &rewritten);
        assert_eq!(page.status, 303, "{}", page.read());
        let words: Vec<String> = score_level::table
            .filter(score_level::score_id.eq_any([first, second]).and(score_level::criterion_id.eq(set.craft)))
            .order(score_level::descriptor)
            .select(score_level::descriptor)
            .load(&mut studio.connection())
            .unwrap();
        assert_eq!(words, ["Darks stay open.", "Lights burned out."]);
        hand_back(studio, &instructor, set.things.assessment);
        let own = studio.signed_in(OTHER_STUDENT).get(&format!("{}/grades", studio.class_path())).read();
        for part in ["Sure, 60 of 60", "Darks stay open.", "Look at the hem.", "Marked by"] {
            assert!(own.contains(part), "{part}: {own}");
        }
    }

    fn points_of_ones_own_want_a_reason_and_stay_within(studio) {
        let set = weighed(studio);
        let (other, instructor) = (studio.world.other_student, studio.signed_in(INSTRUCTOR));
        let path = set.path(studio, other);
        for (levels, typed, said) in [
            (["2", ""], vec![("status", "graded")], "No level is chosen here"),
            (["2", "1"], vec![("own_points", "80")], "80 points are not the 77.5 that the levels make"),
            (["2", ""], vec![("own_points", "80")], "while not every level is chosen"),
            (["2", "1"], vec![("own_points", "100.01"), ("own_reason", "x")], "“100.01” is above the 100 points"),
            (["2", "1"], vec![("status", "missing")], "Levels are chosen beside a standing that has none"),
            (["9", "1"], vec![], "not one of the choices"),
        ] {
            let page = send(&instructor, &path, &set.form(None, levels, &typed));
            assert_eq!(page.status, 422, "{typed:?}");
            assert!(page.read().contains(said), "{said}: {}", page.read());
            assert!(page.has("Look at the hem."), "what was typed stays");
        }
        assert_eq!(count_scores(studio), 1, "nothing half saved");
        let own = set.form(None, ["2", "1"], &[("own_points", "80"), ("own_reason", "A late state outdid it")]);
        assert_eq!(send(&instructor, &path, &own).status, 303);
        assert_eq!(standing(studio, set.things.assessment, other).2, Some(8000));
        let sheet = fields(&[(other, None, "graded", "5", "")], "because");
        let page = send(&instructor, &marking(studio, set.things.assessment), &sheet);
        assert_eq!(page.status, 422);
        assert!(page.read().contains("is marked by criteria"), "{}", page.read());
        let nobody = set.path(studio, studio.world.assistant);
        assert_eq!(instructor.get(&nobody).status, 404);
        assert_eq!(send(&instructor, &nobody, &set.form(None, ["1", "1"], &[])).status, 404);
    }

    fn of_two_who_mark_one_print_the_second_sees_both(studio) {
        let set = weighed(studio);
        let other = studio.world.other_student;
        let (one, two) = (studio.signed_in(INSTRUCTOR), second_instructor(studio));
        let path = set.path(studio, other);
        assert_eq!(send(&one, &path, &set.form(None, ["1", "1"], &[("words", "Grey.")])).status, 303);
        let page = send(&two, &path, &set.form(None, ["2", "2"], &[("words", "Soft.")]));
        assert_eq!(page.status, 422);
        let read = page.read();
        assert!(read.contains("Somebody marked this student meanwhile: graded, 100 points, comment “Grey.”"), "{read}");
        assert!(read.contains("Their levels:") && read.contains("Craft: Sure"), "{read}");
        assert!(page.has("Soft."), "what was typed is kept");
        let (first, _, points, _) = standing(studio, set.things.assessment, other);
        assert_eq!(points, Some(10_000));
        assert!(page.has(&format!("name=\"seen\" value=\"{first}\"")), "the mark now counts as seen");
        let over = set.form(Some(first), ["2", "2"], &[("status", "graded"), ("words", "Soft."), ("reason", "We agreed")]);
        let again = send(&two, &path, &over);
        assert_eq!(again.status, 303, "{}", again.read());
        assert_eq!(standing(studio, set.things.assessment, other).2, Some(6250));
    }

    fn criteria_that_do_not_come_out_even_are_refused_at_their_field(studio) {
        let set = weighed(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let base = format!("{}/criteria", studio.class_path());
        for (name, value, said) in [
            ("title", "Craft", "Another criterion is called “Craft”"),
            ("share-0", "90", "The best level is worth 100 %"),
            ("share-1", "100", "100 % is not below the 100 %"),
            ("level-1", "", "A level needs a title"),
            ("share-1", "", "This level has no percent"),
            ("share-1", "much", "“much” is no number"),
        ] {
            let typed = but(&but(&CRAFT, "title", "Paper"), name, value);
            let page = instructor.post(&format!("{base}/new"), &typed);
            assert_eq!(page.status, 422, "{name} {value}");
            assert!(page.read().contains(said), "{said}: {}", page.read());
        }
        let weigh = format!("{}/criteria", marking(studio, set.things.assessment));
        let fields = |version: &str, craft: &str, image: &str| {
            vec![
                ("version".to_owned(), version.to_owned()),
                ("typed".to_owned(), "points".to_owned()),
                (format!("points-{}", set.craft), craft.to_owned()),
                (format!("points-{}", set.image), image.to_owned()),
            ]
        };
        for (craft, image, said) in [
            ("60", "39", "The criteria make 99 points together; the assessment has 100"),
            ("60.01", "39.99", "is worth 62.5 % of 60.01 points, which is not a whole number of hundredths"),
        ] {
            let page = send(&instructor, &weigh, &fields("2", craft, image));
            assert_eq!(page.status, 422);
            assert!(page.read().contains(said), "{said}: {}", page.read());
        }
        let page = send(&instructor, &weigh, &fields("1", "50", "50"));
        assert_eq!(page.status, 422, "a stale save");
        assert!(page.has("value=\"50\""), "what was typed is kept");
        let page = instructor.post(&format!("{base}/{}/remove", set.craft), &[]);
        assert_eq!(page.status, 409, "{}", page.read());
        let facts = format!("{}/facts", marking(studio, set.things.assessment));
        let category = set.things.category.to_string();
        let page = instructor.post(&facts, &[("version", "2"), ("category", &category), ("project", ""), ("title", "A room"), ("points", "120")]);
        assert_eq!(page.status, 422);
        assert!(page.read().contains("The criteria of this assessment make 100 points"), "{}", page.read());
        assert_eq!(send(&instructor, &weigh, &fields("2", "", "")).status, 303, "back to points alone");
        let left: i64 = assessment_criterion::table.count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(left, 0);
    }

    fn the_proposed_criteria_are_taken_over_once_and_copied_from_ones_own_class(studio) {
        set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let usual = format!("{}/criteria/usual", studio.class_path());
        for _ in 0..2 {
            assert_eq!(instructor.post(&usual, &[]).status, 303);
        }
        let count = |studio: &Studio, class: ClassId| -> i64 {
            criterion::table.filter(criterion::class_id.eq(class)).count().get_result(&mut studio.connection()).unwrap()
        };
        assert_eq!(count(studio, studio.world.class), 5);
        assert!(instructor.get(&format!("{}/criteria", studio.class_path())).read().contains("Craft of the etch"));
        // The instructor of the other class did not teach this one, so nothing of it can be copied.
        let copy = format!("/classes/{}/criteria/copy", studio.world.other_class);
        let from = studio.world.class.to_string();
        let stranger = studio.signed_in(STRANGER);
        assert_eq!(stranger.post(&copy, &[("from", &from)]).status, 404);
        diesel::insert_into(enrolment::table)
            .values((
                (enrolment::id.eq(EnrolmentId::new(NOW)), enrolment::class_id.eq(studio.world.other_class)),
                (enrolment::person_id.eq(studio.world.instructor), enrolment::role.eq("instructor")),
                (enrolment::state.eq("enrolled"), enrolment::joined_at.eq(NOW), enrolment::version.eq(1)),
                enrolment::since.eq(chrono::NaiveDate::from_ymd_opt(2026, 8, 31).unwrap()),
            ))
            .execute(&mut studio.connection())
            .unwrap();
        assert_eq!(instructor.post(&copy, &[("from", &from)]).status, 303);
        assert_eq!(count(studio, studio.world.other_class), 5);
    }
}

on_both! {
    /// The file for an appeal says against which wording a mark was given, why its points are others than the levels make,
    /// what a second look said, and what was noted at a critique; what was submitted keeps the wording too.
    fn a_file_for_an_appeal_has_the_wording(studio) {
        let set = weighed(studio);
        let world = &studio.world;
        let instructor = studio.signed_in(INSTRUCTOR);
        let other = world.other_student;
        let seen = None;
        let more = [("own_points", "93"), ("own_reason", "The margin is torn"), ("words", "Even throughout")];
        let page = send(&instructor, &set.path(studio, other), &set.form(seen, ["1", "1"], &more));
        assert_eq!(page.status, 303, "{}", page.read());
        hand_back(studio, &instructor, set.things.assessment);
        let student = studio.signed_in(OTHER_STUDENT);
        let asked = student.post(&format!("{}/second-look", marking(studio, set.things.assessment)), &[("reason", "The tear came later")]);
        assert_eq!(asked.status, 303, "{}", asked.read());
        let path = format!("{}/grades/people/{other}/submitted", studio.class_path());
        let page = instructor.post(&path, &[("way", "by-hand"), ("before", ""), ("letter", "A"), ("reason", "agreed")]);
        assert_eq!(page.status, 303, "{}", page.read());
        let read = instructor.get(&format!("{}/grades/people/{other}/file", studio.class_path())).read();
        let wording: (String, String) = score_level::table
            .filter(score_level::criterion_id.eq(set.craft))
            .select((score_level::level_title, score_level::descriptor))
            .first(&mut studio.connection())
            .unwrap();
        for part in ["Even throughout", "The margin is torn", "The tear came later", "It waits for the instructor", &wording.0, &wording.1] {
            assert!(read.contains(part), "{part}: {read}");
        }
        let kept: String = tympan::store::schema::submitted_grade::table
            .select(tympan::store::schema::submitted_grade::evidence)
            .first(&mut studio.connection())
            .unwrap();
        let kept: serde_json::Value = serde_json::from_str(&kept).unwrap();
        let item = &kept["categories"][0]["items"][0];
        assert_eq!(item["criteria"][0]["descriptor"], wording.1, "{kept}");
        assert_eq!(item["own_points_because"], "The margin is torn");
        assert!(kept["roll"].is_array() && kept["duties"].is_array(), "{kept}");
    }
}

on_both! {
    /// By hand: one marker at 60 + 40 = 100, the other at 37.5 + 40 = 77.5; they are 22.5 points apart. Of two pairs of
    /// levels one agrees; with both raters' levels (1, 1) and (2, 1) kappa is 0, because the first never varies.
    fn two_markers_are_blind_until_both_are_done(studio) {
        let set = weighed(studio);
        let (one, two) = (studio.signed_in(INSTRUCTOR), second_instructor(studio));
        let other = studio.world.other_student;
        let path = format!("{}/two-markers", marking(studio, set.things.assessment));
        let (first, second) = (studio.world.instructor.to_string(), studio.world.stranger.to_string());
        let draw = [("share", "50"), ("seed", "7"), ("first", first.as_str()), ("second", second.as_str())];
        let page = one.post(&path, &draw);
        assert_eq!(page.status, 422, "nothing is handed in");
        assert!(page.read().contains("No work waits for its mark"), "{}", page.read());
        diesel::update(assessment::table.find(set.things.assessment))
            .set(assessment::project_id.eq(None::<ProjectId>))
            .execute(&mut studio.connection())
            .unwrap();
        for (name, value, said) in [
            ("share", "0", "outside what is possible"),
            ("second", first.as_str(), "two different instructors"),
            ("seed", "lots", "no number"),
        ] {
            let page = one.post(&path, &but(&draw, name, value));
            assert_eq!(page.status, 422, "{name}");
            assert!(page.read().contains(said), "{said}: {}", page.read());
        }
        assert_eq!(one.post(&path, &draw).status, 303);
        assert_eq!(one.post(&path, &draw).status, 409, "drawn once");
        let ordinary = send(&one, &set.path(studio, other), &set.form(None, ["1", "1"], &[]));
        assert_eq!(ordinary.status, 422, "no mark beside the blind ones");
        assert!(ordinary.read().contains("Two markers mark this blind"), "{}", ordinary.read());
        let blind = format!("{path}/{other}");
        assert_eq!(one.get(&format!("{path}/{}", studio.world.student)).status, 404, "marked before, so not drawn");
        let page = send(&one, &blind, &set.form(None, ["1", ""], &[]));
        assert_eq!(page.status, 422);
        assert_eq!(send(&one, &blind, &set.form(None, ["1", "1"], &[("words", "Open to the hem")])).status, 303);
        for page in [two.get(&path), two.get(&blind), two.get(&format!("{}/records/journal.csv", studio.class_path()))] {
            assert!(!page.has("Open to the hem") && !page.has("checked><span>1."), "blind: {}", page.read());
        }
        let archive = format!("{}/records/archive.zip", studio.class_path());
        let open = two.get(&archive).unpacked();
        assert_eq!(open["data/blind_mark.jsonl"].lines().count(), 1, "the columns alone: {}", open["data/blind_mark.jsonl"]);
        assert_eq!(open["data/second_marking.jsonl"].lines().count(), 2, "that it was drawn is no secret");
        assert!(open.iter().all(|(name, text)| !text.contains("Open to the hem") || panic!("{name}")));
        assert_eq!(send(&two, &blind, &set.form(None, ["2", "1"], &[])).status, 303);
        let done = two.get(&archive).unpacked();
        assert_eq!(done["data/blind_mark.jsonl"].lines().count(), 3, "{}", done["data/blind_mark.jsonl"]);
        assert!(done["data/blind_mark.jsonl"].contains("Open to the hem"));
        let own = studio.signed_in(OTHER_STUDENT).get(&format!("{}/own-data.zip", studio.class_path())).unpacked();
        assert!(own.values().all(|text| !text.contains("Open to the hem")), "what was not handed back");
        let page = two.get(&path).read();
        for part in ["22.5", "Open to the hem", "quadratic weights: 0", "Only 2 pairs were compared"] {
            assert!(page.contains(part), "{part}: {page}");
        }
        assert_eq!(send(&two, &blind, &set.form(None, ["1", "1"], &[])).status, 422, "both are done");
        assert_eq!(send(&one, &set.path(studio, other), &set.form(None, ["1", "1"], &[])).status, 303, "the mark agreed on");
    }
}
