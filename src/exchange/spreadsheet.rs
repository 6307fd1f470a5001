//! Tables that people open in a spreadsheet program: CSV after RFC 4180 with CRLF row ends, UTF-8, a header row, and no
//! cell that such a program would take for a formula. Rows stream to any writer; nothing is held but the row at hand.
//!
//! Text that begins like a formula gets a leading apostrophe (OWASP, "CSV Injection"; ASVS 5.0, V1.2.10). Files that
//! machines exchange must not be altered so; they have their own writers.
//!
//! ```
//! use tympan::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
//! const COLUMNS: &[Column] = &[
//!     Column::new("given_name", Holds::Text, "exports-column-given-name"),
//!     Column::new("sheets", Holds::Number, "exports-column-sheets"),
//! ];
//! let mut sheet = Sheet::new(Vec::new(), COLUMNS)?;
//! sheet.row(&[Cell::Text("=Ada"), Cell::Number("-2")])?;
//! assert_eq!(sheet.finish()?, b"given_name,sheets\r\n'=Ada,-2\r\n");
//! # Ok::<(), std::io::Error>(())
//! ```

use std::io::{Error, ErrorKind, Result, Write};

use chrono::{DateTime, Datelike, NaiveDate, SecondsFormat, Utc};
use csv::{QuoteStyle, Terminator, Writer, WriterBuilder};

use crate::spelled;
use crate::trade::spelled::Spelled;

/// What to call such a file in a Content-Type header (RFC 4180, section 3).
pub const MEDIA_TYPE: &str = "text/csv; charset=utf-8; header=present";

/// Bytes that some spreadsheet programs need at the very beginning to read the rest as UTF-8.
const BYTE_ORDER_MARK: &[u8] = b"\xEF\xBB\xBF";

/// One column of a table, declared as part of a `const` table of columns.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// The heading: trade words in lower case, joined by `_`.
    pub key: &'static str,
    pub holds: Holds,
    /// Key of the word catalogue that says what stands in the column.
    pub description: &'static str,
    /// What a number counts, such as `mL`; empty for what has no unit.
    pub unit: &'static str,
    /// The only words there are, where they are a closed set.
    pub words: fn() -> Vec<&'static str>,
}

impl Column {
    /// In a `const` table a heading of another shape stops the build.
    #[must_use]
    pub const fn new(key: &'static str, holds: Holds, description: &'static str) -> Self {
        assert!(is_heading(key.as_bytes()), "a heading is lower-case words and digits joined by _");
        Self { key, holds, description, unit: "", words: Vec::new }
    }

    /// The same column with the unit of its numbers.
    #[must_use]
    pub const fn unit(self, unit: &'static str) -> Self {
        Self { unit, ..self }
    }

    /// The same column with the closed set its text is of.
    #[must_use]
    pub const fn one_of<T: Spelled>(self) -> Self {
        Self { words: words_of::<T>, ..self }
    }
}

fn words_of<T: Spelled>() -> Vec<&'static str> {
    T::ALL.iter().map(|member| member.word()).collect()
}

spelled!(
    /// The kind of value a column holds.
    Holds {
        Text = "text",
        Number = "number",
        Date = "date",
        Instant = "instant",
        YesNo = "yes_no",
    }
);

/// One value of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cell<'a> {
    /// What a person wrote. Made harmless where it begins like a formula.
    Text(&'a str),
    /// A decimal number the program wrote out itself, such as `-12.50`. Anything else is treated as text.
    Number(&'a str),
    /// Written as `2026-09-14`.
    Date(NaiveDate),
    /// Written after RFC 3339 in UTC with three digits: `2026-09-14T21:00:00.000Z`.
    Instant(DateTime<Utc>),
    /// Written as `yes` or `no`.
    YesNo(bool),
    /// Fits in every column.
    Empty,
}

/// A table being written.
#[derive(Debug)]
pub struct Sheet<W: Write> {
    rows: Writer<W>,
    columns: &'static [Column],
    harmless: String,
}

impl<W: Write> Sheet<W> {
    /// Begins a table with its header row.
    ///
    /// # Errors
    /// The writer fails.
    pub fn new(out: W, columns: &'static [Column]) -> Result<Self> {
        let mut rows = WriterBuilder::new()
            .terminator(Terminator::CRLF)
            .quote_style(QuoteStyle::Necessary)
            .flexible(false)
            .from_writer(out);
        rows.write_record(columns.iter().map(|column| column.key)).map_err(plain)?;
        Ok(Self { rows, columns, harmless: String::new() })
    }

    /// As [`Sheet::new`], with a byte order mark first: some spreadsheet programs take a file without one for the
    /// machine's old encoding and spoil every accented name.
    ///
    /// # Errors
    /// The writer fails.
    pub fn marked(mut out: W, columns: &'static [Column]) -> Result<Self> {
        out.write_all(BYTE_ORDER_MARK)?;
        Self::new(out, columns)
    }

    /// Writes one row.
    ///
    /// # Errors
    /// The writer fails; or the cells are not those of the columns, or a year has no four digits (`InvalidInput`,
    /// and nothing of the row is written).
    pub fn row(&mut self, cells: &[Cell<'_>]) -> Result<()> {
        if cells.len() != self.columns.len() {
            return Err(misfit(format!("{} cells for {} columns", cells.len(), self.columns.len())));
        }
        for (cell, column) in cells.iter().zip(self.columns) {
            fits(cell, column)?;
        }
        for cell in cells {
            self.cell(cell)?;
        }
        self.rows.write_record(None::<&[u8]>).map_err(plain)
    }

    /// Writes what is still held back and gives the writer again.
    ///
    /// # Errors
    /// The writer fails.
    pub fn finish(mut self) -> Result<W> {
        self.rows.flush()?;
        self.rows.into_inner().map_err(|error| Error::new(error.error().kind(), error.error().to_string()))
    }

    fn cell(&mut self, cell: &Cell<'_>) -> Result<()> {
        let written = match cell {
            Cell::Empty => self.rows.write_field(""),
            Cell::YesNo(yes) => self.rows.write_field(if *yes { "yes" } else { "no" }),
            Cell::Date(date) => self.rows.write_field(date.to_string()),
            Cell::Instant(at) => self.rows.write_field(at.to_rfc3339_opts(SecondsFormat::Millis, true)),
            Cell::Number(number) if is_number(number) => self.rows.write_field(number),
            Cell::Number(text) | Cell::Text(text) if begins_like_formula(text) => {
                self.harmless.clear();
                self.harmless.push('\'');
                self.harmless.push_str(text);
                self.rows.write_field(&self.harmless)
            }
            Cell::Number(text) | Cell::Text(text) => self.rows.write_field(text),
        };
        written.map_err(plain)
    }
}

/// Whether a spreadsheet program could take the text for a formula, or skip its first letter and then do so.
#[must_use]
pub fn begins_like_formula(text: &str) -> bool {
    matches!(
        text.chars().next(),
        Some('=' | '+' | '-' | '@' | '\t' | '\r' | '\n' | '\0' | '＝' | '＋' | '－' | '＠')
    )
}

/// Digits, at most one decimal point between digits, at most one minus sign before them.
fn is_number(text: &str) -> bool {
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let unsigned = text.strip_prefix('-').unwrap_or(text);
    match unsigned.split_once('.') {
        Some((whole, fraction)) => digits(whole) && digits(fraction),
        None => digits(unsigned),
    }
}

fn fits(cell: &Cell<'_>, column: &Column) -> Result<()> {
    let (kind, year) = match cell {
        Cell::Empty => return Ok(()),
        Cell::Text(_) => (Holds::Text, 0),
        Cell::Number(_) => (Holds::Number, 0),
        Cell::YesNo(_) => (Holds::YesNo, 0),
        Cell::Date(date) => (Holds::Date, date.year()),
        Cell::Instant(at) => (Holds::Instant, at.year()),
    };
    if kind != column.holds {
        return Err(misfit(format!("{} holds {:?}, not {cell:?}", column.key, column.holds)));
    }
    // RFC 3339 knows the years 0000 to 9999; others would begin with a sign.
    if !(0..=9999).contains(&year) {
        return Err(misfit(format!("{}: the year {year} cannot be written with four digits", column.key)));
    }
    Ok(())
}

/// The error of the writer below, as it came.
fn plain(error: csv::Error) -> Error {
    match error.into_kind() {
        csv::ErrorKind::Io(error) => error,
        other => Error::other(format!("{other:?}")),
    }
}

fn misfit(problem: String) -> Error {
    Error::new(ErrorKind::InvalidInput, problem)
}

const fn is_heading(key: &[u8]) -> bool {
    let Some((first, mut rest)) = key.split_first() else { return false };
    let mut after_join = false;
    if !first.is_ascii_lowercase() {
        return false;
    }
    while let Some((letter, following)) = rest.split_first() {
        let joins = *letter == b'_';
        if (joins && after_join) || !(joins || letter.is_ascii_lowercase() || letter.is_ascii_digit()) {
            return false;
        }
        after_join = joins;
        rest = following;
    }
    !after_join
}

#[cfg(test)]
mod tests;
