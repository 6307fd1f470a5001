//! Grades: the instructor's ledger, rules, assessments, marking, handing back and submitting; the student's own page.

pub mod ahead;
pub mod appeal;
pub mod assessment;
mod beside;
pub mod criteria;
pub mod critiques;
pub mod decide;
pub mod goals;
pub mod hand_back;
pub mod ledger;
pub mod letters;
pub mod marking;
pub mod own;
pub mod print;
pub mod rules;
pub mod second_look;
pub mod submit;
pub mod submitted;
pub mod two_markers;
pub mod uncounted;
pub mod weighing;

use crate::exchange::working::status_key;
use crate::ids::PersonId;
use crate::pages::answer::Reply;
use crate::pages::entry::{InClass, Seat};
use crate::speech::Speech;
use crate::speech::figures::figures;
use crate::store::grades::assessments::Assessment;
use crate::store::grades::book::{self, Book};
use crate::store::grades::scores::{Score, Which};
use crate::trade::exact::Exact;
use crate::trade::grading::Status;
use crate::trade::remark::{Param, Remark};
use crate::trouble::Trouble;

/// The grades page of whoever asks: a student's own, or the ledger.
pub async fn page(ask: InClass) -> Reply {
    match ask.seat() {
        Seat::Student => own::page(&ask).await,
        _ => ledger::page(&ask).await,
    }
}

/// Opens the book of the class at hand.
async fn open(ask: &InClass, which: Which, owner: Option<PersonId>) -> Result<Book, Trouble> {
    let (class, zone) = (ask.class(), ask.membership.zone);
    ask.house.db.read(move |db| book::open(db, class, zone, which, owner)).await
}

/// “88 of 100”, or where the work stands.
fn mark(speech: &Speech, score: Option<&Score>, assessment: &Assessment) -> String {
    match score.and_then(|score| score.points_hundredths) {
        Some(points) => speech.remark(
            &Remark::new("grades-of")
                .with("score", hundredths(points))
                .with("points", hundredths(assessment.points_hundredths)),
        ),
        None => speech.plain(status_key(score.map_or(Status::Pending, |score| score.status.0))),
    }
}

/// “2 days late”, or nothing for work in time.
fn days_late(speech: &Speech, days: u32) -> Option<String> {
    (days > 0).then(|| speech.remark(&Remark::new("grades-days-late").with("days", i64::from(days))))
}

/// Points, or percents kept as basis points, as people write them.
fn hundredths(number: i64) -> String {
    figures(Exact::hundredths(number).to_string())
}

/// A sentence with one text in it.
fn say(speech: &Speech, key: &'static str, name: &'static str, value: impl Into<Param>) -> String {
    speech.remark(&Remark::new(key).with(name, value))
}
