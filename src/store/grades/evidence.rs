//! What a grade followed from on the day it was submitted, as data: rules, categories, every score that stood, and the
//! working. Whoever reads it later needs nothing else of the class.

use serde_json::{Map, Value, json};

use crate::clock::Instant;
use crate::ids::PersonId;
use crate::store::grades::book::{Book, Outcome};
use crate::trade::exact::Exact;
use crate::trade::grading::Grade;
use crate::trade::remark::{Param, Remark};

/// A remark as data: its key and what stands in it.
#[must_use]
pub fn remark(line: &Remark) -> Value {
    let with: Map<String, Value> = line
        .with
        .iter()
        .map(|(name, value)| {
            let value = match value {
                Param::Text(text) => json!(text),
                Param::Count(count) => json!(count),
            };
            ((*name).to_owned(), value)
        })
        .collect();
    json!({ "line": line.key, "with": with })
}

/// The evidence of one person's grade.
#[must_use]
pub fn evidence(book: &Book, person: PersonId, outcome: &Outcome, at: Instant) -> Value {
    let rules = &book.rules;
    let grade = outcome.as_ref().ok();
    json!({
        "as_of": at.rfc3339(),
        "rules": {
            "late_percent_a_day": hundredths(rules.late_bp.into()), "late_of": rules.late_of,
            "late_max_days": rules.late_max_days, "grace_minutes": rules.grace_minutes,
            "missing_counts_zero": rules.missing_counts_zero, "rounding_places": rules.rounding_places,
            "ties": rules.ties, "scale": rules.scale.lines().collect::<Vec<_>>(),
        },
        "categories": categories(book, person, grade),
        "percent": grade.and_then(Grade::percent_text),
        "rounded": grade.and_then(Grade::rounded_text),
        "letter_of_the_scale": grade.and_then(|grade| grade.letter.clone()),
        "counted_weight_percent": grade.map(|grade| grade.counted_weight.to_string()),
        "working": grade.map(|grade| grade.working.iter().map(remark).collect::<Vec<_>>()),
        "cannot": outcome.as_ref().err().map(remark),
    })
}

fn categories(book: &Book, person: PersonId, grade: Option<&Grade>) -> Vec<Value> {
    let results = grade.map(|grade| grade.categories.as_slice()).unwrap_or_default();
    book.categories
        .iter()
        .enumerate()
        .map(|(place, category)| {
            let result = results.get(place);
            let items: Vec<Value> = book
                .of_category(category)
                .enumerate()
                .map(|(place, assessment)| {
                    let score = book.score(assessment.id, person);
                    json!({
                        "assessment": assessment.id, "title": assessment.title,
                        "points": hundredths(assessment.points_hundredths),
                        "extra_credit": assessment.extra_credit,
                        "status": score.map_or("pending", |score| status(score.status.0)),
                        "score": score.and_then(|score| score.points_hundredths).map(hundredths),
                        "days_late": book.days_late(assessment, person),
                        "dropped": result.is_some_and(|result| result.dropped.contains(&place)),
                        "score_id": score.map(|score| score.id), "print": score.and_then(|score| score.print),
                        "comment": score.map(|score| score.words.as_str()),
                        "given_by": score.map(|score| score.by), "given_at": score.map(|score| score.at.rfc3339()),
                        "handed_back_at": score.and_then(|score| score.handed_back_at).map(Instant::rfc3339),
                        "corrects": score.and_then(|score| score.corrects),
                        "corrected_because": score.map(|score| score.reason.as_str()),
                    })
                })
                .collect();
            json!({
                "category": category.id, "title": category.title,
                "weight_percent": hundredths(category.weight_bp.into()), "drop_lowest": category.drop_lowest,
                "percent": result.and_then(|result| result.percent.as_ref()).map(Exact::to_string),
                "items": items,
            })
        })
        .collect()
}

fn status(status: crate::trade::grading::Status) -> &'static str {
    use crate::trade::spelled::Spelled;
    status.word()
}

fn hundredths(number: i64) -> String {
    Exact::hundredths(number).to_string()
}
