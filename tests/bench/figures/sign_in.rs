//! Signing in beside nothing but the check of the password: both through the same two permits.

use actix_web::{App, HttpResponse, HttpServer, web};
use tympan::passwords::Passwords;
use tympan::store::connections::dial;
use tympan::store::schema::person;
use tympan::trouble::Trouble;

use diesel::prelude::*;

use crate::figure::{Bench, Taken};
use crate::load::{Target, pairs};
use crate::school::{ONE_CLASS, folder, scratch};
use crate::serving::{Running, get, house};
use crate::world::{INSTRUCTOR, PASSWORD};

struct Bare {
    passwords: Passwords,
    hash: String,
}

async fn check(bare: web::Data<Bare>, body: web::Bytes) -> Result<HttpResponse, Trouble> {
    std::hint::black_box(body);
    let right = bare.passwords.verify(PASSWORD.to_owned(), Some(bare.hash.clone())).await?;
    if right {
        Ok(HttpResponse::SeeOther().insert_header(("location", "/")).finish())
    } else {
        Err(Trouble::NotFound)
    }
}

pub fn take(bench: &Bench) -> Result<Taken, String> {
    let school = scratch(&bench.engine, ONE_CLASS);
    let passwords = Passwords::new(false).map_err(|trouble| format!("{trouble:?}"))?;
    let hash = actix_web::rt::System::new()
        .block_on(passwords.hash(PASSWORD.to_owned()))
        .map_err(|trouble| format!("{trouble:?}"))?;
    let mut db = dial(&school.address, false).map_err(|error| error.to_string())?;
    diesel::update(person::table.find(school.instructor))
        .set(person::password_hash.eq(&hash))
        .execute(&mut db)
        .map_err(|error| error.to_string())?;
    let program = Running::program(web::Data::new(house(&school)));
    let bare = web::Data::new(Bare { passwords, hash });
    let floor = Running::start(move |listener| {
        let app = move || App::new().app_data(bare.clone()).default_service(web::post().to(check));
        Ok(HttpServer::new(app).workers(1).disable_signals().listen(listener)?.run())
    });
    let form = get(&format!("{}/sign-in", program.base), "")?;
    let cookie: Vec<_> = form.set_cookie.iter().filter_map(|cookie| cookie.split(';').next()).collect();
    let seal = form.body.split("name=\"seal\" value=\"").nth(1).and_then(|rest| rest.split('"').next());
    let seal = seal.ok_or("the sign-in page has no seal")?;
    let script = folder().join("sign-in.lua");
    let word = |text: &str| text.replace(' ', "+").replace('@', "%40");
    let body = format!(
        "seal={}&once=00000000000000000000&email={}&password={}",
        word(&seal.replace('+', "%2B").replace('=', "%3D").replace('/', "%2F")),
        word(INSTRUCTOR),
        word(PASSWORD)
    );
    let lua = format!(
        "wrk.method = 'POST'\nwrk.headers['Content-Type'] = 'application/x-www-form-urlencoded'\nwrk.body = '{body}'\n"
    );
    std::fs::write(&script, lua).map_err(|error| error.to_string())?;
    let target = |base: &str| Target {
        address: format!("{base}/sign-in"),
        cookie: cookie.join("; "),
        script: Some(&script),
    };
    let signed_in = sessions(&mut db)?;
    let taken = pairs(bench, &target(&program.base), &target(&floor.base))?;
    // wrk takes any answer below 400 for a good one: every one must have opened a session.
    if sessions(&mut db)? == signed_in {
        return Err("nobody was signed in: the form came back".into());
    }
    Ok(taken)
}

fn sessions(db: &mut tympan::store::AnyConnection) -> Result<i64, String> {
    tympan::store::schema::session::table.count().get_result(db).map_err(|error| error.to_string())
}
