//! A plan in plain lines, for the command line.

use crate::exchange::roster::Listing;
use crate::exchange::roster_plan::Known as Row;
use crate::ids::{ListingId, PersonId};
use crate::pages::roster::ids;
use crate::pages::roster::import::{self, Looked};
use crate::pages::roster::{role_key, whole_name};
use crate::speech::Speech;
use crate::trade::remark::Remark;

/// What a list would do or did, line by line, the sum first.
#[must_use]
pub fn lines(looked: &Looked, speech: &Speech) -> Vec<String> {
    let telling = Telling { looked, speech };
    let plan = &looked.plan;
    let mut lines = vec![telling.sum()];
    for row in &plan.bad {
        lines.extend(row.complaints.iter().map(|complaint| speech.remark(&complaint.remark)));
    }
    for row in &plan.added {
        let name = whole_name(&row.details.given_name, &row.details.family_name);
        lines.push(
            speech.remark(
                &Remark::new("roster-import-new").with("line", i64::from(row.line)).with("name", name),
            ),
        );
    }
    for row in &plan.known {
        telling.row(row, &mut lines);
    }
    for withdrawal in &plan.withdrawals {
        let remark = Remark::new("roster-import-missing").with("name", telling.name(withdrawal.person));
        lines.push(speech.remark(&remark));
    }
    lines.extend(plan.withdrawals_held.iter().map(|remark| speech.remark(remark)));
    lines.extend(looked.roster.notes.iter().map(|remark| speech.remark(remark)));
    lines.extend(ids::kept(&looked.given, speech));
    lines.extend(ids::notes(&looked.given, speech));
    lines
}

struct Telling<'a> {
    looked: &'a Looked,
    speech: &'a Speech,
}

impl Telling<'_> {
    fn sum(&self) -> String {
        let plan = &self.looked.plan;
        let count = |number: usize| i64::try_from(number).unwrap_or(i64::MAX);
        let remark = Remark::new("roster-import-told")
            .with("added", count(plan.added.len()))
            .with("joined", count(plan.joining().count()))
            .with("changed", count(plan.changed().count()))
            .with("moved", count(plan.moved().count()))
            .with("back", count(plan.brought_back().count()))
            .with("same", count(plan.nothing_to_do().count()))
            .with("bad", count(plan.bad.len()));
        self.speech.remark(&remark)
    }

    fn name(&self, id: PersonId) -> String {
        let known = self.looked.people.get(&id);
        known.map(|known| whole_name(&known.given_name, &known.family_name)).unwrap_or_default()
    }

    fn row(&self, row: &Row<PersonId, ListingId>, lines: &mut Vec<String>) {
        for what in self.parts(row) {
            let remark = Remark::new("roster-import-row")
                .with("line", i64::from(row.line))
                .with("name", self.name(row.person))
                .with("what", what);
            lines.push(self.speech.remark(&remark));
        }
        for left in &row.left_alone {
            let remark = Remark::new("roster-import-left")
                .with("line", i64::from(row.line))
                .with("what", self.speech.plain(left.field.key()))
                .with("told", left.told.as_str());
            lines.push(self.speech.remark(&remark));
        }
    }

    fn parts(&self, row: &Row<PersonId, ListingId>) -> Vec<String> {
        let mut parts = Vec::new();
        if row.joins.is_some() {
            parts.push(self.speech.plain("roster-import-joins"));
        }
        if row.brought_back {
            parts.push(self.speech.plain("roster-import-back"));
        }
        if let Some(moved) = row.moved {
            let listing = self.looked.listings.iter().find(|listing| listing.id == moved.new);
            let label = listing.map(Listing::label).unwrap_or_default();
            parts.push(self.speech.remark(&Remark::new("roster-import-moved").with("listing", label)));
        }
        let change = |what: &str, old: &str, new: &str| {
            let remark = Remark::new("roster-import-change")
                .with("what", self.speech.plain(what))
                .with("old", old)
                .with("new", new);
            self.speech.remark(&remark)
        };
        if let Some(role) = row.role {
            let seat = self.looked.people.get(&row.person).and_then(|known| known.seat);
            let old = seat.map(|seat| self.speech.plain(role_key(seat.role))).unwrap_or_default();
            let new = self.speech.plain(role_key(import::role(role.new)));
            parts.push(change("roster-field-role", &old, &new));
        }
        parts.extend(row.changes.iter().map(|one| change(one.field.key(), &one.old, &one.new)));
        parts
    }
}
