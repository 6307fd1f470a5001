//! Agreement statistics against published examples.

use serde_json::{Value, json};
use tympan::commands::reckon::answer;
use tympan::speech::Speech;

fn reckon(input: &Value) -> Value {
    let speech = Speech::load().unwrap();
    let said = answer(&speech, "agreement", &input.to_string());
    serde_json::from_str(&said.unwrap_or_else(|remark| panic!("{}", speech.remark(&remark)))).unwrap()
}

fn kappa(table: &Value, weights: &Value) -> Value {
    reckon(&json!({"statistic": "kappa", "table": table, "weights": weights}))
}

/// Teaching examples of many textbooks (from memory), and easycalculation.com for the last, which prints 0.21.
#[test]
fn kappa_of_two_by_two_tables() {
    for (table, observed, expected, value) in [
        (json!([[20, 5], [10, 15]]), "0.7000", "0.5000", "0.4000"),
        (json!([[45, 15], [25, 15]]), "0.6000", "0.5400", "0.1304"),
        (json!([[25, 35], [5, 35]]), "0.6000", "0.4600", "0.2593"),
        (json!([[12, 2], [4, 2]]), "0.7000", "0.6200", "0.2105"),
    ] {
        let said = kappa(&table, &json!("unweighted"));
        assert_eq!(
            (&said["observed"], &said["expected"], &said["value"]),
            (&json!(observed), &json!(expected), &json!(value)),
            "{table}"
        );
    }
}

/// The four by four table of the data set `SexualFun` in the R package vcd, whose page defines the weights as
/// 1 - |i - j| / (r - 1) and its square; data and values from memory, recomputed.
#[test]
fn kappa_with_linear_and_quadratic_weights() {
    let table = json!([[7, 7, 2, 3], [2, 8, 3, 7], [1, 5, 4, 9], [2, 8, 9, 14]]);
    for (weights, value) in [("unweighted", "0.1293"), ("linear", "0.2374"), ("quadratic", "0.3320")] {
        assert_eq!(kappa(&table, &json!(weights))["value"], json!(value), "{weights}");
    }
}

/// J. Cohen, "Weighted kappa", Psychological Bulletin 70 (1968) 213, as the R package psych quotes it (from
/// memory): proportions and disagreement weights of a psychiatric example.
#[test]
fn kappa_with_given_weights() {
    let table = json!([[0.44, 0.07, 0.09], [0.05, 0.20, 0.05], [0.01, 0.03, 0.06]]);
    assert_eq!(kappa(&table, &json!("unweighted"))["value"], json!("0.4915"));
    assert_eq!(kappa(&table, &json!([[0, 1, 3], [1, 0, 6], [3, 6, 0]]))["value"], json!("0.3478"));
}

fn krippendorff(ratings: &Value, level: &str) -> Value {
    reckon(&json!({"statistic": "krippendorff", "ratings": ratings, "level": level, "places": 3}))["value"]
        .clone()
}

/// K. Krippendorff, "Computing Krippendorff's alpha-reliability" (2011): four observers, twelve units, gaps.
#[test]
fn alpha_of_four_observers() {
    let ratings = json!([
        [1, 2, 3, 3, 2, 1, 4, 1, 2, null, null, null],
        [1, 2, 3, 3, 2, 2, 4, 1, 2, 5, null, 3],
        [null, 3, 3, 3, 2, 3, 4, 2, 2, 5, 1, null],
        [1, 2, 3, 3, 2, 4, 4, 1, 2, 5, 1, null]
    ]);
    for (level, value) in
        [("nominal", "0.743"), ("ordinal", "0.815"), ("interval", "0.849"), ("ratio", "0.797")]
    {
        assert_eq!(krippendorff(&ratings, level), json!(value), "{level}");
    }
}

/// Encyclopedia article "Krippendorff's alpha" (copy at handwiki.org; data recalled): three coders, fifteen
/// units. The article gives nominal and interval; the others were computed by the Python package krippendorff.
#[test]
fn alpha_of_three_coders() {
    let ratings = json!([
        [null, null, null, null, null, 3, 4, 1, 2, 1, 1, 3, 3, null, 3],
        [1, null, 2, 1, 3, 3, 4, 3, null, null, null, null, null, null, null],
        [null, null, 2, 1, 3, 4, 4, null, 2, 1, 1, 3, 3, null, 4]
    ]);
    for (level, value) in
        [("nominal", "0.691"), ("ordinal", "0.807"), ("interval", "0.811"), ("ratio", "0.809")]
    {
        assert_eq!(krippendorff(&ratings, level), json!(value), "{level}");
    }
}

fn cronbach(scores: &Value) -> Value {
    reckon(&json!({"statistic": "cronbach", "scores": scores}))
}

/// Data of askan.ai (whose page shows no result) and of calkulon.com.
#[test]
fn cronbach_of_small_tests() {
    let said = cronbach(&json!([[3, 4, 3], [2, 3, 4], [4, 4, 5], [3, 2, 3], [4, 4, 4]]));
    assert_eq!(said["item_variances"], json!(["0.7000", "0.8000", "0.7000"]));
    assert_eq!((&said["total_variance"], &said["value"]), (&json!("4.3000"), &json!("0.7326")));
    let said = cronbach(&json!([[4, 5, 4], [3, 4, 3], [5, 5, 5], [2, 3, 2]]));
    assert_eq!(said["item_variances"], json!(["1.6667", "0.9167", "1.6667"]));
    assert_eq!(said["value"], json!("0.9796"));
}

/// The data set `attitude` of R (Chatterjee and Price), thirty departments and seven questions: the variances
/// and 0.8431 recomputed from it, 0.84 in the documentation of the R package psych (from memory).
#[test]
fn cronbach_of_the_attitude_survey() {
    let said = cronbach(&attitude());
    let parts: f64 = said["item_variances"]
        .as_array()
        .unwrap()
        .iter()
        .map(|v| v.as_str().unwrap().parse::<f64>().unwrap())
        .sum();
    assert!((parts - 924.786).abs() < 0.001, "{parts}");
    assert_eq!((&said["total_variance"], &said["value"]), (&json!("3334.8920"), &json!("0.8431")));
}

/// A source that must not be followed: cal16.calculator.city claims about 0.85 for six items whose variances
/// sum to 43.4 under a total variance of 52.4. The scores here were made to have them; the formula gives 0.2061.
#[test]
fn cronbach_of_items_that_hardly_go_together_is_small() {
    let said = cronbach(&json!([
        [3, 2, 9, 3, 2, 2],
        [3, 2, 4, 4, 7, 3],
        [5, 3, 3, 9, 1, 2],
        [6, 4, 4, 3, 8, 0],
        [0, 0, 5, 1, 9, 0],
        [7, 9, 4, 7, 9, 1]
    ]));
    assert_eq!((&said["total_variance"], &said["value"]), (&json!("52.4000"), &json!("0.2061")));
    assert_eq!(
        said["working"],
        json!([
            "Alpha = 6 ÷ (6 − 1) × (1 − 43.4 ÷ 52.4) ≈ 0.2061, from the variances of the items and of the totals."
        ])
    );
}

fn attitude() -> Value {
    json!([
        [43, 51, 30, 39, 61, 92, 45],
        [63, 64, 51, 54, 63, 73, 47],
        [71, 70, 68, 69, 76, 86, 48],
        [61, 63, 45, 47, 54, 84, 35],
        [81, 78, 56, 66, 71, 83, 47],
        [43, 55, 49, 44, 54, 49, 34],
        [58, 67, 42, 56, 66, 68, 35],
        [71, 75, 50, 55, 70, 66, 41],
        [72, 82, 72, 67, 71, 83, 31],
        [67, 61, 45, 47, 62, 80, 41],
        [64, 53, 53, 58, 58, 67, 34],
        [67, 60, 47, 39, 59, 74, 41],
        [69, 62, 57, 42, 55, 63, 25],
        [68, 83, 83, 45, 59, 77, 35],
        [77, 77, 54, 72, 79, 77, 46],
        [81, 90, 50, 72, 60, 54, 36],
        [74, 85, 64, 69, 79, 79, 63],
        [65, 60, 65, 75, 55, 80, 60],
        [65, 70, 46, 57, 75, 85, 46],
        [50, 58, 68, 54, 64, 78, 52],
        [50, 40, 33, 34, 43, 64, 33],
        [64, 61, 52, 62, 66, 80, 41],
        [53, 66, 52, 50, 63, 80, 37],
        [40, 37, 42, 58, 50, 57, 49],
        [63, 54, 42, 48, 66, 75, 33],
        [66, 77, 66, 63, 88, 76, 72],
        [78, 75, 58, 74, 80, 78, 49],
        [48, 57, 44, 45, 51, 83, 38],
        [85, 85, 71, 71, 77, 74, 55],
        [82, 82, 39, 59, 64, 78, 39]
    ])
}
