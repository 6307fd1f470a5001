//! The entrance: signing in and out.

use actix_web::HttpResponse;
use actix_web::http::header;

use crate::ids::PersonId;
use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::Ask;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::gate;
use crate::pages::limits::address_of;
use crate::passwords::rule;
use crate::secrets;
use crate::store::Scope;
use crate::store::people::accounts;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

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
    ask.house.limits.sign_in(address_of(&ask.request, &ask.house.settings))?;
    let mut sheet = Sheet::new(filled);
    let email = sheet.text("email", 254);
    let password = rule::normal(filled.get("password").unwrap_or_default());
    if password.is_empty() {
        sheet.complain("password", Remark::new("form-empty"));
    }
    sheet.done()?;
    let id = check_password(ask, &email, password).await?;
    let next = filled.get("next").filter(|next| is_local(next)).unwrap_or("/");
    open_session(ask, id, see_other(next)).await
}

/// Compares e-mail and password, with growing pauses after failures. A browser this person signed in with before is
/// not made to wait, so a stranger cannot lock anybody out.
async fn check_password(ask: &Ask, email: &str, password: String) -> Result<PersonId, Trouble> {
    let (house, now) = (&ask.house, ask.now());
    let key = accounts::email_key(email);
    let account = house.db.read(move |db| accounts::by_email(db, &key)).await?;
    let id = account.as_ref().map(|account| account.id);
    if let Some(id) = id
        && !knows_device(ask, id)
    {
        let wait_ms = house.db.read(move |db| accounts::failures(db, id)).await?.wait_ms(now);
        if wait_ms > 0 {
            let seconds = u64::try_from(wait_ms / 1000).unwrap_or(0) + 1;
            return Err(Trouble::TooMany { seconds });
        }
    }
    let stored = account.and_then(|account| account.password_hash);
    let right = house.passwords.verify(password, stored).await?;
    match (right, id) {
        (true, Some(id)) => {
            house.db.note(move |db| accounts::forget_failures(db, id)).await?;
            Ok(id)
        }
        (_, id) => {
            if let Some(id) = id {
                house.db.note(move |db| accounts::count_failure(db, id, now)).await?;
            }
            tracing::warn!(known = id.is_some(), "sign-in failed");
            Err(Trouble::about("email", Remark::new("people-sign-in-wrong")))
        }
    }
}

/// Opens a session for a person and puts its cookie into the answer.
///
/// # Errors
/// The database refuses.
pub(super) async fn open_session(ask: &Ask, id: PersonId, mut response: HttpResponse) -> Reply {
    let token = secrets::token()?;
    let hash = secrets::sha256_hex(token.as_bytes());
    let agent = ask
        .request
        .headers()
        .get(header::USER_AGENT)
        .and_then(|value| value.to_str().ok())
        .unwrap_or_default()
        .to_owned();
    ask.house
        .db
        .write(Scope::School, Some(id), ask.now(), move |tx| tx.open_session(id, &hash, &agent))
        .await?;
    add_cookie(&mut response, gate::cookie(&ask.house, gate::session_cookie_name(&ask.house), token))?;
    let mut device = gate::cookie(&ask.house, device_cookie(ask), device_mark(ask, id));
    device.make_permanent();
    add_cookie(&mut response, device)?;
    Ok(response)
}

fn device_cookie(ask: &Ask) -> &'static str {
    if ask.house.settings.is_https() { "__Host-device" } else { "device" }
}

fn device_mark(ask: &Ask, id: PersonId) -> String {
    secrets::hex(&ask.house.key.derive("device", &[id.as_str().as_bytes()]))
}

fn knows_device(ask: &Ask, id: PersonId) -> bool {
    ask.request.cookie(device_cookie(ask)).is_some_and(|cookie| {
        subtle::ConstantTimeEq::ct_eq(cookie.value().as_bytes(), device_mark(ask, id).as_bytes()).into()
    })
}

/// Ends the session and clears what the browser kept of it.
pub async fn sign_out(ask: Ask, _filled: Filled) -> Reply {
    let person = ask.person()?.clone();
    ask.house
        .db
        .write(Scope::School, Some(person.id), ask.now(), move |tx| tx.end_session(person.session))
        .await?;
    ask.house.listeners.look_again(person.id);
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

pub(in crate::pages) fn add_cookie(
    response: &mut HttpResponse,
    cookie: actix_web::cookie::Cookie<'_>,
) -> Result<(), Trouble> {
    response.add_cookie(&cookie).map_err(|error| Trouble::broken("setting a cookie", error))
}

/// Whether an address leads to a page of ours and nowhere else.
pub(super) fn is_local(next: &str) -> bool {
    next.starts_with('/') && !next.starts_with("//") && !next.contains(['\\', '\r', '\n']) && next.len() < 500
}
