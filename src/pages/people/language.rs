//! In which language somebody is spoken to: the one they chose on their account, else the one this browser was set to
//! by the link at the foot of a page, else what the browser asks for.

use actix_web::cookie::time::Duration;
use actix_web::dev::ServiceRequest;
use actix_web::http::header;
use actix_web::web;
use serde::Serialize;

use crate::pages::answer::{Reply, encode, see_other};
use crate::pages::entry::{Ask, Found};
use crate::pages::fields::Choice;
use crate::pages::gate;
use crate::pages::house::House;
use crate::pages::people::entrance::{add_cookie, is_local};
use crate::speech::Speech;
use crate::speech::language::Language;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

fn cookie_name(house: &House) -> &'static str {
    if house.settings.is_https() { "__Host-language" } else { "language" }
}

/// The language of an answer. English, where nothing tells.
#[must_use]
pub fn of(request: &ServiceRequest, house: &House, found: Option<&Found>) -> Language {
    let chosen = found.and_then(|found| found.person.as_ref()).and_then(|person| person.language);
    let kept = || request.cookie(cookie_name(house)).and_then(|cookie| Language::from_word(cookie.value()));
    let asked = || {
        let header = request.headers().get(header::ACCEPT_LANGUAGE)?;
        Language::asked(header.to_str().ok()?)
    };
    chosen.or_else(kept).or_else(asked).unwrap_or(Language::English)
}

/// A link to the same page in another language, called by that language's own name.
#[derive(Debug, Serialize)]
pub struct Link {
    tag: &'static str,
    say: String,
    path: String,
}

/// The links at the foot: for whoever is not signed in, since others choose on the page of their account.
#[must_use]
pub fn links(ask: &Ask) -> Vec<Link> {
    if ask.found.person.is_some() {
        return Vec::new();
    }
    let back = ask.request.uri().path_and_query().map_or("/", |path| path.as_str());
    let link = |language: &Language| Link {
        tag: language.word(),
        say: format!("language-{}", language.word()),
        path: format!("/language/{}?back={}", language.word(), encode(back)),
    };
    Language::ALL.iter().filter(|language| **language != Language::at_hand()).map(link).collect()
}

/// The choices on the page of an account.
#[must_use]
pub fn choices(speech: &Speech) -> Vec<Choice> {
    Choice::of_words::<Language>("language", speech)
}

/// Sets this browser to a language for a year, and goes back. Nothing but the cookie is changed.
pub async fn set(ask: Ask, language: web::Path<String>) -> Reply {
    let language = Language::from_word(&language).ok_or(Trouble::NotFound)?;
    let back = ask.query("back").filter(|back| is_local(back)).unwrap_or_else(|| "/".to_owned());
    let mut response = see_other(back);
    let mut cookie = gate::cookie(&ask.house, cookie_name(&ask.house), language.word().to_owned());
    cookie.set_max_age(Duration::days(365));
    add_cookie(&mut response, cookie)?;
    Ok(response)
}
