//! What was taken out of a class, by whom and when (34 CFR 99.32): written before the first byte leaves.

use diesel::prelude::*;
use serde_json::{Value, json};

use crate::clock::Instant;
use crate::ids::{ClassId, DisclosureId, PersonId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::people::members;
use crate::store::people::sessions::Role;
use crate::store::schema::{disclosure, enrolment, person};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

spelled!(
    /// The way a table was taken.
    Way {
        Page = "records page",
        Command = "command line",
    }
);

spelled!(
    /// What a table was taken for.
    Interest {
        Records = "records",
        Review = "review",
        Audit = "audit",
        Transfer = "transfer",
        Request = "request",
        /// Something else, in words.
        Other = "other",
    }
);

/// What a table was taken for, in words where none of ours fits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Purpose {
    pub interest: Interest,
    pub words: String,
}

impl Default for Purpose {
    fn default() -> Self {
        Self { interest: Interest::Records, words: String::new() }
    }
}

impl Purpose {
    /// Longer words are cut.
    const LONGEST: usize = 200;

    /// What was told: one of our words, or words of somebody's own. Nothing told is the keeping of records.
    #[must_use]
    pub fn told(told: &str) -> Self {
        let words: String = told.trim().chars().filter(|c| !c.is_control()).take(Self::LONGEST).collect();
        match Interest::from_word(&words) {
            Some(interest) => Self { interest, words: String::new() },
            None if words.is_empty() => Self::default(),
            None => Self { interest: Interest::Other, words },
        }
    }
}

/// A table that was taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    pub at: Instant,
    /// Given and family name; nobody for the command line.
    pub by: Option<(String, String)>,
    /// The table's word.
    pub table: String,
    pub way: Way,
    pub purpose: Purpose,
}

/// What is taken: its word, the SHA-256 of its bytes, by which way, and what for.
#[derive(Debug, Clone)]
pub struct Taking {
    pub table: String,
    pub sha256: String,
    pub way: Way,
    pub purpose: Purpose,
}

/// Keeps that a table is about to be taken.
///
/// # Errors
/// The database cannot be written.
pub fn keep(
    db: &mut AnyConnection,
    now: Instant,
    by: Option<PersonId>,
    class: ClassId,
    taking: &Taking,
) -> Result<(), Trouble> {
    let what = json!({
        "export": taking.table, "sha256": taking.sha256, "for": taking.purpose.interest.word(),
        "words": taking.purpose.words,
    });
    diesel::insert_into(disclosure::table)
        .values((
            disclosure::id.eq(DisclosureId::new(now)),
            disclosure::at.eq(now),
            disclosure::by_id.eq(by),
            disclosure::class_id.eq(class),
            disclosure::what.eq(what.to_string()),
            disclosure::purpose.eq(Word(taking.way)),
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
    taken(db, class, Instant::from_millis(0), most)
}

/// The tables that named a student of the class, since they came into it; the latest first.
///
/// # Errors
/// The database cannot be read.
pub fn naming(db: &mut AnyConnection, class: ClassId, person: PersonId) -> Result<Vec<Taken>, Trouble> {
    let since: Option<Instant> = enrolment::table
        .filter(enrolment::class_id.eq(class).and(enrolment::person_id.eq(person)))
        .select(enrolment::joined_at)
        .first(db)
        .optional()?;
    let Some(since) = since else { return Ok(Vec::new()) };
    let mut all = taken(db, class, since, MOST)?;
    all.retain(|one| !NAMELESS.contains(&one.table.as_str()));
    Ok(all)
}

/// Tables that name nobody.
const NAMELESS: [&str; 2] = ["columns", "goals"];
/// More than any term has.
const MOST: i64 = 1_000;

fn taken(db: &mut AnyConnection, class: ClassId, since: Instant, most: i64) -> Result<Vec<Taken>, Trouble> {
    type Row = (Instant, String, Word<Way>, Option<String>, Option<String>);
    let rows: Vec<Row> = disclosure::table
        .left_join(person::table.on(person::id.nullable().eq(disclosure::by_id)))
        .filter(disclosure::class_id.eq(class).and(disclosure::at.ge(since)))
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
        .map(|(at, what, way, given, family)| {
            let what: Value = serde_json::from_str(&what).unwrap_or_default();
            let told = |name: &str| what.get(name).and_then(Value::as_str).unwrap_or_default();
            // Rows of before say nothing of what for.
            let purpose = match told("words") {
                "" => Purpose::told(told("for")),
                words => Purpose { interest: Interest::Other, words: words.to_owned() },
            };
            Taken { at, by: given.zip(family), table: told("export").to_owned(), way: way.0, purpose }
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
