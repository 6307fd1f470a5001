//! What a class is and which rules of its own it has: go-ahead, gum limit, pH window, shared logs.

use chrono::NaiveDate;
use chrono_tz::Tz;
use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClassId, StudioId, TermId};
use crate::store::classes::stale;
use crate::store::connections::AnyConnection;
use crate::store::schema::{class, term};
use crate::store::write::Tx;
use crate::trade::civil;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// A class with its term.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct Class {
    pub id: ClassId,
    pub studio: StudioId,
    pub code: String,
    pub copied_from: Option<ClassId>,
    pub version: i64,
    #[diesel(embed)]
    pub rules: Rules,
    #[diesel(embed)]
    pub term: ClassTerm,
}

/// The part of a class that its instructor sets.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize)]
pub struct Rules {
    pub title: String,
    /// The edition waits for the instructor's go-ahead.
    pub go_ahead: bool,
    /// Students see each other's etch logs, names hidden.
    pub shares_logs: bool,
    /// Longest stay under dry gum, in days.
    pub gum_limit_days: Option<i32>,
    /// An etch whose measured pH lies outside is pointed out.
    pub ph_low_hundredths: Option<i32>,
    pub ph_high_hundredths: Option<i32>,
}

/// The term a class is in.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize)]
pub struct ClassTerm {
    pub id: TermId,
    pub name: String,
    pub starts: NaiveDate,
    pub ends: NaiveDate,
    pub zone: String,
}

impl Class {
    /// The zone of all its local times.
    ///
    /// # Errors
    /// The record holds no IANA zone.
    pub fn zone(&self) -> Result<Tz, Trouble> {
        civil::zone("zone", &self.term.zone)
            .map_err(|_remark| Trouble::broken("reading a zone", &self.term.zone))
    }
}

impl Rules {
    /// Checks the pH window; the complaint stands at its field.
    ///
    /// # Errors
    /// One end alone, or ends out of order.
    pub fn check(&self) -> Result<(), Trouble> {
        match (self.ph_low_hundredths, self.ph_high_hundredths) {
            (None, None) => Ok(()),
            (Some(low), Some(high)) if low < high => Ok(()),
            (Some(_), Some(_)) => Err(Trouble::about("ph_high", Remark::new("classes-ph-order"))),
            (Some(_), None) => Err(Trouble::about("ph_high", Remark::new("classes-ph-one-end"))),
            (None, Some(_)) => Err(Trouble::about("ph_low", Remark::new("classes-ph-one-end"))),
        }
    }
}

/// One class.
///
/// # Errors
/// `NotFound`, or the database cannot be read.
pub fn class(db: &mut AnyConnection, id: ClassId) -> Result<Class, Trouble> {
    Ok(class::table
        .inner_join(term::table)
        .filter(class::id.eq(id))
        .select((
            class::id,
            class::studio_id,
            class::code,
            class::copied_from,
            class::version,
            (
                class::title,
                class::go_ahead,
                class::shares_logs,
                class::gum_limit_days,
                class::ph_low_hundredths,
                class::ph_high_hundredths,
            ),
            (term::id, term::name, term::starts, term::ends, term::zone),
        ))
        .first(db)?)
}

impl Tx<'_> {
    /// Sets a class's own rules, if it still has the version it was shown with.
    ///
    /// # Errors
    /// `NotFound`, `Stale`, complaints, or the database refuses.
    pub fn set_rules(&mut self, id: ClassId, version: i64, rules: &Rules) -> Result<(), Trouble> {
        rules.check()?;
        let before = class(self.connection, id)?;
        let changed = diesel::update(class::table.find(id).filter(class::version.eq(version)))
            .set((
                class::title.eq(&rules.title),
                class::go_ahead.eq(rules.go_ahead),
                class::shares_logs.eq(rules.shares_logs),
                class::gum_limit_days.eq(rules.gum_limit_days),
                class::ph_low_hundredths.eq(rules.ph_low_hundredths),
                class::ph_high_hundredths.eq(rules.ph_high_hundredths),
                class::version.eq(version + 1),
            ))
            .execute(self.connection)?;
        if changed == 0 {
            return Err(stale());
        }
        self.journal("class.rules_set", id, &json!({ "before": before.rules, "after": rules }))
    }
}
