//! Several rows by one statement, which diesel cannot say on both databases. Statements of up to eight rows are prepared
//! once a connection; more rows go eight at a time, so that no statement is made for every number of them.

use diesel::backend::Backend;
use diesel::prelude::*;
use diesel::query_builder::{AstPass, QueryFragment, QueryId};
use diesel::serialize::ToSql;
use diesel::sql_types::{BigInt, HasSqlType, Nullable, Text};

use crate::store::connections::AnyConnection;
use crate::trouble::Trouble;

const AT_ONCE: usize = 8;

/// One value of a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cell {
    Text(String),
    Whole(i64),
    Nothing,
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<i64> for Cell {
    fn from(number: i64) -> Self {
        Self::Whole(number)
    }
}

impl From<i32> for Cell {
    fn from(number: i32) -> Self {
        Self::Whole(number.into())
    }
}

impl<T: Into<Self>> From<Option<T>> for Cell {
    fn from(value: Option<T>) -> Self {
        value.map_or(Self::Nothing, Into::into)
    }
}

/// Inserts rows; `into` is the table with its columns, `place (name, number)`.
///
/// # Errors
/// The database refuses.
pub fn insert(db: &mut AnyConnection, into: &'static str, rows: &[Vec<Cell>]) -> Result<(), Trouble> {
    for rows in rows.chunks(AT_ONCE) {
        Many { into, rows }.execute(db)?;
    }
    Ok(())
}

struct Many<'a> {
    into: &'static str,
    rows: &'a [Vec<Cell>],
}

impl QueryId for Many<'_> {
    type QueryId = ();
    const HAS_STATIC_QUERY_ID: bool = false;
}

impl<DB> QueryFragment<DB> for Many<'_>
where
    DB: Backend + HasSqlType<Text> + HasSqlType<BigInt>,
    String: ToSql<Text, DB>,
    i64: ToSql<BigInt, DB>,
    Option<String>: ToSql<Nullable<Text>, DB>,
{
    fn walk_ast<'b>(&'b self, mut pass: AstPass<'_, 'b, DB>) -> QueryResult<()> {
        pass.push_sql("INSERT INTO ");
        pass.push_sql(self.into);
        for (number, row) in self.rows.iter().enumerate() {
            pass.push_sql(if number == 0 { " VALUES (" } else { "), (" });
            for (place, cell) in row.iter().enumerate() {
                if place > 0 {
                    pass.push_sql(", ");
                }
                match cell {
                    Cell::Text(text) => pass.push_bind_param::<Text, String>(text)?,
                    Cell::Whole(number) => pass.push_bind_param::<BigInt, i64>(number)?,
                    Cell::Nothing => pass.push_bind_param::<Nullable<Text>, Option<String>>(&None)?,
                }
            }
        }
        pass.push_sql(")");
        Ok(())
    }
}

impl<C> RunQueryDsl<C> for Many<'_> {}
