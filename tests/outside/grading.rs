//! Grades against published examples, and the search for the best drops against trying every subset.

use proptest::prelude::*;
use serde_json::{Value, json};
use tympan::commands::reckon::answer;
use tympan::speech::Speech;
use tympan::trade::exact::{Exact, Rounding, Ties};
use tympan::trade::grading::drops::{Part, best};
use tympan::trade::grading::points::{Course, PointScale};

fn grade(input: &Value) -> Value {
    let speech = Speech::load().unwrap();
    let said = answer(&speech, "grade", &input.to_string())
        .unwrap_or_else(|remark| panic!("{}", speech.remark(&remark)));
    serde_json::from_str(&said).unwrap()
}

fn refusal(input: &Value) -> String {
    let speech = Speech::load().unwrap();
    speech.remark(&answer(&speech, "grade", &input.to_string()).unwrap_err())
}

fn items(scores: &[(f64, f64)]) -> Value {
    scores
        .iter()
        .enumerate()
        .map(|(place, (score, points))| json!({"title": format!("item {place}"), "points": points, "score": score}))
        .collect()
}

/// The common letter scale: bestpercentagecalculator.net.
fn common_scale() -> Value {
    json!([
        ["A", 93],
        ["A-", 90],
        ["B+", 87],
        ["B", 83],
        ["B-", 80],
        ["C+", 77],
        ["C", 73],
        ["C-", 70],
        ["D+", 67],
        ["D", 63],
        ["D-", 60],
        ["F", 0]
    ])
}

/// Four categories; the arithmetic was made up for this check and done by hand.
fn constructed(drop_lowest: u32, participation: &[(f64, f64)]) -> Value {
    json!({"categories": [
        {"name": "Plates", "weight": 50, "drop_lowest": drop_lowest,
         "items": items(&[(88.0, 100.0), (92.0, 100.0), (75.0, 100.0)])},
        {"name": "Portfolio", "weight": 30, "items": items(&[(91.0, 100.0)])},
        {"name": "Safety", "weight": 10, "items": items(&[(100.0, 100.0), (100.0, 100.0)])},
        {"name": "Participation", "weight": 10, "items": items(participation)}],
        "scale": common_scale()})
}

#[test]
fn the_constructed_class_comes_out_as_by_hand() {
    let plain = grade(&constructed(0, &[(80.0, 100.0)]));
    assert_eq!(
        (&plain["percent"], &plain["rounded"], &plain["letter"]),
        (&json!("87.8000"), &json!("88"), &json!("B+"))
    );
    let dropped = grade(&constructed(1, &[(80.0, 100.0)]));
    assert_eq!((&dropped["percent"], &dropped["letter"]), (&json!("90.3000"), &json!("A-")));
    let shared_out = grade(&constructed(0, &[]));
    assert_eq!((&shared_out["percent"], &shared_out["rounded"]), (&json!("88.6667"), &json!("89")));
    let working: Vec<String> = serde_json::from_value(shared_out["working"].clone()).unwrap();
    assert!(working.iter().any(|line| line == "This comes from 90 % of the weight."), "{working:?}");
}

/// Scores, how many may be dropped, the positions that go, the result.
type Dropped<'a> = (&'a [(i32, i32)], usize, &'a [usize], &'a str);

/// Daniel M. Kane and Jonathan M. Kane, "Dropping lowest grades", Mathematics Magazine 79(3), 2006: the
/// sets as remembered, the results recomputed by trying every subset.
const KANE_AND_KANE: &[Dropped<'_>] = &[
    (&[(2, 8), (6, 12), (24, 40)], 1, &[0], "57.6923"),
    // Not the lowest percent (1/20) but the heavy 20/100.
    (&[(80, 100), (20, 100), (1, 20)], 1, &[1], "67.5000"),
    (&[(100, 100), (42, 91), (14, 55), (3, 38)], 1, &[3], "63.4146"),
    // Not a superset of the one above.
    (&[(100, 100), (42, 91), (14, 55), (3, 38)], 2, &[1, 2], "74.6377"),
];

#[test]
fn drops_are_those_of_kane_and_kane() {
    for (scores, most, dropped, percent) in KANE_AND_KANE {
        let parts: Vec<Part> = scores.iter().map(|score| part(*score)).collect();
        assert_eq!(best(&parts, &Exact::zero(), *most), *dropped);
        let floats: Vec<(f64, f64)> =
            scores.iter().map(|(score, points)| (f64::from(*score), f64::from(*points))).collect();
        let class = json!({"categories": [
            {"name": "Plates", "weight": 100, "drop_lowest": most, "items": items(&floats)}]});
        assert_eq!(grade(&class)["percent"], json!(percent));
    }
}

fn part((earned, asked): (i32, i32)) -> Part {
    Part { earned: Exact::whole(earned.into()), asked: Exact::whole(asked.into()) }
}

fn ratio(parts: &[Part], beyond: &Exact, dropped: impl Fn(usize) -> bool) -> Option<Exact> {
    let kept = || parts.iter().enumerate().filter(|(place, _)| !dropped(*place)).map(|(_, part)| part);
    let earned: Exact = kept().map(|part| &part.earned).sum();
    (&earned + beyond).over(&kept().map(|part| &part.asked).sum())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// The oracle tries every subset of at most `most` items that leaves one.
    #[test]
    fn no_subset_beats_the_drops(
        scores in prop::collection::vec((1_i32..60).prop_flat_map(|asked| (0..=asked, Just(asked))), 1..9),
        beyond in prop_oneof![Just(0_i64), 0_i64..40],
        most in 0_usize..9,
    ) {
        let parts: Vec<Part> = scores.into_iter().map(part).collect();
        let beyond = Exact::whole(beyond);
        let dropped = best(&parts, &beyond, most);
        prop_assert!(dropped.len() <= most && dropped.len() < parts.len());
        let ours = ratio(&parts, &beyond, |place| dropped.contains(&place)).unwrap();
        let subsets = (0_u32..1 << parts.len()).filter(|set| set.count_ones() as usize <= most);
        for set in subsets {
            if let Some(theirs) = ratio(&parts, &beyond, |place| set >> place & 1 == 1) {
                prop_assert!(theirs <= ours, "{set:b} gives {theirs}, {dropped:?} gives {ours}");
            }
        }
    }
}

fn courses(taken: &[(i64, &str)]) -> Vec<Course> {
    let course = |(credits, letter): &(i64, &str)| Course {
        title: "a course".to_owned(),
        credits: Exact::whole(*credits),
        letter: (*letter).to_owned(),
    };
    taken.iter().map(course).collect()
}

/// University of Mary Washington, registrar, "Computing my GPA": 23.10 points over 13 credits are printed as
/// 1.77, so that registrar cuts off; rounding gives 1.78. And bestpercentagecalculator.net: 24 / 7 = 3.43.
#[test]
fn grade_point_averages_are_those_of_the_registrars() {
    let usual = PointScale::usual();
    let mary_washington = courses(&[(3, "A"), (3, "B-"), (3, "D"), (4, "F")]);
    let cut = Rounding { places: 2, ties: Ties::Truncate };
    assert_eq!(usual.average_text(&mary_washington, cut).unwrap().unwrap(), "1.77");
    assert_eq!(usual.average_text(&mary_washington, Rounding::half_up(2)).unwrap().unwrap(), "1.78");
    assert_eq!(usual.average(&mary_washington).unwrap(), Exact::hundredths(2310).over(&Exact::whole(13)));
    let other = courses(&[(3, "A"), (4, "B")]);
    assert_eq!(usual.average_text(&other, Rounding::half_up(2)).unwrap().unwrap(), "3.43");
}

/// A source that must not be followed: 0685.com multiplies B+ by 3.7 while its own table says 3.3.
#[test]
fn a_b_plus_is_worth_what_the_table_says() {
    let usual = PointScale::usual();
    assert_eq!(usual.average(&courses(&[(3, "B+")])).unwrap(), Some(Exact::hundredths(330)));
    assert_eq!(usual.points("A-"), Some(&Exact::hundredths(370)));
    assert_eq!(usual.points("E"), None);
}

/// Rounding ties: half up is usual for grades (89.5 is 90), half even is the default of NIST SP 811 (from memory).
#[test]
fn ties_go_where_the_class_says() {
    for (ties, score, rounded, letter) in [
        ("half_up", 89.5, "90", "A-"),
        ("half_even", 88.5, "88", "B+"),
        ("half_up", 88.5, "89", "B+"),
        ("truncate", 89.99, "89", "B+"),
    ] {
        let said = grade(&json!({
            "categories": [{"name": "All", "weight": 100, "items": items(&[(score, 100.0)])}],
            "rounding": {"places": 0, "ties": ties}, "scale": common_scale()}));
        assert_eq!((&said["rounded"], &said["letter"]), (&json!(rounded), &json!(letter)), "{ties} {score}");
    }
}

/// Floats would make 0.1 + 0.2 + 99.7 something else than 100, and 64.8 of 72 something else than 90.
#[test]
fn decimals_are_exact() {
    let weights = [0.1, 0.2, 99.7].map(|weight| {
        json!({"name": "part", "weight": weight, "items": [{"title": "item", "points": 72, "score": 64.8}]})
    });
    let said = grade(&json!({"categories": weights, "rounding": {"places": 12, "ties": "truncate"}}));
    assert_eq!(said["rounded"], json!("90.000000000000"));
}

#[test]
fn a_refusal_names_field_value_and_remedy() {
    let mut class = constructed(0, &[]);
    class["categories"][0]["weight"] = json!(40);
    assert_eq!(
        refusal(&class),
        "The weights of the categories add up to 90: change them so that they make exactly 100."
    );
    let mut class = constructed(0, &[]);
    class["categories"][1]["items"][0]["score"] = json!(100.5);
    assert_eq!(
        refusal(&class),
        "The score of “item 0” in “Portfolio” is 100.5, above its 100 points: correct it, or mark the item as extra credit."
    );
    let mut class = constructed(0, &[]);
    class["scale"] = json!([["A", 90], ["B", 80]]);
    assert_eq!(
        refusal(&class),
        "The scale has a gap: below “B”, from 80 percent, there is no letter; let the lowest letter begin at 0."
    );
    let mut class = constructed(0, &[]);
    class["categories"][0]["items"][0]["status"] = json!("lost");
    assert!(refusal(&class).contains("lost"), "{}", refusal(&class));
    class["categories"][0]["items"][0]["status"] = json!("graded");
    class["categories"][0]["items"][0]["mark"] = json!(1);
    assert!(refusal(&class).contains("mark"), "{}", refusal(&class));
}
