//! The class list as rows.

use chrono::NaiveDate;
use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, EnrolmentId};
use crate::store::classes::Basis;
use crate::store::connections::AnyConnection;
use crate::store::exports::{Owner, Take, each, owner};
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::schema::{enrolment, listing, person};
use crate::store::types::Word;
use crate::trouble::Trouble;

/// A person of the class list, whatever became of them.
#[derive(Debug, Clone, Queryable)]
pub struct RosterRow {
    pub enrolment: EnrolmentId,
    pub person: Owner,
    pub email: Option<String>,
    pub role: Word<Role>,
    pub state: Word<EnrolmentState>,
    pub since: NaiveDate,
    pub incomplete_until: Option<NaiveDate>,
    pub lapses_to: Option<String>,
    pub joined_at: Instant,
    pub level: Option<String>,
    pub credits_hundredths: Option<i32>,
    pub basis: Option<Word<Basis>>,
}

/// Everybody who ever was in a class, by family name.
///
/// # Errors
/// The database cannot be read, or the taker fails.
pub fn roster(db: &mut AnyConnection, class: ClassId, take: Take<'_, RosterRow>) -> Result<(), Trouble> {
    let query = enrolment::table
        .inner_join(person::table)
        .left_join(listing::table)
        .filter(enrolment::class_id.eq(class))
        .order((person::family_name, person::given_name, person::id))
        .select((
            enrolment::id,
            owner!(),
            person::email,
            enrolment::role,
            enrolment::state,
            enrolment::since,
            enrolment::incomplete_until,
            enrolment::lapses_to,
            enrolment::joined_at,
            listing::level.nullable(),
            listing::credits_hundredths.nullable(),
            listing::basis.nullable(),
        ));
    each!(db, query, RosterRow, take)
}
