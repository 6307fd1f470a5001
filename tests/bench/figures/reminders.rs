//! One pass of the daily letters over a college: 139 classes, 3,336 students, 10,008 plates. Smaller and larger schools
//! show whether the time grows with the plates.

use std::sync::Arc;
use std::time::Instant;

use tympan::post::reminders::write_letters;
use tympan::store::Db;

use crate::crowd::Crowd;
use crate::figure::{Bench, Taken};
use crate::load::median;
use crate::school::{COLLEGE, scratch};
use crate::world::NOW;

const SMALL: Crowd = Crowd { classes: 14, ..COLLEGE };
const LARGE: Crowd = Crowd { classes: 1389, ..COLLEGE };
/// The large school is left out where it would take longer.
const LONGEST_MS: f64 = 60_000.0;

pub fn take(bench: &Bench) -> Result<Taken, String> {
    let mut values = Vec::new();
    let mut letters = 0;
    for _ in 0..bench.options.pairs.min(3) {
        let (took, written) = pass(bench, COLLEGE)?;
        values.push(took);
        letters = written;
    }
    let per_ms = |crowd: Crowd, took: f64| {
        let plates = crowd.people() * crowd.plates;
        format!("{:.1} plates a ms of {plates}", f64::from(plates) / took)
    };
    let middle = median(&values);
    let mut notes =
        vec![format!("{letters} letters"), per_ms(SMALL, pass(bench, SMALL)?.0), per_ms(COLLEGE, middle)];
    if middle * 10.0 < LONGEST_MS {
        notes.push(per_ms(LARGE, pass(bench, LARGE)?.0));
    }
    Ok(Taken { values, levels: format!("{middle:.0} ms"), notes })
}

/// Milliseconds of one pass over a school, and how many letters it wrote.
fn pass(bench: &Bench, crowd: Crowd) -> Result<(f64, usize), String> {
    let school = scratch(&bench.engine, crowd);
    let db = Db::open(school.address).map_err(|trouble| format!("{trouble:?}"))?;
    let began = Instant::now();
    let letters = actix_web::rt::System::new()
        .block_on(write_letters(&db, &Arc::default(), NOW))
        .map_err(|trouble| format!("{trouble:?}"))?;
    if letters == 0 {
        return Err("the pass wrote no letter".into());
    }
    Ok((began.elapsed().as_secs_f64() * 1000.0, letters))
}
