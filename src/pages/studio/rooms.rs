//! What is told about a room: by the keeper who sets a studio up, and by those who work in it.

use actix_web::web;
use serde::Serialize;

use crate::ids::StudioId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::{Ask, InClass};
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::studio::studio_path;
use crate::store::studio::rooms::{self, Room, RoomDraft};
use crate::store::{Scope, Tx};
use crate::trouble::Trouble;

const FORM: &str = "studio-room";

#[derive(Serialize)]
struct View {
    form: Form,
    /// Where the form goes, and where one goes instead.
    action: String,
    back: String,
    new: bool,
}

fn page(ask: &Ask, action: &str, back: &str, form: Form, again: bool) -> Reply {
    let new = action == "/school/studios";
    let title = if new { "studio-room-add" } else { "studio-room-change" };
    let view = View { form, action: action.to_owned(), back: back.to_owned(), new };
    if again { ask.show_again("studio/room", title, &view) } else { ask.show("studio/room", title, &view) }
}

fn fresh(room: &Room) -> Form {
    Form::new(FORM)
        .with("name", &room.name)
        .with("room_address", &room.room_address)
        .with("eyewash", &room.eyewash)
        .with("emergency_numbers", &room.emergency_numbers)
        .with("waste_words", &room.waste_words)
        .with("version", room.version.to_string())
}

fn read(filled: &Filled) -> Result<(RoomDraft, i64), Trouble> {
    let mut sheet = Sheet::new(filled);
    let draft = RoomDraft {
        name: sheet.text("name", 80),
        room_address: sheet.text("room_address", 200),
        eyewash: sheet.text("eyewash", 120),
        emergency_numbers: sheet.text("emergency_numbers", 200),
        waste_words: sheet.words("waste_words", 300),
    };
    let version = sheet.maybe_whole("version", 1..=i64::MAX).unwrap_or(0);
    sheet.done()?;
    Ok((draft, version))
}

pub async fn new(ask: Ask) -> Reply {
    page(&ask, "/school/studios", "/school", Form::new(FORM), false)
}

pub async fn add(ask: Ask, filled: Filled) -> Reply {
    let tried = match read(&filled) {
        Ok((draft, _)) => {
            let next = said("/school", "done-studio-added");
            ask.act(Scope::School, &filled, next, move |tx| tx.add_studio(&draft).map(drop)).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => {
            let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?;
            page(&ask, "/school/studios", "/school", form, true)
        }
        fine => fine,
    }
}

async fn show(ask: &Ask, id: StudioId, action: &str, back: &str) -> Reply {
    let room = ask.house.db.read(move |db| rooms::room(db, id)).await?;
    page(ask, action, back, fresh(&room), false)
}

async fn save(ask: &Ask, id: StudioId, action: &str, back: &str, filled: &Filled) -> Reply {
    let tried = match read(filled) {
        Ok((draft, version)) => {
            let act = move |tx: &mut Tx<'_>| tx.change_studio(id, version, &draft);
            ask.act(Scope::School, filled, said(back, "done-studio-changed"), act).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => {
            let stands = ask.house.db.read(move |db| rooms::room(db, id)).await?;
            let form = Form::after_save(filled, trouble, &fresh(&stands), &ask.house.speech)?;
            page(ask, action, back, form, true)
        }
        fine => fine,
    }
}

pub async fn edit(ask: Ask, id: web::Path<StudioId>) -> Reply {
    let id = id.into_inner();
    show(&ask, id, &format!("/school/studios/{id}"), "/school").await
}

pub async fn change(ask: Ask, id: web::Path<StudioId>, filled: Filled) -> Reply {
    let id = id.into_inner();
    save(&ask, id, &format!("/school/studios/{id}"), "/school", &filled).await
}

pub async fn edit_in_class(ask: InClass) -> Reply {
    show(&ask, ask.membership.studio, &studio_path(&ask, "/room"), &studio_path(&ask, "")).await
}

pub async fn change_in_class(ask: InClass, filled: Filled) -> Reply {
    let (action, back) = (studio_path(&ask, "/room"), studio_path(&ask, ""));
    save(&ask, ask.membership.studio, &action, &back, &filled).await
}
