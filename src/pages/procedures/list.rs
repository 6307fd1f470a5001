//! The procedures of a class and of the school, and the three ways to one of the class's own: a copy, from nothing, from
//! a file.

use serde::Serialize;

use crate::ids::ProcedureId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::procedures::{list_path, reading_path, writing_path};
use crate::pages::upload::Upload;
use crate::store::plates::drafts;
use crate::store::plates::procedures::{self, Listed};
use crate::store::{Scope, Tx};
use crate::trade::procedure::brought::brought;
use crate::trade::procedure::check::LONGEST_NAME;
use crate::trade::procedure::{Procedure, Surface};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled as _;
use crate::trouble::{Complaint, Trouble};

const NEW: &str = "procedures-new";
const BROUGHT: &str = "procedures-brought";
/// Ten times the larger of the shipped ones.
const MOST_BYTES: usize = 300_000;
/// A class has no use for more, and a list of them could not be read.
const MOST: usize = 40;

#[derive(Serialize)]
struct VersionRow {
    number: i32,
    path: String,
    plates: i64,
}

#[derive(Serialize)]
struct Row {
    name: String,
    surface: String,
    of_school: bool,
    steps: Option<usize>,
    number: Option<i32>,
    versions: Vec<VersionRow>,
    draft: bool,
    path: Option<String>,
    edit: Option<String>,
    copy: String,
}

#[derive(Serialize)]
struct View {
    form: Form,
    base: String,
    settings: String,
    rows: Vec<Row>,
    thrown_away: Vec<ThrownAway>,
}

/// A draft that can be taken back.
#[derive(Serialize)]
struct ThrownAway {
    name: String,
    steps: i64,
    by: String,
    at: String,
    back: String,
}

/// All procedures the class can choose from or is writing.
pub async fn show(ask: InClass) -> Reply {
    page(&ask, Form::new(BROUGHT), false).await
}

async fn page(ask: &InClass, form: Form, again: bool) -> Reply {
    let (class, house) = (ask.class(), ask.house.clone());
    let (all, newest, thrown) = ask
        .house
        .db
        .read(move |db| {
            let all = procedures::listed(db, class)?;
            let ids: Vec<_> = all.iter().filter_map(|one| one.versions.last()).map(|last| last.id).collect();
            Ok((all, house.procedures.of(db, &ids)?, drafts::thrown_away(db, class)?))
        })
        .await?;
    let thrown_away = thrown.into_iter().map(|one| ThrownAway {
        steps: i64::try_from(one.steps).unwrap_or(i64::MAX),
        at: dates::near(one.at, ask.now(), ask.membership.zone),
        back: format!("{}/take-back", writing_path(class, one.id)),
        name: one.name,
        by: one.by,
    });
    let steps = |one: &Listed| {
        one.versions.last().and_then(|last| newest.get(&last.id)).map(|procedure| procedure.all().count())
    };
    let rows = all.iter().map(|one| row(ask, one, steps(one))).collect();
    let view = View {
        form,
        base: list_path(ask),
        settings: format!("/classes/{class}/settings"),
        rows,
        thrown_away: thrown_away.collect(),
    };
    if again {
        ask.show_again("procedures/list", "procedures-list", &view)
    } else {
        ask.show("procedures/list", "procedures-list", &view)
    }
}

/// The list with what is wrong about one of its rows.
pub(super) async fn refused(ask: &InClass, complaints: Vec<Complaint>) -> Reply {
    let of_all = complaints.into_iter().map(|complaint| Complaint::new("", complaint.remark)).collect();
    let form = Form::after(BROUGHT, &Filled::default(), Trouble::Complaints(of_all), &ask.house.speech)?;
    page(ask, form, true).await
}

fn row(ask: &InClass, one: &Listed, steps: Option<usize>) -> Row {
    let path = reading_path(ask.class(), one.id);
    let versions = one.versions.iter().rev().filter(|version| version.plates > 0);
    Row {
        name: one.name.clone(),
        surface: ask.house.speech.plain(&format!("classes-surface-{}", one.surface.word())),
        of_school: one.of_school,
        steps,
        number: one.versions.last().map(|last| last.number),
        versions: versions
            .map(|version| VersionRow {
                number: version.number,
                path: format!("{path}?version={}", version.number),
                plates: i64::try_from(version.plates).unwrap_or(i64::MAX),
            })
            .collect(),
        draft: one.draft,
        path: one.versions.last().map(|_| path.clone()),
        edit: (!one.of_school).then(|| writing_path(ask.class(), one.id)),
        copy: format!("{}/new?from={}", list_path(ask), one.id),
    }
}

#[derive(Serialize)]
struct NewView {
    form: Form,
    base: String,
    /// What is copied.
    from: Option<String>,
    surfaces: Vec<Choice>,
}

/// The form for a copy (`?from=`) or for a procedure from nothing.
pub async fn new(ask: InClass) -> Reply {
    let form = Form::new(NEW);
    match ask.query("from") {
        None => new_page(&ask, form, None, false),
        Some(from) => {
            let from = from.parse().map_err(|_error| Trouble::NotFound)?;
            let procedure = source(&ask, from).await?;
            let form = form.with("from", from.to_string());
            new_page(&ask, form, Some(procedure.name.clone()), false)
        }
    }
}

fn new_page(ask: &InClass, form: Form, from: Option<String>, again: bool) -> Reply {
    let title = if from.is_some() { "procedures-copy" } else { "procedures-new" };
    let surfaces = Choice::of_words::<Surface>("classes-surface", &ask.house.speech);
    let view = NewView { form, base: list_path(ask), from, surfaces };
    if again {
        ask.show_again("procedures/new", title, &view)
    } else {
        ask.show("procedures/new", title, &view)
    }
}

/// The version that holds of a procedure the class can choose.
async fn source(ask: &InClass, id: ProcedureId) -> Result<Procedure, Trouble> {
    let (class, house) = (ask.class(), ask.house.clone());
    ask.house
        .db
        .read(move |db| {
            let all = procedures::listed(db, class)?;
            let listed = all.iter().find(|one| one.id == id).ok_or(Trouble::NotFound)?;
            let version = listed.versions.last().map(|last| last.id).ok_or(Trouble::NotFound)?;
            let found = house.procedures.of(db, &[version])?;
            found.get(&version).map(|procedure| Procedure::clone(procedure)).ok_or(Trouble::NotFound)
        })
        .await
}

/// Makes a copy, or begins a procedure from nothing.
pub async fn add(ask: InClass, filled: Filled) -> Reply {
    let from = match filled.get("from").filter(|from| !from.is_empty()) {
        None => None,
        Some(from) => Some(source(&ask, from.parse().map_err(|_error| Trouble::NotFound)?).await?),
    };
    let copied = from.as_ref().map(|procedure| procedure.name.clone());
    match try_add(&ask, from, &filled).await {
        Err(trouble) => {
            let form = Form::after(NEW, &filled, trouble, &ask.house.speech)?;
            new_page(&ask, form, copied, true)
        }
        fine => fine,
    }
}

async fn try_add(ask: &InClass, from: Option<Procedure>, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let name = sheet.text("name", LONGEST_NAME);
    let blank = match &from {
        None => Some(sheet.choice("surface", Surface::Plate)),
        Some(_) => None,
    };
    sheet.done()?;
    let class = ask.class();
    ask.act_to(Scope::Class(class), filled, move |tx| {
        room_for_one(tx, class)?;
        let (id, word) = match (&from, blank) {
            (Some(from), _) => {
                let mut copy = from.clone();
                copy.name.clone_from(&name);
                (tx.copy_procedure(class, &copy)?, "done-procedure-copied")
            }
            (None, surface) => {
                let blank = Procedure::blank(name.as_str(), surface.unwrap_or(Surface::Plate));
                (tx.begin_procedure(class, &blank)?, "done-procedure-begun")
            }
        };
        Ok(said(writing_path(class, id), word))
    })
    .await
}

fn room_for_one(tx: &mut Tx<'_>, class: crate::ids::ClassId) -> Result<(), Trouble> {
    if drafts::own(tx.connection, class)? < MOST {
        return Ok(());
    }
    let most = i64::try_from(MOST).unwrap_or(i64::MAX);
    Err(Trouble::Refused(Remark::new("procedures-full").with("most", most)))
}

/// Brings a procedure in from a file; it becomes a draft.
pub async fn bring(ask: InClass, upload: Upload<MOST_BYTES>) -> Reply {
    let (filled, file) = upload.fit();
    let tried = match file {
        Ok(file) => try_bring(&ask, &filled, file.map(|file| file.bytes)).await,
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => {
            let form = Form::after(BROUGHT, &filled, trouble, &ask.house.speech)?;
            page(&ask, form, true).await
        }
        fine => fine,
    }
}

async fn try_bring(ask: &InClass, filled: &Filled, file: Option<Vec<u8>>) -> Reply {
    let about = |remark| Trouble::about("file", remark);
    let bytes = file.ok_or_else(|| about(Remark::new("procedures-no-file")))?;
    let text = String::from_utf8(bytes).map_err(|_error| about(Remark::new("procedures-not-utf8")))?;
    let mut new = brought(&text).map_err(about)?;
    new.name = new.name.trim().to_owned();
    if new.name.is_empty() || new.name.chars().count() > LONGEST_NAME {
        let remark = Remark::new("procedure-check-name").with("value", new.name);
        return Err(about(remark.with("longest", i64::try_from(LONGEST_NAME).unwrap_or(i64::MAX))));
    }
    // What a file calls a picture is no picture of this school.
    for step in new.steps.iter_mut().chain(&mut new.any_time) {
        step.pictures.clear();
    }
    let class = ask.class();
    ask.act_to(Scope::Class(class), filled, move |tx| {
        room_for_one(tx, class)?;
        let id = tx.begin_procedure(class, &new).map_err(|trouble| match trouble {
            Trouble::Complaints(complaints) => Trouble::Complaints(
                complaints.into_iter().map(|complaint| Complaint::new("file", complaint.remark)).collect(),
            ),
            other => other,
        })?;
        Ok(said(writing_path(class, id), "done-procedure-brought"))
    })
    .await
}
