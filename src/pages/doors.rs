//! The one table of routes: method, path, who may pass, and the handler. A test tries every door as nobody, as each
//! wrong seat and on another person's things, and fails on a route that is not listed here.

use actix_web::http::Method;
use actix_web::{Route, web};

use crate::pages::entry::{
    ALL_SEATS, CLASS_SEATS, DOING_SEATS, INSTRUCTOR, READING_SEATS, ROOM_SEATS, STAFF_SEATS, STUDENT,
    STUDIO_SEATS, Who,
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

mod classes;
mod grades;
mod records;
mod sittings;
mod tonight;

use crate::pages::{
    assets, etches, health, letters, mixing, overview, people, plans, plates, procedures, proofs, safety,
    studio,
};

/// Every door of the house.
pub fn doors() -> impl Iterator<Item = &'static Door> {
    DOORS
        .iter()
        .chain(classes::DOORS)
        .chain(grades::DOORS)
        .chain(records::DOORS)
        .chain(sittings::DOORS)
        .chain(tonight::DOORS)
}

/// The doors subject by subject; those of classes, grades, records, the table and an evening stand in files of their own.
static DOORS: &[Door] = &[
    // ---- health and assets ----
    get("/healthz", Who::Anyone, to!(health::alive)),
    get("/readyz", Who::Anyone, to!(health::ready)),
    get("/assets/{name}", Who::Anyone, to!(assets::asset)),
    get("/help", Who::Anyone, to!(crate::pages::help::page)),
    get("/language/{language}", Who::Anyone, to!(people::language::set)),
    // ---- people: accounts, sign-in ----
    get("/", Who::SignedIn, to!(people::hall::page)),
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
    post("/account/calendar", Who::SignedIn, to!(plans::feed::make)),
    post("/account/calendar/withdraw", Who::SignedIn, to!(plans::feed::withdraw)),
    get("/account/email", Who::SignedIn, to!(people::naming::email_form)),
    post("/account/email", Who::SignedIn, to!(people::naming::change_email)),
    get("/account/confirm", Who::SignedIn, to!(people::account::confirm_form)),
    post("/account/confirm", Who::SignedIn, to!(people::account::confirm)),
    get("/school/people", Who::Keeper, to!(people::account::people)),
    post("/school/people", Who::Keeper, to!(people::account::add)),
    post("/school/people/{person}", Who::Keeper, to!(people::account::act)),
    get("/school/people/{person}/name", Who::Keeper, to!(people::naming::name_form)),
    post("/school/people/{person}/name", Who::Keeper, to!(people::naming::change_name)),
    get("/school/people/{person}/slip", Who::Keeper, to!(people::account::slip)),
    // ---- studio: hours, stations, containers ----
    post(
        "/classes/{class}/studio/bring-back",
        Who::InClass(STAFF_SEATS),
        to!(studio::bring_back::bring_back),
    ),
    get("/classes/{class}/studio", Who::InClass(STUDIO_SEATS), to!(crate::pages::classes::studio::show)),
    get("/classes/{class}/studio/room", Who::InClass(STAFF_SEATS), to!(studio::rooms::edit_in_class)),
    post("/classes/{class}/studio/room", Who::InClass(STAFF_SEATS), to!(studio::rooms::change_in_class)),
    get("/classes/{class}/studio/hours", Who::InClass(STAFF_SEATS), to!(studio::hours::list)),
    post("/classes/{class}/studio/openings", Who::InClass(STAFF_SEATS), to!(studio::hours::add_opening)),
    post(
        "/classes/{class}/studio/openings/{opening}/remove",
        Who::InClass(STAFF_SEATS),
        to!(studio::hours::remove_opening),
    ),
    post("/classes/{class}/studio/closures", Who::InClass(STAFF_SEATS), to!(studio::hours::add_closure)),
    post(
        "/classes/{class}/studio/closures/{closure}/remove",
        Who::InClass(STAFF_SEATS),
        to!(studio::hours::remove_closure),
    ),
    post("/classes/{class}/studio/extra-openings", Who::InClass(STAFF_SEATS), to!(studio::hours::add_extra)),
    post(
        "/classes/{class}/studio/extra-openings/{extra}/remove",
        Who::InClass(STAFF_SEATS),
        to!(studio::hours::remove_extra),
    ),
    get("/classes/{class}/studio/stations", Who::InClass(STAFF_SEATS), to!(studio::stations::new)),
    post("/classes/{class}/studio/stations", Who::InClass(STAFF_SEATS), to!(studio::stations::add)),
    get("/classes/{class}/studio/stations/{station}", Who::InClass(STAFF_SEATS), to!(studio::stations::edit)),
    post(
        "/classes/{class}/studio/stations/{station}",
        Who::InClass(STAFF_SEATS),
        to!(studio::stations::change),
    ),
    post(
        "/classes/{class}/studio/stations/{station}/remove",
        Who::InClass(STAFF_SEATS),
        to!(studio::stations::remove),
    ),
    get("/classes/{class}/studio/downs", Who::InClass(STAFF_SEATS), to!(studio::downs::list)),
    post("/classes/{class}/studio/downs", Who::InClass(STAFF_SEATS), to!(studio::downs::add)),
    post("/classes/{class}/studio/downs/{down}/end", Who::InClass(STAFF_SEATS), to!(studio::downs::end)),
    get("/classes/{class}/containers", Who::InClass(STUDIO_SEATS), to!(studio::containers::shelf)),
    get("/classes/{class}/containers/new", Who::InClass(STAFF_SEATS), to!(studio::containers::new)),
    post("/classes/{class}/containers/new", Who::InClass(STAFF_SEATS), to!(studio::containers::add)),
    get("/classes/{class}/containers/{container}", Who::InClass(STAFF_SEATS), to!(studio::containers::edit)),
    post(
        "/classes/{class}/containers/{container}",
        Who::InClass(STAFF_SEATS),
        to!(studio::containers::change),
    ),
    post(
        "/classes/{class}/containers/{container}/finished",
        Who::InClass(STAFF_SEATS),
        to!(studio::containers::finish),
    ),
    // ---- safety: topics and sign-offs ----
    get("/classes/{class}/sign-offs", Who::InClass(ALL_SEATS), to!(safety::page)),
    post("/classes/{class}/sign-offs", Who::InClass(STAFF_SEATS), to!(safety::sheet::send)),
    get("/classes/{class}/sign-offs/cleared", Who::InClass(READING_SEATS), to!(safety::cleared::show)),
    get("/classes/{class}/sign-offs/cleared/room", Who::InClass(ROOM_SEATS), to!(safety::cleared::room)),
    get(
        "/classes/{class}/people/{person}/training",
        Who::InClass(READING_SEATS),
        to!(safety::record::of_person),
    ),
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
    get("/classes/{class}/topics/new", Who::InClass(INSTRUCTOR), to!(safety::topics::add_form)),
    post("/classes/{class}/topics/new", Who::InClass(INSTRUCTOR), to!(safety::topics::add)),
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
    post("/classes/{class}/plates/{plate}/start", Who::InClass(DOING_SEATS), to!(plates::start::start)),
    post("/classes/{class}/plates/{plate}/end", Who::InClass(DOING_SEATS), to!(plates::acts::end)),
    post(
        "/classes/{class}/plates/{plate}/take-back",
        Who::InClass(DOING_SEATS),
        to!(plates::acts::take_back),
    ),
    post("/classes/{class}/plates/{plate}/tell", Who::InClass(DOING_SEATS), to!(plates::acts::tell)),
    post("/classes/{class}/plates/{plate}/put-down", Who::InClass(DOING_SEATS), to!(plates::acts::put_down)),
    post("/classes/{class}/plates/{plate}/settle", Who::InClass(INSTRUCTOR), to!(plates::acts::settle)),
    post("/classes/{class}/plates/{plate}/allow", Who::InClass(INSTRUCTOR), to!(plates::acts::allow)),
    get(
        "/classes/{class}/plates/{plate}/procedure",
        Who::InClass(CLASS_SEATS),
        to!(procedures::reading::of_plate),
    ),
    get("/classes/{class}/procedures/{procedure}", Who::InClass(CLASS_SEATS), to!(procedures::reading::show)),
    get(
        "/classes/{class}/procedures/{procedure}/file",
        Who::InClass(INSTRUCTOR),
        to!(procedures::reading::file),
    ),
    get(
        "/classes/{class}/procedures/{procedure}/pictures/{picture}/{size}",
        Who::InClass(CLASS_SEATS),
        to!(procedures::pictures::show),
    ),
    get("/classes/{class}/settings/procedures", Who::InClass(INSTRUCTOR), to!(procedures::list::show)),
    get("/classes/{class}/settings/procedures/new", Who::InClass(INSTRUCTOR), to!(procedures::list::new)),
    post("/classes/{class}/settings/procedures/new", Who::InClass(INSTRUCTOR), to!(procedures::list::add)),
    post(
        "/classes/{class}/settings/procedures/brought",
        Who::InClass(INSTRUCTOR),
        to!(procedures::list::bring),
    ),
    get(
        "/classes/{class}/settings/procedures/{procedure}",
        Who::InClass(INSTRUCTOR),
        to!(procedures::writing::show),
    ),
    post(
        "/classes/{class}/settings/procedures/{procedure}",
        Who::InClass(INSTRUCTOR),
        to!(procedures::writing::change_head),
    ),
    post(
        "/classes/{class}/settings/procedures/{procedure}/steps",
        Who::InClass(INSTRUCTOR),
        to!(procedures::writing::add),
    ),
    post(
        "/classes/{class}/settings/procedures/{procedure}/order",
        Who::InClass(INSTRUCTOR),
        to!(procedures::writing::order),
    ),
    post(
        "/classes/{class}/settings/procedures/{procedure}/keep",
        Who::InClass(INSTRUCTOR),
        to!(procedures::writing::keep),
    ),
    get(
        "/classes/{class}/settings/procedures/{procedure}/discard",
        Who::InClass(INSTRUCTOR),
        to!(procedures::writing::discarding),
    ),
    post(
        "/classes/{class}/settings/procedures/{procedure}/take-back",
        Who::InClass(INSTRUCTOR),
        to!(procedures::writing::take_back),
    ),
    post(
        "/classes/{class}/settings/procedures/{procedure}/discard",
        Who::InClass(INSTRUCTOR),
        to!(procedures::writing::discard),
    ),
    get(
        "/classes/{class}/settings/procedures/{procedure}/steps/{step}",
        Who::InClass(INSTRUCTOR),
        to!(procedures::step::edit),
    ),
    post(
        "/classes/{class}/settings/procedures/{procedure}/steps/{step}",
        Who::InClass(INSTRUCTOR),
        to!(procedures::step::change),
    ),
    post(
        "/classes/{class}/settings/procedures/{procedure}/steps/{step}/pictures",
        Who::InClass(INSTRUCTOR),
        to!(procedures::pictures::add),
    ),
    post(
        "/classes/{class}/settings/procedures/{procedure}/steps/{step}/pictures/{picture}/remove",
        Who::InClass(INSTRUCTOR),
        to!(procedures::pictures::remove),
    ),
    // ---- overview: today, the class, plates, finding ----
    get("/classes/{class}", Who::InClass(CLASS_SEATS), to!(overview::today::page)),
    get("/classes/{class}/all", Who::InClass(STAFF_SEATS), to!(overview::class::page)),
    get("/classes/{class}/search", Who::InClass(ALL_SEATS), to!(overview::search::page)),
    get("/classes/{class}/plates", Who::InClass(CLASS_SEATS), to!(overview::plates::page)),
    get("/classes/{class}/plates/{plate}", Who::InClass(CLASS_SEATS), to!(overview::plate::page)),
    // ---- plans: of a plate, of the class ----
    get("/classes/{class}/plates/{plate}/plan", Who::InClass(CLASS_SEATS), to!(plans::plate::page)),
    get("/calendar/{secret}", Who::Anyone, to!(plans::feed::feed)),
    get("/classes/{class}/plan", Who::InClass(STAFF_SEATS), to!(plans::class::page)),
    // ---- etches: logs ----
    get("/classes/{class}/etches", Who::InClass(CLASS_SEATS), to!(etches::class::page)),
    get("/classes/{class}/plates/{plate}/etches/new", Who::InClass(DOING_SEATS), to!(etches::record::new)),
    post(
        "/classes/{class}/plates/{plate}/etches/new",
        Who::InClass(DOING_SEATS),
        to!(etches::record::record),
    ),
    get("/classes/{class}/plates/{plate}/etches/{etch}", Who::InClass(CLASS_SEATS), to!(etches::log::show)),
    get(
        "/classes/{class}/plates/{plate}/etches/{etch}/amend",
        Who::InClass(DOING_SEATS),
        to!(etches::amend::edit),
    ),
    post(
        "/classes/{class}/plates/{plate}/etches/{etch}/amend",
        Who::InClass(DOING_SEATS),
        to!(etches::amend::amend),
    ),
    post(
        "/classes/{class}/plates/{plate}/etches/{etch}/came-up",
        Who::InClass(DOING_SEATS),
        to!(etches::log::came_up),
    ),
    // ---- mixing: etches, droppers, data sheets, labels ----
    get("/classes/{class}/mix", Who::InClass(CLASS_SEATS), to!(mixing::mix::page)),
    get("/classes/{class}/mix/dilute", Who::InClass(CLASS_SEATS), to!(mixing::dilute::page)),
    get("/classes/{class}/mix/tonight", Who::InClass(STAFF_SEATS), to!(mixing::tonight::page)),
    get("/classes/{class}/mix/label", Who::InClass(CLASS_SEATS), to!(mixing::label::of_a_mix)),
    get("/classes/{class}/labels.css", Who::InClass(CLASS_SEATS), to!(mixing::label_sheet::style)),
    get(
        "/classes/{class}/containers/{container}/label",
        Who::InClass(STAFF_SEATS),
        to!(mixing::label::bottle),
    ),
    get("/classes/{class}/settings/etch-table", Who::InClass(INSTRUCTOR), to!(mixing::table::page)),
    post("/classes/{class}/settings/etch-table", Who::InClass(INSTRUCTOR), to!(mixing::table::keep)),
    get(
        "/classes/{class}/containers/{container}/dropper",
        Who::InClass(STAFF_SEATS),
        to!(mixing::dropper::page),
    ),
    post(
        "/classes/{class}/containers/{container}/dropper",
        Who::InClass(STAFF_SEATS),
        to!(mixing::dropper::weigh),
    ),
    get(
        "/classes/{class}/containers/{container}/sheet",
        Who::InClass(STUDIO_SEATS),
        to!(mixing::sheet::page),
    ),
    post(
        "/classes/{class}/containers/{container}/sheet",
        Who::InClass(STAFF_SEATS),
        to!(mixing::sheet::keep),
    ),
    post(
        "/classes/{class}/containers/{container}/sheet/use",
        Who::InClass(STAFF_SEATS),
        to!(mixing::sheet::adopt),
    ),
    get(
        "/classes/{class}/containers/{container}/sheet/file",
        Who::InClass(STUDIO_SEATS),
        to!(mixing::sheet::file),
    ),
    // ---- proofs: photos and comments ----
    get("/classes/{class}/plates/{plate}/proofs", Who::InClass(CLASS_SEATS), to!(proofs::list::show)),
    get("/classes/{class}/plates/{plate}/proofs/new", Who::InClass(DOING_SEATS), to!(proofs::adding::form)),
    post("/classes/{class}/plates/{plate}/proofs/new", Who::InClass(DOING_SEATS), to!(proofs::adding::add)),
    get(
        "/classes/{class}/plates/{plate}/proofs/compare",
        Who::InClass(CLASS_SEATS),
        to!(proofs::compare::show),
    ),
    get("/classes/{class}/photos/{photo}/{size}", Who::InClass(CLASS_SEATS), to!(proofs::photo::show)),
    post("/classes/{class}/plates/{plate}/comments", Who::InClass(CLASS_SEATS), to!(proofs::comments::add)),
    post(
        "/classes/{class}/comments/{comment}/remove",
        Who::InClass(CLASS_SEATS),
        to!(proofs::comments::remove),
    ),
    post("/classes/{class}/proofs/{proof}/remove", Who::InClass(DOING_SEATS), to!(proofs::list::remove)),
    // ---- letters ----
    get("/classes/{class}/letters", Who::InClass(INSTRUCTOR), to!(letters::list::of_class)),
    post(
        "/classes/{class}/letters/{letter}/again",
        Who::InClass(INSTRUCTOR),
        to!(letters::list::again_in_class),
    ),
    post(
        "/classes/{class}/letters/addresses/{person}",
        Who::InClass(INSTRUCTOR),
        to!(letters::list::wake_in_class),
    ),
    post("/school/letters/addresses/{person}", Who::Keeper, to!(letters::list::wake_in_school)),
    get("/school/letters", Who::Keeper, to!(letters::list::of_school)),
    post("/school/letters/{letter}/again", Who::Keeper, to!(letters::list::again_in_school)),
    get("/letters/stop/{secret}", Who::Anyone, to!(letters::stop::form)),
    unsealed_post("/letters/stop/{secret}", Who::Anyone, to!(letters::stop::stop)),
];
