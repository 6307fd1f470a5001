//! One student's submitted grade: submitting it as reckoned, choosing it by hand, an incomplete, and a change with its
//! reason beside the first.

use actix_web::web;
use serde::Serialize;

use crate::ids::{ClassId, PersonId, SubmittedGradeId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::grades::say;
use crate::pages::grades::submitted::{Shown, basis_key, last_line, shown};
use crate::spelled;
use crate::store::Scope;
use crate::store::grades::submitted;
use crate::store::grades::submitting::{self, Candidate, Decision};
use crate::trade::grading::Grade;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const FORM: &str = "decide";

spelled!(
    /// Which way a grade is decided.
    Way { Reckoned = "reckoned", ByHand = "by-hand", Incomplete = "incomplete" }
);

#[derive(Serialize)]
struct View {
    class_path: String,
    person: PersonId,
    name: String,
    basis: String,
    letter: Option<String>,
    percent: Option<String>,
    why: Option<String>,
    pending: Option<String>,
    last: Option<String>,
    history: Vec<Shown>,
    changing: bool,
    form: Form,
    ways: Vec<Choice>,
    letters: Vec<Choice>,
}

/// The page of one student.
pub async fn page(ask: InClass, path: web::Path<(ClassId, PersonId)>) -> Reply {
    ask.confirmed()?;
    show(&ask, path.into_inner().1, None, false).await
}

async fn show(ask: &InClass, person: PersonId, back: Option<Form>, stale: bool) -> Reply {
    let (class, zone) = (ask.class(), ask.membership.zone);
    let (look, history) = ask
        .house
        .db
        .read(move |db| {
            Ok((
                submitting::look(db, class, zone, Some(person))?,
                submitted::submitted(db, class, Some(person))?,
            ))
        })
        .await?;
    let one = look.candidates.first().ok_or(Trouble::NotFound)?;
    let again = back.is_some();
    let form = match back {
        // After a stale save what stands now is on the page; sending again is a decision about that.
        Some(form) if stale => renewed(form, one),
        Some(form) => form,
        None => fresh(one),
    };
    let speech = &ask.house.speech;
    let choices = look.choices(one.basis);
    let open = i64::try_from(one.pending.len()).unwrap_or(0);
    let view = View {
        class_path: ask.path(""),
        person,
        name: format!("{} {}", one.member.given_name, one.member.family_name),
        basis: speech.plain(basis_key(one.basis)),
        letter: one.letter.clone(),
        percent: one
            .outcome
            .as_ref()
            .ok()
            .and_then(Grade::rounded_text)
            .map(|percent| say(speech, "grades-of-percent", "percent", percent)),
        why: one.outcome.as_ref().err().map(|why| speech.remark(why)),
        pending: (open > 0).then(|| {
            let titles = one.pending.join(", ");
            speech.remark(&Remark::new("submit-pending").with("count", open).with("titles", titles))
        }),
        last: one.last.map(|last| last_line(speech, last)),
        changing: !history.is_empty(),
        history: shown(speech, zone, &history),
        ways: Way::ALL
            .iter()
            .filter(|way| **way != Way::Reckoned || one.letter.is_some())
            .map(|way| Choice::new(way.word(), speech.plain(&format!("decide-way-{}", way.word()))))
            .collect(),
        letters: choices.iter().map(|letter| Choice::new(letter, letter)).collect(),
        form,
    };
    let title = say(speech, "decide-title", "name", view.name.as_str());
    if again {
        ask.show_again("grades/decide", &title, &view)
    } else {
        ask.show("grades/decide", &title, &view)
    }
}

fn fresh(one: &Candidate) -> Form {
    let way = if one.letter.is_some() { Way::Reckoned } else { Way::ByHand };
    renewed(Form::new(FORM).with("way", way.word()), one)
}

/// The form with the marks of what is on the page.
fn renewed(form: Form, one: &Candidate) -> Form {
    form.with("seen", one.mark())
        .with("before", one.standing.as_ref().map(|one| one.id.to_string()).unwrap_or_default())
}

/// Submits or changes.
pub async fn decide(ask: InClass, path: web::Path<(ClassId, PersonId)>, filled: Filled) -> Reply {
    ask.confirmed()?;
    let person = path.into_inner().1;
    match try_decide(&ask, person, &filled).await {
        Err(trouble) => {
            let stale = matches!(trouble, Trouble::Stale(_));
            let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?;
            show(&ask, person, Some(form), stale).await
        }
        fine => fine,
    }
}

async fn try_decide(ask: &InClass, person: PersonId, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let before: Option<SubmittedGradeId> = sheet.maybe_id("before");
    let reason = sheet.words("reason", 2000);
    let decision = match sheet.choice("way", Way::Reckoned) {
        Way::Reckoned => Decision::Reckoned { seen: filled.get("seen").unwrap_or_default().to_owned() },
        Way::ByHand => Decision::ByHand { letter: sheet.text("letter", 20) },
        Way::Incomplete => {
            let remains = sheet.words("remains", 2000);
            if remains.is_empty() {
                sheet.complain("remains", Remark::new("form-empty"));
            }
            Decision::Incomplete {
                remains,
                until: sheet.date("until"),
                lapses_to: sheet.text("lapses_to", 20),
            }
        }
    };
    sheet.done()?;
    let (class, zone, speech) = (ask.class(), ask.membership.zone, ask.house.speech.clone());
    let next = said(ask.path(&format!("/grades/people/{person}/submitted")), "done-submitted");
    ask.act(Scope::Class(class), filled, next, move |tx| {
        let say = |remark: &Remark| speech.remark(remark);
        tx.decide_grade((class, zone, person), before, &decision, &reason, &say).map(drop)
    })
    .await
}
