//! Rows: what they tell, and what is wrong with them.

use super::*;

#[test]
fn roles_and_listings_are_told_or_not() {
    let roster = read_text(
        "Name,Course,Section,Role\n\"A, A\",LIT 220,1,Student\n\"B, B\",,LIT420-01,teaching assistant\n\"C, C\",LIT 220,,\n",
    );
    let told: Vec<_> = roster.rows.iter().map(|row| (row.listing, row.role)).collect();
    assert_eq!(told, [(Some(1), Some(Role::Student)), (Some(2), Some(Role::Assistant)), (None, None)]);
    let roster = read_text("Name,Course\n\"A, A\",LIT 420\n");
    assert_eq!(roster.rows[0].listing, Some(2));
}

#[test]
fn names_are_people_s_names() {
    for (cell, given, family) in [
        ("\"Lima, Ana Maria\"", "Ana Maria", "Lima"),
        ("\"King, Ada, Jr.\"", "Ada, Jr.", "King"),
        ("Sukarno", "", "Sukarno"),
        ("\"Sri Rahayu,\"", "", "Sri Rahayu"),
        ("山田，花子", "花子", "山田"),
        ("\"'t Hooft,  Ida\u{A0}\"", "Ida", "'t Hooft"),
    ] {
        let roster = read_text(&format!("Name,ID\n{cell},1\n"));
        assert_eq!(roster.rows[0].details, person(given, family, "", "1"), "{cell}");
    }
    let notes = read_text("Given name,Family name\nSukarno,-\n").notes;
    assert_eq!(
        said(&notes[0]),
        "Line 2: “Sukarno” is the only name told. If the person has another, write it in its column."
    );
}

/// A row below [`HEADER`], and the one sentence it gets.
const BAD_ROWS: [(&str, &str); 12] = [
    (",,a@student.example,1,,", "Line 2, “Family name”: there is no name. Write it, or delete the line."),
    (
        "A\u{7}na,Lima,,1,,",
        "Line 2, “Given name”: “A␇na” holds a line break or invisible characters. Type it anew.",
    ),
    (
        "Jos\u{FFFD},Lima,,1,,",
        "Line 2, “Given name”: “Jos\u{FFFD}” has lost a letter when the file was saved. Write it anew and save the file \
         as “CSV UTF-8”.",
    ),
    (
        "@na,Lima,,1,,",
        "Line 2, “Given name”: “@na” begins with a sign that makes a spreadsheet program take it for a formula. Delete \
         the sign.",
    ),
    (
        "Ana,Lima,ana@student,1,,",
        "Line 2, “E-mail”: “ana@student” is no e-mail address. Write it such as name@school.example, or leave it empty.",
    ),
    (
        "Ana,Lima,,1.23457E+11,,",
        "Line 2, “Student number”: “1.23457E+11” was shortened by a spreadsheet program and its digits are lost. Format \
         the column as text and write the number anew.",
    ),
    (
        "Ana,Lima,,1,LIT 110-01,",
        "Line 2, “Listing”: “LIT 110-01” is no listing of this class. Write one of LIT 220-01, LIT 420-01.",
    ),
    (
        "Ana,Lima,,1,01,",
        "Line 2, “Listing”: “01” may mean several listings. Write one of LIT 220-01, LIT 420-01 in full.",
    ),
    (
        "Ana,Lima,,1,,visitor",
        "Line 2, “Role”: “visitor” is no role. Write student or assistant, or leave it empty for a student.",
    ),
    (
        "Ana,Lima,,1,,Records Staff",
        "Line 2, “Role”: the role “Records Staff” cannot be given by a list. Write student or assistant, or delete the \
         line; a keeper gives all other roles.",
    ),
    (
        "\"Ana\"x,Lima,,1,,",
        "Line 2: text follows a closing quotation mark in “Anax Lima  1”. Write a quotation mark inside a quoted cell \
         twice.",
    ),
    (
        "Ana,Lima,,1,,,,x",
        "Line 2: there are 8 cells for 6 columns in “Ana Lima  1    x”. Put a cell that holds the separator in quotation \
         marks, or empty the cells at the end.",
    ),
];
const HEADER: &str = "Given name,Family name,E-mail,Student number,Listing,Role";

#[test]
fn rows_that_cannot_be_used_name_line_column_value_and_remedy() {
    for (row, sentence) in BAD_ROWS {
        let found = complaints(&format!("{HEADER}\n{row}\n"));
        assert_eq!(
            found.iter().map(|(.., sentence)| sentence.as_str()).collect::<Vec<_>>(),
            [sentence],
            "{row}"
        );
    }
    let long = "a".repeat(101);
    let found = complaints(&format!("{HEADER}\n{long},Lima,,1,,\n"));
    assert!(found[0].2.ends_with("aaa…” has 101 characters; at most 100 fit. Shorten it."), "{}", found[0].2);
}

#[test]
fn every_role_above_assistant_is_refused() {
    for role in
        ["Instructor", "co-instructor", "TEACHER", "keeper", "records", "Safety Officer", "administrator"]
    {
        assert_eq!(keys(&format!("Name,Role\n\"A, A\",{role}\n")), [(2, "roster-role-too-high")], "{role}");
    }
    assert_eq!(keys("Name,Role\n\"A, A\",student assistant instructor\n"), [(2, "roster-role-unknown")]);
}

#[test]
fn a_single_column_of_names_needs_its_comma() {
    assert_eq!(
        keys("Name,ID\nAna Lima,1\n\",\",2\n\"Lima, =x\",3\n"),
        [(2, "roster-name-undivided"), (3, "roster-name-empty"), (4, "roster-formula"),]
    );
}

#[test]
fn all_that_is_wrong_with_a_row_is_told_at_once() {
    assert_eq!(
        keys("Name,E-mail,Role\nAna Lima,x,boss\n"),
        [(2, "roster-name-undivided"), (2, "roster-email-malformed"), (2, "roster-role-unknown"),]
    );
}

#[test]
fn what_may_stand_once_is_bad_wherever_it_stands() {
    let found = complaints(
        "Name,E-mail,Student number,External id\n\"A, A\",a@student.example,1,x\n\"B, B\",b@student.example,1,y\n\
         \"C, C\",A@Student.Example,3,z\n\"D, D\",,4,z\n\"E, E\",,1,\n\"F, F\",,6,\n",
    );
    let found: Vec<_> =
        found.iter().map(|(line, key, said)| (*line, *key, said.contains("line 2"))).collect();
    assert_eq!(
        found,
        [
            (2, "roster-number-twice", false),
            (2, "roster-email-twice", false),
            (3, "roster-number-twice", true),
            (4, "roster-email-twice", true),
            (4, "roster-external-id-twice", false),
            (5, "roster-external-id-twice", false),
            (6, "roster-number-twice", true),
        ]
    );
}

#[test]
fn a_name_alone_stands_once() {
    assert_eq!(
        keys("Name,ID\n\"Lima, Ana\",\n\"LIMA, ana\",7\n\"Moss, Bo\",8\n\"Moss, Bo\",9\n"),
        [(2, "roster-name-twice")]
    );
}

#[test]
fn keys_are_those_of_the_usable_rows() {
    let keys = read_text(
        "Name,E-mail,ID,External id\n\"A, A\",A@Student.example,1,x\n\"B, B\",,2,\n,b@student.example,3,\n",
    )
    .keys();
    assert_eq!(keys.student_numbers, ["1", "2"]);
    assert_eq!(
        (keys.email_keys, keys.external_ids),
        (vec!["a@student.example".to_owned()], vec!["x".to_owned()])
    );
}

#[test]
fn a_class_without_listings_says_so() {
    let roster = read::<u8>(b"Name,Section\n\"A, A\",01\n", &[]).unwrap();
    assert_eq!(
        said(&roster.bad[0].complaints[0].remark),
        "Line 2, “Section”: “01” is no listing of this class. The class has no listing yet: add one first, or leave the cell empty."
    );
}
