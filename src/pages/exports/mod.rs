//! The records page: which tables can be taken out of the class, what stands in them, and what was taken last.

pub mod sending;

use serde::Serialize;

use crate::exchange::spreadsheet::{Column, Holds};
use crate::exchange::tables::Table;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::{InClass, Seat};
use crate::speech::Speech;
use crate::store::exports::disclosures::{self, Taken, Way};
use crate::store::exports::{self, Counts};
use crate::trade::spelled::Spelled;

/// So many of the tables taken last are shown.
const TAKEN_SHOWN: i64 = 20;

#[derive(Serialize)]
struct View {
    tables: Vec<Line>,
    taken: Vec<Row>,
}

#[derive(Serialize)]
struct Line {
    file: &'static str,
    path: String,
    about: String,
    rows: i64,
    count: usize,
    columns: Vec<Meaning>,
}

#[derive(Serialize)]
struct Meaning {
    name: &'static str,
    holds: String,
    unit: &'static str,
    words: String,
    meaning: String,
}

#[derive(Serialize)]
struct Row {
    when: String,
    who: Option<String>,
    table: String,
    way: String,
}

/// Whether somebody in this seat may take the table: records staff take no scores with their comments and no journal.
#[must_use]
pub fn may_take(seat: Seat, table: Table) -> bool {
    match seat {
        Seat::Instructor => true,
        Seat::Records => !matches!(table, Table::Scores | Table::Attendance | Table::Journal),
        Seat::Student | Seat::Assistant | Seat::SafetyOfficer => false,
    }
}

/// The page. The password is asked for here already, so that no download is interrupted by it.
pub async fn page(ask: InClass) -> Reply {
    ask.confirmed()?;
    let class = ask.class();
    let (counts, taken) = ask
        .house
        .db
        .read(move |db| Ok((exports::counts(db, class)?, disclosures::last(db, class, TAKEN_SHOWN)?)))
        .await?;
    let own = Table::ALL.iter().filter(|table| may_take(ask.seat(), **table));
    let view = View {
        tables: own.map(|table| line(&ask, *table, &counts)).collect(),
        taken: taken.into_iter().map(|one| row(&ask, one)).collect(),
    };
    ask.show("exports/records", "exports-title", &view)
}

fn line(ask: &InClass, table: Table, counts: &Counts) -> Line {
    let speech = &ask.house.speech;
    Line {
        file: table.word(),
        path: format!("/classes/{}/records/{}.csv", ask.class(), table.word()),
        about: speech.plain(table.about()),
        rows: table.rows(counts),
        count: table.columns().len(),
        columns: table.columns().iter().map(|column| meaning(speech, column)).collect(),
    }
}

fn meaning(speech: &Speech, column: &Column) -> Meaning {
    Meaning {
        name: column.key,
        holds: speech.plain(match column.holds {
            Holds::Text => "exports-holds-text",
            Holds::Number => "exports-holds-number",
            Holds::Date => "exports-holds-date",
            Holds::Instant => "exports-holds-instant",
            Holds::YesNo => "exports-holds-yes-no",
        }),
        unit: column.unit,
        words: (column.words)().join(", "),
        meaning: speech.plain(column.description),
    }
}

fn row(ask: &InClass, one: Taken) -> Row {
    Row {
        when: dates::moment(one.at, ask.membership.zone),
        who: one.by.map(|(given, family)| format!("{given} {family}").trim().to_owned()),
        table: one.table,
        way: ask.house.speech.plain(match one.way {
            Way::Page => "exports-way-page",
            Way::Command => "exports-way-command",
        }),
    }
}
