//! The handout: a procedure as the class reads it, in the version asked for or the one that holds, and as a file.

use actix_web::http::header;
use actix_web::{HttpResponse, web};
use serde::Serialize;

use crate::ids::{ClassId, PlateId, ProcedureId};
use crate::pages::answer::{Reply, see_other};
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::procedures::said::{StepSaid, Voice};
use crate::pages::procedures::{list_path, reading_path, writing_path};
use crate::store::plates::drafts;
use crate::store::plates::procedures::{self, Listed};
use crate::trade::procedure::step::spelled_minutes;
use crate::trade::procedure::{Charted, Procedure};
use crate::trade::spelled::Spelled as _;
use crate::trouble::Trouble;

#[derive(Serialize)]
struct VersionLink {
    number: i32,
    path: String,
    here: bool,
    kept: String,
}

#[derive(Serialize)]
struct View {
    name: String,
    surface: String,
    about: String,
    gum_limit: Option<String>,
    number: i32,
    newest: bool,
    versions: Vec<VersionLink>,
    steps: Vec<StepSaid>,
    any_time: Vec<StepSaid>,
    of_school: bool,
    /// The instructor's ways on.
    instructor: bool,
    list_path: String,
    writing_path: String,
    copy_path: String,
    file_path: String,
    class_path: String,
}

/// A version of a procedure a class may read.
struct Opened {
    listed: Listed,
    number: i32,
    procedure: std::sync::Arc<Charted>,
    topics: Vec<(String, String)>,
}

async fn open(ask: &InClass, id: ProcedureId) -> Result<Opened, Trouble> {
    let wanted = match ask.query("version") {
        Some(typed) => Some(typed.parse::<i32>().map_err(|_error| Trouble::NotFound)?),
        None => None,
    };
    let (class, house) = (ask.class(), ask.house.clone());
    ask.house
        .db
        .read(move |db| {
            let all = procedures::listed(db, class)?;
            let listed = all.into_iter().find(|one| one.id == id).ok_or(Trouble::NotFound)?;
            let version = match wanted {
                Some(number) => listed.versions.iter().find(|version| version.number == number),
                None => listed.versions.last(),
            };
            let (version, number) =
                version.map(|version| (version.id, version.number)).ok_or(Trouble::NotFound)?;
            let procedure = house.procedures.of(db, &[version])?.remove(&version).ok_or(Trouble::NotFound)?;
            Ok(Opened { listed, number, procedure, topics: drafts::topic_titles(db)? })
        })
        .await
}

/// A procedure as a handout.
pub async fn show(ask: InClass, ids: web::Path<(ClassId, ProcedureId)>) -> Reply {
    let (class, id) = ids.into_inner();
    let opened = open(&ask, id).await?;
    let (procedure, speech) = (&opened.procedure, &ask.house.speech);
    let path = reading_path(class, id);
    let pictures = format!("{path}/pictures");
    let voice = Voice { speech, procedure, topics: &opened.topics, pictures: &pictures, writing: None };
    let newest = opened.listed.versions.last().is_some_and(|version| version.number == opened.number);
    let versions = opened.listed.versions.iter().rev();
    let view = View {
        surface: speech.plain(&format!("classes-surface-{}", procedure.surface.word())),
        about: procedure.about.clone(),
        gum_limit: procedure.gum_limit_minutes.map(spelled_minutes),
        number: opened.number,
        newest,
        versions: versions
            .map(|version| VersionLink {
                number: version.number,
                path: format!("{path}?version={}", version.number),
                here: version.number == opened.number,
                kept: dates::day_with_year(version.created_at.local_date(ask.membership.zone)),
            })
            .collect(),
        steps: procedure.steps.iter().map(|step| voice.step(step)).collect(),
        any_time: procedure.any_time.iter().map(|step| voice.step(step)).collect(),
        of_school: opened.listed.of_school,
        instructor: ask.is_instructor(),
        list_path: list_path(&ask),
        writing_path: writing_path(class, id),
        copy_path: format!("{}/new?from={id}", list_path(&ask)),
        file_path: format!("{path}/file?version={}", opened.number),
        class_path: format!("/classes/{class}"),
        name: procedure.name.clone(),
    };
    ask.show("procedures/handout", &procedure.name, &view)
}

/// The version a plate keeps.
pub async fn of_plate(ask: InClass, ids: web::Path<(ClassId, PlateId)>) -> Reply {
    let ((class, plate), owner) = (ids.into_inner(), ask.owner());
    let (id, number) = ask.house.db.read(move |db| procedures::kept_by(db, class, plate, owner)).await?;
    Ok(see_other(format!("{}?version={number}", reading_path(class, id))))
}

/// A version as a file, to be brought in elsewhere. Pictures stay behind: they lie on this school's shelf.
pub async fn file(ask: InClass, ids: web::Path<(ClassId, ProcedureId)>) -> Reply {
    let opened = open(&ask, ids.into_inner().1).await?;
    let mut procedure = Procedure::clone(&opened.procedure);
    for step in procedure.steps.iter_mut().chain(&mut procedure.any_time) {
        step.pictures.clear();
    }
    let mut body = serde_json::to_string_pretty(&procedure)
        .map_err(|error| Trouble::broken("writing a procedure's file", error))?;
    body.push('\n');
    let name = crate::trade::procedure::writing::word_from(&procedure.name);
    let name = if name.is_empty() { "procedure" } else { name.as_str() };
    let disposition = format!("attachment; filename=\"{name}-{}.json\"", opened.number);
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, "application/json"))
        .insert_header((header::CONTENT_DISPOSITION, disposition))
        .insert_header((header::X_CONTENT_TYPE_OPTIONS, "nosniff"))
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .body(body))
}
