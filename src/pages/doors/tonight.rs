//! The doors of an evening: asking for somebody of the staff, and the page of whoever runs it.

use actix_web::web;

use super::{Door, get, post};
use crate::pages::entry::{CLASS_SEATS, STAFF_SEATS, STUDENT, Who};
use crate::pages::tonight;

pub(super) static DOORS: &[Door] = &[
    get("/classes/{class}/tonight", Who::InClass(STAFF_SEATS), to!(tonight::page::page)),
    post("/classes/{class}/tonight/order", Who::InClass(STAFF_SEATS), to!(tonight::page::order)),
    get("/classes/{class}/tonight/news", Who::InClass(CLASS_SEATS), to!(tonight::news::news)),
    get("/classes/{class}/askings", Who::InClass(STUDENT), to!(tonight::own::page)),
    post("/classes/{class}/askings", Who::InClass(STUDENT), to!(tonight::askings::ask)),
    post(
        "/classes/{class}/askings/{asking}/take-back",
        Who::InClass(STUDENT),
        to!(tonight::askings::take_back),
    ),
    post("/classes/{class}/askings/{asking}/done", Who::InClass(STAFF_SEATS), to!(tonight::askings::done)),
    post("/classes/{class}/askings/{asking}/undo", Who::InClass(STAFF_SEATS), to!(tonight::askings::undo)),
];
