//! The tablet that stands in a studio: a number, the page at the table of the plate with that number, and its entries. It
//! shows no name, grade or photo, and opens no other page; whoever stands there acts for the plate's owner, and what they
//! tell is marked so.

use std::sync::Arc;

use actix_web::cookie::time::Duration;
use actix_web::web;
use serde::Serialize;
use serde_json::json;

use crate::ids::{PlateId, SessionId};
use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::{Ask, InClass, Membership, Seat, SignedIn};
use crate::pages::forms::Filled;
use crate::pages::gate;
use crate::pages::people::entrance::add_cookie;
use crate::pages::sittings::entry::stored;
use crate::pages::sittings::page::{json as answered, shown, wants_json};
use crate::secrets;
use crate::store::studio::tablets::{self, Meant};
use crate::store::{Scope, Tx};
use crate::trouble::Trouble;

/// Nobody's session.
const NO_SESSION: &str = "00000000-0000-0000-0000-000000000000";
/// A tablet stands longer than a term.
const LASTS: Duration = Duration::days(400);

#[derive(Serialize)]
struct View {
    /// As the tablet keeps it for when the record is out of reach; what it has along, its script finds.
    away: bool,
    number: String,
    /// The number is of no plate here.
    none: bool,
    /// Sent back from a plate with nothing to do at the table.
    idle: bool,
    /// The plates it may mean, where there are several.
    plates: Vec<Choice>,
}

#[derive(Serialize)]
struct Choice {
    path: String,
    class: String,
}

/// A field for the number of a plate; with a number, on to its table.
pub async fn number(ask: Ask) -> Reply {
    let typed = ask.query("number").unwrap_or_default();
    let typed = typed.trim().to_owned();
    let tablet = ask.tablet()?;
    let found = match typed.parse::<i64>() {
        Ok(number) => ask.house.db.read(move |db| tablets::by_number(db, tablet.studio, number)).await?,
        Err(_) => Vec::new(),
    };
    if let [only] = found.as_slice() {
        return Ok(see_other(path(only.plate)));
    }
    let plates: Vec<Choice> = found
        .iter()
        .map(|one| Choice { path: path(one.plate), class: format!("{}, {}", one.class_title, one.term_name) })
        .collect();
    let none = plates.is_empty() && !typed.is_empty();
    let idle = typed.is_empty() && ask.query("idle").is_some();
    let view = View { away: false, none, idle, number: typed, plates };
    ask.show("sittings/tablet", "tablet-title", &view)
}

/// The same page without a word from the record, for the tablet to keep.
pub async fn away(ask: Ask) -> Reply {
    let view = View { away: true, number: String::new(), none: false, idle: false, plates: Vec::new() };
    ask.show("sittings/tablet", "tablet-title", &view)
}

fn path(plate: PlateId) -> String {
    format!("/tablet/plates/{plate}")
}

/// The page at the table of a plate.
pub async fn table(ask: Ask, plate: web::Path<PlateId>) -> Reply {
    let plate = plate.into_inner();
    let stands = standing(&ask, plate).await?;
    let made = shown(&stands, plate).await?.map(|(mut pack, form, offers)| {
        (pack.path, pack.plate_path) = (path(plate), "/tablet".to_owned());
        pack.pictures.clear();
        (pack.may_ask, pack.photo_path, pack.tablet) = (false, None, true);
        (pack, form, offers)
    });
    if wants_json(&ask) {
        return Ok(answered(&json!({ "pack": made.map(|(pack, _, _)| pack) })));
    }
    match made {
        Some(made) => crate::pages::sittings::page::view(&ask, made),
        None => Ok(see_other("/tablet?idle=yes")),
    }
}

/// Stores an entry.
pub async fn keep(ask: Ask, plate: web::Path<PlateId>, filled: Filled) -> Reply {
    let plate = plate.into_inner();
    let stands = standing(&ask, plate).await?;
    stored(&stands, plate, &filled, Some(ask.tablet()?.id)).await
}

/// The time here, and a seal for entries.
pub async fn hello(ask: Ask) -> Reply {
    let seal = ask.house.key.seal(&ask.found.visitor)?;
    Ok(answered(&json!({ "tablet": ask.tablet()?.id, "now": ask.now().millis(), "seal": seal })))
}

/// Whoever stands at the tablet, before a plate of its studio: as its owner would.
async fn standing(ask: &Ask, plate: PlateId) -> Result<InClass, Trouble> {
    let studio = ask.tablet()?.studio;
    let meant = ask.house.db.read(move |db| tablets::meant(db, studio, plate)).await?;
    let broken = |what: &'static str| Trouble::broken("standing at a tablet", what);
    let session: SessionId = NO_SESSION.parse().map_err(|_no_id| broken("nobody's session"))?;
    let zone = meant.zone.parse().map_err(|_error| broken("a term's zone"))?;
    let Meant { owner, volume_unit, class, class_title, class_code, term, term_name, .. } = meant;
    Ok(InClass {
        ask: ask.clone(),
        person: Arc::new(SignedIn {
            id: owner,
            session,
            given_name: String::new(),
            family_name: String::new(),
            keeper: false,
            records: false,
            safety_officer: false,
            volume_unit,
            language: None,
            confirmed_at: crate::clock::Instant::from_millis(0),
        }),
        membership: Arc::new(Membership {
            class,
            seat: Seat::Student,
            class_title,
            class_code,
            term,
            term_name,
            zone,
            studio,
            studio_name: meant.studio_name,
            eyewash: meant.eyewash,
        }),
    })
}

/// The one-time address: a page with a button, so that nothing that only looks at addresses uses it up.
pub async fn opening(ask: Ask, secret: web::Path<String>) -> Reply {
    ask.show("sittings/tablet-open", "tablet-title", &json!({ "secret": secret.into_inner() }))
}

/// Opens it: this device is the tablet from now on.
pub async fn open(ask: Ask, secret: web::Path<String>, _sealed: Filled) -> Reply {
    let (secret, token) = (secret.into_inner(), secrets::token()?);
    let shown = token.clone();
    let act = move |tx: &mut Tx<'_>| tx.open_tablet(&secret, &shown).map(drop);
    ask.house.db.write(Scope::School, None, ask.now(), act).await?;
    let mut response = see_other("/tablet");
    let mut cookie = gate::cookie(&ask.house, gate::tablet_cookie_name(&ask.house), token);
    cookie.set_max_age(LASTS);
    add_cookie(&mut response, cookie)?;
    Ok(response)
}
