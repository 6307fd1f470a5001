//! What a row asks for of a person already known, and what it must leave alone.

use super::compare::{Class, name};
use super::{Change, ClassRole, Joins, Known, LeftAlone, Moved, Person, RoleChange, State};
use crate::exchange::roster::{Details, Field, Role, Row, email_key};
use crate::trade::remark::Remark;

pub(super) fn outcome<Id: Copy, L: Copy + Eq>(
    person: &Person<Id, L>,
    row: &Row<L>,
    by: Option<Field>,
    class: &Class<'_, L>,
) -> Result<Known<Id, L>, Remark> {
    let mut known = Known {
        line: row.line,
        person: person.id,
        by,
        joins: None,
        brought_back: false,
        moved: None,
        role: None,
        changes: Vec::new(),
        left_alone: Vec::new(),
    };
    let differences = differences(&person.details, &row.details);
    if is_protected(person) {
        let told = |change: Change| LeftAlone { field: change.field, told: change.new };
        known.left_alone = differences.into_iter().map(told).collect();
    } else {
        known.changes = differences;
    }
    let Some(seat) = &person.seat else {
        let role = row.role.unwrap_or(Role::Student);
        known.joins = Some(Joins { listing: class.listing(row, role)?, role });
        return Ok(known);
    };
    if seat.role == ClassRole::Instructor {
        return match row.role {
            None => Ok(known),
            Some(_) => Err(Remark::new("roster-row-of-instructor").with("value", name(row))),
        };
    }
    known.brought_back = matches!(seat.state, State::Dropped | State::Withdrawn);
    known.role = row
        .role
        .filter(|role| ClassRole::from(*role) != seat.role)
        .map(|new| RoleChange { old: seat.role, new });
    let is_student = known.role.map_or(seat.role, |change| change.new.into()) == ClassRole::Student;
    let listing = match (row.listing, seat.listing) {
        (None, None) if is_student => class.only_listing(),
        (told, _) => told,
    };
    known.moved =
        listing.filter(|listing| seat.listing != Some(*listing)).map(|new| Moved { old: seat.listing, new });
    Ok(known)
}

/// Name, e-mail and numbers are not for a list to change where the person can sign in, belongs to others too, or has
/// rights that go beyond a seat.
fn is_protected<Id, L>(person: &Person<Id, L>) -> bool {
    person.has_account
        || person.in_another_class
        || person.has_school_right
        || person.seat.as_ref().is_some_and(|seat| seat.role == ClassRole::Instructor)
}

/// What the list says otherwise than is known. What it does not say is no difference.
fn differences(known: &Details, told: &Details) -> Vec<Change> {
    let mut found = Vec::new();
    let mut differs = |field, old: &str, new: &str| {
        found.push(Change { field, old: old.to_owned(), new: new.to_owned() });
    };
    if !is_same_name(&known.given_name, &told.given_name) {
        differs(Field::GivenName, &known.given_name, &told.given_name);
    }
    if !is_same_name(&known.family_name, &told.family_name) {
        differs(Field::FamilyName, &known.family_name, &told.family_name);
    }
    let same_address = |old: &str, new: &str| email_key(old) == email_key(new);
    let exactly = |old: &str, new: &str| old == new;
    type Same<'a> = &'a dyn Fn(&str, &str) -> bool;
    let keys: [(Field, &Option<String>, &Option<String>, Same<'_>); 3] = [
        (Field::Email, &known.email, &told.email, &same_address),
        (Field::StudentNumber, &known.student_number, &told.student_number, &exactly),
        (Field::ExternalId, &known.external_id, &told.external_id, &exactly),
    ];
    for (field, old, new, same) in keys {
        let (old, Some(new)) = (old.as_deref().unwrap_or_default(), new) else { continue };
        if !same(old, new) {
            differs(field, old, new);
        }
    }
    found
}

/// Nothing told, the same letters, or the same name in the capitals that some offices write: those would undo a name
/// put right by hand.
fn is_same_name(known: &str, told: &str) -> bool {
    told.is_empty() || told == known || (is_shouted(told) && told.to_lowercase() == known.to_lowercase())
}

fn is_shouted(name: &str) -> bool {
    name.chars().any(char::is_uppercase) && !name.chars().any(char::is_lowercase)
}
