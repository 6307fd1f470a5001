//! `reckon grade`: one student's grade from categories, items and the rules of the class.
//!
//! `{"categories":[{"name":"Plates","weight":50,"drop_lowest":1,"items":[{"title":"..","points":100,"score":88,
//! "status":"graded|excused|missing|pending","days_late":0,"extra_credit":false}]}],"late":{"percent_per_day":10,
//! "of":"possible|earned","max_days":5,"grace_hours":0},"missing_counts_zero":true,
//! "rounding":{"places":0,"ties":"half_up|half_even|truncate"},"scale":[["A",93],["A-",90],["F",0]]}`.
//! An item may say `hours_late` in place of `days_late`. Without `late` lateness costs nothing; without `scale`
//! there is no letter; `max_days` null knows no limit. A status that is not said is graded.

use serde::{Deserialize, Serialize};

use super::{read, write};
use crate::speech::Speech;
use crate::trade::exact::{Exact, Rounding, Ties};
use crate::trade::grading::{self, Category, Item, LateRule, Lateness, Of, Scale, Scheme, Status, Step};
use crate::trade::remark::Remark;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Input {
    categories: Vec<CategoryInput>,
    #[serde(default)]
    late: Option<LateInput>,
    #[serde(default = "yes")]
    missing_counts_zero: bool,
    #[serde(default)]
    rounding: RoundingInput,
    #[serde(default)]
    scale: Vec<(String, Exact)>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CategoryInput {
    name: String,
    weight: Exact,
    #[serde(default)]
    drop_lowest: u32,
    items: Vec<ItemInput>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ItemInput {
    title: String,
    points: Exact,
    #[serde(default)]
    score: Option<Exact>,
    #[serde(default = "graded")]
    status: Status,
    #[serde(default)]
    days_late: Option<u32>,
    #[serde(default)]
    hours_late: Option<Exact>,
    #[serde(default)]
    extra_credit: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LateInput {
    percent_per_day: Exact,
    of: Of,
    #[serde(default)]
    max_days: Option<u32>,
    #[serde(default = "Exact::zero")]
    grace_hours: Exact,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, default)]
struct RoundingInput {
    places: u32,
    ties: Ties,
}

impl Default for RoundingInput {
    fn default() -> Self {
        Self { places: 0, ties: Ties::HalfUp }
    }
}

fn yes() -> bool {
    true
}

fn graded() -> Status {
    Status::Graded
}

#[derive(Serialize)]
struct Answer {
    percent: Option<String>,
    rounded: Option<String>,
    letter: Option<String>,
    possible_low: Option<String>,
    possible_high: Option<String>,
    working: Vec<String>,
}

/// Reads the input, reckons, and puts the working into sentences.
pub(super) fn answer(speech: &Speech, input: &str) -> Result<String, Remark> {
    let input: Input = read("grade", input)?;
    let categories = input.categories.into_iter().map(category).collect::<Result<Vec<_>, _>>()?;
    let steps = input.scale.into_iter().map(|(letter, from)| Step { letter, from }).collect();
    let scheme = Scheme {
        late: input.late.map(late),
        missing_counts_zero: input.missing_counts_zero,
        rounding: Rounding { places: input.rounding.places, ties: input.rounding.ties },
        scale: Scale::new(steps)?,
    };
    let grade = grading::reckon(&scheme, &categories)?;
    write(
        "grade",
        &Answer {
            percent: grade.percent_text(),
            rounded: grade.rounded_text(),
            possible_low: grade.possible_low_text(),
            possible_high: grade.possible_high_text(),
            working: grade.working.iter().map(|line| speech.remark(line)).collect(),
            letter: grade.letter,
        },
    )
}

fn category(input: CategoryInput) -> Result<Category, Remark> {
    Ok(Category {
        name: input.name,
        weight: input.weight,
        drop_lowest: input.drop_lowest,
        items: input.items.into_iter().map(item).collect::<Result<_, _>>()?,
    })
}

fn item(input: ItemInput) -> Result<Item, Remark> {
    let lateness = match (input.days_late, input.hours_late) {
        (None | Some(0), Some(hours)) => Lateness::Hours(hours),
        (days, None) => Lateness::Days(days.unwrap_or(0)),
        (Some(days), Some(hours)) => {
            return Err(Remark::new("grading-lateness-twice")
                .with("item", input.title)
                .with("days", i64::from(days))
                .with("hours", hours.to_string()));
        }
    };
    Ok(Item {
        title: input.title,
        points: input.points,
        score: input.score,
        status: input.status,
        lateness,
        extra_credit: input.extra_credit,
    })
}

fn late(input: LateInput) -> LateRule {
    LateRule {
        percent_per_day: input.percent_per_day,
        of: input.of,
        max_days: input.max_days,
        grace_hours: input.grace_hours,
    }
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::*;

    fn working(late: &Value, ties: &str) -> Vec<String> {
        let input = json!({
            "categories": [
                {"name": "Plates", "weight": 60, "drop_lowest": 1, "items": [
                    {"title": "in time", "points": 10, "score": 7},
                    {"title": "late", "points": 10, "score": 8, "days_late": 1},
                    {"title": "very late", "points": 10, "score": 1, "days_late": 4},
                    {"title": "too late", "points": 10, "score": 9, "days_late": 6},
                    {"title": "in grace", "points": 10, "score": 10, "hours_late": 0.25},
                    {"title": "missing", "points": 10, "status": "missing"},
                    {"title": "excused", "points": 10, "status": "excused"},
                    {"title": "pending", "points": 10, "status": "pending"},
                    {"title": "bonus", "points": 2, "score": 1.5, "extra_credit": true}]},
                {"name": "Portfolio", "weight": 30, "items": [{"title": "portfolio", "points": 3, "score": 2}]},
                {"name": "Safety", "weight": 10, "items": []}],
            "late": late, "rounding": {"places": 1, "ties": ties}, "scale": [["pass", 50], ["fail", 0]]});
        let speech = Speech::load().unwrap();
        let said: Value = serde_json::from_str(&answer(&speech, &input.to_string()).unwrap()).unwrap();
        serde_json::from_value(said["working"].clone()).unwrap()
    }

    #[test]
    fn every_line_of_the_working_has_its_words() {
        for of in ["possible", "earned"] {
            for ties in ["half_up", "half_even", "truncate"] {
                let late = json!({"percent_per_day": 26, "of": of, "max_days": 5, "grace_hours": 0.25});
                let lines = working(&late, ties);
                assert_eq!(lines.len(), 17, "{lines:#?}");
                assert!(lines.iter().all(|line| line.contains(' ') && line.ends_with('.')), "{lines:#?}");
            }
        }
    }

    #[test]
    fn a_student_can_follow_the_working_by_hand() {
        let late = json!({"percent_per_day": 10, "of": "possible", "max_days": 5, "grace_hours": 0.25});
        let lines = working(&late, "half_up");
        for line in [
            "“late” came 1 day late: 1 × 10 % of the 10 possible points is 1 off, 8 − 1 = 7.",
            "“very late” came 4 days late: 4 × 10 % of 10 points is 4 off, more than the 1 it has: 0 left.",
            "“too late” came 6 days late, more than the 5 allowed: 0 of 10 points.",
            "“very late” (0 of 10) is dropped: the result is best without it.",
            "Plates: (7 + 7 + 0 + 10 + 0 + 1.5) ÷ (10 + 10 + 10 + 10 + 10) = 25.5 ÷ 50 = 51 %.",
            "Portfolio: 2 ÷ 3 ≈ 66.6667 %.",
            "Total: (60 × 51 + 30 × 66.6667) ÷ (60 + 30) ≈ 56.2222 %. Shown with four decimals, reckoned without rounding.",
            "56.2222 % rounded to 1 decimal, ties up: 56.2 %.",
            "56.2 is at least 50: pass.",
        ] {
            assert!(lines.iter().any(|said| said == line), "{line}\n{lines:#?}");
        }
    }

    #[test]
    fn lateness_is_told_once() {
        let speech = Speech::load().unwrap();
        let item = json!({"title": "plate", "points": 10, "score": 7, "days_late": 1, "hours_late": 20});
        let input = json!({"categories": [{"name": "Plates", "weight": 100, "items": [item]}]});
        let remark = answer(&speech, &input.to_string()).unwrap_err();
        assert_eq!(
            speech.remark(&remark),
            "“plate” says both days_late 1 and hours_late 20: give one of them."
        );
    }
}
