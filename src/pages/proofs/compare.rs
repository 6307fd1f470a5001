//! Two proofs of a plate side by side.

use actix_web::web;
use serde::Serialize;

use crate::ids::{ClassId, PlateId, ProofId};
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::proofs::comments::{Back, FORM};
use crate::pages::proofs::list::{Head, on_file};
use crate::pages::proofs::shown::{ProofView, Shown};
use crate::store::proofs::pulls::Numbered;
use crate::trouble::Trouble;

#[derive(Serialize)]
struct View {
    head: Head,
    form: Form,
    choose: Form,
    choices: Vec<Choice>,
    /// Two, or none where the plate has not two proofs yet.
    pair: Vec<ProofView>,
}

/// The page: without a choice the last two pulled, the earlier on the left.
pub async fn show(ask: InClass, ids: web::Path<(ClassId, PlateId)>) -> Reply {
    let file = on_file(&ask, ids.into_inner().1).await?;
    let (left, right) = match (chosen(&ask, "left", &file.proofs)?, chosen(&ask, "right", &file.proofs)?) {
        (None, None) => (file.proofs.get(1), file.proofs.first()),
        (Some(left), None) => (Some(left), other(left, &file.proofs)),
        (None, Some(right)) => (other(right, &file.proofs), Some(right)),
        both => both,
    };
    let pair = left.zip(right);
    let back = pair.map_or(Back::List, |(left, right)| Back::Compare(left.proof.id, right.proof.id));
    let shown = Shown { ask: &ask, plate: &file.plate, comments: &file.comments, refused: None, back };
    let mut choose = Form::new("proofs-compare");
    if let Some((left, right)) = pair {
        choose = choose.with("left", left.proof.id.to_string()).with("right", right.proof.id.to_string());
    }
    let view = View {
        head: Head::of(&ask, &file.plate),
        form: Form::new(FORM),
        choose,
        choices: file
            .proofs
            .iter()
            .map(|one| {
                let seen = shown.proof(one);
                Choice::new(
                    one.proof.id.to_string(),
                    format!("{}: {}, {}", seen.name, seen.kind, seen.pulled),
                )
            })
            .collect(),
        pair: pair.map(|(left, right)| vec![shown.proof(left), shown.proof(right)]).unwrap_or_default(),
    };
    ask.show("proofs/compare", "proofs-side-by-side", &view)
}

/// The proof that a part of the address names; one of another plate is not there.
fn chosen<'a>(ask: &InClass, name: &str, proofs: &'a [Numbered]) -> Result<Option<&'a Numbered>, Trouble> {
    let Some(text) = ask.query(name).filter(|text| !text.is_empty()) else { return Ok(None) };
    let id: ProofId = text.parse().map_err(|_error| Trouble::NotFound)?;
    proofs.iter().find(|one| one.proof.id == id).map(Some).ok_or(Trouble::NotFound)
}

/// The last pulled that is not this one.
fn other<'a>(one: &Numbered, proofs: &'a [Numbered]) -> Option<&'a Numbered> {
    proofs.iter().find(|other| other.proof.id != one.proof.id)
}
