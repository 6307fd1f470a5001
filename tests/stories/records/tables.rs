//! The exact bytes of every table of a small class, the same on both databases.

use sha2::{Digest, Sha256};
use tympan::exchange::spreadsheet::begins_like_formula;
use tympan::exchange::tables::Table;
use tympan::trade::spelled::Spelled;

use super::scene::{Scene, sent};
use crate::on_both;
use crate::studio::Studio;
use crate::studio::world::INSTRUCTOR;

/// The rows of a table, its header first; every row as long as the header.
fn rows(bytes: &[u8]) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(false).from_reader(bytes);
    reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect()
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

on_both! {
    fn each_table_has_exactly_these_bytes(studio) {
        let scene = Scene::set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        for table in Table::ALL.iter().filter(|table| !matches!(table, Table::Journal | Table::Columns)) {
            let page = sent(&instructor, studio, table.word());
            assert_eq!(page.status, 200, "{}: {}", table.word(), page.read());
            insta::assert_snapshot!(table.word(), scene.legible(&page.body));
        }
    }

    fn no_cell_is_a_formula_and_numbers_stay_numbers(studio) {
        Scene::set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        for table in Table::ALL {
            let all = rows(&sent(&instructor, studio, table.word()).body);
            let heads: Vec<&str> = table.columns().iter().map(|column| column.key).collect();
            assert_eq!(all[0], heads);
            for (row, cell) in all.iter().flat_map(|row| row.iter().map(move |cell| (row, cell))) {
                let is_number = cell.parse::<f64>().is_ok();
                assert!(is_number || !begins_like_formula(cell), "{cell:?} in {row:?}");
            }
        }
    }

    fn an_empty_class_gives_headers_alone(studio) {
        let stranger = studio.signed_in(crate::studio::world::STRANGER);
        let path = format!("/classes/{}/records", studio.world.other_class);
        for table in Table::ALL.iter().filter(|table| !matches!(table, Table::Roster | Table::Columns)) {
            let page = stranger.get(&format!("{path}/{}.csv", table.word()));
            let heads: Vec<&str> = table.columns().iter().map(|column| column.key).collect();
            assert_eq!(page.text(), format!("{}\r\n", heads.join(",")));
        }
        // Its instructor is in the list.
        assert_eq!(rows(&stranger.get(&format!("{path}/roster.csv")).body).len(), 2);
    }

    /// Reckoned anew from the table alone: the chain of SHA-256 that the journal is.
    fn the_journal_can_be_checked_from_its_table(studio) {
        acts(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let all = rows(&sent(&instructor, studio, "journal").body);
        assert!(all.len() > 3, "{all:?}");
        let column = |name: &str| all[0].iter().position(|head| head == name).unwrap();
        let scope = studio.world.class.to_string();
        let mut before = String::new();
        for (place, row) in all[1..].iter().enumerate() {
            let at = chrono::DateTime::parse_from_rfc3339(&row[column("at")]).unwrap().timestamp_millis();
            assert_eq!(row[column("seq")], (place + 1).to_string());
            let (salt, detail) = (&row[column("salt")], &row[column("detail")]);
            assert_eq!(row[column("detail_hash")], hex(&Sha256::digest(format!("{salt}\0{detail}"))));
            let fields = [
                &before, &scope, &row[column("seq")], &at.to_string(), &row[column("person_id")],
                &row[column("act")], &row[column("subject_id")], &row[column("detail_hash")],
            ];
            let joined: String = fields.iter().map(|field| format!("{field}\0")).collect();
            assert_eq!(row[column("hash")], hex(&Sha256::digest(joined)), "{row:?}");
            before.clone_from(&row[column("hash")]);
        }
    }

    fn the_dictionary_names_every_column_with_a_sentence(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let all = rows(&sent(&instructor, studio, "columns").body);
        let mut told = all[1..].iter();
        for table in Table::ALL {
            let page = sent(&instructor, studio, table.word());
            for (place, head) in rows(&page.body)[0].iter().enumerate() {
                let row = told.next().unwrap();
                assert_eq!(row[..3], [table.word().to_owned(), (place + 1).to_string(), head.clone()]);
                assert!(row[6].contains(' ') && row[6].ends_with('.'), "{row:?} has a sentence");
            }
        }
        assert!(told.next().is_none());
        insta::assert_snapshot!("columns", String::from_utf8_lossy(&sent(&instructor, studio, "columns").body));
    }
}

/// Some acts of the class, by its own pages.
fn acts(studio: &Studio) {
    let instructor = studio.signed_in(INSTRUCTOR);
    for from in ["09:00", "14:00", "16:00"] {
        let page = instructor.post(
            &format!("{}/settings/meetings", studio.class_path()),
            &[("kind", "meeting"), ("weekday", "2"), ("from", from), ("to", "17:30")],
        );
        assert_eq!(page.status, 303, "{}", page.read());
    }
}
