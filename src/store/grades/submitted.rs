//! Submitted grades: what a department keeps. A row holds the grade and everything it followed from that day; a change is
//! a new row beside it with a reason, so that the first is still there to be read.

use chrono::NaiveDate;
use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, SubmittedGradeId};
use crate::spelled;
use crate::store::classes::{Basis, stale};
use crate::store::connections::AnyConnection;
use crate::store::grades::participation::Deed;
use crate::store::schema::{person, school, submitted_grade};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trouble::Trouble;

spelled!(
    /// How a submitted grade came to be.
    How {
        /// By the rules of the class, from the marks in hand.
        Reckoned = "reckoned",
        /// Chosen by an instructor, with a reason.
        ByHand = "by_hand",
        /// Work remains; a grade it lapses to is agreed on.
        Incomplete = "incomplete",
        /// The day an incomplete ran to is past.
        Lapsed = "lapsed",
    }
);

impl How {
    /// Key of the catalogue that says it.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Reckoned => "submitted-how-reckoned",
            Self::ByHand => "submitted-how-by-hand",
            Self::Incomplete => "submitted-how-incomplete",
            Self::Lapsed => "submitted-how-lapsed",
        }
    }
}

/// A submitted grade as it is stored, with who submitted it.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct Submitted {
    pub id: SubmittedGradeId,
    pub person: PersonId,
    pub corrects: Option<SubmittedGradeId>,
    pub superseded_at: Option<Instant>,
    pub how: Word<How>,
    /// Code and section on that day.
    pub listing: String,
    pub basis: Word<Basis>,
    pub letter: String,
    pub rounded: Option<String>,
    pub percent: Option<String>,
    /// JSON of `evidence`.
    pub evidence: String,
    /// The working as people read it, one line each.
    pub working: String,
    /// What remains to be done, of an incomplete.
    pub remains: String,
    pub open_until: Option<NaiveDate>,
    pub lapses_to: Option<String>,
    pub last_day: Option<NaiveDate>,
    pub last_deed: Option<Word<Deed>>,
    /// Why it differs from the one before, or why it was chosen by hand.
    pub reason: String,
    pub by: Option<PersonId>,
    pub at: Instant,
    /// Given and family name of who submitted it; nobody for one that lapsed.
    pub by_name: Option<(String, String)>,
}

impl Submitted {
    /// Whether it is the one that counts.
    #[must_use]
    pub fn stands(&self) -> bool {
        self.superseded_at.is_none()
    }
}

/// Every grade ever submitted in a class, the oldest first; `owner` limits them to one person's. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn submitted(
    db: &mut AnyConnection,
    class: ClassId,
    owner: Option<PersonId>,
) -> Result<Vec<Submitted>, Trouble> {
    let mut query = submitted_grade::table
        .left_join(person::table.on(person::id.nullable().eq(submitted_grade::by_id)))
        .filter(submitted_grade::class_id.eq(class))
        .order((submitted_grade::at, submitted_grade::superseded_at.is_null(), submitted_grade::id))
        .select((
            submitted_grade::id,
            submitted_grade::person_id,
            submitted_grade::corrects,
            submitted_grade::superseded_at,
            submitted_grade::how,
            submitted_grade::listing,
            submitted_grade::basis,
            submitted_grade::letter,
            submitted_grade::rounded,
            submitted_grade::percent,
            submitted_grade::evidence,
            submitted_grade::working,
            submitted_grade::remains,
            submitted_grade::open_until,
            submitted_grade::lapses_to,
            submitted_grade::last_day,
            submitted_grade::last_deed,
            submitted_grade::reason,
            submitted_grade::by_id,
            submitted_grade::at,
            (person::given_name, person::family_name).nullable(),
        ))
        .into_boxed();
    if let Some(owner) = owner {
        query = query.filter(submitted_grade::person_id.eq(owner));
    }
    Ok(query.load(db)?)
}

/// The letters a school gives where a class's own scale says nothing.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize)]
pub struct Letters {
    pub pass: String,
    pub no_pass: String,
    pub audit: String,
    pub incomplete: String,
    /// The rounded percent from which on work taken for pass is one, in basis points.
    pub pass_from_bp: i32,
    pub version: i64,
}

/// The letters of the school. One statement.
///
/// # Errors
/// There is no school, or the database cannot be read.
pub fn letters(db: &mut AnyConnection) -> Result<Letters, Trouble> {
    Ok(school::table
        .select((
            school::pass_letter,
            school::no_pass_letter,
            school::audit_letter,
            school::incomplete_letter,
            school::pass_from_bp,
            school::version,
        ))
        .first(db)?)
}

impl Tx<'_> {
    /// Sets the letters of the school. Grades submitted before stay as they are.
    ///
    /// # Errors
    /// `Stale`, or the database refuses.
    pub fn set_letters(&mut self, new: &Letters) -> Result<(), Trouble> {
        let changed = diesel::update(school::table.filter(school::version.eq(new.version)))
            .set((
                school::pass_letter.eq(&new.pass),
                school::no_pass_letter.eq(&new.no_pass),
                school::audit_letter.eq(&new.audit),
                school::incomplete_letter.eq(&new.incomplete),
                school::pass_from_bp.eq(new.pass_from_bp),
                school::version.eq(new.version + 1),
            ))
            .execute(self.connection)?;
        if changed == 0 {
            return Err(stale());
        }
        self.journal("school.letters-set", "school", &json!(new))
    }
}
