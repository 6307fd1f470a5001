//! What an account goes by: its owner changes the e-mail address, a keeper changes a name.

use actix_web::web;
use serde_json::json;

use crate::ids::PersonId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::Ask;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::people::links::read_email;
use crate::store::Scope;
use crate::store::people::{accounts, persons};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const EMAIL: &str = "people-email";
const NAME: &str = "people-name";

/// The page on which the owner changes the address; the password is asked once more before it.
pub async fn email_form(ask: Ask) -> Reply {
    ask.confirmed()?;
    email_page(&ask, Form::new(EMAIL), false).await
}

async fn email_page(ask: &Ask, form: Form, again: bool) -> Reply {
    let id = ask.person()?.id;
    let stands = ask.house.db.read(move |db| accounts::preferences(db, id)).await?.email;
    let view = json!({ "form": form, "email": stands });
    if again { ask.show_again("people/email", EMAIL, &view) } else { ask.show("people/email", EMAIL, &view) }
}

/// Changes the address, and tells both.
pub async fn change_email(ask: Ask, filled: Filled) -> Reply {
    ask.confirmed()?;
    match try_email(&ask, &filled).await {
        Err(trouble) => {
            email_page(&ask, Form::after(EMAIL, &filled, trouble, &ask.house.speech)?, true).await
        }
        fine => fine,
    }
}

async fn try_email(ask: &Ask, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let email = read_email(&mut sheet, "email");
    let again = sheet.text("again", 254);
    if accounts::email_key(&email) != accounts::email_key(&again) {
        sheet.complain("again", Remark::new("people-email-differs"));
    }
    sheet.done()?;
    let id = ask.person()?.id;
    let next = said("/account", "done-email-changed");
    ask.act(Scope::School, filled, next, move |tx| {
        let stands = accounts::preferences(tx.connection, id)?.email;
        if stands.as_deref() == Some(email.as_str()) {
            return Err(Trouble::about("email", Remark::new("people-email-same")));
        }
        tx.change_email(id, &email).map_err(|trouble| match trouble {
            Trouble::Taken => Trouble::about("email", Remark::new("people-email-elsewhere")),
            other => other,
        })
    })
    .await
}

async fn find(ask: &Ask, id: PersonId) -> Result<persons::Person, Trouble> {
    ask.house.db.read(move |db| persons::persons(db, Some(id))?.pop().ok_or(Trouble::NotFound)).await
}

fn fresh(person: &persons::Person) -> Form {
    Form::new(NAME)
        .with("given_name", &person.given_name)
        .with("family_name", &person.family_name)
        .with("version", person.version.to_string())
}

/// The page on which a keeper changes a name.
pub async fn name_form(ask: Ask, id: web::Path<PersonId>) -> Reply {
    let person = find(&ask, id.into_inner()).await?;
    name_page(&ask, &person, fresh(&person), false)
}

fn name_page(ask: &Ask, person: &persons::Person, form: Form, again: bool) -> Reply {
    let view = json!({ "form": form, "id": person.id });
    if again { ask.show_again("people/name", NAME, &view) } else { ask.show("people/name", NAME, &view) }
}

/// Changes a name.
pub async fn change_name(ask: Ask, id: web::Path<PersonId>, filled: Filled) -> Reply {
    let id = id.into_inner();
    ask.confirmed()?;
    match try_name(&ask, id, &filled).await {
        Err(trouble) => {
            let person = find(&ask, id).await?;
            let form = Form::after_save(&filled, trouble, &fresh(&person), &ask.house.speech)?;
            name_page(&ask, &person, form, true)
        }
        fine => fine,
    }
}

async fn try_name(ask: &Ask, id: PersonId, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let (given, family) = (sheet.text("given_name", 80), sheet.text("family_name", 80));
    let version = sheet.whole("version", 1..=i64::MAX);
    sheet.done()?;
    let next = said("/school/people", "done-name-changed");
    ask.act(Scope::School, filled, next, move |tx| tx.rename_person(id, version, &given, &family)).await
}
