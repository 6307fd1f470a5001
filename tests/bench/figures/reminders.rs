//! One pass of the daily letters over a college: 139 classes, 3,336 students, 10,008 plates.

use std::sync::Arc;
use std::time::Instant;

use tympan::post::reminders::write_letters;
use tympan::store::Db;

use crate::figure::{Bench, Taken};
use crate::load::median;
use crate::school::{COLLEGE, scratch};
use crate::world::NOW;

pub fn take(bench: &Bench) -> Result<Taken, String> {
    let (mut values, mut letters) = (Vec::new(), 0);
    for _ in 0..bench.options.pairs.min(3) {
        let school = scratch(&bench.engine, COLLEGE);
        let db = Db::open(school.address).map_err(|trouble| format!("{trouble:?}"))?;
        let began = Instant::now();
        letters = actix_web::rt::System::new()
            .block_on(write_letters(&db, &Arc::default(), NOW))
            .map_err(|trouble| format!("{trouble:?}"))?;
        values.push(began.elapsed().as_secs_f64() * 1000.0);
    }
    if letters == 0 {
        return Err("the pass wrote no letter".into());
    }
    let levels = format!("{:.0} ms", median(&values));
    Ok(Taken {
        values,
        levels,
        notes: vec![format!("{letters} letters of {} plates", COLLEGE.people() * COLLEGE.plates)],
    })
}
