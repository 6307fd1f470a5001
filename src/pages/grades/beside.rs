//! What lies beside a mark: the print's photos and etch logs, how late it came and how that was counted.

use serde::Serialize;

use crate::ids::PersonId;
use crate::pages::entry::InClass;
use crate::pages::etches::shown::{Shown as LogShown, shown};
use crate::pages::grades::own;
use crate::pages::proofs::comments::Back;
use crate::pages::proofs::shown::{ProofView, Shown};
use crate::store::etches::logs;
use crate::store::grades::assessments::Assessment;
use crate::store::grades::book::Book;
use crate::store::plates::folder::{self, Which};
use crate::store::proofs::PlateTitle;
use crate::store::proofs::pulls;
use crate::trouble::Trouble;

/// How many photos of a plate stand beside its mark; the others are a link away.
const PHOTOS: usize = 4;

#[derive(Debug, Serialize)]
pub struct Beside {
    print: Option<String>,
    /// Due, handed in, days late and how they were counted.
    times: Vec<String>,
    plates: Vec<Plate>,
}

#[derive(Debug, Serialize)]
struct Plate {
    number: i32,
    path: String,
    count: usize,
    proofs: Vec<ProofView>,
    logs: Vec<LogShown>,
}

/// Reads it for one person's work on an assessment.
pub(super) async fn read(
    ask: &InClass,
    book: &Book,
    one: &Assessment,
    person: PersonId,
) -> Result<Beside, Trouble> {
    let times = own::times(ask, book, one, person);
    let Some(print) = book.print(one, person).cloned() else {
        return Ok(Beside { print: None, times, plates: Vec::new() });
    };
    let (class, studio, zone, house) =
        (ask.class(), ask.membership.studio, ask.membership.zone, ask.house.clone());
    let id = print.id;
    let found = ask
        .house
        .db
        .read(move |db| {
            let which = Which::Print(class, id);
            let folders = folder::folders(db, &house.procedures, which, None, studio, zone)?;
            let mut all = Vec::new();
            for folder in folders {
                let logs = logs::of_plate(db, class, folder.row.id, None)?;
                let proofs = pulls::of_plate(db, class, folder.row.id)?;
                all.push((folder, logs, proofs));
            }
            Ok(all)
        })
        .await?;
    let plates = found
        .iter()
        .map(|(folder, logs, proofs)| {
            let title = PlateTitle {
                plate: folder.row.id,
                number: folder.row.number,
                print: print.title.clone(),
                person,
                given_name: String::new(),
                family_name: String::new(),
            };
            let look = Shown { ask, plate: &title, comments: &[], refused: None, back: Back::Plate };
            let standing: Vec<_> = proofs.iter().filter(|one| one.proof.removed_at.is_none()).collect();
            let step = |key: &str| {
                folder.procedure.find(key).map_or_else(|| key.to_owned(), |step| step.title.clone())
            };
            Plate {
                number: folder.row.number,
                path: crate::pages::plates::path(ask, folder.row.id),
                count: standing.len(),
                proofs: standing.iter().take(PHOTOS).map(|one| look.proof(one)).collect(),
                logs: logs.iter().map(|log| shown(ask, log, &step(&log.entry.step_key))).collect(),
            }
        })
        .collect();
    Ok(Beside { print: Some(print.title), times, plates })
}
