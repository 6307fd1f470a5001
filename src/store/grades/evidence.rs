//! What a grade followed from on the day it was submitted, as data: rules, categories, every score that stood with the
//! wording it was given by, the roll, duties, and the working. Whoever reads it later needs nothing else of the class.

use std::collections::{BTreeSet, HashMap};

use serde_json::{Map, Value, json};

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, ScoreId};
use crate::store::classes::duties::{self, Duty};
use crate::store::classes::rolls::{self, Entry};
use crate::store::connections::AnyConnection;
use crate::store::grades::book::{Book, Outcome};
use crate::store::grades::marks::{self, Judged};
use crate::trade::exact::Exact;
use crate::trade::grading::Grade;
use crate::trade::remark::{Param, Remark};
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// What a grade is told with besides the book: levels and their wording, the roll, and duties.
#[derive(Debug, Default)]
pub struct Beside {
    judged: HashMap<ScoreId, Vec<Judged>>,
    roll: Vec<Entry>,
    duties: Vec<Duty>,
}

impl Beside {
    /// Reads it of a class, or of one person of it. Three statements.
    ///
    /// # Errors
    /// The database cannot be read.
    pub fn read(db: &mut AnyConnection, class: ClassId, owner: Option<PersonId>) -> Result<Self, Trouble> {
        Ok(Self {
            judged: marks::judged(db, class, None, owner)?,
            roll: rolls::entries(db, class, owner)?,
            duties: duties::duties(db, class, owner)?,
        })
    }

    fn criteria(&self, score: ScoreId) -> Vec<Value> {
        let judged = self.judged.get(&score).map(Vec::as_slice).unwrap_or_default();
        judged
            .iter()
            .map(|one| {
                json!({
                    "criterion": one.criterion, "title": one.criterion_title, "level": one.level,
                    "level_title": one.level_title, "descriptor": one.descriptor,
                    "points": one.points_hundredths.map(hundredths), "of": hundredths(one.of_hundredths),
                    "comment": one.words,
                })
            })
            .collect()
    }

    fn roll(&self, person: PersonId) -> Vec<Value> {
        self.roll
            .iter()
            .filter(|entry| entry.person == person)
            .map(|entry| {
                json!({
                    "day": entry.day, "from_minute": entry.from_minute, "to_minute": entry.to_minute,
                    "presence": entry.presence.0.word(),
                })
            })
            .collect()
    }

    fn duties(&self, person: PersonId) -> Vec<Value> {
        self.duties
            .iter()
            .filter(|duty| duty.person == person)
            .map(|duty| json!({ "day": duty.day, "what": duty.what.0.word(), "outcome": duty.outcome.0.word() }))
            .collect()
    }
}

/// What a mark that was not handed back says, and who gave it: not for its student.
const OF_THE_MARKER: [&str; 8] = [
    "comment",
    "corrected_because",
    "corrects",
    "criteria",
    "given_at",
    "given_by",
    "own_points_because",
    "score_id",
];

/// Evidence as its student may read it: of marks that were not handed back by now the points alone, which the working of
/// the submitted grade names.
///
/// # Errors
/// It is not what `evidence` writes.
pub fn for_student(evidence: &str, handed_back: &BTreeSet<ScoreId>) -> Result<Value, Trouble> {
    let mut all: Value =
        serde_json::from_str(evidence).map_err(|error| Trouble::broken("reading evidence", error))?;
    let categories = all.get_mut("categories").and_then(Value::as_array_mut).into_iter().flatten();
    for items in categories.filter_map(|category| category.get_mut("items")?.as_array_mut()) {
        for item in items.iter_mut().filter_map(Value::as_object_mut) {
            let score = item.get("score_id").and_then(Value::as_str).and_then(|id| id.parse().ok());
            if score.is_none_or(|id: ScoreId| !handed_back.contains(&id)) {
                OF_THE_MARKER.iter().for_each(|name| drop(item.remove(*name)));
            }
        }
    }
    Ok(all)
}

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
pub fn evidence(book: &Book, beside: &Beside, person: PersonId, outcome: &Outcome, at: Instant) -> Value {
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
        "categories": categories(book, beside, person, grade),
        "roll": beside.roll(person), "duties": beside.duties(person),
        "percent": grade.and_then(Grade::percent_text),
        "rounded": grade.and_then(Grade::rounded_text),
        "letter_of_the_scale": grade.and_then(|grade| grade.letter.clone()),
        "counted_weight_percent": grade.map(|grade| grade.counted_weight.to_string()),
        "working": grade.map(|grade| grade.working.iter().map(remark).collect::<Vec<_>>()),
        "cannot": outcome.as_ref().err().map(remark),
    })
}

fn categories(book: &Book, beside: &Beside, person: PersonId, grade: Option<&Grade>) -> Vec<Value> {
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
                        "criteria": score.map(|score| beside.criteria(score.id)).unwrap_or_default(),
                        "own_points_because": score.map(|score| score.own_points_reason.as_str()),
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
    status.word()
}

fn hundredths(number: i64) -> String {
    Exact::hundredths(number).to_string()
}
