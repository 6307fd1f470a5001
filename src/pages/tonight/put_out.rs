//! What to put out: gum and acid for the etches of tonight by the usual bottles, paper for its editions and proofs.

use serde::Serialize;

use crate::pages::entry::InClass;
use crate::pages::mixing::batch::Ready;
use crate::pages::mixing::tonight::{self, PutOut};
use crate::pages::tonight::run_sheet::Work;
use crate::trade::procedure::{Place, Records};
use crate::trouble::Trouble;

#[derive(Serialize)]
pub(super) struct View {
    etches: usize,
    mix: PutOut,
    editions: Vec<Edition>,
    /// Sheets of all of them.
    sheets: u32,
    proofs: Vec<Plate>,
}

#[derive(Serialize)]
struct Edition {
    number: i32,
    who: String,
    sheets: u32,
}

#[derive(Serialize)]
struct Plate {
    number: i32,
    who: String,
}

fn who(work: &Work<'_>) -> String {
    let person = &work.folder.row.person;
    format!("{} {}", person.given_name, person.family_name)
}

/// Reckons it from what is on the run sheet.
pub(super) async fn view(ask: &InClass, works: &[Work<'_>]) -> Result<View, Trouble> {
    let etches: Vec<Ready> = works.iter().filter_map(Work::etch).collect();
    let at_station = |work: &&Work<'_>| matches!(work.place, Place::Station(_));
    let editions: Vec<Edition> = works
        .iter()
        .filter(at_station)
        .filter(|work| work.records == Records::Sheets)
        .map(|work| Edition { number: work.folder.row.number, who: who(work), sheets: work.folder.sheets() })
        .collect();
    Ok(View {
        etches: etches.len(),
        mix: tonight::put_out(ask, &etches).await?,
        sheets: editions.iter().fold(0, |all, one| all.saturating_add(one.sheets)),
        editions,
        proofs: works
            .iter()
            .filter(|work| work.records == Records::Proof)
            .map(|work| Plate { number: work.folder.row.number, who: who(work) })
            .collect(),
    })
}
