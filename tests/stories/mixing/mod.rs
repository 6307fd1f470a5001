//! Mixing: what a mix comes to on its page, droppers, the table of etches, the batch for tonight, data sheets, labels.

mod kept;
mod printed;
mod reckoned;
mod tonight;

use diesel::prelude::*;
use tympan::ids::ContainerId;
use tympan::pages::answer::encode;
use tympan::store::schema::container;

use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Page, Studio, Visitor};

/// Gum of 14 °Bé and pH 4.3, and 85 % acid whose dropper lets fall 20 drops per mL exactly.
fn shelf(studio: &Studio) -> Things {
    let things = Things::set(&mut studio.connection(), &studio.world);
    calibrate(studio, things.acid, Some(2000), Some(0));
    things
}

fn calibrate(studio: &Studio, bottle: ContainerId, drops: Option<i32>, spread: Option<i32>) {
    diesel::update(container::table.find(bottle))
        .set((container::drops_per_ml_hundredths.eq(drops), container::drops_spread_hundredths.eq(spread)))
        .execute(&mut studio.connection())
        .unwrap();
}

/// Asks a page with these fields in its address.
fn ask(visitor: &Visitor, path: &str, fields: &[(&str, &str)]) -> Page {
    let query: Vec<String> =
        fields.iter().map(|(name, value)| format!("{}={}", encode(name), encode(value))).collect();
    visitor.get(&format!("{path}?{}", query.join("&")))
}

/// Asks with one field wrong after the other; each time the page says so at the field and keeps what was typed.
fn refuses_asking(
    visitor: &Visitor,
    path: &str,
    form: &str,
    fields: &[(&str, &str)],
    wrong: &[(&str, &str, &str)],
) {
    for (field, value, said) in wrong {
        let page = ask(visitor, path, &crate::stories::but(fields, field, value));
        assert_eq!(page.status, 422, "{path} {field}={value:?}: {}", page.read());
        let at = format!("id=\"{form}-{field}-complaint\"");
        assert!(page.has(&at), "{field}={value:?} at its field: {}", page.read());
        assert!(page.read().contains(said), "{field}={value:?} says “{said}”: {}", page.read());
    }
}

fn says(page: &Page, all: &[&str]) {
    assert_eq!(page.status, 200, "{}", page.read());
    for said in all {
        assert!(page.read().contains(said), "“{said}” in: {}", page.read());
    }
}

/// A one-page PDF, as small as they come.
const PDF: &[u8] = b"%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 72 72]>>endobj\ntrailer<</Root 1 0 R>>\nstartxref\n9\n%%EOF\n";

const ROW: [(&str, &str); 8] = [
    ("version", "0"),
    ("surface-0", "plate"),
    ("weight-0", "medium"),
    ("material-0", "crayon 3 to 4"),
    ("drops-0", "6.5"),
    ("applications-0", "2"),
    ("seconds-0", "120"),
    ("source-0", "Ines Ravel, class notes"),
];

/// Keeps a table of one row and tells its id.
pub fn keep_table(studio: &Studio) -> String {
    use tympan::store::schema::etch_table_row;
    let path = format!("{}/settings/etch-table", studio.class_path());
    let kept = studio.signed_in(INSTRUCTOR).post(&path, &ROW);
    assert_eq!(kept.status, 303, "{}", kept.read());
    etch_table_row::table
        .filter(etch_table_row::superseded_at.is_null())
        .select(etch_table_row::id)
        .first(&mut studio.connection())
        .unwrap()
}
