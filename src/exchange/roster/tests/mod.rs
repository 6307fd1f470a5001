//! Class lists as byte fixtures, and what is said of them.

mod files;
mod properties;
mod rows;

use std::sync::LazyLock;

use super::*;
use crate::speech::Speech;

fn listings() -> Vec<Listing<u8>> {
    let listing = |id, code: &str| Listing { id, code: code.to_owned(), section: "01".to_owned() };
    vec![listing(1, "LIT 220"), listing(2, "LIT 420")]
}

fn read_bytes(bytes: &[u8]) -> Result<Roster<u8>, Remark> {
    read(bytes, &listings())
}

fn read_text(text: &str) -> Roster<u8> {
    read_bytes(text.as_bytes()).unwrap_or_else(|remark| panic!("{text:?}: {}", said(&remark)))
}

/// What the catalogue makes of a remark; a gap in it fails.
fn said(remark: &Remark) -> String {
    static SPEECH: LazyLock<Speech> = LazyLock::new(|| Speech::load().unwrap());
    SPEECH.say(remark.key, &remark.with).unwrap()
}

/// Line, key and sentence of everything wrong with the rows.
fn complaints(text: &str) -> Vec<(u32, &'static str, String)> {
    let roster = read_text(text);
    let bad = roster.bad.iter().flat_map(|row| row.complaints.iter().map(move |it| (row.line, it)));
    bad.map(|(line, it)| (line, it.remark.key, said(&it.remark))).collect()
}

fn keys(text: &str) -> Vec<(u32, &'static str)> {
    complaints(text).into_iter().map(|(line, key, _)| (line, key)).collect()
}

fn person(given: &str, family: &str, email: &str, number: &str) -> Details {
    let told = |text: &str| (!text.is_empty()).then(|| text.to_owned());
    Details {
        given_name: given.to_owned(),
        family_name: family.to_owned(),
        email: told(email),
        student_number: told(number),
        external_id: None,
    }
}
