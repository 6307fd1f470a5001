//! One log: what was mixed, its strength, how it came up, and how the log was corrected.

use actix_web::web;
use serde::Serialize;

use crate::ids::{ClassId, EtchId, PlateId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::etches::path;
use crate::pages::etches::shown::{Shown, shown};
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::mixing::outcome::{how_long, row_words};
use crate::pages::mixing::reading::row_for;
use crate::pages::plates;
use crate::store::classes::etch_table::{Row, etch_table};
use crate::store::etches::came_up::Told;
use crate::store::etches::logs::{self, Log};
use crate::store::plates::folder::{Folder, folder};
use crate::store::{Scope, Tx};
use crate::trade::etch::came_up::CameUp;
use crate::trade::etch::cautions::{Place, cautions};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// The form that asks how an etch came up.
pub const CAME_UP: &str = "etches-came-up";

/// A plate and one of its logs, all entries of it, the one that stands first.
pub(super) async fn find(ask: &InClass, plate: PlateId, etch: EtchId) -> Result<(Folder, Vec<Log>), Trouble> {
    let (at, house) = (plates::at(ask, plate), ask.house.clone());
    ask.house
        .db
        .read(move |db| {
            let folder = folder(db, &house.procedures, at.class, at.plate, at.owner, at.studio, at.zone)?;
            let chain = logs::chain(db, at.class, at.plate, at.owner, etch)?;
            Ok((folder, chain))
        })
        .await
}

#[derive(Serialize)]
struct View {
    form: Form,
    log: Shown,
    /// Earlier entries, the newest first.
    earlier: Vec<Shown>,
    cautions: Vec<String>,
    hows: Vec<Choice>,
    may_act: bool,
    staff: bool,
    class_path: String,
    /// What the plate is drawn with, and how heavily.
    materials: String,
    weight: String,
    /// What the class's table has for that drawing.
    table: Option<String>,
}

async fn page(ask: &InClass, folder: &Folder, chain: &[Log], form: Form, again: bool) -> Reply {
    let class = ask.class();
    let (_, rows) = ask.house.db.read(move |db| etch_table(db, class)).await?;
    let (log, earlier) = chain.split_first().ok_or(Trouble::NotFound)?;
    let title = folder
        .procedure
        .find(&log.entry.step_key)
        .map_or_else(|| log.entry.step_key.clone(), |step| step.title.clone());
    let place = Place { surface: folder.row.surface.0, window: None };
    let mix = log.entry.poured.mix();
    let care = match (mix.recipe(), mix.strength()) {
        (Ok(recipe), Ok(strength)) => cautions(&recipe, &strength, &place),
        _ => Vec::new(),
    };
    let view = View {
        form,
        log: shown(ask, log, &title),
        earlier: earlier.iter().map(|log| shown(ask, log, &title)).collect(),
        cautions: care.iter().map(|caution| ask.house.speech.remark(&caution.remark())).collect(),
        hows: Choice::of_words::<CameUp>("etches-how", &ask.house.speech),
        may_act: folder.row.person.id == ask.person.id || ask.is_instructor(),
        staff: ask.is_staff(),
        class_path: format!("/classes/{class}"),
        materials: folder.row.materials.clone(),
        weight: ask.house.speech.plain(&format!("plates-weight-{}", folder.row.weight.0.word())),
        table: of_table(ask, folder, &rows),
    };
    if again {
        ask.show_again("etches/log", "etches-log", &view)
    } else {
        ask.show("etches/log", "etches-log", &view)
    }
}

/// The row of the class's table that the drawing asks for, as it stands today; one that is a guess says so.
fn of_table(ask: &InClass, folder: &Folder, rows: &[Row]) -> Option<String> {
    let (row, speech) = (&folder.row, &ask.house.speech);
    let (found, sure) = row_for(rows, row.surface.0.word(), row.weight.0.word(), &row.materials)?;
    let applications = speech.remark(&how_long(found));
    let key = if sure { "etches-table-row" } else { "etches-table-row-guess" };
    Some(
        speech.remark(&Remark::new(key).with("row", row_words(found, speech)).with("how_long", applications)),
    )
}

/// What stands about how it came up.
fn fresh(ask: &InClass, chain: &[Log]) -> Form {
    let seen = chain.first().and_then(|log| log.came_up.as_ref());
    let form = Form::new(CAME_UP)
        .with("note", seen.map(|seen| seen.note.clone()).unwrap_or_default())
        .with("version", seen.map(|seen| seen.id.to_string()).unwrap_or_default());
    match seen.map(|seen| seen.how.0.word()) {
        Some(word) => form.with_choice("how", word, ask.house.speech.plain(&format!("etches-how-{word}"))),
        None => form.with("how", ""),
    }
}

/// The page of a log.
pub async fn show(ask: InClass, ids: web::Path<(ClassId, PlateId, EtchId)>) -> Reply {
    let (_, plate, etch) = ids.into_inner();
    let (folder, chain) = find(&ask, plate, etch).await?;
    let form = fresh(&ask, &chain);
    page(&ask, &folder, &chain, form, false).await
}

/// Stores how an etch came up, or corrects it.
pub async fn came_up(ask: InClass, ids: web::Path<(ClassId, PlateId, EtchId)>, filled: Filled) -> Reply {
    let (_, plate, etch) = ids.into_inner();
    let (folder, chain) = find(&ask, plate, etch).await?;
    let mut sheet = Sheet::new(&filled);
    let how = sheet.choice("how", CameUp::AsDrawn);
    let note = sheet.words("note", 500);
    let stands = sheet.maybe_id("version");
    let tried = match sheet.done() {
        Ok(()) => {
            let told = Told { how, note, at: ask.now() };
            let (at, house) = (plates::at(&ask, plate), ask.house.clone());
            let back = match filled.get("back") {
                Some("log") => path(&ask, plate, etch),
                _ => plates::path(&ask, plate),
            };
            let act =
                move |tx: &mut Tx<'_>| tx.tell_came_up(&house.procedures, &at, etch, stands, &told).map(drop);
            ask.act(Scope::Class(ask.class()), &filled, said(back, "done-etch-came-up"), act).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => {
            let stands = match trouble {
                Trouble::Stale(_) => find(&ask, plate, etch).await?.1,
                _ => chain.clone(),
            };
            let form = Form::after_save(&filled, trouble, &fresh(&ask, &stands), &ask.house.speech)?;
            page(&ask, &folder, &stands, form, true).await
        }
        fine => fine,
    }
}
