//! A class on its first day: every list that has nothing yet says what comes first, and to whom it says so can do it.

use crate::on_both;
use crate::stories::finding::print_of;
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Studio, Visitor};

/// Each page says this, whatever else is on it.
fn says(studio: &Studio, visitor: &Visitor, class: &str, pages: &[(&str, &str)]) {
    for (page, sentence) in pages {
        let path = format!("{class}{page}");
        let found = visitor.get(&path);
        assert_eq!(found.status, 200, "{path}: {}", found.read());
        assert!(found.read().contains(sentence), "{path} says “{sentence}”: {}", found.read());
    }
    assert!(!pages.is_empty() && class.starts_with(&studio.class_path()[..9]));
}

on_both! {
    fn an_instructor_reads_what_comes_first(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        says(studio, &instructor, &studio.class_path(), &[
            ("", "What is needed first: Put safety checklists in use Bring the class list Set a project"),
            ("/all", "What is needed first:"),
            ("/plates", "What is needed first:"),
            ("/settings", "There is no project yet. Add the first, or bring in an earlier class."),
            ("/settings/meetings", "Say when the class meets"),
            ("/projects", "The instructor writes the first one, in the class settings"),
            ("/sign-offs", "The instructor chooses them under Checklists"),
            ("/containers", "Add the first container"),
            ("/studio", "The instructor sets it in the class settings"),
            ("/etches", "A log is written from the page of a plate"),
            ("/plan", "Begin with a project and the class list"),
            ("/criteria", "Begin with the usual ones, or write the first"),
            ("/goals", "Write what a student can do"),
            ("/critiques", "Add the first in the class settings"),
            ("/duties", "Set the first below"),
            ("/rolls", "is set in the class settings"),
            ("/second-looks", "A student asks from the page of a mark"),
            ("/letters", "They write themselves"),
            ("/grades", "Set them up under “Categories and rules”"),
        ]);
        // What is said first is one tap away.
        let today = instructor.get(&studio.class_path());
        for page in ["/topics", "/people/list", "/settings/projects"] {
            let path = format!("{}{page}", studio.class_path());
            assert!(today.has(&format!("href=\"{path}\"")), "{path}");
            assert_eq!(instructor.get(&path).status, 200, "{path}");
        }
    }

    fn a_class_without_students_says_how_they_come(studio) {
        let other = format!("/classes/{}", studio.world.other_class);
        let stranger = studio.signed_in(STRANGER);
        says(studio, &stranger, &other, &[
            ("/people", "No student is in the class yet. Bring the class list, or add people one by one below."),
            ("/grades/submitted", "First comes the class list, under People"),
            ("/duties", "There is no student in the class yet."),
        ]);
        assert!(stranger.get(&format!("{other}/people")).has(&format!("href=\"{other}/people/list\"")));
        assert!(!studio.signed_in(INSTRUCTOR).get(&format!("{}/people", studio.class_path())).read().contains("No student is in"));
    }

    fn a_student_and_an_assistant_read_what_they_can_do(studio) {
        let student = studio.signed_in(STUDENT);
        says(studio, &student, &studio.class_path(), &[
            ("", "Begin a print; its first plate begins with it."),
            ("/plates", "Begin a print; its first plate begins with it."),
            ("/projects", "There is no project yet."),
            ("/prints/new", "There is no project yet."),
            ("/containers", "Whoever runs the studio adds the containers"),
            ("/grades", "Nothing was handed back to you yet"),
            ("/sign-offs", "No checklist is in use here"),
        ]);
        says(studio, &studio.signed_in(ASSISTANT), &studio.class_path(), &[
            ("", "A student begins one with a print"),
            ("/plates", "A student begins one with a print"),
            ("/all", "A student begins one with a print"),
            ("/containers", "Add the first container"),
        ]);
    }

    fn a_plate_without_photos_says_which_may_be_the_first(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        let plate = print_of(studio, &things, studio.world.student, "Undertow", 7);
        let page = format!("/plates/{plate}");
        let proofs = format!("{page}/proofs");
        says(studio, &studio.signed_in(STUDENT), &studio.class_path(), &[
            (page.as_str(), "Add the first photo"),
            (proofs.as_str(), "Add the first photo"),
        ]);
        let assistant = studio.signed_in(ASSISTANT).get(&format!("{}{page}", studio.class_path()));
        assert!(!assistant.read().contains("Add the first photo"), "an assistant adds none: {}", assistant.read());
        assert!(assistant.read().contains("No proof has been added yet"));
        assert!(!assistant.has("course-head"), "nothing happened yet, so there is no time line");
    }
}
