//! Submitting the grades of a class: who has one and who has none is looked over first, then those ticked are submitted
//! under the name of the instructor who does it.

use serde::Serialize;

use crate::ids::PersonId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::grades::say;
use crate::pages::grades::submitted::{basis_key, last_line};
use crate::speech::Speech;
use crate::store::Scope;
use crate::store::grades::submitting::{self, Candidate, Look};
use crate::trade::grading::Grade;
use crate::trade::remark::Remark;

const FORM: &str = "submit";

#[derive(Serialize)]
struct Row {
    person: PersonId,
    name: String,
    listing: String,
    basis: String,
    letter: Option<String>,
    percent: Option<String>,
    mark: String,
    /// Why it cannot be submitted from here, or what to look at first.
    why: Option<String>,
    pending: Option<String>,
    /// What the student would read first in the submitted grade.
    kept_back: Option<String>,
    last: Option<String>,
    standing: Option<String>,
    may: bool,
    ticked: bool,
    complaint: Option<String>,
}

#[derive(Serialize)]
struct View {
    wide: bool,
    class_path: String,
    form: Form,
    rows: Vec<Row>,
    ready: usize,
    done: usize,
    without: usize,
}

/// The look over the class.
pub async fn page(ask: InClass) -> Reply {
    ask.confirmed()?;
    show(&ask, None).await
}

async fn show(ask: &InClass, back: Option<(Form, Vec<PersonId>)>) -> Reply {
    let (class, zone) = (ask.class(), ask.membership.zone);
    let look = ask.house.db.read(move |db| submitting::look(db, class, zone, None)).await?;
    let again = back.is_some();
    let (form, ticked) = match back {
        Some((form, ticked)) => (form, Some(ticked)),
        None => (Form::new(FORM), None),
    };
    let rows: Vec<Row> =
        look.candidates.iter().map(|one| row(&ask.house.speech, one, &form, ticked.as_deref())).collect();
    let view = View {
        wide: true,
        class_path: ask.path(""),
        ready: rows.iter().filter(|row| row.may && row.pending.is_none()).count(),
        done: rows.iter().filter(|row| row.standing.is_some()).count(),
        without: rows.iter().filter(|row| row.letter.is_none() && row.standing.is_none()).count(),
        rows,
        form,
    };
    if again {
        ask.show_again("grades/submit", "submit-title", &view)
    } else {
        ask.show("grades/submit", "submit-title", &view)
    }
}

fn row(speech: &Speech, one: &Candidate, form: &Form, ticked: Option<&[PersonId]>) -> Row {
    let grade = one.outcome.as_ref().ok();
    let may = one.letter.is_some() && one.standing.is_none();
    let open = i64::try_from(one.pending.len()).unwrap_or(0);
    let why = match &one.outcome {
        _ if may || one.standing.is_some() => None,
        Err(why) => Some(speech.remark(why)),
        Ok(_) => Some(speech.plain("submit-nothing-counted")),
    };
    Row {
        person: one.member.person,
        name: format!("{} {}", one.member.given_name, one.member.family_name),
        listing: one.member.listing.clone().unwrap_or_default(),
        basis: speech.plain(basis_key(one.basis)),
        letter: one.letter.clone(),
        percent: grade
            .and_then(Grade::rounded_text)
            .map(|percent| say(speech, "grades-of-percent", "percent", percent)),
        mark: one.mark(),
        why,
        pending: (open > 0).then(|| {
            let titles = one.pending.join(", ");
            speech.remark(&Remark::new("submit-pending").with("count", open).with("titles", titles))
        }),
        kept_back: (!one.kept_back.is_empty()).then(|| {
            let titles = one.kept_back.join(", ");
            speech.remark(&Remark::new("submit-kept-back").with("titles", titles))
        }),
        last: one.last.map(|last| last_line(speech, last)),
        standing: one.standing.as_ref().map(|standing| standing.letter.clone()),
        may,
        ticked: may && ticked.map_or(open == 0, |ticked| ticked.contains(&one.member.person)),
        complaint: form.complaint(&format!("seen-{}", one.member.person)).map(str::to_owned),
    }
}

/// Submits those ticked.
pub async fn submit(ask: InClass, filled: Filled) -> Reply {
    ask.confirmed()?;
    let outcome = try_submit(&ask, &filled).await;
    match outcome {
        Err(trouble) => {
            let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?;
            let (class, zone) = (ask.class(), ask.membership.zone);
            let look: Look = ask.house.db.read(move |db| submitting::look(db, class, zone, None)).await?;
            let form = form.naming(|field| {
                let person = field.strip_prefix("seen-")?;
                let one = look.candidates.iter().find(|one| one.member.person.as_str() == person)?;
                Some(format!("{} {}", one.member.given_name, one.member.family_name))
            });
            let ticked = filled.all("person").filter_map(|id| id.parse().ok()).collect();
            show(&ask, Some((form, ticked))).await
        }
        fine => fine,
    }
}

async fn try_submit(ask: &InClass, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let people: Vec<PersonId> = sheet.ids("person");
    if people.is_empty() {
        sheet.complain("", Remark::new("submit-nobody"));
    }
    sheet.done()?;
    let wanted: Vec<(PersonId, String)> = people
        .into_iter()
        .map(|person| (person, filled.get(&format!("seen-{person}")).unwrap_or_default().to_owned()))
        .collect();
    let (class, zone, speech) = (ask.class(), ask.membership.zone, ask.house.speech.clone());
    let next = said(ask.path("/grades/submitted"), "done-submitted");
    ask.act(Scope::Class(class), filled, next, move |tx| {
        tx.submit_grades(class, zone, &wanted, &|remark| speech.remark(remark)).map(drop)
    })
    .await
}
