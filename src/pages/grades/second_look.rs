//! Second looks: the student's form, the instructor's list, and the answer that a mark stays.

use actix_web::web;
use serde_json::{Value, json};

use crate::ids::{AssessmentId, ClassId, SecondLookId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::grades::{assessment, mark, say};
use crate::speech::dates;
use crate::store::Scope;
use crate::store::grades::second_looks;
use crate::trouble::Trouble;

const FORM: &str = "second-look";

/// The student's form.
pub async fn form(ask: InClass, path: web::Path<(ClassId, AssessmentId)>) -> Reply {
    show(&ask, path.into_inner().1, Form::new(FORM), false).await
}

async fn show(ask: &InClass, id: AssessmentId, form: Form, again: bool) -> Reply {
    let (class, owner) = (ask.class(), ask.person.id);
    let one = assessment::find(ask, id).await?;
    let standing = ask.house.db.read(move |db| second_looks::may_ask(db, class, id, owner)).await?;
    let speech = &ask.house.speech;
    let view = json!({
        "class_path": format!("/classes/{class}"), "id": id, "form": form, "words": standing.words,
        "mark": mark(speech, Some(&standing), &one),
    });
    let title = say(speech, "second-look-at", "title", one.title.as_str());
    if again {
        ask.show_again("grades/second-look", &title, &view)
    } else {
        ask.show("grades/second-look", &title, &view)
    }
}

/// Asks.
pub async fn ask_for(ask: InClass, path: web::Path<(ClassId, AssessmentId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let outcome = async {
        let mut sheet = Sheet::new(&filled);
        let reason = sheet.words("reason", 1000);
        if reason.is_empty() {
            sheet.complain("reason", crate::trade::remark::Remark::new("second-look-why"));
        }
        sheet.done()?;
        let next = said(format!("/classes/{class}/grades"), "done-second-look-asked");
        let act = move |tx: &mut crate::store::Tx<'_>| tx.ask_second_look(class, id, &reason).map(drop);
        ask.act(Scope::Class(class), &filled, next, act).await
    };
    match outcome.await {
        Err(trouble @ Trouble::Complaints(_)) => {
            let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?;
            show(&ask, id, form, true).await
        }
        other => other,
    }
}

/// All second looks of the class, those that wait first.
pub async fn list(ask: InClass) -> Reply {
    let (class, zone) = (ask.class(), ask.membership.zone);
    let all = ask.house.db.read(move |db| second_looks::second_looks(db, class, None)).await?;
    let rows: Vec<Value> = all
        .iter()
        .map(|one| {
            json!({
                "name": format!("{} {}", one.given_name, one.family_name), "title": one.title,
                "reason": one.reason, "asked": dates::moment(one.asked_at, zone),
                "waits": one.answered_at.is_none(), "changed": one.new_score.is_some(), "answer": one.answer,
                "path": format!("/classes/{class}/assessments/{}/marking/{}", one.assessment, one.person),
            })
        })
        .collect();
    let view = json!({ "class_path": format!("/classes/{class}"), "rows": rows });
    ask.show("grades/second-looks", "second-looks-title", &view)
}

/// Answers that the mark stays.
pub async fn stays(ask: InClass, path: web::Path<(ClassId, SecondLookId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let mut sheet = Sheet::new(&filled);
    let why = sheet.words("why", 1000);
    if why.is_empty() {
        sheet.complain("why", crate::trade::remark::Remark::new("second-look-say-why"));
    }
    sheet.done()?;
    let next = said(format!("/classes/{class}/second-looks"), "done-second-look-answered");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.mark_stays(class, id, &why)).await
}
