//! The program as whoever runs the machine meets it: starting, stopping, setting up, rescuing, and what it refuses.

use std::io::{Read, Write};
use std::path::Path;
use std::process::{Command, Output};

use diesel_migrations::{FileBasedMigrations, MigrationHarness};
use tympan::commands::foundation::open_database;
use tympan::settings::Settings;
use tympan::store::AnyConnection;
use tympan::store::connections::{Address, dial};
use tympan::store::migrations::{Schema, schema_of};
use tympan::store::write;

use crate::on_both;
use crate::stories::logs::Serving;
use crate::studio::world::*;
use crate::studio::{Engine, Studio};

pub fn tympan(studio: &Studio, words: &[&str]) -> Output {
    let settings = &studio.house.settings;
    let key = settings.data.join("own-key");
    std::fs::write(&key, [7; 32]).unwrap();
    Command::new(env!("CARGO_BIN_EXE_tympan"))
        .args(words)
        .env("TYMPAN_DATA", &settings.data)
        .env("TYMPAN_DATABASE_URL", &settings.database_url)
        .env("TYMPAN_PUBLIC_URL", &settings.public_url)
        .env("TYMPAN_LISTEN", "127.0.0.1:0")
        .env("TYMPAN_KEY_FILE", &key)
        .output()
        .unwrap()
}

/// How it left, and what it said to whoever typed the command.
pub fn said(done: &Output) -> (Option<i32>, String) {
    (done.status.code(), String::from_utf8_lossy(&done.stderr).into_owned())
}

/// Both databases, for stories that begin with an empty house.
fn on_each(story: impl Fn(&Studio)) {
    for engine in [Engine::Sqlite, Engine::Postgres] {
        story(&Studio::open_empty(engine));
    }
}

#[test]
fn setup_prints_one_address_until_there_is_a_school() {
    on_each(|studio| {
        let (code, first) = said(&tympan(studio, &["setup"]));
        assert_eq!(code, Some(0), "{first}");
        assert!(first.contains("within 14 days") && first.contains("it works once"), "{first}");
        let address = first.lines().find(|line| line.contains("/links/")).unwrap();
        assert!(address.starts_with(&studio.house.settings.public_url), "{address}");
        let (code, nobody) = said(&tympan(studio, &["rescue", "kora@college.example"]));
        assert_eq!(code, Some(1));
        assert_eq!(nobody, "Nobody has the e-mail address “kora@college.example”. Check its spelling.\n");
        let (code, missing) = said(&tympan(studio, &["rescue"]));
        assert_eq!(code, Some(2), "{missing}");
    });
}

on_both! {
    fn with_a_school_there_is_rescue_and_no_second_setup(studio) {
        let (code, refused) = said(&tympan(studio, &["setup"]));
        assert_eq!(code, Some(1));
        assert_eq!(refused, "There is a school already. Use “tympan rescue E-MAIL” if its keeper cannot sign in.\n");
        let (code, address) = said(&tympan(studio, &["rescue", "KEEPER@college.example"]));
        assert_eq!(code, Some(0), "{address}");
        assert!(address.contains("within 30 minutes") && address.contains("/links/"), "{address}");
        assert_eq!(crate::stories::rows(studio, "journal WHERE act = 'account.rescued'"), 1);
    }
}

#[test]
fn an_older_schema_on_postgresql_is_refused_with_what_to_do() {
    let studio = Studio::open(Engine::Postgres);
    let last = "DELETE FROM __diesel_schema_migrations WHERE version = (SELECT max(version) FROM __diesel_schema_migrations)";
    write::execute(&mut studio.connection(), last).unwrap();
    let (code, refused) = said(&tympan(&studio, &["serve"]));
    assert_eq!(code, Some(1), "{refused}");
    assert!(refused.contains("lacks 1 migration(s). Run “tympan migrate” once"), "{refused}");
}

/// How the schema of a file stands, and whether a row of before is in it.
fn standing(path: &Path) -> (Schema, bool) {
    let mut db = dial(&Address::Sqlite(path.to_path_buf()), false).unwrap();
    let schema = schema_of(&mut db).unwrap();
    let kept = write::execute(&mut db, "UPDATE school SET name = name WHERE id = 'school'").is_ok();
    (schema, kept)
}

#[test]
fn a_file_is_copied_before_its_schema_changes() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tympan.db");
    {
        let AnyConnection::Sqlite(mut old) = dial(&Address::Sqlite(path.clone()), false).unwrap() else {
            panic!()
        };
        let steps =
            FileBasedMigrations::from_path(Path::new(env!("CARGO_MANIFEST_DIR")).join("migrations/sqlite"))
                .unwrap();
        old.run_next_migration(steps).unwrap();
    }
    let (Schema::Older(missing), true) = standing(&path) else { panic!("an old file") };
    let given = [("TYMPAN_DATA", folder.path().display().to_string())];
    let settings =
        Settings::from_values(&given.into_iter().map(|(name, value)| (name.to_owned(), value)).collect())
            .unwrap();
    drop(open_database(&settings).unwrap());
    assert_eq!(standing(&path), (Schema::Current, true));
    let copies: Vec<_> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.file_name().unwrap().to_string_lossy().starts_with("tympan.before-"))
        .collect();
    assert_eq!(copies.len(), 1, "{copies:?}");
    assert_eq!(standing(&copies[0]), (Schema::Older(missing), true), "as it was before");
    drop(open_database(&settings).unwrap());
    assert_eq!(
        std::fs::read_dir(folder.path())
            .unwrap()
            .filter(|entry| entry.as_ref().unwrap().path().display().to_string().contains("before-"))
            .count(),
        1,
        "none where nothing changes"
    );
}

#[test]
fn the_demo_listens_on_loopback_and_takes_no_used_folder() {
    let demo = |words: &[&str]| {
        said(&Command::new(env!("CARGO_BIN_EXE_tympan")).arg("demo").args(words).output().unwrap())
    };
    for outside in ["0.0.0.0:0", "192.0.2.7:8080", "[::]:0"] {
        let (code, refused) = demo(&["--listen", outside]);
        assert_eq!(code, Some(1), "{refused}");
        assert!(refused.contains(outside) && refused.contains("loopback only"), "{refused}");
    }
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("tympan.db"), b"somebody's school").unwrap();
    let (code, refused) =
        demo(&["--listen", "127.0.0.1:0", "--folder", &folder.path().display().to_string()]);
    assert_eq!(code, Some(1), "{refused}");
    assert!(refused.contains("there is a school in it already"), "{refused}");
    assert_eq!(std::fs::read(folder.path().join("tympan.db")).unwrap(), b"somebody's school", "left alone");
}

/// Half of a form is on its way when the server is asked to stop: the other half is taken, answered, and then it leaves
/// with 0.
#[test]
fn a_stop_lets_what_is_in_flight_finish() {
    let mut serving = Serving::start("info");
    let visitor = serving.visitor();
    let encode = |text: &str| text.replace('@', "%40").replace(' ', "+");
    let body = format!(
        "seal={}&once=a-once-key-of-the-form&email={}&password={}",
        visitor.seal(),
        encode(STUDENT),
        encode(PASSWORD)
    );
    let host = serving.base.strip_prefix("http://").unwrap().to_owned();
    let mut line = std::net::TcpStream::connect(&host).unwrap();
    let head = format!(
        "POST /sign-in HTTP/1.1\r\nHost: {host}\r\nCookie: {}\r\nContent-Type: application/x-www-form-urlencoded\r\n\
         Content-Length: {}\r\nConnection: close\r\n\r\n",
        visitor.cookies(),
        body.len()
    );
    let (first, second) = body.split_at(body.len() / 2);
    line.write_all(format!("{head}{first}").as_bytes()).unwrap();
    std::thread::sleep(std::time::Duration::from_millis(300));
    let id = serving.child.id().to_string();
    assert!(Command::new("kill").args(["-TERM", &id]).status().unwrap().success());
    std::thread::sleep(std::time::Duration::from_millis(700));
    assert!(serving.child.try_wait().unwrap().is_none(), "it waits for what is in flight");
    assert!(std::net::TcpStream::connect(&host).is_err(), "and takes nothing new");
    line.write_all(second.as_bytes()).unwrap();
    let mut answer = String::new();
    line.read_to_string(&mut answer).unwrap();
    assert!(answer.starts_with("HTTP/1.1 303"), "{answer}");
    assert_eq!(serving.child.wait().unwrap().code(), Some(0));
}
