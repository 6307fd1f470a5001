//! The doors of grades and of what they follow from.

use actix_web::web;

use super::{Door, get, post};
use crate::pages::entry::{GRADE_SEATS, INSTRUCTOR, RECORDS_SEATS, Who};
use crate::pages::grades;

pub(super) static DOORS: &[Door] = &[
    get("/classes/{class}/grades", Who::InClass(GRADE_SEATS), to!(grades::page)),
    get("/classes/{class}/grades/rules", Who::InClass(INSTRUCTOR), to!(grades::rules::page)),
    post("/classes/{class}/grades/rules", Who::InClass(INSTRUCTOR), to!(grades::rules::keep_rules)),
    post("/classes/{class}/grades/categories", Who::InClass(INSTRUCTOR), to!(grades::rules::keep_categories)),
    get("/classes/{class}/grades/people/{person}", Who::InClass(INSTRUCTOR), to!(grades::own::of_person)),
    get("/classes/{class}/assessments", Who::InClass(INSTRUCTOR), to!(grades::assessment::new)),
    post("/classes/{class}/assessments", Who::InClass(INSTRUCTOR), to!(grades::assessment::add)),
    get("/classes/{class}/assessments/{assessment}", Who::InClass(INSTRUCTOR), to!(grades::marking::page)),
    post("/classes/{class}/assessments/{assessment}", Who::InClass(INSTRUCTOR), to!(grades::marking::keep)),
    get(
        "/classes/{class}/assessments/{assessment}/facts",
        Who::InClass(INSTRUCTOR),
        to!(grades::assessment::edit),
    ),
    post(
        "/classes/{class}/assessments/{assessment}/facts",
        Who::InClass(INSTRUCTOR),
        to!(grades::assessment::change),
    ),
    post(
        "/classes/{class}/assessments/{assessment}/remove",
        Who::InClass(INSTRUCTOR),
        to!(grades::assessment::remove),
    ),
    get(
        "/classes/{class}/assessments/{assessment}/hand-back",
        Who::InClass(INSTRUCTOR),
        to!(grades::hand_back::page),
    ),
    post(
        "/classes/{class}/assessments/{assessment}/hand-back",
        Who::InClass(INSTRUCTOR),
        to!(grades::hand_back::hand_back),
    ),
    get("/classes/{class}/grades/submit", Who::InClass(INSTRUCTOR), to!(grades::submit::page)),
    post("/classes/{class}/grades/submit", Who::InClass(INSTRUCTOR), to!(grades::submit::submit)),
    get("/classes/{class}/grades/submitted", Who::InClass(RECORDS_SEATS), to!(grades::submitted::page)),
    get(
        "/classes/{class}/grades/people/{person}/submitted",
        Who::InClass(INSTRUCTOR),
        to!(grades::decide::page),
    ),
    post(
        "/classes/{class}/grades/people/{person}/submitted",
        Who::InClass(INSTRUCTOR),
        to!(grades::decide::decide),
    ),
    get("/classes/{class}/grades/people/{person}/file", Who::InClass(INSTRUCTOR), to!(grades::appeal::page)),
    get("/school/grade-letters", Who::Keeper, to!(grades::letters::page)),
    post("/school/grade-letters", Who::Keeper, to!(grades::letters::keep)),
];
