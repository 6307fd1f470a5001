//! Stopping a kind of letter from the letter itself (RFC 8058): the address in it shows a page that asks, and a POST to the
//! same address stops the kind: without cookie, sign-in or redirect, because a mail program sends it. It can do nothing
//! but that, so it takes no form seal.

use actix_web::http::StatusCode;
use actix_web::web;
use serde_json::json;

use crate::ids::PersonId;
use crate::pages::answer::Reply;
use crate::pages::entry::Ask;
use crate::post::unsubscribing;
use crate::store::Scope;
use crate::store::letters::Kind;
use crate::store::people::persons;
use crate::trouble::Trouble;

/// The page that asks. It changes nothing: mail filters open every address they see.
pub async fn form(ask: Ask, secret: web::Path<String>) -> Reply {
    let (person, kind) = meant(&ask, &secret)?;
    let found = ask
        .house
        .db
        .read(move |db| persons::persons(db, Some(person))?.pop().ok_or(Trouble::NotFound))
        .await?;
    let view = json!({
        "stopped": false,
        "name": format!("{} {}", found.given_name, found.family_name),
        "kind": kind,
        "path": format!("/letters/stop/{secret}"),
    });
    ask.show("outbox/stop", "letters-stop", &view)
}

/// Stops letters of the kind. Doing it twice changes nothing more.
pub async fn stop(ask: Ask, secret: web::Path<String>) -> Reply {
    let (person, kind) = meant(&ask, &secret)?;
    ask.house
        .db
        .write(Scope::School, Some(person), ask.now(), move |tx| tx.stop_letter(person, kind))
        .await?;
    let view = json!({ "stopped": true, "name": "", "kind": kind, "path": "" });
    ask.page(StatusCode::OK, "outbox/stop", "letters-stopped", &view)
}

fn meant(ask: &Ask, secret: &str) -> Result<(PersonId, Kind), Trouble> {
    unsubscribing::meant(&ask.house.key, secret).ok_or(Trouble::NotFound)
}
