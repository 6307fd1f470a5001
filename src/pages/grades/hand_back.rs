//! Handing back an assessment: the password was typed within ten minutes, what waits is looked over, then students see it.

use actix_web::web;
use serde_json::{Value, json};

use crate::ids::{AssessmentId, ClassId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::forms::Filled;
use crate::pages::grades::{assessment, mark, open, say};
use crate::store::Scope;
use crate::store::grades::handing_back;
use crate::store::grades::scores::Which;
use crate::trade::grading::Status;

/// What would be handed back.
pub async fn page(ask: InClass, path: web::Path<(ClassId, AssessmentId)>) -> Reply {
    let (class, id) = path.into_inner();
    let one = assessment::find(&ask, id).await?;
    ask.confirmed()?;
    let book = open(&ask, Which::InHand, None).await?;
    let waiting = ask.house.db.read(move |db| handing_back::waiting(db, class, Some(id))).await?;
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

/// What would be handed back of everything that waits.
pub async fn page_of_all(ask: InClass) -> Reply {
    let class = ask.class();
    ask.confirmed()?;
    let book = open(&ask, Which::InHand, None).await?;
    let waiting = ask.house.db.read(move |db| handing_back::waiting(db, class, None)).await?;
    let speech = &ask.house.speech;
    let mut rows: Vec<Value> = Vec::new();
    let mut people = 0;
    for student in &book.students {
        let before = rows.len();
        for score in waiting.iter().filter(|score| score.person == student.person) {
            let Some(one) = book.assessments.iter().find(|one| one.id == score.assessment) else { continue };
            rows.push(json!({
                "name": format!("{} {}", student.given_name, student.family_name),
                "mark": format!("{}: {}", one.title, mark(speech, Some(score), one)), "words": score.words,
            }));
        }
        people += usize::from(rows.len() > before);
    }
    let view = json!({
        "class_path": format!("/classes/{class}"), "all": true, "rows": rows, "count": people, "unmarked": 0,
    });
    ask.show("grades/hand-back", "grades-hand-back-all", &view)
}

/// Hands back everything that waits.
pub async fn hand_back_all(ask: InClass, filled: Filled) -> Reply {
    ask.confirmed()?;
    let class = ask.class();
    let next = said(format!("/classes/{class}/grades"), "done-handed-back");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.hand_back_all(class).map(drop)).await
}
