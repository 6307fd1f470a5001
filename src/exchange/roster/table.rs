//! From text to records of cells: RFC 4180 as people's programs really write it. Rows end with CRLF, LF or CR; cells are
//! parted by comma, semicolon or tab; a quoted cell may hold all of these. Spaces around a quoted cell are not part of
//! it. What cannot be read with certainty is marked as a fault, not repaired.

use std::iter::Peekable;
use std::str::Chars;

/// Cells kept of one record; a class list has far fewer, and a file of separators alone must not fill the memory.
pub(super) const MOST_CELLS: usize = 250;

/// One record: a row of the table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Record {
    /// The line of the file it begins in, from 1.
    pub(super) line: u32,
    pub(super) cells: Vec<String>,
    pub(super) fault: Option<Fault>,
}

/// Why the cells of a record are not certain.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fault {
    /// Text stands after the closing quotation mark of a cell.
    AfterQuote,
    /// The file ends inside a quoted cell: all that follows its beginning is lost.
    QuoteLeftOpen,
    /// More than [`MOST_CELLS`] cells.
    TooManyCells,
}

impl Record {
    pub(super) fn is_blank(&self) -> bool {
        self.fault.is_none() && self.cells.iter().all(|cell| cell.trim().is_empty())
    }
}

/// Reads records one after the other.
#[derive(Debug, Clone)]
pub(super) struct Records<'a> {
    rest: Peekable<Chars<'a>>,
    /// None: one cell a row.
    separator: Option<char>,
    line: u32,
}

impl<'a> Records<'a> {
    pub(super) fn new(text: &'a str, separator: Option<char>) -> Self {
        Self { rest: text.chars().peekable(), separator, line: 1 }
    }

    /// Takes a line feed that belongs to the carriage return before it, and counts the line.
    fn end_line(&mut self, letter: char) -> Option<char> {
        self.line = self.line.saturating_add(1);
        self.rest.next_if(|next| letter == '\r' && *next == '\n')
    }

    fn quoted(&mut self, cell: &mut Writing) {
        while let Some(letter) = self.rest.next() {
            match letter {
                '"' if self.rest.next_if_eq(&'"').is_some() => cell.text.push('"'),
                '"' => return cell.place = Place::AfterQuote,
                '\r' | '\n' => {
                    cell.text.push(letter);
                    let also = self.end_line(letter);
                    cell.text.extend(also);
                }
                _ => cell.text.push(letter),
            }
        }
        cell.fault(Fault::QuoteLeftOpen);
    }
}

impl Iterator for Records<'_> {
    type Item = Record;

    fn next(&mut self) -> Option<Record> {
        self.rest.peek()?;
        let line = self.line;
        let mut cell = Writing::default();
        while let Some(letter) = self.rest.next() {
            match letter {
                '\r' | '\n' => {
                    self.end_line(letter);
                    break;
                }
                _ if Some(letter) == self.separator => cell.end(),
                '"' if cell.place == Place::Start => {
                    cell.text.clear();
                    self.quoted(&mut cell);
                }
                _ => cell.plain(letter),
            }
        }
        cell.end();
        Some(Record { line, cells: cell.ended, fault: cell.fault })
    }
}

/// Where in a cell the reading is.
#[derive(Debug, Default, Clone, Copy, PartialEq, Eq)]
enum Place {
    /// Nothing but spaces so far: a quotation mark opens a quoted cell.
    #[default]
    Start,
    Plain,
    AfterQuote,
}

/// The record being read.
#[derive(Debug, Default)]
struct Writing {
    text: String,
    place: Place,
    ended: Vec<String>,
    fault: Option<Fault>,
}

impl Writing {
    fn plain(&mut self, letter: char) {
        match self.place {
            Place::AfterQuote if letter.is_whitespace() => return,
            Place::AfterQuote => self.fault(Fault::AfterQuote),
            Place::Start if !letter.is_whitespace() => self.place = Place::Plain,
            _ => {}
        }
        self.text.push(letter);
    }

    fn end(&mut self) {
        let text = std::mem::take(&mut self.text);
        self.place = Place::Start;
        if self.ended.len() < MOST_CELLS {
            self.ended.push(text);
        } else if !text.trim().is_empty() {
            self.fault(Fault::TooManyCells);
        }
    }

    /// The first fault is the one worth telling; a quote left open swallows all else.
    fn fault(&mut self, fault: Fault) {
        if fault == Fault::QuoteLeftOpen || self.fault.is_none() {
            self.fault = Some(fault);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(text: &str) -> Vec<(u32, Vec<String>)> {
        Records::new(text, Some(',')).map(|record| (record.line, record.cells)).collect()
    }

    fn cells(text: &str) -> Vec<String> {
        Records::new(text, Some(',')).next().unwrap().cells
    }

    #[test]
    fn cells_are_read_as_rfc_4180_and_kinder() {
        for (text, expected) in [
            ("a,b", vec!["a", "b"]),
            ("a,,", vec!["a", "", ""]),
            ("\"a,b\",c", vec!["a,b", "c"]),
            ("\"say \"\"Oh\"\"\"", vec!["say \"Oh\""]),
            ("\"\"", vec![""]),
            ("\"\"\"\"", vec!["\""]),
            ("a \"b\" c", vec!["a \"b\" c"]),
            ("a, \"b, c\" ,d", vec!["a", "b, c", "d"]),
            ("\"two\r\nlines\",x", vec!["two\r\nlines", "x"]),
            (" a , b ", vec![" a ", " b "]),
        ] {
            assert_eq!(cells(text), expected, "{text:?}");
            assert_eq!(Records::new(text, Some(',')).next().unwrap().fault, None, "{text:?}");
        }
    }

    #[test]
    fn rows_end_with_any_line_end_and_keep_their_lines() {
        let row = |line, cell: &str| (line, vec![cell.to_owned()]);
        for end in ["\n", "\r\n", "\r"] {
            let text = ["a", "", "\"b", "b\"", "c"].join(end);
            let expected = [row(1, "a"), row(2, ""), row(3, &format!("b{end}b")), row(5, "c")];
            assert_eq!(rows(&text), expected, "{end:?}");
            assert_eq!(rows(&format!("{text}{end}")), expected, "{end:?} at the end");
        }
        assert_eq!(rows(""), []);
    }

    #[test]
    fn what_is_not_certain_is_a_fault() {
        let fault = |text: &str| Records::new(text, Some(',')).next().unwrap().fault;
        assert_eq!(fault("\"a\"b,c\nd"), Some(Fault::AfterQuote));
        assert_eq!(fault("a,\"b\nc"), Some(Fault::QuoteLeftOpen));
        assert_eq!(fault(&",".repeat(10_000)), None);
        assert_eq!(fault(&"a,".repeat(MOST_CELLS + 1)), Some(Fault::TooManyCells));
        assert_eq!(cells(&",".repeat(10_000)).len(), MOST_CELLS);
    }

    #[test]
    fn without_a_separator_a_row_is_one_cell() {
        let all: Vec<_> = Records::new("Name\nLima, Ana", None).map(|record| record.cells).collect();
        assert_eq!(all, [["Name"], ["Lima, Ana"]]);
    }
}
