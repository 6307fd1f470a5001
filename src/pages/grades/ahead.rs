//! Reckoning ahead: a student supposes scores for work not yet marked and reads what the grade would be, with its
//! working. It is a form of method GET; nothing is stored anywhere.

use serde_json::{Value, json};

use crate::ids::AssessmentId;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::grades::assessment::MOST_POINTS;
use crate::pages::grades::own::GradeView;
use crate::pages::grades::{hundredths, open, say};
use crate::speech::Speech;
use crate::store::grades::assessments::Assessment;
use crate::store::grades::scores::Which;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const FORM: &str = "reckon-ahead";

/// The form, and below it what follows from what was typed.
pub async fn page(ask: InClass) -> Reply {
    let person = ask.person.id;
    let mut book = open(&ask, Which::HandedBack, Some(person)).await?;
    let speech = &ask.house.speech;
    let filled = Filled::asked(&ask.ask);
    let waiting: Vec<_> = book.assessments.iter().filter(|one| book.open(one.id, person)).cloned().collect();
    let mut sheet = Sheet::new(&filled);
    let mut supposed: Vec<(AssessmentId, i64)> = Vec::new();
    for one in &waiting {
        let field = format!("ahead-{}", one.id);
        let Some(points) = sheet.maybe_decimal(&field, 2, 0..=MOST_POINTS) else { continue };
        if points > one.points_hundredths && !one.extra_credit {
            let most = hundredths(one.points_hundredths);
            let remark =
                Remark::new("grades-ahead-above").with("value", hundredths(points)).with("most", most);
            sheet.complain(&field, remark);
        } else {
            supposed.push((one.id, points));
        }
    }
    let named = |field: &str| {
        let id = field.strip_prefix("ahead-")?;
        waiting.iter().find(|one| one.id.to_string() == id).map(|one| one.title.clone())
    };
    let (form, sound) = match sheet.done() {
        Ok(()) => (Form::refused(FORM, &filled, &[], speech), true),
        Err(Trouble::Complaints(complaints)) => {
            (Form::refused(FORM, &filled, &complaints, speech).naming(named), false)
        }
        Err(other) => return Err(other),
    };
    for (id, points) in &supposed {
        book.suppose(*id, person, *points);
    }
    let outcome = book.grade(person);
    let told = sound && !supposed.is_empty();
    let working: Vec<String> = outcome
        .as_ref()
        .map(|grade| grade.working.iter().map(|line| speech.remark(line)).collect())
        .unwrap_or_default();
    let view = json!({
        "class_path": format!("/classes/{}", ask.class()), "form": form, "rows": rows(speech, &waiting),
        "grade": outcome.as_ref().ok().filter(|_| told).map(|grade| GradeView::of(speech, grade)),
        "working": if told { working } else { Vec::new() },
        "cannot": outcome.err().map(|why| say(speech, "grades-cannot", "why", speech.remark(&why))),
    });
    if sound {
        ask.show("grades/ahead", "grades-ahead", &view)
    } else {
        ask.show_again("grades/ahead", "grades-ahead", &view)
    }
}

/// A field for each piece of work that is not marked yet.
fn rows(speech: &Speech, waiting: &[Assessment]) -> Vec<Value> {
    waiting
        .iter()
        .map(|one| {
            json!({
                "title": one.title, "field": format!("ahead-{}", one.id), "extra": one.extra_credit,
                "of": say(speech, "grades-ahead-of", "points", hundredths(one.points_hundredths)),
            })
        })
        .collect()
}
