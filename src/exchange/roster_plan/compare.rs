//! The comparison: whom each row means, and what it asks for.

use std::collections::HashSet;
use std::hash::Hash;

use super::matching::{Found, Index};
use super::{Added, Known, Person, Plan, person, withdrawals};
use crate::exchange::roster::{BadRow, Complaint, Listing, Role, Roster, Row, known, shown};
use crate::trade::remark::Remark;

/// Compares a list with the people known. Every listing id in the list and in the seats is one of `listings`.
#[must_use]
pub fn compare<Id, L>(roster: &Roster<L>, people: &[Person<Id, L>], listings: &[Listing<L>]) -> Plan<Id, L>
where
    Id: Copy + Eq + Hash,
    L: Copy + Eq,
{
    let index = Index::of(people);
    let (found, claims) = matched(&roster.rows, &index, people.len());
    let class = Class { listings, known: known(listings) };
    let mut plan = Plan {
        added: Vec::new(),
        known: Vec::new(),
        withdrawals: Vec::new(),
        withdrawals_held: None,
        bad: roster.bad.clone(),
    };
    for (row, found) in roster.rows.iter().zip(&found) {
        match class.outcome(row, found, people, &claims, &index) {
            Ok(Outcome::Added(added)) => plan.added.push(added),
            Ok(Outcome::Known(known)) => plan.known.push(known),
            Err(remark) => plan.bad.push(bad(row, remark)),
        }
    }
    plan.bad.sort_by_key(|row| row.line);
    withdrawals::propose(&mut plan, roster, people, &index, &claims);
    plan
}

/// Whom each row means: by keys first, so that a row with a name alone cannot mean somebody another row is sure of.
fn matched<Id: Copy + Eq + Hash, L>(
    rows: &[Row<L>],
    index: &Index<Id>,
    people: usize,
) -> (Vec<Found>, Claims) {
    let mut claims = Claims { lines: vec![(None, None); people], sure: HashSet::new() };
    let mut found: Vec<Found> = rows.iter().map(|row| index.by_keys(&row.details)).collect();
    for (row, found) in rows.iter().zip(&found) {
        claims.take_in(found, row.line);
    }
    // A list tells a name alone at most once, so these cannot claim the same person.
    for (row, found) in rows.iter().zip(&mut found).filter(|(row, _)| row.details.is_name_only()) {
        *found = index.by_name(&row.details, |place| claims.sure.contains(&place));
        claims.take_in(found, row.line);
    }
    (found, claims)
}

enum Outcome<Id, L> {
    Added(Added<L>),
    Known(Known<Id, L>),
}

/// The class the list is for.
pub(super) struct Class<'a, L> {
    listings: &'a [Listing<L>],
    known: String,
}

impl<L: Copy + Eq> Class<'_, L> {
    fn outcome<Id: Copy + Eq + Hash>(
        &self,
        row: &Row<L>,
        found: &Found,
        people: &[Person<Id, L>],
        claims: &Claims,
        index: &Index<Id>,
    ) -> Result<Outcome<Id, L>, Remark> {
        let (place, by) = match found {
            Found::Nobody => return self.added(row, index).map(Outcome::Added),
            Found::One(place, key) => (*place, *key),
            Found::Two([(_, first), (_, second)]) => {
                return Err(Remark::new("roster-keys-disagree")
                    .with("first", first.told(&row.details))
                    .with("second", second.told(&row.details)));
            }
            Found::Namesakes => return Err(Remark::new("roster-name-unclear").with("value", name(row))),
        };
        if let Some(other) = claims.other_line(place, row.line) {
            return Err(Remark::new("roster-person-twice")
                .with("value", name(row))
                .with("other", i64::from(other)));
        }
        let Some(person) = people.get(place) else { return self.added(row, index).map(Outcome::Added) };
        person::outcome(person, row, by.field(), self).map(Outcome::Known)
    }

    fn added<Id: Copy + Eq + Hash>(&self, row: &Row<L>, index: &Index<Id>) -> Result<Added<L>, Remark> {
        let role = row.role.unwrap_or(Role::Student);
        Ok(Added {
            line: row.line,
            details: row.details.clone(),
            listing: self.listing(row, role)?,
            role,
            has_namesake: !index.namesakes(&row.details).is_empty(),
        })
    }

    /// The listing of a new seat. A student belongs to one; where the class has a single one, it need not be told.
    pub(super) fn listing(&self, row: &Row<L>, role: Role) -> Result<Option<L>, Remark> {
        match (row.listing, role, self.listings) {
            (Some(listing), ..) => Ok(Some(listing)),
            (None, Role::Assistant, _) | (None, Role::Student, []) => Ok(None),
            (None, Role::Student, [_]) => Ok(self.only_listing()),
            (None, Role::Student, _) => Err(Remark::new("roster-listing-untold")
                .with("value", name(row))
                .with("known", self.known.as_str())),
        }
    }

    pub(super) fn only_listing(&self) -> Option<L> {
        match self.listings {
            [only] => Some(only.id),
            _ => None,
        }
    }
}

/// Which people the rows lay claim to, by their places.
pub(super) struct Claims {
    /// The first two lines that mean the person, also those whose keys disagree: what such a line is about is open, so
    /// no other line may change the person meanwhile.
    lines: Vec<(Option<u32>, Option<u32>)>,
    /// Those whom a row means without doubt.
    sure: HashSet<usize>,
}

impl Claims {
    fn take_in(&mut self, found: &Found, line: u32) {
        match found {
            Found::One(place, _) => {
                self.sure.insert(*place);
                self.add(*place, line);
            }
            Found::Two(two) => two.iter().for_each(|(place, _)| self.add(*place, line)),
            Found::Nobody | Found::Namesakes => {}
        }
    }

    fn add(&mut self, place: usize, line: u32) {
        match self.lines.get_mut(place) {
            Some((first @ None, _)) => *first = Some(line),
            Some((_, second @ None)) => *second = Some(line),
            _ => {}
        }
    }

    /// Another line that means the same person.
    fn other_line(&self, place: usize, line: u32) -> Option<u32> {
        let (first, second) = self.lines.get(place).copied().unwrap_or_default();
        if first == Some(line) { second } else { first }
    }

    pub(super) fn is_claimed(&self, place: usize) -> bool {
        self.lines.get(place).is_some_and(|(first, _)| first.is_some())
    }
}

fn bad<L>(row: &Row<L>, remark: Remark) -> BadRow {
    let remark = remark.with("line", i64::from(row.line));
    let complaint = Complaint { field: None, value: name(row), remark };
    BadRow { line: row.line, complaints: vec![complaint], details: row.details.clone(), broken: false }
}

/// The name a row tells, for a sentence.
pub(super) fn name<L>(row: &Row<L>) -> String {
    shown(&format!("{} {}", row.details.given_name, row.details.family_name))
}
