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
use crate::pages::sittings::beside::Words;
use crate::pages::sittings::pack::{Ground, Pack, Shelf, pack};
use crate::pages::sittings::splash::{Found, find, help};
use crate::store::AnyConnection;
use crate::store::classes::etch_table::etch_table;
use crate::store::etches::logs;
use crate::store::plates::folder::{Folder, Which, folder, folders};
use crate::store::plates::premises;
use crate::store::plates::{drafts, plans, procedures};
use crate::store::studio::containers;
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

/// A pack with what its page shows besides.
pub(super) type Made = (Pack, Form, Offers);

/// The page of a plate; where nothing is left to do, the plate's own.
pub async fn page(ask: InClass, ids: web::Path<(ClassId, PlateId)>) -> Reply {
    let plate = ids.into_inner().1;
    let made = shown(&ask, plate).await?;
    if wants_json(&ask) {
        // The phone's own pack stood in for this page on a weak signal; this is the record's.
        return Ok(json(&json!({ "pack": made.map(|(pack, _, _)| pack) })));
    }
    match made {
        Some(made) => view(&ask, made),
        None => Ok(see_other(plates::path(&ask, plate))),
    }
}

/// The pack of a plate, where something is left to do.
pub(super) async fn shown(ask: &InClass, plate: PlateId) -> Result<Option<Made>, Trouble> {
    let at = plates::at(ask, plate);
    let house = ask.house.clone();
    let read = move |db: &mut AnyConnection| {
        Ok(vec![folder(db, &house.procedures, at.class, at.plate, at.owner, at.studio, at.zone)?])
    };
    let (grounds, shelf, found) = facts(ask, read).await?;
    let help = help(&ask.house.speech, &found);
    Ok(grounds.first().and_then(|ground| {
        let (pack, form, offers) = pack(ask, ground, &shelf)?;
        Some((Pack { help: Some(help), ..pack }, form, offers))
    }))
}

/// The page that shows a pack.
pub(super) fn view(ask: &Ask, (pack, form, offers): Made) -> Reply {
    let text = serde_json::to_string(&pack).map_err(|error| Trouble::broken("writing a pack", error))?;
    let title = pack.title.clone();
    ask.show("sittings/table", &title, &View { pack: Some(pack), pack_text: Some(text), form, offers })
}

/// Whether a script asks rather than somebody who reads.
pub(super) fn wants_json(ask: &Ask) -> bool {
    ask.request.headers().get(header::ACCEPT).is_some_and(|value| value == "application/json")
}

/// Everything this person may do next at a table, and where help is in the room, for the phone to keep. Staff and the
/// safety officer have no plates of their own, but a phone that helps.
pub async fn packs(ask: InClass) -> Reply {
    let (class, studio, zone) = (ask.class(), ask.membership.studio, ask.membership.zone);
    let (house, person) = (ask.house.clone(), ask.person.id);
    let read = move |db: &mut AnyConnection| {
        folders(db, &house.procedures, Which::Class(class), Some(person), studio, zone)
    };
    let (grounds, shelf, found) = facts(&ask, read).await?;
    let open = grounds.iter().filter(|ground| {
        ground.folder.row.print.handed_in_at.is_none() && !ground.folder.replaced && !ground.folder.left()
    });
    let packs: Vec<Pack> = open.filter_map(|ground| Some(pack(&ask, ground, &shelf)?.0)).collect();
    let help = help(&ask.house.speech, &found);
    let now = ask.now().millis();
    Ok(json(&json!({ "person": person, "class": class, "now": now, "packs": packs, "help": help })))
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

pub(super) async fn facts(
    ask: &InClass,
    read: impl FnOnce(&mut AnyConnection) -> Result<Vec<Folder>, Trouble> + Send + 'static,
) -> Result<(Vec<Ground>, Shelf, Found), Trouble> {
    let (class, studio, zone, now) = (ask.class(), ask.membership.studio, ask.membership.zone, ask.now());
    ask.house
        .db
        .read(move |db| {
            let folders = read(db)?;
            let ground = premises::ground(db, studio, class, zone, now)?;
            let versions: Vec<_> = folders.iter().map(|folder| folder.row.procedure_version).collect();
            let of = procedures::ids_of(db, &versions)?;
            let mut grounds = Vec::new();
            for folder in folders {
                let look = plans::look(&folder, &ground, now);
                let last = logs::last(db, class, folder.row.id, folder.row.person.id, now)?;
                let procedure = of.get(&folder.row.procedure_version).copied();
                grounds.push(Ground { folder, look, last, procedure });
            }
            let shelf = Shelf {
                held: containers::containers(db, studio)?,
                rows: etch_table(db, class)?.1,
                words: Words { topics: drafts::topic_titles(db)? },
            };
            Ok((grounds, shelf, find(db, studio)?))
        })
        .await
}
