//! Grades: categories and rules, assessments, marking, handing back, what a student sees, and exact grades.

pub mod criteria;
mod goals;
mod marking;
mod reckoned;
mod second_looks;
mod setting_up;
mod submitting;

use chrono::TimeZone;
use diesel::prelude::*;
use tympan::ids::*;
use tympan::store::grades::book::{grade_rows, grades_of_class};
use tympan::store::grades::scores::Which;
use tympan::store::schema::{
    assessment, category, enrolment, grading_scheme, letter, own_due, print, project, score,
};

use crate::on_both;
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Page, Studio, Visitor};

const ZONE: chrono_tz::Tz = chrono_tz::America::New_York;

fn set(studio: &Studio) -> Things {
    Things::set(&mut studio.connection(), &studio.world)
}

fn count_scores(studio: &Studio) -> i64 {
    score::table.count().get_result(&mut studio.connection()).unwrap()
}

/// A sheet of marks: (person, seen, status, points, comment).
type Line<'a> = (PersonId, Option<ScoreId>, &'a str, &'a str, &'a str);

fn fields(lines: &[Line<'_>], reason: &str) -> Vec<(String, String)> {
    let mut all = vec![("reason".to_owned(), reason.to_owned())];
    for (person, seen, status, points, words) in lines {
        all.push((format!("seen-{person}"), seen.map(|id| id.to_string()).unwrap_or_default()));
        all.push((format!("status-{person}"), (*status).to_owned()));
        all.push((format!("points-{person}"), (*points).to_owned()));
        all.push((format!("words-{person}"), (*words).to_owned()));
    }
    all
}

fn send(visitor: &Visitor, path: &str, all: &[(String, String)]) -> Page {
    let all: Vec<(&str, &str)> = all.iter().map(|(a, b)| (a.as_str(), b.as_str())).collect();
    visitor.post(path, &all)
}

fn standing(
    studio: &Studio,
    id: AssessmentId,
    person: PersonId,
) -> (ScoreId, String, Option<i64>, Option<ScoreId>) {
    score::table
        .filter(
            score::assessment_id.eq(id).and(score::person_id.eq(person)).and(score::superseded_at.is_null()),
        )
        .select((score::id, score::status, score::points_hundredths, score::corrects))
        .first(&mut studio.connection())
        .unwrap()
}

fn marking(studio: &Studio, id: AssessmentId) -> String {
    format!("{}/assessments/{id}", studio.class_path())
}

fn hand_back(studio: &Studio, instructor: &Visitor, id: AssessmentId) {
    let page = instructor.post(&format!("{}/hand-back", marking(studio, id)), &[]);
    assert_eq!(page.status, 303, "{}", page.read());
}

/// An assessment of its own category's, set down without the pages.
fn another(studio: &Studio, category_id: CategoryId, title: &str, hundredths: i64) -> AssessmentId {
    let id: AssessmentId = Id::new(NOW);
    diesel::insert_into(assessment::table)
        .values((
            (assessment::id.eq(id), assessment::class_id.eq(studio.world.class)),
            (
                assessment::category_id.eq(category_id),
                assessment::position.eq(9),
                assessment::title.eq(title),
            ),
            (assessment::points_hundredths.eq(hundredths), assessment::extra_credit.eq(false)),
            assessment::version.eq(1),
        ))
        .execute(&mut studio.connection())
        .unwrap();
    id
}

/// A second instructor: the stranger, who joins the class.
pub fn second_instructor(studio: &Studio) -> Visitor {
    diesel::insert_into(enrolment::table)
        .values((
            (enrolment::id.eq(EnrolmentId::new(NOW)), enrolment::class_id.eq(studio.world.class)),
            (enrolment::person_id.eq(studio.world.stranger), enrolment::role.eq("instructor")),
            (enrolment::state.eq("enrolled"), enrolment::joined_at.eq(NOW), enrolment::version.eq(1)),
            enrolment::since.eq(chrono::NaiveDate::from_ymd_opt(2026, 8, 31).unwrap()),
        ))
        .execute(&mut studio.connection())
        .unwrap();
    studio.signed_in(STRANGER)
}

const RULES: [(&str, &str); 9] = [
    ("version", "0"),
    ("late", "10"),
    ("late_of", "possible"),
    ("max_days", "5"),
    ("grace", "15"),
    ("missing", "yes"),
    ("places", "0"),
    ("ties", "half_up"),
    ("scale", "A 90\nB 80\nF 0"),
];

fn but<'a>(fields: &[(&'a str, &'a str)], name: &'a str, value: &'a str) -> Vec<(&'a str, &'a str)> {
    fields.iter().map(|field| if field.0 == name { (name, value) } else { *field }).collect()
}
