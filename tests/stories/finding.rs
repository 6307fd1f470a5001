//! Finding something by a few letters: for each seat what it may see and nothing else, alike on both databases.

use diesel::prelude::*;
use tympan::clock::Instant;
use tympan::ids::{Id, PersonId, PlateId, PrintId};
use tympan::store::schema::*;

use crate::on_both;
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Page, Studio, Visitor};

fn search(studio: &Studio, visitor: &Visitor, typed: &str) -> Page {
    let coded: String = typed.bytes().map(|byte| format!("%{byte:02X}")).collect();
    visitor.get(&format!("{}/search?q={coded}", studio.class_path()))
}

/// A print of somebody with one plate.
pub fn print_of(studio: &Studio, things: &Things, person: PersonId, title: &str, number: i32) -> PlateId {
    let (db, world) = (&mut studio.connection(), &studio.world);
    let (print_id, plate_id): (PrintId, PlateId) = (Id::new(NOW), Id::new(NOW));
    diesel::insert_into(print::table)
        .values((
            (print::id.eq(print_id), print::class_id.eq(world.class), print::project_id.eq(things.project)),
            (print::person_id.eq(person), print::title.eq(title), print::created_at.eq(NOW)),
            print::version.eq(1),
        ))
        .execute(db)
        .unwrap();
    diesel::insert_into(plate::table)
        .values((
            (plate::id.eq(plate_id), plate::class_id.eq(world.class), plate::print_id.eq(print_id)),
            (plate::person_id.eq(person), plate::procedure_version_id.eq(things.procedure_version)),
            (plate::number.eq(number), plate::position.eq(1), plate::surface.eq("plate")),
            (plate::width_hundredths.eq(2000), plate::height_hundredths.eq(3000), plate::size_unit.eq("cm")),
            (plate::materials.eq("tusche"), plate::weight.eq("medium"), plate::standing.eq("bare")),
            (plate::standing_since.eq(NOW), plate::rack_place.eq(""), plate::note.eq("")),
            (plate::created_at.eq(NOW), plate::version.eq(1)),
        ))
        .execute(db)
        .unwrap();
    plate_id
}

fn renamed(studio: &Studio, person: PersonId, given: &str, family: &str) {
    diesel::update(person::table.find(person))
        .set((person::given_name.eq(given), person::family_name.eq(family)))
        .execute(&mut studio.connection())
        .unwrap();
}

fn labelled(studio: &Studio, things: &Things, label: &str) {
    diesel::update(container::table.find(things.gum))
        .set((container::label.eq(label), container::finished_at.eq(None::<Instant>)))
        .execute(&mut studio.connection())
        .unwrap();
}

on_both! {
    fn staff_find_everything_of_the_class_whatever_its_accents(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        renamed(studio, studio.world.other_student, "Zoë", "Sørby");
        let theirs = print_of(studio, &things, studio.world.other_student, "Évasion d’été", 41);
        labelled(studio, &things, "Gomme à l’eau");
        for email in [INSTRUCTOR, ASSISTANT] {
            let visitor = studio.signed_in(email);
            for typed in ["sorby", "SØRBY", "zoe s", "Sørby Zoë"] {
                let page = search(studio, &visitor, typed);
                assert_eq!(page.status, 200, "{email} {typed}");
                assert!(page.has(&format!("/people/{}", studio.world.other_student)), "{email} {typed}: {}", page.read());
                assert!(page.read().contains("Évasion d’été"), "{email} {typed}: also by who makes it");
                assert!(!page.has(&format!("/people/{}\"", studio.world.student)), "{email} {typed}");
            }
            for typed in ["evasion", "ÉVASION", "ete", "vas"] {
                let page = search(studio, &visitor, typed);
                assert!(page.has(&format!("/plates/{theirs}")), "{email} {typed}: {}", page.read());
            }
            for typed in ["gomme", "EAU", "G", "g1", "gum arabic"] {
                let page = search(studio, &visitor, typed);
                assert!(page.has(&format!("/containers/{}\"", things.gum)), "{email} {typed}: {}", page.read());
            }
            diesel::update(container::table.find(things.acid))
                .set(container::do_not_use.eq(Some("the cap leaks")))
                .execute(&mut studio.connection())
                .unwrap();
            let leaking = search(studio, &visitor, "A1");
            assert!(leaking.read().contains("A1 phosphoric acid") && leaking.read().contains("do not use"), "{}", leaking.read());
            for typed in ["41", "#41", " plate 41 "] {
                let page = search(studio, &visitor, typed);
                let goes = format!("{}/plates/{theirs}", studio.class_path());
                assert_eq!((page.status, page.location()), (303, goes.as_str()), "{email} {typed}");
            }
            let begins = search(studio, &visitor, "4");
            assert!(begins.status == 200 && begins.has(&format!("/plates/{theirs}")), "{}", begins.read());
        }
    }

    fn a_student_finds_what_is_their_own_and_the_shelf(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        renamed(studio, studio.world.student, "José", "Vale");
        labelled(studio, &things, "Gomme à l’eau");
        let own = print_of(studio, &things, studio.world.student, "Marée", 41);
        let theirs = print_of(studio, &things, studio.world.other_student, "Marée basse", 42);
        let student = studio.signed_in(STUDENT);
        let page = search(studio, &student, "maree");
        assert!(page.has(&format!("/plates/{own}")) && !page.has(&theirs.to_string()), "{}", page.read());
        assert!(!page.read().contains("Marée basse"), "{}", page.read());
        assert_eq!(search(studio, &student, "41").status, 303);
        for typed in ["42", "basse", "Wren", "Otis", "Ravel", "jose"] {
            let page = search(studio, &student, typed);
            assert_eq!(page.status, 200, "{typed}");
            let text = page.read();
            assert!(text.contains("Nothing fits") && text.contains("your own plates by number"), "{typed}: {text}");
            assert!(!page.has("/people/") && !page.has(&theirs.to_string()), "{typed}: {text}");
        }
        let shelf = search(studio, &student, "gomme");
        assert!(shelf.has(&format!("/containers#container-{}", things.gum)), "{}", shelf.read());
        assert!(student.get(&format!("{}/containers", studio.class_path())).has(&format!("id=\"container-{}\"", things.gum)));
    }

    fn records_staff_find_people_and_a_safety_officer_the_shelf(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        labelled(studio, &things, "Wren gum");
        let theirs = print_of(studio, &things, studio.world.other_student, "Wren", 42);
        let records = search(studio, &studio.signed_in(RECORDS), "wren");
        assert!(records.has(&format!("/people/{}", studio.world.other_student)), "{}", records.read());
        assert!(!records.has("/containers") && !records.has(&theirs.to_string()), "{}", records.read());
        let safety = search(studio, &studio.signed_in(SAFETY_OFFICER), "wren");
        assert!(safety.has(&format!("#container-{}", things.gum)), "{}", safety.read());
        assert!(!safety.has("/people/") && !safety.has(&theirs.to_string()), "{}", safety.read());
        for (email, says) in [(RECORDS, "people of the class by name"), (SAFETY_OFFICER, "containers on the shelf")] {
            let page = search(studio, &studio.signed_in(email), "42");
            assert!(page.status == 200 && page.read().contains(says), "{email}: {}", page.read());
        }
        assert_eq!(search(studio, &studio.signed_in(STRANGER), "wren").status, 404);
    }

    fn what_cannot_be_looked_for_is_said_at_the_field(studio) {
        let student = studio.signed_in(STUDENT);
        let path = format!("{}/search", studio.class_path());
        let blank = student.get(&path);
        assert_eq!(blank.status, 200);
        assert!(blank.read().contains("your own prints by title") && !blank.has("-complaint"), "{}", blank.read());
        let long = "é".repeat(81);
        for (typed, says) in [("", "This is missing"), ("   ", "This is missing"), (long.as_str(), "at most 80"), ("a\u{1}b", "control characters")] {
            let page = search(studio, &student, typed);
            assert_eq!(page.status, 422, "{typed:?}");
            assert!(page.has("id=\"search-q-complaint\"") && page.read().contains(says), "{typed:?}: {}", page.read());
            assert!(typed.trim().is_empty() || page.has(&format!("value=\"{typed}\"")), "kept as typed: {typed:?}");
        }
        for typed in ["?!", "%", "_", "'; DROP TABLE plate; --", "<zq>", "99999999999999999999", "\u{301}"] {
            let page = search(studio, &student, typed);
            assert!(page.status == 200 && page.read().contains("Nothing fits"), "{typed}: {} {}", page.status, page.read());
        }
        assert_eq!(student.get(&format!("{path}?q=%FF%FE")).status, 200, "bytes that are no text find nothing");
    }

    fn every_page_of_a_class_has_the_field_and_others_have_none(studio) {
        Things::set(&mut studio.connection(), &studio.world);
        let field = format!("action=\"{}/search\"", studio.class_path());
        for (email, page) in [(STUDENT, ""), (STUDENT, "/plates"), (INSTRUCTOR, "/all"), (ASSISTANT, "/people"), (SAFETY_OFFICER, "/studio"), (RECORDS, "/people")] {
            let page = studio.signed_in(email).get(&format!("{}{page}", studio.class_path()));
            assert!(page.status == 200 && page.has(&field), "{email}: {}", page.status);
        }
        let account = studio.signed_in(STUDENT).get("/account");
        assert!(account.status == 200 && !account.has("/search\""), "{}", account.read());
        let found = search(studio, &studio.signed_in(STUDENT), "x");
        assert_eq!(found.text().matches("/search\"").count(), 1, "one field is enough");
    }
}
