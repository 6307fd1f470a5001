//! Scores as rows: those that stand, handed back or not.

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{AssessmentId, ClassId, PersonId, PrintId, ScoreId};
use crate::store::connections::AnyConnection;
use crate::store::exports::{Owner, Take, each, owner};
use crate::store::schema::{assessment, category, enrolment, listing, person, score};
use crate::store::types::Word;
use crate::trade::grading::Status;
use crate::trouble::Trouble;

/// A score that stands.
#[derive(Debug, Clone, Queryable)]
pub struct ScoreRow {
    pub id: ScoreId,
    pub person: Owner,
    pub assessment: AssessmentId,
    pub category: String,
    pub title: String,
    pub possible_hundredths: i64,
    pub extra_credit: bool,
    pub print: Option<PrintId>,
    pub status: Word<Status>,
    pub points_hundredths: Option<i64>,
    pub words: String,
    pub reason: String,
    pub corrects: Option<ScoreId>,
    pub by: PersonId,
    pub at: Instant,
    pub handed_back_at: Option<Instant>,
}

/// The scores of a class, by the person's family name and then as assessments stand.
///
/// # Errors
/// The database cannot be read, or the taker fails.
pub fn scores(db: &mut AnyConnection, class: ClassId, take: Take<'_, ScoreRow>) -> Result<(), Trouble> {
    let query = score::table
        .inner_join(assessment::table.inner_join(category::table))
        .inner_join(person::table.on(person::id.eq(score::person_id)))
        .left_join(
            enrolment::table
                .on(enrolment::class_id.eq(score::class_id).and(enrolment::person_id.eq(score::person_id))),
        )
        .left_join(listing::table.on(listing::id.nullable().eq(enrolment::listing_id.nullable())))
        .filter(score::class_id.eq(class).and(score::superseded_at.is_null()))
        .order((
            (person::family_name, person::given_name, person::id),
            (category::position, category::id, assessment::position, assessment::id, score::id),
        ))
        .select((
            score::id,
            owner!(),
            assessment::id,
            category::title,
            assessment::title,
            assessment::points_hundredths,
            assessment::extra_credit,
            score::print_id,
            score::status,
            score::points_hundredths,
            score::words,
            score::reason,
            score::corrects,
            score::by_id,
            score::at,
            score::handed_back_at,
        ));
    each!(db, query, ScoreRow, take)
}
