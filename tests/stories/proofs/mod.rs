//! Proofs over HTTP: taking photos in and refusing what is none, serving them to those who may see them, two side by
//! side, comments, and the sweep of the shelf.

mod refusing;
mod serving;
mod sweeping;
mod taking_in;
mod talking;

use std::path::Path;

use diesel::prelude::*;
use tympan::ids::{PhotoId, PlateId, ProofId};
use tympan::photos::drawn::{Drawing, Hand, Motif, draw};
use tympan::store::schema::{comment, photo, plate, proof};

use crate::studio::things::Things;
use crate::studio::{Page, Studio, Visitor};

/// A plate without proofs, of the first student.
fn bare_plate(studio: &Studio) -> Things {
    let things = Things::set(&mut studio.connection(), &studio.world);
    let db = &mut studio.connection();
    diesel::delete(comment::table).execute(db).unwrap();
    diesel::delete(proof::table).execute(db).unwrap();
    diesel::delete(photo::table).execute(db).unwrap();
    things
}

/// Another plate of the same student and print.
fn second_plate(studio: &Studio, student: &Visitor, things: &Things) -> PlateId {
    let path = format!("{}/prints/{}/plates/new", studio.class_path(), things.print);
    let procedure = things.procedure.to_string();
    let fields = [
        ("procedure", procedure.as_str()),
        ("width", "20"),
        ("height", "30"),
        ("size_unit", "cm"),
        ("materials", "tusche"),
        ("weight", "light"),
    ];
    let page = student.post(&path, &fields);
    assert_eq!(page.status, 303, "{}", page.read());
    plate::table.filter(plate::id.ne(things.plate)).select(plate::id).first(&mut studio.connection()).unwrap()
}

fn proofs_path(studio: &Studio, plate: PlateId) -> String {
    format!("{}/plates/{plate}/proofs", studio.class_path())
}

const TOLD: [(&str, &str); 3] =
    [("kind", "trial"), ("pulled", "2026-10-20T09:30"), ("note", "rag paper, short ink")];

fn send(studio: &Studio, visitor: &Visitor, plate: PlateId, bytes: &[u8]) -> Page {
    visitor.upload(&format!("{}/new", proofs_path(studio, plate)), &TOLD, ("file", "photo.jpg", bytes))
}

/// A picture from `tests/pictures`; how each was made stands beside them.
fn file(name: &str) -> Vec<u8> {
    std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pictures").join(name)).unwrap()
}

/// A small proof drawn by the program's own hand.
fn drawn(pull: u32) -> Vec<u8> {
    let drawing = Drawing { pull, long_side: 240, ..Drawing::new(5, Motif::Bowl, Hand::Crayon) };
    draw(&drawing).jpeg().unwrap()
}

/// Proofs and their photos, in the order they were added.
fn kept(studio: &Studio) -> Vec<(ProofId, PhotoId)> {
    proof::table
        .filter(proof::removed_at.is_null())
        .order((proof::at, proof::id))
        .select((proof::id, proof::photo_id))
        .load(&mut studio.connection())
        .unwrap()
}

/// Folders on the shelf.
fn on_the_shelf(studio: &Studio) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(&studio.house.settings.photos)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

fn photo_path(studio: &Studio, photo: PhotoId, size: &str) -> String {
    format!("{}/photos/{photo}/{size}", studio.class_path())
}
