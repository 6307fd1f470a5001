//! Whom a class list may mean: everybody who ever was in the class, and everybody in the school who has one of its keys.

use std::collections::{BTreeMap, BTreeSet};

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, EnrolmentId, ListingId, PersonId};
use crate::store::connections::AnyConnection;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::people::theirs::{self, Kind};
use crate::store::schema::{class, enrolment, enrolment_change, listing, person, term};
use crate::store::types::Word;
use crate::trouble::Trouble;

/// Values asked for in one statement: SQLite takes 32 766.
const PART: usize = 1_000;

/// The keys of a list, as they are stored.
#[derive(Debug, Clone, Copy)]
pub struct Keys<'a> {
    pub external_ids: &'a [String],
    pub student_numbers: &'a [String],
    /// After `accounts::email_key`.
    pub email_keys: &'a [String],
}

/// Somebody the school knows.
#[derive(Debug, Clone)]
pub struct Known {
    pub id: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub email: Option<String>,
    pub student_number: Option<String>,
    pub external_id: Option<String>,
    /// Has ever set a password.
    pub active: bool,
    /// Holds a right of the school.
    pub has_right: bool,
    pub in_another_class: bool,
    pub version: i64,
    /// None: was never in the class.
    pub seat: Option<Seat>,
}

/// A person's enrolment in the class.
#[derive(Debug, Clone, Copy)]
pub struct Seat {
    pub enrolment: EnrolmentId,
    pub listing: Option<ListingId>,
    pub role: Role,
    pub state: EnrolmentState,
    pub since: chrono::NaiveDate,
    pub version: i64,
}

/// The listings of a class: id, code, section.
///
/// # Errors
/// The database cannot be read.
pub fn listings(db: &mut AnyConnection, class: ClassId) -> Result<Vec<(ListingId, String, String)>, Trouble> {
    Ok(listing::table
        .filter(listing::class_id.eq(class))
        .order((listing::code, listing::section, listing::id))
        .select((listing::id, listing::code, listing::section))
        .load(db)?)
}

/// The classes of a code in the term of a name, with the term's zone; for the command line.
///
/// # Errors
/// The database cannot be read.
pub fn class_called(
    db: &mut AnyConnection,
    code: &str,
    term_name: &str,
) -> Result<Option<(ClassId, String)>, Trouble> {
    Ok(class::table
        .inner_join(term::table)
        .filter(class::code.eq(code).and(term::name.eq(term_name)))
        .select((class::id, term::zone))
        .first(db)
        .optional()?)
}

/// The instructors of a class with their e-mail keys: in whose name the command line may act.
///
/// # Errors
/// The database cannot be read.
pub fn instructors(
    db: &mut AnyConnection,
    class: ClassId,
) -> Result<Vec<(PersonId, Option<String>)>, Trouble> {
    let teaches = enrolment::class_id
        .eq(class)
        .and(enrolment::role.eq(Word(Role::Instructor)))
        .and(enrolment::state.eq(Word(EnrolmentState::Enrolled)));
    Ok(enrolment::table
        .inner_join(person::table)
        .filter(teaches)
        .order((enrolment::joined_at, enrolment::id))
        .select((person::id, person::email_key))
        .load(db)?)
}

/// One change of a seat: listing, role, state, since when, why, whose act.
#[derive(Debug, Clone)]
pub struct SeatChange {
    pub listing: Option<String>,
    pub role: Role,
    pub state: EnrolmentState,
    pub since: chrono::NaiveDate,
    pub reason: String,
    pub by: String,
    pub at: Instant,
}

/// What became of a seat, newest first.
///
/// # Errors
/// The database cannot be read.
pub fn seat_changes(db: &mut AnyConnection, seat: EnrolmentId) -> Result<Vec<SeatChange>, Trouble> {
    type Row = (
        (Word<Role>, Word<EnrolmentState>, chrono::NaiveDate, String, Instant),
        (String, String),
        (Option<String>, Option<String>),
    );
    let rows: Vec<Row> = enrolment_change::table
        .inner_join(person::table)
        .left_join(listing::table)
        .filter(enrolment_change::enrolment_id.eq(seat))
        .order((enrolment_change::at.desc(), enrolment_change::id.desc()))
        .select((
            (
                enrolment_change::role,
                enrolment_change::state,
                enrolment_change::since,
                enrolment_change::reason,
                enrolment_change::at,
            ),
            (person::given_name, person::family_name),
            (listing::code.nullable(), listing::section.nullable()),
        ))
        .load(db)?;
    let change = |(how, (given, family), (code, section)): Row| SeatChange {
        listing: code.zip(section).map(|(code, section)| format!("{code}-{section}")),
        role: how.0.0,
        state: how.1.0,
        since: how.2,
        reason: how.3,
        by: format!("{given} {family}"),
        at: how.4,
    };
    Ok(rows.into_iter().map(change).collect())
}

/// Everybody who ever was in the class and everybody who has one of the keys, each once, by family name.
///
/// # Errors
/// The database cannot be read.
pub fn known(db: &mut AnyConnection, class: ClassId, keys: Keys<'_>) -> Result<Vec<Known>, Trouble> {
    let seats = seats(db, class)?;
    let mut ids: BTreeSet<PersonId> = seats.keys().copied().collect();
    in_parts(keys.student_numbers, |part| {
        let held = person::student_number.eq_any(part);
        ids.extend(person::table.filter(held).select(person::id).load::<PersonId>(db)?);
        Ok(())
    })?;
    in_parts(keys.email_keys, |part| {
        let held = person::email_key.eq_any(part);
        ids.extend(person::table.filter(held).select(person::id).load::<PersonId>(db)?);
        Ok(())
    })?;
    in_parts(keys.external_ids, |part| {
        let ours = theirs::owners(db, Kind::Person, part)?;
        ids.extend(ours.values().filter_map(|id| id.parse::<PersonId>().ok()));
        Ok(())
    })?;
    // A package of our own names people by the ids they have here.
    let own: Vec<PersonId> = keys.external_ids.iter().filter_map(|id| id.parse().ok()).collect();
    in_parts(&own, |part| {
        let held = person::id.eq_any(part);
        ids.extend(person::table.filter(held).select(person::id).load::<PersonId>(db)?);
        Ok(())
    })?;
    let ids: Vec<PersonId> = ids.into_iter().collect();
    let theirs = external_ids(db, &ids)?;
    let elsewhere = elsewhere(db, class, &ids)?;
    let mut people = Vec::with_capacity(ids.len());
    in_parts(&ids, |part| {
        for row in rows(db, part)? {
            people.push(row.known(&seats, &theirs, &elsewhere));
        }
        Ok(())
    })?;
    people.sort_by(|one, other| {
        let key = |known: &Known| (known.family_name.clone(), known.given_name.clone(), known.id);
        key(one).cmp(&key(other))
    });
    Ok(people)
}

/// One person as the class knows them: only somebody who is or was in it.
///
/// # Errors
/// They never were in the class, or the database cannot be read.
pub fn member(db: &mut AnyConnection, class: ClassId, id: PersonId) -> Result<Known, Trouble> {
    let seats = seats_of(db, class, Some(id))?;
    if seats.is_empty() {
        return Err(Trouble::NotFound);
    }
    let theirs = external_ids(db, &[id])?;
    let elsewhere = elsewhere(db, class, &[id])?;
    let row = rows(db, &[id])?.pop().ok_or(Trouble::NotFound)?;
    Ok(row.known(&seats, &theirs, &elsewhere))
}

type Seats = BTreeMap<PersonId, Seat>;

fn seats(db: &mut AnyConnection, class: ClassId) -> Result<Seats, Trouble> {
    seats_of(db, class, None)
}

fn seats_of(db: &mut AnyConnection, class: ClassId, only: Option<PersonId>) -> Result<Seats, Trouble> {
    type Row =
        (PersonId, EnrolmentId, Option<ListingId>, Word<Role>, Word<EnrolmentState>, chrono::NaiveDate, i64);
    let mut query = enrolment::table
        .filter(enrolment::class_id.eq(class))
        .select((
            enrolment::person_id,
            enrolment::id,
            enrolment::listing_id,
            enrolment::role,
            enrolment::state,
            enrolment::since,
            enrolment::version,
        ))
        .into_boxed();
    if let Some(only) = only {
        query = query.filter(enrolment::person_id.eq(only));
    }
    let rows: Vec<Row> = query.load(db)?;
    let seat = |(person, enrolment, listing, role, state, since, version): Row| {
        (person, Seat { enrolment, listing, role: role.0, state: state.0, since, version })
    };
    Ok(rows.into_iter().map(seat).collect())
}

#[derive(Queryable)]
struct PersonRow {
    id: PersonId,
    given_name: String,
    family_name: String,
    email: Option<String>,
    student_number: Option<String>,
    activated: bool,
    has_password: bool,
    keeper: bool,
    records: bool,
    safety_officer: bool,
    version: i64,
}

impl PersonRow {
    fn known(
        self,
        seats: &Seats,
        theirs: &BTreeMap<String, String>,
        elsewhere: &BTreeSet<PersonId>,
    ) -> Known {
        Known {
            external_id: theirs.get(self.id.as_str()).cloned(),
            in_another_class: elsewhere.contains(&self.id),
            seat: seats.get(&self.id).copied(),
            active: self.activated || self.has_password,
            has_right: self.keeper || self.records || self.safety_officer,
            id: self.id,
            given_name: self.given_name,
            family_name: self.family_name,
            email: self.email,
            student_number: self.student_number,
            version: self.version,
        }
    }
}

fn rows(db: &mut AnyConnection, ids: &[PersonId]) -> Result<Vec<PersonRow>, Trouble> {
    Ok(person::table
        .filter(person::id.eq_any(ids))
        .select((
            person::id,
            person::given_name,
            person::family_name,
            person::email,
            person::student_number,
            person::activated_at.is_not_null(),
            person::password_hash.is_not_null(),
            person::keeper,
            person::records,
            person::safety_officer,
            person::version,
        ))
        .load(db)?)
}

/// The ids that other systems gave to people, by ours.
///
/// # Errors
/// The database cannot be read.
pub fn external_ids(db: &mut AnyConnection, ids: &[PersonId]) -> Result<BTreeMap<String, String>, Trouble> {
    let ids: Vec<&str> = ids.iter().map(PersonId::as_str).collect();
    theirs::given(db, Kind::Person, &ids)
}

/// Who of these is or was in any other class.
fn elsewhere(
    db: &mut AnyConnection,
    class: ClassId,
    ids: &[PersonId],
) -> Result<BTreeSet<PersonId>, Trouble> {
    let mut found = BTreeSet::new();
    in_parts(ids, |part| {
        let other = enrolment::person_id.eq_any(part).and(enrolment::class_id.ne(class));
        let query = enrolment::table.filter(other).select(enrolment::person_id).distinct();
        found.extend(query.load::<PersonId>(db)?);
        Ok(())
    })?;
    Ok(found)
}

fn in_parts<K>(all: &[K], mut ask: impl FnMut(&[K]) -> Result<(), Trouble>) -> Result<(), Trouble> {
    all.chunks(PART).try_for_each(&mut ask)
}
