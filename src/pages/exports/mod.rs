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
use crate::ids::ClassId;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::{InClass, Seat};
use crate::speech::Speech;
use crate::store::copying::kept;
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
    /// Where those that were made before are, and as of when they are, the latest first.
    made: Vec<(String, String)>,
    /// The same of those of the whole term.
    made_of_term: Vec<(String, String)>,
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
    let (counts, taken, made, made_of_term, of_term) = ask
        .house
        .db
        .read(move |db| {
            let of_term = exports::of_term(db, term, by)?;
            let classes: Vec<ClassId> = of_term.iter().map(|(id, ..)| *id).collect();
            let (made, made_of_term) = (kept::moments(db, &[class])?, kept::moments(db, &classes)?);
            let (counts, taken) = (exports::counts(db, class)?, disclosures::last(db, class, TAKEN_SHOWN)?);
            Ok((counts, taken, made, made_of_term, of_term))
        })
        .await?;
    let purpose = purpose::purpose(&ask);
    let carried = |path: String| purpose::carried(&path, &purpose);
    let (zip, term_zip) = (ask.path("/records/archive.zip"), ask.path("/records/term.zip"));
    let again = |zip: &str, moments: Vec<Instant>| -> Vec<(String, String)> {
        let path = |at: Instant| carried(format!("{zip}?as-of={}", at.rfc3339()));
        moments.into_iter().rev().map(|at| (path(at), dates::moment(at, ask.membership.zone))).collect()
    };
    let instructs = ask.is_instructor();
    let whole = of_term.len() > 1 && of_term.iter().all(|(_, _, own)| *own);
    let own = Table::ALL.iter().filter(|table| may_take(ask.seat(), **table));
    let view = View {
        tables: own.map(|table| line(&ask, *table, &counts, &purpose)).collect(),
        archive: instructs.then(|| carried(zip.clone())),
        made: if instructs { again(&zip, made) } else { Vec::new() },
        made_of_term: if whole { again(&term_zip, made_of_term) } else { Vec::new() },
        whole_term: whole.then(|| carried(term_zip.clone())),
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
