//! Today, Class and Plate beside a bare page: the statements the program asks, asked by hand, and its template filled with
//! the view it made. The floor has no gate, no judging, no planning, no headers, no log.

use std::sync::{Arc, Mutex};

use actix_web::{App, HttpResponse, HttpServer, web};
use serde_json::Value;
use tympan::pages::render::Templates;
use tympan::store::Db;
use tympan::store::tally::Asked;
use tympan::trouble::Trouble;

use crate::crowd::Crowd;
use crate::figure::{Bench, Taken};
use crate::load::{Target, median, null_test, pairs};
use crate::replay::Replay;
use crate::school::{INSTRUCTOR_TOKEN, ONE_CLASS, STUDENT_TOKEN, School, UNIVERSITY, school};
use crate::serving::{Running, get, house};

pub fn today(bench: &Bench) -> Result<Taken, String> {
    beside_floor(bench, STUDENT_TOKEN, |school| format!("/classes/{}", school.class))
}

pub fn class(bench: &Bench) -> Result<Taken, String> {
    beside_floor(bench, INSTRUCTOR_TOKEN, |school| format!("/classes/{}/all", school.class))
}

pub fn plate(bench: &Bench) -> Result<Taken, String> {
    beside_floor(bench, STUDENT_TOKEN, |school| {
        format!("/classes/{}/plates/{}", school.class, Crowd::plate(2))
    })
}

/// The plan of a class of 72 plates, one look at a time.
pub fn class_plan(bench: &Bench) -> Result<Taken, String> {
    let school = school(&bench.engine, ONE_CLASS);
    let program = Running::program(web::Data::new(house(&school)));
    let address = format!("{}/classes/{}/plan", program.base, school.class);
    let cookie = format!("sid={INSTRUCTOR_TOKEN}");
    let (mut values, mut bytes) = (Vec::new(), 0);
    for look in 0..=bench.options.pairs * 5 {
        let began = std::time::Instant::now();
        let answer = get(&address, &cookie)?;
        if answer.status != 200 {
            return Err(format!("{address}: {}", answer.status));
        }
        // The first look reads the procedure.
        if look > 0 {
            values.push(began.elapsed().as_secs_f64() * 1000.0);
        }
        bytes = answer.body.len();
    }
    let levels = format!("{:.1} ms", median(&values));
    Ok(Taken { values, levels, notes: vec![format!("{bytes} bytes; the connection is made anew each time")] })
}

/// Today of one student, in a school of 144,000 plates and in one of 72.
pub fn university(bench: &Bench) -> Result<Taken, String> {
    let (large, small) = (school(&bench.engine, UNIVERSITY), school(&bench.engine, ONE_CLASS));
    let (large_program, small_program) =
        (Running::program(web::Data::new(house(&large))), Running::program(web::Data::new(house(&small))));
    let target = |program: &Running, school: &School| Target {
        address: format!("{}/classes/{}", program.base, school.class),
        cookie: format!("sid={STUDENT_TOKEN}"),
        script: None,
    };
    pairs(bench, &target(&large_program, &large), &target(&small_program, &small))
}

fn beside_floor(bench: &Bench, token: &str, path: fn(&School) -> String) -> Result<Taken, String> {
    let school = school(&bench.engine, ONE_CLASS);
    let (path, cookie) = (path(&school), format!("sid={token}"));
    let seen = look(&school, &path, &cookie)?;
    let floor = floor(&school, &seen)?;
    let program = Running::program(web::Data::new(house(&school)));
    let target =
        |base: &str| Target { address: format!("{base}{path}"), cookie: cookie.clone(), script: None };
    let (own, bare) = (target(&program.base), target(&floor.base));
    let (own_answer, bare_answer) = (get(&own.address, &cookie)?, get(&bare.address, &cookie)?);
    if (own_answer.status, bare_answer.status) != (200, 200)
        || own_answer.body.len() != bare_answer.body.len()
    {
        return Err(format!(
            "{path}: the program answers {} with {} bytes, the floor {} with {}",
            own_answer.status,
            own_answer.body.len(),
            bare_answer.status,
            bare_answer.body.len()
        ));
    }
    let null = null_test(bench, &own)?;
    let mut taken = pairs(bench, &own, &bare)?;
    taken.notes.push(format!("{} statements, {} bytes; {null}", seen.asked.len(), own_answer.body.len()));
    Ok(taken)
}

/// What the program does for a page: the statements, the template and its view.
struct Seen {
    asked: Vec<Asked>,
    template: String,
    view: Value,
}

/// Watches the program over one look at a page; the look before it warms what is read once a program.
fn look(school: &School, path: &str, cookie: &str) -> Result<Seen, String> {
    let house = web::Data::new(house(school));
    let filled: Arc<Mutex<Option<(String, Value)>>> = Arc::default();
    let keep = filled.clone();
    house.templates.watch(Box::new(move |template, view| {
        *keep.lock().unwrap() = Some((template.to_owned(), view.clone()));
    }));
    let program = Running::program(house.clone());
    let address = format!("{}{path}", program.base);
    get(&address, cookie)?;
    house.db.tally().listen();
    let answer = get(&address, cookie)?;
    let asked = house.db.tally().heard();
    let (template, view) = filled.lock().unwrap().take().ok_or(format!("{path}: {}", answer.status))?;
    Ok(Seen { asked, template, view })
}

struct Bare {
    db: Db,
    templates: Templates,
    asked: Arc<Vec<Replay>>,
    template: String,
    view: Value,
}

fn floor(school: &School, seen: &Seen) -> Result<Running, String> {
    let bare = web::Data::new(Bare {
        db: Db::open(school.address.clone()).map_err(|trouble| format!("{trouble:?}"))?,
        templates: Templates::load().map_err(|trouble| format!("{trouble:?}"))?,
        asked: Arc::new(seen.asked.iter().map(Replay::of).collect::<Result<_, _>>()?),
        template: seen.template.clone(),
        view: seen.view.clone(),
    });
    Ok(Running::start(move |listener| {
        let app = move || App::new().app_data(bare.clone()).default_service(web::get().to(answer));
        Ok(HttpServer::new(app).workers(1).disable_signals().listen(listener)?.run())
    }))
}

async fn answer(bare: web::Data<Bare>) -> Result<HttpResponse, Trouble> {
    let asked = bare.asked.clone();
    let bytes = bare
        .db
        .read(move |db| asked.iter().try_fold(0, |sum, replay| Ok::<_, Trouble>(sum + replay.ask(db)?)));
    std::hint::black_box(bytes.await?);
    let html = bare.templates.fill(&bare.template, bare.view.clone())?;
    Ok(HttpResponse::Ok().content_type("text/html; charset=utf-8").body(html))
}
