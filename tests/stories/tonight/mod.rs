//! An evening: asking for somebody and seeing to it, the run sheet, what to put out, and the news of a class.

mod line;
mod news;
mod sheet;

use diesel::prelude::*;
use tympan::ids::AskingId;
use tympan::store::schema::asking;

use crate::studio::things::Things;
use crate::studio::{Studio, Visitor};

fn things(studio: &Studio) -> Things {
    Things::set(&mut studio.connection(), &studio.world)
}

fn askings(studio: &Studio) -> String {
    format!("{}/askings", studio.class_path())
}

fn tonight(studio: &Studio) -> String {
    format!("{}/tonight", studio.class_path())
}

/// Asks, and answers with the id of the asking.
fn asks(studio: &Studio, visitor: &Visitor, fields: &[(&str, &str)]) -> AskingId {
    let page = visitor.post(&askings(studio), fields);
    assert_eq!(page.status, 303, "{fields:?}: {}", page.read());
    assert!(page.location().contains("done=done-asked"), "{}", page.location());
    asking::table
        .order((asking::at.desc(), asking::id.desc()))
        .select(asking::id)
        .first(&mut studio.connection())
        .unwrap()
}
