//! The command line.

pub mod reckon;

use std::process::ExitCode;

/// Reads the command line and runs what it names.
#[must_use]
pub fn run() -> ExitCode {
    let mut words = std::env::args().skip(1);
    match (words.next().as_deref(), words.next()) {
        (Some("reckon"), Some(name)) => reckon::run(&name),
        _ => ExitCode::from(2),
    }
}
