//! A class list as people really have it: a text file from an office or a spreadsheet program, read into rows with their
//! line numbers, and rows that cannot be used, each with line, column, value and what to do.
//!
//! Nothing is guessed and nothing is stored here: [`read`] gives what the list says, `exchange::roster_plan` compares it
//! with the people already known.
//!
//! ```
//! use tympan::exchange::roster::{Listing, read};
//! let listings = [Listing { id: 1, code: "LIT 220".to_owned(), section: "01".to_owned() }];
//! let list = "Name;E-Mail;Section\r\n\"Lima, Ana\";ana.lima@student.example;1\r\n".as_bytes();
//! let roster = read(list, &listings).unwrap();
//! assert_eq!((roster.rows[0].line, roster.rows[0].listing), (2, Some(1)));
//! assert_eq!(roster.rows[0].details.given_name, "Ana");
//! ```

mod cells;
mod columns;
mod encoding;
mod listings;
mod table;
mod twice;
mod values;

pub use self::columns::COLUMNS;
/// Addresses with the same key are the same address, here as where people sign in.
pub use crate::store::people::accounts::email_key;

use self::cells::Draft;
use self::columns::Columns;
use self::encoding::count;
use self::listings::Listings;
pub(super) use self::listings::known;
use self::table::{Fault, Record};
pub(super) use self::twice::name_key;
use crate::trade::remark::Remark;

/// The largest file that is read, in bytes.
pub const MOST_BYTES: usize = 5_000_000;
/// The most rows that are read.
pub const MOST_ROWS: usize = 20_000;

/// What a column of a list may hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Field {
    GivenName,
    FamilyName,
    /// Both in one: `Family, Given`.
    Name,
    Email,
    StudentNumber,
    /// The id another system gave the person.
    ExternalId,
    Listing,
    /// The course alone, where another column holds the section.
    Course,
    Role,
}

impl Field {
    /// The catalogue key of the field's name.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::GivenName => "roster-field-given-name",
            Self::FamilyName => "roster-field-family-name",
            Self::Name => "roster-field-name",
            Self::Email => "roster-field-email",
            Self::StudentNumber => "roster-field-student-number",
            Self::ExternalId => "roster-field-external-id",
            Self::Listing => "roster-field-listing",
            Self::Course => "roster-field-course",
            Self::Role => "roster-field-role",
        }
    }
}

/// What a list may make of a person in the class; more is never granted by a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    Student,
    Assistant,
}

/// A listing of the class, with the caller's own id.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Listing<L> {
    pub id: L,
    /// Such as `LIT 220`.
    pub code: String,
    /// Such as `01`; may be empty.
    pub section: String,
}

impl<L> Listing<L> {
    /// As people write it: `LIT 220-01`.
    #[must_use]
    pub fn label(&self) -> String {
        if self.section.is_empty() { self.code.clone() } else { format!("{}-{}", self.code, self.section) }
    }
}

/// Who somebody is. Text is in NFC, without spaces around it, spaces inside single. An empty cell of a list says
/// nothing, it never means that something is to be taken away.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Details {
    /// Empty for people who go by one name.
    pub given_name: String,
    pub family_name: String,
    pub email: Option<String>,
    pub student_number: Option<String>,
    pub external_id: Option<String>,
}

impl Details {
    /// Neither number nor id nor e-mail: only the name says who is meant.
    #[must_use]
    pub fn is_name_only(&self) -> bool {
        self.email.is_none() && self.student_number.is_none() && self.external_id.is_none()
    }
}

/// One usable row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row<L> {
    /// The line of the file the row begins in, from 1.
    pub line: u32,
    pub details: Details,
    /// None: the row does not say.
    pub listing: Option<L>,
    /// None: the row does not say.
    pub role: Option<Role>,
}

/// A row that cannot be used as it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BadRow {
    pub line: u32,
    /// At least one.
    pub complaints: Vec<Complaint>,
    /// What could be read of the person.
    pub details: Details,
    /// Its cells are not certain, and rows after it may be hidden in it.
    pub broken: bool,
}

/// What is wrong with one value, and what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Complaint {
    /// None: about the row as a whole.
    pub field: Option<Field>,
    /// As it stands in the list, shortened, control characters made visible.
    pub value: String,
    /// A sentence by itself, with line and column.
    pub remark: Remark,
}

/// What a list says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Roster<L> {
    /// In the order of the list.
    pub rows: Vec<Row<L>>,
    /// In the order of the list.
    pub bad: Vec<BadRow>,
    /// Not wrong, but worth a look.
    pub notes: Vec<Remark>,
    /// Headings of the columns that were not read.
    pub ignored: Vec<String>,
}

/// The keys by which the rows may belong to people already known: what to look up before comparing.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Keys {
    pub external_ids: Vec<String>,
    pub student_numbers: Vec<String>,
    /// After [`email_key`].
    pub email_keys: Vec<String>,
}

impl<L> Roster<L> {
    #[must_use]
    pub fn keys(&self) -> Keys {
        let details = || self.rows.iter().map(|row| &row.details);
        Keys {
            external_ids: details().filter_map(|told| told.external_id.clone()).collect(),
            student_numbers: details().filter_map(|told| told.student_number.clone()).collect(),
            email_keys: details().filter_map(|told| told.email.as_deref().map(email_key)).collect(),
        }
    }
}

/// Reads a class list.
///
/// # Errors
/// The file as a whole cannot be used; the remark says why and what to do. Rows that cannot be used are not an error but
/// part of the answer.
pub fn read<L: Copy>(bytes: &[u8], listings: &[Listing<L>]) -> Result<Roster<L>, Remark> {
    let text = encoding::text(bytes)?;
    let (columns, records) = columns::header(&text)?;
    let listings = Listings::new(listings);
    let mut drafts = Vec::new();
    for record in records.filter(|record| !record.is_blank()) {
        if record.fault == Some(Fault::QuoteLeftOpen) {
            return Err(Remark::new("roster-quote-open").with("line", i64::from(record.line)));
        }
        if drafts.len() == MOST_ROWS {
            return Err(Remark::new("roster-too-many-rows").with("most", count(MOST_ROWS)));
        }
        drafts.push(draft(&record, &columns, &listings));
    }
    if drafts.is_empty() {
        return Err(Remark::new("roster-no-rows"));
    }
    twice::complain(&mut drafts, &columns);
    Ok(sorted_out(drafts, columns))
}

fn draft<L: Copy>(record: &Record, columns: &Columns, listings: &Listings<L>) -> Draft<L> {
    let beyond = record.cells.iter().skip(columns.count()).any(|cell| !cell.trim().is_empty());
    match record.fault {
        Some(Fault::AfterQuote) => Draft::broken(record, columns, "roster-quote-stray"),
        Some(_) => Draft::broken(record, columns, "roster-cells-beyond"),
        None if beyond => Draft::broken(record, columns, "roster-cells-beyond"),
        None => Draft::read(record, columns, listings),
    }
}

fn sorted_out<L>(drafts: Vec<Draft<L>>, columns: Columns) -> Roster<L> {
    let mut roster =
        Roster { rows: Vec::new(), bad: Vec::new(), notes: Vec::new(), ignored: columns.ignored };
    for Draft { line, details, listing, role, complaints, broken } in drafts {
        if !complaints.is_empty() {
            roster.bad.push(BadRow { line, complaints, details, broken });
            continue;
        }
        if details.given_name.is_empty() || details.family_name.is_empty() {
            let name = format!("{}{}", details.given_name, details.family_name);
            roster
                .notes
                .push(Remark::new("roster-one-name").with("line", i64::from(line)).with("value", name));
        }
        roster.rows.push(Row { line, details, listing, role });
    }
    roster
}

/// A value as it can stand in a sentence: at most 60 characters, in one line, nothing invisible.
pub(super) fn shown(value: &str) -> String {
    const MOST: usize = 60;
    let visible = |letter: char| match u32::from(letter) {
        code @ 0..=0x1F => char::from_u32(0x2400 + code).unwrap_or('\u{FFFD}'),
        0x7F => '\u{2421}',
        _ if values::is_hidden(letter) => '\u{FFFD}',
        _ => letter,
    };
    let value = value.trim();
    let mut text: String = value.chars().take(MOST).map(visible).collect();
    if value.chars().nth(MOST).is_some() {
        text.push('…');
    }
    text
}

#[cfg(test)]
mod tests;
