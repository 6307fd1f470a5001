//! `grades`: how the grade of each student whose enrolment is in force stands, by what was handed back. Not submitted.

use std::collections::HashMap;
use std::io::Write;

use super::{
    FAMILY_NAME, GIVEN_NAME, LISTING_CODE, LISTING_SECTION, PERSON_ID, STUDENT_NUMBER, maybe, number, put,
    word,
};
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::ids::ListingId;
use crate::speech::Speech;
use crate::store::AnyConnection;
use crate::store::classes::{Basis, Listing, listings};
use crate::store::exports::Of;
use crate::store::grades::book;
use crate::store::grades::scores::Which;
use crate::store::people::members::Member;
use crate::trade::grading::Grade;
use crate::trouble::Trouble;

pub(super) const COLUMNS: &[Column] = &[
    PERSON_ID,
    GIVEN_NAME,
    FAMILY_NAME,
    STUDENT_NUMBER,
    LISTING_CODE,
    LISTING_SECTION,
    Column::new("basis", Holds::Text, "exports-column-basis").one_of::<Basis>(),
    Column::new("percent", Holds::Number, "exports-column-percent").unit("%"),
    Column::new("rounded_percent", Holds::Number, "exports-column-rounded-percent").unit("%"),
    Column::new("letter", Holds::Text, "exports-column-letter"),
    Column::new("counted_weight_percent", Holds::Number, "exports-column-counted-weight-percent").unit("%"),
    Column::new("submitted", Holds::YesNo, "exports-column-submitted"),
    Column::new("no_grade_because", Holds::Text, "exports-column-no-grade-because"),
];

/// What the school's office has been sent: nothing is submitted from here yet, the table shows grades as they stand.
const SUBMITTED: bool = false;

pub(super) fn write<W: Write>(
    db: &mut AnyConnection,
    of: &Of,
    speech: &Speech,
    sheet: &mut Sheet<W>,
) -> Result<(), Trouble> {
    let listings: HashMap<ListingId, Listing> =
        listings(db, of.class)?.into_iter().map(|listing| (listing.id, listing)).collect();
    let book = book::open(db, of.class, of.zone, Which::HandedBack, None)?;
    for student in &book.students {
        let listing = student.listing_id.and_then(|id| listings.get(&id));
        let (grade, why) = match book.grade(student.person) {
            Ok(grade) => (Some(grade), String::new()),
            Err(remark) => (None, speech.remark(&remark)),
        };
        put_grade(student, listing, grade.as_ref(), &why, sheet)?;
    }
    Ok(())
}

fn put_grade<W: Write>(
    student: &Member,
    listing: Option<&Listing>,
    grade: Option<&Grade>,
    why: &str,
    sheet: &mut Sheet<W>,
) -> Result<(), Trouble> {
    let basis = listing.map(|listing| listing.basis.0);
    let text = |read: fn(&Grade) -> Option<String>| grade.and_then(read).unwrap_or_default();
    let (percent, rounded) = (text(Grade::percent_text), text(Grade::rounded_text));
    let weight = text(|grade| grade.percent.as_ref().map(|_| grade.counted_weight.to_string()));
    // Whoever takes the class pass or audit is given no letter.
    let letter =
        if basis == Some(Basis::Letter) { text(|grade| grade.letter.clone()) } else { String::new() };
    let cells = [
        Cell::Text(student.person.as_str()),
        Cell::Text(&student.given_name),
        Cell::Text(&student.family_name),
        maybe(student.student_number.as_deref()),
        maybe(listing.map(|listing| listing.code.as_str())),
        maybe(listing.map(|listing| listing.section.as_str())),
        word(basis),
        number(&percent),
        number(&rounded),
        Cell::Text(&letter),
        number(&weight),
        Cell::YesNo(SUBMITTED),
        Cell::Text(why),
    ];
    put(sheet, &cells)
}
