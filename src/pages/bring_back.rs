//! On the page that comes after taking something away: the offer to bring it back.

use serde::Serialize;

use crate::ids::Id;
use crate::pages::entry::Ask;

/// What was just taken away and may be brought back: where that is sent, what it was, and its id.
#[derive(Debug, Serialize)]
pub(super) struct BringBack {
    path: String,
    what: &'static str,
    gone: Id<()>,
}

/// The words on the page that comes after taking something away, where bringing it back is sent, and what it was.
const TAKEN_AWAY: [(&str, &str, &str); 5] = [
    ("done-opening-removed", "studio/bring-back", "opening"),
    ("done-closure-removed", "studio/bring-back", "closure"),
    ("done-extra-removed", "studio/bring-back", "extra"),
    ("done-station-removed", "studio/bring-back", "station"),
    ("done-meeting-removed", "settings/meetings/bring-back", "meeting"),
];

/// What the page at hand offers, if it comes after taking something away. Whether it can be had is for the act to say.
pub(super) fn offer(ask: &Ask) -> Option<BringBack> {
    let place = ask.found.membership.as_ref()?;
    let (done, gone) = (ask.query("done")?, ask.query("gone")?.parse().ok()?);
    let (_, path, what) = TAKEN_AWAY.iter().find(|(word, _, _)| *word == done)?;
    Some(BringBack { path: format!("/classes/{}/{path}", place.class), what, gone })
}
