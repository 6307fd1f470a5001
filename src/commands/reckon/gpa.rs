//! `reckon gpa`: the grade-point average over courses, weighed by their credits.
//!
//! `{"courses":[{"title":"Lithography","credits":3,"letter":"B+"}],"points":[["A",4],["B+",3.3],["F",0]],
//! "rounding":{"places":2,"ties":"half_up|half_even|truncate"}}`. Without `points` the usual scale of four holds; without
//! `rounding` two places, cut off. Courses taken for pass or audit are left out by whoever asks.

use serde::{Deserialize, Serialize};

use super::{read, write};
use crate::speech::Speech;
use crate::trade::exact::{Exact, Rounding, Ties};
use crate::trade::grading::points::{Course, PointScale};
use crate::trade::remark::Remark;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Input {
    courses: Vec<CourseInput>,
    #[serde(default)]
    points: Option<Vec<(String, Exact)>>,
    #[serde(default)]
    rounding: RoundingInput,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CourseInput {
    title: String,
    credits: Exact,
    letter: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, default)]
struct RoundingInput {
    places: u32,
    ties: Ties,
}

impl Default for RoundingInput {
    fn default() -> Self {
        Self { places: 2, ties: Ties::Truncate }
    }
}

#[derive(Serialize)]
struct Answer {
    /// None where the courses carry no credits.
    average: Option<String>,
    credits: String,
    grade_points: String,
}

/// Reads the input and reckons.
pub(super) fn answer(_speech: &Speech, input: &str) -> Result<String, Remark> {
    let input: Input = read("gpa", input)?;
    let scale = input.points.map_or_else(|| Ok(PointScale::usual()), PointScale::new)?;
    let courses: Vec<Course> = input
        .courses
        .into_iter()
        .map(|course| Course { title: course.title, credits: course.credits, letter: course.letter })
        .collect();
    let rounding = Rounding { places: input.rounding.places, ties: input.rounding.ties };
    let average = scale.average_text(&courses, rounding)?;
    let (mut earned, mut credits) = (Exact::zero(), Exact::zero());
    for course in &courses {
        let worth = scale.points(&course.letter).cloned().unwrap_or_else(Exact::zero);
        earned = &earned + &(&worth * &course.credits);
        credits = &credits + &course.credits;
    }
    write("gpa", &Answer { average, credits: credits.to_string(), grade_points: earned.to_string() })
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

    /// By hand: 3 × 3.3 + 4 × 4 + 1.5 × 2 are 28.9 over 8.5 credits, 3.4 exactly; 3 × 4 + 3 × 3.7 over 6 are 3.85.
    #[test]
    fn averages_come_out() {
        let courses = json!([
            {"title": "Lithography", "credits": 3, "letter": "B+"}, {"title": "Paper", "credits": 4, "letter": "A"},
            {"title": "Etching", "credits": 1.5, "letter": "C"}]);
        assert_eq!(
            said(&json!({ "courses": courses })).unwrap(),
            json!({"average": "3.40", "credits": "8.5", "grade_points": "28.9"})
        );
        let two = json!([{"title": "X", "credits": 3, "letter": "A"}, {"title": "Y", "credits": 3, "letter": "A-"}]);
        let rounding = json!({"places": 1, "ties": "half_up"});
        assert_eq!(said(&json!({"courses": two, "rounding": rounding})).unwrap()["average"], "3.9");
        let own = json!([["Sure", 2], ["Not yet", 0]]);
        let course = json!([{"title": "X", "credits": 2, "letter": "Sure"}]);
        assert_eq!(said(&json!({"courses": course, "points": own})).unwrap()["average"], "2.00");
        assert_eq!(said(&json!({ "courses": [] })).unwrap()["average"], Value::Null);
    }

    #[test]
    fn bad_input_is_named_with_its_remedy() {
        let one = |credits: i64, letter: &str| json!({"courses": [{"title": "Plates", "credits": credits, "letter": letter}]});
        assert_eq!(
            said(&one(3, "P")).unwrap_err(),
            "The letter “P” of “Plates” has no grade points: leave courses taken for pass or audit out."
        );
        assert_eq!(said(&one(-3, "A")).unwrap_err(), "“Plates” carries -3 credits: it is 0 or more.");
        let twice = json!({"courses": [], "points": [["A", 4], ["A", 3]]});
        assert!(said(&twice).unwrap_err().contains("twice"));
        let places = json!({"courses": [], "rounding": {"places": 900, "ties": "truncate"}});
        assert!(said(&places).is_err());
        assert!(said(&json!({"courses": [], "marks": 1})).unwrap_err().contains("marks"));
    }
}
