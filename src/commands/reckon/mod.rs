//! `tympan reckon NAME < input.json`: each computation of the trade floor on its own, JSON in and JSON out.
//! Bad input ends with exit code 2 and one sentence on standard error.

mod agreement;
mod dropper;
mod etch;
mod gpa;
mod grade;
mod hours;
mod late;
mod plan;
mod press;

use std::io::{Read, Write};
use std::process::ExitCode;

use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::speech::Speech;
use crate::trade::remark::Remark;

/// A reckoning by name: text of the input to text of the answer.
struct Reckoning {
    name: &'static str,
    answer: fn(&Speech, &str) -> Result<String, Remark>,
}

/// Every reckoning; a new one is a file beside this and a line here.
const RECKONINGS: &[Reckoning] = &[
    Reckoning { name: "agreement", answer: agreement::answer },
    Reckoning { name: "dropper", answer: dropper::answer },
    Reckoning { name: "etch", answer: etch::answer },
    Reckoning { name: "gpa", answer: gpa::answer },
    Reckoning { name: "grade", answer: grade::answer },
    Reckoning { name: "late", answer: late::answer },
    Reckoning { name: "plan", answer: plan::answer },
    Reckoning { name: "press", answer: press::answer },
];

/// Reads standard input, answers on standard output.
#[must_use]
pub fn run(name: &str) -> ExitCode {
    let Ok(speech) = Speech::load() else { return ExitCode::FAILURE };
    let mut input = String::new();
    let outcome = match std::io::stdin().lock().read_to_string(&mut input) {
        Ok(_) => answer(&speech, name, &input),
        Err(error) => {
            Err(Remark::new("reckon-not-json").with("name", name).with("problem", error.to_string()))
        }
    };
    match outcome {
        Ok(text) => match writeln!(std::io::stdout().lock(), "{text}") {
            Ok(()) => ExitCode::SUCCESS,
            Err(_) => ExitCode::FAILURE,
        },
        Err(remark) => {
            eprintln!("{}", speech.remark(&remark));
            ExitCode::from(2)
        }
    }
}

/// Answers one reckoning.
///
/// # Errors
/// The name is unknown or the input makes no sense; the remark says what to change.
pub fn answer(speech: &Speech, name: &str, input: &str) -> Result<String, Remark> {
    match RECKONINGS.iter().find(|reckoning| reckoning.name == name) {
        Some(reckoning) => (reckoning.answer)(speech, input),
        None => {
            let known = RECKONINGS.iter().map(|reckoning| reckoning.name).collect::<Vec<_>>().join(", ");
            Err(Remark::new("reckon-unknown").with("name", name).with("known", known))
        }
    }
}

/// Parses the input of a reckoning; unknown fields are refused by the input types themselves.
fn read<T: DeserializeOwned>(name: &str, input: &str) -> Result<T, Remark> {
    serde_json::from_str(input)
        .map_err(|error| Remark::new("reckon-not-json").with("name", name).with("problem", error.to_string()))
}

/// Writes an answer as indented JSON.
fn write<T: Serialize>(name: &str, answer: &T) -> Result<String, Remark> {
    serde_json::to_string_pretty(answer)
        .map_err(|error| Remark::new("reckon-not-json").with("name", name).with("problem", error.to_string()))
}
