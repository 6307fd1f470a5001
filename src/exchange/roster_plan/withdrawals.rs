//! Who is in the class and not in the list. Only proposed: a list may be old, or of one listing alone.

use std::collections::HashSet;
use std::hash::Hash;

use super::compare::Claims;
use super::matching::Index;
use super::{ClassRole, Person, Plan, State, Withdrawal};
use crate::exchange::roster::{BadRow, Role, Roster, name_key};
use crate::trade::remark::Remark;

/// Proposes who is enrolled and not named, unless a part of the list cannot be read: somebody may stand there. Bad rows
/// name people too. Assistants are looked for only where the list names any.
pub(super) fn propose<Id, L>(
    plan: &mut Plan<Id, L>,
    roster: &Roster<L>,
    people: &[Person<Id, L>],
    index: &Index<Id>,
    claims: &Claims,
) where
    Id: Copy + Eq + Hash,
    L: Copy + Eq,
{
    if let Some(broken) = plan.bad.iter().find(|row| row.broken) {
        plan.withdrawals_held =
            Some(Remark::new("roster-withdrawals-held").with("line", i64::from(broken.line)));
        return;
    }
    let named = named_in_bad_rows(&plan.bad, index);
    let assistants_too = roster.rows.iter().any(|row| row.role == Some(Role::Assistant));
    let told: Vec<L> = distinct(roster.rows.iter().filter_map(|row| row.listing));
    for (place, person) in people.iter().enumerate() {
        let Some(seat) = person.seat.filter(|seat| seat.state == State::Enrolled) else { continue };
        let looked_for = match seat.role {
            ClassRole::Student => true,
            ClassRole::Assistant => assistants_too,
            ClassRole::Instructor => false,
        };
        let is_in_list = claims.is_claimed(place) || named.contains(&place);
        if !looked_for || is_in_list || !index.is_first(place, person.id) {
            continue;
        }
        let listing_in_list = told.is_empty() || seat.listing.is_none_or(|listing| told.contains(&listing));
        plan.withdrawals.push(Withdrawal { person: person.id, listing_in_list });
    }
}

/// The places of those a bad row may be about, by a key or by name.
fn named_in_bad_rows<Id: Copy + Eq + Hash>(bad: &[BadRow], index: &Index<Id>) -> HashSet<usize> {
    let mut named = HashSet::new();
    let mut names = HashSet::new();
    for row in bad {
        named.extend(index.key_holders(&row.details));
        if names.insert(name_key(&row.details)) {
            named.extend(index.namesakes(&row.details));
        }
    }
    named
}

/// Each of a few values once.
fn distinct<L: Eq>(values: impl Iterator<Item = L>) -> Vec<L> {
    let mut found = Vec::new();
    for value in values {
        if !found.contains(&value) {
            found.push(value);
        }
    }
    found
}
