//! What a class list would do, as people look it over before anything is done.

use serde::Serialize;

use crate::exchange::roster::{BadRow, Listing};
use crate::exchange::roster_plan::{Added, Known as Row};
use crate::ids::{ListingId, PersonId};
use crate::pages::fields::Form;
use crate::pages::roster::ids;
use crate::pages::roster::import::{self, Looked};
use crate::pages::roster::{role_key, whole_name};
use crate::speech::Speech;

#[derive(Debug, Serialize)]
pub struct Preview {
    class_path: String,
    form: Form,
    /// Why the plan is shown again.
    stale: Option<String>,
    /// Whether there is anything to confirm.
    asks: bool,
    /// The list itself asks for no change; who is missing from it may still be withdrawn.
    idle: bool,
    /// Somebody comes in who may be invited.
    invites: bool,
    added: Vec<Line>,
    joining: Vec<Line>,
    changed: Vec<Line>,
    moved: Vec<Line>,
    back: Vec<Line>,
    alone: Vec<Line>,
    withdrawals: Vec<Withdrawal>,
    held: Option<String>,
    bad: Vec<Bad>,
    nothing: Vec<Line>,
    /// Which ids of the class are kept.
    ids: Option<String>,
    notes: Vec<String>,
    ignored: Option<String>,
}

/// A row of the list and what it asks for.
#[derive(Debug, Default, Serialize)]
struct Line {
    line: u32,
    name: String,
    email: Option<String>,
    number: Option<String>,
    listing: Option<String>,
    role: Option<&'static str>,
    old_listing: Option<String>,
    namesake: bool,
    changes: Vec<Change>,
    left: Vec<Change>,
}

#[derive(Debug, Serialize)]
struct Change {
    what: String,
    old: Option<String>,
    new: String,
}

#[derive(Debug, Serialize)]
struct Withdrawal {
    id: PersonId,
    name: String,
    listing: Option<String>,
    /// The list names nobody else of this person's listing.
    apart: bool,
    ticked: bool,
}

#[derive(Debug, Serialize)]
struct Bad {
    line: u32,
    sentences: Vec<String>,
}

impl Preview {
    pub fn of(looked: &Looked, class_path: String, form: Form, ticked: &[PersonId], speech: &Speech) -> Self {
        let view = Viewing { looked, speech };
        let plan = &looked.plan;
        let bad = |row: &BadRow| Bad {
            line: row.line,
            sentences: row.complaints.iter().map(|complaint| speech.remark(&complaint.remark)).collect(),
        };
        let ignored = looked.roster.ignored.join(", ");
        Self {
            class_path,
            form,
            stale: None,
            asks: !looked.asks_for_nothing() || !plan.withdrawals.is_empty(),
            idle: looked.asks_for_nothing(),
            invites: !plan.added.is_empty()
                || plan.known.iter().any(|row| row.joins.is_some() || row.brought_back),
            added: plan.added.iter().map(|row| view.added(row)).collect(),
            joining: plan.joining().map(|row| view.row(row)).collect(),
            changed: plan.changed().map(|row| view.row(row)).collect(),
            moved: plan.moved().map(|row| view.row(row)).collect(),
            back: plan.brought_back().map(|row| view.row(row)).collect(),
            alone: (plan.known.iter())
                .filter(|row| row.joins.is_none() && !row.left_alone.is_empty())
                .map(|row| view.row(row))
                .collect(),
            withdrawals: view.withdrawals(ticked),
            held: plan.withdrawals_held.as_ref().map(|remark| speech.remark(remark)),
            bad: plan.bad.iter().map(bad).collect(),
            nothing: plan.nothing_to_do().map(|row| view.row(row)).collect(),
            ids: ids::kept(&looked.given, speech),
            notes: (looked.roster.notes.iter().map(|remark| speech.remark(remark)))
                .chain(ids::notes(&looked.given, speech))
                .collect(),
            ignored: (!ignored.is_empty()).then_some(ignored),
        }
    }

    /// The same, shown once more because of what the sentence says.
    #[must_use]
    pub fn again(mut self, sentence: String) -> Self {
        self.stale = Some(sentence);
        self
    }
}

struct Viewing<'a> {
    looked: &'a Looked,
    speech: &'a Speech,
}

impl Viewing<'_> {
    fn listing(&self, id: Option<ListingId>) -> Option<String> {
        let id = id?;
        self.looked.listings.iter().find(|listing| listing.id == id).map(Listing::label)
    }

    fn name(&self, id: PersonId) -> String {
        let known = self.looked.people.get(&id);
        known.map(|known| whole_name(&known.given_name, &known.family_name)).unwrap_or_default()
    }

    fn added(&self, row: &Added<ListingId>) -> Line {
        Line {
            line: row.line,
            name: whole_name(&row.details.given_name, &row.details.family_name),
            email: row.details.email.clone(),
            number: row.details.student_number.clone(),
            listing: self.listing(row.listing),
            role: Some(role_key(import::role(row.role))),
            namesake: row.has_namesake,
            ..Line::default()
        }
    }

    fn row(&self, row: &Row<PersonId, ListingId>) -> Line {
        let seat = self.looked.people.get(&row.person).and_then(|known| known.seat);
        let mut changes: Vec<Change> = row
            .changes
            .iter()
            .map(|change| Change {
                what: self.speech.plain(change.field.key()),
                old: Some(change.old.clone()).filter(|old| !old.is_empty()),
                new: change.new.clone(),
            })
            .collect();
        if let (Some(change), Some(seat)) = (row.role, seat) {
            changes.push(Change {
                what: self.speech.plain("roster-field-role"),
                old: Some(self.speech.plain(role_key(seat.role))),
                new: self.speech.plain(role_key(import::role(change.new))),
            });
        }
        let left = row.left_alone.iter().map(|left| Change {
            what: self.speech.plain(left.field.key()),
            old: None,
            new: left.told.clone(),
        });
        let listing = match (row.joins, row.moved, seat) {
            (Some(joins), ..) => joins.listing,
            (_, Some(moved), _) => Some(moved.new),
            (_, _, seat) => seat.and_then(|seat| seat.listing),
        };
        Line {
            line: row.line,
            name: self.name(row.person),
            listing: self.listing(listing),
            old_listing: self.listing(row.moved.and_then(|moved| moved.old)),
            role: row.joins.map(|joins| role_key(import::role(joins.role))),
            changes,
            left: left.collect(),
            ..Line::default()
        }
    }

    fn withdrawals(&self, ticked: &[PersonId]) -> Vec<Withdrawal> {
        let proposed = self.looked.plan.withdrawals.iter();
        proposed
            .map(|withdrawal| Withdrawal {
                id: withdrawal.person,
                name: self.name(withdrawal.person),
                listing: self.listing(
                    self.looked.people.get(&withdrawal.person).and_then(|known| known.seat?.listing),
                ),
                apart: !withdrawal.listing_in_list,
                ticked: ticked.contains(&withdrawal.person),
            })
            .collect()
    }
}
