//! `reckon agreement`: Cohen's kappa, Krippendorff's alpha, Cronbach's alpha.
//!
//! `{"statistic":"kappa","weights":"unweighted|linear|quadratic"}` with either `"table":[[..]]` or
//! `"first":[..],"second":[..]` and, where the labels are words with an order, `"categories":[..]`; weights may
//! also be a table of disagreement weights.
//! `{"statistic":"krippendorff","level":"nominal|ordinal|interval|ratio","ratings":[[..]]}`: a row for each
//! rater, a column for each unit, null where there is no rating.
//! `{"statistic":"cronbach","scores":[[..]]}`: a row for each person, a column for each item.
//! All take `"places"` (4) for the numbers they answer with, as text; a coefficient without value is null.

use serde::{Deserialize, Serialize};

use super::{read, write};
use crate::speech::Speech;
use crate::trade::agreement::{self, Coefficient, Consistency, Level, Table, Weights};
use crate::trade::exact::{Exact, Rounding};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;

#[derive(Deserialize)]
#[serde(tag = "statistic", rename_all = "snake_case", deny_unknown_fields)]
enum Input {
    Kappa {
        #[serde(default)]
        weights: WeightsInput,
        #[serde(default)]
        table: Option<Vec<Vec<Exact>>>,
        #[serde(default)]
        first: Option<Vec<Label>>,
        #[serde(default)]
        second: Option<Vec<Label>>,
        #[serde(default)]
        categories: Option<Vec<Label>>,
        #[serde(default = "four")]
        places: u32,
    },
    Krippendorff {
        level: Level,
        ratings: Vec<Vec<Option<Label>>>,
        #[serde(default = "four")]
        places: u32,
    },
    Cronbach {
        scores: Vec<Vec<Exact>>,
        #[serde(default = "four")]
        places: u32,
    },
}

/// What a rating is called: a number or a word.
#[derive(Deserialize, Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
#[serde(untagged, expecting = "a rating must be a number or a word")]
enum Label {
    Number(Exact),
    Word(String),
}

impl std::fmt::Display for Label {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Number(number) => number.fmt(f),
            Self::Word(word) => word.fmt(f),
        }
    }
}

#[derive(Deserialize, Default)]
#[serde(rename_all = "snake_case")]
enum Named {
    #[default]
    Unweighted,
    Linear,
    Quadratic,
}

#[derive(Deserialize)]
#[serde(untagged, expecting = "“weights” must be unweighted, linear, quadratic or a table of numbers")]
enum WeightsInput {
    Named(Named),
    Given(Vec<Vec<Exact>>),
}

impl Default for WeightsInput {
    fn default() -> Self {
        Self::Named(Named::Unweighted)
    }
}

fn four() -> u32 {
    4
}

#[derive(Serialize)]
struct Answer {
    statistic: &'static str,
    value: Option<String>,
    #[serde(flatten)]
    from: From,
    working: Vec<String>,
}

/// What the value was reckoned from.
#[derive(Serialize)]
#[serde(untagged)]
enum From {
    Shares { observed: String, expected: String },
    Variances { item_variances: Vec<String>, total_variance: String },
}

/// Reads the input, reckons, and puts the working into sentences.
pub(super) fn answer(speech: &Speech, input: &str) -> Result<String, Remark> {
    let answer = match read("agreement", input)? {
        Input::Kappa { weights, table, first, second, categories, places } => {
            let weights = weights_of(weights);
            let table = match (table, first, second) {
                (Some(rows), None, None) if categories.is_none() => Table::new(rows)?,
                (Some(_), None, None) => return Err(Remark::new("agreement-categories-without-ratings")),
                (None, Some(first), Some(second)) => rated(&first, &second, categories, &weights)?,
                _ => return Err(Remark::new("agreement-ratings-or-table")),
            };
            shares(speech, "kappa", &agreement::kappa(&table, &weights)?, rounding(places)?)
        }
        Input::Krippendorff { level, ratings, places } => {
            let outcome = agreement::krippendorff(&numbered(ratings, level)?, level)?;
            shares(speech, "krippendorff", &outcome, rounding(places)?)
        }
        Input::Cronbach { scores, places } => {
            variances(speech, &agreement::cronbach(&scores)?, rounding(places)?)
        }
    };
    write("agreement", &answer)
}

fn rounding(places: u32) -> Result<Rounding, Remark> {
    let rounding = Rounding::half_up(places);
    rounding.check()?;
    Ok(rounding)
}

fn weights_of(input: WeightsInput) -> Weights {
    match input {
        WeightsInput::Named(Named::Unweighted) => Weights::Unweighted,
        WeightsInput::Named(Named::Linear) => Weights::Linear,
        WeightsInput::Named(Named::Quadratic) => Weights::Quadratic,
        WeightsInput::Given(rows) => Weights::Given(rows),
    }
}

/// The table of two raters' labels. Without a list the categories are what was used, numbers rising.
fn rated(
    first: &[Label],
    second: &[Label],
    categories: Option<Vec<Label>>,
    weights: &Weights,
) -> Result<Table, Remark> {
    if first.len() != second.len() {
        return Err(Remark::new("agreement-ratings-unpaired")
            .with("first", first.len().to_string())
            .with("second", second.len().to_string()));
    }
    let categories = match categories {
        Some(listed) => listed,
        None => used(first.iter().chain(second), weights)?,
    };
    if let Some((_, twice)) =
        categories.iter().enumerate().find(|(at, one)| categories.iter().take(*at).any(|c| c == *one))
    {
        return Err(Remark::new("agreement-category-twice").with("value", twice.to_string()));
    }
    let place = |label: &Label| {
        let unknown = || Remark::new("agreement-category-unknown").with("value", label.to_string());
        categories.iter().position(|category| category == label).ok_or_else(unknown)
    };
    let pairs = first.iter().zip(second).map(|(one, other)| Ok((place(one)?, place(other)?)));
    Table::of_pairs(&pairs.collect::<Result<Vec<_>, Remark>>()?, categories.len())
}

fn used<'a>(labels: impl Iterator<Item = &'a Label>, weights: &Weights) -> Result<Vec<Label>, Remark> {
    let mut used: Vec<Label> = labels.cloned().collect();
    used.sort();
    used.dedup();
    match used.iter().find(|label| matches!(label, Label::Word(_))) {
        Some(word) if *weights != Weights::Unweighted => {
            Err(Remark::new("agreement-categories-unordered").with("value", word.to_string()))
        }
        _ => Ok(used),
    }
}

/// Numbers as they stand; words, for names only, by their place among the labels.
fn numbered(ratings: Vec<Vec<Option<Label>>>, level: Level) -> Result<Vec<Vec<Option<Exact>>>, Remark> {
    let mut names: Vec<Label> = ratings.iter().flatten().flatten().cloned().collect();
    names.sort();
    names.dedup();
    let number = |label: Label| match (label, level) {
        (label, Level::Nominal) => {
            let place = names.binary_search(&label).unwrap_or_else(|place| place);
            Ok(Exact::whole(i64::try_from(place).unwrap_or(i64::MAX)))
        }
        (Label::Number(number), _) => Ok(number),
        (Label::Word(word), _) => {
            Err(Remark::new("agreement-words-not-nominal").with("value", word).with("level", level.word()))
        }
    };
    let row = |row: Vec<Option<Label>>| row.into_iter().map(|cell| cell.map(number).transpose()).collect();
    ratings.into_iter().map(row).collect()
}

fn shares(speech: &Speech, statistic: &'static str, outcome: &Coefficient, rounding: Rounding) -> Answer {
    Answer {
        statistic,
        value: outcome.value.as_ref().map(|value| value.text(rounding)),
        from: From::Shares {
            observed: outcome.observed.text(rounding),
            expected: outcome.expected.text(rounding),
        },
        working: outcome.working.iter().map(|line| speech.remark(line)).collect(),
    }
}

fn variances(speech: &Speech, outcome: &Consistency, rounding: Rounding) -> Answer {
    Answer {
        statistic: "cronbach",
        value: outcome.alpha.as_ref().map(|value| value.text(rounding)),
        from: From::Variances {
            item_variances: outcome.item_variances.iter().map(|variance| variance.text(rounding)).collect(),
            total_variance: outcome.total_variance.text(rounding),
        },
        working: outcome.working.iter().map(|line| speech.remark(line)).collect(),
    }
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::*;

    fn said(input: &Value) -> Result<Value, String> {
        let speech = Speech::load().unwrap();
        answer(&speech, &input.to_string())
            .map(|text| serde_json::from_str(&text).unwrap())
            .map_err(|remark| speech.remark(&remark))
    }

    #[test]
    fn labels_and_counts_give_the_same_kappa() {
        let counts = said(
            &json!({"statistic": "kappa", "table": [[1, 1, 0], [0, 1, 0], [0, 1, 1]], "weights": "linear"}),
        );
        let words = json!({"statistic": "kappa", "weights": "linear", "categories": ["faint", "fair", "full"],
            "first": ["faint", "faint", "fair", "full", "full"], "second": ["faint", "fair", "fair", "fair", "full"]});
        let numbers = json!({"statistic": "kappa", "weights": "linear",
            "first": [9, 9, 10, 11.5, 11.5], "second": [9, 10, 10, 10, 11.5]});
        assert_eq!(said(&words), counts);
        assert_eq!(said(&numbers), counts);
        let working = counts.unwrap()["working"].clone();
        assert_eq!(
            working,
            json!([
                "Near misses counting in part, the two agree in a share of 0.8; chance alone would give 0.56.",
                "Kappa = (0.8 − 0.56) ÷ (1 − 0.56) ≈ 0.5455."
            ])
        );
    }

    #[test]
    fn words_are_names_and_need_no_numbers() {
        let words = said(&json!({"statistic": "krippendorff", "level": "nominal",
            "ratings": [["scum", "none", null, "tint"], ["scum", "tint", "none", "tint"]]}));
        let numbers = said(&json!({"statistic": "krippendorff", "level": "nominal",
            "ratings": [[1, 2, null, 3], [1, 3, 2, 3]]}));
        assert_eq!(words, numbers);
        assert!(words.is_ok());
    }

    #[test]
    fn a_coefficient_without_value_is_null_and_says_why() {
        for (input, why) in [
            (
                json!({"statistic": "kappa", "first": [1, 1], "second": [1, 1]}),
                "Both raters use one category only, so chance alone agrees fully and kappa has no value.",
            ),
            (
                json!({"statistic": "krippendorff", "level": "interval", "ratings": [[2, 2], [2, null]]}),
                "The ratings that can be compared do not differ at all, so chance cannot disagree and alpha has no value.",
            ),
            (
                json!({"statistic": "cronbach", "scores": [[1, 3], [3, 1]]}),
                "All persons have the same total, so alpha has no value.",
            ),
        ] {
            let said = said(&input).unwrap();
            assert_eq!(said["value"], Value::Null);
            assert_eq!(said["working"].as_array().unwrap().last().unwrap(), why);
        }
    }

    #[test]
    fn bad_input_gets_one_sentence_with_its_value() {
        for (input, named) in [
            (json!({"statistic": "kappa"}), "“table”"),
            (json!({"statistic": "kappa", "table": [[1]], "first": [1], "second": [1]}), "“first”"),
            (json!({"statistic": "kappa", "table": [[1]], "categories": [1]}), "“categories”"),
            (json!({"statistic": "kappa", "table": [[1, 2], [3]]}), "Row 2 has 1 values"),
            (json!({"statistic": "kappa", "table": [[1, 2]]}), "1 rows of 2 cells"),
            (json!({"statistic": "kappa", "table": [[1, -2], [0, 1]]}), "-2"),
            (json!({"statistic": "kappa", "table": []}), "Nothing was rated"),
            (json!({"statistic": "kappa", "table": [[1]], "weights": "cubic"}), "quadratic"),
            (json!({"statistic": "kappa", "table": [[1]], "weights": [[1]]}), "diagonal"),
            (
                json!({"statistic": "kappa", "first": [1, 2], "second": [1]}),
                "gave 2 ratings and the second 1",
            ),
            (json!({"statistic": "kappa", "first": ["a"], "second": ["b"], "weights": "linear"}), "“a”"),
            (json!({"statistic": "kappa", "first": ["a"], "second": ["b"], "categories": ["a"]}), "“b”"),
            (json!({"statistic": "kappa", "first": [1], "second": [1], "categories": [1, 1]}), "twice"),
            (json!({"statistic": "kappa", "table": [[1]], "places": 40}), "40 decimal places"),
            (json!({"statistic": "krippendorff", "level": "ordinal", "ratings": [["fair"]]}), "“fair”"),
            (json!({"statistic": "krippendorff", "level": "absolute", "ratings": [[1]]}), "absolute"),
            (json!({"statistic": "krippendorff", "level": "ratio", "ratings": [[-1], [1]]}), "-1"),
            (
                json!({"statistic": "krippendorff", "level": "ratio", "ratings": [[true]]}),
                "a number or a word",
            ),
            (json!({"statistic": "cronbach", "scores": [[1, 2]]}), "1 persons in 2 items"),
            (json!({"statistic": "cronbach", "scores": [[1, null]]}), "null"),
            (json!({"statistic": "pearson"}), "pearson"),
            (json!({"statistic": "cronbach", "scores": [[1, 2]], "items": 3}), "items"),
        ] {
            let sentence = said(&input).unwrap_err();
            assert!(sentence.contains(named) && sentence.contains(' '), "{input}: {sentence}");
        }
    }
}
