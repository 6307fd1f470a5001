//! Sign-offs: the staff's sheet, the student's own page, the list for those who read, and the checklists.

pub mod cleared;
pub mod own;
pub mod record;
pub mod sheet;
pub mod topics;

use actix_web::web;

use crate::ids::{ClassId, SignOffId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::{InClass, Seat};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::reasons;
use crate::store::Scope;
use crate::store::people::sessions::Role;
use crate::trouble::Trouble;

/// The sign-off page of whoever asks.
pub async fn page(ask: InClass) -> Reply {
    match ask.seat() {
        Seat::Student => own::page(&ask).await,
        Seat::Assistant | Seat::Instructor => sheet::page(&ask).await,
        Seat::SafetyOfficer | Seat::Records => record::page(&ask, None).await,
    }
}

/// A student acknowledges a demonstration.
pub async fn acknowledge(ask: InClass, path: web::Path<(ClassId, SignOffId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let (owner, next) = (ask.person.id, said(ask.path("/sign-offs"), "done-acknowledged"));
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.acknowledge_sign_off(class, id, owner)).await
}

/// The giver takes a sign-off back.
pub async fn take_back(ask: InClass, path: web::Path<(ClassId, SignOffId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let next = said(ask.path("/sign-offs"), "done-taken-back");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.take_sign_off_back(class, id)).await
}

/// An instructor withdraws a sign-off with a reason.
pub async fn withdraw(ask: InClass, path: web::Path<(ClassId, SignOffId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let mut fields = Sheet::new(&filled);
    let reason = reasons::WITHDRAW.read(&mut fields, &ask.house.speech);
    if let Err(trouble) = fields.done() {
        return record::page(&ask, Some((id, &filled, trouble))).await;
    }
    let next = said(ask.path("/sign-offs/record"), "done-withdrawn");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.withdraw_sign_off(class, id, &reason)).await
}

/// The role behind a seat that may give sign-offs.
fn role(ask: &InClass) -> Result<Role, Trouble> {
    match ask.seat() {
        Seat::Instructor => Ok(Role::Instructor),
        Seat::Assistant => Ok(Role::Assistant),
        _ => Err(Trouble::NotYours),
    }
}
