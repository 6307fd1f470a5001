//! The records page: which tables can be taken out of the class, what stands in them, and what was taken last.

pub mod archive;
mod purpose;
pub mod retention;
pub mod sending;
pub mod terms;
pub mod told;

use serde::Serialize;
use serde_json::Value;

use crate::clock::Instant;
use crate::exchange::spreadsheet::{Column, Holds};
use crate::exchange::tables::Table;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::{InClass, Seat};
use crate::speech::Speech;
use crate::store::classes::terms::archived_at;
use crate::store::exports::disclosures::{self, Purpose, Taken, Way};
use crate::store::exports::{self, Counts};
use crate::trade::spelled::Spelled;

/// So many of the tables taken last are shown.
const TAKEN_SHOWN: i64 = 20;

#[derive(Serialize)]
struct View {
    tables: Vec<Line>,
    /// Where the archive of the class is; none for who may not take it.
    archive: Option<String>,
    /// Where that of the first archive of the term is, and as of when it is.
    first_archive: Option<(String, String)>,
    /// Where the archive of the whole term is, for whoever instructs every class of it, where there are several.
    whole_term: Option<String>,
    package: String,
    told: String,
    purpose: Value,
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
    purpose: String,
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
    let term = ask.membership.term;
    let by = ask.person.id;
    let (counts, taken, first, of_term) = ask
        .house
        .db
        .read(move |db| {
            let first = archived_at(db, term)?;
            let of_term = exports::of_term(db, term, by)?;
            Ok((exports::counts(db, class)?, disclosures::last(db, class, TAKEN_SHOWN)?, first, of_term))
        })
        .await?;
    let purpose = purpose::purpose(&ask);
    let carried = |path: String| purpose::carried(&path, &purpose);
    let zip = |at: Instant| carried(format!("{}?as-of={}", ask.path("/records/archive.zip"), at.rfc3339()));
    let own = Table::ALL.iter().filter(|table| may_take(ask.seat(), **table));
    let view = View {
        tables: own.map(|table| line(&ask, *table, &counts, &purpose)).collect(),
        archive: ask.is_instructor().then(|| zip(ask.now())),
        first_archive: first
            .filter(|_| ask.is_instructor())
            .map(|at| (zip(at), dates::moment(at, ask.membership.zone))),
        whole_term: (of_term.len() > 1 && of_term.iter().all(|(_, _, own)| *own))
            .then(|| carried(format!("{}?as-of={}", ask.path("/records/term.zip"), ask.now().rfc3339()))),
        package: carried(ask.path("/records/oneroster.zip")),
        told: ask.path("/disclosures"),
        purpose: purpose::form(&ask, &purpose),
        taken: taken.into_iter().map(|one| row(&ask, one)).collect(),
    };
    ask.show("exports/records", "exports-title", &view)
}

fn line(ask: &InClass, table: Table, counts: &Counts, purpose: &Purpose) -> Line {
    let speech = &ask.house.speech;
    Line {
        file: table.word(),
        path: purpose::carried(&ask.path(&format!("/records/{}.csv", table.word())), purpose),
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
        who: purpose::who(&one),
        purpose: purpose::sentence(&ask.house.speech, &one.purpose),
        table: one.table,
        way: ask.house.speech.plain(match one.way {
            Way::Page => "exports-way-page",
            Way::Command => "exports-way-command",
        }),
    }
}
