//! What students are granted: the effect for whoever works with them, each student's own, and why for the instructor
//! alone.

use actix_web::web;
use serde_json::{Value, json};

use crate::ids::AccommodationId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::classes::full_name;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::store::Scope;
use crate::store::classes::accommodations::{self, Accommodation, Effect, Granted};
use crate::store::classes::dues::students;
use crate::store::people::members::Member;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const FORM: &str = "accommodation";

fn base(ask: &InClass) -> String {
    format!("/classes/{}/accommodations", ask.class())
}

/// The page as things stand.
pub async fn page(ask: InClass) -> Reply {
    show(&ask, Form::new(FORM), false).await
}

async fn show(ask: &InClass, form: Form, again: bool) -> Reply {
    let (class, owner, instructor) = (ask.class(), ask.owner(), ask.is_instructor());
    let (all, reasons, people) = ask
        .house
        .db
        .read(move |db| {
            let reasons = if instructor { accommodations::reasons(db, class)? } else { Default::default() };
            Ok((accommodations::accommodations(db, class, owner)?, reasons, students(db, class)?))
        })
        .await?;
    let rows: Vec<Value> = all
        .iter()
        .map(|one| {
            json!({
                "name": full_name(&one.given_name, &one.family_name), "effect": effect(ask, one),
                "words": one.words, "since": dates::moment(one.at, ask.membership.zone),
                "reason": reasons.get(&one.id), "path": format!("{}/{}", base(ask), one.id), "id": one.id,
            })
        })
        .collect();
    let people: Vec<Choice> = if instructor {
        let choice =
            |one: Member| Choice::new(one.person.to_string(), full_name(&one.given_name, &one.family_name));
        people.into_iter().map(choice).collect()
    } else {
        Vec::new()
    };
    let view = json!({
        "class_path": format!("/classes/{class}"), "base": base(ask), "rows": rows, "instructor": instructor,
        "student": owner.is_some(), "people": people, "form": form,
        "effects": Choice::of_words::<Effect>("accommodation-effect", &ask.house.speech),
    });
    if again {
        ask.show_again("classes/accommodations", "accommodations-title", &view)
    } else {
        ask.show("classes/accommodations", "accommodations-title", &view)
    }
}

/// “More time: 50 % of what the class has”.
fn effect(ask: &InClass, one: &Accommodation) -> String {
    let speech = &ask.house.speech;
    match (one.effect.0, one.percent, one.days) {
        (Effect::MoreTime, Some(percent), _) => {
            speech.remark(&Remark::new("accommodation-percent-more").with("percent", i64::from(percent)))
        }
        (Effect::MoreTime, _, Some(days)) => {
            speech.remark(&Remark::new("accommodation-days-more").with("days", i64::from(days)))
        }
        (effect, ..) => speech.plain(&format!("accommodation-effect-{}", effect.word())),
    }
}

/// Grants something.
pub async fn grant(ask: InClass, filled: Filled) -> Reply {
    let outcome = async {
        let mut sheet = Sheet::new(&filled);
        let number = |found: Option<i64>| found.and_then(|number| i32::try_from(number).ok());
        let granted = Granted {
            person: sheet.id("person"),
            effect: sheet.choice("effect", Effect::MoreTime),
            percent: number(sheet.maybe_whole("percent", 1..=300)),
            days: number(sheet.maybe_whole("days", 1..=180)),
            words: sheet.words("words", 500),
            reason: sheet.words("reason", 1000),
        };
        sheet.done()?;
        let class = ask.class();
        let next = said(base(&ask), "done-granted");
        ask.act(Scope::Class(class), &filled, next, move |tx| tx.grant(class, &granted).map(drop)).await
    };
    match outcome.await {
        Err(trouble @ Trouble::Complaints(_)) => {
            show(&ask, Form::after(FORM, &filled, trouble, &ask.house.speech)?, true).await
        }
        other => other,
    }
}

/// Says anew why something is granted.
pub async fn say_why(ask: InClass, path: web::Path<(String, AccommodationId)>, filled: Filled) -> Reply {
    let (class, id) = (ask.class(), path.into_inner().1);
    let mut sheet = Sheet::new(&filled);
    let why = sheet.words("reason", 1000);
    sheet.done()?;
    let next = said(base(&ask), "done-granted-why");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.say_why_granted(class, id, &why)).await
}

/// Ends what was granted.
pub async fn end(ask: InClass, path: web::Path<(String, AccommodationId)>, filled: Filled) -> Reply {
    let (class, id) = (ask.class(), path.into_inner().1);
    let next = said(base(&ask), "done-granted-ended");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.end_accommodation(class, id)).await
}
