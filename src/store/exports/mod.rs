//! Rows for exports, handed out one at a time, so that a table of a million rows needs no more memory than one of ten;
//! and what was taken out by whom.

pub mod attendance;
pub mod disclosures;
pub mod etches;
pub mod journal;
pub mod plates;
pub mod prints;
pub mod roster;
pub mod scores;
pub mod sign_offs;

use std::collections::HashMap;

use chrono_tz::Tz;
use diesel::dsl::count_star;
use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, TermId};
use crate::store::classes::facts;
use crate::store::connections::AnyConnection;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::schema::{class, enrolment, submitted_grade, term};
use crate::store::types::Word;
use crate::trouble::Trouble;

/// Runs a query row by row on either database; on PostgreSQL libpq hands rows over singly instead of all at once. It is
/// boxed first: unboxed, the types of two exports alone cost the compiler 75 s, now one.
macro_rules! each {
    ($db:expr, $query:expr, $row:ty, $take:expr) => {{
        match $db {
            $crate::store::AnyConnection::Sqlite(db) => {
                use diesel::connection::DefaultLoadingMode;
                let query = $query.into_boxed::<diesel::sqlite::Sqlite>();
                for row in diesel::RunQueryDsl::load_iter::<$row, DefaultLoadingMode>(query, db)? {
                    $take(row?)?;
                }
            }
            $crate::store::AnyConnection::Postgres(db) => {
                use diesel::pg::PgRowByRowLoadingMode;
                let query = $query.into_boxed::<diesel::pg::Pg>();
                for row in diesel::RunQueryDsl::load_iter::<$row, PgRowByRowLoadingMode>(query, db)? {
                    $take(row?)?;
                }
            }
        }
        Ok::<(), $crate::trouble::Trouble>(())
    }};
}
pub(crate) use each;

/// What is done with each row. Its trouble ends the reading.
pub type Take<'a, T> = &'a mut dyn FnMut(T) -> Result<(), Trouble>;

/// Which class is taken out, and as of when: what lies open is late by that moment.
#[derive(Debug, Clone)]
pub struct Of {
    pub class: ClassId,
    pub code: String,
    pub term: String,
    pub zone: Tz,
    pub at: Instant,
    /// Grades as they stand are left out: for those who read submitted ones alone.
    pub submitted_alone: bool,
    /// The last row of the journal that is taken; none: all there is.
    pub last_act: Option<i64>,
}

/// A class as of a moment. One statement.
///
/// # Errors
/// `NotFound`.
pub fn of(db: &mut AnyConnection, id: ClassId, at: Instant) -> Result<Of, Trouble> {
    let class = facts::class(db, id)?;
    let zone = class.zone()?;
    Ok(Of {
        class: id,
        code: class.code,
        term: class.term.name,
        zone,
        at,
        submitted_alone: false,
        last_act: None,
    })
}

/// How many students a class has, and for how many of them a grade stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Submissions {
    pub students: i64,
    pub submitted: i64,
}

/// The submissions of every class of the school. Two statements.
///
/// # Errors
/// The database cannot be read.
pub fn submissions(db: &mut AnyConnection) -> Result<HashMap<ClassId, Submissions>, Trouble> {
    let in_force =
        || enrolment::state.eq_any([Word(EnrolmentState::Enrolled), Word(EnrolmentState::Incomplete)]);
    let students: Vec<(ClassId, i64)> = enrolment::table
        .filter(enrolment::role.eq(Word(Role::Student)).and(in_force()))
        .group_by(enrolment::class_id)
        .select((enrolment::class_id, count_star()))
        .load(db)?;
    let submitted: Vec<(ClassId, i64)> = submitted_grade::table
        .inner_join(
            enrolment::table.on(enrolment::class_id
                .eq(submitted_grade::class_id)
                .and(enrolment::person_id.eq(submitted_grade::person_id))),
        )
        .filter(submitted_grade::superseded_at.is_null().and(in_force()))
        .group_by(submitted_grade::class_id)
        .select((submitted_grade::class_id, count_star()))
        .load(db)?;
    let mut all: HashMap<ClassId, Submissions> = HashMap::new();
    for (class, count) in students {
        all.entry(class).or_default().students = count;
    }
    for (class, count) in submitted {
        all.entry(class).or_default().submitted = count;
    }
    Ok(all)
}

/// A name that every file system takes.
#[must_use]
pub fn file_name(name: &str) -> String {
    name.chars().map(|c| if c.is_control() || "/\\:*?\"<>|".contains(c) { '-' } else { c }).collect()
}

/// Every class there is, as its code and its term's name, by term and code: for the command line.
///
/// # Errors
/// The database cannot be read.
pub fn classes(db: &mut AnyConnection) -> Result<Vec<(ClassId, String, String)>, Trouble> {
    Ok(class::table
        .inner_join(term::table)
        .order((term::starts, term::name, class::code))
        .select((class::id, class::code, term::name))
        .load(db)?)
}

/// Whose a thing is. Names, number and listing are as they stand now.
#[derive(Debug, Clone, Queryable)]
pub struct Owner {
    pub id: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub student_number: Option<String>,
    pub listing_code: Option<String>,
    pub listing_section: Option<String>,
}

/// The columns of an [`Owner`], for queries that join person, enrolment and listing.
macro_rules! owner {
    () => {
        (
            $crate::store::schema::person::id,
            $crate::store::schema::person::given_name,
            $crate::store::schema::person::family_name,
            $crate::store::schema::person::student_number,
            $crate::store::schema::listing::code.nullable(),
            $crate::store::schema::listing::section.nullable(),
        )
    };
}
pub(crate) use owner;

/// A due date as it was set, for the class and for the person where they have one of their own.
#[derive(Debug, Clone, Queryable)]
pub struct DueRow {
    class: String,
    own: Option<String>,
}

impl DueRow {
    /// The local due date that holds, as the record spells it: `2026-11-24T16:30`.
    #[must_use]
    pub fn local(&self) -> &str {
        self.own.as_deref().unwrap_or(&self.class)
    }
}

/// How many rows each table of a class has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Counts {
    pub people: i64,
    pub students: i64,
    pub prints: i64,
    pub plates: i64,
    pub etches: i64,
    pub sign_offs: i64,
    pub scores: i64,
    pub attendance: i64,
    /// One for each goal and reach.
    pub goals: i64,
    pub journal: i64,
}

/// Counts the rows of each table. Ten statements.
///
/// # Errors
/// The database cannot be read.
pub fn counts(db: &mut AnyConnection, id: ClassId) -> Result<Counts, Trouble> {
    use crate::store::schema::{
        attainment, enrolment, etch, journal, plate, print, roll_entry, score, sign_off,
    };
    let enrolled = enrolment::table.filter(enrolment::class_id.eq(id)).count();
    let in_force = enrolment::state.eq_any(["enrolled", "incomplete"]);
    Ok(Counts {
        people: enrolled.get_result(db)?,
        students: enrolled.filter(enrolment::role.eq("student")).filter(in_force).get_result(db)?,
        prints: print::table.filter(print::class_id.eq(id)).count().get_result(db)?,
        plates: plate::table.filter(plate::class_id.eq(id)).count().get_result(db)?,
        etches: etch::table
            .filter(etch::class_id.eq(id).and(etch::superseded_at.is_null()))
            .count()
            .get_result(db)?,
        sign_offs: sign_off::table.filter(sign_off::class_id.eq(id)).count().get_result(db)?,
        scores: score::table
            .filter(score::class_id.eq(id).and(score::superseded_at.is_null()))
            .count()
            .get_result(db)?,
        attendance: roll_entry::table
            .filter(roll_entry::class_id.eq(id).and(roll_entry::superseded_at.is_null()))
            .count()
            .get_result(db)?,
        // Four counts to a row.
        goals: 4 * attainment::table.filter(attainment::class_id.eq(id)).count().get_result::<i64>(db)?,
        journal: journal::table.filter(journal::scope.eq(id.as_str())).count().get_result(db)?,
    })
}

/// The classes of a term, by code, and whether somebody instructs each.
///
/// # Errors
/// The database cannot be read.
pub fn of_term(
    db: &mut AnyConnection,
    term: TermId,
    person: PersonId,
) -> Result<Vec<(ClassId, String, bool)>, Trouble> {
    let own: Vec<ClassId> = enrolment::table
        .filter(enrolment::person_id.eq(person).and(enrolment::role.eq(Word(Role::Instructor))))
        .filter(enrolment::state.eq(Word(EnrolmentState::Enrolled)))
        .select(enrolment::class_id)
        .load(db)?;
    let all: Vec<(ClassId, String)> = class::table
        .filter(class::term_id.eq(term))
        .order((class::code, class::id))
        .select((class::id, class::code))
        .load(db)?;
    Ok(all.into_iter().map(|(id, code)| (id, code, own.contains(&id))).collect())
}
