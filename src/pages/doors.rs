//! The one table of routes: method, path, who may pass, and the handler. A test tries every door as nobody, as each
//! wrong seat and on another person's things, and fails on a route that is not listed here.

use actix_web::http::Method;
use actix_web::{Route, web};

use crate::pages::entry::{
    ALL_SEATS, CLASS_SEATS, DOING_SEATS, INSTRUCTOR, READING_SEATS, STAFF_SEATS, STUDENT, Who,
};

/// One route.
#[derive(Debug)]
pub struct Door {
    pub method: Method,
    pub path: &'static str,
    pub who: Who,
    /// True for the few POST doors that take no form seal, such as one-click unsubscription.
    pub unsealed: bool,
    pub to: fn() -> Route,
}

/// A door that shows.
const fn get(path: &'static str, who: Who, to: fn() -> Route) -> Door {
    Door { method: Method::GET, path, who, unsealed: false, to }
}

/// A door that acts.
const fn post(path: &'static str, who: Who, to: fn() -> Route) -> Door {
    Door { method: Method::POST, path, who, unsealed: false, to }
}

/// A door that acts for somebody who cannot have a form of ours: a mail program.
const fn unsealed_post(path: &'static str, who: Who, to: fn() -> Route) -> Door {
    Door { method: Method::POST, path, who, unsealed: true, to }
}

/// Writes `|| web::get().to(handler)` shorter; the method is the door's.
macro_rules! to {
    ($($handler:tt)+) => { || web::route().to($($handler)+) };
}

use crate::pages::{health, letters, overview, people, plates, safety};

/// Every door of the house, subject by subject.
pub static DOORS: &[Door] = &[
    // ---- health and assets ----
    get("/healthz", Who::Anyone, to!(health::alive)),
    get("/readyz", Who::Anyone, to!(health::ready)),
    get("/assets/{name}", Who::Anyone, to!(health::asset)),
    // ---- people: accounts, sign-in ----
    get("/", Who::SignedIn, to!(people::entrance::hall)),
    get("/sign-in", Who::Anyone, to!(people::entrance::sign_in_form)),
    post("/sign-in", Who::Anyone, to!(people::entrance::sign_in)),
    post("/sign-out", Who::SignedIn, to!(people::entrance::sign_out)),
    get("/links/{secret}", Who::Anyone, to!(people::links::follow)),
    get("/new-password", Who::Anyone, to!(people::links::new_password_form)),
    post("/new-password", Who::Anyone, to!(people::links::new_password)),
    get("/set-up", Who::Anyone, to!(people::links::set_up_form)),
    post("/set-up", Who::Anyone, to!(people::links::set_up)),
    get("/forgotten", Who::Anyone, to!(people::account::forgotten_form)),
    post("/forgotten", Who::Anyone, to!(people::account::forgotten)),
    get("/account", Who::SignedIn, to!(people::account::account)),
    post("/account/password", Who::SignedIn, to!(people::account::change_password)),
    post("/account/preferences", Who::SignedIn, to!(people::account::preferences)),
    post("/account/sessions/{session}/end", Who::SignedIn, to!(people::account::end_session)),
    get("/account/confirm", Who::SignedIn, to!(people::account::confirm_form)),
    post("/account/confirm", Who::SignedIn, to!(people::account::confirm)),
    get("/school/people", Who::Keeper, to!(people::account::people)),
    post("/school/people", Who::Keeper, to!(people::account::add)),
    post("/school/people/{person}", Who::Keeper, to!(people::account::act)),
    get("/school/people/{person}/slip", Who::Keeper, to!(people::account::slip)),
    // ---- classes: terms, listings, projects, roster ----
    // ---- studio: hours, stations, containers ----
    // ---- safety: topics and sign-offs ----
    get("/classes/{class}/sign-offs", Who::InClass(ALL_SEATS), to!(safety::page)),
    post("/classes/{class}/sign-offs", Who::InClass(STAFF_SEATS), to!(safety::sheet::send)),
    get("/classes/{class}/sign-offs/record", Who::InClass(READING_SEATS), to!(safety::record::show)),
    post(
        "/classes/{class}/sign-offs/{sign_off}/acknowledge",
        Who::InClass(STUDENT),
        to!(safety::acknowledge),
    ),
    post(
        "/classes/{class}/sign-offs/{sign_off}/take-back",
        Who::InClass(STAFF_SEATS),
        to!(safety::take_back),
    ),
    post("/classes/{class}/sign-offs/{sign_off}/withdraw", Who::InClass(INSTRUCTOR), to!(safety::withdraw)),
    get("/classes/{class}/topics", Who::InClass(INSTRUCTOR), to!(safety::topics::page)),
    post("/classes/{class}/topics", Who::InClass(INSTRUCTOR), to!(safety::topics::keep)),
    get("/classes/{class}/topics/{topic}", Who::InClass(INSTRUCTOR), to!(safety::topics::edit_form)),
    post("/classes/{class}/topics/{topic}", Who::InClass(INSTRUCTOR), to!(safety::topics::edit)),
    // ---- plates: prints, plates, procedures ----
    get("/classes/{class}/prints/new", Who::InClass(STUDENT), to!(plates::begin::print_form)),
    post("/classes/{class}/prints/new", Who::InClass(STUDENT), to!(plates::begin::begin_print)),
    get("/classes/{class}/prints/{print}/plates/new", Who::InClass(STUDENT), to!(plates::begin::plate_form)),
    post(
        "/classes/{class}/prints/{print}/plates/new",
        Who::InClass(STUDENT),
        to!(plates::begin::begin_plate),
    ),
    post("/classes/{class}/prints/{print}/hand-in", Who::InClass(STUDENT), to!(plates::begin::hand_in)),
    post("/classes/{class}/plates/{plate}/start", Who::InClass(DOING_SEATS), to!(plates::acts::start)),
    post("/classes/{class}/plates/{plate}/end", Who::InClass(DOING_SEATS), to!(plates::acts::end)),
    post("/classes/{class}/plates/{plate}/tell", Who::InClass(DOING_SEATS), to!(plates::acts::tell)),
    post("/classes/{class}/plates/{plate}/put-down", Who::InClass(DOING_SEATS), to!(plates::acts::put_down)),
    post("/classes/{class}/plates/{plate}/settle", Who::InClass(INSTRUCTOR), to!(plates::acts::settle)),
    post("/classes/{class}/plates/{plate}/allow", Who::InClass(INSTRUCTOR), to!(plates::acts::allow)),
    // ---- overview: today, the class, plates ----
    get("/classes/{class}", Who::InClass(CLASS_SEATS), to!(overview::today::page)),
    get("/classes/{class}/all", Who::InClass(STAFF_SEATS), to!(overview::class::page)),
    get("/classes/{class}/plates", Who::InClass(CLASS_SEATS), to!(overview::plates::page)),
    get("/classes/{class}/plates/{plate}", Who::InClass(CLASS_SEATS), to!(overview::plate::page)),
    // ---- etches: logs ----
    // ---- proofs: photos and comments ----
    // ---- grades ----
    // ---- exports and records ----
    // ---- letters ----
    get("/classes/{class}/letters", Who::InClass(INSTRUCTOR), to!(letters::list::of_class)),
    post(
        "/classes/{class}/letters/{letter}/again",
        Who::InClass(INSTRUCTOR),
        to!(letters::list::again_in_class),
    ),
    get("/school/letters", Who::Keeper, to!(letters::list::of_school)),
    post("/school/letters/{letter}/again", Who::Keeper, to!(letters::list::again_in_school)),
    get("/letters/stop/{secret}", Who::Anyone, to!(letters::stop::form)),
    unsealed_post("/letters/stop/{secret}", Who::Anyone, to!(letters::stop::stop)),
];
