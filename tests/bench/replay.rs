//! Statements heard from the program, asked again without it: every value written into the text, prepared once, every
//! field of every row copied out. This is the least a hand-written program would do for the same answer.

use diesel::backend::Backend;
use diesel::pg::Pg;
use diesel::prelude::*;
use diesel::query_builder::{AstPass, Query, QueryFragment, QueryId};
use diesel::row::{Field, NamedRow};
use diesel::serialize::ToSql;
use diesel::sql_types::{BigInt, HasSqlType, Text, Untyped};
use diesel::sqlite::Sqlite;
use tympan::store::AnyConnection;
use tympan::store::tally::Asked;

/// One statement with its values in it.
#[derive(Debug, Clone)]
pub struct Replay(pub String);

impl QueryId for Replay {
    type QueryId = ();
    const HAS_STATIC_QUERY_ID: bool = false;
}

impl<DB: Backend> QueryFragment<DB> for Replay {
    fn walk_ast<'b>(&'b self, mut pass: AstPass<'_, 'b, DB>) -> QueryResult<()> {
        pass.push_sql(&self.0);
        Ok(())
    }
}

impl Query for Replay {
    type SqlType = Untyped;
}

impl<C> RunQueryDsl<C> for Replay {}

/// A row as bytes.
struct Row(Vec<Option<Vec<u8>>>);

impl diesel::deserialize::QueryableByName<Sqlite> for Row {
    fn build<'a>(row: &impl NamedRow<'a, Sqlite>) -> diesel::deserialize::Result<Self> {
        (0..row.field_count())
            .map(|place| {
                let field = diesel::row::Row::get(row, place);
                let value = field.as_ref().and_then(|field| field.value());
                value
                    .map(|value| {
                        diesel::deserialize::FromSql::<Text, Sqlite>::from_sql(value).map(String::into_bytes)
                    })
                    .transpose()
            })
            .collect::<Result<_, _>>()
            .map(Row)
    }
}

impl diesel::deserialize::QueryableByName<Pg> for Row {
    fn build<'a>(row: &impl NamedRow<'a, Pg>) -> diesel::deserialize::Result<Self> {
        let bytes = |place| {
            let field = diesel::row::Row::get(row, place);
            field.as_ref().and_then(|field| field.value().map(|value| value.as_bytes().to_vec()))
        };
        Ok(Row((0..row.field_count()).map(bytes).collect()))
    }
}

impl Replay {
    /// The statement with the values that were bound to it.
    ///
    /// # Errors
    /// A value whose text does not say what it is in SQL.
    pub fn of(asked: &Asked) -> Result<Self, String> {
        Ok(Self(pieces(asked)?.iter().map(Piece::text).collect()))
    }

    /// Asks, and gives back how many bytes came.
    ///
    /// # Errors
    /// The database's.
    pub fn ask(&self, db: &mut AnyConnection) -> QueryResult<usize> {
        let rows: Vec<Row> = match db {
            AnyConnection::Sqlite(sqlite) => self.clone().load(sqlite)?,
            AnyConnection::Postgres(postgres) => self.clone().load(postgres)?,
        };
        Ok(rows.iter().flat_map(|row| &row.0).flatten().map(Vec::len).sum())
    }
}

/// A part of a statement: its own text, or a value as SQL writes it.
enum Piece {
    Text(String),
    Value(String),
}

impl Piece {
    fn text(&self) -> &str {
        let (Self::Text(text) | Self::Value(text)) = self;
        text
    }
}

/// A statement in parts, its values where their placeholders were.
fn pieces(asked: &Asked) -> Result<Vec<Piece>, String> {
    let values = parts(&asked.values)?;
    let mut found = Vec::new();
    let mut rest = asked.sql.as_str();
    let mut next = 0;
    while let Some(at) = rest.find(['?', '$']) {
        let (before, from) = rest.split_at(at);
        found.push(Piece::Text(before.to_owned()));
        let digits = from[1..].chars().take_while(char::is_ascii_digit).count();
        let numbered = from[1..=digits].parse::<usize>();
        let place = numbered.map_or(next, |number| number - 1);
        next += 1;
        let value = values.get(place).ok_or(format!("no value {place} of {}", asked.sql))?;
        found.push(Piece::Value(value.clone()));
        rest = &from[1 + digits..];
    }
    found.push(Piece::Text(rest.to_owned()));
    Ok(found)
}

/// The values of a list as diesel prints it, each as SQL writes it.
fn parts(list: &str) -> Result<Vec<String>, String> {
    let inner = list.trim().strip_prefix('[').and_then(|list| list.strip_suffix(']'));
    let inner = inner.ok_or(format!("no list of values: {list}"))?;
    let (mut found, mut depth, mut quoted, mut escaped, mut from) = (Vec::new(), 0, false, false, 0);
    for (at, c) in inner.char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' if quoted => escaped = true,
            '"' => quoted = !quoted,
            '[' | '(' if !quoted => depth += 1,
            ']' | ')' if !quoted => depth -= 1,
            ',' if !quoted && depth == 0 => {
                found.push(literal(inner[from..at].trim())?);
                from = at + 1;
            }
            _ => {}
        }
    }
    if !inner[from..].trim().is_empty() {
        found.push(literal(inner[from..].trim())?);
    }
    Ok(found)
}

fn literal(value: &str) -> Result<String, String> {
    let inside = |name: &str| value.strip_prefix(name)?.strip_prefix('(')?.strip_suffix(')');
    if let Some(inner) = inside("Some") {
        return literal(inner);
    }
    if let Some(millis) = inside("Instant") {
        return literal(millis);
    }
    if let Some(text) = value.strip_prefix('"').and_then(|text| text.strip_suffix('"')) {
        return Ok(format!("'{}'", text.replace("\\\"", "\"").replace('\'', "''")));
    }
    if value.starts_with('[') {
        return Ok(format!("ARRAY[{}]", parts(value)?.join(", ")));
    }
    let is_id_or_date = value.contains('-') && value.chars().all(|c| c.is_ascii_hexdigit() || c == '-');
    match value {
        "None" => Ok("NULL".into()),
        "true" | "false" => Ok(value.to_uppercase()),
        _ if value.parse::<i64>().is_ok() => Ok(value.to_owned()),
        _ if is_id_or_date => Ok(format!("'{value}'")),
        other => Err(format!("the value {other} is none the floor can write down")),
    }
}

/// What is different each time a write is repeated.
#[derive(Debug, Clone)]
pub struct Fresh {
    pub id: String,
    pub once: String,
    pub seq: i64,
}

/// A write heard from the program, to be repeated: what is the same each time stands in its text, what is fresh is bound.
#[derive(Debug, Clone)]
pub struct Bound {
    texts: Vec<String>,
    fresh: Vec<Which>,
}

#[derive(Debug, Clone, Copy)]
enum Which {
    Id,
    Once,
    Seq,
}

impl Bound {
    /// The write with its values in it, but for those of `known`.
    ///
    /// # Errors
    /// A value whose text does not say what it is in SQL.
    pub fn of(asked: &Asked, known: &Fresh) -> Result<Self, String> {
        let (id, once) = (format!("'{}'", known.id), format!("'{}'", known.once));
        // A place in the journal is a small number, which may well stand in other tables too.
        let seq = asked.sql.contains("journal").then(|| known.seq.to_string());
        let (mut texts, mut fresh) = (vec![String::new()], Vec::new());
        for piece in pieces(asked)? {
            let which = match &piece {
                Piece::Value(value) if *value == id => Some(Which::Id),
                Piece::Value(value) if *value == once => Some(Which::Once),
                Piece::Value(value) if Some(value) == seq.as_ref() => Some(Which::Seq),
                _ => None,
            };
            if let Some(which) = which {
                fresh.push(which);
                texts.push(String::new());
            } else if let Some(text) = texts.last_mut() {
                text.push_str(piece.text());
            }
        }
        Ok(Self { texts, fresh })
    }

    /// Whether it is about a table of that name or one that begins with it.
    pub fn concerns(&self, table: &str) -> bool {
        let start = self.texts.first().map(|text| text.replace(['"', '`'], "")).unwrap_or_default();
        ["INSERT INTO ", "UPDATE ", "SELECT seq, hash FROM "]
            .iter()
            .any(|verb| start.strip_prefix(verb).is_some_and(|rest| rest.starts_with(table)))
    }

    /// The same with one value instead of another.
    pub fn with(self, value: &str, instead: &str) -> Self {
        Self { texts: self.texts.iter().map(|text| text.replace(value, instead)).collect(), ..self }
    }

    /// Writes.
    ///
    /// # Errors
    /// The database's.
    pub fn execute(&self, db: &mut AnyConnection, fresh: &Fresh) -> QueryResult<()> {
        Writing { bound: self, fresh }.execute(db).map(drop)
    }
}

struct Writing<'a> {
    bound: &'a Bound,
    fresh: &'a Fresh,
}

impl QueryId for Writing<'_> {
    type QueryId = ();
    const HAS_STATIC_QUERY_ID: bool = false;
}

impl<DB> QueryFragment<DB> for Writing<'_>
where
    DB: Backend + HasSqlType<Text> + HasSqlType<BigInt>,
    String: ToSql<Text, DB>,
    i64: ToSql<BigInt, DB>,
{
    fn walk_ast<'b>(&'b self, mut pass: AstPass<'_, 'b, DB>) -> QueryResult<()> {
        for (place, text) in self.bound.texts.iter().enumerate() {
            pass.push_sql(text);
            match self.bound.fresh.get(place) {
                Some(Which::Id) => pass.push_bind_param::<Text, String>(&self.fresh.id)?,
                Some(Which::Once) => pass.push_bind_param::<Text, String>(&self.fresh.once)?,
                Some(Which::Seq) => pass.push_bind_param::<BigInt, i64>(&self.fresh.seq)?,
                None => {}
            }
        }
        Ok(())
    }
}

impl<C> RunQueryDsl<C> for Writing<'_> {}
