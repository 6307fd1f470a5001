//! A million etch logs as a table, written, hashed and brought to its file as `tympan export` does it, beside the
//! database's own program (`sqlite3 -csv`, `psql \copy`) with the very same question.

use std::io::BufRead as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::time::Instant;

use tympan::commands::export::deliver;
use tympan::exchange::spool::Spool;
use tympan::exchange::tables::Table;
use tympan::speech::Speech;
use tympan::store::connections::{Address, dial};
use tympan::store::{AnyConnection, Db, exports, write};

use crate::crowd::Crowd;
use crate::figure::{Bench, Taken};
use crate::load::median;
use crate::replay::Replay;
use crate::school::{ONE_CLASS, School, folder, scratch};
use crate::world::NOW;

const LOGS: u32 = 1_000_000;

pub fn take(bench: &Bench) -> Result<Taken, String> {
    let school = scratch(&bench.engine, ONE_CLASS);
    fill(&mut dial(&school.address, false).map_err(|error| error.to_string())?, &school)?;
    let db = Db::open(school.address.clone()).map_err(|trouble| format!("{trouble:?}"))?;
    let (table, plain) = (folder().join("etches.csv"), folder().join("etches-plain.csv"));
    db.tally().listen();
    export(&db, &school, &table)?;
    let heard = db.tally().heard();
    let asked = heard.iter().find(|asked| asked.sql.contains("etch_application"));
    let question = Replay::of(asked.ok_or("the export asked for no etches")?)?.0;
    let written = std::fs::File::open(&table).map_err(|error| error.to_string())?;
    let lines = std::io::BufReader::new(written).split(b'\n').count();
    if lines != LOGS as usize + 1 {
        return Err(format!("the table has {lines} lines"));
    }
    let (mut own, mut bare) = (Vec::new(), Vec::new());
    for _ in 0..bench.options.pairs.min(3) {
        own.push(export(&db, &school, &table)?);
        bare.push(copied(&school.address, &question, &plain)?);
    }
    let bytes = std::fs::metadata(&table).map_err(|error| error.to_string())?.len();
    for file in [&table, &plain] {
        std::fs::remove_file(file).map_err(|error| error.to_string())?;
    }
    let values = own.iter().zip(&bare).map(|(own, bare)| own / bare).collect();
    let levels = format!("{:.2} s; floor {:.2} s", median(&own), median(&bare));
    Ok(Taken { values, levels, notes: vec![format!("{LOGS} logs, {} MiB", bytes >> 20)] })
}

/// So many logs of the class's plates, one application each, all in the run that a plate has had first.
fn fill(db: &mut AnyConnection, school: &School) -> Result<(), String> {
    let (class, plate, at) = (school.class, Crowd::plate(1), NOW.millis());
    let numbers =
        format!("WITH RECURSIVE n(i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i + 1 < {LOGS})");
    let id = "('000000c1-0000-7000-8000-' || CAST(100000000000 + i AS TEXT))";
    let run = format!("(SELECT id FROM step_run WHERE plate_id = '{plate}' AND step_key = 'prepare')");
    let by = format!("(SELECT person_id FROM plate WHERE id = '{plate}')");
    let statements = [
        "BEGIN".to_owned(),
        format!(
            "INSERT INTO etch (id, class_id, plate_id, step_run_id, step_key, root, reason, by_id, at, received_at, \
             known_how, recipe, gum_microlitres, gum_unit, drops, gum_sour, measured_ph_hundredths, tool, helper, \
             seen) {numbers} SELECT {id}, '{class}', '{plate}', {run}, 'first-etch', {id}, '', {by}, \
             {at} - 1000 * (i % 900000), {at}, 'told', 'acid_in_gum', 29574, 'us_fl_oz', 4 + i % 20, FALSE, \
             180 + i % 60, 'wide soft brush', '', 'even film, no bubbles' FROM n"
        ),
        format!(
            "INSERT INTO etch_application (etch_id, position, seconds) {numbers} SELECT {id}, 1, 60 + i % 120 FROM n"
        ),
        "COMMIT".to_owned(),
        "ANALYZE".to_owned(),
    ];
    for statement in &statements {
        write::execute(db, statement).map_err(|trouble| format!("{trouble:?} in {statement}"))?;
    }
    Ok(())
}

/// Seconds from the question to the file.
fn export(db: &Db, school: &School, out: &Path) -> Result<f64, String> {
    let (class, spool) = (school.class, Spool::new(&folder()));
    let speech = Arc::new(Speech::load().map_err(|error| error.to_string())?);
    let began = Instant::now();
    let spooled = actix_web::rt::System::new().block_on(async {
        let of = db.read(move |db| exports::of(db, class, NOW)).await?;
        spool.write(db, speech, Table::Etches, of).await
    });
    deliver(spooled.map_err(|trouble| format!("{trouble:?}"))?, out)?;
    Ok(began.elapsed().as_secs_f64())
}

/// Seconds for the same question by the database's own program, its start included.
fn copied(address: &Address, question: &str, out: &Path) -> Result<f64, String> {
    let mut command = match address {
        Address::Sqlite(path) => {
            let mut command = Command::new("sqlite3");
            command.arg("-csv").arg(path).arg(question);
            command
        }
        Address::Postgres(url) => {
            let mut command = Command::new("psql");
            command.arg(url).arg("-qc").arg(format!("\\copy ({question}) TO STDOUT CSV"));
            command
        }
    };
    let began = Instant::now();
    let file = std::fs::File::create(out).map_err(|error| error.to_string())?;
    let done = command.stdout(file).stderr(Stdio::piped()).output().map_err(|error| error.to_string())?;
    if !done.status.success() {
        return Err(String::from_utf8_lossy(&done.stderr).into_owned());
    }
    Ok(began.elapsed().as_secs_f64())
}
