//! The demo school's proof photos: drawn by the program, taken in like any photo, and laid on the shelf before the term
//! is written down. Drawing is the slowest part of the demo, so all cores do it.

use std::collections::HashMap;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use super::events::{Deed, Event};
use super::script::{Work, Works};
use crate::clock::Instant;
use crate::ids::{Id, PhotoId};
use crate::photos::drawn::{self, Drawing, Paper};
use crate::photos::picture::{self, Prepared};
use crate::photos::shelf::PhotoKey;
use crate::secrets::hex;
use crate::trade::etch::came_up::CameUp;
use crate::trouble::Trouble;

/// Pixels of the long side.
const LONG_SIDE: u16 = 800;

/// What the record keeps of a picture.
#[derive(Debug, Clone)]
pub(super) struct Taken {
    pub sha256: String,
    pub width: i32,
    pub height: i32,
    pub bytes: i64,
}

/// The pictures by work and pull.
#[derive(Debug, Default)]
pub(super) struct Pictures(HashMap<(usize, u32), (PhotoId, Taken)>);

impl Pictures {
    /// The picture of a pull, if one was drawn.
    pub(super) fn of(&self, work: usize, pull: u32) -> Option<(PhotoId, &Taken)> {
        self.0.get(&(work, pull)).map(|(id, taken)| (*id, taken))
    }
}

/// Draws what the events call for.
///
/// # Errors
/// A picture cannot be written; the shelf refuses.
pub(super) async fn draw_all(
    house: &crate::pages::House,
    events: &[Event],
    works: &Works,
    seed: u64,
) -> Result<Pictures, Trouble> {
    let mut wanted = Vec::new();
    for event in events {
        if let Deed::Proof { work, pull, .. } = event.deed
            && let Some(told) = works.works.get(work)
        {
            wanted.push((work, pull, event.at, drawing(told, work, pull, seed)));
        }
    }
    let (drawn, wanted) = tokio::task::spawn_blocking(move || (develop(&wanted), wanted))
        .await
        .map_err(|error| Trouble::broken("drawing the demo's pictures", error))?;
    let mut pictures = Pictures::default();
    for (prepared, (work, pull, at, _)) in drawn?.into_iter().zip(wanted) {
        let id: PhotoId = Id::stamped(at, house.db.chance().part()?);
        let taken = taken(&prepared);
        let key: PhotoKey = id
            .as_str()
            .parse()
            .map_err(|fault| Trouble::broken("naming a demo picture", format!("{fault:?}")))?;
        house.darkroom.put(key, prepared).await?;
        pictures.0.insert((work, pull), (id, taken));
    }
    Ok(pictures)
}

fn drawing(work: &Work, place: usize, pull: u32, seed: u64) -> Drawing {
    let number = u64::try_from(place).unwrap_or(0);
    // The trial shows what the first etch did; what the second mended, the edition no longer does.
    let seen = work.came_up.get("first-etch").filter(|_| pull == 2);
    let came_up = match seen {
        Some(CameUp::Burned | CameUp::Weak) => drawn::CameUp::Burned,
        Some(CameUp::FilledIn) => drawn::CameUp::FilledIn,
        Some(CameUp::BorderDirt) => drawn::CameUp::BorderDirt,
        Some(CameUp::BorderVeil) => drawn::CameUp::BorderVeil,
        _ => drawn::CameUp::Clean,
    };
    let paper = match place % 3 {
        0 => Paper::Cream,
        1 => Paper::White,
        _ => Paper::Buff,
    };
    let plate = seed.wrapping_mul(1000).wrapping_add(number);
    Drawing { pull, came_up, paper, long_side: LONG_SIDE, ..Drawing::new(plate, work.motif, work.hand) }
}

type Wanted = (usize, u32, Instant, Drawing);

/// Draws and prepares every picture, in order, on all cores.
fn develop(wanted: &[Wanted]) -> Result<Vec<Prepared>, Trouble> {
    let (next, done) = (AtomicUsize::new(0), Mutex::new(Vec::new()));
    let hands = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    std::thread::scope(|scope| {
        for _ in 0..hands {
            scope.spawn(|| {
                loop {
                    let place = next.fetch_add(1, Ordering::Relaxed);
                    let Some((_, _, _, drawing)) = wanted.get(place) else { return };
                    let prepared = take(drawing);
                    done.lock().unwrap_or_else(std::sync::PoisonError::into_inner).push((place, prepared));
                }
            });
        }
    });
    let mut all = done.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner);
    all.sort_by_key(|(place, _)| *place);
    all.into_iter().map(|(_, prepared)| prepared).collect()
}

pub(super) fn take(drawing: &Drawing) -> Result<Prepared, Trouble> {
    let file = drawn::draw(drawing)
        .jpeg()
        .map_err(|misfit| Trouble::broken("writing a demo picture", format!("{misfit:?}")))?;
    picture::prepare(&file).map_err(|fault| Trouble::broken("preparing a demo picture", format!("{fault:?}")))
}

pub(super) fn taken(prepared: &Prepared) -> Taken {
    let pixels = |side: u32| i32::try_from(side).unwrap_or(i32::MAX);
    Taken {
        sha256: hex(&prepared.sha256),
        width: pixels(prepared.width),
        height: pixels(prepared.height),
        bytes: i64::try_from(prepared.full.len()).unwrap_or(i64::MAX),
    }
}
