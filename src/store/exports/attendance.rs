//! What the rolls of a class say, as rows.

use chrono::NaiveDate;
use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, RollEntryId};
use crate::store::classes::rolls::Presence;
use crate::store::connections::AnyConnection;
use crate::store::exports::{Owner, Take, each, owner};
use crate::store::schema::{enrolment, listing, person, roll, roll_entry};
use crate::store::types::Word;
use crate::trouble::Trouble;

/// One person at one meeting.
#[derive(Debug, Clone, Queryable)]
pub struct AttendanceRow {
    pub id: RollEntryId,
    pub person: Owner,
    pub day: NaiveDate,
    pub from_minute: i32,
    pub to_minute: i32,
    pub presence: Word<Presence>,
    pub by: PersonId,
    pub at: Instant,
}

/// The entries that stand, meeting by meeting, by the person's name.
///
/// # Errors
/// The database cannot be read, or the taker fails.
pub fn attendance(
    db: &mut AnyConnection,
    class: ClassId,
    take: Take<'_, AttendanceRow>,
) -> Result<(), Trouble> {
    let query = roll_entry::table
        .inner_join(roll::table)
        .inner_join(person::table)
        .left_join(enrolment::table.on(
            enrolment::class_id.eq(roll_entry::class_id).and(enrolment::person_id.eq(roll_entry::person_id)),
        ))
        .left_join(listing::table.on(listing::id.nullable().eq(enrolment::listing_id.nullable())))
        .filter(roll_entry::class_id.eq(class).and(roll_entry::superseded_at.is_null()))
        .order((
            (roll::day, roll::from_minute),
            (person::family_name, person::given_name, person::id, roll_entry::id),
        ))
        .select((
            roll_entry::id,
            owner!(),
            roll::day,
            roll::from_minute,
            roll::to_minute,
            roll_entry::presence,
            roll_entry::by_id,
            roll_entry::at,
        ));
    each!(db, query, AttendanceRow, take)
}
