//! The command line: what there is to run, each command in a file of its own.

pub mod archive;
pub mod check;
pub mod demo;
pub mod export;
pub mod foundation;
pub mod import;
pub mod migrate;
pub mod reckon;
pub mod remind;
pub mod restore;
pub mod serve;
pub mod setup;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// Runs a plate lithography class: plates, etch logs, sign-offs, proofs, grades and the term-end record.
#[derive(Debug, Parser)]
#[command(name = "tympan", version)]
struct Line {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Serve an invented school in mid-term, on loopback, to look around in.
    Demo(demo::Options),
    /// Serve the school; settings come from the environment (TYMPAN_…).
    Serve,
    /// Print the one-time address that makes a new school and its first keeper.
    Setup,
    /// Print a one-time address with which a person chooses a new password.
    Rescue {
        /// The person's e-mail address.
        email: String,
    },
    /// Bring the database to this program's schema.
    Migrate,
    /// Bring in what stands in a file.
    #[command(subcommand)]
    Import(import::What),
    /// Write a table of a class into a file (CSV): roster, prints, plates, etches, signoffs, grades, scores, attendance,
    /// goals, journal, columns.
    Export(export::Order),
    /// Write one zip file of a class or a whole term, for a department to keep.
    Archive(archive::Order),
    /// Check an archive, or the journal of the database.
    Check(check::Order),
    /// Read an archive back into an empty Tympan.
    Restore(restore::Order),
    /// Write today's daily letters and deliver what is due, once; a running server does so by itself.
    Remind {
        /// The one way there is: once, then done.
        #[arg(long, required = true)]
        once: bool,
    },
    /// Work out one computation: JSON on standard input, JSON on standard output.
    Reckon {
        /// etch, dropper, plan, press, grade, gpa, late, agreement …
        name: String,
    },
}

/// Reads the command line and runs what it names.
#[must_use]
pub fn run() -> ExitCode {
    let line = Line::parse();
    let outcome = match line.command {
        Command::Demo(options) => demo::run(&options),
        Command::Serve => serve::run(),
        Command::Setup => setup::run(),
        Command::Rescue { email } => setup::rescue(&email),
        Command::Migrate => migrate::run(),
        Command::Import(what) => import::run(&what),
        Command::Remind { once: _ } => remind::run(),
        Command::Export(order) => return export::run(&order),
        Command::Archive(order) => return archive::run(&order),
        Command::Check(order) => return check::run(&order),
        Command::Restore(order) => return restore::run(&order),
        Command::Reckon { name } => return reckon::run(&name),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(sentence) => {
            eprintln!("{sentence}");
            ExitCode::FAILURE
        }
    }
}
