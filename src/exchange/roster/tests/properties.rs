//! Whatever comes in, nothing panics and everything is said; what the program wrote is read the same.

use proptest::prelude::*;
use unicode_normalization::UnicodeNormalization;

use super::*;
use crate::exchange::spreadsheet::{Cell, Sheet};
use crate::trade::remark::Param;

/// Cells of the kinds that break readers, and of the usual ones.
fn any_cell() -> impl Strategy<Value = String> {
    prop_oneof![
        ".{0,12}",
        "[\",;\t\r\n' =]{0,6}",
        Just("student".to_owned()),
        Just("LIT 220-01".to_owned()),
        Just("a@student.example".to_owned()),
    ]
}

/// Names a list can hold: letters of several scripts, no sign in front that a list must not have.
fn a_name() -> impl Strategy<Value = String> {
    "[A-Za-zÀ-žΑ-ωА-я가-힣一-龠][-' A-Za-zÀ-žΑ-ωА-я가-힣一-龠]{0,10}[a-zß-ž가-힣]"
        .prop_map(|name| name.split_whitespace().collect::<Vec<_>>().join(" ").nfc().collect())
}

proptest! {
    #[test]
    fn no_bytes_ever_panic(bytes in prop::collection::vec(any::<u8>(), 0..400), mark in 0_usize..4) {
        let marks: [&[u8]; 4] = [b"", b"\xEF\xBB\xBF", b"\xFF\xFE", b"\xFE\xFF"];
        let bytes = [marks[mark], bytes.as_slice()].concat();
        if let Err(remark) = read_bytes(&bytes) {
            prop_assert!(said(&remark).ends_with('.'));
        }
    }

    #[test]
    fn no_text_ever_panics_and_everything_is_said(
        rows in prop::collection::vec(prop::collection::vec(any_cell(), 0..7), 0..12),
        separator in prop_oneof![Just(","), Just(";"), Just("\t")],
        end in prop_oneof![Just("\r\n"), Just("\n"), Just("\r")],
    ) {
        let mut text = ["Name", "E-mail", "ID", "Section", "Role"].join(separator) + end;
        for row in rows {
            text.push_str(&(row.join(separator) + end));
        }
        match read_bytes(text.as_bytes()) {
            Err(remark) => prop_assert!(said(&remark).ends_with('.')),
            Ok(roster) => {
                for complaint in roster.bad.iter().flat_map(|row| &row.complaints) {
                    let sentence = said(&complaint.remark);
                    prop_assert!(sentence.ends_with('.') && !sentence.contains(['\n', '\r', '\0']), "{sentence:?}");
                    prop_assert!(complaint.remark.with.iter().any(|(name, value)| *name == "line"
                        && matches!(value, Param::Count(line) if *line >= 2)));
                }
                for row in &roster.rows {
                    prop_assert!(!row.details.family_name.is_empty() || !row.details.given_name.is_empty());
                }
            }
        }
    }

    /// A list the program wrote itself is read as it was written.
    #[test]
    fn a_written_list_is_read_the_same(people in prop::collection::vec((a_name(), a_name()), 1..12), marked: bool) {
        let mut sheet = if marked { Sheet::marked(Vec::new(), COLUMNS) } else { Sheet::new(Vec::new(), COLUMNS) }.unwrap();
        let mut expected = Vec::new();
        for (place, (given, family)) in people.iter().enumerate() {
            let number = format!("{place:05}");
            let email = format!("p{place}@student.example");
            sheet.row(&[
                Cell::Text(given), Cell::Text(family), Cell::Text(&email), Cell::Text(&number),
                Cell::Empty, Cell::Text("LIT 220-01"), Cell::Text("student"),
            ]).unwrap();
            expected.push(person(given, family, &email, &number));
        }
        let roster = read_bytes(&sheet.finish().unwrap()).unwrap();
        prop_assert_eq!(&roster.bad, &[]);
        prop_assert!(roster.rows.iter().all(|row| (row.listing, row.role) == (Some(1), Some(Role::Student))));
        prop_assert_eq!(roster.rows.into_iter().map(|row| row.details).collect::<Vec<_>>(), expected);
    }
}
