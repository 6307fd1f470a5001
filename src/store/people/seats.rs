//! Changing a person's seat in a class, and the details of somebody a class list brought. Nothing is ever deleted.

use diesel::dsl::{exists, not};
use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClassId, ListingId, PersonId};
use crate::store::people::accounts::email_key;
use crate::store::people::roster::Seat;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::people::theirs::Kind;
use crate::store::schema::{enrolment, link, person};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// What a seat is to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NewSeat {
    pub listing: Option<ListingId>,
    pub role: Role,
    pub state: EnrolmentState,
    pub since: chrono::NaiveDate,
}

/// New details of a person; None leaves the old one.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct NewDetails {
    pub given_name: Option<String>,
    pub family_name: Option<String>,
    pub email: Option<String>,
    pub student_number: Option<String>,
    pub external_id: Option<String>,
}

impl Tx<'_> {
    /// Changes a seat and keeps the change with its reason. `old` is the seat as it was read; if somebody changed it
    /// since, nothing happens. An instructor's seat is not for this.
    ///
    /// # Errors
    /// Stale, an instructor's, or the database refuses.
    pub fn change_seat(&mut self, old: &Seat, new: NewSeat, reason: &str) -> Result<(), Trouble> {
        if old.role == Role::Instructor || new.role == Role::Instructor {
            return Err(Trouble::Refused(Remark::new("roster-seat-of-instructor")));
        }
        let as_read = enrolment::id.eq(old.enrolment).and(enrolment::version.eq(old.version));
        let changed = diesel::update(enrolment::table.filter(as_read))
            .set((
                enrolment::listing_id.eq(new.listing),
                enrolment::role.eq(Word(new.role)),
                enrolment::state.eq(Word(new.state)),
                enrolment::since.eq(new.since),
                enrolment::version.eq(enrolment::version + 1),
            ))
            .execute(self.connection)?;
        if changed == 0 {
            return Err(Trouble::Stale(Remark::new("roster-seat-stale")));
        }
        if new.state != EnrolmentState::Incomplete {
            diesel::update(enrolment::table.find(old.enrolment))
                .set((
                    enrolment::incomplete_until.eq(None::<chrono::NaiveDate>),
                    enrolment::lapses_to.eq(None::<String>),
                ))
                .execute(self.connection)?;
        }
        self.keep_enrolment_change(old.enrolment, new.listing, new.role, new.state, new.since, reason)
    }

    /// Changes details of somebody without an account, a right of the school or another class, and of nobody else,
    /// whatever was read before: whoever could put a mailbox of their own into another's place would own the account.
    /// With another e-mail address, open links stop working.
    ///
    /// # Errors
    /// The person is protected or was changed meanwhile (`Stale`), a key is somebody else's (`Taken`), or the database
    /// refuses.
    pub fn change_details(
        &mut self,
        class: ClassId,
        id: PersonId,
        version: i64,
        new: &NewDetails,
    ) -> Result<(), Trouble> {
        #[derive(AsChangeset)]
        #[diesel(table_name = person)]
        struct Changes<'a> {
            given_name: Option<&'a str>,
            family_name: Option<&'a str>,
            email: Option<&'a str>,
            email_key: Option<String>,
            student_number: Option<&'a str>,
            version: i64,
        }
        let changes = Changes {
            given_name: new.given_name.as_deref(),
            family_name: new.family_name.as_deref(),
            email: new.email.as_deref(),
            email_key: new.email.as_deref().map(email_key),
            student_number: new.student_number.as_deref(),
            version: version + 1,
        };
        let other = enrolment::table.filter(enrolment::person_id.eq(id).and(enrolment::class_id.ne(class)));
        let unprotected = person::id
            .eq(id)
            .and(person::version.eq(version))
            .and(person::activated_at.is_null())
            .and(person::password_hash.is_null())
            .and(person::keeper.eq(false))
            .and(person::records.eq(false))
            .and(person::safety_officer.eq(false))
            .and(not(exists(other)));
        let changed =
            diesel::update(person::table.filter(unprotected)).set(&changes).execute(self.connection)?;
        if changed == 0 {
            return Err(Trouble::Stale(Remark::new("roster-stale")));
        }
        if let Some(theirs) = &new.external_id {
            self.keep_external_id(id, theirs)?;
        }
        if new.email.is_some() {
            self.void_links(id)?;
        }
        self.journal(
            "person.changed",
            id,
            &json!({
                "given_name": new.given_name, "family_name": new.family_name, "email": new.email,
                "student_number": new.student_number, "external_id": new.external_id,
            }),
        )
    }

    /// Keeps the id another system gave a person.
    ///
    /// # Errors
    /// It is somebody else's (`Taken`), or the database refuses.
    pub fn keep_external_id(&mut self, id: PersonId, theirs: &str) -> Result<(), Trouble> {
        self.keep_theirs(Kind::Person, id.as_str(), theirs)
    }

    /// Open links of a person stop working: they went to an address that is no longer theirs.
    fn void_links(&mut self, id: PersonId) -> Result<(), Trouble> {
        let open = link::person_id.eq(id).and(link::used_at.is_null()).and(link::expires_at.gt(self.now));
        diesel::update(link::table.filter(open))
            .set(link::expires_at.eq(self.now))
            .execute(self.connection)?;
        Ok(())
    }
}
