//! One-time links: the secret goes from the address into a short cookie at once, so it stays in no history; then the
//! page it opens: a new password, or the first set-up of a school.

use actix_web::cookie::time::Duration;
use actix_web::web;
use serde_json::json;

use crate::ids::PersonId;
use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::Ask;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::gate;
use crate::pages::limits::address_of;
use crate::pages::people::entrance::{add_cookie, open_session};
use crate::passwords::rule;
use crate::post::address::is_address;
use crate::speech::language::Language;
use crate::store::people::links::{self, OpenLink, Purpose};
use crate::store::people::persons::NewPerson;
use crate::store::people::{accounts, school};
use crate::store::{AnyConnection, Scope};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

fn cookie_name(ask: &Ask) -> &'static str {
    if ask.house.settings.is_https() { "__Host-link" } else { "link" }
}

/// Follows a link out of a letter.
pub async fn follow(ask: Ask, secret: web::Path<String>) -> Reply {
    ask.house.limits.sign_in(address_of(&ask.request, &ask.house.settings))?;
    let secret = secret.into_inner();
    let (seek, now) = (secret.clone(), ask.now());
    let open = ask.house.db.read(move |db| links::open(db, &seek, now)).await?;
    let Some(open) = open else { return dead(&ask) };
    let mut response = see_other(match open.purpose {
        Purpose::Setup => "/set-up",
        _ => "/new-password",
    });
    let mut cookie = gate::cookie(&ask.house, cookie_name(&ask), secret);
    cookie.set_max_age(Duration::minutes(30));
    add_cookie(&mut response, cookie)?;
    Ok(response)
}

fn dead(ask: &Ask) -> Reply {
    let view = json!({ "sentences": [ask.house.speech.plain("people-link-dead")] });
    ask.page(actix_web::http::StatusCode::GONE, "trouble/page", "people-link-dead-title", &view)
}

/// The link whose secret the short cookie holds.
async fn open_link(ask: &Ask) -> Result<Option<OpenLink>, Trouble> {
    let Some(cookie) = ask.request.cookie(cookie_name(ask)) else { return Ok(None) };
    let (secret, now) = (cookie.value().to_owned(), ask.now());
    ask.house.db.read(move |db| links::open(db, &secret, now)).await
}

/// The page for a new password.
pub async fn new_password_form(ask: Ask) -> Reply {
    let Some(open) = open_link(&ask).await? else { return dead(&ask) };
    ask.show("people/new-password", "people-new-password", &view(&open, Form::new("people-new-password")))
}

fn view(open: &OpenLink, form: Form) -> serde_json::Value {
    json!({
        "form": form,
        "name": format!("{} {}", open.given_name, open.family_name),
        "email": open.email,
        "least": rule::LEAST,
        "first": open.purpose == Purpose::Invitation,
    })
}

/// Takes the new password, uses the link up and signs the person in after an invitation; after a reset they sign in
/// themselves.
pub async fn new_password(ask: Ask, filled: Filled) -> Reply {
    let Some(open) = open_link(&ask).await? else { return dead(&ask) };
    match try_new_password(&ask, &filled, &open).await {
        Err(trouble) => {
            let form = Form::after("people-new-password", &filled, trouble, &ask.house.speech)?;
            ask.show_again("people/new-password", "people-new-password", &view(&open, form))
        }
        fine => fine,
    }
}

async fn try_new_password(ask: &Ask, filled: &Filled, open: &OpenLink) -> Reply {
    let own = [open.given_name.as_str(), &open.family_name, open.email.as_deref().unwrap_or_default()];
    let hash = read_new_password(ask, filled, &own, open.person).await?;
    let (acted, language) = (open.clone(), Language::at_hand());
    let person = ask
        .house
        .db
        .write(Scope::School, None, ask.now(), move |tx| {
            let id = tx.set_password_by_link(&acted, &hash)?;
            if acted.purpose == Purpose::Invitation && language != Language::English {
                tx.speak_to(id, language)?;
            }
            Ok(id)
        })
        .await?;
    ask.house.listeners.look_again(person);
    let mut response = if open.purpose == Purpose::Invitation {
        open_session(ask, person, see_other("/?done=done-account-open")).await?
    } else {
        see_other("/sign-in?done=done-password-set")
    };
    forget(ask, &mut response)?;
    Ok(response)
}

fn forget(ask: &Ask, response: &mut actix_web::HttpResponse) -> Result<(), Trouble> {
    let mut gone = gate::cookie(&ask.house, cookie_name(ask), String::new());
    gone.make_removal();
    add_cookie(response, gone)
}

/// Reads a new password typed twice, and hashes it.
///
/// # Errors
/// Complaints at the fields.
pub(super) async fn read_new_password(
    ask: &Ask,
    filled: &Filled,
    own: &[&str],
    whose: Option<PersonId>,
) -> Result<String, Trouble> {
    let around = ask.house.db.read(move |db| words_around(db, whose)).await?;
    let own: Vec<&str> = own.iter().copied().chain(around.iter().map(String::as_str)).collect();
    let mut sheet = Sheet::new(filled);
    let password = rule::normal(filled.get("new").unwrap_or_default());
    let again = rule::normal(filled.get("again").unwrap_or_default());
    if let Some(remark) = rule::refuse(&password, &own) {
        sheet.complain("new", remark);
    } else if password != again {
        sheet.complain("again", Remark::new("people-password-differs"));
    }
    sheet.done()?;
    ask.house.passwords.hash(password).await
}

/// What somebody who knows the school would try first: its name, and the codes of a person's classes.
fn words_around(db: &mut AnyConnection, whose: Option<PersonId>) -> Result<Vec<String>, Trouble> {
    let school = school::school(db)?.map(|school| school.name);
    let codes = match whose {
        Some(id) => accounts::class_codes_of(db, id)?,
        None => Vec::new(),
    };
    Ok(school.into_iter().chain(codes).collect())
}

/// The page that makes a new school and its first keeper.
pub async fn set_up_form(ask: Ask) -> Reply {
    match open_link(&ask).await? {
        Some(open) if open.purpose == Purpose::Setup => set_up_page(&ask, Form::new("people-set-up"), false),
        _ => dead(&ask),
    }
}

fn set_up_page(ask: &Ask, form: Form, again: bool) -> Reply {
    let view = json!({ "form": form, "least": rule::LEAST });
    if again {
        ask.show_again("people/set-up", "people-set-up", &view)
    } else {
        ask.show("people/set-up", "people-set-up", &view)
    }
}

/// Makes the school.
pub async fn set_up(ask: Ask, filled: Filled) -> Reply {
    let open = match open_link(&ask).await? {
        Some(open) if open.purpose == Purpose::Setup => open,
        _ => return dead(&ask),
    };
    match try_set_up(&ask, &filled, open).await {
        Err(trouble) => {
            let form = Form::after("people-set-up", &filled, trouble, &ask.house.speech)?;
            set_up_page(&ask, form, true)
        }
        fine => fine,
    }
}

async fn try_set_up(ask: &Ask, filled: &Filled, open: OpenLink) -> Reply {
    let mut sheet = Sheet::new(filled);
    let school = sheet.text("school", 120);
    let safety_office = sheet.text("safety_office", 200);
    let keeper = NewPerson {
        given_name: sheet.text("given_name", 80),
        family_name: sheet.text("family_name", 80),
        email: Some(read_email(&mut sheet, "email")),
        student_number: None,
    };
    sheet.done()?;
    let email = keeper.email.as_deref().unwrap_or_default();
    let own = [keeper.given_name.as_str(), &keeper.family_name, email, &school];
    let hash = read_new_password(ask, filled, &own, None).await?;
    let language = Language::at_hand();
    let id = ask
        .house
        .db
        .write(Scope::School, None, ask.now(), move |tx| {
            tx.use_link(open.id)?;
            let id = tx.found_school(&school, &safety_office, &keeper, false)?;
            tx.by = Some(id);
            tx.set_password(id, &hash, None)?;
            if language != Language::English {
                tx.speak_to(id, language)?;
            }
            tx.ship_topics()?;
            tx.ship_procedures()?;
            Ok(id)
        })
        .await?;
    let mut response = open_session(ask, id, see_other("/school?done=done-school-founded")).await?;
    forget(ask, &mut response)?;
    Ok(response)
}

/// Reads an e-mail address that must be there.
pub fn read_email(sheet: &mut Sheet<'_>, name: &str) -> String {
    let email = sheet.text(name, 254);
    if !email.is_empty() && !is_address(&email) {
        sheet.complain(name, Remark::new("people-no-email").with("value", email.clone()));
    }
    email
}

/// Reads an e-mail address that may be missing.
pub fn read_maybe_email(sheet: &mut Sheet<'_>, name: &str) -> Option<String> {
    let email = sheet.maybe_text(name, 254)?;
    if !is_address(&email) {
        sheet.complain(name, Remark::new("people-no-email").with("value", email.clone()));
    }
    Some(email)
}
