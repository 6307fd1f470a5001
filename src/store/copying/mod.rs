//! The copier: the rows of some classes table by table as lines of JSON, and back into an empty database. Both databases
//! give the same lines, so what one wrote the other takes in.

mod catalogue;
pub mod kept;
pub mod named;
mod own;
pub mod tables;
pub mod taking_in;

use diesel::prelude::*;
use diesel::sql_types::Text;
use serde_json::Value;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId};
use crate::store::classes::facts;
use crate::store::classes::outside::{self, KINDS};
use crate::store::connections::AnyConnection;
use crate::store::exports::{Take, each};
use crate::store::schema::journal;
use crate::store::write::execute;
use crate::trouble::Trouble;

pub use catalogue::{Column, Kind, columns};
pub use own::{NOT_OWN, OWN};
pub use tables::{STAYING, TABLES, Table};

/// Which classes are copied, and up to when their journal, letters and disclosures go.
#[derive(Debug, Clone)]
pub struct Part {
    pub classes: Vec<ClassId>,
    /// What happened at this moment or later stays out.
    pub as_of: Instant,
    /// For each class the last row of its journal that goes along.
    pub last_acts: Vec<(ClassId, i64)>,
    /// The one person whose own rows go, where it is theirs alone.
    person: Option<PersonId>,
    /// SQL for the ids of everybody whom a row names.
    people: String,
    /// Our ids of the classes and of what they stand in, as packages name them.
    outside: Vec<String>,
}

#[derive(QueryableByName)]
struct Line {
    #[diesel(sql_type = Text)]
    line: String,
}

/// Finds out what goes along with some classes.
///
/// # Errors
/// The database cannot be read.
pub fn part(db: &mut AnyConnection, classes: &[ClassId], as_of: Instant) -> Result<Part, Trouble> {
    let mut last_acts = Vec::new();
    for class in classes {
        // Clocks may go back: the journal is cut once, before its first row that is too late.
        let too_late: Option<i64> = journal::table
            .filter(journal::scope.eq(class.to_string()).and(journal::at.ge(as_of)))
            .select(diesel::dsl::min(journal::seq))
            .first(db)?;
        let last: Option<i64> = journal::table
            .filter(journal::scope.eq(class.to_string()))
            .filter(journal::seq.lt(too_late.unwrap_or(i64::MAX)))
            .select(diesel::dsl::max(journal::seq))
            .first(db)?;
        last_acts.push((*class, last.unwrap_or(0)));
    }
    let mut outside = Vec::new();
    for class in classes {
        let class = facts::class(db, *class)?;
        let names = outside::outside(db, &class)?;
        outside.extend(KINDS.iter().filter_map(|kind| names.id(*kind)).map(str::to_owned));
    }
    outside.sort();
    outside.dedup();
    let mut part =
        Part { classes: classes.to_vec(), as_of, last_acts, person: None, people: String::new(), outside };
    let mut named = Vec::new();
    for table in TABLES.iter().filter(|table| table.name != "external_id") {
        for column in catalogue::references(db, table.name, "person")? {
            named.push(format!("SELECT {column} FROM {} WHERE {}", table.name, part.fill(table.rows)));
        }
    }
    named.push(format!("SELECT person_id FROM journal WHERE {}", part.fill("{journal}")));
    part.people = named.join(" UNION ");
    Ok(part)
}

impl Part {
    /// One person's own rows of a class: what `tables::OWN` lists.
    #[must_use]
    pub fn own(class: ClassId, person: PersonId, as_of: Instant) -> Self {
        Self {
            classes: vec![class],
            as_of,
            last_acts: Vec::new(),
            person: Some(person),
            people: String::new(),
            outside: Vec::new(),
        }
    }

    /// Fills the names in braces. All that comes in from outside are ids and numbers of our own types.
    fn fill(&self, sql: &str) -> String {
        let ids: Vec<String> = self.classes.iter().map(|id| format!("'{id}'")).collect();
        let outside: Vec<String> = self.outside.iter().map(|id| format!("'{id}'")).collect();
        let acts: Vec<String> = self
            .last_acts
            .iter()
            .map(|(class, last)| format!("(journal_part.scope = '{class}' AND journal_part.seq <= {last})"))
            .collect();
        let mut sql = sql.replace("{people}", &self.people);
        for (name, piece) in tables::PIECES {
            sql = sql.replace(name, piece);
        }
        let person = self.person.map(|id| id.to_string()).unwrap_or_default();
        sql.replace("{person}", &format!("'{person}'"))
            .replace("{classes}", &ids.join(", "))
            .replace("{outside}", &outside.join(", "))
            .replace("{at}", &self.as_of.millis().to_string())
            .replace("{journal}", &acts.join(" OR ").replace("journal_part.", ""))
    }
}

/// Hands out the rows of a table in order of its key, each an array as long as `columns` says.
///
/// # Errors
/// The database cannot be read, or the taker fails.
pub fn rows(
    db: &mut AnyConnection,
    part: &Part,
    table: &Table,
    columns: &[Column],
    take: Take<'_, Vec<Value>>,
) -> Result<(), Trouble> {
    let sqlite = matches!(db, AnyConnection::Sqlite(_));
    let cells: Vec<String> = columns
        .iter()
        .map(|column| {
            let instead = table.instead.iter().find(|(name, _)| *name == column.name);
            let sql = instead.map_or_else(|| column.name.clone(), |(_, sql)| part.fill(sql));
            match column.kind {
                Kind::YesNo if sqlite => {
                    format!("CASE ({sql}) WHEN 1 THEN json('true') WHEN 0 THEN json('false') END")
                }
                Kind::YesNo | Kind::Text | Kind::Number | Kind::Day => format!("({sql})"),
            }
        })
        .collect();
    let made = if sqlite { "json_array({})" } else { "json_build_array({})::text" };
    let query = format!(
        "SELECT {} AS line FROM {} WHERE {} ORDER BY {}",
        made.replace("{}", &cells.join(", ")),
        table.name,
        part.fill(table.rows),
        table.key
    );
    let mut read = |line: Line| {
        let row: Vec<Value> = serde_json::from_str(&line.line)
            .map_err(|error| Trouble::broken("copying a row", format!("{}: {error}", table.name)))?;
        take(row)
    };
    each!(db, diesel::sql_query(query), Line, read)
}

/// Asks several questions of one moment: nothing that is written meanwhile is seen by some of them alone.
///
/// # Errors
/// What the questions say, or the database refuses.
pub fn of_one_moment<T>(
    db: &mut AnyConnection,
    questions: impl FnOnce(&mut AnyConnection) -> Result<T, Trouble>,
) -> Result<T, Trouble> {
    let begin = match db {
        AnyConnection::Sqlite(_) => "BEGIN",
        AnyConnection::Postgres(_) => "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY",
    };
    execute(db, begin)?;
    let answer = questions(db);
    let ended = execute(db, "ROLLBACK");
    let answer = answer?;
    ended.map(|()| answer)
}
