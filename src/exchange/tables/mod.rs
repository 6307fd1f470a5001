//! The tables that leave a class, one file each: its columns, and the row written from what the store hands over. The page
//! and the command line write them by the same function, and `columns` writes the dictionary from the same columns.
//!
//! Instants are UTC, due dates local with their zone beside them, amounts exact decimals of the unit in the column's name.
//! Rows stand in an order that follows from the record alone, so that both databases give the same bytes.

mod attendance;
mod columns;
mod etches;
mod goals;
mod grades;
mod journal;
mod plates;
mod prints;
mod roster;
mod scores;
mod sign_offs;

#[cfg(test)]
mod tests;

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::io::Write;

use chrono::{DateTime, NaiveDate, Utc};

use crate::clock::Instant;
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::speech::Speech;
use crate::spelled;
use crate::store::AnyConnection;
use crate::store::classes::due_read;
use crate::store::exports::{Counts, DueRow, Of, Owner, file_name};
use crate::trade::exact::{Exact, Rounding};
use crate::trade::lateness::Deadline;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

spelled!(
    /// What can be taken out of a class.
    Table {
        Roster = "roster",
        Prints = "prints",
        Plates = "plates",
        Etches = "etches",
        SignOffs = "signoffs",
        Grades = "grades",
        Scores = "scores",
        Attendance = "attendance",
        /// For the department: how many reach each learning goal.
        Goals = "goals",
        Journal = "journal",
        /// What stands in the columns of all the others.
        Columns = "columns",
    }
);

impl Table {
    /// The columns, in order.
    #[must_use]
    pub const fn columns(self) -> &'static [Column] {
        match self {
            Self::Roster => roster::COLUMNS,
            Self::Prints => prints::COLUMNS,
            Self::Plates => plates::COLUMNS,
            Self::Etches => etches::COLUMNS,
            Self::SignOffs => sign_offs::COLUMNS,
            Self::Grades => grades::COLUMNS,
            Self::Scores => scores::COLUMNS,
            Self::Attendance => attendance::COLUMNS,
            Self::Goals => goals::COLUMNS,
            Self::Journal => journal::COLUMNS,
            Self::Columns => columns::COLUMNS,
        }
    }

    /// Key of the catalogue that says what the table holds.
    #[must_use]
    pub const fn about(self) -> &'static str {
        match self {
            Self::Roster => "exports-about-roster",
            Self::Prints => "exports-about-prints",
            Self::Plates => "exports-about-plates",
            Self::Etches => "exports-about-etches",
            Self::SignOffs => "exports-about-signoffs",
            Self::Grades => "exports-about-grades",
            Self::Scores => "exports-about-scores",
            Self::Attendance => "exports-about-attendance",
            Self::Goals => "exports-about-goals",
            Self::Journal => "exports-about-journal",
            Self::Columns => "exports-about-columns",
        }
    }

    /// How many rows the table has.
    #[must_use]
    pub fn rows(self, counts: &Counts) -> i64 {
        match self {
            Self::Roster => counts.people,
            Self::Prints => counts.prints,
            Self::Plates => counts.plates,
            Self::Etches => counts.etches,
            Self::SignOffs => counts.sign_offs,
            Self::Grades => counts.students,
            Self::Scores => counts.scores,
            Self::Attendance => counts.attendance,
            Self::Goals => counts.goals,
            Self::Journal => counts.journal,
            Self::Columns => {
                let all = Self::ALL.iter().map(|table| table.columns().len()).sum::<usize>();
                i64::try_from(all).unwrap_or(i64::MAX)
            }
        }
    }

    /// What the file is called: the class, the term and the table.
    #[must_use]
    pub fn file_name(self, of: &Of) -> String {
        let name = match self {
            Self::Columns => String::new(),
            _ => format!("{} {} ", of.code, of.term),
        };
        file_name(&format!("{name}{}.csv", self.word()))
    }
}

/// Writes a table of a class, row by row. Gives the writer back.
///
/// # Errors
/// The database cannot be read, or the writer fails.
pub fn write<W: Write>(
    db: &mut AnyConnection,
    table: Table,
    of: &Of,
    speech: &Speech,
    out: W,
) -> Result<W, Trouble> {
    let mut sheet = Sheet::new(out, table.columns()).map_err(unwritten)?;
    match table {
        Table::Roster => roster::write(db, of, &mut sheet),
        Table::Prints => prints::write(db, of, &mut sheet),
        Table::Plates => plates::write(db, of, &mut sheet),
        Table::Etches => etches::write(db, of, &mut sheet),
        Table::SignOffs => sign_offs::write(db, of, &mut sheet),
        Table::Grades => grades::write(db, of, speech, &mut sheet),
        Table::Scores => scores::write(db, of, &mut sheet),
        Table::Attendance => attendance::write(db, of, &mut sheet),
        Table::Goals => goals::write(db, of, &mut sheet),
        Table::Journal => journal::write(db, of, &mut sheet),
        Table::Columns => columns::write(speech, &mut sheet),
    }?;
    sheet.finish().map_err(unwritten)
}

fn unwritten(error: std::io::Error) -> Trouble {
    Trouble::broken("writing a table", error)
}

/// Writes one row.
fn put<W: Write>(sheet: &mut Sheet<W>, cells: &[Cell<'_>]) -> Result<(), Trouble> {
    sheet.row(cells).map_err(unwritten)
}

// Columns that several tables have.
const PERSON_ID: Column = Column::new("person_id", Holds::Text, "exports-column-person-id");
const GIVEN_NAME: Column = Column::new("given_name", Holds::Text, "exports-column-given-name");
const FAMILY_NAME: Column = Column::new("family_name", Holds::Text, "exports-column-family-name");
const STUDENT_NUMBER: Column = Column::new("student_number", Holds::Text, "exports-column-student-number");
const LISTING_CODE: Column = Column::new("listing_code", Holds::Text, "exports-column-listing-code");
const LISTING_SECTION: Column = Column::new("listing_section", Holds::Text, "exports-column-listing-section");
const PROJECT: Column = Column::new("project", Holds::Text, "exports-column-project");
const PRINT: Column = Column::new("print", Holds::Text, "exports-column-print");
const PRINT_ID: Column = Column::new("print_id", Holds::Text, "exports-column-print-id");
const PLATE_ID: Column = Column::new("plate_id", Holds::Text, "exports-column-plate-id");
const DUE_LOCAL: Column = Column::new("due_local", Holds::Text, "exports-column-due-local");
const DUE_ZONE: Column = Column::new("due_zone", Holds::Text, "exports-column-due-zone");
const DUE_AT: Column = Column::new("due_at", Holds::Instant, "exports-column-due-at");
const HANDED_IN_AT: Column = Column::new("handed_in_at", Holds::Instant, "exports-column-handed-in-at");
const DAYS_LATE: Column = Column::new("days_late", Holds::Number, "exports-column-days-late").unit("d");
const BEGUN_AT: Column = Column::new("begun_at", Holds::Instant, "exports-column-begun-at");

/// The cells of `person_id` to `listing_section`.
fn person(of: &Owner) -> [Cell<'_>; 6] {
    [
        Cell::Text(of.id.as_str()),
        Cell::Text(&of.given_name),
        Cell::Text(&of.family_name),
        maybe(of.student_number.as_deref()),
        maybe(of.listing_code.as_deref()),
        maybe(of.listing_section.as_deref()),
    ]
}

/// A due date as the cells of `due_local` to `days_late` have it.
struct Due {
    local: String,
    at: DateTime<Utc>,
    handed_in: Option<Instant>,
    late: String,
}

impl Due {
    /// Late by the grace of the class: what was handed in by that moment, what lies open by the moment of the table.
    fn new(of: &Of, counting: &Counting, row: &DueRow, handed_in: Option<Instant>) -> Result<Self, Trouble> {
        let deadline = Deadline {
            due: due_read(row.local())?,
            personal_due: None,
            zone: of.zone,
            grace_minutes: counting.grace_minutes,
            uncounted: counting.uncounted.clone(),
        };
        Ok(Self {
            local: row.local().to_owned(),
            at: deadline.due_at(),
            handed_in,
            late: deadline.late(handed_in.unwrap_or(of.at).utc()).days.to_string(),
        })
    }

    fn cells<'c>(&'c self, of: &'c Of) -> [Cell<'c>; 5] {
        [
            Cell::Text(&self.local),
            Cell::Text(of.zone.name()),
            Cell::Instant(self.at),
            moment(self.handed_in),
            Cell::Number(&self.late),
        ]
    }
}

/// How a class counts days late.
struct Counting {
    grace_minutes: u32,
    uncounted: BTreeSet<NaiveDate>,
}

impl Counting {
    /// Two statements.
    fn read(db: &mut AnyConnection, of: &Of) -> Result<Self, Trouble> {
        let rules = crate::store::grades::rules::rules(db, of.class)?;
        Ok(Self {
            grace_minutes: u32::try_from(rules.grace_minutes).unwrap_or(0),
            uncounted: crate::store::grades::uncounted::uncounted(db, of.class)?,
        })
    }
}

/// Text that may not be there.
fn maybe(text: Option<&str>) -> Cell<'_> {
    text.map_or(Cell::Empty, Cell::Text)
}

/// A closed word that may not be there.
fn word<T: Spelled>(word: Option<T>) -> Cell<'static> {
    word.map_or(Cell::Empty, |word| Cell::Text(word.word()))
}

fn moment(at: Option<Instant>) -> Cell<'static> {
    at.map_or(Cell::Empty, |at| Cell::Instant(at.utc()))
}

/// A number written out by us; nothing where it is empty.
fn number(text: &str) -> Cell<'_> {
    if text.is_empty() { Cell::Empty } else { Cell::Number(text) }
}

/// A whole number of a small unit as a decimal of the large one, in full: `places(29_574, 3)` is 29.574.
fn places(amount: i64, places: u32) -> String {
    let one = 10_u64.pow(places);
    let sign = if amount < 0 { "-" } else { "" };
    let (whole, part) = (amount.unsigned_abs() / one, amount.unsigned_abs() % one);
    match usize::try_from(places).unwrap_or(0) {
        0 => format!("{sign}{whole}"),
        width => format!("{sign}{whole}.{part:0>width$}"),
    }
}

/// The same where there may be none.
fn maybe_places(amount: Option<impl Into<i64>>, count: u32) -> String {
    amount.map(|amount| places(amount.into(), count)).unwrap_or_default()
}

/// An exact number rounded to so many places, a half away from zero.
fn rounded(number: Option<Cow<'_, Exact>>, places: u32) -> String {
    number.map(|number| number.text(Rounding::half_up(places))).unwrap_or_default()
}
