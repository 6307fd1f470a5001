//! The doors of the table: its pages, what a phone takes along and sends back, and the page for a splash.

use actix_web::web;

use super::{Door, get, post};
use crate::pages::entry::{DOING_SEATS, STAFF_SEATS, STUDIO_SEATS, Who};
use crate::pages::{sittings, studio};

pub(super) static DOORS: &[Door] = &[
    get("/at-the-table", Who::Anyone, to!(sittings::page::shell)),
    get("/splash", Who::Anyone, to!(sittings::splash::shell)),
    get("/tablet/away", Who::Anyone, to!(sittings::tablet::away)),
    get("/service-worker.js", Who::Anyone, to!(sittings::worker::script)),
    get("/table/hello", Who::Anyone, to!(sittings::page::hello)),
    get("/tablet/open/{secret}", Who::Anyone, to!(sittings::tablet::opening)),
    post("/tablet/open/{secret}", Who::Anyone, to!(sittings::tablet::open)),
    get("/tablet", Who::Tablet, to!(sittings::tablet::number)),
    get("/tablet/hello", Who::Tablet, to!(sittings::tablet::hello)),
    get("/tablet/plates/{plate}", Who::Tablet, to!(sittings::tablet::table)),
    post("/tablet/plates/{plate}", Who::Tablet, to!(sittings::tablet::keep)),
    get("/classes/{class}/studio/tablets", Who::InClass(STAFF_SEATS), to!(studio::tablets::list)),
    post("/classes/{class}/studio/tablets", Who::InClass(STAFF_SEATS), to!(studio::tablets::add)),
    post(
        "/classes/{class}/studio/tablets/{tablet}/withdraw",
        Who::InClass(STAFF_SEATS),
        to!(studio::tablets::withdraw),
    ),
    get("/classes/{class}/splash", Who::InClass(STUDIO_SEATS), to!(sittings::splash::page)),
    get("/classes/{class}/table/packs", Who::InClass(STUDIO_SEATS), to!(sittings::page::packs)),
    get("/classes/{class}/plates/{plate}/table", Who::InClass(DOING_SEATS), to!(sittings::page::page)),
    get("/classes/{class}/plates/{plate}/card", Who::InClass(DOING_SEATS), to!(sittings::card::page)),
    post("/classes/{class}/plates/{plate}/table", Who::OwnPlate(DOING_SEATS), to!(sittings::entry::keep)),
];
