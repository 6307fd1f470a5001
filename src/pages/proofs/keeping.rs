//! Keeping a picture: its files first, onto the disk, then the rows that name them. Where no row comes of it the files
//! are taken away again; what a crash leaves behind the sweep finds.

use crate::clock::Instant;
use crate::ids::{PersonId, PhotoId, ProofId};
use crate::pages::House;
use crate::pages::proofs::key;
use crate::photos::picture::Prepared;
use crate::secrets::hex;
use crate::store::once::OnceKey;
use crate::store::proofs::OfPlate;
use crate::store::proofs::pulls::{NewProof, ProofKind};
use crate::store::{Scope, Tx};
use crate::trouble::Trouble;

/// What is told about a proof beside its picture.
#[derive(Debug, Clone)]
pub struct Told {
    pub kind: ProofKind,
    pub pulled_at: Instant,
    pub note: String,
}

/// Keeps a received picture as a proof, as if `by` had sent it at `at`: for pictures that come by another way than the
/// form.
///
/// # Errors
/// The picture is none (a complaint about `file`), and what `Tx::add_proof` says.
pub async fn keep_received(
    house: &House,
    by: PersonId,
    at: Instant,
    of: OfPlate,
    received: Vec<u8>,
    told: Told,
) -> Result<ProofId, Trouble> {
    let prepared = house
        .darkroom
        .prepare(received)
        .await?
        .map_err(|not_prepared| Trouble::about("file", not_prepared.remark()))?;
    let photo = photo_id(house, at)?;
    let new = new_proof(photo, &prepared, told)?;
    keep(house, by, at, &of, prepared, photo, move |tx| tx.add_proof(&of, &new)).await
}

/// Keeps a prepared picture once for each sending of its form. `next` says where the person goes, by the photo's id.
///
/// # Errors
/// What `Tx::add_proof` says, or a clash of the key.
pub async fn keep_once(
    house: &House,
    by: PersonId,
    at: Instant,
    of: OfPlate,
    prepared: Prepared,
    told: Told,
    (once, next): (OnceKey, impl FnOnce(PhotoId) -> String),
) -> Result<String, Trouble> {
    let photo = photo_id(house, at)?;
    let (new, next) = (new_proof(photo, &prepared, told)?, next(photo));
    let mine = next.clone();
    let kept = keep(house, by, at, &of, prepared, photo, move |tx| {
        tx.once(&once, |tx| tx.add_proof(&of, &new).map(|_| next.clone()))
    })
    .await?;
    if kept != mine {
        // The same form, sent twice at once: the other sending was first.
        take_away(house, photo).await;
    }
    Ok(kept)
}

/// From the source all ids of acts come from.
fn photo_id(house: &House, at: Instant) -> Result<PhotoId, Trouble> {
    Ok(PhotoId::stamped(at, house.db.chance().part()?))
}

fn new_proof(photo: PhotoId, prepared: &Prepared, told: Told) -> Result<NewProof, Trouble> {
    let pixels = |side: u32| i32::try_from(side).map_err(|error| Trouble::broken("measuring a photo", error));
    Ok(NewProof {
        photo,
        sha256: hex(&prepared.sha256),
        width: pixels(prepared.width)?,
        height: pixels(prepared.height)?,
        bytes: i64::try_from(prepared.full.len()).unwrap_or(i64::MAX),
        kind: told.kind,
        pulled_at: told.pulled_at,
        note: told.note,
    })
}

async fn keep<T, F>(
    house: &House,
    by: PersonId,
    at: Instant,
    of: &OfPlate,
    prepared: Prepared,
    photo: PhotoId,
    act: F,
) -> Result<T, Trouble>
where
    T: Send + 'static,
    F: Fn(&mut Tx<'_>) -> Result<T, Trouble> + Send + 'static,
{
    house.darkroom.put(key(photo)?, prepared).await?;
    let outcome = house.db.write(Scope::Class(of.class), Some(by), at, act).await;
    // After a broken connection the row may stand all the same: then the sweep decides.
    if outcome.as_ref().is_err_and(|trouble| !matches!(trouble, Trouble::Broken { .. })) {
        take_away(house, photo).await;
    }
    outcome
}

async fn take_away(house: &House, photo: PhotoId) {
    let removed = match key(photo) {
        Ok(key) => house.darkroom.remove(key).await,
        Err(trouble) => Err(trouble),
    };
    if let Err(trouble) = removed {
        tracing::warn!(%trouble, "taking away the files of a photo that was not kept; the sweep will");
    }
}
