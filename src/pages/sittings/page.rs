//! The page at the table, for a plate and without one (the shell a phone keeps for where there is no signal); all packs of
//! a person, for the phone to take along; and who is signed in here, for entries that wait to be sent.

use actix_web::http::header;
use actix_web::{HttpResponse, web};
use serde::Serialize;
use serde_json::json;

use crate::ids::{ClassId, PlateId};
use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::{Ask, InClass};
use crate::pages::etches::form::{FORM, Offers};
use crate::pages::fields::Form;
use crate::pages::plates;
use crate::pages::sittings::pack::{Ground, Pack, Shelf, pack};
use crate::store::AnyConnection;
use crate::store::classes::etch_table::etch_table;
use crate::store::etches::logs;
use crate::store::plates::folder::{Folder, Which, folder, folders};
use crate::store::plates::plans;
use crate::store::studio::{containers, rooms};
use crate::trouble::Trouble;

#[derive(Serialize)]
struct View {
    pack: Option<Pack>,
    pack_text: Option<String>,
    form: Form,
    offers: Offers,
}

/// The page without a plate.
pub async fn shell(ask: Ask) -> Reply {
    let offers = Offers::blank(&ask.house.speech);
    ask.show(
        "sittings/table",
        "table-title",
        &View { pack: None, pack_text: None, form: Form::new(FORM), offers },
    )
}

/// The page of a plate; where nothing is left to do, the plate's own.
pub async fn page(ask: InClass, ids: web::Path<(ClassId, PlateId)>) -> Reply {
    let plate = ids.into_inner().1;
    let at = plates::at(&ask, plate);
    let house = ask.house.clone();
    let read = move |db: &mut AnyConnection| {
        Ok(vec![folder(db, &house.procedures, at.class, at.plate, at.owner, at.studio, at.zone)?])
    };
    let (grounds, shelf) = facts(&ask, read).await?;
    let found = grounds.first().and_then(|ground| pack(&ask, ground, &shelf));
    let Some((pack, form, offers)) = found else { return Ok(see_other(plates::path(&ask, plate))) };
    let text = serde_json::to_string(&pack).map_err(|error| Trouble::broken("writing a pack", error))?;
    let title = pack.title.clone();
    let view = View { pack: Some(pack), pack_text: Some(text), form, offers };
    ask.show("sittings/table", &title, &view)
}

/// Everything this person may do next at a table, for the phone to keep.
pub async fn packs(ask: InClass) -> Reply {
    let (class, studio, zone) = (ask.class(), ask.membership.studio, ask.membership.zone);
    let (house, person) = (ask.house.clone(), ask.person.id);
    let read = move |db: &mut AnyConnection| {
        folders(db, &house.procedures, Which::Class(class), Some(person), studio, zone)
    };
    let (grounds, shelf) = facts(&ask, read).await?;
    let open = grounds.iter().filter(|ground| {
        ground.folder.row.print.handed_in_at.is_none() && !ground.folder.replaced && !ground.folder.left()
    });
    let packs: Vec<Pack> = open.filter_map(|ground| Some(pack(&ask, ground, &shelf)?.0)).collect();
    Ok(json(&json!({ "person": person, "now": ask.now().millis(), "packs": packs })))
}

/// Who is signed in on this phone, the time here, and a seal for entries.
pub async fn hello(ask: Ask) -> Reply {
    let person = ask.found.person.as_ref().map(|person| person.id);
    let seal = ask.house.key.seal(&ask.found.visitor)?;
    Ok(json(&json!({ "person": person, "now": ask.now().millis(), "seal": seal })))
}

pub(super) fn json(value: &serde_json::Value) -> HttpResponse {
    HttpResponse::Ok().insert_header((header::CACHE_CONTROL, "no-store")).json(value)
}

async fn facts(
    ask: &InClass,
    read: impl FnOnce(&mut AnyConnection) -> Result<Vec<Folder>, Trouble> + Send + 'static,
) -> Result<(Vec<Ground>, Shelf), Trouble> {
    let (class, studio, zone, now) = (ask.class(), ask.membership.studio, ask.membership.zone, ask.now());
    ask.house
        .db
        .read(move |db| {
            let folders = read(db)?;
            let calendar = plans::calendar(&plans::hours(db, studio, class, zone)?, now);
            let mut grounds = Vec::new();
            for folder in folders {
                let look = plans::look(&folder, &calendar, now);
                let last = logs::last(db, class, folder.row.id, folder.row.person.id)?;
                grounds.push(Ground { folder, look, last });
            }
            let shelf = Shelf {
                held: containers::containers(db, studio)?,
                rows: etch_table(db, class)?.1,
                room: rooms::room(db, studio)?,
            };
            Ok((grounds, shelf))
        })
        .await
}
