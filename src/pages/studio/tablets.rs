//! Tablets of a studio: staff make one, open its address on the device that is to stand there, and withdraw it.

use actix_web::web;
use serde::Serialize;

use crate::ids::{ClassId, TabletId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::studio::studio_path;
use crate::store::studio::tablets::{self, Tablet};
use crate::store::{Scope, Tx};
use crate::trouble::Trouble;

const FORM: &str = "tablet";

#[derive(Serialize)]
struct View {
    form: Form,
    base: String,
    tablets: Vec<Line>,
}

#[derive(Serialize)]
struct Line {
    id: TabletId,
    name: String,
    made: String,
    by: String,
    /// Since when it stands there; None: its address was not opened yet.
    since: Option<String>,
    /// Where to open it, while that is possible.
    address: Option<String>,
    until: String,
}

fn line(ask: &InClass, tablet: Tablet) -> Line {
    let near = |at| dates::near(at, ask.now(), ask.membership.zone);
    let open = tablet.opened_at.is_none() && ask.now() < tablet.secret_until;
    let address = || {
        let secret = tablets::secret(&ask.house.key, tablet.id);
        format!("{}/tablet/open/{secret}", ask.house.settings.public_url)
    };
    Line {
        address: open.then(address),
        id: tablet.id,
        made: near(tablet.made_at),
        by: format!("{} {}", tablet.given_name, tablet.family_name),
        since: tablet.opened_at.map(near),
        until: near(tablet.secret_until),
        name: tablet.name,
    }
}

async fn page(ask: &InClass, form: Form, again: bool) -> Reply {
    let studio = ask.membership.studio;
    let found = ask.house.db.read(move |db| tablets::tablets(db, studio)).await?;
    let tablets = found.into_iter().map(|tablet| line(ask, tablet)).collect();
    let view = View { form, base: studio_path(ask, ""), tablets };
    if again {
        ask.show_again("studio/tablets", "tablet-list", &view)
    } else {
        ask.show("studio/tablets", "tablet-list", &view)
    }
}

/// The tablets of the class's studio.
pub async fn list(ask: InClass) -> Reply {
    page(&ask, Form::new(FORM), false).await
}

/// Makes one.
pub async fn add(ask: InClass, filled: Filled) -> Reply {
    match try_add(&ask, &filled).await {
        Err(trouble) => page(&ask, Form::after(FORM, &filled, trouble, &ask.house.speech)?, true).await,
        fine => fine,
    }
}

async fn try_add(ask: &InClass, filled: &Filled) -> Result<actix_web::HttpResponse, Trouble> {
    let mut sheet = Sheet::new(filled);
    let name = sheet.text("name", 60);
    sheet.done()?;
    let (studio, house) = (ask.membership.studio, ask.house.clone());
    let next = said(studio_path(ask, "/tablets"), "done-tablet-made");
    let act = move |tx: &mut Tx<'_>| tx.add_tablet(&house.key, studio, &name).map(drop);
    ask.act(Scope::School, filled, next, act).await
}

/// Withdraws one.
pub async fn withdraw(ask: InClass, ids: web::Path<(ClassId, TabletId)>, filled: Filled) -> Reply {
    let (studio, id) = (ask.membership.studio, ids.into_inner().1);
    let next = said(studio_path(&ask, "/tablets"), "done-tablet-withdrawn");
    ask.act(Scope::School, &filled, next, move |tx: &mut Tx<'_>| tx.withdraw_tablet(studio, id)).await
}
