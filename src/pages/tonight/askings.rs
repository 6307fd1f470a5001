//! Asking for somebody of the staff, and seeing to it: each is one form and one tap.

use actix_web::web;

use crate::ids::{AskingId, ClassId, PlateId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::plates;
use crate::pages::tonight::own;
use crate::store::tonight::askings::{Draft, Kind};
use crate::store::{Scope, Tx};
use crate::trouble::Trouble;

type Ids = web::Path<(ClassId, AskingId)>;

/// How much may be said about where one is.
const PLACE_MOST: usize = 40;

/// A student asks.
pub async fn ask(ask: InClass, filled: Filled) -> Reply {
    let outcome = async {
        let draft = read(&filled)?;
        let back = said(back(&ask, &filled, draft.plate), "done-asked");
        let (class, zone) = (ask.class(), ask.membership.zone);
        let act = move |tx: &mut Tx<'_>| tx.ask_for(class, zone, &draft).map(drop);
        ask.act(Scope::Class(class), &filled, back, act).await
    };
    match outcome.await {
        Err(trouble) => own::again(&ask, &filled, trouble).await,
        fine => fine,
    }
}

fn read(filled: &Filled) -> Result<Draft, Trouble> {
    let mut sheet = Sheet::new(filled);
    let draft = Draft {
        kind: sheet.choice("kind", Kind::Help),
        plate: sheet.maybe_id("plate"),
        place: sheet.maybe_text("place", PLACE_MOST).unwrap_or_default(),
    };
    sheet.done()?;
    Ok(draft)
}

/// The page the form stood on.
fn back(ask: &InClass, filled: &Filled, plate: Option<PlateId>) -> String {
    match (filled.get("from"), plate) {
        (Some("plate"), Some(plate)) => format!("{}#line", plates::path(ask, plate)),
        (Some("line"), _) => ask.path("/askings"),
        _ => format!("{}#line", ask.path("")),
    }
}

/// A student takes the own asking back.
pub async fn take_back(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    let id = ids.into_inner().1;
    let plate = filled.get("plate").and_then(|plate| plate.parse().ok());
    let (class, next) = (ask.class(), said(back(&ask, &filled, plate), "done-asking-taken-back"));
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.take_asking_back(class, id)).await
}

/// Somebody of the staff has seen to it.
pub async fn done(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    let id = ids.into_inner().1;
    let (class, next) = (ask.class(), said(ask.path("/tonight"), "done-asking-answered"));
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.answer_asking(class, id)).await
}

/// It was not seen to after all.
pub async fn undo(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    let id = ids.into_inner().1;
    let (class, next) = (ask.class(), said(ask.path("/tonight"), "done-asking-undone"));
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.undo_answer(class, id)).await
}
