//! Letters as staff look at them: to whom, of what kind, how far; never what is in them. A failed one can be tried again.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, LetterId, PersonId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::letters::Kind;
use crate::store::schema::{class, letter, person};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

spelled!(
    /// How far a letter is.
    State {
        /// Not yet sent; perhaps tried and to be tried again.
        Waiting = "waiting",
        Sent = "sent",
        /// Refused for good, or tried for too long.
        Failed = "failed",
        /// Not sent, because there was nobody it could be for any more.
        Dropped = "dropped",
    }
);

/// A letter of the list.
#[derive(Debug, Clone, Queryable)]
pub struct Listed {
    pub id: LetterId,
    /// A word of `Kind`, or of a newer program.
    pub kind: String,
    pub given_name: String,
    pub family_name: String,
    pub class: Option<String>,
    pub created_at: Instant,
    pub not_before: Instant,
    pub attempts: i32,
    pub sent_at: Option<Instant>,
    pub failed_at: Option<Instant>,
    pub dropped_at: Option<Instant>,
    pub last_error: Option<String>,
}

impl Listed {
    /// How far it is, and since when; for one that waits after a try, when it is tried next.
    #[must_use]
    pub fn state(&self) -> (State, Instant) {
        match (self.sent_at, self.failed_at, self.dropped_at) {
            (Some(at), _, _) => (State::Sent, at),
            (None, Some(at), _) => (State::Failed, at),
            (None, None, Some(at)) => (State::Dropped, at),
            (None, None, None) if self.attempts == 0 => (State::Waiting, self.created_at),
            (None, None, None) => (State::Waiting, self.not_before),
        }
    }
}

/// Letters of a class, or of the whole school, or of one person in it, newest first, at most `most` of those older than `before`.
///
/// # Errors
/// The database cannot be read.
pub fn letters(
    db: &mut AnyConnection,
    of: Option<ClassId>,
    state: Option<State>,
    before: Option<(Instant, LetterId)>,
    whom: Option<PersonId>,
    most: i64,
) -> Result<Vec<Listed>, Trouble> {
    let mut query = letter::table
        .inner_join(person::table)
        .left_join(class::table)
        .order((letter::created_at.desc(), letter::id.desc()))
        .limit(most)
        .select((
            letter::id,
            letter::kind,
            person::given_name,
            person::family_name,
            class::title.nullable(),
            letter::created_at,
            letter::not_before,
            letter::attempts,
            letter::sent_at,
            letter::failed_at,
            letter::dropped_at,
            letter::last_error,
        ))
        .into_boxed();
    if let Some(of) = of {
        query = query.filter(letter::class_id.eq(of));
    }
    query = match state {
        None => query,
        Some(State::Sent) => query.filter(letter::sent_at.is_not_null()),
        Some(State::Failed) => query.filter(letter::failed_at.is_not_null()),
        Some(State::Dropped) => query.filter(letter::dropped_at.is_not_null()),
        Some(State::Waiting) => query.filter(
            letter::sent_at.is_null().and(letter::failed_at.is_null()).and(letter::dropped_at.is_null()),
        ),
    };
    if let Some(whom) = whom {
        query = query.filter(letter::person_id.eq(whom));
    }
    if let Some((at, id)) = before {
        query = query.filter(letter::created_at.lt(at).or(letter::created_at.eq(at).and(letter::id.lt(id))));
    }
    Ok(query.load(db)?)
}

impl Tx<'_> {
    /// Puts a failed letter back among those that wait, from the first try on. Keepers give no class.
    ///
    /// # Errors
    /// It is not there, not of this class, or has not failed.
    pub fn try_letter_again(&mut self, of: Option<ClassId>, id: LetterId) -> Result<(), Trouble> {
        let found: Option<(Option<ClassId>, Word<Kind>)> = letter::table
            .find(id)
            .select((letter::class_id, letter::kind))
            .first(self.connection)
            .optional()?;
        let (_, kind) = found.filter(|(class, _)| of.is_none() || *class == of).ok_or(Trouble::NotFound)?;
        let again = diesel::update(letter::table.find(id).filter(letter::failed_at.is_not_null()))
            .set((
                letter::failed_at.eq(None::<Instant>),
                letter::tried_since.eq(None::<Instant>),
                letter::lease_owner.eq(None::<String>),
                letter::lease_until.eq(None::<Instant>),
                letter::not_before.eq(self.now),
                letter::attempts.eq(0),
            ))
            .execute(self.connection)?;
        if again == 0 {
            return Err(Trouble::Refused(Remark::new("letters-not-failed")));
        }
        self.journal("letter.tried-again", id, &json!({ "kind": kind }))
    }
}
