//! An archive back into an empty Tympan: its pictures and papers first, then its rows in one act.

use std::fs::File;
use std::sync::{Arc, Mutex};

use serde_json::{Value, json};

use super::checking::{unreadable, whole};
use super::{About, IMAGES, PAPERS};
use crate::clock::Instant;
use crate::exchange::parcel::Parcel;
use crate::photos::picture::Prepared;
use crate::photos::shelf::{PhotoKey, Shelf, Size};
use crate::store::copying::Table;
use crate::store::copying::taking_in::Rows;
use crate::store::studio::papers::Papers;
use crate::store::{Db, Scope};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// A checked archive that is read while rows go in.
pub type Shared = Arc<Mutex<Parcel<File>>>;

/// Lays the pictures and papers of an archive where rows will name them. Says how many pictures there were.
///
/// # Errors
/// A file is damaged, or the shelf refuses.
pub fn lay_out(parcel: &mut Parcel<File>, shelf: &dyn Shelf, papers: &Papers) -> Result<usize, Trouble> {
    let names: Vec<String> = parcel.files().map(|file| file.name.clone()).collect();
    let mut laid = 0;
    for name in &names {
        if let Some(id) = name.strip_prefix(IMAGES).and_then(|rest| rest.strip_suffix("/full.jpg")) {
            let key: PhotoKey = id.parse().map_err(|_fault| {
                Trouble::Refused(Remark::new("restore-picture").with("name", name.as_str()))
            })?;
            let mut read = |size: Size| {
                parcel.read(&format!("{IMAGES}{id}/{}", size.file_name())).map_err(Trouble::Refused)
            };
            let (full, large, small) = (read(Size::Full)?, read(Size::Large1600)?, read(Size::Small320)?);
            shelf
                .put(key, &Prepared::laid_before(full, large, small))
                .map_err(|fault| Trouble::broken("putting a picture on the shelf", fault))?;
            laid += 1;
        } else if name.starts_with(PAPERS) {
            let bytes = parcel.read(name).map_err(Trouble::Refused)?;
            papers.keep(&bytes)?;
        }
    }
    Ok(laid)
}

/// Takes the rows in, in one act. Says how many there were.
///
/// # Errors
/// Something is here already, or a row does not fit.
pub async fn take_in(db: &Db, parcel: Shared, about: &About, now: Instant) -> Result<usize, Trouble> {
    let from =
        json!({ "made_by": about.made_by, "as_of": about.as_of, "school": about.school, "term": about.term });
    db.write(Scope::School, None, now, move |tx| {
        let read = |table: &Table| rows(&parcel, table);
        tx.take_in(&read, &from)
    })
    .await
}

/// The rows of a table, if the archive has it.
fn rows(parcel: &Shared, table: &Table) -> Result<Option<Rows>, Trouble> {
    let name = format!("data/{}.jsonl", table.name);
    let mut parcel =
        parcel.lock().map_err(|_poisoned| Trouble::broken("reading an archive", "it was let fall"))?;
    if !parcel.has(&name) {
        return Ok(None);
    }
    let text = whole(&mut parcel, &name).map_err(Trouble::Refused)?;
    let mut lines = text.lines();
    let wrong = |line: i64, error: &serde_json::Error| Trouble::Refused(unreadable(&name, line, error));
    let columns: Vec<String> =
        serde_json::from_str(lines.next().unwrap_or_default()).map_err(|error| wrong(1, &error))?;
    let row = |(line, text)| serde_json::from_str(text).map_err(|error| wrong(line, &error));
    let rows: Vec<Vec<Value>> = (2..).zip(lines).map(row).collect::<Result<_, _>>()?;
    Ok(Some(Rows { columns, rows }))
}
