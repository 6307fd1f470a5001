//! Taking copied rows into an empty database, in one act of the school.

use diesel::prelude::*;
use diesel::result::{DatabaseErrorKind, Error};
use diesel::sql_types::Text;
use serde_json::{Value, json};

use super::catalogue::{self, Column};
use super::{TABLES, Table};
use crate::store::connections::AnyConnection;
use crate::store::people::school;
use crate::store::schema::{journal_head, letter, school as school_table};
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Rows of a table that names no row of itself go in so many at a time; others all at once, since a row may name one
/// that comes after it.
const AT_ONCE: usize = 2_000;

/// The rows of one table: names of columns, and a value for each in every row.
#[derive(Debug, Clone, Default)]
pub struct Rows {
    pub columns: Vec<String>,
    pub rows: Vec<Vec<Value>>,
}

impl Tx<'_> {
    /// Takes in what was copied, table after table. The rows come from `read`, which gives none for a table that was not
    /// copied. Letters that had not been sent stay unsent: whoever they were for was told elsewhere, or nobody is.
    ///
    /// # Errors
    /// Something is here already, a column is one this program does not know, or the database refuses a row.
    pub fn take_in(
        &mut self,
        read: &dyn Fn(&Table) -> Result<Option<Rows>, Trouble>,
        from: &Value,
    ) -> Result<usize, Trouble> {
        let schools: i64 = school_table::table.count().get_result(self.connection)?;
        if schools > 0 || !school::is_empty(self.connection)? {
            return Err(Trouble::Refused(Remark::new("restore-not-empty")));
        }
        let mut taken = 0;
        for table in TABLES {
            let Some(rows) = read(table)? else { continue };
            taken += rows.rows.len();
            self.insert(table, &rows)?;
        }
        diesel::update(
            letter::table
                .filter(letter::sent_at.is_null().and(letter::failed_at.is_null()))
                .filter(letter::dropped_at.is_null()),
        )
        .set((letter::dropped_at.eq(self.now), letter::last_error.eq("restored")))
        .execute(self.connection)?;
        let heads: Vec<(String, i64)> =
            journal_head::table.select((journal_head::scope, journal_head::seq)).load(self.connection)?;
        self.journal("school.restored", "school", &json!({ "from": from, "chains": heads }))?;
        Ok(taken)
    }

    fn insert(&mut self, table: &Table, rows: &Rows) -> Result<(), Trouble> {
        let known = catalogue::columns(self.connection, table.name)?;
        let columns: Vec<&Column> = rows
            .columns
            .iter()
            .map(|name| {
                known.iter().find(|column| column.name == *name).ok_or_else(|| {
                    Trouble::Refused(
                        Remark::new("restore-column-unknown")
                            .with("table", table.name)
                            .with("column", name.as_str()),
                    )
                })
            })
            .collect::<Result<_, _>>()?;
        if let Some(short) = rows.rows.iter().find(|row| row.len() != columns.len()) {
            return Err(Trouble::Refused(
                Remark::new("restore-row-length")
                    .with("table", table.name)
                    .with("count", i64::try_from(short.len()).unwrap_or(i64::MAX))
                    .with("wanted", i64::try_from(columns.len()).unwrap_or(i64::MAX)),
            ));
        }
        let names_itself = !catalogue::references(self.connection, table.name, table.name)?.is_empty();
        let at_once = if names_itself { usize::MAX } else { AT_ONCE };
        let sql = self.statement(table, &columns);
        let at_once = at_once.min(rows.rows.len().max(1));
        for (place, part) in rows.rows.chunks(at_once).enumerate() {
            let text = serde_json::to_string(part)
                .map_err(|error| Trouble::broken("taking rows in", format!("{}: {error}", table.name)))?;
            diesel::sql_query(&sql).bind::<Text, _>(text).execute(self.connection).map_err(|error| {
                // The first line of a file names its columns.
                let from = place * at_once + 2;
                refused(table, (from, from + part.len() - 1), &error)
            })?;
        }
        Ok(())
    }

    /// One statement for any number of rows: they come as one JSON text.
    fn statement(&self, table: &Table, columns: &[&Column]) -> String {
        let names: Vec<&str> = columns.iter().map(|column| column.name.as_str()).collect();
        let cells: Vec<String> = columns
            .iter()
            .enumerate()
            .map(|(place, column)| match self.connection {
                AnyConnection::Sqlite(_) => format!("json_extract(value, '$[{place}]')"),
                AnyConnection::Postgres(_) => format!("(value ->> {place})::{}", column.spelled),
            })
            .collect();
        let from = match self.connection {
            AnyConnection::Sqlite(_) => "json_each($1)",
            AnyConnection::Postgres(_) => "json_array_elements($1::json) AS value",
        };
        format!("INSERT INTO {} ({}) SELECT {} FROM {from}", table.name, names.join(", "), cells.join(", "))
    }
}

/// Why the database refuses rows, and in which lines of the file they stand.
fn refused(table: &Table, (from, to): (usize, usize), error: &Error) -> Trouble {
    tracing::warn!(%error, table = table.name, from, to, "taking rows in");
    let key = match error {
        Error::DatabaseError(DatabaseErrorKind::UniqueViolation, _) => "restore-row-twice",
        Error::DatabaseError(DatabaseErrorKind::ForeignKeyViolation, _) => "restore-row-nowhere",
        Error::DatabaseError(DatabaseErrorKind::NotNullViolation | DatabaseErrorKind::CheckViolation, _) => {
            "restore-row-value"
        }
        _ => "restore-row-refused",
    };
    let line = |number: usize| i64::try_from(number).unwrap_or(i64::MAX).to_string();
    Trouble::Refused(Remark::new(key).with("table", table.name).with("from", line(from)).with("to", line(to)))
}
