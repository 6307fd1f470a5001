//! Studio duties: set by staff, told as done or left, and read by each student as their own.

use actix_web::web;
use serde_json::{Value, json};

use crate::ids::DutyId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::classes::full_name;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::speech::Speech;
use crate::store::Scope;
use crate::store::classes::dues::students;
use crate::store::classes::duties::{self, Duty, Outcome, What};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const FORM: &str = "duty";

fn base(ask: &InClass) -> String {
    format!("/classes/{}/duties", ask.class())
}

/// The page as things stand: all for staff, a student's own for a student.
pub async fn page(ask: InClass) -> Reply {
    let today = ask.now().local_date(ask.membership.zone).to_string();
    show(&ask, Form::new(FORM).with("day", today), false).await
}

/// A duty in words: “Thu 22 Oct: rags in their closed can”, and what became of it.
pub fn line(speech: &Speech, one: &Duty) -> Value {
    json!({
        "day": dates::day(one.day), "what": speech.plain(&format!("duty-what-{}", one.what.0.word())),
        "outcome": speech.plain(&format!("duty-outcome-{}", one.outcome.0.word())),
    })
}

async fn show(ask: &InClass, form: Form, again: bool) -> Reply {
    let (class, owner) = (ask.class(), ask.owner());
    let (all, people) =
        ask.house.db.read(move |db| Ok((duties::duties(db, class, owner)?, students(db, class)?))).await?;
    let speech = &ask.house.speech;
    let rows: Vec<Value> = all
        .iter()
        .map(|one| {
            let others: Vec<Choice> = [Outcome::Done, Outcome::Left, Outcome::Excused]
                .into_iter()
                .filter(|outcome| *outcome != one.outcome.0)
                .map(|outcome| {
                    Choice::new(outcome.word(), speech.plain(&format!("duty-tell-{}", outcome.word())))
                })
                .collect();
            json!({
                "path": format!("{}/{}", base(ask), one.id), "others": others,
                "name": full_name(&one.given_name, &one.family_name), "line": line(speech, one),
                "open": one.outcome.0 == Outcome::Set,
            })
        })
        .collect();
    let people: Vec<Choice> = if ask.is_staff() {
        let choice = |one: crate::store::people::members::Member| {
            Choice::new(one.person.to_string(), full_name(&one.given_name, &one.family_name))
        };
        people.into_iter().map(choice).collect()
    } else {
        Vec::new()
    };
    let view = json!({
        "class_path": format!("/classes/{class}"), "base": base(ask), "rows": rows, "staff": ask.is_staff(),
        "people": people, "whats": Choice::of_words::<What>("duty-what", speech), "form": form,
    });
    if again {
        ask.show_again("classes/duties", "duties-title", &view)
    } else {
        ask.show("classes/duties", "duties-title", &view)
    }
}

/// Sets a duty for the students ticked.
pub async fn set(ask: InClass, filled: Filled) -> Reply {
    let outcome = async {
        let mut sheet = Sheet::new(&filled);
        let people = sheet.ids("person");
        let day = sheet.date("day");
        let what = sheet.choice("what", What::Slabs);
        if people.is_empty() {
            sheet.complain("person", Remark::new("duty-for-whom"));
        }
        sheet.done()?;
        let class = ask.class();
        let next = said(base(&ask), "done-duty-set");
        ask.act(Scope::Class(class), &filled, next, move |tx| tx.set_duties(class, &people, day, what)).await
    };
    match outcome.await {
        Err(trouble @ Trouble::Complaints(_)) => {
            show(&ask, Form::after(FORM, &filled, trouble, &ask.house.speech)?, true).await
        }
        other => other,
    }
}

/// Tells what became of one.
pub async fn tell(ask: InClass, path: web::Path<(String, DutyId)>, filled: Filled) -> Reply {
    let id = path.into_inner().1;
    let mut sheet = Sheet::new(&filled);
    let outcome = sheet.choice("outcome", Outcome::Done);
    sheet.done()?;
    let class = ask.class();
    let next = said(base(&ask), "done-duty-told");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.tell_duty(class, id, outcome)).await
}
