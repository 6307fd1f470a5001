//! Acid or solvent on skin or in an eye: water first, and this screen is for whoever helps. The page works without signal,
//! so it also exists without a studio; the safety data sheet, local rules and the school's safety office come first.

use serde::Serialize;

use crate::pages::answer::Reply;
use crate::pages::entry::{Ask, InClass};
use crate::store::studio::rooms::{self, Room};

#[derive(Serialize)]
struct View {
    room: Option<Room>,
}

/// The page a phone keeps; the script fills in the studio it knows.
pub async fn shell(ask: Ask) -> Reply {
    ask.show("sittings/splash", "splash-title", &View { room: None })
}

/// The page of a class's studio.
pub async fn page(ask: InClass) -> Reply {
    let studio = ask.membership.studio;
    let room = ask.house.db.read(move |db| rooms::room(db, studio)).await?;
    ask.show("sittings/splash", "splash-title", &View { room: Some(room) })
}
