//! `tympan export`: the bytes of the page, into a file that is whole or not there; and what it says to a wrong name.

use std::path::PathBuf;

use tympan::commands::export::{Fault, Order, deliver, take};
use tympan::exchange::spool::Spooled;
use tympan::exchange::tables::Table;
use tympan::trade::spelled::Spelled;

use super::scene::{Scene, sent};
use crate::on_both;
use crate::studio::Studio;
use crate::studio::world::INSTRUCTOR;

fn order(what: &str, class: &str, term: &str) -> Order {
    Order {
        what: what.to_owned(),
        class: class.to_owned(),
        term: term.to_owned(),
        out: PathBuf::from("-"),
        purpose: "Audit of the state".to_owned(),
    }
}

fn run(studio: &Studio, order: &Order) -> Result<Spooled, Fault> {
    actix_web::rt::System::new().block_on(take(&studio.house, order))
}

on_both! {
    fn page_and_command_give_the_same_bytes(studio) {
        Scene::set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let folder = tempfile::tempdir().unwrap();
        for table in Table::ALL {
            let file = folder.path().join(format!("{}.csv", table.word()));
            std::fs::write(&file, "of yesterday").unwrap();
            deliver(run(studio, &order(table.word(), "LIT-B", "Autumn 2026")).unwrap(), &file).unwrap();
            assert_eq!(std::fs::read(&file).unwrap(), sent(&instructor, studio, table.word()).body, "{table:?}");
        }
        let left = std::fs::read_dir(folder.path()).unwrap().count();
        assert_eq!(left, Table::ALL.len(), "nothing is left beside the files");
        let page = instructor.get(&format!("{}/records", studio.class_path())).read();
        assert!(page.contains("Audit of the state command line"), "{page}");
    }

    fn a_wrong_name_is_answered_with_what_there_is(studio) {
        for (asked, said) in [
            (
                order("people", "LIT-B", "Autumn 2026"),
                "There is no table “people”. There are: roster, prints, plates, etches, signoffs, grades, scores, \
                 attendance, goals, journal, columns, oneroster.",
            ),
            (order("roster", "LIT-C", "Autumn 2026"), "There is no class “LIT-C” in “Autumn 2026”. There are: LIT-A, LIT-B."),
            (order("roster", "LIT-B", "Spring"), "No class is in a term “Spring”. Terms with classes: Autumn 2026."),
        ] {
            assert_eq!(run(studio, &asked).unwrap_err(), Fault::Asked(said.to_owned()));
        }
        assert_eq!(crate::stories::rows(studio, "disclosure"), 0);
    }

    fn a_file_that_cannot_be_written_is_said(studio) {
        let spooled = run(studio, &order("roster", "LIT-B", "Autumn 2026")).unwrap();
        let said = deliver(spooled, std::path::Path::new("/nowhere/roster.csv")).unwrap_err();
        assert!(said.starts_with("--out /nowhere/roster.csv: "), "{said}");
    }
}
