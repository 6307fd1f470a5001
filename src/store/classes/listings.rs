//! Listings: the codes under which a class stands in the catalogue. A student's enrolment names one of them.

use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClassId, ListingId};
use crate::spelled;
use crate::store::classes::stale;
use crate::store::connections::AnyConnection;
use crate::store::schema::{enrolment, enrolment_change, listing};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

spelled!(
    /// What a listing is taken for.
    Basis { Letter = "letter", Pass = "pass", Audit = "audit" }
);

/// A listing.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize)]
pub struct Listing {
    pub id: ListingId,
    pub code: String,
    pub section: String,
    pub level: String,
    pub credits_hundredths: i32,
    pub basis: Word<Basis>,
    pub version: i64,
}

/// What people type about a listing.
#[derive(Debug, Clone, serde::Serialize)]
pub struct ListingDraft {
    pub code: String,
    pub section: String,
    pub level: String,
    pub credits_hundredths: i32,
    pub basis: Basis,
}

const COLUMNS: (
    listing::id,
    listing::code,
    listing::section,
    listing::level,
    listing::credits_hundredths,
    listing::basis,
    listing::version,
) = (
    listing::id,
    listing::code,
    listing::section,
    listing::level,
    listing::credits_hundredths,
    listing::basis,
    listing::version,
);

/// The listings of a class, by code and section.
///
/// # Errors
/// The database cannot be read.
pub fn listings(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Listing>, Trouble> {
    Ok(listing::table
        .filter(listing::class_id.eq(class))
        .order((listing::code, listing::section))
        .select(COLUMNS)
        .load(db)?)
}

/// One listing of a class.
///
/// # Errors
/// `NotFound`, or the database cannot be read.
pub fn listing(db: &mut AnyConnection, class: ClassId, id: ListingId) -> Result<Listing, Trouble> {
    let target = listing::table.filter(listing::id.eq(id).and(listing::class_id.eq(class)));
    Ok(target.select(COLUMNS).first(db)?)
}

fn listed_before(trouble: Trouble) -> Trouble {
    match trouble {
        Trouble::Taken => Trouble::about("section", Remark::new("classes-listing-taken")),
        other => other,
    }
}

impl Tx<'_> {
    /// Adds a listing to a class.
    ///
    /// # Errors
    /// A complaint where the class has this code and section already, or the database refuses.
    pub fn add_listing(&mut self, class: ClassId, draft: &ListingDraft) -> Result<ListingId, Trouble> {
        let id: ListingId = self.id();
        self.attempt(|db| {
            diesel::insert_into(listing::table)
                .values((
                    listing::id.eq(id),
                    listing::class_id.eq(class),
                    listing::code.eq(&draft.code),
                    listing::section.eq(&draft.section),
                    listing::level.eq(&draft.level),
                    listing::credits_hundredths.eq(draft.credits_hundredths),
                    listing::basis.eq(Word(draft.basis)),
                    listing::version.eq(1),
                ))
                .execute(db)?;
            Ok(())
        })
        .map_err(listed_before)?;
        self.journal("listing.added", id, &json!(draft))?;
        Ok(id)
    }

    /// Changes a listing, if it still has the version it was shown with.
    ///
    /// # Errors
    /// `NotFound`, `Stale`, a complaint, or the database refuses.
    pub fn change_listing(
        &mut self,
        class: ClassId,
        id: ListingId,
        version: i64,
        draft: &ListingDraft,
    ) -> Result<(), Trouble> {
        let before = listing(self.connection, class, id)?;
        let changed = self
            .attempt(|db| {
                Ok(diesel::update(listing::table.find(id).filter(listing::version.eq(version)))
                    .set((
                        listing::code.eq(&draft.code),
                        listing::section.eq(&draft.section),
                        listing::level.eq(&draft.level),
                        listing::credits_hundredths.eq(draft.credits_hundredths),
                        listing::basis.eq(Word(draft.basis)),
                        listing::version.eq(version + 1),
                    ))
                    .execute(db)?)
            })
            .map_err(listed_before)?;
        if changed == 0 {
            return Err(stale());
        }
        self.journal("listing.changed", id, &json!({ "before": before, "after": draft }))
    }

    /// Takes a listing away that no enrolment ever named.
    ///
    /// # Errors
    /// `NotFound`, `Refused` where somebody is or was in it, or the database refuses.
    pub fn remove_listing(&mut self, class: ClassId, id: ListingId) -> Result<(), Trouble> {
        let gone = listing(self.connection, class, id)?;
        let now: i64 =
            enrolment::table.filter(enrolment::listing_id.eq(id)).count().get_result(self.connection)?;
        let ever: i64 = enrolment_change::table
            .filter(enrolment_change::listing_id.eq(id))
            .count()
            .get_result(self.connection)?;
        if now + ever > 0 {
            return Err(Trouble::Refused(Remark::new("classes-listing-in-use")));
        }
        diesel::delete(listing::table.find(id)).execute(self.connection)?;
        self.journal("listing.removed", id, &json!(gone))
    }
}
