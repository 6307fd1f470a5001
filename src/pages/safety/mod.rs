//! Sign-offs: the staff's sheet, the student's own page, the list for those who read, and the checklists.

pub mod cleared;
pub mod own;
pub mod record;
pub mod sheet;
pub mod topics;

use actix_web::web;

use crate::ids::{ClassId, SignOffId};
use crate::pages::answer::{Reply, done};
use crate::pages::entry::{InClass, Seat};
use crate::pages::forms::{Filled, Sheet};
use crate::store::Scope;
use crate::store::people::sessions::Role;
use crate::trouble::Trouble;

/// The sign-off page of whoever asks.
pub async fn page(ask: InClass) -> Reply {
    match ask.seat() {
        Seat::Student => own::page(&ask).await,
        Seat::Assistant | Seat::Instructor => sheet::page(&ask).await,
        Seat::SafetyOfficer | Seat::Records => record::page(&ask).await,
    }
}

/// A student acknowledges a demonstration.
pub async fn acknowledge(ask: InClass, path: web::Path<(ClassId, SignOffId)>, _filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let owner = ask.person.id;
    ask.house
        .db
        .write(Scope::Class(class), Some(owner), ask.now(), move |tx| {
            tx.acknowledge_sign_off(class, id, owner)
        })
        .await?;
    Ok(done(format!("/classes/{class}/sign-offs"), "done-acknowledged"))
}

/// The giver takes a sign-off back.
pub async fn take_back(ask: InClass, path: web::Path<(ClassId, SignOffId)>, _filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    ask.house
        .db
        .write(Scope::Class(class), Some(ask.person.id), ask.now(), move |tx| {
            tx.take_sign_off_back(class, id)
        })
        .await?;
    Ok(done(format!("/classes/{class}/sign-offs"), "done-taken-back"))
}

/// An instructor withdraws a sign-off with a reason.
pub async fn withdraw(ask: InClass, path: web::Path<(ClassId, SignOffId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let mut fields = Sheet::new(&filled);
    let reason = fields.text("reason", 300);
    fields.done()?;
    ask.house
        .db
        .write(Scope::Class(class), Some(ask.person.id), ask.now(), move |tx| {
            tx.withdraw_sign_off(class, id, &reason)
        })
        .await?;
    Ok(done(format!("/classes/{class}/sign-offs/record"), "done-withdrawn"))
}

/// The role behind a seat that may give sign-offs.
fn role(ask: &InClass) -> Result<Role, Trouble> {
    match ask.seat() {
        Seat::Instructor => Ok(Role::Instructor),
        Seat::Assistant => Ok(Role::Assistant),
        _ => Err(Trouble::NotYours),
    }
}
