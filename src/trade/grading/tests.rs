//! The rules of a grade one by one; published examples are in `tests/outside/grading.rs`.

use super::*;
use crate::trade::exact::Ties;
use crate::trade::remark::Param;

fn whole(number: i64) -> Exact {
    Exact::whole(number)
}

fn exact(text: &str) -> Exact {
    Exact::decimal(text).unwrap()
}

fn item(points: i64, score: i64) -> Item {
    Item {
        title: format!("{score} of {points}"),
        points: whole(points),
        score: Some(whole(score)),
        status: Status::Graded,
        lateness: Lateness::Days(0),
        extra_credit: false,
    }
}

fn standing(points: i64, status: Status) -> Item {
    Item { score: None, status, ..item(points, 0) }
}

fn category(weight: i64, items: Vec<Item>) -> Category {
    Category { name: "Plates".to_owned(), weight: whole(weight), drop_lowest: 0, items }
}

fn scheme() -> Scheme {
    let steps = [("A", 93), ("A-", 90), ("B+", 87), ("F", 0)];
    let step = |(letter, from): (&str, i64)| Step { letter: letter.to_owned(), from: whole(from) };
    Scheme {
        late: None,
        missing_counts_zero: true,
        rounding: Rounding::half_up(0),
        scale: Scale::new(steps.into_iter().map(step).collect()).unwrap(),
    }
}

fn percent(scheme: &Scheme, categories: &[Category]) -> Option<String> {
    reckon(scheme, categories).unwrap().percent_text()
}

fn keys(grade: &Grade) -> Vec<&'static str> {
    grade.working.iter().map(|line| line.key).collect()
}

#[test]
fn excused_and_unmarked_work_does_not_count_and_missing_work_as_the_class_says() {
    let items = vec![
        item(100, 80),
        standing(100, Status::Excused),
        standing(100, Status::Pending),
        standing(60, Status::Missing),
    ];
    let class = [category(100, items)];
    assert_eq!(percent(&scheme(), &class).unwrap(), "50.0000");
    let kind = Scheme { missing_counts_zero: false, ..scheme() };
    assert_eq!(percent(&kind, &class).unwrap(), "80.0000");
}

#[test]
fn what_is_possible_takes_unmarked_work_as_nothing_and_as_full_with_drops_anew() {
    let plates =
        Category { drop_lowest: 1, ..category(50, vec![item(100, 60), standing(100, Status::Pending)]) };
    let class = [plates, category(50, vec![standing(20, Status::Pending)])];
    let grade = reckon(&scheme(), &class).unwrap();
    assert_eq!(grade.percent_text().unwrap(), "60.0000");
    assert_eq!(grade.counted_weight, whole(50));
    // At 0 the unmarked plate is dropped; at full the other one is.
    assert_eq!(grade.possible_low_text().unwrap(), "30.0000");
    assert_eq!(grade.possible_high_text().unwrap(), "100.0000");
    assert!(keys(&grade).contains(&"grading-line-possible"));
}

#[test]
fn full_points_for_unmarked_work_still_pay_for_known_lateness() {
    let late =
        LateRule { percent_per_day: whole(10), of: Of::Possible, max_days: None, grace_hours: whole(0) };
    let unmarked = Item { lateness: Lateness::Days(2), ..standing(50, Status::Pending) };
    let grade = reckon(&Scheme { late: Some(late), ..scheme() }, &[category(100, vec![unmarked])]).unwrap();
    assert_eq!(grade.possible_high_text().unwrap(), "80.0000");
    assert_eq!(grade.possible_low_text().unwrap(), "0.0000");
    assert_eq!(grade.percent, None);
}

#[test]
fn nothing_counted_is_no_grade_and_says_so() {
    for class in [
        vec![category(100, Vec::new())],
        vec![category(100, vec![standing(10, Status::Excused)])],
        vec![category(100, vec![Item { extra_credit: true, ..item(5, 5) }])],
        // What counts weighs nothing.
        vec![category(0, vec![item(10, 9)]), category(100, Vec::new())],
    ] {
        let grade = reckon(&scheme(), &class).unwrap();
        assert_eq!((grade.percent_text(), grade.rounded_text(), grade.letter.as_deref()), (None, None, None));
        assert_eq!((grade.possible_low_text(), grade.possible_high_text()), (None, None));
        assert_eq!(grade.counted_weight, whole(0));
        assert_eq!(keys(&grade).last(), Some(&"grading-line-nothing-counted"));
    }
}

#[test]
fn extra_credit_is_added_without_being_asked_for() {
    let bonus = Item { extra_credit: true, ..item(5, 7) };
    let class = [category(100, vec![item(50, 45), item(50, 50), bonus])];
    assert_eq!(percent(&scheme(), &class).unwrap(), "102.0000");
}

#[test]
fn rounding_comes_once() {
    // 89.5 and 88.5 make 89; rounded each for itself they would make 89.5, and that 90.
    let class = [category(50, vec![item(200, 179)]), category(50, vec![item(200, 177)])];
    assert_eq!(reckon(&scheme(), &class).unwrap().rounded_text().unwrap(), "89");
}

#[test]
fn the_letter_is_read_from_the_rounded_percent() {
    let class = [category(100, vec![item(200, 179)])];
    for (places, ties, rounded, letter) in [
        (0, Ties::HalfUp, "90", "A-"),
        (0, Ties::HalfEven, "90", "A-"),
        (0, Ties::Truncate, "89", "B+"),
        (1, Ties::HalfUp, "89.5", "B+"),
    ] {
        let grade = reckon(&Scheme { rounding: Rounding { places, ties }, ..scheme() }, &class).unwrap();
        assert_eq!(grade.percent_text().unwrap(), "89.5000");
        assert_eq!(grade.rounded_text().unwrap(), rounded);
        assert_eq!(grade.letter.as_deref(), Some(letter));
    }
}

#[test]
fn a_percent_just_below_a_tie_is_shown_with_the_digits_that_tell() {
    let class = [category(100, vec![Item { score: Some(exact("89.499996")), ..item(100, 0) }])];
    let grade = reckon(&scheme(), &class).unwrap();
    assert_eq!(grade.rounded_text().unwrap(), "89");
    let line = grade.working.iter().find(|line| line.key == "grading-line-rounded-half-up").unwrap();
    assert!(line.with.contains(&("percent", Param::Text("89.499996".to_owned()))), "{line:?}");
}

#[test]
fn stored_hundredths_and_basis_points_are_points_and_percent() {
    let stored = Item { points: Exact::hundredths(2050), score: Some(Exact::hundredths(1025)), ..item(1, 0) };
    let class = [Category { weight: Exact::percent_from_basis_points(10_000), ..category(0, vec![stored]) }];
    assert_eq!(percent(&scheme(), &class).unwrap(), "50.0000");
}

#[test]
fn a_grade_names_what_was_dropped() {
    let class =
        [Category { drop_lowest: 2, ..category(100, vec![item(100, 90), item(10, 2), item(50, 50)]) }];
    let grade = reckon(&scheme(), &class).unwrap();
    assert_eq!(grade.categories, vec![CategoryResult { percent: Some(whole(100)), dropped: vec![0, 1] }]);
    assert_eq!(keys(&grade).iter().filter(|key| **key == "grading-line-dropped").count(), 2);
}

#[test]
fn input_without_sense_is_refused_by_name() {
    let negative_hours = Item { lateness: Lateness::Hours(exact("-0.5")), ..item(10, 5) };
    for (class, key) in [
        (vec![category(60, Vec::new()), category(30, Vec::new())], "grading-weights-sum"),
        (vec![], "grading-weights-sum"),
        (vec![category(-10, Vec::new()), category(110, Vec::new())], "grading-weight-negative"),
        (vec![category(100, vec![item(10, 11)])], "grading-score-above-points"),
        (vec![category(100, vec![item(10, -1)])], "grading-score-negative"),
        (vec![category(100, vec![item(0, 0)])], "grading-points-bad"),
        (vec![category(100, vec![Item { extra_credit: true, ..item(-1, 0) }])], "grading-points-bad"),
        (vec![category(100, vec![standing(10, Status::Graded)])], "grading-score-absent"),
        (vec![category(100, vec![negative_hours])], "grading-hours-late-negative"),
    ] {
        assert_eq!(reckon(&scheme(), &class).unwrap_err().key, key);
    }
    let late = |percent: &str, grace: &str| {
        let (percent_per_day, grace_hours) = (exact(percent), exact(grace));
        Scheme {
            late: Some(LateRule { percent_per_day, of: Of::Earned, max_days: None, grace_hours }),
            ..scheme()
        }
    };
    for (scheme, key) in [
        (late("101", "0"), "grading-late-percent-bad"),
        (late("-1", "0"), "grading-late-percent-bad"),
        (late("10", "-1"), "grading-grace-negative"),
        (Scheme { rounding: Rounding::half_up(13), ..scheme() }, "exact-places-bad"),
    ] {
        assert_eq!(reckon(&scheme, &[category(100, vec![item(10, 5)])]).unwrap_err().key, key);
    }
}
