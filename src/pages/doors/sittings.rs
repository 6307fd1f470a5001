//! The doors of the table: its pages, what a phone takes along and sends back, and the page for a splash.

use actix_web::web;

use super::{Door, get, post};
use crate::pages::entry::{DOING_SEATS, STUDIO_SEATS, Who};
use crate::pages::sittings;

pub(super) static DOORS: &[Door] = &[
    get("/at-the-table", Who::Anyone, to!(sittings::page::shell)),
    get("/splash", Who::Anyone, to!(sittings::splash::shell)),
    get("/service-worker.js", Who::Anyone, to!(sittings::worker::script)),
    get("/table/hello", Who::Anyone, to!(sittings::page::hello)),
    get("/classes/{class}/splash", Who::InClass(STUDIO_SEATS), to!(sittings::splash::page)),
    get("/classes/{class}/table/packs", Who::InClass(DOING_SEATS), to!(sittings::page::packs)),
    get("/classes/{class}/plates/{plate}/table", Who::InClass(DOING_SEATS), to!(sittings::page::page)),
    post("/classes/{class}/plates/{plate}/table", Who::InClass(DOING_SEATS), to!(sittings::entry::keep)),
];
