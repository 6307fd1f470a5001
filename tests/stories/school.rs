//! The keeper sets a school up: terms, studios, classes and their first instructors; and what is refused on the way.

use diesel::prelude::*;
use tympan::store::people::persons::Right;
use tympan::store::schema::*;

use crate::on_both;
use crate::stories::{but, refuses, rows};
use crate::studio::world::*;
use crate::studio::{Engine, Studio};

const TERM: &[(&str, &str)] = &[
    ("name", "Spring 2027"),
    ("starts", "2027-01-20"),
    ("ends", "2027-05-14"),
    ("zone", "America/New_York"),
];

on_both! {
    fn a_keeper_makes_a_term_a_studio_and_a_class_with_somebody_new(studio) {
        let keeper = studio.signed_in(KEEPER);
        assert!(keeper.get("/school").read().contains("Plate lithography A"));
        assert_eq!(keeper.post("/school/terms", TERM).location(), "/school?done=done-term-added");
        let room = [("name", "Upper studio"), ("room_address", "Annex 3"), ("eyewash", "by the door"), ("emergency_numbers", "911")];
        assert_eq!(keeper.post("/school/studios", &room).location(), "/school?done=done-studio-added");
        let term: String = term::table.filter(term::name.eq("Spring 2027")).select(term::id)
            .first(&mut studio.connection()).unwrap();
        let room: String = tympan::store::schema::studio::table.filter(tympan::store::schema::studio::name.eq("Upper studio"))
            .select(tympan::store::schema::studio::id).first(&mut studio.connection()).unwrap();
        let class = [
            ("term", term.as_str()), ("studio", &room), ("code", "LIT-C"), ("title", "Plate lithography C"),
            ("given_name", "Ilse"), ("family_name", "Baran"), ("email", "ilse@college.example"),
        ];
        let made = keeper.post("/school/classes", &class);
        assert_eq!(made.status, 303, "{}", made.read());
        let page = keeper.get(made.location());
        assert!(page.read().contains("Ilse Baran"), "{}", page.read());
        assert!(page.read().contains("The class is made"), "{}", page.read());
        assert_eq!(rows(studio, "letter WHERE kind = 'invitation'"), 1, "the newcomer is invited");
        assert_eq!(rows(studio, "journal_head"), 4, "the new class has a journal");
        assert!(keeper.get("/school").read().contains("Ilse Baran"));
        // The same instructor for a second class: now she stands in the list.
        let list = keeper.get("/school/classes").text();
        let (_, rest) = list.split_once("Ilse Baran, ilse@college.example").map(|(before, after)| (after, before)).unwrap();
        let id = rest.rsplit("value=\"").next().unwrap().split('"').next().unwrap();
        let second = keeper.post("/school/classes", &[
            ("term", term.as_str()), ("studio", &room), ("code", "LIT-D"), ("title", "Stone"), ("instructor", id),
        ]);
        assert_eq!(second.status, 303, "{}", second.read());
        let findings = tympan::store::journal::check(&mut studio.connection()).unwrap();
        assert_eq!(findings, [], "the journal's chain holds");
    }

    fn a_term_that_cannot_be_is_refused_at_its_field(studio) {
        let keeper = studio.signed_in(KEEPER);
        let long = "x".repeat(81);
        refuses(&keeper, "/school/terms", "classes-term", TERM, &[
            ("name", "", "This is missing"),
            ("name", long.as_str(), "at most 80 fit"),
            ("name", "a\u{7}b", "control characters"),
            ("name", "Autumn 2026", "of this name already"),
            ("starts", "2027-13-01", "is no day"),
            ("ends", "2027-01-19", "does not come after"),
            ("ends", "2029-01-19", "at most 400"),
            ("zone", "Mars/Olympus", "is no time zone"),
            ("zone", "america/new_york", "is no time zone"),
        ]);
        let late = keeper.post("/school/terms", &but(TERM, "starts", "2027-05-14"));
        assert_eq!(late.status, 422, "a term of no day");
        assert!(late.has("classes-term-ends-complaint"), "{}", late.read());
        let page = keeper.post("/school/terms", &but(TERM, "zone", "Mars/Olympus"));
        assert!(page.has("value=\"Spring 2027\"") && page.has("value=\"2027-01-20\""), "what was typed is kept");
        assert_eq!(rows(studio, "term"), 1, "nothing was stored");
    }

    fn a_class_that_cannot_be_is_refused_at_its_field(studio) {
        let keeper = studio.signed_in(KEEPER);
        let world = &studio.world;
        let (term, room, teacher) = (world.term.to_string(), world.studio.to_string(), world.instructor.to_string());
        let nobody = "11111111-1111-7111-8111-111111111111";
        let class: Vec<(&str, &str)> = vec![
            ("term", &term), ("studio", &room), ("code", "LIT-C"), ("title", "Stone"), ("instructor", &teacher),
        ];
        let student = world.student.to_string();
        refuses(&keeper, "/school/classes", "classes-new", &class, &[
            ("term", "", "This is missing"),
            ("term", "x", "not one of the choices"),
            ("term", nobody, "not there any more"),
            ("studio", nobody, "not there any more"),
            ("code", "LIT-A", "has this code"),
            ("title", "", "This is missing"),
            ("instructor", nobody, "not there any more"),
            ("instructor", "", "Nobody is named"),
        ]);
        let mut both = class.clone();
        both.push(("email", "new@college.example"));
        assert!(keeper.post("/school/classes", &both).read().contains("Leave one of the two empty"));
        let mut newcomer = but(&class, "instructor", "");
        newcomer.extend([("given_name", "Sam"), ("family_name", "Okafor"), ("email", STUDENT)]);
        let page = keeper.post("/school/classes", &newcomer);
        assert_eq!(page.status, 422);
        assert!(page.read().contains("is here already"), "{}", page.read());
        assert!(page.has(&format!("value=\"{student}\"")), "whoever has the e-mail now stands in the list");
        assert!(keeper.post("/school/classes", &but(&newcomer, "email", "no mail")).read().contains("no e-mail address"));
        assert!(keeper.post("/school/classes", &but(&newcomer, "family_name", "")).has("classes-new-family_name-complaint"));
        assert_eq!(rows(studio, "class"), 2);
        assert_eq!(rows(studio, "person"), 8, "nobody came in with a refused class");
    }

    fn the_same_form_twice_is_one_class_and_a_stale_save_shows_what_stands(studio) {
        let keeper = studio.signed_in(KEEPER);
        let once = "0123456789abcdef0123456789abcdef";
        let first = keeper.post_once("/school/terms", TERM, once);
        assert_eq!(keeper.post_once("/school/terms", TERM, once).location(), first.location());
        assert_eq!(rows(studio, "term"), 2);
        let path = format!("/school/terms/{}", studio.world.term);
        let mine = [("name", "Autumn term"), ("starts", "2026-08-31"), ("ends", "2026-12-18"), ("zone", "America/New_York"), ("version", "1")];
        let theirs = [("name", "Fall 2026"), ("starts", "2026-08-31"), ("ends", "2026-12-18"), ("zone", "America/New_York"), ("version", "1")];
        assert_eq!(keeper.post(&path, &theirs).status, 303);
        let stale = keeper.post(&path, &mine);
        assert_eq!(stale.status, 422);
        assert!(stale.read().contains("Somebody else saved this"), "{}", stale.read());
        assert!(stale.read().contains("Now stands here: “Fall 2026”"), "{}", stale.read());
        assert!(stale.has("value=\"Autumn term\"") && stale.has("name=\"version\" value=\"2\""), "{}", stale.text());
        assert!(!stale.has("classes-term-zone-complaint"), "a field that is the same is not marked");
        assert_eq!(keeper.post(&path, &but(&mine, "version", "2")).status, 303);
    }

    fn an_instructor_is_added_after_the_password(studio) {
        let keeper = studio.signed_in(KEEPER);
        let path = format!("/school/classes/{}/instructors", studio.world.class);
        let stranger = studio.world.stranger.to_string();
        let student = studio.world.student.to_string();
        refuses(&keeper, &path, "classes-instructor", &[("instructor", &stranger)], &[
            ("instructor", &student, "is a student of the class"),
            ("instructor", &studio.world.instructor.to_string(), "teaches the class already"),
        ]);
        assert_eq!(keeper.post(&path, &[("instructor", &stranger)]).status, 303);
        assert_eq!(studio.signed_in(STRANGER).get(&format!("{}/settings", studio.class_path())).status, 200);
        studio.later_ms(11 * 60_000);
        assert_eq!(keeper.get(&path).location(), format!("/account/confirm?next={path}"));
        assert_eq!(keeper.post(&path, &[("instructor", &stranger)]).status, 401);
    }

    fn what_the_school_says_of_a_class_changes(studio) {
        let keeper = studio.signed_in(KEEPER);
        let path = format!("/school/classes/{}", studio.world.class);
        let room = studio.world.studio.to_string();
        let mine = [("code", "LIT-K"), ("title", "Plates"), ("studio", room.as_str()), ("version", "1")];
        refuses(&keeper, &path, "classes-kept", &mine, &[
            ("code", "LIT-A", "has this code"),
            ("title", "", "This is missing"),
            ("studio", "11111111-1111-7111-8111-111111111111", "not there any more"),
        ]);
        assert_eq!(keeper.post(&path, &mine).status, 303);
        assert!(keeper.get("/school").read().contains("LIT-K"));
        assert_eq!(keeper.post(&path, &mine).status, 422, "saved meanwhile");
        assert_eq!(keeper.get("/school/classes/11111111-1111-7111-8111-111111111111").status, 404);
    }
}

#[test]
fn an_empty_school_says_what_to_do_first() {
    let studio = Studio::open_empty(Engine::Sqlite);
    let email = "ada@college.example";
    {
        let person = tympan::store::people::persons::NewPerson {
            given_name: "Ada".into(),
            family_name: "Roth".into(),
            email: Some(email.into()),
            student_number: None,
        };
        let hash = password_hash();
        let db = studio.house.db.clone();
        let now = studio.now();
        tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(async move {
            db.write(tympan::store::Scope::School, None, now, move |tx| {
                let id = tx.found_school("Alder Hill", "ext. 4100", &person, false)?;
                tx.set_right(id, Right::Keeper, true)?;
                tx.set_password(id, hash, None)
            })
            .await
            .unwrap();
        });
    }
    let keeper = studio.signed_in(email);
    let first = |said: &str, path: &str| {
        let page = keeper.get("/school");
        assert!(
            page.read().contains(said) && page.has(&format!("act-full\" href=\"{path}\"")),
            "{}",
            page.read()
        );
    };
    first("A class works in a studio", "/school/studios");
    assert!(keeper.get("/school/classes").read().contains("needs a term and a studio"));
    let room = [("name", "Studio"), ("room_address", "1"), ("eyewash", "sink"), ("emergency_numbers", "911")];
    assert_eq!(keeper.post("/school/studios", &room).status, 303);
    first("A class belongs to a term", "/school/terms");
    assert_eq!(keeper.post("/school/terms", TERM).status, 303);
    first("Now make a class", "/school/classes");
}
