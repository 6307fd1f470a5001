//! The doors of grades and of what they follow from.

use actix_web::web;

use super::{Door, get, post};
use crate::pages::entry::{CLASS_SEATS, GRADE_SEATS, INSTRUCTOR, RECORDS_SEATS, STAFF_SEATS, STUDENT, Who};
use crate::pages::{classes, grades};

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
    get("/classes/{class}/grades/ahead", Who::InClass(STUDENT), to!(grades::ahead::page)),
    get("/classes/{class}/grades/uncounted", Who::InClass(INSTRUCTOR), to!(grades::uncounted::page)),
    post("/classes/{class}/grades/uncounted", Who::InClass(INSTRUCTOR), to!(grades::uncounted::keep)),
    get("/classes/{class}/grades/hand-back", Who::InClass(INSTRUCTOR), to!(grades::hand_back::page_of_all)),
    post(
        "/classes/{class}/grades/hand-back",
        Who::InClass(INSTRUCTOR),
        to!(grades::hand_back::hand_back_all),
    ),
    get("/classes/{class}/criteria", Who::InClass(INSTRUCTOR), to!(grades::criteria::list)),
    post("/classes/{class}/criteria/usual", Who::InClass(INSTRUCTOR), to!(grades::criteria::begin_usual)),
    post("/classes/{class}/criteria/copy", Who::InClass(INSTRUCTOR), to!(grades::criteria::copy)),
    get("/classes/{class}/criteria/new", Who::InClass(INSTRUCTOR), to!(grades::criteria::new)),
    post("/classes/{class}/criteria/new", Who::InClass(INSTRUCTOR), to!(grades::criteria::add)),
    get("/classes/{class}/criteria/{criterion}", Who::InClass(INSTRUCTOR), to!(grades::criteria::edit)),
    post("/classes/{class}/criteria/{criterion}", Who::InClass(INSTRUCTOR), to!(grades::criteria::change)),
    post(
        "/classes/{class}/criteria/{criterion}/remove",
        Who::InClass(INSTRUCTOR),
        to!(grades::criteria::remove),
    ),
    get(
        "/classes/{class}/assessments/{assessment}/criteria",
        Who::InClass(INSTRUCTOR),
        to!(grades::weighing::page),
    ),
    post(
        "/classes/{class}/assessments/{assessment}/criteria",
        Who::InClass(INSTRUCTOR),
        to!(grades::weighing::keep),
    ),
    get(
        "/classes/{class}/assessments/{assessment}/marking/{person}",
        Who::InClass(INSTRUCTOR),
        to!(grades::print::page),
    ),
    post(
        "/classes/{class}/assessments/{assessment}/marking/{person}",
        Who::InClass(INSTRUCTOR),
        to!(grades::print::keep),
    ),
    post(
        "/classes/{class}/assessments/{assessment}/excuse/{person}",
        Who::InClass(INSTRUCTOR),
        to!(grades::uncounted::excuse),
    ),
    get(
        "/classes/{class}/assessments/{assessment}/second-look",
        Who::InClass(STUDENT),
        to!(grades::second_look::form),
    ),
    post(
        "/classes/{class}/assessments/{assessment}/second-look",
        Who::InClass(STUDENT),
        to!(grades::second_look::ask_for),
    ),
    get("/classes/{class}/second-looks", Who::InClass(INSTRUCTOR), to!(grades::second_look::list)),
    post(
        "/classes/{class}/second-looks/{second_look}",
        Who::InClass(INSTRUCTOR),
        to!(grades::second_look::stays),
    ),
    get("/classes/{class}/critiques", Who::InClass(INSTRUCTOR), to!(grades::critiques::list)),
    post("/classes/{class}/critiques", Who::InClass(INSTRUCTOR), to!(grades::critiques::begin)),
    get("/classes/{class}/critiques/{critique}", Who::InClass(INSTRUCTOR), to!(grades::critiques::page)),
    post("/classes/{class}/critiques/{critique}", Who::InClass(INSTRUCTOR), to!(grades::critiques::keep)),
    post(
        "/classes/{class}/critiques/{critique}/hand-back",
        Who::InClass(INSTRUCTOR),
        to!(grades::critiques::hand_back),
    ),
    // ---- what grades rest on besides marks: rolls, duties, what is granted ----
    get("/classes/{class}/rolls", Who::InClass(INSTRUCTOR), to!(classes::rolls::list)),
    get("/classes/{class}/rolls/{held}", Who::InClass(INSTRUCTOR), to!(classes::rolls::page)),
    post("/classes/{class}/rolls/{held}", Who::InClass(INSTRUCTOR), to!(classes::rolls::call)),
    get("/classes/{class}/duties", Who::InClass(CLASS_SEATS), to!(classes::duties::page)),
    post("/classes/{class}/duties", Who::InClass(STAFF_SEATS), to!(classes::duties::set)),
    post("/classes/{class}/duties/{duty}", Who::InClass(STAFF_SEATS), to!(classes::duties::tell)),
    get("/classes/{class}/accommodations", Who::InClass(CLASS_SEATS), to!(classes::accommodations::page)),
    post("/classes/{class}/accommodations", Who::InClass(INSTRUCTOR), to!(classes::accommodations::grant)),
    post(
        "/classes/{class}/accommodations/{accommodation}/end",
        Who::InClass(INSTRUCTOR),
        to!(classes::accommodations::end),
    ),
    post(
        "/classes/{class}/accommodations/{accommodation}/reason",
        Who::InClass(INSTRUCTOR),
        to!(classes::accommodations::say_why),
    ),
    get("/classes/{class}/goals", Who::InClass(INSTRUCTOR), to!(grades::goals::page)),
    post("/classes/{class}/goals", Who::InClass(INSTRUCTOR), to!(grades::goals::add)),
    post("/classes/{class}/goals/settle", Who::InClass(INSTRUCTOR), to!(grades::goals::settle)),
    get("/classes/{class}/goals/{goal}", Who::InClass(INSTRUCTOR), to!(grades::goals::edit)),
    post("/classes/{class}/goals/{goal}", Who::InClass(INSTRUCTOR), to!(grades::goals::change)),
    post("/classes/{class}/goals/{goal}/remove", Who::InClass(INSTRUCTOR), to!(grades::goals::remove)),
    get(
        "/classes/{class}/assessments/{assessment}/two-markers",
        Who::InClass(INSTRUCTOR),
        to!(grades::two_markers::page),
    ),
    post(
        "/classes/{class}/assessments/{assessment}/two-markers",
        Who::InClass(INSTRUCTOR),
        to!(grades::two_markers::draw),
    ),
    get(
        "/classes/{class}/assessments/{assessment}/two-markers/{person}",
        Who::InClass(INSTRUCTOR),
        to!(grades::two_markers::blind),
    ),
    post(
        "/classes/{class}/assessments/{assessment}/two-markers/{person}",
        Who::InClass(INSTRUCTOR),
        to!(grades::two_markers::mark_blind),
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
