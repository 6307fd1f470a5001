//! The program beside bare floors for the same work: `cargo bench --bench floors`. Floor and program run in this one
//! process on one core, the load on another; what is compared was taken in turn. See DEVELOPERS.md.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a bench that panics is a bench that says so"
)]

#[path = "../studio/crowd.rs"]
#[allow(dead_code, reason = "the tests use the rest of it")]
mod crowd;
mod figure;
mod figures;
mod load;
mod machine;
mod options;
mod paced;
mod replay;
mod report;
mod school;
mod serving;
#[path = "../studio/world.rs"]
#[allow(dead_code, reason = "the tests use the rest of it")]
mod world;

use std::process::{Command, ExitCode};

use figure::{Bench, FIGURES};
use options::Options;
use report::Line;
use school::Engine;

/// Says that this process is the one that was put on a core.
const PINNED: &str = "TYMPAN_BENCH_PINNED";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if let Some((first, words)) = arguments.split_first()
        && first == "--paced"
    {
        return match paced::run(words) {
            Ok(()) => ExitCode::SUCCESS,
            Err(sentence) => {
                eprintln!("{sentence}");
                ExitCode::FAILURE
            }
        };
    }
    let options = match Options::read(arguments.iter().cloned()) {
        Ok(options) => options,
        Err(sentence) => {
            eprintln!("{sentence}");
            return ExitCode::from(2);
        }
    };
    if std::env::var_os(PINNED).is_some() {
        return run(&options);
    }
    for tool in ["taskset", "wrk"] {
        if Command::new(tool).arg("--version").output().is_err() {
            eprintln!("{tool} is missing: on Debian, apt-get install util-linux wrk.");
            return ExitCode::from(2);
        }
    }
    let itself = std::env::current_exe().unwrap();
    let status =
        Command::new("taskset").args(["-c", "0"]).arg(itself).args(arguments).env(PINNED, "yes").status();
    match status.ok().and_then(|status| status.code()) {
        Some(0) => ExitCode::SUCCESS,
        _ => ExitCode::FAILURE,
    }
}

fn run(options: &Options) -> ExitCode {
    // The program logs as it does when it serves, into nothing.
    let nowhere = std::fs::OpenOptions::new().write(true).open("/dev/null").unwrap();
    tracing_subscriber::fmt()
        .json()
        .with_env_filter("info")
        .with_writer(std::sync::Mutex::new(nowhere))
        .init();
    let folder = school::folder();
    let machine = machine::about(&folder);
    let mut lines = Vec::new();
    for (database, engine) in engines() {
        let bench = Bench { options: options.clone(), engine };
        for figure in FIGURES.iter().filter(|figure| options.wants(figure.name)) {
            machine::forget_the_most();
            let taken = (figure.take)(&bench);
            let line = Line { database, figure, taken, memory: machine::memory() };
            println!("{}", line.words());
            lines.push(line);
        }
    }
    let table = report::write(&folder, &machine, &lines).unwrap();
    println!("\n{table}\n{}", folder.join("report.md").display());
    let untaken = lines.iter().any(|line| line.taken.is_err());
    let missed = lines.iter().any(|line| !line.meets_its_goal());
    if untaken || (options.goal && missed) { ExitCode::FAILURE } else { ExitCode::SUCCESS }
}

/// SQLite, and PostgreSQL where a throw-away server is named.
fn engines() -> Vec<(&'static str, Engine)> {
    let named = |name: &str| std::env::var(name).ok();
    let mut engines = vec![("SQLite", Engine::Sqlite)];
    if let Some(url) = named("TYMPAN_BENCH_POSTGRES_URL").or_else(|| named("TYMPAN_TEST_POSTGRES_URL")) {
        engines.push(("PostgreSQL", Engine::Postgres(url)));
    }
    engines
}
