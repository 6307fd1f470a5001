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
///
/// The texts are told by a closure, `|| &TEXTS`, written out where it is asked: no other has its type, so the prepared
/// statement is found by the type. To put the SQL together and compare it took as long as many an answer.
#[derive(Clone)]
pub struct Standing<Columns, F> {
    texts: F,
    values: Vec<String>,
    columns: PhantomData<fn() -> Columns>,
}

impl<F: Fn() -> &'static [&'static str]> Standing<Untyped, F> {
    /// `SELECT … WHERE a = ` and ` AND b = ` with two ids. The answer is `QueryableByName`.
    #[must_use]
    pub fn asking(texts: F, values: &[&str]) -> Self {
        Self::of(texts, values)
    }
}

impl<Columns, F: Fn() -> &'static [&'static str]> Standing<Columns, F> {
    /// The same with an answer that is `Queryable`, its columns taken in order: for questions of every page and with many
    /// rows. To find each column of each row by its name took a tenth of a page's instructions.
    #[must_use]
    pub fn in_order(texts: F, values: &[&str]) -> Self {
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

    fn of(texts: F, values: &[&str]) -> Self {
        const { assert!(size_of::<F>() == 0, "a closure that holds something may tell now this, now that") };
        let values = values.iter().map(|value| (*value).to_owned()).collect();
        Self { texts, values, columns: PhantomData }
    }
}

impl<Columns, F: 'static> QueryId for Standing<Columns, F> {
    type QueryId = F;
    const HAS_STATIC_QUERY_ID: bool = true;
}

impl<DB, Columns, F> QueryFragment<DB> for Standing<Columns, F>
where
    DB: Backend + HasSqlType<Text>,
    String: ToSql<Text, DB>,
    F: Fn() -> &'static [&'static str],
{
    fn walk_ast<'b>(&'b self, mut pass: AstPass<'_, 'b, DB>) -> QueryResult<()> {
        for (place, text) in (self.texts)().iter().enumerate() {
            pass.push_sql(text);
            if let Some(value) = self.values.get(place) {
                pass.push_bind_param::<Text, String>(value)?;
            }
        }
        Ok(())
    }
}

impl<Columns, F> Query for Standing<Columns, F> {
    type SqlType = Columns;
}

impl<C, Columns, F> RunQueryDsl<C> for Standing<Columns, F> {}
