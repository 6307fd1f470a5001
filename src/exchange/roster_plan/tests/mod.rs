//! The comparison: what a list would do to a class, and what it must never do.

mod again;
mod effects;
mod protection;

use std::sync::LazyLock;

use super::*;
use crate::exchange::roster::{Listing, Roster, read};
use crate::speech::Speech;

const PRINT: u8 = 1;
const ADVANCED: u8 = 2;

fn listings() -> Vec<Listing<u8>> {
    let listing = |id, code: &str| Listing { id, code: code.to_owned(), section: "01".to_owned() };
    vec![listing(PRINT, "LIT 220"), listing(ADVANCED, "LIT 420")]
}

/// What the catalogue makes of a remark; a gap in it fails.
fn said(remark: &Remark) -> String {
    static SPEECH: LazyLock<Speech> = LazyLock::new(|| Speech::load().unwrap());
    SPEECH.say(remark.key, &remark.with).unwrap()
}

fn list(rows: &str) -> Roster<u8> {
    let text = format!("Name;E-mail;ID;External id;Section;Role\n{rows}");
    read(text.as_bytes(), &listings()).unwrap_or_else(|remark| panic!("{}", said(&remark)))
}

fn plan(rows: &str, people: &[Person<u32, u8>]) -> Plan<u32, u8> {
    compare(&list(rows), people, &listings())
}

/// Somebody enrolled in the first listing, without an account, in no other class.
fn member(id: u32, given: &str, family: &str, email: &str, number: &str) -> Person<u32, u8> {
    let told = |text: &str| (!text.is_empty()).then(|| text.to_owned());
    Person {
        id,
        details: Details {
            given_name: given.to_owned(),
            family_name: family.to_owned(),
            email: told(email),
            student_number: told(number),
            external_id: None,
        },
        has_account: false,
        in_another_class: false,
        has_school_right: false,
        seat: Some(Seat { listing: Some(PRINT), state: State::Enrolled, role: ClassRole::Student }),
    }
}

fn seated(mut person: Person<u32, u8>, state: State, role: ClassRole) -> Person<u32, u8> {
    person.seat = person.seat.map(|seat| Seat { state, role, ..seat });
    person
}

fn sentences(plan: &Plan<u32, u8>) -> Vec<String> {
    plan.bad.iter().flat_map(|row| &row.complaints).map(|complaint| said(&complaint.remark)).collect()
}
