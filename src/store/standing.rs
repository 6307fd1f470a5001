//! A standing question: SQL written by hand, for what diesel's own words cannot say on both databases, that is prepared
//! once a connection. `diesel::sql_query` is prepared anew each time, which costs SQLite more than most answers.

use std::marker::PhantomData;

use diesel::backend::Backend;
use diesel::prelude::*;
use diesel::query_builder::{AstPass, Query, QueryFragment, QueryId};
use diesel::query_dsl::methods::LoadQuery;
use diesel::serialize::ToSql;
use diesel::sql_types::{HasSqlType, Text, Untyped};

use crate::store::connections::AnyConnection;

/// The text around the values and the values between: always one more text than there are values. `Columns` is the tuple
/// of the SQL types of the answer's columns, or `Untyped` where they go by their names.
#[derive(Debug, Clone)]
pub struct Standing<Columns = Untyped> {
    texts: &'static [&'static str],
    values: Vec<String>,
    columns: PhantomData<fn() -> Columns>,
}

impl Standing {
    /// `SELECT … WHERE a = ` and ` AND b = ` with two ids. The answer is `QueryableByName`.
    #[must_use]
    pub fn asking(texts: &'static [&'static str], values: &[&str]) -> Self {
        Self::of(texts, values)
    }
}

impl<Columns> Standing<Columns> {
    /// The same with an answer that is `Queryable`, its columns taken in order: for questions of every page and with many
    /// rows. To find each column of each row by its name took a tenth of a page's instructions.
    #[must_use]
    pub fn in_order(texts: &'static [&'static str], values: &[&str]) -> Self {
        Self::of(texts, values)
    }

    /// Asks, and reads the rows by the database's own means: through both at once each value was told apart anew.
    ///
    /// # Errors
    /// The database's.
    pub fn load<Row>(self, db: &mut AnyConnection) -> QueryResult<Vec<Row>>
    where
        Self: for<'q> LoadQuery<'q, SqliteConnection, Row> + for<'q> LoadQuery<'q, PgConnection, Row>,
    {
        match db {
            AnyConnection::Sqlite(sqlite) => RunQueryDsl::load(self, sqlite),
            AnyConnection::Postgres(postgres) => RunQueryDsl::load(self, postgres),
        }
    }

    /// Asks for one row at the most, the same way.
    ///
    /// # Errors
    /// The database's.
    pub fn first<Row>(self, db: &mut AnyConnection) -> QueryResult<Option<Row>>
    where
        Self: for<'q> LoadQuery<'q, SqliteConnection, Row> + for<'q> LoadQuery<'q, PgConnection, Row>,
    {
        Ok(self.load(db)?.into_iter().next())
    }

    fn of(texts: &'static [&'static str], values: &[&str]) -> Self {
        let values = values.iter().map(|value| (*value).to_owned()).collect();
        Self { texts, values, columns: PhantomData }
    }
}

impl<Columns> QueryId for Standing<Columns> {
    type QueryId = ();
    const HAS_STATIC_QUERY_ID: bool = false;
}

impl<DB, Columns> QueryFragment<DB> for Standing<Columns>
where
    DB: Backend + HasSqlType<Text>,
    String: ToSql<Text, DB>,
{
    fn walk_ast<'b>(&'b self, mut pass: AstPass<'_, 'b, DB>) -> QueryResult<()> {
        for (place, text) in self.texts.iter().enumerate() {
            pass.push_sql(text);
            if let Some(value) = self.values.get(place) {
                pass.push_bind_param::<Text, String>(value)?;
            }
        }
        Ok(())
    }
}

impl<Columns> Query for Standing<Columns> {
    type SqlType = Columns;
}

impl<C, Columns> RunQueryDsl<C> for Standing<Columns> {}
