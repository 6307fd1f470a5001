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
/// of the SQL types of the answer's columns, or `Untyped` where they go by their names; `T` is what tells the texts.
#[derive(Debug, Clone)]
pub struct Standing<Columns = Untyped, T = Loose> {
    texts: T,
    values: Vec<String>,
    columns: PhantomData<fn() -> Columns>,
}

/// What tells the texts of a question.
pub trait Texts {
    /// The texts' own type, where they have one: a prepared statement is then found by it, without its SQL.
    type Id: 'static;
    const KNOWN: bool;
    fn texts(&self) -> &'static [&'static str];
}

/// Texts that are found by what they say.
#[derive(Debug, Clone, Copy)]
pub struct Loose(&'static [&'static str]);

impl Texts for Loose {
    type Id = ();
    const KNOWN: bool = false;
    fn texts(&self) -> &'static [&'static str] {
        self.0
    }
}

/// Texts told by a closure, whose type no other closure has. It holds nothing, so it always tells the same.
#[derive(Clone, Copy)]
pub struct Known<F>(F);

impl<F> std::fmt::Debug for Known<F> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Known")
    }
}

impl<F: Fn() -> &'static [&'static str] + 'static> Texts for Known<F> {
    type Id = F;
    const KNOWN: bool = true;
    fn texts(&self) -> &'static [&'static str] {
        const { assert!(size_of::<F>() == 0, "a closure that holds something may tell now this, now that") };
        (self.0)()
    }
}

impl Standing {
    /// `SELECT … WHERE a = ` and ` AND b = ` with two ids. The answer is `QueryableByName`.
    #[must_use]
    pub fn asking(texts: &'static [&'static str], values: &[&str]) -> Self {
        Self::of(Loose(texts), values)
    }
}

impl<Columns> Standing<Columns> {
    /// The same with an answer that is `Queryable`, its columns taken in order: for questions of every page and with many
    /// rows. To find each column of each row by its name took a tenth of a page's instructions.
    #[must_use]
    pub fn in_order(texts: &'static [&'static str], values: &[&str]) -> Self {
        Self::of(Loose(texts), values)
    }
}

impl<Columns, F: Fn() -> &'static [&'static str] + 'static> Standing<Columns, Known<F>> {
    /// The same, for the questions of every page: `|| &TEXTS`, written out where it is asked. Putting the SQL together and
    /// comparing it took as long as many an answer.
    #[must_use]
    pub fn known(texts: F, values: &[&str]) -> Self {
        Self::of(Known(texts), values)
    }
}

impl<Columns, T> Standing<Columns, T> {
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

    fn of(texts: T, values: &[&str]) -> Self {
        let values = values.iter().map(|value| (*value).to_owned()).collect();
        Self { texts, values, columns: PhantomData }
    }
}

impl<Columns, T: Texts> QueryId for Standing<Columns, T> {
    type QueryId = T::Id;
    const HAS_STATIC_QUERY_ID: bool = T::KNOWN;
}

impl<DB, Columns, T: Texts> QueryFragment<DB> for Standing<Columns, T>
where
    DB: Backend + HasSqlType<Text>,
    String: ToSql<Text, DB>,
{
    fn walk_ast<'b>(&'b self, mut pass: AstPass<'_, 'b, DB>) -> QueryResult<()> {
        for (place, text) in self.texts.texts().iter().enumerate() {
            pass.push_sql(text);
            if let Some(value) = self.values.get(place) {
                pass.push_bind_param::<Text, String>(value)?;
            }
        }
        Ok(())
    }
}

impl<Columns, T> Query for Standing<Columns, T> {
    type SqlType = Columns;
}

impl<C, Columns, T> RunQueryDsl<C> for Standing<Columns, T> {}
