//! What runs out by itself: incompletes whose day is past lapse to the grade that was agreed on, each in an act of its own.

use std::sync::Arc;

use crate::clock::Instant;
use crate::speech::Speech;
use crate::store::grades::lapsing::run_out;
use crate::store::{Db, Scope};
use crate::trouble::Trouble;

/// Lets every incomplete lapse that has run out at `now`, and says how many did. Doing it twice, or on two servers at
/// once, lapses none twice.
///
/// # Errors
/// The database cannot be read or written.
pub async fn lapse(db: &Db, speech: &Arc<Speech>, now: Instant) -> Result<usize, Trouble> {
    let mut lapsed = 0;
    for one in db.read(move |db| run_out(db, now)).await? {
        let speech = speech.clone();
        let did = db
            .write(Scope::Class(one.class), None, now, move |tx| {
                tx.lapse(&one, &|remark| speech.remark(remark))
            })
            .await?;
        lapsed += usize::from(did);
    }
    Ok(lapsed)
}
