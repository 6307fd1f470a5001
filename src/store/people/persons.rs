//! Persons: adding one, their names and rights. A person is never deleted.

use diesel::prelude::*;
use serde_json::json;

use crate::ids::ClassId;
use crate::ids::{EnrolmentId, ListingId, PersonId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::people::accounts::email_key;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::schema::{enrolment, enrolment_change, person};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Somebody not known before.
#[derive(Debug, Clone, Default)]
pub struct NewPerson {
    pub given_name: String,
    pub family_name: String,
    pub email: Option<String>,
    pub student_number: Option<String>,
}

spelled!(
    /// Rights a keeper grants in the whole school.
    Right {
        /// Terms, classes, people; opens no grade and no photo.
        Keeper = "keeper",
        /// Rosters, submitted grades, training records.
        Records = "records",
        /// Training records, rounds, incidents.
        SafetyOfficer = "safety-officer",
    }
);

/// A person as lists show them.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct Person {
    pub id: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub email: Option<String>,
    pub student_number: Option<String>,
    pub active: bool,
    pub keeper: bool,
    pub records: bool,
    pub safety_officer: bool,
    pub version: i64,
}

/// Everybody, or one.
///
/// # Errors
/// The database cannot be read.
pub fn persons(db: &mut AnyConnection, only: Option<PersonId>) -> Result<Vec<Person>, Trouble> {
    let mut query = person::table
        .select((
            person::id,
            person::given_name,
            person::family_name,
            person::email,
            person::student_number,
            person::activated_at.is_not_null(),
            person::keeper,
            person::records,
            person::safety_officer,
            person::version,
        ))
        .order((person::family_name, person::given_name, person::id))
        .into_boxed();
    if let Some(id) = only {
        query = query.filter(person::id.eq(id));
    }
    Ok(query.load(db)?)
}

impl Tx<'_> {
    /// Adds a person. An e-mail address or student number that somebody has already is `Trouble::Taken`.
    ///
    /// # Errors
    /// Taken, or the database refuses.
    pub fn add_person(&mut self, new: &NewPerson) -> Result<PersonId, Trouble> {
        let id: PersonId = self.id();
        let (now, key) = (self.now, new.email.as_deref().map(email_key));
        // No savepoint: where a key is taken the act ends, so that one for each person of a list would be work for nothing.
        diesel::insert_into(person::table)
            .values((
                (person::id.eq(id), person::given_name.eq(&new.given_name)),
                (person::family_name.eq(&new.family_name), person::email.eq(&new.email)),
                (person::email_key.eq(key), person::student_number.eq(&new.student_number)),
                (person::keeper.eq(false), person::records.eq(false), person::safety_officer.eq(false)),
                (person::volume_unit.eq("us_fl_oz"), person::daily_letter.eq(true)),
                (person::failed_sign_ins.eq(0), person::created_at.eq(now), person::version.eq(1)),
            ))
            .execute(self.connection)?;
        let detail = json!({
            "given_name": new.given_name, "family_name": new.family_name,
            "email": new.email, "student_number": new.student_number,
        });
        self.journal("person.added", id, &detail)?;
        Ok(id)
    }

    /// Changes what a person is called, everywhere.
    ///
    /// # Errors
    /// Nobody is there, or somebody else changed it since `version`.
    pub fn rename_person(
        &mut self,
        id: PersonId,
        version: i64,
        given_name: &str,
        family_name: &str,
    ) -> Result<(), Trouble> {
        let changed = diesel::update(person::table.find(id).filter(person::version.eq(version)))
            .set((
                person::given_name.eq(given_name),
                person::family_name.eq(family_name),
                person::version.eq(person::version + 1),
            ))
            .execute(self.connection)?;
        if changed == 0 {
            return Err(Trouble::Stale(Remark::new("form-stale")));
        }
        self.journal("person.renamed", id, &json!({ "given_name": given_name, "family_name": family_name }))
    }

    /// Puts a person into a class, or back into it, and keeps the change with its reason.
    ///
    /// # Errors
    /// The database refuses.
    pub fn enrol(
        &mut self,
        class: ClassId,
        person_id: PersonId,
        listing: Option<ListingId>,
        role: Role,
        since: chrono::NaiveDate,
        reason: &str,
    ) -> Result<EnrolmentId, Trouble> {
        let known: Option<EnrolmentId> = enrolment::table
            .filter(enrolment::class_id.eq(class).and(enrolment::person_id.eq(person_id)))
            .select(enrolment::id)
            .first(self.connection)
            .optional()?;
        let id = match known {
            None => self.seat_new(class, person_id, listing, role, since)?,
            Some(id) => {
                diesel::update(enrolment::table.find(id))
                    .set((
                        enrolment::listing_id.eq(listing),
                        enrolment::role.eq(Word(role)),
                        enrolment::state.eq(Word(EnrolmentState::Enrolled)),
                        enrolment::since.eq(since),
                        enrolment::version.eq(enrolment::version + 1),
                    ))
                    .execute(self.connection)?;
                id
            }
        };
        self.keep_enrolment_change(id, listing, role, EnrolmentState::Enrolled, since, reason)?;
        Ok(id)
    }

    /// Seats somebody who was never in a class, as whoever this act has just added: without asking first. The change is
    /// still to be kept.
    ///
    /// # Errors
    /// They were in it (`Taken`), which ends the act; or the database refuses.
    pub fn seat_new(
        &mut self,
        class: ClassId,
        person_id: PersonId,
        listing: Option<ListingId>,
        role: Role,
        since: chrono::NaiveDate,
    ) -> Result<EnrolmentId, Trouble> {
        let id: EnrolmentId = self.id();
        diesel::insert_into(enrolment::table)
            .values((
                (enrolment::id.eq(id), enrolment::class_id.eq(class)),
                (enrolment::person_id.eq(person_id), enrolment::listing_id.eq(listing)),
                (enrolment::role.eq(Word(role)), enrolment::state.eq(Word(EnrolmentState::Enrolled))),
                (enrolment::since.eq(since), enrolment::joined_at.eq(self.now)),
                enrolment::version.eq(1),
            ))
            .execute(self.connection)?;
        Ok(id)
    }

    /// Keeps one dated change of an enrolment and journals it.
    ///
    /// # Errors
    /// The database refuses.
    pub fn keep_enrolment_change(
        &mut self,
        id: EnrolmentId,
        listing: Option<ListingId>,
        role: Role,
        state: EnrolmentState,
        since: chrono::NaiveDate,
        reason: &str,
    ) -> Result<(), Trouble> {
        let by = self.person()?;
        diesel::insert_into(enrolment_change::table)
            .values((
                enrolment_change::id.eq(self.id::<crate::ids::EnrolmentChange>()),
                enrolment_change::enrolment_id.eq(id),
                enrolment_change::listing_id.eq(listing),
                enrolment_change::role.eq(Word(role)),
                enrolment_change::state.eq(Word(state)),
                enrolment_change::since.eq(since),
                enrolment_change::reason.eq(reason),
                enrolment_change::by_id.eq(by),
                enrolment_change::at.eq(self.now),
            ))
            .execute(self.connection)?;
        self.journal(
            "enrolment.changed",
            id,
            &json!({ "role": role, "state": state, "since": since, "reason": reason }),
        )
    }

    /// Grants or withdraws a right of the school. The last keeper cannot go.
    ///
    /// # Errors
    /// It would leave no keeper, or the database refuses.
    pub fn set_right(&mut self, id: PersonId, right: Right, held: bool) -> Result<(), Trouble> {
        let target = person::table.find(id);
        let changed = match right {
            Right::Keeper => diesel::update(target)
                .set((person::keeper.eq(held), person::version.eq(person::version + 1)))
                .execute(self.connection)?,
            Right::Records => diesel::update(target)
                .set((person::records.eq(held), person::version.eq(person::version + 1)))
                .execute(self.connection)?,
            Right::SafetyOfficer => diesel::update(target)
                .set((person::safety_officer.eq(held), person::version.eq(person::version + 1)))
                .execute(self.connection)?,
        };
        if changed == 0 {
            return Err(Trouble::NotFound);
        }
        let keepers: i64 =
            person::table.filter(person::keeper.eq(true)).count().get_result(self.connection)?;
        if keepers == 0 {
            return Err(Trouble::Refused(Remark::new("people-last-keeper")));
        }
        self.journal("right.set", id, &json!({ "right": right, "held": held }))
    }
}
