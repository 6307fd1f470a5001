//! The census of doors: every route is tried as nobody, from each seat, from another class, as keeper, and on another
//! student's things. What must happen follows from the door's own `who`; a path part this test does not know fails it.

use actix_web::http::Method;
use diesel::prelude::*;
use tympan::pages::doors::{Door, doors};
use tympan::pages::entry::{Seat, Who};
use tympan::store::schema::enrolment;

use crate::on_both;
use crate::studio::browserlike::plain;
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Page, Studio, Visitor};

/// What stands for a part of a path, and whether it belongs to the first student alone.
fn part(name: &str, studio: &Studio, things: &Things) -> (String, bool) {
    let world = &studio.world;
    match name {
        "class" => (world.class.to_string(), false),
        "term" => (world.term.to_string(), false),
        "studio" => (world.studio.to_string(), false),
        "listing" => (world.listing.to_string(), false),
        "person" => (world.student.to_string(), true),
        "project" => (things.project.to_string(), false),
        "picture" => ("00000000-0000-0000-0000-000000000000".to_owned(), false),
        "procedure" => (things.procedure.to_string(), false),
        "print" => (things.print.to_string(), true),
        "plate" => (things.plate.to_string(), true),
        "run" => (things.step_run.to_string(), true),
        "step" => ("first-etch".to_owned(), false),
        "container" => (things.gum.to_string(), false),
        "etch" => (things.etch.to_string(), true),
        "photo" => (things.photo.to_string(), true),
        "proof" => (things.proof.to_string(), true),
        "comment" => (things.comment.to_string(), true),
        "topic" => (things.topic.to_string(), false),
        "sign_off" => (things.sign_off.to_string(), true),
        "category" => (things.category.to_string(), false),
        "assessment" => (things.assessment.to_string(), false),
        "score" => (things.score.to_string(), true),
        "asking" => (things.asking.to_string(), true),
        "letter" => (things.letter.to_string(), false),
        "size" => ("1600".to_owned(), false),
        "what" => ("roster".to_owned(), false),
        "name" => ("tympan.css".to_owned(), false),
        "held" => ("2026-10-20T0900".to_owned(), false),
        "accommodation" | "criterion" | "critique" | "duty" | "goal" | "second_look" => {
            ("00000000-0000-0000-0000-000000000000".to_owned(), false)
        }
        "hold" | "opening" | "closure" | "extra" | "station" | "down" | "meeting" => {
            ("00000000-0000-0000-0000-000000000000".to_owned(), false)
        }
        "tablet" => ("00000000-0000-0000-0000-000000000000".to_owned(), false),
        "session" => ("00000000-0000-0000-0000-000000000000".to_owned(), false),
        "language" => ("en".to_owned(), false),
        "secret" => ("no-such-secret".to_owned(), false),
        other => panic!("the census of doors does not know the path part {{{other}}}: add it to `part`"),
    }
}

/// One of each thing, and the photo's files where the shelf has them.
pub(super) fn things(studio: &Studio) -> Things {
    let things = Things::set(&mut studio.connection(), &studio.world);
    let folder = studio.house.settings.photos.join(things.photo.to_string());
    std::fs::create_dir_all(&folder).unwrap();
    for name in ["full.jpg", "1600.jpg", "320.jpg"] {
        std::fs::write(folder.join(name), b"a picture").unwrap();
    }
    things
}

/// The door's path with everything filled in, and whether it names something of the first student's.
pub(super) fn path(door: &Door, studio: &Studio, things: &Things) -> (String, bool) {
    let mut owned = false;
    let path = door
        .path
        .split('/')
        .map(|piece| match piece.strip_prefix('{').and_then(|rest| rest.rsplit_once('}')) {
            Some((name, ending)) => {
                let name = name.split(':').next().unwrap();
                let (text, own) = part(name, studio, things);
                owned |= own;
                format!("{text}{ending}")
            }
            None => piece.to_owned(),
        })
        .collect::<Vec<_>>()
        .join("/");
    (path, owned)
}

fn knock(visitor: &Visitor, door: &Door, path: &str) -> Page {
    if door.method == Method::GET { visitor.get(path) } else { visitor.post(path, &[]) }
}

/// Sentences of the English catalogue that are said otherwise in Spanish, as they are read: of three words and more,
/// without anything to put in.
fn english_sentences() -> Vec<String> {
    let catalogue = |language: &str| {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/words");
        std::fs::read_to_string(folder.join(language)).unwrap()
    };
    let (english, spanish) = (catalogue("en.ftl"), catalogue("es.ftl"));
    let kept: Vec<&str> = spanish.lines().collect();
    let lines = english.lines().filter(|line| !line.contains(['{', '}', '[']) && !kept.contains(line));
    let sentences = lines.filter_map(|line| line.split_once(" = ").map(|(_, sentence)| plain(sentence)));
    sentences.filter(|sentence| sentence.split(' ').count() >= 3).collect()
}

fn refused_at_the_gate(page: &Page) -> bool {
    matches!(page.status, 401 | 403 | 404) || page.location().starts_with("/sign-in")
}

on_both! {
    fn every_door_lets_in_whom_it_names_and_nobody_else(studio) {
        let things = things(studio);
        let nobody = studio.visitor();
        let keeper = studio.signed_in(KEEPER);
        let stranger = studio.signed_in(STRANGER);
        let seats = [
            (Seat::Student, studio.signed_in(STUDENT)),
            (Seat::Assistant, studio.signed_in(ASSISTANT)),
            (Seat::Instructor, studio.signed_in(INSTRUCTOR)),
            (Seat::SafetyOfficer, studio.signed_in(SAFETY_OFFICER)),
            (Seat::Records, studio.signed_in(RECORDS)),
        ];
        for door in doors() {
            let (path, _) = path(door, studio, &things);
            let at = format!("{} {}", door.method, door.path);
            let page = knock(&nobody, door, &path);
            if door.who != Who::Anyone {
                assert!(refused_at_the_gate(&page), "{at}: nobody got {}", page.status);
            }
            assert_ne!(page.status, 500, "{at}: nobody");
            match door.who {
                Who::Anyone | Who::SignedIn => {}
                Who::Tablet => {
                    let people = seats.iter().map(|(_, visitor)| visitor).chain([&keeper, &stranger]);
                    for visitor in people {
                        assert_eq!(knock(visitor, door, &path).status, 404, "{at}: without the tablet");
                    }
                }
                Who::Keeper => {
                    for (seat, visitor) in &seats {
                        let page = knock(visitor, door, &path);
                        assert_eq!(page.status, 403, "{at}: {seat:?}");
                    }
                }
                Who::Records => {
                    assert_eq!(knock(&keeper, door, &path).status, 403, "{at}: keeper");
                    for (seat, visitor) in seats.iter().filter(|(seat, _)| *seat != Seat::Records) {
                        let page = knock(visitor, door, &path);
                        assert_eq!(page.status, 403, "{at}: {seat:?}");
                    }
                }
                Who::InClass(named) | Who::OwnPlate(named) => {
                    assert_eq!(knock(&stranger, door, &path).status, 404, "{at}: of another class");
                    assert_eq!(knock(&keeper, door, &path).status, 404, "{at}: keeper");
                    for (seat, visitor) in seats.iter().filter(|(seat, _)| !named.contains(seat)) {
                        let page = knock(visitor, door, &path);
                        assert_eq!(page.status, 403, "{at}: {seat:?}");
                    }
                }
            }
        }
    }

    fn another_students_things_are_not_there(studio) {
        let things = things(studio);
        let other = studio.signed_in(OTHER_STUDENT);
        let owner = studio.signed_in(STUDENT);
        for door in doors() {
            let Some(named) = door.who.seats() else { continue };
            let (path, owned) = path(door, studio, &things);
            if !owned || !named.contains(&Seat::Student) {
                continue;
            }
            let at = format!("{} {}", door.method, door.path);
            let page = knock(&other, door, &path);
            assert_eq!(page.status, 404, "{at}: another student got {}", page.status);
            let page = knock(&owner, door, &path);
            assert!(
                !matches!(page.status, 401 | 403 | 404 | 500),
                "{at}: the owner got {}: {}", page.status, page.read()
            );
        }
    }

    /// Whoever has dropped is no longer there, but for one door: what happened on a plate of their own is still taken in.
    fn after_dropping_one_door_is_left_for_ones_own_plate(studio) {
        let things = things(studio);
        let (owner, other) = (studio.signed_in(STUDENT), studio.signed_in(OTHER_STUDENT));
        for state in ["dropped", "withdrawn"] {
            diesel::update(enrolment::table.filter(enrolment::role.eq("student")))
                .set(enrolment::state.eq(state))
                .execute(&mut studio.connection())
                .unwrap();
            for door in doors() {
                if door.who.seats().is_none() {
                    continue;
                }
                let (path, _) = path(door, studio, &things);
                let at = format!("{} {} of somebody who has {state}", door.method, door.path);
                assert_eq!(knock(&other, door, &path).status, 404, "{at}: another's plate");
                let page = knock(&owner, door, &path);
                match door.who {
                    Who::OwnPlate(_) => assert_eq!(page.status, 422, "{at}: {}", page.read()),
                    _ => assert_eq!(page.status, 404, "{at}"),
                }
            }
        }
        // An instructor or assistant who is no longer there has nothing to tell.
        diesel::update(enrolment::table.filter(enrolment::role.ne("student")))
            .set(enrolment::state.eq("withdrawn"))
            .execute(&mut studio.connection())
            .unwrap();
        for email in [INSTRUCTOR, ASSISTANT] {
            let visitor = studio.signed_in(email);
            for door in doors().filter(|door| door.who.seats().is_some()) {
                let (path, _) = path(door, studio, &things);
                assert_eq!(knock(&visitor, door, &path).status, 404, "{} {}: {email}", door.method, door.path);
            }
        }
    }

    fn the_seats_a_door_names_get_in(studio) {
        let things = things(studio);
        for (seat, email) in [
            (Seat::Student, STUDENT),
            (Seat::Assistant, ASSISTANT),
            (Seat::Instructor, INSTRUCTOR),
            (Seat::SafetyOfficer, SAFETY_OFFICER),
            (Seat::Records, RECORDS),
        ] {
            let visitor = studio.signed_in(email);
            for door in doors().filter(|door| door.method == Method::GET) {
                let Some(named) = door.who.seats() else { continue };
                if !named.contains(&seat) {
                    continue;
                }
                let (path, _) = path(door, studio, &things);
                let page = knock(&visitor, door, &path);
                assert!(
                    !matches!(page.status, 401 | 403 | 500),
                    "{} {}: {seat:?} got {}: {}", door.method, door.path, page.status, page.read()
                );
            }
        }
    }

    /// Every page that somebody can open, in Spanish: none is broken, and no sentence of ours is left in English.
    fn every_page_is_spoken_in_spanish(studio) {
        let things = things(studio);
        let english = english_sentences();
        assert!(english.len() > 500, "{}", english.len());
        let shipped = include_str!("../../seed/procedures/aluminium-plate.json");
        let mut read = 0;
        for email in [KEEPER, STUDENT, ASSISTANT, INSTRUCTOR, SAFETY_OFFICER, RECORDS] {
            let visitor = studio.signed_in(email);
            for door in doors().filter(|door| door.method == Method::GET) {
                let (path, _) = path(door, studio, &things);
                visitor.set_cookie("language", "es");
                let page = visitor.get(&path);
                let of_text = page.headers.get("content-type").is_some_and(|kind| kind.starts_with("text/html"));
                if !of_text || door.path.starts_with("/language/") {
                    continue;
                }
                let at = format!("{} as {email}", door.path);
                assert!(page.status < 500 && page.has("<html lang=\"es\">"), "{at}: {} {}", page.status, page.read());
                let text = page.read();
                // What a shipped procedure says is the school's own data, in English.
                let ours = |sentence: &&String| text.contains(*sentence) && !shipped.contains(*sentence);
                let left: Vec<&String> = english.iter().filter(ours).collect();
                assert!(left.is_empty(), "{at} says in English: {left:?}");
                read += 1;
            }
        }
        assert!(read > 150, "{read} pages");
    }

    fn no_form_is_taken_without_its_seal(studio) {
        let things = things(studio);
        for email in [STUDENT, INSTRUCTOR, KEEPER] {
            let visitor = studio.signed_in(email);
            for door in doors().filter(|door| door.method != Method::GET && !door.unsealed) {
                let (path, _) = path(door, studio, &things);
                let page = visitor.post_bare(&path, &[]);
                assert!(
                    matches!(page.status, 403 | 404),
                    "{} {}: {} without a seal", door.method, door.path, page.status
                );
            }
        }
    }
}
