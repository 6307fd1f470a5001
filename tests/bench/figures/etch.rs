//! Recording an etch at the table, through gate, form and act, beside a bare POST that writes the same rows in one
//! transaction kept as safely: its statements are those heard from the program, with an id, a once-key and a place in the
//! journal of their own each time.

use std::collections::HashMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use actix_web::{App, HttpResponse, HttpServer, web};
use diesel::prelude::*;
use tympan::ids::{EtchId, StepRunId};
use tympan::store::connections::dial;
use tympan::store::schema::{etch, journal, once, plate, step_run};
use tympan::store::tally::Asked;
use tympan::store::{AnyConnection, Db, write};
use tympan::trouble::Trouble;

use crate::crowd::Crowd;
use crate::figure::{Bench, Taken};
use crate::load::{Target, pairs};
use crate::replay::{Bound, Fresh};
use crate::school::{ONE_CLASS, STUDENT_TOKEN, School, folder, scratch};
use crate::serving::{Running, get, house, post};
use crate::world::NOW;

/// The once-key of the sending that is listened to; wrk makes others.
const FIRST_ONCE: &str = "f0f0f0f0f0f0f0f0f0f0f0f0";
/// That of the floor's trial.
const TRIAL_ONCE: &str = "f1f1f1f1f1f1f1f1f1f1f1f1";

pub fn take(bench: &Bench) -> Result<Taken, String> {
    let school = scratch(&bench.engine, ONE_CLASS);
    let mut db = dial(&school.address, false).map_err(|error| error.to_string())?;
    let run = etched_run(&mut db, &school)?;
    let house = web::Data::new(house(&school));
    let program = Running::program(house.clone());
    let path = format!("/classes/{}/plates/{}/etches/new", school.class, Crowd::plate(2));
    let cookie = format!("sid={STUDENT_TOKEN}");
    let body = format!("{}&run={run}&{MIXTURE}", seal(&program, &path, &cookie)?);

    house.db.tally().listen();
    let answer = post(&format!("{}{path}", program.base), &cookie, &format!("{body}&once={FIRST_ONCE}"))?;
    let heard = house.db.tally().heard();
    if answer.status != 303 {
        return Err(format!("the log was answered {}", answer.status));
    }
    let floor = floor(&mut db, &school, &heard)?;
    // What is wrong with the floor is told here: under load only the number of its refusals would be.
    let trial = post(&format!("{}{path}", floor.base), &cookie, &format!("{body}&once={TRIAL_ONCE}"))?;
    if trial.status != 303 {
        return Err(format!("the floor answers {}: {}", trial.status, trial.body));
    }
    let script = script(&body)?;
    let target = |base: &str| Target {
        address: format!("{base}{path}"),
        cookie: cookie.clone(),
        script: Some(&script),
    };
    let before = logs(&mut db)?;
    let mut taken = pairs(bench, &target(&program.base), &target(&floor.base))?;
    let written = logs(&mut db)? - before;
    let keys: i64 = once::table.count().get_result(&mut db).map_err(|error| error.to_string())?;
    // wrk takes any answer below 400 for a good one: each must have written a log under a key of its own.
    if written < 100 || keys < written {
        return Err(format!("{written} logs were written under {keys} keys"));
    }
    taken.notes.push(format!(
        "{} statements, gate and transaction included; three applications, a run that has ended; {written} logs \
         written",
        heard.len()
    ));
    Ok(taken)
}

const MIXTURE: &str = "unit=us_fl_oz&recipe=acid_in_gum&gum=none&gum_volume=1&acid=none&drops=4&application_1=2\
                       &application_2=1.5&application_3=2:30&tool=brush&helper=&measured_ph=&seen=even+film&goes_on=yes";

/// A first etch of the student's third plate that has ended without a log.
fn etched_run(db: &mut AnyConnection, school: &School) -> Result<StepRunId, String> {
    let (id, ended) = (StepRunId::new(NOW), NOW.plus_ms(-3_600_000));
    let owner: tympan::ids::PersonId = plate::table
        .find(Crowd::plate(2))
        .select(plate::person_id)
        .first(db)
        .map_err(|error| error.to_string())?;
    diesel::insert_into(step_run::table)
        .values((
            (
                step_run::id.eq(id),
                step_run::class_id.eq(school.class),
                step_run::plate_id.eq(Crowd::plate(2)),
            ),
            (step_run::step_key.eq("first-etch"), step_run::began_at.eq(ended.plus_ms(-3_600_000))),
            (step_run::ended_at.eq(ended), step_run::by_id.eq(owner), step_run::received_at.eq(ended)),
            (step_run::known_how.eq("told"), step_run::outside_rules.eq(""), step_run::note.eq("")),
        ))
        .execute(db)
        .map_err(|error| error.to_string())?;
    Ok(id)
}

fn seal(program: &Running, path: &str, cookie: &str) -> Result<String, String> {
    let form = get(&format!("{}{path}", program.base), cookie)?;
    let seal = form.body.split("name=\"seal\" value=\"").nth(1).and_then(|rest| rest.split('"').next());
    let seal = seal.ok_or("the form has no seal")?;
    Ok(format!("seal={}", seal.replace('+', "%2B").replace('=', "%3D").replace('/', "%2F")))
}

/// wrk's script: the same form with another once-key each time.
fn script(body: &str) -> Result<std::path::PathBuf, String> {
    let path = folder().join("etch.lua");
    let lua = format!(
        "local file = io.open('/proc/sys/kernel/random/uuid')\nlocal run = file:read(36):gsub('-', '')\nfile:close()\n\
         local sent = 0\nwrk.method = 'POST'\n\
         wrk.headers['Content-Type'] = 'application/x-www-form-urlencoded'\n\
         request = function()\n  sent = sent + 1\n  \
         return wrk.format(nil, nil, nil, '{body}&once=' .. run .. string.format('%08x', sent))\nend\n"
    );
    std::fs::write(&path, lua).map_err(|error| error.to_string())?;
    Ok(path)
}

fn logs(db: &mut AnyConnection) -> Result<i64, String> {
    etch::table.count().get_result(db).map_err(|error| error.to_string())
}

struct Bare {
    db: Db,
    writes: Arc<Vec<Bound>>,
    seq: AtomicI64,
}

/// The floor over the same school. Its journal rows go to the school's chain, so that the two never meet.
fn floor(db: &mut AnyConnection, school: &School, heard: &[Asked]) -> Result<Running, String> {
    let said = |error: diesel::result::Error| error.to_string();
    let first: EtchId = etch::table.select(etch::id).first(db).map_err(said)?;
    let seq: i64 = journal::table
        .filter(journal::scope.eq(school.class.to_string()))
        .select(diesel::dsl::max(journal::seq))
        .first::<Option<i64>>(db)
        .map_err(said)?
        .unwrap_or_default();
    let known = Fresh { id: first.to_string(), once: FIRST_ONCE.to_owned(), seq };
    // Beside its writes the floor stands in line for the journal, first of all, as every write transaction does.
    let in_line = |asked: &&Asked| {
        asked.sql.starts_with("INSERT")
            || asked.sql.starts_with("UPDATE")
            || asked.sql.starts_with("SELECT seq, hash FROM journal_head")
    };
    let writes = heard.iter().filter(in_line);
    let writes: Vec<Bound> = writes.map(|asked| Bound::of(asked, &known)).collect::<Result<_, String>>()?;
    let class = format!("'{}'", school.class);
    let writes = writes.into_iter().map(|write| match write.concerns("journal") {
        true => write.with(&class, "'school'"),
        false => write,
    });
    let bare = web::Data::new(Bare {
        db: Db::open(school.address.clone()).map_err(|trouble| format!("{trouble:?}"))?,
        writes: Arc::new(writes.collect()),
        seq: AtomicI64::new(1_000_000),
    });
    Ok(Running::start(move |listener| {
        let app = move || App::new().app_data(bare.clone()).default_service(web::post().to(record));
        Ok(HttpServer::new(app).workers(1).disable_signals().listen(listener)?.run())
    }))
}

async fn record(
    bare: web::Data<Bare>,
    form: web::Form<HashMap<String, String>>,
) -> Result<HttpResponse, Trouble> {
    let (writes, seq) = (bare.writes.clone(), bare.seq.fetch_add(1, Ordering::Relaxed));
    let once = form.get("once").cloned().unwrap_or_default();
    let fresh = Fresh { id: EtchId::new(NOW).to_string(), once, seq };
    let written = bare
        .db
        .note(move |db| {
            write::execute(
                db,
                if matches!(db, AnyConnection::Sqlite(_)) { "BEGIN IMMEDIATE" } else { "BEGIN" },
            )?;
            let written = writes.iter().try_for_each(|write| write.execute(db, &fresh));
            write::execute(db, if written.is_ok() { "COMMIT" } else { "ROLLBACK" })?;
            Ok(written?)
        })
        .await;
    if let Err(trouble) = written {
        return Ok(HttpResponse::InternalServerError().body(format!("{trouble:?}")));
    }
    Ok(HttpResponse::SeeOther().insert_header(("location", "/")).finish())
}
