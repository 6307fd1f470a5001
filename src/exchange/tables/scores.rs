//! `scores`: every score that stands, handed back or not, with the comment.

use std::io::Write;

use super::{
    FAMILY_NAME, GIVEN_NAME, LISTING_CODE, LISTING_SECTION, PERSON_ID, PRINT_ID, STUDENT_NUMBER, maybe,
    maybe_places, moment, number, person, places, put, word,
};
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::store::AnyConnection;
use crate::store::exports::{Of, scores};
use crate::trade::grading::Status;
use crate::trouble::Trouble;

pub(super) const COLUMNS: &[Column] = &[
    Column::new("score_id", Holds::Text, "exports-column-score-id"),
    PERSON_ID,
    GIVEN_NAME,
    FAMILY_NAME,
    STUDENT_NUMBER,
    LISTING_CODE,
    LISTING_SECTION,
    Column::new("assessment_id", Holds::Text, "exports-column-assessment-id"),
    Column::new("category", Holds::Text, "exports-column-category"),
    Column::new("assessment", Holds::Text, "exports-column-assessment"),
    Column::new("possible_points", Holds::Number, "exports-column-possible-points").unit("points"),
    Column::new("extra_credit", Holds::YesNo, "exports-column-extra-credit"),
    PRINT_ID,
    Column::new("status", Holds::Text, "exports-column-status").one_of::<Status>(),
    Column::new("points", Holds::Number, "exports-column-points").unit("points"),
    Column::new("comment", Holds::Text, "exports-column-comment"),
    Column::new("given_by_id", Holds::Text, "exports-column-scored-by-id"),
    Column::new("given_at", Holds::Instant, "exports-column-scored-at"),
    Column::new("handed_back_at", Holds::Instant, "exports-column-handed-back-at"),
    Column::new("corrects_score_id", Holds::Text, "exports-column-corrects-score-id"),
    Column::new("corrected_because", Holds::Text, "exports-column-corrected-because"),
];

pub(super) fn write<W: Write>(db: &mut AnyConnection, of: &Of, sheet: &mut Sheet<W>) -> Result<(), Trouble> {
    scores::scores(db, of.class, &mut |row| {
        let [id, given, family, student, code, section] = person(&row.person);
        let possible = places(row.possible_hundredths, 2);
        let points = maybe_places(row.points_hundredths, 2);
        let cells = [
            Cell::Text(row.id.as_str()),
            id,
            given,
            family,
            student,
            code,
            section,
            Cell::Text(row.assessment.as_str()),
            Cell::Text(&row.category),
            Cell::Text(&row.title),
            number(&possible),
            Cell::YesNo(row.extra_credit),
            maybe(row.print.as_ref().map(|id| id.as_str())),
            word(Some(row.status.0)),
            number(&points),
            Cell::Text(&row.words),
            Cell::Text(row.by.as_str()),
            moment(Some(row.at)),
            moment(row.handed_back_at),
            maybe(row.corrects.as_ref().map(|id| id.as_str())),
            Cell::Text(&row.reason),
        ];
        put(sheet, &cells)
    })
}
