//! Whose grade can be submitted in a class, with the letter that would be, and what can be chosen by hand instead.

use chrono_tz::Tz;

use crate::ids::{ClassId, PersonId};
use crate::store::classes::{Basis, listings};
use crate::store::connections::AnyConnection;
use crate::store::grades::book::{self, Book, Outcome};
use crate::store::grades::participation::{self, Last};
use crate::store::grades::scores::{Score, Which};
use crate::store::grades::submitted::{Letters, Submitted, letters, submitted};
use crate::store::people::members::{self, Member};
use crate::store::people::sessions::Role;
use crate::trade::exact::Exact;
use crate::trade::grading::{Grade, Status};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// A student as submitting sees them.
#[derive(Debug, Clone)]
pub struct Candidate {
    pub member: Member,
    pub basis: Basis,
    pub outcome: Outcome,
    /// The letter that would be submitted; none where nothing can be reckoned.
    pub letter: Option<String>,
    /// Titles of what is not yet marked.
    pub pending: Vec<String>,
    /// Titles of what is marked and counted, and which the student has not been told.
    pub kept_back: Vec<String>,
    /// The grade that stands.
    pub standing: Option<Submitted>,
    pub last: Option<Last>,
}

impl Candidate {
    /// What a page showed, so that a mark given meanwhile is noticed: letter and exact percent.
    #[must_use]
    pub fn mark(&self) -> String {
        let percent =
            self.outcome.as_ref().ok().and_then(|grade| grade.percent.as_ref()).map(Exact::to_string);
        format!("{}|{}", self.letter.as_deref().unwrap_or_default(), percent.unwrap_or_default())
    }
}

/// A class with everybody whose grade can be submitted.
#[derive(Debug)]
pub struct Look {
    pub book: Book,
    pub letters: Letters,
    pub candidates: Vec<Candidate>,
}

impl Look {
    /// The letters that can be chosen by hand for a basis; none for a letter grade in a class that gives no letters, where
    /// the percent itself is the grade.
    #[must_use]
    pub fn choices(&self, basis: Basis) -> Vec<String> {
        match basis {
            Basis::Letter => self
                .book
                .rules
                .scheme()
                .map(|scheme| scheme.scale.steps().iter().map(|step| step.letter.clone()).collect())
                .unwrap_or_default(),
            Basis::Pass => vec![self.letters.pass.clone(), self.letters.no_pass.clone()],
            Basis::Audit => vec![self.letters.audit.clone()],
        }
    }
}

/// Looks over a class, or one student of it. At most seventeen statements, whatever the size of the class.
///
/// # Errors
/// The database cannot be read.
pub fn look(
    db: &mut AnyConnection,
    class: ClassId,
    zone: Tz,
    owner: Option<PersonId>,
) -> Result<Look, Trouble> {
    let mut book = book::open(db, class, zone, Which::InHand, owner)?;
    let letters = letters(db)?;
    let bases = listings(db, class)?;
    let mut all = submitted(db, class, owner)?;
    all.retain(Submitted::stands);
    if let (Some(owner), false) = (owner, all.is_empty()) {
        // Who left after a grade was submitted can still have it changed.
        let left = members::everybody(db, class)?.into_iter().filter(|one| !members::in_force(one));
        book.students.extend(left.filter(|one| one.person == owner && one.role.0 == Role::Student));
    }
    let last = participation::last_days(db, class, zone)?;
    let candidates = book
        .students
        .iter()
        .map(|member| {
            let listing = member.listing_id.and_then(|id| bases.iter().find(|one| one.id == id));
            let basis = listing.map_or(Basis::Letter, |listing| listing.basis.0);
            let outcome = book.grade(member.person);
            Candidate {
                basis,
                letter: letter(basis, &letters, &book, outcome.as_ref().ok()),
                pending: pending(&book, member.person),
                kept_back: kept_back(&book, member.person),
                standing: all.iter().find(|one| one.person == member.person).cloned(),
                last: last.get(&member.person).copied(),
                outcome,
                member: member.clone(),
            }
        })
        .collect();
    Ok(Look { book, letters, candidates })
}

fn pending(book: &Book, person: PersonId) -> Vec<String> {
    let open = book
        .assessments
        .iter()
        .filter(|one| book.score(one.id, person).is_none_or(|score| score.status.0 == Status::Pending));
    open.map(|one| one.title.clone()).collect()
}

fn kept_back(book: &Book, person: PersonId) -> Vec<String> {
    let untold = |score: &Score| score.status.0 != Status::Pending && score.handed_back_at.is_none();
    let kept = book.assessments.iter().filter(|one| book.score(one.id, person).is_some_and(untold));
    kept.map(|one| one.title.clone()).collect()
}

/// The letter of a basis: an audit has its own whatever was marked, and a class without a scale gives the rounded percent.
fn letter(basis: Basis, letters: &Letters, book: &Book, grade: Option<&Grade>) -> Option<String> {
    match basis {
        Basis::Audit => Some(letters.audit.clone()),
        Basis::Letter if book.rules.scheme().is_ok_and(|scheme| scheme.scale.steps().is_empty()) => {
            grade.and_then(Grade::rounded_text).map(|percent| format!("{percent} %"))
        }
        Basis::Letter => grade.and_then(|grade| grade.letter.clone()),
        Basis::Pass => grade.and_then(|grade| grade.rounded.as_ref()).map(|rounded| {
            let from = Exact::percent_from_basis_points(letters.pass_from_bp.into());
            if *rounded >= from { letters.pass.clone() } else { letters.no_pass.clone() }
        }),
    }
}

/// A grade chosen by hand as it is stored: one of the letters of the basis, or a percent where the class gives none.
pub(super) fn chosen(
    look: &Look,
    one: &Candidate,
    field: &'static str,
    told: &str,
) -> Result<String, Trouble> {
    let choices = look.choices(one.basis);
    if choices.iter().any(|known| known == told) {
        return Ok(told.to_owned());
    }
    if choices.is_empty() {
        let number = told.trim_end_matches('%').trim().replace(',', ".");
        let fits = |percent: Exact| !percent.is_negative() && percent <= Exact::whole(200);
        return if number.len() <= 6 && Exact::decimal(&number).is_some_and(fits) {
            Ok(format!("{number} %"))
        } else {
            Err(Trouble::about(field, Remark::new("submitted-percent-wrong").with("value", told)))
        };
    }
    let remark =
        Remark::new("submitted-letter-unknown").with("value", told).with("known", choices.join(", "));
    Err(Trouble::about(field, remark))
}
