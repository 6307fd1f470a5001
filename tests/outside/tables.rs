//! Tables for people against the `csv` module of Python's standard library with `strict=True`, and the class list of the
//! demo class. Python is part of what the tests need: without it these fail, they do not pass by.

use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::PathBuf;
use std::process::{Command, Stdio};

use chrono::{DateTime, NaiveDate, Utc};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use tympan::exchange::roster::{COLUMNS, Listing, Roster, read};
use tympan::exchange::spreadsheet::{Cell, Column, Holds, MEDIA_TYPE, Sheet};

const KINDS: &[Column] = &[
    Column::new("title", Holds::Text, "-"),
    Column::new("ph", Holds::Number, "-"),
    Column::new("due", Holds::Date, "-"),
    Column::new("received_at", Holds::Instant, "-"),
    Column::new("buffed", Holds::YesNo, "-"),
    Column::new("note", Holds::Text, "-"),
];

/// Beginnings that make a formula (OWASP, "CSV Injection"; the full-width forms and LF: common practice, no published
/// source).
const DANGERS: [&str; 12] = ["=", "+", "-", "@", "\t", "\r", "\n", "\0", "＝", "＋", "－", "＠"];

/// What people may have typed after such a beginning, and other text that readers stumble over.
const TEXTS: [&str; 9] = [
    "1+1",
    "SUM(1,2)",
    "HYPERLINK(\"https://elsewhere.example\";\"look\")",
    "cmd|' /C calc'!A0",
    "\"",
    "two\r\nlines, \"quoted\"; and a tab\t",
    "José Łukasiewicz 魏",
    " ",
    "",
];

/// Reads a table strictly and prints it as JSON; any row of another length than the header is an error.
const STRICT_READER: &str = "
import csv, json, sys
with open(sys.argv[1], encoding=sys.argv[2], newline='') as table:
    rows = list(csv.reader(table, strict=True))
assert all(len(row) == len(rows[0]) for row in rows), 'rows of different lengths'
json.dump(rows, sys.stdout)
";

fn table(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name)
}

/// What Python's reader makes of a file.
fn python_reads(file: &PathBuf, encoding: &str) -> Vec<Vec<String>> {
    let run = Command::new("python3")
        .args(["-c", STRICT_READER])
        .arg(file)
        .arg(encoding)
        .env("PYTHONIOENCODING", "utf-8")
        .stdin(Stdio::null())
        .output()
        .expect("these checks need python3: run tests/setup");
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    serde_json::from_slice(&run.stdout).unwrap()
}

/// Rows of all kinds of cells, every danger before every text.
fn dangerous_rows() -> Vec<(Vec<Cell<'static>>, Vec<String>)> {
    let day: NaiveDate = "2026-09-14".parse().unwrap();
    let at: DateTime<Utc> = "2026-09-14T17:00:00.250-04:00".parse().unwrap();
    let mut rows = Vec::new();
    for danger in DANGERS.into_iter().chain([""]) {
        for text in TEXTS {
            let text: &'static str = Box::leak(format!("{danger}{text}").into_boxed_str());
            let mark = if danger.is_empty() { "" } else { "'" };
            let cells = vec![
                Cell::Text(text),
                Cell::Number("-4.30"),
                Cell::Date(day),
                Cell::Instant(at),
                Cell::YesNo(true),
                Cell::Text(text),
            ];
            let expected =
                [&format!("{mark}{text}"), "-4.30", "2026-09-14", "2026-09-14T21:00:00.250Z", "yes"];
            let mut expected: Vec<String> = expected.map(str::to_owned).to_vec();
            expected.push(expected[0].clone());
            rows.push((cells, expected));
        }
    }
    rows.push((vec![Cell::Empty; 6], vec![String::new(); 6]));
    rows
}

fn header(columns: &[Column]) -> Vec<String> {
    columns.iter().map(|column| column.key.to_owned()).collect()
}

/// The second tier opens this very file in a spreadsheet program: `tables_libreoffice.py`.
#[test]
fn python_reads_dangerous_cells_as_they_were_meant() {
    let file = table("dangerous.csv");
    let marked = table("dangerous-marked.csv");
    let rows = dangerous_rows();
    let mut plain = Sheet::new(BufWriter::new(File::create(&file).unwrap()), KINDS).unwrap();
    let mut with_mark = Sheet::marked(BufWriter::new(File::create(&marked).unwrap()), KINDS).unwrap();
    let mut expected = vec![header(KINDS)];
    for (cells, row) in rows {
        plain.row(&cells).unwrap();
        with_mark.row(&cells).unwrap();
        expected.push(row);
    }
    plain.finish().unwrap().into_inner().unwrap();
    with_mark.finish().unwrap().into_inner().unwrap();
    assert_eq!(python_reads(&file, "utf-8"), expected);
    assert_eq!(python_reads(&marked, "utf-8-sig"), expected);
    assert_eq!(MEDIA_TYPE, "text/csv; charset=utf-8; header=present");
}

/// Any text at all: one file of many random rows, so that Python is started once.
#[test]
fn python_reads_any_text_as_it_was_written() {
    let mut runner = TestRunner::deterministic();
    let cell = prop_oneof![".{0,20}", "[\",\r\n'=;\t \0]{0,6}", "(?s)[\\PC\r\n]{0,10}"];
    let rows = prop::collection::vec((cell.clone(), cell), 4000);
    let rows = rows.new_tree(&mut runner).unwrap().current();
    let file = table("any.csv");
    const TWO: &[Column] = &[Column::new("title", Holds::Text, "-"), Column::new("note", Holds::Text, "-")];
    let mut sheet = Sheet::new(BufWriter::new(File::create(&file).unwrap()), TWO).unwrap();
    for (title, note) in &rows {
        sheet.row(&[Cell::Text(title), Cell::Text(note)]).unwrap();
    }
    sheet.finish().unwrap().flush().unwrap();
    let read = python_reads(&file, "utf-8");
    assert_eq!((read.len(), &read[0]), (4001, &header(TWO)));
    for ((title, note), row) in rows.iter().zip(&read[1..]) {
        for (text, cell) in [title, note].into_iter().zip(row) {
            let is_dangerous = DANGERS.iter().any(|danger| text.starts_with(danger));
            assert_eq!(*cell, if is_dangerous { format!("'{text}") } else { text.clone() });
        }
    }
}

fn demo_class() -> Roster<u8> {
    let listing = |id, code: &str| Listing { id, code: code.to_owned(), section: "01".to_owned() };
    read(include_bytes!("../../seed/roster.csv"), &[listing(1, "LIT 220"), listing(2, "LIT 420")]).unwrap()
}

#[test]
fn the_list_of_the_demo_class_reads_cleanly() {
    let roster = demo_class();
    assert_eq!((roster.bad.len(), roster.notes.len(), roster.ignored.len()), (0, 0, 0), "{roster:?}");
    let in_listing = |id| roster.rows.iter().filter(|row| row.listing == Some(id)).count();
    assert_eq!((roster.rows.len(), in_listing(1), in_listing(2)), (18, 12, 6));
    assert_eq!(roster.rows.iter().filter(|row| row.details.email.is_none()).count(), 2);
    let details = || roster.rows.iter().map(|row| &row.details);
    assert!(details().all(|it| it.student_number.is_some() && !it.given_name.is_empty()));
    // Domains under .example belong to nobody (RFC 2606).
    assert!(details().filter_map(|it| it.email.as_deref()).all(|it| it.ends_with("@student.example")));
    let accented = details().filter(|it| !it.given_name.is_ascii() || !it.family_name.is_ascii());
    assert_eq!(accented.count(), 18);
}

/// The same people by Python's reader, and once more through a list the program writes.
#[test]
fn python_and_the_program_read_the_same_demo_class() {
    let roster = demo_class();
    let source = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("seed/roster.csv");
    let ours: Vec<Vec<String>> = roster
        .rows
        .iter()
        .map(|row| {
            let details = row.details.clone();
            let listing = if row.listing == Some(1) { "LIT 220-01" } else { "LIT 420-01" };
            let email = details.email.unwrap_or_default();
            let number = details.student_number.unwrap_or_default();
            vec![details.given_name, details.family_name, email, number, listing.to_owned()]
        })
        .collect();
    assert_eq!(python_reads(&source, "utf-8")[1..], ours);
    let mut sheet = Sheet::new(Vec::new(), COLUMNS).unwrap();
    for row in &ours {
        let cell = |place: usize| Cell::Text(&row[place]);
        sheet.row(&[cell(0), cell(1), cell(2), cell(3), Cell::Empty, cell(4), Cell::Empty]).unwrap();
    }
    let listing = |id, code: &str| Listing { id, code: code.to_owned(), section: "01".to_owned() };
    let again = read(&sheet.finish().unwrap(), &[listing(1, "LIT 220"), listing(2, "LIT 420")]).unwrap();
    assert_eq!(again, roster);
}
