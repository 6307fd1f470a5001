//! Files: every encoding, separator and heading people bring, and what is no class list.

use super::*;

fn utf_16(text: &str, unit: fn(u16) -> [u8; 2]) -> Vec<u8> {
    std::iter::once(0xFEFF).chain(text.encode_utf16()).flat_map(unit).collect()
}

#[test]
fn every_encoding_line_end_and_separator_reads_the_same() {
    let expected = [
        Row {
            line: 2,
            details: person("José", "Łukasiewicz", "jose@student.example", "00123"),
            listing: Some(1),
            role: None,
        },
        Row {
            line: 3,
            details: person("Ngọc Anh", "Nguyễn; Trần, \"Năm\"", "", "00124"),
            listing: Some(2),
            role: None,
        },
    ];
    for separator in [',', ';', '\t'] {
        for end in ["\r\n", "\n", "\r"] {
            let rows = [
                ["Given name", "Family name", "E-mail", "Student number", "Section"],
                ["Jose\u{301}", "\"Łukasiewicz\"", "jose@student.example", "00123", "LIT 220-01"],
                ["Ngọc Anh", "\"Nguyễn; Trần, \"\"Năm\"\"\"", "", "00124", "lit420 1"],
            ];
            let text = rows.map(|row| row.join(&separator.to_string()) + end).concat();
            let encodings = [
                text.as_bytes().to_vec(),
                [b"\xEF\xBB\xBF", text.as_bytes()].concat(),
                utf_16(&text, u16::to_le_bytes),
                utf_16(&text, u16::to_be_bytes),
            ];
            for bytes in encodings {
                let roster = read_bytes(&bytes).unwrap();
                assert_eq!(roster.rows, expected, "{separator:?} {end:?}");
                assert_eq!((roster.bad, roster.ignored.len(), roster.notes.len()), (vec![], 0, 0));
            }
        }
    }
}

#[test]
fn headings_come_in_any_order_spelling_and_case() {
    let details = person("Ana", "Lima", "ana@student.example", "7");
    for (header, row) in [
        ("given name,family name,e-mail,student number", "Ana,Lima,ana@student.example,7"),
        ("STUDENT ID,SURNAME,FORENAME,EMAIL ADDRESS", "7,Lima,Ana,ana@student.example"),
        ("Last_Name;First_Name;E‑Mail;Student #", "Lima;Ana;ana@student.example;7"),
        ("Name\tMail\tID", "Lima, Ana\tana@student.example\t7"),
        ("\"Name\",\"Email\",\"Student no.\"", "\"Lima, Ana\",ana@student.example,7"),
        ("Full name;Email;Matriculation No", " Lima ,Ana ;ana@student.example;7"),
        ("familyName,givenName,email,studentNumber", "Lima,Ana,ana@student.example,7"),
    ] {
        let roster = read_text(&format!("{header}\n{row}\n"));
        assert_eq!(roster.rows.iter().map(|row| &row.details).collect::<Vec<_>>(), [&details], "{header}");
    }
}

#[test]
fn the_separator_is_the_one_that_parts_known_headings() {
    let roster = read_text("\"Name; first, last\";Given name;Family name;Remarks, if any\nx;Ana;Lima;\n");
    assert_eq!(roster.rows[0].details, person("Ana", "Lima", "", ""));
    assert_eq!(roster.ignored, ["Name; first, last", "Remarks, if any"]);
    let names_alone = read_text("Name\nLima, Ana\nO'Neil, \"Bo\"\n");
    assert_eq!(names_alone.rows[1].details, person("\"Bo\"", "O'Neil", "", ""));
}

#[test]
fn unknown_columns_are_ignored_and_reported() {
    let roster = read_text("Name,Phone,Given name,,External ID\n\"Lima, Ana\",=1,x,,ab-7\n");
    assert_eq!(roster.ignored, ["Phone", "Given name"]);
    assert_eq!(roster.rows[0].details.external_id.as_deref(), Some("ab-7"));
    assert_eq!(roster.bad, []);
}

#[test]
fn blank_lines_are_passed_over_and_counted() {
    let roster = read_text("\n , \nName,ID\n\n,\n\"Lima, Ana\",1\n  \n\"Moss, Bo\",2");
    assert_eq!(roster.rows.iter().map(|row| row.line).collect::<Vec<_>>(), [6, 8]);
}

#[test]
fn what_is_no_class_list_gets_its_own_sentence() {
    let packed_table = b"PK\x03\x04\x14\0\x06\0\x08\0".as_slice();
    let cut_off = [0xFF, 0xFE, b'N', 0, b'a'];
    let lone_surrogate = [0xFE, 0xFF, 0xD8, 0x00, 0x00, b'a'];
    let many_columns = format!("Name{}\n", ",x".repeat(300));
    for (bytes, key) in [
        (b"".as_slice(), "roster-file-empty"),
        (b" \r\n\t\n", "roster-file-empty"),
        (b"\xEF\xBB\xBF", "roster-file-empty"),
        (b"\xFF\xFE", "roster-file-empty"),
        (b",,\n,,\n", "roster-file-empty"),
        (packed_table, "roster-file-spreadsheet"),
        (b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1\0", "roster-file-spreadsheet"),
        (b"%PDF-1.7\n", "roster-file-pdf"),
        (b"{\\rtf1 Name}", "roster-file-document"),
        (b"\x1F\x8B\x08\0", "roster-file-packed"),
        (b"\xEF\xBB\xBF\n <!DOCTYPE html><table>", "roster-file-page"),
        (b"<html><table><tr><td>Name", "roster-file-page"),
        (b"<?xml version=\"1.0\"?><Workbook>", "roster-file-page"),
        (b"Name\nJos\xE9\n", "roster-file-encoding"),
        (b"N\0a\0m\0e\0", "roster-file-encoding"),
        (b"\xFF\xFE\0\0N\0\0\0", "roster-file-encoding"),
        (&cut_off, "roster-file-encoding"),
        (&lone_surrogate, "roster-file-encoding"),
        (b"\"Lima, Ana\",ana@student.example\n", "roster-no-header"),
        (b"Class list of the term\nName,E-mail\n", "roster-no-header"),
        (b"E-mail,Student number\na@student.example,1\n", "roster-no-name-column"),
        (b"Given name,E-mail\nAna,\n", "roster-no-name-column"),
        (b"Name,E-mail,Email address\n", "roster-column-twice"),
        (b"Name,E-mail\r\n", "roster-no-rows"),
        (b"Name,E-mail\r\n,\r\n\r\n", "roster-no-rows"),
        (b"Name,\"E-mail\nAna,x\n", "roster-quote-open"),
        (b"Name,\"E-mail\n\"Lima, Ana\",x\n", "roster-quote-stray"),
        (b"Name,E-mail\n\"Lima, Ana,x\n\"\"Moss, Bo\"\",y\n", "roster-quote-open"),
        (many_columns.as_bytes(), "roster-too-many-columns"),
        (&vec![b'a'; MOST_BYTES + 1], "roster-file-too-large"),
    ] {
        let start: String = String::from_utf8_lossy(bytes).chars().take(40).collect();
        let remark = read_bytes(bytes).expect_err(&start);
        assert_eq!(remark.key, key, "{start:?}");
        assert!(said(&remark).ends_with('.'), "{}", said(&remark));
    }
}

#[test]
fn a_refused_file_is_told_where_and_what_to_do() {
    for (bytes, sentence) in [
        (
            b"Name\r\nLima\r\nJos\xE9\r\n".as_slice(),
            "The letters of the file cannot be read with certainty (line 3): open it in a spreadsheet program, save it as \
             “CSV UTF-8” (text, character set UTF-8), and choose the saved file.",
        ),
        (
            b"\nLima,ana@student.example,1\n",
            "The first line, “Lima ana@student.example 1” (line 2), names no column that is known here: let the first line \
             name the columns, such as given name, family name, e-mail, student number, listing, and delete what stands \
             above it.",
        ),
        (
            b"Name,Mail,E-Mail\nx,y,z\n",
            "The columns “Mail” and “E-Mail” are read as the same thing: delete or rename the one that is not meant.",
        ),
        (
            b"Name,ID\nA,1\n\"B,2\nC,3\n",
            "Line 3: a quotation mark opens a cell and none closes it, so what follows cannot be read. Close or delete it.",
        ),
    ] {
        assert_eq!(said(&read_bytes(bytes).unwrap_err()), sentence);
    }
}

#[test]
fn a_quotation_mark_too_many_may_hide_rows() {
    for (text, broken) in [
        ("Name,ID\n\"Lima, Ana,1\nMoss, Bo\",2\n", true),
        ("Name,ID\n\"Lima, Ana,1\n\"Moss, Bo\",2\n", true),
        ("Name,ID,More\n\"Lima, Ana\",1,\"two\nlines\"\nMoss,2,\n", false),
        ("Name,ID\n\"Lima\u{7}, Ana\",1\n", false),
    ] {
        assert_eq!(read_text(text).bad.iter().any(|row| row.broken), broken, "{text:?}");
    }
}

#[test]
fn the_most_rows_are_read_and_one_more_is_not() {
    let mut text = String::from("Name,ID\n");
    for number in 0..MOST_ROWS {
        text.push_str(&format!("\"Lima, Ana {number}\",{number}\n"));
    }
    assert_eq!(read_text(&text).rows.len(), MOST_ROWS);
    text.push_str("\"Moss, Bo\",x\n");
    assert_eq!(read_bytes(text.as_bytes()).unwrap_err().key, "roster-too-many-rows");
}

#[test]
fn every_field_and_every_column_has_its_words() {
    let speech = Speech::load().unwrap();
    for field in [
        Field::GivenName,
        Field::FamilyName,
        Field::Name,
        Field::Email,
        Field::StudentNumber,
        Field::ExternalId,
        Field::Listing,
        Field::Course,
        Field::Role,
    ] {
        assert!(speech.knows(field.key()), "{}", field.key());
    }
    for column in COLUMNS {
        assert!(speech.knows(column.description), "{}", column.description);
    }
}
