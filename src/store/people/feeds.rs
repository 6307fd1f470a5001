//! Calendar feeds: a private address per person, made and withdrawn on the account page. The row keeps only the digest
//! of the secret; the secret is computed again from the row's id when its owner looks at it.

use diesel::prelude::*;
use serde_json::json;

use crate::ids::{CalendarFeedId, PersonId};
use crate::secrets::{ServerKey, sha256_hex};
use crate::store::connections::AnyConnection;
use crate::store::schema::calendar_feed;
use crate::store::write::Tx;
use crate::trouble::Trouble;

const PURPOSE: &str = "calendar feed";

/// The secret part of a feed's address.
#[must_use]
pub fn secret(key: &ServerKey, id: CalendarFeedId) -> String {
    key.link_secret(PURPOSE, id.as_str())
}

/// The feed a person has, if it was not withdrawn. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn feed_of(db: &mut AnyConnection, person: PersonId) -> Result<Option<CalendarFeedId>, Trouble> {
    Ok(calendar_feed::table
        .filter(calendar_feed::person_id.eq(person).and(calendar_feed::withdrawn_at.is_null()))
        .order(calendar_feed::created_at.desc())
        .select(calendar_feed::id)
        .first(db)
        .optional()?)
}

/// The person behind a secret, if it opens anything still. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn reader(db: &mut AnyConnection, secret: &str) -> Result<Option<PersonId>, Trouble> {
    Ok(calendar_feed::table
        .filter(calendar_feed::secret_hash.eq(sha256_hex(secret.as_bytes())))
        .filter(calendar_feed::withdrawn_at.is_null())
        .select(calendar_feed::person_id)
        .first(db)
        .optional()?)
}

impl Tx<'_> {
    /// Makes a new feed; one that was there opens nothing any more.
    ///
    /// # Errors
    /// The database refuses.
    pub fn make_feed(&mut self, key: &ServerKey, person: PersonId) -> Result<CalendarFeedId, Trouble> {
        self.close_feeds(person)?;
        let id: CalendarFeedId = self.id();
        diesel::insert_into(calendar_feed::table)
            .values((
                calendar_feed::id.eq(id),
                calendar_feed::person_id.eq(person),
                calendar_feed::secret_hash.eq(sha256_hex(secret(key, id).as_bytes())),
                calendar_feed::created_at.eq(self.now),
            ))
            .execute(self.connection)?;
        self.journal("calendar.made", person, &json!({ "feed": id }))?;
        Ok(id)
    }

    /// Withdraws a person's feed.
    ///
    /// # Errors
    /// The database refuses.
    pub fn withdraw_feed(&mut self, person: PersonId) -> Result<(), Trouble> {
        match self.close_feeds(person)? {
            0 => Ok(()),
            _ => self.journal("calendar.withdrawn", person, &json!({})),
        }
    }

    fn close_feeds(&mut self, person: PersonId) -> Result<usize, Trouble> {
        let open = calendar_feed::table
            .filter(calendar_feed::person_id.eq(person).and(calendar_feed::withdrawn_at.is_null()));
        Ok(diesel::update(open).set(calendar_feed::withdrawn_at.eq(self.now)).execute(self.connection)?)
    }
}
