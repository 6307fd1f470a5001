//! What a class is called outside: the ids that it, its term and what both stand in have in packages unless another system
//! gave them others. School, department, school year and course have no rows; their ids follow from what never changes.

use std::collections::BTreeSet;

use chrono::{Datelike, NaiveDate};
use diesel::prelude::*;

use crate::ids::{ClassId, TermId, derived};
use crate::store::classes::facts::Class;
use crate::store::connections::AnyConnection;
use crate::store::people::school;
use crate::store::people::theirs::{self, Kind};
use crate::store::schema::{assessment, category, class, term};
use crate::trouble::Trouble;

/// The ids of a class and of what it stands in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outside {
    pub school: String,
    pub department: String,
    /// The school year by the year in which it ends, and its id.
    pub ends_in: i32,
    pub year: String,
    pub course: String,
    pub class: String,
    pub term: String,
}

/// The kinds of [`Outside`], larger things first.
pub const KINDS: [Kind; 6] =
    [Kind::School, Kind::Department, Kind::Year, Kind::Term, Kind::Course, Kind::Class];

impl Outside {
    /// The id of a kind of [`KINDS`].
    #[must_use]
    pub fn id(&self, kind: Kind) -> Option<&str> {
        match kind {
            Kind::School => Some(&self.school),
            Kind::Department => Some(&self.department),
            Kind::Year => Some(&self.year),
            Kind::Course => Some(&self.course),
            Kind::Class => Some(&self.class),
            Kind::Term => Some(&self.term),
            Kind::Person | Kind::Category | Kind::Assessment => None,
        }
    }
}

/// Our own ids of a class and of what it stands in.
///
/// # Errors
/// The database cannot be read.
pub fn outside(db: &mut AnyConnection, of: &Class) -> Result<Outside, Trouble> {
    let base = base(db)?;
    let ends_in = year_of(of.term.starts);
    Ok(Outside {
        school: school_id(&base),
        department: department_id(&base),
        ends_in,
        year: year_id(&base, ends_in),
        course: course_id(&base, &of.code),
        class: of.id.to_string(),
        term: of.term.id.to_string(),
    })
}

/// All that is ours among what stands in the file of a kind: nothing of it may be an id another system gave to something
/// else. For categories and assessments those among `asked`.
///
/// # Errors
/// The database cannot be read.
pub fn own(db: &mut AnyConnection, kind: Kind, asked: &[String]) -> Result<BTreeSet<String>, Trouble> {
    let all = |ids: Vec<String>| ids.into_iter().collect();
    Ok(match kind {
        Kind::Person => BTreeSet::new(),
        Kind::School | Kind::Department => {
            let base = base(db)?;
            BTreeSet::from([school_id(&base), department_id(&base)])
        }
        Kind::Term | Kind::Year => {
            let base = base(db)?;
            let terms: Vec<(TermId, NaiveDate)> = term::table.select((term::id, term::starts)).load(db)?;
            let years = terms.iter().map(|(_, starts)| year_id(&base, year_of(*starts)));
            years.chain(terms.iter().map(|(id, _)| id.to_string())).collect()
        }
        Kind::Course => {
            let base = base(db)?;
            let codes: Vec<String> = class::table.select(class::code).distinct().load(db)?;
            codes.iter().map(|code| course_id(&base, code)).collect()
        }
        Kind::Class => {
            all(class::table.select(class::id).load::<ClassId>(db)?.iter().map(ToString::to_string).collect())
        }
        Kind::Category => {
            all(category::table.filter(category::id.eq_any(asked)).select(category::id).load(db)?)
        }
        Kind::Assessment => {
            all(assessment::table.filter(assessment::id.eq_any(asked)).select(assessment::id).load(db)?)
        }
    })
}

/// Something classes share, with the id another system gave it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shared {
    pub kind: Kind,
    /// Of the term, the course and the school year what they are called; empty for school and department.
    pub name: String,
    pub ours: String,
    pub theirs: String,
}

/// All that classes share and another system gave an id, larger things first.
///
/// # Errors
/// The database cannot be read.
pub fn shared(db: &mut AnyConnection) -> Result<Vec<Shared>, Trouble> {
    let base = base(db)?;
    let terms: Vec<(TermId, String, NaiveDate)> =
        term::table.order((term::starts, term::id)).select((term::id, term::name, term::starts)).load(db)?;
    let codes: Vec<String> = class::table.select(class::code).distinct().order(class::code).load(db)?;
    let years: BTreeSet<i32> = terms.iter().map(|(.., starts)| year_of(*starts)).collect();
    let year = |ends_in: &i32| format!("{}–{:02}", ends_in - 1, ends_in.rem_euclid(100));
    let things: Vec<(Kind, Vec<(String, String)>)> = vec![
        (Kind::School, vec![(school_id(&base), String::new())]),
        (Kind::Department, vec![(department_id(&base), String::new())]),
        (Kind::Year, years.iter().map(|ends_in| (year_id(&base, *ends_in), year(ends_in))).collect()),
        (Kind::Term, terms.iter().map(|(id, name, _)| (id.to_string(), name.clone())).collect()),
        (Kind::Course, codes.iter().map(|code| (course_id(&base, code), code.clone())).collect()),
    ];
    let mut found = Vec::new();
    for (kind, named) in things {
        let ours: Vec<&str> = named.iter().map(|(ours, _)| ours.as_str()).collect();
        let mut given = theirs::given(db, kind, &ours)?;
        found.extend(named.into_iter().filter_map(|(ours, name)| {
            let theirs = given.remove(&ours)?;
            Some(Shared { kind, name, ours, theirs })
        }));
    }
    Ok(found)
}

fn base(db: &mut AnyConnection) -> Result<String, Trouble> {
    Ok(school::founded_at(db)?.millis().to_string())
}

fn school_id(base: &str) -> String {
    derived(&["school", base])
}

fn department_id(base: &str) -> String {
    derived(&["department", base])
}

fn year_id(base: &str, ends_in: i32) -> String {
    derived(&["year", base, &ends_in.to_string()])
}

fn course_id(base: &str, code: &str) -> String {
    derived(&["course", base, code])
}

/// A year that begins in summer: the one in which it ends names it.
fn year_of(day: NaiveDate) -> i32 {
    if day.month() >= 7 { day.year() + 1 } else { day.year() }
}
