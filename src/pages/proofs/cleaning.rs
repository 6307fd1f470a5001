//! The sweep of the photo shelf: files that no row names, because a crash came between them and their row, or because
//! the proof was removed a week ago. Nothing younger than a week is touched, and each is asked about again just before it
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
            let of_procedures = pictures::wanted(db, &ids)?;
            let unwanted =
                named.into_iter().filter(|(_, id)| !wanted.contains(id) && !of_procedures.contains(id));
            Ok(unwanted.map(|(key, _)| key).collect())
        })
        .await
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
        wait = DAILY;
    }
}
