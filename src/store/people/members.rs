//! The members of a class.

use diesel::prelude::*;

use crate::ids::{ClassId, EnrolmentId, ListingId, PersonId};
use crate::store::connections::AnyConnection;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::schema::{enrolment, listing, person};
use crate::store::types::Word;
use crate::trouble::Trouble;

/// A person in a class.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct Member {
    pub enrolment: EnrolmentId,
    pub person: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub email: Option<String>,
    pub student_number: Option<String>,
    pub active: bool,
    pub role: Word<Role>,
    pub state: Word<EnrolmentState>,
    pub since: chrono::NaiveDate,
    pub listing_id: Option<ListingId>,
    /// The listing's code and section, such as “LIT 220-01”.
    pub listing: Option<String>,
}

/// Everybody whose enrolment is in force, by family name. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn members(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Member>, Trouble> {
    let mut all = everybody(db, class)?;
    all.retain(in_force);
    Ok(all)
}

/// Whether a member's enrolment is in force.
#[must_use]
pub fn in_force(member: &Member) -> bool {
    matches!(member.state.0, EnrolmentState::Enrolled | EnrolmentState::Incomplete)
}

/// Everybody who ever was in a class, whatever became of them.
///
/// # Errors
/// The database cannot be read.
pub fn everybody(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Member>, Trouble> {
    type Row = (
        (EnrolmentId, PersonId, String, String, Option<String>, Option<String>, bool),
        (Word<Role>, Word<EnrolmentState>, chrono::NaiveDate, Option<ListingId>),
        (Option<String>, Option<String>),
    );
    let rows: Vec<Row> = enrolment::table
        .inner_join(person::table)
        .left_join(listing::table)
        .filter(enrolment::class_id.eq(class))
        .order((person::family_name, person::given_name, person::id))
        .select((
            (
                enrolment::id,
                person::id,
                person::given_name,
                person::family_name,
                person::email,
                person::student_number,
                person::activated_at.is_not_null(),
            ),
            (enrolment::role, enrolment::state, enrolment::since, enrolment::listing_id),
            (listing::code.nullable(), listing::section.nullable()),
        ))
        .load(db)?;
    Ok(rows
        .into_iter()
        .map(|(who, how, (code, section))| Member {
            enrolment: who.0,
            person: who.1,
            given_name: who.2,
            family_name: who.3,
            email: who.4,
            student_number: who.5,
            active: who.6,
            role: how.0,
            state: how.1,
            since: how.2,
            listing_id: how.3,
            listing: code.zip(section).map(|(code, section)| format!("{code}-{section}")),
        })
        .collect())
}
