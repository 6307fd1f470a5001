//! Accounts: finding a person by what they type.

use diesel::prelude::*;
use unicode_normalization::UnicodeNormalization;

use crate::ids::{ClassId, PersonId};
use crate::store::connections::AnyConnection;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::schema::{class, enrolment, person, term};
use crate::store::types::Word;
use crate::trouble::Trouble;

/// How an e-mail address is compared: composed, lower case, without outer spaces.
#[must_use]
pub fn email_key(email: &str) -> String {
    email.trim().nfc().collect::<String>().to_lowercase()
}

/// What signing in needs to know.
#[derive(Debug, Clone, Queryable)]
pub struct Account {
    pub id: PersonId,
    pub password_hash: Option<String>,
}

/// The account of an e-mail key.
///
/// # Errors
/// The database cannot be read.
pub fn by_email(db: &mut AnyConnection, key: &str) -> Result<Option<Account>, Trouble> {
    Ok(person::table
        .filter(person::email_key.eq(key))
        .select((person::id, person::password_hash))
        .first(db)
        .optional()?)
}

/// A class a person stands in.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct ClassOf {
    pub class: ClassId,
    pub title: String,
    pub term: String,
    pub role: Word<Role>,
}

/// The classes of a person whose enrolment is in force, newest term first.
///
/// # Errors
/// The database cannot be read.
pub fn classes_of(db: &mut AnyConnection, id: PersonId) -> Result<Vec<ClassOf>, Trouble> {
    let in_force =
        enrolment::state.eq_any([Word(EnrolmentState::Enrolled), Word(EnrolmentState::Incomplete)]);
    Ok(enrolment::table
        .inner_join(class::table.inner_join(term::table))
        .filter(enrolment::person_id.eq(id).and(in_force))
        .order((term::starts.desc(), class::title))
        .select((class::id, class::title, term::name, enrolment::role))
        .load(db)?)
}
