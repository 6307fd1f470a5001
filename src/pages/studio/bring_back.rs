//! Bringing back what was just taken away from the studio: one tap on the page that comes after taking it away.

use crate::ids::Id;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::studio::studio_path;
use crate::spelled;
use crate::store::Scope;

spelled!(
    /// What was taken away.
    Gone { Opening = "opening", Closure = "closure", Extra = "extra", Station = "station" }
);

pub async fn bring_back(ask: InClass, filled: Filled) -> Reply {
    let studio = ask.membership.studio;
    let mut sheet = Sheet::new(&filled);
    let what = sheet.choice("what", Gone::Opening);
    let gone: Id<()> = sheet.id("gone");
    sheet.done()?;
    let part = if what == Gone::Station { "#stations" } else { "/hours" };
    let next = said(studio_path(&ask, part), "done-brought-back");
    ask.act(Scope::School, &filled, next, move |tx| match what {
        Gone::Opening => tx.bring_back_opening(studio, gone.of_kind()),
        Gone::Closure => tx.bring_back_closure(studio, gone.of_kind()),
        Gone::Extra => tx.bring_back_extra_opening(studio, gone.of_kind()),
        Gone::Station => tx.bring_back_station(studio, gone.of_kind()),
    })
    .await
}
