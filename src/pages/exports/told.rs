//! What was told about a student to parties outside (34 CFR 99.32): recorded by records staff and instructors, read by
//! them and, about themselves, by students.

use serde::Serialize;
use serde_json::{Value, json};

use crate::exchange::tables::Table;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::{InClass, Seat};
use crate::pages::exports::purpose;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::store::Scope;
use crate::store::exports::disclosures::{self, Taken, Telling};
use crate::store::people::members;
use crate::store::people::sessions::Role;
use crate::trade::spelled::Spelled;

const FORM: &str = "told";

#[derive(Serialize)]
struct Row {
    when: String,
    about: String,
    party: String,
    purpose: String,
    what: String,
    by: String,
}

#[derive(Serialize)]
struct View {
    class_path: String,
    own: bool,
    rows: Vec<Row>,
    /// Tables that named the student who reads.
    taken: Vec<Value>,
    form: Form,
    students: Vec<Choice>,
}

/// The entries; for a student those about them.
pub async fn page(ask: InClass) -> Reply {
    show(&ask, Form::new(FORM), false).await
}

async fn show(ask: &InClass, form: Form, again: bool) -> Reply {
    let (class, owner) = (ask.class(), ask.owner());
    let own = ask.seat() == Seat::Student;
    let (rows, taken, people) = ask
        .house
        .db
        .read(move |db| {
            let people = if owner.is_none() { members::everybody(db, class)? } else { Vec::new() };
            let taken = match owner {
                Some(owner) => disclosures::naming(db, class, owner)?,
                None => Vec::new(),
            };
            Ok((disclosures::told(db, class, owner)?, taken, people))
        })
        .await?;
    let whole = |(given, family): &(String, String)| format!("{given} {family}").trim().to_owned();
    let rows = rows
        .iter()
        .map(|one| Row {
            when: dates::moment(one.at, ask.membership.zone),
            about: whole(&one.person_name),
            party: one.party.clone(),
            purpose: one.purpose.clone(),
            what: one.what.clone(),
            by: one.by_name.as_ref().map(whole).unwrap_or_default(),
        })
        .collect();
    let students = people
        .iter()
        .filter(|one| one.role.0 == Role::Student)
        .map(|one| Choice::new(one.person.as_str(), format!("{} {}", one.given_name, one.family_name)))
        .collect();
    let taken = taken.iter().map(|one| taken_row(ask, one)).collect();
    let view = View { class_path: ask.path(""), own, rows, taken, form, students };
    if again {
        ask.show_again("exports/told", "told-title", &view)
    } else {
        ask.show("exports/told", "told-title", &view)
    }
}

fn taken_row(ask: &InClass, one: &Taken) -> Value {
    let speech = &ask.house.speech;
    let what = match (Table::from_word(&one.table), one.table.as_str()) {
        (Some(table), _) => table.about(),
        (None, "archive") => "archive-title",
        (None, "oneroster") => "oneroster-title",
        (None, _) => "records-title",
    };
    json!({
        "when": dates::moment(one.at, ask.membership.zone), "what": speech.plain(what), "who": purpose::who(one),
        "purpose": purpose::sentence(speech, &one.purpose),
    })
}

/// Records an entry.
pub async fn record(ask: InClass, filled: Filled) -> Reply {
    match try_record(&ask, &filled).await {
        Err(trouble) => {
            let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?;
            show(&ask, form, true).await
        }
        fine => fine,
    }
}

async fn try_record(ask: &InClass, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let told = Telling {
        person: sheet.id("person"),
        party: sheet.text("party", 200),
        purpose: sheet.text("purpose", 500),
        what: sheet.text("what", 500),
    };
    sheet.done()?;
    let class = ask.class();
    let next = said(ask.path("/disclosures"), "done-disclosed");
    ask.act(Scope::Class(class), filled, next, move |tx| tx.tell_outside(class, &told)).await
}
