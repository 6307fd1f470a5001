//! The gate before every door: finds the session, the person and the seat, and compares them with the door's `Who`.
//! This is the one place where it is decided who may do what; handlers only ask for the things of whom they serve.

use std::sync::Arc;

use actix_web::body::BoxBody;
use actix_web::cookie::{Cookie, SameSite};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::Method;
use actix_web::http::header;
use actix_web::middleware::Next;
use actix_web::{Error, HttpMessage, web};

use crate::clock::Instant;
use crate::ids::{ClassId, SessionId};
use crate::pages::answer;
use crate::pages::doors::Door;
use crate::pages::entry::{AtTablet, Found, Membership, Seat, SignedIn, Who};
use crate::pages::house::House;
use crate::pages::people::language;
use crate::secrets;
use crate::store::people::sessions;
use crate::store::studio::tablets;
use crate::trouble::Trouble;

/// The pattern of the door a request came to, for the log.
#[derive(Debug, Clone, Copy)]
pub struct Passed(pub &'static str);

/// Lets a request through a door, or answers why not.
///
/// # Errors
/// Never for reasons of the request; those become pages.
pub async fn pass(
    door: &'static Door,
    request: ServiceRequest,
    next: Next<BoxBody>,
) -> Result<ServiceResponse<BoxBody>, Error> {
    let Some(house) = request.app_data::<web::Data<House>>().cloned() else {
        return Err(Trouble::broken("letting a request in", "no house").into());
    };
    request.extensions_mut().insert(Passed(door.path));
    let mut fresh_visit = None;
    let found = find(door, &house, &request, &mut fresh_visit).await;
    let language = language::of(&request, &house, found.as_ref().ok());
    let verdict = match found {
        Ok(found) => {
            let verdict = judge(door, &request, &house, &found);
            request.extensions_mut().insert(Arc::new(found));
            verdict
        }
        Err(trouble) => Err(trouble),
    };
    let answered = async {
        let response = match verdict {
            Ok(()) => next.call(request).await?,
            Err(trouble) => {
                let (request, _) = request.into_parts();
                let response = actix_web::HttpResponse::from_error(trouble);
                ServiceResponse::new(request, response)
            }
        };
        Ok::<_, Error>(answer::with_page(&house, response).await)
    };
    let mut response = language.throughout(answered).await?;
    if let Some(visit) = fresh_visit {
        let cookie = visit_cookie(&house, visit);
        if let Ok(value) = header::HeaderValue::from_str(&cookie.to_string()) {
            response.headers_mut().append(header::SET_COOKIE, value);
        }
    }
    Ok(response)
}

/// The name of the session cookie: `__Host-` wherever the browser will take it.
#[must_use]
pub fn session_cookie_name(house: &House) -> &'static str {
    if house.settings.is_https() { "__Host-sid" } else { "sid" }
}

/// A cookie of ours with every flag the scheme allows.
#[must_use]
pub fn cookie(house: &House, name: &'static str, value: String) -> Cookie<'static> {
    Cookie::build(name, value)
        .path("/")
        .http_only(true)
        .secure(house.settings.is_https())
        .same_site(SameSite::Lax)
        .finish()
}

fn visit_cookie(house: &House, value: String) -> Cookie<'static> {
    cookie(house, if house.settings.is_https() { "__Host-visit" } else { "visit" }, value)
}

async fn find(
    door: &'static Door,
    house: &web::Data<House>,
    request: &ServiceRequest,
    fresh_visit: &mut Option<String>,
) -> Result<Found, Trouble> {
    let now = house.now();
    let token = request.cookie(session_cookie_name(house)).map(|cookie| cookie.value().to_owned());
    // What is no id is a class that is not there, as an id of none is.
    let named = door.who.seats().and_then(|_seats| request.match_info().get("class"));
    let class: Option<ClassId> = named.and_then(|text| text.parse().ok());
    let mut found =
        Found { person: None, membership: None, tablet: None, visitor: String::new(), now, door: door.path };
    if door.who == Who::Tablet {
        // Who is signed in besides does not count here: what is told is told at the tablet.
        found.tablet = tablet(house, request).await?;
        found.visitor = found.tablet.map(|tablet| tablet.id.to_string()).unwrap_or_default();
        return Ok(found);
    }
    if let Some(token) = token {
        let hash = secrets::sha256_hex(token.as_bytes());
        let entry = house.db.glance(move |db| sessions::entry(db, &hash, now, class)).await?;
        if let Some(mut entry) = entry {
            if now.millis() - entry.seen_at.millis() >= NOTED_MS && !by_itself(door, request) {
                touch(house, entry.session, now);
            }
            found.visitor = entry.session.to_string();
            let place = entry.place.take();
            let place = place.and_then(|place| Some((seat(door, &entry, &place)?, place)));
            found.membership = place.and_then(|(seat, place)| membership(seat, place)).map(Arc::new);
            found.person = Some(Arc::new(signed_in(entry)));
            return Ok(found);
        }
    }
    let visit = if house.settings.is_https() { "__Host-visit" } else { "visit" };
    found.visitor = match request.cookie(visit) {
        Some(cookie) if cookie.value().len() <= 64 => cookie.value().to_owned(),
        _ => {
            let token = secrets::token()?;
            *fresh_visit = Some(token.clone());
            token
        }
    };
    Ok(found)
}

/// The name of the cookie a studio's tablet shows.
#[must_use]
pub fn tablet_cookie_name(house: &House) -> &'static str {
    if house.settings.is_https() { "__Host-tablet" } else { "tablet" }
}

async fn tablet(house: &web::Data<House>, request: &ServiceRequest) -> Result<Option<AtTablet>, Trouble> {
    let Some(cookie) = request.cookie(tablet_cookie_name(house)) else { return Ok(None) };
    let token = cookie.value().to_owned();
    let found = house.db.read(move |db| tablets::shown(db, &token)).await?;
    Ok(found.map(|(id, studio)| AtTablet { id, studio }))
}

/// Whether the page asks by itself, with nobody at hand: that keeps no session alive.
fn by_itself(door: &Door, request: &ServiceRequest) -> bool {
    door.path.ends_with("/tonight/news") || request.headers().contains_key("tympan-by-itself")
}

/// How often it is noted that a session was seen, at most.
const NOTED_MS: i64 = 5 * 60_000;

/// Notes that a session was seen, after the answer and without waiting.
fn touch(house: &web::Data<House>, session: SessionId, now: Instant) {
    let db = house.db.clone();
    actix_web::rt::spawn(async move {
        if let Err(trouble) = db.note(move |db| sessions::seen(db, session, now)).await {
            tracing::warn!(%trouble, "noting when a session was seen");
        }
    });
}

fn signed_in(entry: sessions::Entry) -> SignedIn {
    SignedIn {
        id: entry.person,
        session: entry.session,
        given_name: entry.given_name,
        family_name: entry.family_name,
        keeper: entry.keeper,
        records: entry.records,
        safety_officer: entry.safety_officer,
        volume_unit: entry.volume_unit,
        language: entry.language,
        confirmed_at: entry.confirmed_at,
    }
}

/// The seat a person takes at this door: the first of the door's seats they hold, else any they hold.
fn seat(door: &Door, entry: &sessions::Entry, place: &sessions::Place) -> Option<Seat> {
    let role = place.role.map(|role| match role.0 {
        sessions::Role::Student => Seat::Student,
        sessions::Role::Assistant => Seat::Assistant,
        sessions::Role::Instructor => Seat::Instructor,
    });
    let was_student = matches!(door.who, Who::OwnPlate(_)) && place.was_student;
    let held = [
        role,
        was_student.then_some(Seat::Student),
        entry.safety_officer.then_some(Seat::SafetyOfficer),
        entry.records.then_some(Seat::Records),
    ];
    let mut held = held.into_iter().flatten();
    let wanted = door.who.seats().unwrap_or_default();
    held.clone().find(|seat| wanted.contains(seat)).or_else(|| held.next())
}

fn membership(seat: Seat, place: sessions::Place) -> Option<Membership> {
    Some(Membership {
        class: place.class,
        seat,
        class_title: place.class_title,
        class_code: place.class_code,
        term: place.term,
        term_name: place.term_name,
        zone: place.zone.parse().ok()?,
        studio: place.studio,
        studio_name: place.studio_name,
        eyewash: place.eyewash,
    })
}

fn judge(door: &Door, request: &ServiceRequest, house: &House, found: &Found) -> Result<(), Trouble> {
    if door.method != Method::GET && !door.unsealed && !comes_from_here(request, house) {
        return Err(Trouble::Unsealed);
    }
    match (door.who, &found.person) {
        (Who::Anyone, _) => Ok(()),
        (Who::Tablet, _) => found.tablet.map(drop).ok_or(Trouble::NotFound),
        (_, None) => Err(Trouble::SignInFirst),
        (Who::SignedIn, Some(_)) => Ok(()),
        (Who::Keeper, Some(person)) if person.keeper => Ok(()),
        // A keeper's pages are no secret, but they are not for others.
        (Who::Keeper, Some(_)) => Err(Trouble::NotYours),
        (Who::Records, Some(person)) if person.records => Ok(()),
        (Who::Records, Some(_)) => Err(Trouble::NotYours),
        (Who::InClass(seats) | Who::OwnPlate(seats), Some(_)) => match &found.membership {
            None => Err(Trouble::NotFound),
            Some(membership) if seats.contains(&membership.seat) => Ok(()),
            Some(_) => Err(Trouble::NotYours),
        },
    }
}

/// First layer against forged requests: the browser's own word, else the origin. The seal is the second layer.
fn comes_from_here(request: &ServiceRequest, house: &House) -> bool {
    let text = |name: &str| request.headers().get(name).and_then(|value| value.to_str().ok());
    match text("sec-fetch-site") {
        Some("same-origin" | "none") => true,
        Some(_) => false,
        None => match text("origin") {
            Some(origin) => origin == house.settings.public_url,
            None => true,
        },
    }
}
