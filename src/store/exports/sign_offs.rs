//! Sign-offs as rows.

use chrono::NaiveDate;
use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, SignOffId, TopicId};
use crate::store::connections::AnyConnection;
use crate::store::exports::{Owner, Take, each, owner};
use crate::store::schema::{enrolment, listing, person, sign_off, studio, topic, topic_version};
use crate::store::types::Word;
use crate::trade::procedure::Grade;
use crate::trouble::Trouble;

/// A sign-off, whatever became of it.
#[derive(Debug, Clone, Queryable)]
pub struct SignOffRow {
    pub id: SignOffId,
    pub person: Owner,
    pub topic: TopicId,
    pub topic_title: String,
    pub version: i32,
    pub studio: String,
    pub grade: Word<Grade>,
    pub giver: PersonId,
    pub giver_given_name: String,
    pub giver_family_name: String,
    pub given_at: Instant,
    pub acknowledged_at: Option<Instant>,
    pub valid_until: Option<NaiveDate>,
    pub note: String,
    pub taken_back_at: Option<Instant>,
    pub withdrawn_at: Option<Instant>,
    pub withdrawn_reason: Option<String>,
}

/// The sign-offs given in a class, by topic and time.
///
/// # Errors
/// The database cannot be read, or the taker fails.
pub fn sign_offs(db: &mut AnyConnection, class: ClassId, take: Take<'_, SignOffRow>) -> Result<(), Trouble> {
    let giver = diesel::alias!(person as giver);
    let query =
        sign_off::table
            .inner_join(topic::table)
            .inner_join(topic_version::table)
            .inner_join(studio::table)
            .inner_join(person::table.on(person::id.eq(sign_off::person_id)))
            .inner_join(giver.on(giver.field(person::id).eq(sign_off::given_by)))
            .left_join(enrolment::table.on(
                enrolment::class_id.eq(sign_off::class_id).and(enrolment::person_id.eq(sign_off::person_id)),
            ))
            .left_join(listing::table.on(listing::id.nullable().eq(enrolment::listing_id.nullable())))
            .filter(sign_off::class_id.eq(class))
            .order((sign_off::class_id, sign_off::topic_id, sign_off::given_at, sign_off::id))
            .select((
                sign_off::id,
                owner!(),
                sign_off::topic_id,
                topic::title,
                topic_version::number,
                studio::name,
                sign_off::grade,
                sign_off::given_by,
                giver.field(person::given_name),
                giver.field(person::family_name),
                sign_off::given_at,
                sign_off::acknowledged_at,
                sign_off::valid_until,
                sign_off::note,
                sign_off::taken_back_at,
                sign_off::withdrawn_at,
                sign_off::withdrawn_reason,
            ));
    each!(db, query, SignOffRow, take)
}
