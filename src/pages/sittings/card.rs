//! A card on paper for one step, where no phone comes to the table: what to do and look out for, and empty fields. What is
//! written on it is told later, marked as from a card.

use actix_web::web;
use serde::Serialize;

use crate::ids::{ClassId, PlateId};
use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::InClass;
use crate::pages::plates;
use crate::pages::sittings::pack::{Pack, pack};
use crate::pages::sittings::page::facts;
use crate::store::AnyConnection;
use crate::store::plates::folder::folder;

#[derive(Serialize)]
struct View {
    pack: Pack,
    who: String,
    eyewash: String,
    /// Where the card is told.
    tell: String,
    applications: Vec<usize>,
}

/// Rows for applications on a card.
const ROWS: usize = 4;

/// The card of a plate's next step; where nothing is left to do, the plate's own page.
pub async fn page(ask: InClass, ids: web::Path<(ClassId, PlateId)>) -> Reply {
    let plate = ids.into_inner().1;
    let at = plates::at(&ask, plate);
    let house = ask.house.clone();
    let read = move |db: &mut AnyConnection| {
        Ok(vec![folder(db, &house.procedures, at.class, at.plate, at.owner, at.studio, at.zone)?])
    };
    let (grounds, shelf, _) = facts(&ask, read).await?;
    let made = grounds.first().and_then(|ground| Some((ground, pack(&ask, ground, &shelf)?.0)));
    let Some((ground, pack)) = made else { return Ok(see_other(plates::path(&ask, plate))) };
    let person = &ground.folder.row.person;
    let rest = if pack.wants_etch { "/etches/new?told=yes" } else { "" };
    let view = View {
        who: format!("{} {}", person.given_name, person.family_name),
        eyewash: ask.membership.eyewash.clone(),
        tell: format!("{}{rest}", pack.plate_path),
        applications: (1..=ROWS).collect(),
        pack,
    };
    let title = view.pack.title.clone();
    ask.show("sittings/card", &title, &view)
}
