//! Once-keys: a form or a log sent twice is stored once. The key row commits with the act it guards.

use diesel::prelude::*;

use crate::ids::PersonId;
use crate::store::connections::AnyConnection;
use crate::store::schema::once;
use crate::store::write::Tx;
use crate::trouble::Trouble;

/// A key the sender made, the door it was sent to and the digest of what was sent.
#[derive(Debug, Clone)]
pub struct OnceKey {
    pub key: String,
    pub door: String,
    pub body_sha256: String,
}

/// Rows older than this may go: 60 days.
pub const KEPT_MS: i64 = 60 * crate::clock::DAY_MS;

/// Where an earlier sending of the same key went, if there was one: for work that is done before the act.
///
/// # Errors
/// The key was used by somebody else, or for something else.
pub fn sent(db: &mut AnyConnection, by: Option<PersonId>, key: &OnceKey) -> Result<Option<String>, Trouble> {
    let found: Option<(Option<String>, String, String, String)> = once::table
        .find(&key.key)
        .select((once::person_id, once::door, once::body_sha256, once::location))
        .first(db)
        .optional()?;
    let by = by.map(|id| id.to_string());
    match found {
        None => Ok(None),
        Some((person, door, body, location))
            if person == by && door == key.door && body == key.body_sha256 =>
        {
            Ok(Some(location))
        }
        Some(_) => Err(Trouble::OnceClash),
    }
}

impl Tx<'_> {
    /// Where an earlier sending of the same key went, if there was one.
    ///
    /// # Errors
    /// The key was used by somebody else, or for something else.
    fn sent_before(&mut self, key: &OnceKey) -> Result<Option<String>, Trouble> {
        sent(self.connection, self.by, key)
    }

    /// Keeps the key with where its act went.
    ///
    /// # Errors
    /// It was kept before, or the database refuses.
    fn keep_once(&mut self, key: &OnceKey, location: &str) -> Result<(), Trouble> {
        diesel::insert_into(once::table)
            .values((
                once::key.eq(&key.key),
                once::person_id.eq(self.by.map(|id| id.to_string())),
                once::door.eq(&key.door),
                once::body_sha256.eq(&key.body_sha256),
                once::location.eq(location),
                once::at.eq(self.now),
            ))
            .execute(self.connection)?;
        Ok(())
    }

    /// Runs an act unless its key was sent before; answers where the person goes next either way. Nearly everything is sent
    /// once, so nobody looks for the key until something speaks for an earlier sending: see [`crate::store::write`].
    ///
    /// # Errors
    /// What the act says, or a clash of the key.
    pub fn once(
        &mut self,
        key: &OnceKey,
        act: impl FnOnce(&mut Self) -> Result<String, Trouble>,
    ) -> Result<String, Trouble> {
        if self.sent_again
            && let Some(location) = self.sent_before(key)?
        {
            return Ok(location);
        }
        self.once_key = Some(key.clone());
        let location = act(self)?;
        self.keep_once(key, &location)?;
        Ok(location)
    }
}
