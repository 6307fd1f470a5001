//! Addresses that rest: after the mail server has refused letters to somebody for good several times running, no more are
//! sent there until staff lift that. What a person asks for themselves, and what concerns their account, is tried all the
//! same; when such a letter is taken, the address is a good one again.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId};
use crate::store::connections::AnyConnection;
use crate::store::letters::Kind;
use crate::store::people::sessions::EnrolmentState;
use crate::store::schema::{enrolment, person};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trouble::Trouble;

/// After so many refusals for good, with no letter taken between them, an address rests.
pub const REFUSALS: i32 = 3;

/// How it stands with a person's address.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Queryable)]
pub struct Mailbox {
    /// Refusals for good since a letter was last taken.
    pub refusals: i32,
    pub rests_since: Option<Instant>,
}

/// Whether a kind of letter is tried though the address rests.
#[must_use]
pub const fn goes_all_the_same(kind: Kind) -> bool {
    matches!(kind, Kind::Invitation | Kind::Reset | Kind::PasswordChanged | Kind::EmailChanged)
}

/// An address that rests, as staff see it.
#[derive(Debug, Clone, Queryable)]
pub struct Resting {
    pub person: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub email: Option<String>,
    pub since: Instant,
    /// What the mail server said last.
    pub said: Option<String>,
}

/// The people of a class, or of the whole school, whose address rests, by name.
///
/// # Errors
/// The database cannot be read.
pub fn resting(db: &mut AnyConnection, of: Option<ClassId>) -> Result<Vec<Resting>, Trouble> {
    let mut query = person::table
        .filter(person::mail_rests_since.is_not_null())
        .order((person::family_name, person::given_name, person::id))
        .select((
            person::id,
            person::given_name,
            person::family_name,
            person::email,
            person::mail_rests_since.assume_not_null(),
            person::mail_refused_with,
        ))
        .into_boxed();
    if let Some(class) = of {
        query = query.filter(
            person::id.eq_any(
                enrolment::table
                    .filter(
                        enrolment::class_id.eq(class).and(
                            enrolment::state
                                .eq_any([Word(EnrolmentState::Enrolled), Word(EnrolmentState::Incomplete)]),
                        ),
                    )
                    .select(enrolment::person_id),
            ),
        );
    }
    Ok(query.load(db)?)
}

/// How it stands with a person's address.
///
/// # Errors
/// The database cannot be read.
pub fn mailbox(db: &mut AnyConnection, id: PersonId) -> Result<Mailbox, Trouble> {
    Ok(person::table.find(id).select((person::mail_refusals, person::mail_rests_since)).first(db)?)
}

/// Counts a refusal for good; gives back how many there were since a letter was last taken.
///
/// # Errors
/// The database cannot be written.
pub fn count_refusal(db: &mut AnyConnection, id: PersonId, said: &str) -> Result<i32, Trouble> {
    diesel::update(person::table.find(id))
        .set((person::mail_refusals.eq(person::mail_refusals + 1), person::mail_refused_with.eq(said)))
        .execute(db)?;
    Ok(person::table.find(id).select(person::mail_refusals).first(db)?)
}

/// Forgets refusals: a letter was taken.
///
/// # Errors
/// The database cannot be written.
pub fn forget_refusals(db: &mut AnyConnection, id: PersonId) -> Result<(), Trouble> {
    diesel::update(person::table.find(id))
        .set((person::mail_refusals.eq(0), person::mail_refused_with.eq(None::<String>)))
        .execute(db)?;
    Ok(())
}

impl Tx<'_> {
    /// Lets an address rest that was refused often enough.
    ///
    /// # Errors
    /// The database refuses.
    pub fn rest_address(&mut self, id: PersonId) -> Result<(), Trouble> {
        let rests = diesel::update(
            person::table
                .find(id)
                .filter(person::mail_rests_since.is_null().and(person::mail_refusals.ge(REFUSALS))),
        )
        .set(person::mail_rests_since.eq(self.now))
        .execute(self.connection)?;
        if rests == 0 { Ok(()) } else { self.journal("address.rests", id, &json!({ "refusals": REFUSALS })) }
    }

    /// Has letters sent to somebody's address again. Keepers, and the post itself, give no class.
    ///
    /// # Errors
    /// It does not rest, or the person is not in the class.
    pub fn wake_address(&mut self, of: Option<ClassId>, id: PersonId) -> Result<(), Trouble> {
        if resting(self.connection, of)?.iter().all(|one| one.person != id) {
            return Err(Trouble::NotFound);
        }
        diesel::update(person::table.find(id))
            .set((
                person::mail_refusals.eq(0),
                person::mail_rests_since.eq(None::<Instant>),
                person::mail_refused_with.eq(None::<String>),
            ))
            .execute(self.connection)?;
        self.journal("address.woken", id, &json!({}))
    }
}
