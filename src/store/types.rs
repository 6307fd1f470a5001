//! How our own types stand in columns: ids and closed words as TEXT, instants as BIGINT milliseconds.

use diesel::Connection;
use diesel::backend::Backend;
use diesel::deserialize::{self, FromSql};
use diesel::expression::AsExpression;
use diesel::internal::derives::as_expression::Bound;
use diesel::pg::Pg;
use diesel::serialize::{self, Output, ToSql};
use diesel::sql_types::{BigInt, Nullable, SingleValue, Text};
use diesel::sqlite::Sqlite;

use crate::clock::Instant;
use crate::ids::Id;
use crate::store::connections::AnyConnection;
use crate::trade::spelled::Spelled;

/// A closed word in a TEXT column. A word nobody knows is an error when it is read.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Word<T>(pub T);

/// The word as the row has it, which is what diesel shows of a statement's values.
impl<T: Spelled> std::fmt::Debug for Word<T> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:?}", self.0.word())
    }
}

impl<T: serde::Serialize> serde::Serialize for Word<T> {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(to)
    }
}

/// Gives a type everything diesel asks of a value in one kind of column.
macro_rules! column {
    ([$($generic:tt)*] $type:ty, $sql:ty) => {
        impl<$($generic)*> AsExpression<$sql> for $type {
            type Expression = Bound<$sql, Self>;
            fn as_expression(self) -> Self::Expression { Bound::new(self) }
        }
        impl<$($generic)*> AsExpression<Nullable<$sql>> for $type {
            type Expression = Bound<Nullable<$sql>, Self>;
            fn as_expression(self) -> Self::Expression { Bound::new(self) }
        }
        impl<'expr, $($generic)*> AsExpression<$sql> for &'expr $type {
            type Expression = Bound<$sql, Self>;
            fn as_expression(self) -> Self::Expression { Bound::new(self) }
        }
        impl<'expr, $($generic)*> AsExpression<Nullable<$sql>> for &'expr $type {
            type Expression = Bound<Nullable<$sql>, Self>;
            fn as_expression(self) -> Self::Expression { Bound::new(self) }
        }
        impl<DB, $($generic)*> ToSql<Nullable<$sql>, DB> for $type
        where
            DB: Backend,
            Self: ToSql<$sql, DB>,
        {
            fn to_sql<'b>(&'b self, out: &mut Output<'b, '_, DB>) -> serialize::Result {
                ToSql::<$sql, DB>::to_sql(self, out)
            }
        }
        impl<DB, ST, $($generic)*> diesel::deserialize::Queryable<ST, DB> for $type
        where
            DB: Backend,
            ST: SingleValue,
            Self: FromSql<ST, DB>,
        {
            type Row = Self;
            fn build(row: Self) -> deserialize::Result<Self> { Ok(row) }
        }
    };
}

column!([K: 'static] Id<K>, Text);
column!([T: Spelled] Word<T>, Text);
column!([] Instant, BigInt);

impl<K: 'static, DB> ToSql<Text, DB> for Id<K>
where
    DB: Backend,
    str: ToSql<Text, DB>,
{
    fn to_sql<'b>(&'b self, out: &mut Output<'b, '_, DB>) -> serialize::Result {
        self.as_str().to_sql(out)
    }
}

impl<T: Spelled, DB> ToSql<Text, DB> for Word<T>
where
    DB: Backend,
    str: ToSql<Text, DB>,
{
    fn to_sql<'b>(&'b self, out: &mut Output<'b, '_, DB>) -> serialize::Result {
        self.0.word().to_sql(out)
    }
}

/// What is read from a text column without a text of its own: most columns are ids and words.
trait FromText: Sized {
    fn from_text(text: &str) -> deserialize::Result<Self>;
}

impl<K> FromText for Id<K> {
    fn from_text(text: &str) -> deserialize::Result<Self> {
        Ok(text.parse()?)
    }
}

impl<T: Spelled> FromText for Word<T> {
    fn from_text(text: &str) -> deserialize::Result<Self> {
        T::from_word(text).map(Word).ok_or_else(|| format!("unknown word “{text}” in the database").into())
    }
}

/// Reads a type from the text columns of each database and of both behind one connection.
macro_rules! from_text {
    ([$($generic:tt)*] $type:ty) => {
        impl<$($generic)*> FromSql<Text, Sqlite> for $type {
            fn from_sql(mut value: <Sqlite as Backend>::RawValue<'_>) -> deserialize::Result<Self> {
                Self::from_text(value.read_text())
            }
        }
        impl<$($generic)*> FromSql<Text, Pg> for $type {
            fn from_sql(value: <Pg as Backend>::RawValue<'_>) -> deserialize::Result<Self> {
                Self::from_text(std::str::from_utf8(value.as_bytes())?)
            }
        }
        impl<$($generic)*> FromSql<Text, Either> for $type {
            fn from_sql(value: <Either as Backend>::RawValue<'_>) -> deserialize::Result<Self> {
                Self::from_text(&<String as FromSql<Text, Either>>::from_sql(value)?)
            }
        }
    };
}

type Either = <AnyConnection as Connection>::Backend;

from_text!([K] Id<K>);
from_text!([T: Spelled] Word<T>);

/// `Instant` is written through its number; the reference must outlive the statement, so it lies in the type.
impl<DB> ToSql<BigInt, DB> for Instant
where
    DB: Backend,
    i64: ToSql<BigInt, DB>,
{
    fn to_sql<'b>(&'b self, out: &mut Output<'b, '_, DB>) -> serialize::Result {
        self.as_millis_ref().to_sql(out)
    }
}

impl<DB> FromSql<BigInt, DB> for Instant
where
    DB: Backend,
    i64: FromSql<BigInt, DB>,
{
    fn from_sql(bytes: DB::RawValue<'_>) -> deserialize::Result<Self> {
        i64::from_sql(bytes).map(Self::from_millis)
    }
}

/// The columns of a question that is asked in several places, told once for their type and for themselves.
macro_rules! columns {
    ($(#[$about:meta])* $vis:vis const $name:ident: $kind:ident = $columns:tt;) => {
        $vis type $kind = $columns;
        $(#[$about])*
        $vis const $name: $kind = $columns;
    };
}
pub(crate) use columns;
