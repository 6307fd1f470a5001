//! What brings the subjects together: Today, the class on one sheet, the list of plates, and a plate's own page.

pub mod along;
pub mod class;
pub mod course;
pub mod plate;
pub mod plates;
pub mod progress;
pub mod search;
pub mod square;
pub mod starts;
pub mod today;

use crate::clock::Instant;
use crate::ids::PersonId;
use crate::pages::entry::InClass;
use crate::store::connections::AnyConnection;
use crate::store::plates::folder::{Folder, Which, folders};
use crate::store::plates::plans::{self, Look};
use crate::store::plates::premises;
use crate::store::tonight::askings::{self, Line};
use crate::trouble::Trouble;

/// The plates of the class, or of one person in it, each judged, with its latest starts.
pub(crate) async fn looked_at(
    ask: &InClass,
    owner: Option<PersonId>,
) -> Result<Vec<(Folder, Look)>, Trouble> {
    let look = looking(ask, owner);
    ask.house.db.read(look).await
}

/// The same, and the line of those who ask for somebody, read at once.
pub(crate) async fn looked_at_with_line(
    ask: &InClass,
    owner: Option<PersonId>,
) -> Result<(Vec<(Folder, Look)>, Line), Trouble> {
    let (look, class, person, now) = (looking(ask, owner), ask.class(), ask.person.id, ask.now());
    ask.house.db.read(move |db| Ok((look(db)?, askings::line(db, class, person, now)?))).await
}

fn looking(
    ask: &InClass,
    owner: Option<PersonId>,
) -> impl FnOnce(&mut AnyConnection) -> Result<Vec<(Folder, Look)>, Trouble> + Send + use<> {
    let (class, studio, zone) = (ask.class(), ask.membership.studio, ask.membership.zone);
    let (house, now) = (ask.house.clone(), ask.now());
    move |db| {
        let folders = folders(db, &house.procedures, Which::Class(class), owner, studio, zone)?;
        let ground = premises::ground(db, studio, class, zone, now)?;
        let look = |folder: Folder| {
            let look = plans::look(&folder, &ground, now);
            (folder, look)
        };
        Ok(folders.into_iter().map(look).collect())
    }
}

/// How long until a moment, or since: “18 h”, “5 d”.
pub(crate) fn span(from: Instant, to: Instant) -> String {
    let minutes = (to.millis() - from.millis()).abs() / 60_000;
    match minutes {
        0..=119 => format!("{minutes}\u{a0}min"),
        120..=2879 => format!("{}\u{a0}h", minutes / 60),
        _ => format!("{}\u{a0}d", minutes / 1440),
    }
}
