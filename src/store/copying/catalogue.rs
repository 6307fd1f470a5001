//! What the database itself says about its tables: columns with what they hold, and which of them name a row elsewhere.

use diesel::prelude::*;

use super::Line;
use crate::store::connections::AnyConnection;
use crate::trouble::Trouble;

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Text,
    Number,
    YesNo,
    Day,
}

/// A column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    pub name: String,
    pub kind: Kind,
    /// The type as the database spells it.
    pub spelled: String,
}

/// The columns of a table in their order; none where there is no such table.
///
/// # Errors
/// The database cannot be read, or a column holds what no column of ours does.
pub fn columns(db: &mut AnyConnection, table: &str) -> Result<Vec<Column>, Trouble> {
    let query = match db {
        AnyConnection::Sqlite(_) => {
            format!("SELECT json_array(name, type) AS line FROM pragma_table_info('{table}') ORDER BY cid")
        }
        AnyConnection::Postgres(_) => format!(
            "SELECT json_build_array(column_name, upper(data_type))::text AS line FROM information_schema.columns \
             WHERE table_schema = current_schema() AND table_name = '{table}' ORDER BY ordinal_position"
        ),
    };
    let lines: Vec<Line> = diesel::sql_query(query).load(db)?;
    lines
        .iter()
        .map(|line| {
            let strange = || Trouble::broken("reading the catalogue", format!("{table}: {}", line.line));
            let (name, spelled): (String, String) =
                serde_json::from_str(&line.line).map_err(|_error| strange())?;
            let kind = match spelled.as_str() {
                "TEXT" => Kind::Text,
                "BIGINT" | "INTEGER" => Kind::Number,
                "BOOLEAN" => Kind::YesNo,
                "DATE" => Kind::Day,
                _ => return Err(strange()),
            };
            Ok(Column { name, kind, spelled })
        })
        .collect()
}

/// The columns of a table that name a row of another, or of itself.
///
/// # Errors
/// The database cannot be read.
pub fn references(db: &mut AnyConnection, table: &str, other: &str) -> Result<Vec<String>, Trouble> {
    let query = match db {
        AnyConnection::Sqlite(_) => format!(
            "SELECT \"from\" AS line FROM pragma_foreign_key_list('{table}') WHERE \"table\" = '{other}' ORDER BY 1"
        ),
        AnyConnection::Postgres(_) => format!(
            "SELECT a.attname::text AS line FROM pg_constraint f JOIN pg_class t ON t.oid = f.conrelid \
             JOIN pg_class o ON o.oid = f.confrelid \
             JOIN pg_attribute a ON a.attrelid = t.oid AND a.attnum = ANY (f.conkey) \
             WHERE f.contype = 'f' AND t.relnamespace = current_schema()::regnamespace \
             AND t.relname = '{table}' AND o.relname = '{other}' ORDER BY 1"
        ),
    };
    let lines: Vec<Line> = diesel::sql_query(query).load(db)?;
    Ok(lines.into_iter().map(|line| line.line).collect())
}
