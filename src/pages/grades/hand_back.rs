//! Handing back an assessment: the password was typed within ten minutes, what waits is looked over, then students see it.

use actix_web::web;
use serde_json::{Value, json};

use crate::ids::{AssessmentId, ClassId};
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::forms::Filled;
use crate::pages::grades::{assessment, mark, open, say};
use crate::store::Scope;
use crate::store::grades::scores::{self, Which};
use crate::trade::grading::Status;

/// What would be handed back.
pub async fn page(ask: InClass, path: web::Path<(ClassId, AssessmentId)>) -> Reply {
    let (class, id) = path.into_inner();
    let one = assessment::find(&ask, id).await?;
    ask.confirmed()?;
    let book = open(&ask, Which::InHand, None).await?;
    let waiting = ask.house.db.read(move |db| scores::waiting(db, class, id)).await?;
    let speech = &ask.house.speech;
    let rows: Vec<Value> = book
        .students
        .iter()
        .filter_map(|student| {
            let score = waiting.iter().find(|score| score.person == student.person)?;
            Some(json!({
                "name": format!("{} {}", student.given_name, student.family_name),
                "mark": mark(speech, Some(score), &one), "words": score.words,
            }))
        })
        .collect();
    let unmarked = book
        .students
        .iter()
        .filter(|student| {
            book.score(id, student.person).is_none_or(|score| score.status.0 == Status::Pending)
        })
        .count();
    let title = say(speech, "grades-hand-back-of", "title", one.title.as_str());
    let view = json!({
        "class_path": format!("/classes/{class}"), "id": id, "rows": rows, "count": rows.len(), "unmarked": unmarked,
    });
    ask.show("grades/hand-back", &title, &view)
}

/// Hands back.
pub async fn hand_back(ask: InClass, path: web::Path<(ClassId, AssessmentId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    assessment::find(&ask, id).await?;
    ask.confirmed()?;
    let next = format!("/classes/{class}/assessments/{id}?done=done-handed-back");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.hand_back(class, id).map(drop)).await
}
