//! The ids by which other systems know what is ours: people, a class, and what a class stands in. Each thing has at most
//! one, and each id of a kind belongs to one thing.

use std::collections::BTreeMap;

use diesel::prelude::*;
use serde_json::json;

use crate::store::connections::AnyConnection;
use crate::store::schema::external_id;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

crate::spelled! {
    /// What an id is about.
    Kind {
        Person = "person",
        Class = "class",
        Term = "term",
        Year = "year",
        Course = "course",
        School = "school",
        Department = "department",
        Category = "category",
        Assessment = "assessment",
    }
}

impl Kind {
    /// Kinds whose ids must not be the same as one of this kind either: they stand in one file of a package.
    #[must_use]
    pub const fn beside(self) -> Self {
        match self {
            Self::Term => Self::Year,
            Self::Year => Self::Term,
            Self::School => Self::Department,
            Self::Department => Self::School,
            other => other,
        }
    }

    /// Whether other classes may stand in the same thing.
    #[must_use]
    pub const fn is_shared(self) -> bool {
        matches!(self, Self::Term | Self::Year | Self::Course | Self::School | Self::Department)
    }
}

/// How rows of `external_id` say that a class list brought them.
const SOURCE: &str = "roster";
/// Values asked for in one statement: SQLite takes 32 766.
const PART: usize = 1_000;

/// The ids given to some things, by ours.
///
/// # Errors
/// The database cannot be read.
pub fn given(db: &mut AnyConnection, kind: Kind, ours: &[&str]) -> Result<BTreeMap<String, String>, Trouble> {
    let mut found = BTreeMap::new();
    for part in ours.chunks(PART) {
        let about = external_id::kind
            .eq(kind.word())
            .and(external_id::source.eq(SOURCE))
            .and(external_id::ours.eq_any(part));
        let query = external_id::table.filter(about).select((external_id::ours, external_id::theirs));
        found.extend(query.load::<(String, String)>(db)?);
    }
    Ok(found)
}

/// Whose some ids are, ours by theirs.
///
/// # Errors
/// The database cannot be read.
pub fn owners(
    db: &mut AnyConnection,
    kind: Kind,
    theirs: &[String],
) -> Result<BTreeMap<String, String>, Trouble> {
    let mut found = BTreeMap::new();
    for part in theirs.chunks(PART) {
        let held = external_id::kind
            .eq(kind.word())
            .and(external_id::source.eq(SOURCE))
            .and(external_id::theirs.eq_any(part));
        let query = external_id::table.filter(held).select((external_id::theirs, external_id::ours));
        found.extend(query.load::<(String, String)>(db)?);
    }
    Ok(found)
}

impl Tx<'_> {
    /// Keeps the id another system gave something. The one it had before is in the journal.
    ///
    /// # Errors
    /// It belongs to something else (`Taken`), which ends the act; or the database refuses.
    pub fn keep_theirs(&mut self, kind: Kind, ours: &str, theirs: &str) -> Result<(), Trouble> {
        let before = given(self.connection, kind, &[ours])?.remove(ours);
        if before.as_deref() == Some(theirs) {
            return Ok(());
        }
        if before.is_some() {
            diesel::update(external_id::table.filter(row(kind, ours)))
                .set(external_id::theirs.eq(theirs))
                .execute(self.connection)?;
        } else {
            diesel::insert_into(external_id::table)
                .values((
                    external_id::kind.eq(kind.word()),
                    external_id::source.eq(SOURCE),
                    external_id::ours.eq(ours),
                    external_id::theirs.eq(theirs),
                ))
                .execute(self.connection)?;
        }
        match before {
            Some(before) => self.journal(
                "external_id.replaced",
                ours,
                &json!({ "kind": kind, "before": before, "after": theirs }),
            ),
            None => Ok(()),
        }
    }

    /// Lets go of the id another system gave something that classes share: the next package may bring the right one.
    /// `seen` is the id that was looked at.
    ///
    /// # Errors
    /// `NotFound` where classes do not share such things, `Stale` where it has another id by now or none.
    pub fn let_go_of_theirs(&mut self, kind: Kind, ours: &str, seen: &str) -> Result<(), Trouble> {
        if !kind.is_shared() {
            return Err(Trouble::NotFound);
        }
        let before = given(self.connection, kind, &[ours])?.remove(ours);
        if before.as_deref() != Some(seen) {
            return Err(Trouble::Stale(Remark::new("outside-ids-stale").with("id", seen)));
        }
        self.forget_theirs(kind, ours)?;
        self.journal("external_id.let_go", ours, &json!({ "kind": kind, "before": seen }))
    }

    /// Lets go of the id of something that is taken away.
    ///
    /// # Errors
    /// The database refuses.
    pub fn forget_theirs(&mut self, kind: Kind, ours: &str) -> Result<(), Trouble> {
        diesel::delete(external_id::table.filter(row(kind, ours))).execute(self.connection)?;
        Ok(())
    }
}

#[diesel::dsl::auto_type]
fn row<'a>(kind: Kind, ours: &'a str) -> _ {
    let (kind, source): (&'static str, &'static str) = (Spelled::word(kind), SOURCE);
    external_id::kind.eq(kind).and(external_id::source.eq(source)).and(external_id::ours.eq(ours))
}
