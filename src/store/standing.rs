//! A standing question: SQL written by hand, for what diesel's own words cannot say on both databases, that is prepared
//! once a connection. `diesel::sql_query` is prepared anew each time, which costs SQLite more than most answers.

use diesel::backend::Backend;
use diesel::prelude::*;
use diesel::query_builder::{AstPass, Query, QueryFragment, QueryId};
use diesel::serialize::ToSql;
use diesel::sql_types::{HasSqlType, Text, Untyped};

/// The text around the values and the values between: always one more text than there are values.
#[derive(Debug, Clone)]
pub struct Standing {
    texts: &'static [&'static str],
    values: Vec<String>,
}

impl Standing {
    /// `SELECT … WHERE a = ` and ` AND b = ` with two ids. The answer is `QueryableByName`.
    #[must_use]
    pub fn asking(texts: &'static [&'static str], values: &[&str]) -> Self {
        Self { texts, values: values.iter().map(|value| (*value).to_owned()).collect() }
    }
}

impl QueryId for Standing {
    type QueryId = ();
    const HAS_STATIC_QUERY_ID: bool = false;
}

impl<DB> QueryFragment<DB> for Standing
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

impl Query for Standing {
    type SqlType = Untyped;
}

impl<C> RunQueryDsl<C> for Standing {}
