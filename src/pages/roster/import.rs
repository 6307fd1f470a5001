//! A class list between the record and the comparison: who is known goes in, the plan comes out, and what was shown is
//! carried out in one transaction. The rules of what a list may do are the comparison's (`exchange::roster_plan`).

use std::collections::{HashMap, HashSet};

use chrono::NaiveDate;
use serde_json::json;

use crate::exchange::oneroster::{Given, Told};
use crate::exchange::roster::{self, Details, Field, Listing, Roster};
use crate::exchange::roster_plan::{self, Added, ClassRole, Known as Row, State, compare};
use crate::ids::{ClassId, ListingId, PersonId};
use crate::secrets::{ServerKey, sha256_hex};
use crate::store::people::persons::NewPerson;
use crate::store::people::roster::{self as record, Keys, Known};
use crate::store::people::seats::{NewDetails, NewSeat};
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::{AnyConnection, Tx};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

pub type Plan = roster_plan::Plan<PersonId, ListingId>;

/// A list as it was read and compared.
#[derive(Debug)]
pub struct Looked {
    pub roster: Roster<ListingId>,
    pub plan: Plan,
    pub people: HashMap<PersonId, Known>,
    pub listings: Vec<Listing<ListingId>>,
    /// What is kept of another system's ids of the class.
    pub given: Given,
    /// The same digest, the same plan: SHA-256 of all that would be done, and of what is known of whom it is done to.
    pub digest: String,
}

/// What a person decided about a plan.
#[derive(Debug, Clone)]
pub struct Orders {
    pub withdraw: Vec<PersonId>,
    /// With the server's key: invite everybody who comes in without an account.
    pub invite: Option<ServerKey>,
    pub today: NaiveDate,
    pub reason: String,
    pub reason_withdrawn: String,
}

impl Looked {
    /// Neither anybody nor any id of the class is added or changed; withdrawals may still be proposed.
    #[must_use]
    pub fn asks_for_nothing(&self) -> bool {
        self.plan.asks_for_nothing() && self.given.keeps.is_empty()
    }
}

/// Reads a list that came in a package, with what that calls the class.
///
/// # Errors
/// The list as a whole cannot be used: a complaint at the field `file`.
pub fn look_with(
    db: &mut AnyConnection,
    class: ClassId,
    bytes: &[u8],
    told: &Told,
) -> Result<Looked, Trouble> {
    let listings = listings(db, class)?;
    let nobody = Roster { rows: Vec::new(), bad: Vec::new(), notes: Vec::new(), ignored: Vec::new() };
    let read = match roster::read(bytes, &listings) {
        // A package may be of a class that nobody is in yet; that says nothing about who is in it here.
        Err(remark) if remark.key == "roster-no-rows" && *told != Told::default() => nobody,
        read => read.map_err(|remark| Trouble::about("file", remark))?,
    };
    let empty = read.rows.is_empty() && read.bad.is_empty();
    let mut looked = look_at(db, class, read, listings)?;
    if empty {
        looked.plan.withdrawals.clear();
    }
    looked.given = Given::of(db, class, told)?;
    if looked.given != Given::default() {
        looked.digest = sha256_hex(format!("{} {:?}", looked.digest, looked.given).as_bytes());
    }
    Ok(looked)
}

/// Reads a list and compares it with the class and the school.
///
/// # Errors
/// The list as a whole cannot be used: a complaint at the field `file`.
pub fn look(db: &mut AnyConnection, class: ClassId, bytes: &[u8]) -> Result<Looked, Trouble> {
    let listings = listings(db, class)?;
    let read = roster::read(bytes, &listings).map_err(|remark| Trouble::about("file", remark))?;
    look_at(db, class, read, listings)
}

/// Compares rows already read.
///
/// # Errors
/// The database cannot be read.
pub fn look_at(
    db: &mut AnyConnection,
    class: ClassId,
    roster: Roster<ListingId>,
    listings: Vec<Listing<ListingId>>,
) -> Result<Looked, Trouble> {
    let told = roster.keys();
    let keys = Keys {
        external_ids: &told.external_ids,
        student_numbers: &told.student_numbers,
        email_keys: &told.email_keys,
    };
    let known = record::known(db, class, keys)?;
    let told: HashSet<&str> = told.external_ids.iter().map(String::as_str).collect();
    let people: Vec<_> = known.iter().map(|known| person(known, &told)).collect();
    let plan = compare(&roster, &people, &listings);
    let digest = sha256_hex(format!("{class} {plan:?}").as_bytes());
    let people = known.into_iter().map(|known| (known.id, known)).collect();
    Ok(Looked { roster, plan, people, listings, given: Given::default(), digest })
}

/// The listings of a class, as lists name them.
///
/// # Errors
/// The database cannot be read.
pub fn listings(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Listing<ListingId>>, Trouble> {
    let listing = |(id, code, section)| Listing { id, code, section };
    Ok(record::listings(db, class)?.into_iter().map(listing).collect())
}

/// Somebody known, as lists name people. Where a list has the id a person has here, as a package of our own does, that is
/// the id another system would have given them.
fn person(known: &Known, told: &HashSet<&str>) -> roster_plan::Person<PersonId, ListingId> {
    let theirs = known.external_id.as_deref().filter(|id| told.contains(id));
    let own = Some(known.id.as_str()).filter(|id| theirs.is_none() && told.contains(id));
    roster_plan::Person {
        id: known.id,
        details: Details {
            given_name: known.given_name.clone(),
            family_name: known.family_name.clone(),
            email: known.email.clone(),
            student_number: known.student_number.clone(),
            external_id: own.map(str::to_owned).or_else(|| known.external_id.clone()),
        },
        has_account: known.active,
        in_another_class: known.in_another_class,
        has_school_right: known.has_right,
        seat: known.seat.map(|seat| roster_plan::Seat {
            listing: seat.listing,
            state: match seat.state {
                EnrolmentState::Enrolled => State::Enrolled,
                EnrolmentState::Dropped => State::Dropped,
                EnrolmentState::Withdrawn => State::Withdrawn,
                EnrolmentState::Incomplete => State::Incomplete,
            },
            role: match seat.role {
                Role::Student => ClassRole::Student,
                Role::Assistant => ClassRole::Assistant,
                Role::Instructor => ClassRole::Instructor,
            },
        }),
    }
}

/// The store's word for a role a list may give.
#[must_use]
pub fn role(role: roster::Role) -> Role {
    match role {
        roster::Role::Student => Role::Student,
        roster::Role::Assistant => Role::Assistant,
    }
}

/// Carries out a plan that was shown and is still the same.
///
/// # Errors
/// Somebody changed the class meanwhile (`Stale`), or the database refuses; then nothing is kept.
pub fn carry_out(tx: &mut Tx<'_>, class: ClassId, looked: &Looked, orders: &Orders) -> Result<(), Trouble> {
    carry_out_all(tx, class, looked, orders).map_err(|trouble| match trouble {
        // Another class brought a person with the same key between the look and the act.
        Trouble::Taken => Trouble::Stale(Remark::new("roster-stale")),
        other => other,
    })
}

fn carry_out_all(tx: &mut Tx<'_>, class: ClassId, looked: &Looked, orders: &Orders) -> Result<(), Trouble> {
    let (plan, mut new) = (&looked.plan, Vec::new());
    for row in plan.known.iter().filter(|row| !row.asks_for_nothing()) {
        let known = looked.people.get(&row.person).ok_or(Trouble::NotFound)?;
        if change(tx, class, row, known, orders)? && !known.active {
            new.push(known.id);
        }
    }
    new.extend(add_all(tx, class, &plan.added, orders)?);
    for id in &orders.withdraw {
        withdraw(tx, looked, *id, orders)?;
    }
    looked.given.keep(tx)?;
    if let Some(key) = &orders.invite {
        for id in &new {
            tx.invite(key, *id, Some(class))?;
        }
    }
    tx.journal(
        "roster.brought",
        class,
        &json!({
            "plan": looked.digest, "added": plan.added.len(), "joined": plan.joining().count(),
            "changed": plan.changed().count(), "moved": plan.moved().count(),
            "brought_back": plan.brought_back().count(), "withdrawn": orders.withdraw.len(),
            "bad": plan.bad.len(), "ids": looked.given.keeps,
        }),
    )
}

/// Adds people and seats them: first all people, then all seats, then all changes. PostgreSQL plans its checks of what a
/// row refers to when it makes the first; made over an empty table, they would read all of it for each row.
fn add_all(
    tx: &mut Tx<'_>,
    class: ClassId,
    rows: &[Added<ListingId>],
    orders: &Orders,
) -> Result<Vec<PersonId>, Trouble> {
    let people = rows.iter().map(|row| add(tx, row)).collect::<Result<Vec<_>, _>>()?;
    let mut seats = Vec::new();
    for (row, id) in rows.iter().zip(&people) {
        seats.push(tx.seat_new(class, *id, row.listing, role(row.role), orders.today)?);
    }
    for (row, seat) in rows.iter().zip(seats) {
        let (role, state) = (role(row.role), EnrolmentState::Enrolled);
        tx.keep_enrolment_change(seat, row.listing, role, state, orders.today, &orders.reason)?;
    }
    Ok(people)
}

fn add(tx: &mut Tx<'_>, row: &Added<ListingId>) -> Result<PersonId, Trouble> {
    let told = &row.details;
    let id = tx.add_person(&NewPerson {
        given_name: told.given_name.clone(),
        family_name: told.family_name.clone(),
        email: told.email.clone(),
        student_number: told.student_number.clone(),
    })?;
    if let Some(theirs) = &told.external_id {
        tx.keep_external_id(id, theirs)?;
    }
    Ok(id)
}

/// Changes somebody known; true if they come into the class by it.
fn change(
    tx: &mut Tx<'_>,
    class: ClassId,
    row: &Row<PersonId, ListingId>,
    known: &Known,
    orders: &Orders,
) -> Result<bool, Trouble> {
    if !row.changes.is_empty() {
        tx.change_details(class, known.id, known.version, &details(row))?;
    }
    if let Some(joins) = row.joins {
        tx.enrol(class, known.id, joins.listing, role(joins.role), orders.today, &orders.reason)?;
        return Ok(true);
    }
    if row.brought_back || row.moved.is_some() || row.role.is_some() {
        let old = known.seat.ok_or(Trouble::NotFound)?;
        let new = NewSeat {
            listing: row.moved.map_or(old.listing, |moved| Some(moved.new)),
            role: row.role.map_or(old.role, |change| role(change.new)),
            state: if row.brought_back { EnrolmentState::Enrolled } else { old.state },
            since: orders.today,
        };
        tx.change_seat(&old, new, &orders.reason)?;
    }
    Ok(row.brought_back)
}

fn details(row: &Row<PersonId, ListingId>) -> NewDetails {
    let new = |field: Field| {
        row.changes.iter().find(|change| change.field == field).map(|change| change.new.clone())
    };
    NewDetails {
        given_name: new(Field::GivenName),
        family_name: new(Field::FamilyName),
        email: new(Field::Email),
        student_number: new(Field::StudentNumber),
        external_id: new(Field::ExternalId),
    }
}

fn withdraw(tx: &mut Tx<'_>, looked: &Looked, id: PersonId, orders: &Orders) -> Result<(), Trouble> {
    let proposed = looked.plan.withdrawals.iter().any(|withdrawal| withdrawal.person == id);
    let seat = looked.people.get(&id).filter(|_| proposed).and_then(|known| known.seat);
    let old =
        seat.ok_or_else(|| Trouble::about("", Remark::new("form-no-choice").with("value", id.as_str())))?;
    let new = NewSeat {
        listing: old.listing,
        role: old.role,
        state: EnrolmentState::Withdrawn,
        since: orders.today,
    };
    tx.change_seat(&old, new, &orders.reason_withdrawn)
}
