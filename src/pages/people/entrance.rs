//! The entrance: signing in and out, and the hall from which a person goes to their classes.

use actix_web::HttpResponse;
use actix_web::http::header;

use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::Ask;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::gate;
use crate::secrets;
use crate::store::Scope;
use crate::store::people::accounts;
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

/// Where everybody starts: straight into the class where there is but one.
pub async fn hall(ask: Ask) -> Reply {
    let person = ask.person()?.clone();
    let classes = ask.house.db.read(move |db| accounts::classes_of(db, person.id)).await?;
    match classes.as_slice() {
        [only] if !person.keeper && !person.records => Ok(see_other(format!("/classes/{}", only.class))),
        _ => ask.show("people/hall", "people-hall", &serde_json::json!({ "classes": classes })),
    }
}

/// The sign-in page.
pub async fn sign_in_form(ask: Ask) -> Reply {
    let next = ask.query("next").filter(|next| is_local(next)).unwrap_or_default();
    let form = Form::new("people-sign-in").with("next", next);
    ask.show("people/sign-in", "people-sign-in", &serde_json::json!({ "form": form }))
}

/// Signs in, and goes where the person wanted to go.
pub async fn sign_in(ask: Ask, filled: Filled) -> Reply {
    match try_sign_in(&ask, &filled).await {
        Ok(response) => Ok(response),
        Err(trouble) => {
            let form = Form::after("people-sign-in", &filled, trouble, &ask.house.speech)?;
            ask.show_again("people/sign-in", "people-sign-in", &serde_json::json!({ "form": form }))
        }
    }
}

async fn try_sign_in(ask: &Ask, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let email = sheet.text("email", 254);
    let password = filled.get("password").unwrap_or_default().to_owned();
    if password.is_empty() {
        sheet.complain("password", Remark::new("form-empty"));
    }
    sheet.done()?;
    let key = accounts::email_key(&email);
    let account = ask.house.db.read(move |db| accounts::by_email(db, &key)).await?;
    let stored = account.as_ref().and_then(|account| account.password_hash.clone());
    let right = ask.house.passwords.verify(password, stored).await?;
    let Some(account) = account.filter(|_| right) else {
        let remark = Remark::new("people-sign-in-wrong");
        return Err(Trouble::Complaints(vec![Complaint::new("email", remark)]));
    };
    let token = secrets::token()?;
    let hash = secrets::sha256_hex(token.as_bytes());
    let agent = ask
        .request
        .headers()
        .get(header::USER_AGENT)
        .and_then(|value| value.to_str().ok())
        .unwrap_or_default()
        .to_owned();
    let id = account.id;
    ask.house
        .db
        .write(Scope::School, Some(id), ask.now(), move |tx| tx.open_session(id, &hash, &agent))
        .await?;
    let next = filled.get("next").filter(|next| is_local(next)).unwrap_or("/");
    let mut response = see_other(next);
    add_cookie(&mut response, gate::cookie(&ask.house, gate::session_cookie_name(&ask.house), token))?;
    Ok(response)
}

/// Ends the session and clears what the browser kept of it.
pub async fn sign_out(ask: Ask, _filled: Filled) -> Reply {
    let person = ask.person()?.clone();
    ask.house
        .db
        .write(Scope::School, Some(person.id), ask.now(), move |tx| tx.end_session(person.session))
        .await?;
    let mut response = see_other("/sign-in?done=done-signed-out");
    let mut gone = gate::cookie(&ask.house, gate::session_cookie_name(&ask.house), String::new());
    gone.make_removal();
    add_cookie(&mut response, gone)?;
    response.headers_mut().insert(
        header::HeaderName::from_static("clear-site-data"),
        header::HeaderValue::from_static("\"cache\""),
    );
    Ok(response)
}

fn add_cookie(response: &mut HttpResponse, cookie: actix_web::cookie::Cookie<'_>) -> Result<(), Trouble> {
    response.add_cookie(&cookie).map_err(|error| Trouble::broken("setting a cookie", error))
}

/// Whether an address leads to a page of ours and nowhere else.
fn is_local(next: &str) -> bool {
    next.starts_with('/') && !next.starts_with("//") && !next.contains(['\\', '\r', '\n']) && next.len() < 500
}
