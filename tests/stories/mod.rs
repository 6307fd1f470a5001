//! Whole jobs over HTTP against the running program.

mod accounts;
mod at_once;
mod briefs;
mod bringing_back;
mod demo;
mod doors;
mod entrance;
mod etches;
mod finding;
mod fresh_class;
mod grades;
mod heaps;
mod hostile;
mod languages;
mod letters;
mod logs;
mod mixing;
mod pages_cost;
mod planning;
mod plans_of_statements;
mod plate_acts;
mod plates;
mod presence;
mod procedures;
mod promised;
mod proofs;
mod reasons;
mod records;
mod reminders;
mod resting;
mod roster;
mod running;
mod safety;
mod schema_twins;
mod school;
mod sending;
mod settings;
mod shelf;
mod sign_in_memory;
mod starting;
mod tonight;
mod walls;

use diesel::prelude::*;

use crate::studio::{Studio, Visitor};

/// The fields with one of them other.
pub fn but<'a>(fields: &[(&'a str, &'a str)], field: &'a str, value: &'a str) -> Vec<(&'a str, &'a str)> {
    let mut all: Vec<_> = fields.iter().copied().filter(|(name, _)| *name != field).collect();
    all.push((field, value));
    all
}

/// Sends a form with one field wrong after the other; each time the page says so at the field and nothing is stored.
pub fn refuses(
    visitor: &Visitor,
    path: &str,
    form: &str,
    fields: &[(&str, &str)],
    wrong: &[(&str, &str, &str)],
) {
    for (field, value, said) in wrong {
        let page = visitor.post(path, &but(fields, field, value));
        assert_eq!(page.status, 422, "{path} {field}={value:?}: {}", page.read());
        assert!(
            page.has(&format!("id=\"{form}-{field}-complaint\"")),
            "{field}={value:?} at its field: {}",
            page.read()
        );
        assert!(page.read().contains(said), "{field}={value:?} says “{said}”: {}", page.read());
    }
}

pub fn rows(studio: &Studio, sql: &str) -> i64 {
    #[derive(QueryableByName)]
    struct Count {
        #[diesel(sql_type = diesel::sql_types::BigInt)]
        n: i64,
    }
    diesel::sql_query(format!("SELECT count(*) AS n FROM {sql}"))
        .get_result::<Count>(&mut studio.connection())
        .unwrap()
        .n
}

/// Whether a text has a word or number that is not a part of a longer one: an id may hold any two digits.
pub fn names(text: &str, word: &str) -> bool {
    text.split(|character: char| !character.is_ascii_alphanumeric()).any(|piece| piece == word)
}
