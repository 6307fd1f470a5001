//! The sweep of photos and papers: files that no row names, because a crash came between them and their row, because the
//! proof was removed a week ago, or because no procedure shows the picture any more. Nothing younger than a week is touched, and each is asked about again just before it
//! goes.

use std::time::Duration;

use actix_web::web;
use tokio::sync::watch;

use crate::clock::{Clock, DAY_MS};
use crate::ids::PhotoId;
use crate::pages::House;
use crate::photos::shelf::PhotoKey;
use crate::store::plates::pictures;
use crate::store::proofs::photos;
use crate::store::studio::papers::{Lying, Papers};
use crate::store::studio::sheets;
use crate::trouble::Trouble;

/// How old files must be.
const AGE_MS: i64 = 7 * DAY_MS;
/// How many are asked about at once.
const AT_ONCE: usize = 500;
const FIRST: Duration = Duration::from_secs(10 * 60);
const DAILY: Duration = Duration::from_secs(24 * 3600);

/// Sweeps once; says how many photos went. Files are dated by the machine's clock, so that clock is asked;
/// removals by the house's.
///
/// # Errors
/// The shelf or the database refuses; what went is gone, the rest waits for the next sweep.
pub async fn sweep(house: &House) -> Result<usize, Trouble> {
    let before = Clock::Machine.now().plus_ms(-AGE_MS);
    let keys = house.darkroom.older_than(before.millis()).await?;
    let mut gone = 0;
    for keys in keys.chunks(AT_ONCE) {
        for key in unwanted(house, keys.to_vec()).await? {
            if !unwanted(house, vec![key]).await?.is_empty() {
                house.darkroom.remove(key).await?;
                gone += 1;
            }
        }
    }
    Ok(gone)
}

async fn unwanted(house: &House, keys: Vec<PhotoKey>) -> Result<Vec<PhotoKey>, Trouble> {
    let since = house.now().plus_ms(-AGE_MS);
    house
        .db
        .read(move |db| {
            let named: Vec<(PhotoKey, PhotoId)> =
                keys.into_iter().filter_map(|key| key.to_string().parse().ok().map(|id| (key, id))).collect();
            let ids: Vec<PhotoId> = named.iter().map(|(_, id)| *id).collect();
            let wanted = photos::wanted(db, &ids, since)?;
            let of_procedures = pictures::wanted(db, &ids, since)?;
            let unwanted =
                named.into_iter().filter(|(_, id)| !wanted.contains(id) && !of_procedures.contains(id));
            Ok(unwanted.map(|(key, _)| key).collect())
        })
        .await
}

/// Sweeps the papers once; says how many files went. A paper is wanted as long as any sheet names it, one that was
/// replaced included.
///
/// # Errors
/// The disk or the database refuses.
pub async fn sweep_papers(house: &House) -> Result<usize, Trouble> {
    let before = Clock::Machine.now().plus_ms(-AGE_MS).millis();
    let papers = Papers::in_folder(house.settings.data.join("papers"));
    let looking = papers.clone();
    let old = blocking(move || looking.older_than(before)).await?;
    let mut gone = 0;
    for some in old.chunks(AT_ONCE) {
        let names: Vec<String> = some.iter().filter_map(|lying| lying.sha256.clone()).collect();
        let wanted = house.db.read(move |db| sheets::papers_named(db, &names)).await?;
        let is_wanted = |lying: &&Lying| lying.sha256.as_ref().is_some_and(|name| wanted.contains(name));
        let unwanted: Vec<Lying> = some.iter().filter(|lying| !is_wanted(lying)).cloned().collect();
        let taking = papers.clone();
        gone += blocking(move || {
            unwanted.iter().try_fold(0, |gone, lying| Ok(gone + usize::from(taking.remove(lying, before)?)))
        })
        .await?;
    }
    Ok(gone)
}

async fn blocking<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, Trouble> + Send + 'static,
) -> Result<T, Trouble> {
    tokio::task::spawn_blocking(work)
        .await
        .map_err(|error| Trouble::broken("looking through the papers", error))?
}

/// Sweeps once a day until told to stop.
pub async fn daily(house: web::Data<House>, mut stopped: watch::Receiver<bool>) {
    let mut wait = FIRST;
    loop {
        tokio::select! {
            _ = stopped.wait_for(|stop| *stop) => return,
            () = tokio::time::sleep(wait) => {}
        }
        match sweep(&house).await {
            Ok(gone) => tracing::info!(gone, "swept the photo shelf"),
            Err(trouble) => tracing::error!(%trouble, "sweeping the photo shelf"),
        }
        match sweep_papers(&house).await {
            Ok(gone) => tracing::info!(gone, "swept the papers"),
            Err(trouble) => tracing::error!(%trouble, "sweeping the papers"),
        }
        wait = DAILY;
    }
}
