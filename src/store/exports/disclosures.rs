//! What was taken out of a class, by whom and when (34 CFR 99.32): written before the first byte leaves.

use diesel::prelude::*;
use serde_json::{Value, json};

use crate::clock::Instant;
use crate::ids::{ClassId, DisclosureId, PersonId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::people::members;
use crate::store::people::sessions::Role;
use crate::store::schema::{disclosure, person};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trouble::Trouble;

spelled!(
    /// The way a table was taken.
    Way {
        Page = "records page",
        Command = "command line",
    }
);

/// A table that was taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    pub at: Instant,
    /// Given and family name; nobody for the command line.
    pub by: Option<(String, String)>,
    /// The table's word.
    pub table: String,
    pub way: Way,
}

/// Keeps that a table is about to be taken: which, and the SHA-256 of its bytes.
///
/// # Errors
/// The database cannot be written.
pub fn keep(
    db: &mut AnyConnection,
    now: Instant,
    by: Option<PersonId>,
    class: ClassId,
    table: &str,
    sha256: &str,
    way: Way,
) -> Result<(), Trouble> {
    diesel::insert_into(disclosure::table)
        .values((
            disclosure::id.eq(DisclosureId::new(now)),
            disclosure::at.eq(now),
            disclosure::by_id.eq(by),
            disclosure::class_id.eq(class),
            disclosure::what.eq(json!({ "export": table, "sha256": sha256 }).to_string()),
            disclosure::purpose.eq(Word(way)),
            disclosure::party.eq(""),
        ))
        .execute(db)?;
    Ok(())
}

/// The tables taken last, the latest first.
///
/// # Errors
/// The database cannot be read.
pub fn last(db: &mut AnyConnection, class: ClassId, most: i64) -> Result<Vec<Taken>, Trouble> {
    type Row = (Instant, String, Word<Way>, Option<String>, Option<String>);
    let rows: Vec<Row> = disclosure::table
        .left_join(person::table.on(person::id.nullable().eq(disclosure::by_id)))
        .filter(disclosure::class_id.eq(class))
        .filter(disclosure::purpose.eq_any([Word(Way::Page), Word(Way::Command)]))
        .order((disclosure::at.desc(), disclosure::id.desc()))
        .limit(most)
        .select((
            disclosure::at,
            disclosure::what,
            disclosure::purpose,
            person::given_name.nullable(),
            person::family_name.nullable(),
        ))
        .load(db)?;
    Ok(rows
        .into_iter()
        .map(|(at, what, way, given, family)| Taken {
            at,
            by: given.zip(family),
            table: serde_json::from_str::<Value>(&what)
                .ok()
                .and_then(|what| what.get("export")?.as_str().map(str::to_owned))
                .unwrap_or_default(),
            way: way.0,
        })
        .collect())
}

/// Something told about a student to somebody outside, as it was recorded.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct Told {
    pub at: Instant,
    /// To whom.
    pub party: String,
    /// What for: the legitimate interest they gave.
    pub purpose: String,
    /// What was told.
    pub what: String,
    pub person: PersonId,
    pub person_name: (String, String),
    pub by_name: Option<(String, String)>,
}

/// What was told to parties outside about students of a class, the latest first; `owner` limits it to one student.
///
/// # Errors
/// The database cannot be read.
pub fn told(db: &mut AnyConnection, class: ClassId, owner: Option<PersonId>) -> Result<Vec<Told>, Trouble> {
    let giver = diesel::alias!(person as giver);
    let (given, family, giver_id) =
        (giver.field(person::given_name), giver.field(person::family_name), giver.field(person::id));
    let mut query = disclosure::table
        .inner_join(person::table.on(person::id.nullable().eq(disclosure::person_id)))
        .left_join(giver.on(giver_id.nullable().eq(disclosure::by_id)))
        .filter(disclosure::class_id.eq(class).and(disclosure::party.ne("")))
        .order((disclosure::at.desc(), disclosure::id.desc()))
        .select((
            disclosure::at,
            disclosure::party,
            disclosure::purpose,
            disclosure::what,
            person::id,
            (person::given_name, person::family_name),
            (given, family).nullable(),
        ))
        .into_boxed();
    if let Some(owner) = owner {
        query = query.filter(person::id.eq(owner));
    }
    Ok(query.load(db)?)
}

/// What is to be recorded.
#[derive(Debug, Clone)]
pub struct Telling {
    pub person: PersonId,
    pub party: String,
    pub purpose: String,
    pub what: String,
}

impl Tx<'_> {
    /// Records that something was told about a student to a party outside.
    ///
    /// # Errors
    /// The person never was a student of the class.
    pub fn tell_outside(&mut self, class: ClassId, told: &Telling) -> Result<(), Trouble> {
        let student = members::everybody(self.connection, class)?
            .into_iter()
            .any(|one| one.person == told.person && one.role.0 == Role::Student);
        if !student {
            return Err(Trouble::NotFound);
        }
        let id: DisclosureId = self.id();
        diesel::insert_into(disclosure::table)
            .values((
                (disclosure::id.eq(id), disclosure::at.eq(self.now), disclosure::by_id.eq(self.by)),
                (disclosure::class_id.eq(class), disclosure::person_id.eq(told.person)),
                (disclosure::what.eq(&told.what), disclosure::purpose.eq(&told.purpose)),
                disclosure::party.eq(&told.party),
            ))
            .execute(self.connection)?;
        self.journal(
            "disclosure.recorded",
            id,
            &json!({ "person": told.person, "party": told.party, "purpose": told.purpose, "what": told.what }),
        )
    }
}
