//! Terms: a name, first and last day, and the zone in which all local times of their classes are read.

use chrono::NaiveDate;
use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::TermId;
use crate::store::classes::stale;
use crate::store::connections::AnyConnection;
use crate::store::schema::term;
use crate::store::write::Tx;
use crate::trade::civil;
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

/// A term.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize)]
pub struct Term {
    pub id: TermId,
    pub name: String,
    pub starts: NaiveDate,
    pub ends: NaiveDate,
    /// An IANA name, `America/New_York`.
    pub zone: String,
    pub version: i64,
}

/// What people type about a term.
#[derive(Debug, Clone, serde::Serialize)]
pub struct TermDraft {
    pub name: String,
    pub starts: NaiveDate,
    pub ends: NaiveDate,
    pub zone: String,
}

/// The longest a term may be: more is a slip of the finger.
const MOST_DAYS: i64 = 400;

impl TermDraft {
    /// Checks days and zone; complaints stand at the fields.
    ///
    /// # Errors
    /// All complaints.
    pub fn check(&self) -> Result<(), Trouble> {
        let mut complaints = Vec::new();
        let days = self.ends.signed_duration_since(self.starts).num_days();
        if days <= 0 {
            complaints.push(Complaint::new("ends", Remark::new("classes-term-ends-before")));
        } else if days > MOST_DAYS {
            let remark = Remark::new("classes-term-too-long").with("days", days).with("most", MOST_DAYS);
            complaints.push(Complaint::new("ends", remark));
        }
        if civil::zone("zone", &self.zone).is_err() {
            let remark = Remark::new("classes-zone-unknown").with("value", self.zone.as_str());
            complaints.push(Complaint::new("zone", remark));
        }
        if complaints.is_empty() { Ok(()) } else { Err(Trouble::Complaints(complaints)) }
    }
}

const COLUMNS: (term::id, term::name, term::starts, term::ends, term::zone, term::version) =
    (term::id, term::name, term::starts, term::ends, term::zone, term::version);

/// All terms, the newest first.
///
/// # Errors
/// The database cannot be read.
pub fn terms(db: &mut AnyConnection) -> Result<Vec<Term>, Trouble> {
    Ok(term::table.order((term::starts.desc(), term::name)).select(COLUMNS).load(db)?)
}

/// One term.
///
/// # Errors
/// `NotFound`, or the database cannot be read.
pub fn term(db: &mut AnyConnection, id: TermId) -> Result<Term, Trouble> {
    Ok(term::table.find(id).select(COLUMNS).first(db)?)
}

/// A name that another term has already is a complaint about the name.
fn named_before(trouble: Trouble) -> Trouble {
    match trouble {
        Trouble::Taken => Trouble::about("name", Remark::new("classes-term-name-taken")),
        other => other,
    }
}

impl Tx<'_> {
    /// Makes a term.
    ///
    /// # Errors
    /// Complaints, or the database refuses.
    pub fn add_term(&mut self, draft: &TermDraft) -> Result<TermId, Trouble> {
        draft.check()?;
        let (id, now): (TermId, _) = (self.id(), self.now);
        self.attempt(|db| {
            diesel::insert_into(term::table)
                .values((
                    term::id.eq(id),
                    term::name.eq(&draft.name),
                    term::starts.eq(draft.starts),
                    term::ends.eq(draft.ends),
                    term::zone.eq(&draft.zone),
                    term::created_at.eq(now),
                    term::version.eq(1),
                ))
                .execute(db)?;
            Ok(())
        })
        .map_err(named_before)?;
        self.journal("term.added", id, &json!(draft))?;
        Ok(id)
    }

    /// Changes a term, if it still has the version it was shown with. Due dates keep their local time: another zone
    /// moves the moments they mean.
    ///
    /// # Errors
    /// `NotFound`, `Stale`, complaints, or the database refuses.
    pub fn change_term(&mut self, id: TermId, version: i64, draft: &TermDraft) -> Result<(), Trouble> {
        draft.check()?;
        let before = term(self.connection, id)?;
        let changed = self
            .attempt(|db| {
                Ok(diesel::update(term::table.find(id).filter(term::version.eq(version)))
                    .set((
                        term::name.eq(&draft.name),
                        term::starts.eq(draft.starts),
                        term::ends.eq(draft.ends),
                        term::zone.eq(&draft.zone),
                        term::version.eq(version + 1),
                    ))
                    .execute(db)?)
            })
            .map_err(named_before)?;
        if changed == 0 {
            return Err(stale());
        }
        self.journal("term.changed", id, &json!({ "before": before, "after": draft }))
    }

    /// The term counts as archived from now on, if it did not before.
    ///
    /// # Errors
    /// `NotFound`, or the database refuses.
    pub fn archive_term(&mut self, id: TermId) -> Result<(), Trouble> {
        let known: Option<Instant> = term::table.find(id).select(term::archived_at).first(self.connection)?;
        if known.is_some() {
            return Ok(());
        }
        diesel::update(term::table.find(id)).set(term::archived_at.eq(self.now)).execute(self.connection)?;
        self.journal("term.archived", id, &json!({}))
    }
}
