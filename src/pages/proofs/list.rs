//! All proofs of a plate, the last pulled first, each with what is said about it; and removing one.

use actix_web::web;
use serde::Serialize;

use crate::ids::{ClassId, PlateId, ProofId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::{InClass, Seat};
use crate::pages::fields::Form;
use crate::pages::forms::Filled;
use crate::pages::plates;
use crate::pages::proofs::comments::{Back, FORM};
use crate::pages::proofs::shown::{ProofView, Shown, Talk, owner_name};
use crate::pages::proofs::{of, path, reads_critique};
use crate::store::Scope;
use crate::store::proofs::pulls::{self, Numbered};
use crate::store::proofs::{PlateTitle, comments, plate_title};
use crate::trouble::Trouble;

/// The head that all pages about a plate's proofs share.
#[derive(Serialize)]
pub(super) struct Head {
    pub print_title: String,
    pub number: i32,
    pub who: String,
    pub plate_path: String,
    pub proofs_path: String,
}

impl Head {
    pub fn of(ask: &InClass, plate: &PlateTitle) -> Self {
        Self {
            print_title: plate.print.clone(),
            number: plate.number,
            who: owner_name(plate),
            plate_path: plates::path(ask, plate.plate),
            proofs_path: path(ask.class(), plate.plate),
        }
    }
}

#[derive(Serialize)]
struct View {
    head: Head,
    /// The form that came back, for the summary.
    form: Form,
    proofs: Vec<ProofView>,
    two: bool,
    add: bool,
    talk: Talk,
}

/// A plate's proofs and all its comments.
pub(super) struct OnFile {
    pub plate: PlateTitle,
    pub proofs: Vec<Numbered>,
    pub comments: Vec<comments::Comment>,
}

/// Three statements.
pub(super) async fn on_file(ask: &InClass, plate: PlateId) -> Result<OnFile, Trouble> {
    let (of, critique) = (of(ask, plate), reads_critique(ask));
    ask.house
        .db
        .read(move |db| {
            Ok(OnFile {
                plate: plate_title(db, &of)?,
                proofs: pulls::of_plate(db, of.class, of.plate)?,
                comments: comments::of_plate(db, of.class, of.plate, critique)?,
            })
        })
        .await
}

/// The page.
pub async fn show(ask: InClass, ids: web::Path<(ClassId, PlateId)>) -> Reply {
    page(&ask, ids.into_inner().1, None).await
}

pub(super) async fn page(ask: &InClass, plate: PlateId, refused: Option<(Option<ProofId>, Form)>) -> Reply {
    let file = on_file(ask, plate).await?;
    let again = refused.is_some();
    let form = refused.as_ref().map_or_else(|| Form::new(FORM), |(_, form)| form.clone());
    let shown = Shown { ask, plate: &file.plate, comments: &file.comments, refused, back: Back::List };
    let view = View {
        head: Head::of(ask, &file.plate),
        form,
        proofs: file.proofs.iter().map(|one| shown.proof(one)).collect(),
        two: file.proofs.len() > 1,
        add: ask.seat() != Seat::Assistant,
        talk: shown.talk(None),
    };
    if again {
        ask.show_again("proofs/list", "proofs-proofs", &view)
    } else {
        ask.show("proofs/list", "proofs-proofs", &view)
    }
}

/// Removes a proof: an instructor any, a student what they have just added themselves.
pub async fn remove(ask: InClass, ids: web::Path<(ClassId, ProofId)>, filled: Filled) -> Reply {
    let (class, id) = ids.into_inner();
    let owner = ask.owner();
    ask.act_to(Scope::Class(class), &filled, move |tx| {
        let plate = tx.remove_proof(class, id, owner)?;
        Ok(said(path(class, plate), "done-proof-removed"))
    })
    .await
}
