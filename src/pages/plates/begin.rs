//! Beginning a print with its first plate, another plate of it, or one in the place of a burned one.

use actix_web::web;
use serde_json::{Value, json};

use crate::ids::{ClassId, PlateId, PrintId};
use crate::pages::acts::said;
use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::store::Scope;
use crate::store::plates::folder::{self, SizeUnit, Weight};
use crate::store::plates::prints::{self, NewPlate, NewPrint};
use crate::store::plates::procedures;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// What a plate form offers: projects, procedures, units, weights.
async fn choices(ask: &InClass) -> Result<Value, Trouble> {
    let class = ask.class();
    let (projects, procedures) = ask
        .house
        .db
        .read(move |db| Ok((prints::projects(db, class)?, procedures::choices(db, class)?)))
        .await?;
    let option = |value: String, label: String| json!({ "value": value, "label": label });
    let words = |prefix: &str, all: Vec<&'static str>| -> Vec<Value> {
        all.into_iter()
            .map(|word| option(word.to_owned(), ask.house.speech.plain(&format!("{prefix}-{word}"))))
            .collect()
    };
    Ok(json!({
        "projects": projects.iter().map(|one| option(one.0.to_string(), one.1.clone())).collect::<Vec<_>>(),
        "procedures": procedures.iter().map(|one| option(one.id.to_string(), one.name.clone())).collect::<Vec<_>>(),
        "units": words("plates-unit", SizeUnit::ALL.iter().map(|unit| unit.word()).collect()),
        "weights": words("plates-weight", Weight::ALL.iter().map(|weight| weight.word()).collect()),
    }))
}

/// The form for a new print.
pub async fn print_form(ask: InClass) -> Reply {
    let mut form = Form::new("plates-new").with("size_unit", "cm").with("weight", "medium");
    if let Some(project) = ask.query("project") {
        form = form.with("project", project);
    }
    print_page(&ask, form, false).await
}

async fn print_page(ask: &InClass, form: Form, again: bool) -> Reply {
    let choices = choices(ask).await?;
    let none = choices.get("projects").and_then(Value::as_array).is_none_or(Vec::is_empty);
    let view = json!({ "form": form, "choices": choices, "none": none });
    if again {
        ask.show_again("plates/new-print", "plates-new", &view)
    } else {
        ask.show("plates/new-print", "plates-new", &view)
    }
}

/// Begins a print and its first plate.
pub async fn begin_print(ask: InClass, filled: Filled) -> Reply {
    match try_begin_print(&ask, &filled).await {
        Err(trouble) => {
            let form = Form::after("plates-new", &filled, trouble, &ask.house.speech)?;
            print_page(&ask, form, true).await
        }
        fine => fine,
    }
}

async fn try_begin_print(ask: &InClass, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let print = NewPrint {
        project: sheet.id("project"),
        person: ask.person.id,
        title: sheet.text("title", 120),
        edition_size: sheet.maybe_whole("edition_size", 1..=500).and_then(|size| i32::try_from(size).ok()),
    };
    let plate = read_plate(&mut sheet, None);
    sheet.done()?;
    let key = filled.once_key()?;
    let (class, owner) = (ask.class(), ask.owner());
    let location = ask
        .house
        .db
        .write(Scope::Class(class), Some(ask.person.id), ask.now(), move |tx| {
            tx.once(&key, |tx| {
                let id = tx.begin_print(class, &print)?;
                let plate = tx.begin_plate(class, id, owner, &plate)?;
                Ok(format!("/classes/{class}/plates/{plate}?done=done-print-begun"))
            })
        })
        .await?;
    Ok(see_other(location))
}

fn read_plate(sheet: &mut Sheet<'_>, replaces: Option<PlateId>) -> NewPlate {
    // Up to two metres, in hundredths of the unit.
    let side = |sheet: &mut Sheet<'_>, name: &str| {
        i32::try_from(sheet.decimal(name, 2, 100..=20_000)).unwrap_or(100)
    };
    NewPlate {
        procedure: sheet.id("procedure"),
        width_hundredths: side(sheet, "width"),
        height_hundredths: side(sheet, "height"),
        size_unit: sheet.choice("size_unit", SizeUnit::Centimetre),
        materials: sheet.text("materials", 200),
        weight: sheet.choice("weight", Weight::Medium),
        note: sheet.words("note", 1000),
        replaces,
    }
}

/// The form for another plate of a print; `?replaces=` names the plate whose place it takes.
pub async fn plate_form(ask: InClass, path: web::Path<(ClassId, PrintId)>) -> Reply {
    let (_, print) = path.into_inner();
    let replaces = ask.query("replaces").and_then(|text| text.parse::<PlateId>().ok());
    let mut form = Form::new("plates-new").with("size_unit", "cm").with("weight", "medium");
    if let Some(old) = replaces {
        let folder = folder_of(&ask, old).await?;
        form = form
            .with("replaces", old.to_string())
            .with("width", decimal_text(folder.row.width_hundredths.into(), 2))
            .with("height", decimal_text(folder.row.height_hundredths.into(), 2))
            .with("materials", folder.row.materials.as_str())
            .with("size_unit", folder.row.size_unit.0.word())
            .with("weight", folder.row.weight.0.word());
    }
    plate_page(&ask, print, form, false).await
}

async fn folder_of(ask: &InClass, id: PlateId) -> Result<folder::Folder, Trouble> {
    let at = super::at(ask, id);
    let house = ask.house.clone();
    ask.house
        .db
        .read(move |db| folder::folder(db, &house.procedures, at.class, id, at.owner, at.studio, at.zone))
        .await
}

async fn plate_page(ask: &InClass, print: PrintId, form: Form, again: bool) -> Reply {
    let (class, owner) = (ask.class(), ask.owner());
    let found = ask
        .house
        .db
        .read(move |db| prints::prints(db, class, Some(print), owner)?.pop().ok_or(Trouble::NotFound))
        .await?;
    let view = json!({ "form": form, "choices": choices(ask).await?, "print": print, "title": found.title });
    if again {
        ask.show_again("plates/new-plate", "plates-another", &view)
    } else {
        ask.show("plates/new-plate", "plates-another", &view)
    }
}

/// Begins another plate of a print.
pub async fn begin_plate(ask: InClass, path: web::Path<(ClassId, PrintId)>, filled: Filled) -> Reply {
    let (_, print) = path.into_inner();
    match try_begin_plate(&ask, print, &filled).await {
        Err(trouble) => {
            let form = Form::after("plates-new", &filled, trouble, &ask.house.speech)?;
            plate_page(&ask, print, form, true).await
        }
        fine => fine,
    }
}

async fn try_begin_plate(ask: &InClass, print: PrintId, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let replaces = sheet.maybe_id("replaces");
    let plate = read_plate(&mut sheet, replaces);
    let (class, owner) = (ask.class(), ask.owner());
    // Somebody else's print is not there, whatever was typed.
    ask.house
        .db
        .read(move |db| prints::prints(db, class, Some(print), owner)?.pop().ok_or(Trouble::NotFound))
        .await?;
    sheet.done()?;
    let key = filled.once_key()?;
    let location = ask
        .house
        .db
        .write(Scope::Class(class), Some(ask.person.id), ask.now(), move |tx| {
            tx.once(&key, |tx| {
                let plate = tx.begin_plate(class, print, owner, &plate)?;
                Ok(format!("/classes/{class}/plates/{plate}?done=done-plate-begun"))
            })
        })
        .await?;
    Ok(see_other(location))
}

/// Hands a print in, or takes it back.
pub async fn hand_in(ask: InClass, path: web::Path<(ClassId, PrintId)>, filled: Filled) -> Reply {
    let (class, print) = path.into_inner();
    let back = Sheet::new(&filled).tick("back");
    let owner = ask.owner();
    let key = if back { "done-taken-back-print" } else { "done-handed-in" };
    let next = said(format!("/classes/{class}/plates"), key);
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.hand_in(class, print, owner, back)).await
}
