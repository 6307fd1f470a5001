//! `grades`: for each student how the grade stands by what was handed back, and beside it what was submitted. Whoever
//! left and has a submitted grade is among them.

use std::collections::{BTreeMap, HashMap};
use std::io::Write;

use super::{
    FAMILY_NAME, GIVEN_NAME, LISTING_CODE, LISTING_SECTION, PERSON_ID, STUDENT_NUMBER, maybe, moment, number,
    put, word,
};
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::ids::{ListingId, PersonId};
use crate::speech::Speech;
use crate::store::AnyConnection;
use crate::store::classes::{Basis, Listing, listings};
use crate::store::exports::Of;
use crate::store::grades::book::{self, Book};
use crate::store::grades::participation::{self, Deed, Last};
use crate::store::grades::scores::Which;
use crate::store::grades::submitted::{self, How, Submitted};
use crate::store::people::members::{self, Member};
use crate::store::people::sessions::Role;
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
    Column::new("submitted_letter", Holds::Text, "exports-column-submitted-letter"),
    Column::new("submitted_rounded_percent", Holds::Number, "exports-column-submitted-percent").unit("%"),
    Column::new("submitted_how", Holds::Text, "exports-column-submitted-how").one_of::<How>(),
    Column::new("submitted_listing", Holds::Text, "exports-column-submitted-listing"),
    Column::new("submitted_basis", Holds::Text, "exports-column-submitted-basis").one_of::<Basis>(),
    Column::new("submitted_by", Holds::Text, "exports-column-submitted-by"),
    Column::new("submitted_at", Holds::Instant, "exports-column-submitted-at"),
    Column::new("grade_changes", Holds::Number, "exports-column-grade-changes"),
    Column::new("grade_reason", Holds::Text, "exports-column-grade-reason"),
    Column::new("incomplete_until", Holds::Date, "exports-column-incomplete-until"),
    Column::new("lapses_to", Holds::Text, "exports-column-lapses-to"),
    Column::new("last_day_took_part", Holds::Date, "exports-column-last-day"),
    Column::new("last_took_part_by", Holds::Text, "exports-column-last-deed").one_of::<Deed>(),
    Column::new("no_grade_because", Holds::Text, "exports-column-no-grade-because"),
];

/// Everything the rows are written from.
struct Pages {
    listings: HashMap<ListingId, Listing>,
    book: Book,
    submitted: Vec<Submitted>,
    last: BTreeMap<PersonId, Last>,
}

pub(super) fn write<W: Write>(
    db: &mut AnyConnection,
    of: &Of,
    speech: &Speech,
    sheet: &mut Sheet<W>,
) -> Result<(), Trouble> {
    let listings = listings(db, of.class)?.into_iter().map(|listing| (listing.id, listing)).collect();
    let pages = Pages {
        listings,
        book: book::open(db, of.class, of.zone, Which::HandedBack, None)?,
        submitted: submitted::submitted(db, of.class, None)?,
        last: participation::last_days(db, of.class, of.zone)?,
    };
    for student in members::everybody(db, of.class)?.iter().filter(|one| one.role.0 == Role::Student) {
        let kept: Vec<&Submitted> =
            pages.submitted.iter().filter(|one| one.person == student.person).collect();
        if kept.is_empty() && !members::in_force(student) {
            continue;
        }
        put_grade(&pages, of, student, &kept, speech, sheet)?;
    }
    Ok(())
}

fn put_grade<W: Write>(
    pages: &Pages,
    of: &Of,
    student: &Member,
    kept: &[&Submitted],
    speech: &Speech,
    sheet: &mut Sheet<W>,
) -> Result<(), Trouble> {
    let listing = student.listing_id.and_then(|id| pages.listings.get(&id));
    let basis = listing.map(|listing| listing.basis.0);
    // Of whoever left, nothing is reckoned any more.
    let as_it_stands = !of.submitted_alone && members::in_force(student);
    let (grade, why) = match as_it_stands.then(|| pages.book.grade(student.person)) {
        Some(Ok(grade)) => (Some(grade), String::new()),
        Some(Err(remark)) => (None, speech.remark(&remark)),
        None => (None, String::new()),
    };
    let text = |read: fn(&Grade) -> Option<String>| grade.as_ref().and_then(read).unwrap_or_default();
    let (percent, rounded) = (text(Grade::percent_text), text(Grade::rounded_text));
    let weight = text(|grade| grade.percent.as_ref().map(|_| grade.counted_weight.to_string()));
    // Whoever takes the class pass or audit is given no letter of the scale.
    let letter =
        if basis == Some(Basis::Letter) { text(|grade| grade.letter.clone()) } else { String::new() };
    let stands = kept.iter().find(|one| one.stands()).copied();
    let by = stands.and_then(|one| one.by_name.as_ref()).map(|(given, family)| format!("{given} {family}"));
    let changes = if kept.is_empty() { String::new() } else { (kept.len() - 1).to_string() };
    // As it was on the day of submitting; as it is now while nothing is submitted.
    let last = match stands {
        Some(one) => one.last_day.zip(one.last_deed.map(|deed| deed.0)),
        None => pages.last.get(&student.person).copied(),
    };
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
        Cell::YesNo(stands.is_some()),
        maybe(stands.map(|one| one.letter.as_str())),
        number(stands.and_then(|one| one.rounded.as_deref()).unwrap_or_default()),
        word(stands.map(|one| one.how.0)),
        maybe(stands.map(|one| one.listing.as_str())),
        word(stands.map(|one| one.basis.0)),
        maybe(by.as_deref().map(str::trim)),
        moment(stands.map(|one| one.at)),
        number(&changes),
        maybe(stands.map(|one| one.reason.as_str()).filter(|reason| !reason.is_empty())),
        day(stands.and_then(|one| one.open_until)),
        maybe(stands.and_then(|one| one.lapses_to.as_deref())),
        day(last.map(|(day, _)| day)),
        word(last.map(|(_, deed)| deed)),
        Cell::Text(&why),
    ];
    put(sheet, &cells)
}

fn day(day: Option<chrono::NaiveDate>) -> Cell<'static> {
    day.map_or(Cell::Empty, Cell::Date)
}
