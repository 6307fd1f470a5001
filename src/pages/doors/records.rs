//! The doors of the record a department keeps: tables, archives and packages that leave, what was told outside, and how
//! long things are kept.

use actix_web::web;

use super::{Door, get, post};
use crate::pages::entry::{INSTRUCTOR, RECORDS_SEATS, STUDENT, TOLD_SEATS, Who};
use crate::pages::exports;

pub(super) static DOORS: &[Door] = &[
    get("/records", Who::Records, to!(exports::terms::page)),
    get("/records/{term}.zip", Who::Records, to!(exports::terms::send)),
    get("/classes/{class}/records", Who::InClass(RECORDS_SEATS), to!(exports::page)),
    get("/classes/{class}/records/archive.zip", Who::InClass(INSTRUCTOR), to!(exports::archive::send)),
    get("/classes/{class}/records/term.zip", Who::InClass(INSTRUCTOR), to!(exports::archive::send_term)),
    get(
        "/classes/{class}/records/oneroster.zip",
        Who::InClass(INSTRUCTOR),
        to!(exports::archive::send_package),
    ),
    get("/classes/{class}/records/{what}.csv", Who::InClass(RECORDS_SEATS), to!(exports::sending::send)),
    get("/classes/{class}/own-data.zip", Who::InClass(STUDENT), to!(exports::archive::send_own)),
    get("/classes/{class}/disclosures", Who::InClass(TOLD_SEATS), to!(exports::told::page)),
    post("/classes/{class}/disclosures", Who::InClass(RECORDS_SEATS), to!(exports::told::record)),
    get("/school/retention", Who::Keeper, to!(exports::retention::page)),
    post("/school/retention", Who::Keeper, to!(exports::retention::keep)),
    post("/school/retention/holds", Who::Keeper, to!(exports::retention::hold)),
    post("/school/retention/holds/{hold}/lift", Who::Keeper, to!(exports::retention::lift)),
    post("/school/retention/purge", Who::Keeper, to!(exports::retention::purge)),
];
