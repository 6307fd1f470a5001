//! The ids another system gave what classes share: the keeper's page, where a wrong one is let go of.

use serde::Serialize;

use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::Ask;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::roster::ids;
use crate::store::Scope;
use crate::store::classes::outside::{self, Shared};
use crate::store::people::theirs::Kind;
use crate::trade::spelled::Spelled;

const PATH: &str = "/school/ids";

#[derive(Serialize)]
struct View {
    rows: Vec<Row>,
}

#[derive(Serialize)]
struct Row {
    what: String,
    kind: &'static str,
    name: String,
    ours: String,
    theirs: String,
}

/// All of them.
pub async fn page(ask: Ask) -> Reply {
    let shared = ask.house.db.read(outside::shared).await?;
    let row = |one: Shared| Row {
        what: ask.house.speech.plain(ids::name(one.kind)),
        kind: one.kind.word(),
        name: one.name,
        ours: one.ours,
        theirs: one.theirs,
    };
    ask.show("classes/outside", "outside-ids-title", &View { rows: shared.into_iter().map(row).collect() })
}

/// Lets go of one.
pub async fn let_go(ask: Ask, filled: Filled) -> Reply {
    let mut sheet = Sheet::new(&filled);
    let kind = sheet.choice("kind", Kind::Person);
    let (ours, seen) = (sheet.text("ours", 200), sheet.text("seen", 300));
    sheet.done()?;
    ask.act(Scope::School, &filled, said(PATH, "done-outside-id"), move |tx| {
        tx.let_go_of_theirs(kind, &ours, &seen)
    })
    .await
}
