//! The doors of the school's terms and classes: listings, settings, projects, and who is in a class.

use actix_web::web;

use super::{Door, get, post};
use crate::pages::entry::{CLASS_SEATS, INSTRUCTOR, ROSTER_SEATS, Who};
use crate::pages::{classes, roster, studio};

pub(super) static DOORS: &[Door] = &[
    get("/school", Who::Keeper, to!(classes::school::overview)),
    get("/school/about", Who::Keeper, to!(classes::about::edit)),
    post("/school/about", Who::Keeper, to!(classes::about::change)),
    get("/school/ids", Who::Keeper, to!(classes::outside::page)),
    post("/school/ids/let-go", Who::Keeper, to!(classes::outside::let_go)),
    get("/school/terms", Who::Keeper, to!(classes::terms::new)),
    post("/school/terms", Who::Keeper, to!(classes::terms::add)),
    get("/school/terms/{term}", Who::Keeper, to!(classes::terms::edit)),
    post("/school/terms/{term}", Who::Keeper, to!(classes::terms::change)),
    get("/school/studios", Who::Keeper, to!(studio::rooms::new)),
    post("/school/studios", Who::Keeper, to!(studio::rooms::add)),
    get("/school/studios/{studio}", Who::Keeper, to!(studio::rooms::edit)),
    post("/school/studios/{studio}", Who::Keeper, to!(studio::rooms::change)),
    get("/school/classes", Who::Keeper, to!(classes::making::new)),
    post("/school/classes", Who::Keeper, to!(classes::making::add)),
    get("/school/classes/{class}", Who::Keeper, to!(classes::making::edit)),
    post("/school/classes/{class}", Who::Keeper, to!(classes::making::change)),
    get("/school/classes/{class}/instructors", Who::Keeper, to!(classes::instructors::new)),
    post("/school/classes/{class}/instructors", Who::Keeper, to!(classes::instructors::add)),
    get("/school/classes/{class}/again", Who::Keeper, to!(classes::starting::begin)),
    post("/school/classes/{class}/again", Who::Keeper, to!(classes::starting::confirm)),
    get("/classes/{class}/projects", Who::InClass(CLASS_SEATS), to!(classes::briefs::list)),
    get("/classes/{class}/projects/{project}", Who::InClass(CLASS_SEATS), to!(classes::briefs::page)),
    get("/classes/{class}/settings", Who::InClass(INSTRUCTOR), to!(classes::settings::overview)),
    get("/classes/{class}/settings/rules", Who::InClass(INSTRUCTOR), to!(classes::settings::rules)),
    post("/classes/{class}/settings/rules", Who::InClass(INSTRUCTOR), to!(classes::settings::set_rules)),
    get("/classes/{class}/settings/again", Who::InClass(INSTRUCTOR), to!(classes::starting::choose)),
    post("/classes/{class}/settings/again", Who::InClass(INSTRUCTOR), to!(classes::starting::fill)),
    get("/classes/{class}/settings/listings", Who::InClass(INSTRUCTOR), to!(classes::listings::new)),
    post("/classes/{class}/settings/listings", Who::InClass(INSTRUCTOR), to!(classes::listings::add)),
    get(
        "/classes/{class}/settings/listings/{listing}",
        Who::InClass(INSTRUCTOR),
        to!(classes::listings::edit),
    ),
    post(
        "/classes/{class}/settings/listings/{listing}",
        Who::InClass(INSTRUCTOR),
        to!(classes::listings::change),
    ),
    post(
        "/classes/{class}/settings/listings/{listing}/remove",
        Who::InClass(INSTRUCTOR),
        to!(classes::listings::remove),
    ),
    get("/classes/{class}/settings/meetings", Who::InClass(INSTRUCTOR), to!(classes::meetings::list)),
    post("/classes/{class}/settings/meetings", Who::InClass(INSTRUCTOR), to!(classes::meetings::add)),
    post(
        "/classes/{class}/settings/meetings/bring-back",
        Who::InClass(INSTRUCTOR),
        to!(classes::meetings::bring_back),
    ),
    post(
        "/classes/{class}/settings/meetings/{meeting}/remove",
        Who::InClass(INSTRUCTOR),
        to!(classes::meetings::remove),
    ),
    get("/classes/{class}/settings/projects", Who::InClass(INSTRUCTOR), to!(classes::projects::new)),
    post("/classes/{class}/settings/projects", Who::InClass(INSTRUCTOR), to!(classes::projects::add)),
    get(
        "/classes/{class}/settings/projects/{project}",
        Who::InClass(INSTRUCTOR),
        to!(classes::projects::edit),
    ),
    post(
        "/classes/{class}/settings/projects/{project}",
        Who::InClass(INSTRUCTOR),
        to!(classes::projects::change),
    ),
    get(
        "/classes/{class}/settings/projects/{project}/due",
        Who::InClass(INSTRUCTOR),
        to!(classes::projects::due),
    ),
    post(
        "/classes/{class}/settings/projects/{project}/due",
        Who::InClass(INSTRUCTOR),
        to!(classes::projects::move_due),
    ),
    get(
        "/classes/{class}/settings/projects/{project}/own-due",
        Who::InClass(INSTRUCTOR),
        to!(classes::dues::list),
    ),
    post(
        "/classes/{class}/settings/projects/{project}/own-due",
        Who::InClass(INSTRUCTOR),
        to!(classes::dues::set),
    ),
    post(
        "/classes/{class}/settings/projects/{project}/own-due/{person}/take-back",
        Who::InClass(INSTRUCTOR),
        to!(classes::dues::take_back),
    ),
    get("/classes/{class}/people", Who::InClass(ROSTER_SEATS), to!(roster::page)),
    post("/classes/{class}/people", Who::InClass(INSTRUCTOR), to!(roster::add)),
    get("/classes/{class}/people/list", Who::InClass(INSTRUCTOR), to!(roster::list::choose)),
    post("/classes/{class}/people/list", Who::InClass(INSTRUCTOR), to!(roster::list::look_over)),
    post("/classes/{class}/people/list/confirm", Who::InClass(INSTRUCTOR), to!(roster::list::confirm)),
    get("/classes/{class}/people/{person}", Who::InClass(ROSTER_SEATS), to!(roster::person::page)),
    get("/classes/{class}/people/{person}/slip", Who::InClass(INSTRUCTOR), to!(roster::person::slip)),
    post("/classes/{class}/people/{person}/invite", Who::InClass(INSTRUCTOR), to!(roster::person::invite)),
    post("/classes/{class}/people/{person}/seat", Who::InClass(INSTRUCTOR), to!(roster::person::seat)),
    post("/classes/{class}/people/{person}/state", Who::InClass(INSTRUCTOR), to!(roster::person::state)),
];
