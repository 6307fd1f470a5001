//! One-time links: invitations, forgotten passwords, rescue, the first set-up. The row keeps only the digest of the
//! secret; the secret is computed again from the row's id when a letter or a slip needs it.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::{DAY_MS, Instant};
use crate::ids::{ClassId, LinkId, PersonId};
use crate::secrets::{ServerKey, sha256_hex};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::letters::{Kind, NewLetter};
use crate::store::schema::{link, person, session};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

spelled!(
    /// What a link is for.
    Purpose {
        /// Makes the first keeper of a new school.
        Setup = "setup",
        /// Opens an account.
        Invitation = "invitation",
        /// Gives a forgotten password anew.
        Reset = "reset",
        /// As a reset, printed on the console by whoever holds the machine.
        Rescue = "rescue",
    }
);

impl Purpose {
    /// How long such a link is good for.
    #[must_use]
    pub const fn lasts_ms(self) -> i64 {
        match self {
            Self::Setup | Self::Invitation => 14 * DAY_MS,
            Self::Reset | Self::Rescue => 30 * 60_000,
        }
    }
}

/// A link that still opens something.
#[derive(Debug, Clone)]
pub struct OpenLink {
    pub id: LinkId,
    pub purpose: Purpose,
    pub person: Option<PersonId>,
    pub given_name: String,
    pub family_name: String,
    pub email: Option<String>,
    pub expires_at: Instant,
}

type Row = (
    LinkId,
    Word<Purpose>,
    Option<PersonId>,
    String,
    Instant,
    Option<String>,
    Option<String>,
    Option<String>,
    Option<String>,
);

/// The link of a secret, if it is unused, unexpired, and the password is still the one it was made for.
///
/// # Errors
/// The database cannot be read.
pub fn open(db: &mut AnyConnection, secret: &str, now: Instant) -> Result<Option<OpenLink>, Trouble> {
    let row: Option<Row> = link::table
        .left_join(person::table)
        .filter(
            link::secret_hash
                .eq(sha256_hex(secret.as_bytes()))
                .and(link::used_at.is_null())
                .and(link::expires_at.gt(now)),
        )
        .select((
            link::id,
            link::purpose,
            link::person_id,
            link::bound,
            link::expires_at,
            person::given_name.nullable(),
            person::family_name.nullable(),
            person::email.nullable(),
            person::password_hash.nullable(),
        ))
        .first(db)
        .optional()?;
    Ok(row.and_then(|(id, purpose, person, bound, expires_at, given, family, email, hash)| {
        (bound == bound_to(hash.as_deref())).then(|| OpenLink {
            id,
            purpose: purpose.0,
            person,
            given_name: given.unwrap_or_default(),
            family_name: family.unwrap_or_default(),
            email,
            expires_at,
        })
    }))
}

/// What a letter about a link needs: what the link is for and until when it opens something. None when it no longer
/// does: used, expired, replaced, or made for a password that was changed meanwhile.
///
/// # Errors
/// The database cannot be read.
pub fn standing(
    db: &mut AnyConnection,
    id: LinkId,
    now: Instant,
) -> Result<Option<(Purpose, Instant)>, Trouble> {
    let row: Option<(Word<Purpose>, Instant, String, Option<String>)> = link::table
        .left_join(person::table)
        .filter(link::id.eq(id).and(link::used_at.is_null()).and(link::expires_at.gt(now)))
        .select((link::purpose, link::expires_at, link::bound, person::password_hash.nullable()))
        .first(db)
        .optional()?;
    Ok(row.and_then(|(purpose, expires_at, bound, hash)| {
        (bound == bound_to(hash.as_deref())).then_some((purpose.0, expires_at))
    }))
}

/// A link dies when the password it was made for changes.
fn bound_to(password_hash: Option<&str>) -> String {
    password_hash.map(|hash| sha256_hex(hash.as_bytes())).unwrap_or_default()
}

/// The newest invitation of a person that still opens, for a printed slip.
///
/// # Errors
/// The database cannot be read.
pub fn invitation_of(
    db: &mut AnyConnection,
    person_id: PersonId,
    now: Instant,
) -> Result<Option<(LinkId, Instant)>, Trouble> {
    Ok(link::table
        .filter(
            link::person_id
                .eq(person_id)
                .and(link::purpose.eq(Word(Purpose::Invitation)))
                .and(link::used_at.is_null())
                .and(link::expires_at.gt(now)),
        )
        .order(link::created_at.desc())
        .select((link::id, link::expires_at))
        .first(db)
        .optional()?)
}

/// Who has an invitation that still opens.
///
/// # Errors
/// The database cannot be read.
pub fn invited(db: &mut AnyConnection, now: Instant) -> Result<Vec<PersonId>, Trouble> {
    Ok(link::table
        .filter(
            link::purpose
                .eq(Word(Purpose::Invitation))
                .and(link::used_at.is_null())
                .and(link::expires_at.gt(now)),
        )
        .filter(link::person_id.is_not_null())
        .select(link::person_id.assume_not_null())
        .distinct()
        .load(db)?)
}

impl Tx<'_> {
    /// Makes a link; earlier unused ones of the same purpose and person stop working.
    ///
    /// # Errors
    /// The database refuses.
    pub fn make_link(
        &mut self,
        key: &ServerKey,
        purpose: Purpose,
        person_id: Option<PersonId>,
    ) -> Result<LinkId, Trouble> {
        let id: LinkId = self.id();
        let secret = key.link_secret(purpose.word(), id.as_str());
        let hash: Option<String> = match person_id {
            None => None,
            Some(person_id) => {
                person::table.find(person_id).select(person::password_hash).first(self.connection)?
            }
        };
        if let Some(person_id) = person_id {
            diesel::update(
                link::table.filter(
                    link::person_id
                        .eq(person_id)
                        .and(link::purpose.eq(Word(purpose)))
                        .and(link::used_at.is_null()),
                ),
            )
            .set(link::expires_at.eq(self.now))
            .execute(self.connection)?;
        }
        diesel::insert_into(link::table)
            .values((
                link::id.eq(id),
                link::purpose.eq(Word(purpose)),
                link::person_id.eq(person_id),
                link::secret_hash.eq(sha256_hex(secret.as_bytes())),
                link::bound.eq(bound_to(hash.as_deref())),
                link::created_at.eq(self.now),
                link::expires_at.eq(self.now.plus_ms(purpose.lasts_ms())),
            ))
            .execute(self.connection)?;
        Ok(id)
    }

    /// Invites a person: a fresh link, and a letter with it where there is an address. Returns the link.
    ///
    /// # Errors
    /// The database refuses.
    pub fn invite(
        &mut self,
        key: &ServerKey,
        person_id: PersonId,
        class: Option<ClassId>,
    ) -> Result<LinkId, Trouble> {
        let id = self.make_link(key, Purpose::Invitation, Some(person_id))?;
        let email: Option<String> =
            person::table.find(person_id).select(person::email).first(self.connection)?;
        if email.is_some() {
            self.letter(&NewLetter {
                kind: Kind::Invitation,
                person: person_id,
                class,
                cause: Some(format!("invitation {id}")),
                detail: json!({ "link": id }),
                not_before: self.now,
            })?;
        }
        self.journal("person.invited", person_id, &json!({ "by_letter": email.is_some() }))?;
        Ok(id)
    }

    /// Gives a person a new password by a link, which is used up; every session of theirs ends. Returns the person.
    ///
    /// # Errors
    /// The link was used meanwhile.
    pub fn set_password_by_link(&mut self, open: &OpenLink, hash: &str) -> Result<PersonId, Trouble> {
        let used = diesel::update(link::table.find(open.id).filter(link::used_at.is_null()))
            .set(link::used_at.eq(self.now))
            .execute(self.connection)?;
        let person_id = open.person.filter(|_| used == 1).ok_or(Trouble::NotFound)?;
        self.by = Some(person_id);
        self.set_password(person_id, hash, None)?;
        if open.purpose != Purpose::Invitation {
            self.tell_password_changed(person_id)?;
        }
        Ok(person_id)
    }

    /// Sets a password and ends the person's sessions but one.
    ///
    /// # Errors
    /// The database refuses.
    pub fn set_password(
        &mut self,
        person_id: PersonId,
        hash: &str,
        keep: Option<crate::ids::SessionId>,
    ) -> Result<(), Trouble> {
        diesel::update(person::table.find(person_id))
            .set((person::password_hash.eq(hash), person::failed_sign_ins.eq(0)))
            .execute(self.connection)?;
        diesel::update(person::table.find(person_id).filter(person::activated_at.is_null()))
            .set(person::activated_at.eq(self.now))
            .execute(self.connection)?;
        let mut others = diesel::update(session::table)
            .filter(session::person_id.eq(person_id).and(session::ended_at.is_null()))
            .set(session::ended_at.eq(self.now))
            .into_boxed();
        if let Some(keep) = keep {
            others = others.filter(session::id.ne(keep));
        }
        others.execute(self.connection)?;
        self.journal("password.set", person_id, &json!({}))
    }

    /// Tells the owner that the password was changed.
    ///
    /// # Errors
    /// The database refuses.
    pub fn tell_password_changed(&mut self, person_id: PersonId) -> Result<(), Trouble> {
        self.letter(&NewLetter {
            kind: Kind::PasswordChanged,
            person: person_id,
            class: None,
            cause: None,
            detail: json!({}),
            not_before: self.now,
        })?;
        Ok(())
    }

    /// Uses up a set-up link; only one of two at once succeeds.
    ///
    /// # Errors
    /// It was used meanwhile.
    pub fn use_link(&mut self, id: LinkId) -> Result<(), Trouble> {
        let used = diesel::update(link::table.find(id).filter(link::used_at.is_null()))
            .set(link::used_at.eq(self.now))
            .execute(self.connection)?;
        if used == 1 { Ok(()) } else { Err(Trouble::NotFound) }
    }
}
