//! The demo school: the same seed and moment give the same tables, on both databases; what the script tells is there,
//! and nothing breaks a rule that the script does not mean to be broken.

use std::collections::BTreeMap;

use diesel::prelude::*;
use tympan::commands::demo::furnish;
use tympan::commands::export::{Order, take};
use tympan::pages::server::block_on;
use tympan::store::schema::*;

use crate::stories::rows;
use crate::studio::world::NOW;
use crate::studio::{Engine, Studio};

const TABLES: [&str; 8] = ["roster", "prints", "plates", "etches", "signoffs", "grades", "scores", "journal"];

fn furnished(engine: Engine, seed: u64) -> Studio {
    let studio = Studio::open_empty(engine);
    block_on(furnish(&studio.house, NOW, seed)).unwrap();
    studio
}

/// The exports of the one class, by name.
fn tables(studio: &Studio) -> BTreeMap<&'static str, String> {
    let named: String = term::table.select(term::name).first(&mut studio.connection()).unwrap();
    TABLES
        .into_iter()
        .map(|what| {
            let (class, term) = ("LIT-B".to_owned(), named.clone());
            let order = Order { what: what.to_owned(), class, term, out: "-".into(), purpose: String::new() };
            let mut spooled = block_on(take(&studio.house, &order)).unwrap();
            let mut text = String::new();
            std::io::Read::read_to_string(&mut spooled.file, &mut text).unwrap();
            (what, text)
        })
        .collect()
}

#[test]
fn the_same_seed_and_moment_give_the_same_tables_on_both_databases() {
    let (one, other) = (furnished(Engine::Sqlite, 1), furnished(Engine::Postgres, 1));
    let (first, second) = (tables(&one), tables(&other));
    for what in TABLES {
        assert!(first[what].lines().count() > 10, "{what} is nearly empty");
        assert!(first[what] == second[what], "{what} differs");
    }
    let elsewhere = tables(&furnished(Engine::Sqlite, 2));
    assert!(TABLES.iter().all(|what| first[what] != elsewhere[what]), "another seed has other ids");
}

#[test]
fn what_the_script_tells_is_there() {
    let studio = furnished(Engine::Sqlite, 1);
    let db = &mut studio.connection();
    let counted = |sql: &str| rows_where(&studio, sql);
    assert_eq!(rows(&studio, "plate"), 37);
    for standing in ["drawn", "under_gum", "rolled_up", "pulled", "put_away", "scrapped"] {
        assert!(counted(&format!("plate WHERE standing = '{standing}'")) > 0, "no plate is {standing}");
    }
    // The batch that turned: every etch from G3 was told to have filled in.
    let from_bad: i64 = counted(
        "came_up JOIN etch ON etch.id = came_up.etch_root JOIN container ON container.id = etch.gum_id \
         WHERE container.letter = 'G' AND container.number = 3 AND came_up.how = 'filled-in'",
    );
    assert_eq!(from_bad, 4);
    assert_eq!(counted("came_up WHERE how = 'burned'"), 1);
    assert_eq!(counted("plate WHERE replaces_id IS NOT NULL"), 2);
    assert_eq!(counted("etch WHERE corrects IS NOT NULL"), 1);
    // One student worked before the sign-off, which the instructor let stand; one pulled a proof too early.
    let outside: Vec<(String, String)> = step_run::table
        .filter(step_run::outside_rules.ne(""))
        .order((step_run::began_at, step_run::step_key))
        .select((step_run::step_key, step_run::outside_rules))
        .load(db)
        .unwrap();
    let told: Vec<(&str, &str)> = outside.iter().map(|(step, rule)| (step.as_str(), rule.as_str())).collect();
    assert_eq!(
        told,
        [("roll-up", "sign_off"), ("proof", "sign_off"), ("edition", "sign_off"), ("proof", "order")]
    );
    assert_eq!(counted("refusal"), 4);
    assert_eq!(counted("step_run WHERE ended_at IS NULL"), 2);
    assert!(counted("photo") >= 25);
    assert!(counted("letter WHERE kind = 'daily'") >= 5);
    assert!(counted("score WHERE handed_back_at IS NULL") > 0, "something is still to be handed back");
    assert_eq!(counted("enrolment WHERE state = 'withdrawn'"), 1);
    // A date moved twice in two minutes is one letter each; the dropped ones say why.
    assert_eq!(counted("due_move"), 2);
    let told = counted("letter WHERE kind = 'due-moved' AND dropped_at IS NULL");
    assert_eq!(
        counted("letter WHERE kind = 'due-moved' AND last_error = 'overtaken'"),
        told - 1,
        "and one's own date"
    );
    assert_eq!(counted("station_down WHERE ended_at IS NULL"), 1);
    assert_eq!(counted("person WHERE mail_rests_since IS NOT NULL"), 1);
    assert_eq!(counted("procedure_draft WHERE discarded_at IS NOT NULL"), 1);
    // What else the pages can show: a dropper weighed, a data sheet, a day closed and an evening opened, a calendar, the
    // class's own limits; and letters that left in the last days, a warning and the letter of the week among them.
    assert_eq!(
        (counted("weighing"), counted("data_sheet"), counted("closure"), counted("extra_opening")),
        (1, 1, 1, 1)
    );
    assert_eq!(counted("container WHERE data_sheet_id IS NOT NULL"), 1);
    assert_eq!(counted("calendar_feed WHERE withdrawn_at IS NULL"), 1);
    assert_eq!(
        counted("class WHERE gum_limit_days = 30 AND ph_low_hundredths = 180 AND ph_high_hundredths = 300"),
        1
    );
    assert_eq!(counted("procedure_picture"), 2);
    assert_eq!(
        counted("procedure_version WHERE body LIKE '%https://recordings.saltmarsh.college.example/%'"),
        1
    );
    for kind in ["urgent", "week", "daily", "handed-back", "due-moved", "second-look-asked"] {
        assert!(
            counted(&format!("letter WHERE kind = '{kind}' AND sent_at IS NOT NULL")) > 0,
            "no {kind} was sent"
        );
    }
    let warned: Vec<String> =
        letter::table.filter(letter::kind.eq("urgent")).select(letter::detail).load(db).unwrap();
    assert!(warned.iter().any(|one| one.contains("Thaw") && one.contains("Second etch")), "{warned:?}");
}

#[test]
fn a_student_who_left_is_neither_late_nor_stuck() {
    let studio = furnished(Engine::Sqlite, 1);
    let instructor = studio.visitor();
    let sign_in = [("email", "edda.varga@college.example"), ("password", "gum-over-the-whole-plate")];
    assert_eq!(instructor.post("/sign-in", &sign_in).status, 303);
    let class: String = class::table.select(class::id).first(&mut studio.connection()).unwrap();
    let late = instructor.get(&format!("/classes/{class}/all?show=late")).read();
    assert!(late.contains("Corridor"), "{late}");
    assert!(!late.contains("Window"), "{late}");
    let all = instructor.get(&format!("/classes/{class}/all")).read();
    assert!(all.contains("17 students"), "{all}");
}

fn rows_where(studio: &Studio, from: &str) -> i64 {
    diesel::dsl::sql::<diesel::sql_types::BigInt>(&format!("SELECT count(*) FROM {from}"))
        .get_result(&mut studio.connection())
        .unwrap()
}
