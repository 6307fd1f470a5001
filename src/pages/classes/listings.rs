//! The listings of a class: adding, changing, taking away.

use actix_web::web;
use serde::Serialize;

use crate::ids::ListingId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::classes::settings_path;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::speech::Speech;
use crate::speech::figures::figures;
use crate::store::Scope;
use crate::store::classes::listings::{self, Basis, Listing, ListingDraft};
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const FORM: &str = "classes-listing";

/// A listing in the table of settings.
#[derive(Serialize)]
pub(super) struct ListingView {
    id: ListingId,
    code: String,
    section: String,
    level: String,
    credits: String,
    basis: String,
}

pub(super) fn listing_view(listing: Listing, speech: &Speech) -> ListingView {
    ListingView {
        id: listing.id,
        code: listing.code,
        section: listing.section,
        level: listing.level,
        credits: figures(decimal_text(listing.credits_hundredths.into(), 2)),
        basis: basis_words(listing.basis.0, speech),
    }
}

fn basis_words(basis: Basis, speech: &Speech) -> String {
    speech.plain(&format!("classes-basis-{}", basis.word()))
}

#[derive(Serialize)]
struct View {
    form: Form,
    base: String,
    id: Option<ListingId>,
    bases: Vec<Choice>,
}

fn page(ask: &InClass, id: Option<ListingId>, form: Form, again: bool) -> Reply {
    let bases = Choice::of_words::<Basis>("classes-basis", &ask.house.speech);
    let view = View { form, base: settings_path(ask, ""), id, bases };
    let title = if id.is_some() { "classes-listing-change" } else { "classes-listing-add" };
    if again {
        ask.show_again("classes/listing", title, &view)
    } else {
        ask.show("classes/listing", title, &view)
    }
}

fn fresh(listing: &Listing, speech: &Speech) -> Form {
    Form::new(FORM)
        .with("code", &listing.code)
        .with("section", &listing.section)
        .with("level", &listing.level)
        .with("credits", decimal_text(listing.credits_hundredths.into(), 2))
        .with_choice("basis", listing.basis.0.word(), basis_words(listing.basis.0, speech))
        .with("version", listing.version.to_string())
}

fn read(filled: &Filled) -> Result<(ListingDraft, i64), Trouble> {
    let mut sheet = Sheet::new(filled);
    let draft = ListingDraft {
        code: sheet.text("code", 20),
        section: sheet.text("section", 20),
        level: sheet.text("level", 40),
        credits_hundredths: i32::try_from(sheet.decimal("credits", 2, 0..=3000)).unwrap_or(0),
        basis: sheet.choice("basis", Basis::Letter),
    };
    let version = sheet.maybe_whole("version", 1..=i64::MAX).unwrap_or(0);
    sheet.done()?;
    Ok((draft, version))
}

pub async fn new(ask: InClass) -> Reply {
    page(&ask, None, Form::new(FORM).with("basis", Basis::Letter.word()), false)
}

pub async fn add(ask: InClass, filled: Filled) -> Reply {
    let class = ask.class();
    let tried = match read(&filled) {
        Ok((draft, _)) => {
            let next = said(settings_path(&ask, ""), "done-listing-added");
            ask.act(Scope::Class(class), &filled, next, move |tx| tx.add_listing(class, &draft).map(drop))
                .await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => page(&ask, None, Form::after(FORM, &filled, trouble, &ask.house.speech)?, true),
        fine => fine,
    }
}

pub async fn edit(ask: InClass, path: web::Path<(String, ListingId)>) -> Reply {
    let (class, id) = (ask.class(), path.into_inner().1);
    let listing = ask.house.db.read(move |db| listings::listing(db, class, id)).await?;
    page(&ask, Some(id), fresh(&listing, &ask.house.speech), false)
}

pub async fn change(ask: InClass, path: web::Path<(String, ListingId)>, filled: Filled) -> Reply {
    let (class, id) = (ask.class(), path.into_inner().1);
    let tried = match read(&filled) {
        Ok((draft, version)) => {
            let next = said(settings_path(&ask, ""), "done-listing-changed");
            let act = move |tx: &mut crate::store::Tx<'_>| tx.change_listing(class, id, version, &draft);
            ask.act(Scope::Class(class), &filled, next, act).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => again(&ask, id, &filled, trouble).await,
        fine => fine,
    }
}

pub async fn remove(ask: InClass, path: web::Path<(String, ListingId)>, filled: Filled) -> Reply {
    let (class, id) = (ask.class(), path.into_inner().1);
    let next = said(settings_path(&ask, ""), "done-listing-removed");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.remove_listing(class, id)).await
}

async fn again(ask: &InClass, id: ListingId, filled: &Filled, trouble: Trouble) -> Reply {
    let class = ask.class();
    let stands = ask.house.db.read(move |db| listings::listing(db, class, id)).await?;
    let form = Form::after_save(filled, trouble, &fresh(&stands, &ask.house.speech), &ask.house.speech)?;
    page(ask, Some(id), form, true)
}
