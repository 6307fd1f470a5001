//! Tables written, and what a strict reader makes of them.

use proptest::prelude::*;

use super::*;

const COLUMNS: &[Column] = &[
    Column::new("title", Holds::Text, "-"),
    Column::new("ph", Holds::Number, "-"),
    Column::new("due", Holds::Date, "-"),
    Column::new("received_at", Holds::Instant, "-"),
    Column::new("buffed", Holds::YesNo, "-"),
];
const TEXTS: &[Column] = &[Column::new("title", Holds::Text, "-"), Column::new("note", Holds::Text, "-")];
const ONE: &[Column] = &[Column::new("title", Holds::Text, "-")];

/// Every letter that makes the text after it a formula for some program (OWASP, "CSV Injection", and the full-width forms
/// that programs turn into the plain ones).
const DANGERS: [char; 12] = ['=', '+', '-', '@', '\t', '\r', '\n', '\0', '＝', '＋', '－', '＠'];

fn written(columns: &'static [Column], rows: &[&[Cell<'_>]]) -> String {
    let mut sheet = Sheet::new(Vec::new(), columns).unwrap();
    for row in rows {
        sheet.row(row).unwrap();
    }
    String::from_utf8(sheet.finish().unwrap()).unwrap()
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn moment(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

/// Reads as RFC 4180 says and Python's `csv` does with `strict=True`: a quoted cell ends with its quotation mark, rows
/// end with CRLF, and all rows have as many cells as the first.
fn strictly_read(text: &str) -> Vec<Vec<String>> {
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut rest = text;
    while !rest.is_empty() {
        let mut row = Vec::new();
        loop {
            let (cell, after) = strictly_read_cell(rest);
            row.push(cell);
            rest = after;
            if let Some(after) = rest.strip_prefix("\r\n") {
                rest = after;
                break;
            }
            rest = rest.strip_prefix(',').expect("a comma or CRLF after a cell");
        }
        rows.push(row);
    }
    assert!(rows.iter().all(|row| row.len() == rows[0].len()), "{rows:?}");
    rows
}

fn strictly_read_cell(text: &str) -> (String, &str) {
    let Some(mut rest) = text.strip_prefix('"') else {
        let end = text.find([',', '\r', '\n', '"']).expect("a row ends with CRLF");
        assert_ne!(text.as_bytes()[end], b'"', "a quotation mark inside a plain cell");
        return (text[..end].to_owned(), &text[end..]);
    };
    let mut cell = String::new();
    loop {
        let (inside, after) = rest.split_once('"').expect("a quoted cell is closed");
        cell.push_str(inside);
        match after.strip_prefix('"') {
            Some(after) => rest = after,
            None => return (cell, after),
        }
        cell.push('"');
    }
}

#[test]
fn each_kind_of_cell_is_written_in_its_form() {
    let text = written(
        COLUMNS,
        &[
            &[
                Cell::Text("First state, \"trial\""),
                Cell::Number("4.3"),
                Cell::Date(day("2026-09-14")),
                Cell::Instant(moment("2026-09-14T17:00:00.5-04:00")),
                Cell::YesNo(true),
            ],
            &[Cell::Text(""), Cell::Number("-0.50"), Cell::Empty, Cell::Empty, Cell::YesNo(false)],
            &[Cell::Empty, Cell::Empty, Cell::Date(day("0987-01-02")), Cell::Empty, Cell::Empty],
        ],
    );
    assert_eq!(
        text,
        "title,ph,due,received_at,buffed\r\n\
         \"First state, \"\"trial\"\"\",4.3,2026-09-14,2026-09-14T21:00:00.500Z,yes\r\n\
         ,-0.50,,,no\r\n\
         ,,0987-01-02,,\r\n"
    );
}

#[test]
fn a_row_of_one_empty_cell_is_still_a_row() {
    assert_eq!(written(ONE, &[&[Cell::Empty], &[Cell::Text("")]]), "title\r\n\"\"\r\n\"\"\r\n");
}

#[test]
fn what_is_no_number_is_text() {
    for (number, expected) in [
        ("0", "0"),
        ("-12.50", "-12.50"),
        ("=1", "'=1"),
        ("-", "'-"),
        ("-1+1", "'-1+1"),
        ("+1", "'+1"),
        ("--1", "'--1"),
        ("1.", "1."),
        ("-.5", "'-.5"),
        ("-1e5", "'-1e5"),
        ("-1 ", "'-1 "),
        ("-٣", "'-٣"),
    ] {
        let cells = [Cell::Empty, Cell::Number(number), Cell::Empty, Cell::Empty, Cell::Empty];
        let text = written(COLUMNS, &[&cells]);
        assert_eq!(strictly_read(&text)[1][1], expected, "{number}");
    }
}

#[test]
fn every_dangerous_beginning_is_made_harmless() {
    for danger in DANGERS {
        let text = format!("{danger}1+1");
        assert!(begins_like_formula(&text), "{danger:?}");
        let rows = strictly_read(&written(TEXTS, &[&[Cell::Text(&text), Cell::Text("x")]]));
        assert_eq!(rows[1], [format!("'{text}"), "x".to_owned()], "{danger:?}");
    }
    for harmless in ["", "1-1", " =1", "a=1", "'=1", "−1", "\"=1"] {
        let rows = strictly_read(&written(TEXTS, &[&[Cell::Text(harmless), Cell::Text("x")]]));
        assert_eq!(rows[1][0], harmless);
    }
}

#[test]
fn a_row_that_does_not_fit_is_refused_whole() {
    let mut sheet = Sheet::new(Vec::new(), TEXTS).unwrap();
    for (row, problem) in [
        (vec![Cell::Text("a")], "1 cells for 2 columns"),
        (vec![Cell::Text("a"), Cell::Text("b"), Cell::Text("c")], "3 cells for 2 columns"),
        (vec![Cell::Text("a"), Cell::Number("1")], "note holds Text"),
    ] {
        let error = sheet.row(&row).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::InvalidInput);
        assert!(error.to_string().contains(problem), "{error}");
    }
    sheet.row(&[Cell::Text("a"), Cell::Text("b")]).unwrap();
    assert_eq!(sheet.finish().unwrap(), b"title,note\r\na,b\r\n");
}

#[test]
fn a_year_beyond_four_digits_is_refused() {
    let mut sheet = Sheet::new(Vec::new(), COLUMNS).unwrap();
    let row = |due, at| [Cell::Empty, Cell::Empty, due, at, Cell::Empty];
    for cells in [
        row(Cell::Date(NaiveDate::MAX), Cell::Empty),
        row(Cell::Date(NaiveDate::MIN), Cell::Empty),
        row(Cell::Empty, Cell::Instant(DateTime::<Utc>::MAX_UTC)),
    ] {
        assert_eq!(sheet.row(&cells).unwrap_err().kind(), ErrorKind::InvalidInput);
    }
}

/// A writer that is full after some bytes.
struct Full(usize);

impl Write for Full {
    fn write(&mut self, bytes: &[u8]) -> Result<usize> {
        self.0 = self.0.checked_sub(bytes.len()).ok_or(ErrorKind::StorageFull)?;
        Ok(bytes.len())
    }
    fn flush(&mut self) -> Result<()> {
        Ok(())
    }
}

#[test]
fn a_full_disk_is_told_and_rows_do_not_pile_up() {
    let mut sheet = Sheet::new(Full(1_000_000), TEXTS).unwrap();
    let row = [Cell::Text("a plate"), Cell::Text("a note of some length")];
    let failed = (0..100_000).find_map(|_| sheet.row(&row).err()).expect("the rows reach the writer at once");
    assert_eq!(failed.kind(), ErrorKind::StorageFull);
    let mut short = Sheet::new(Full(20), TEXTS).unwrap();
    short.row(&row).unwrap();
    assert_eq!(short.finish().err().unwrap().kind(), ErrorKind::StorageFull);
}

#[test]
fn a_mark_goes_before_the_header_where_asked() {
    let bytes = Sheet::marked(Vec::new(), ONE).unwrap().finish().unwrap();
    assert_eq!(bytes, b"\xEF\xBB\xBFtitle\r\n");
}

#[test]
fn headings_are_lower_case_words() {
    for good in ["title", "given_name", "due_2", "ph"] {
        assert!(is_heading(good.as_bytes()), "{good}");
    }
    for bad in ["", "Title", "given name", "_title", "title_", "given__name", "2nd", "größe", "=x"] {
        assert!(!is_heading(bad.as_bytes()), "{bad}");
    }
}

proptest! {
    #[test]
    fn what_is_written_is_read_the_same(
        rows in prop::collection::vec((".*", "[=+@\t\r\n\0,;\"' a-z-]{0,8}"), 0..8),
    ) {
        let cells: Vec<[Cell<'_>; 2]> =
            rows.iter().map(|(title, note)| [Cell::Text(title), Cell::Text(note)]).collect();
        let text = written(TEXTS, &cells.iter().map(|row| row.as_slice()).collect::<Vec<_>>());
        let read = strictly_read(&text);
        let harmless = |text: &String| {
            if text.starts_with(DANGERS) { format!("'{text}") } else { text.clone() }
        };
        let expected: Vec<Vec<String>> =
            rows.iter().map(|(title, note)| vec![harmless(title), harmless(note)]).collect();
        prop_assert_eq!(&read[1..], expected);
        prop_assert!(!read.iter().flatten().any(|cell| begins_like_formula(cell)));
    }
}
