//! The projects of a class: adding, changing, and moving a due date for everybody with a reason.

use actix_web::web;
use serde::Serialize;

use crate::ids::{PersonId, ProjectId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::classes::{full_name, settings_path};
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::reasons;
use crate::store::classes::dues::OwnDue;
use crate::store::classes::projects::{self, DueMove, ProcedureChoice, Project, ProjectDraft};
use crate::store::classes::{due_read, facts};
use crate::store::studio::OpenHours;
use crate::store::{Scope, Tx};
use crate::trouble::Trouble;

const FORM: &str = "classes-project";
const DUE: &str = "classes-due";

/// A project in the table of settings.
#[derive(Serialize)]
pub(super) struct ProjectView {
    id: ProjectId,
    title: String,
    due: String,
    /// Why the studio is closed on that day.
    closed: Option<String>,
    edition_asked: i32,
    procedure: String,
    moves: Vec<MoveView>,
    own: Vec<OwnView>,
}

#[derive(Serialize)]
pub(super) struct MoveView {
    from: String,
    to: String,
    who: String,
    reason: String,
}

#[derive(Serialize)]
pub(super) struct OwnView {
    pub person: PersonId,
    pub name: String,
    pub due: String,
    pub reason: String,
}

pub(super) fn own_views(own: &[OwnDue], project: ProjectId) -> Result<Vec<OwnView>, Trouble> {
    let of_project = own.iter().filter(|due| due.project == project);
    of_project
        .map(|due| {
            Ok(OwnView {
                person: due.person,
                name: full_name(&due.given_name, &due.family_name),
                due: dates::day_and_time(due_read(&due.due_local)?),
                reason: due.reason.clone(),
            })
        })
        .collect()
}

pub(super) fn move_views(moves: &[DueMove], project: ProjectId) -> Result<Vec<MoveView>, Trouble> {
    let of_project = moves.iter().filter(|due| due.project == project);
    of_project
        .map(|due| {
            Ok(MoveView {
                from: dates::day_and_time(due_read(&due.from_local)?),
                to: dates::day_and_time(due_read(&due.to_local)?),
                who: full_name(&due.given_name, &due.family_name),
                reason: due.reason.clone(),
            })
        })
        .collect()
}

pub(super) fn project_views(
    projects: Vec<Project>,
    moves: &[DueMove],
    own: &[OwnDue],
    hours: &OpenHours,
) -> Result<Vec<ProjectView>, Trouble> {
    projects
        .into_iter()
        .map(|project| {
            let due = project.due()?;
            Ok(ProjectView {
                due: dates::day_and_time(due),
                closed: hours.closure_on(due.date()).map(|closure| closure.reason.clone()),
                moves: move_views(moves, project.id)?,
                own: own_views(own, project.id)?,
                id: project.id,
                title: project.title,
                edition_asked: project.edition_asked,
                procedure: project.procedure_name,
            })
        })
        .collect()
}

#[derive(Serialize)]
struct View {
    form: Form,
    base: String,
    id: Option<ProjectId>,
    procedures: Vec<Choice>,
    /// The zone in which the due date is read.
    zone: String,
}

/// What a project's form is made of.
struct Loaded {
    procedures: Vec<Choice>,
    project: Option<Project>,
}

async fn load(ask: &InClass, id: Option<ProjectId>) -> Result<Loaded, Trouble> {
    let class = ask.class();
    let (offered, project) = ask
        .house
        .db
        .read(move |db| {
            let project = id.map(|id| projects::project(db, class, id)).transpose()?;
            Ok((projects::procedure_choices(db, class)?, project))
        })
        .await?;
    let speech = &ask.house.speech;
    let called = |choice: ProcedureChoice| {
        let surface = speech.plain(&format!("classes-surface-{}", choice.surface));
        let of = if choice.of_school { "classes-procedure-of-school" } else { "classes-procedure-of-class" };
        Choice::new(choice.id.to_string(), format!("{} ({surface}, {})", choice.name, speech.plain(of)))
    };
    Ok(Loaded { procedures: offered.into_iter().map(called).collect(), project })
}

fn page(ask: &InClass, loaded: Loaded, form: Form, again: bool) -> Reply {
    let id = loaded.project.map(|project| project.id);
    let title = if id.is_some() { "classes-project-change" } else { "classes-project-add" };
    let view = View {
        form,
        base: settings_path(ask, ""),
        id,
        procedures: loaded.procedures,
        zone: ask.membership.zone.name().to_owned(),
    };
    if again {
        ask.show_again("classes/project", title, &view)
    } else {
        ask.show("classes/project", title, &view)
    }
}

fn fresh(project: &Project) -> Form {
    Form::new(FORM)
        .with("title", &project.title)
        .with("brief", &project.brief)
        .with("edition_asked", project.edition_asked.to_string())
        .with_choice("procedure", project.procedure.to_string(), &project.procedure_name)
        .with("version", project.version.to_string())
}

fn read(sheet: &mut Sheet<'_>) -> ProjectDraft {
    ProjectDraft {
        title: sheet.text("title", 120),
        brief: sheet.words("brief", 5000),
        edition_asked: i32::try_from(sheet.whole("edition_asked", 0..=500)).unwrap_or(0),
        procedure: sheet.id("procedure"),
    }
}

pub async fn new(ask: InClass) -> Reply {
    let loaded = load(&ask, None).await?;
    page(&ask, loaded, Form::new(FORM), false)
}

pub async fn add(ask: InClass, filled: Filled) -> Reply {
    match try_add(&ask, &filled).await {
        Err(trouble) => {
            let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?;
            page(&ask, load(&ask, None).await?, form, true)
        }
        fine => fine,
    }
}

async fn try_add(ask: &InClass, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let draft = read(&mut sheet);
    let due = sheet.local_time("due");
    sheet.done()?;
    let class = ask.class();
    let next = said(settings_path(ask, "#projects"), "done-project-added");
    let act = move |tx: &mut Tx<'_>| tx.add_project(class, &draft, due).map(drop);
    ask.act(Scope::Class(class), filled, next, act).await
}

pub async fn edit(ask: InClass, path: web::Path<(String, ProjectId)>) -> Reply {
    let loaded = load(&ask, Some(path.into_inner().1)).await?;
    let form = loaded.project.as_ref().map_or(Form::new(FORM), fresh);
    page(&ask, loaded, form, false)
}

pub async fn change(ask: InClass, path: web::Path<(String, ProjectId)>, filled: Filled) -> Reply {
    let id = path.into_inner().1;
    match try_change(&ask, id, &filled).await {
        Err(trouble) => {
            let loaded = load(&ask, Some(id)).await?;
            let stands = loaded.project.as_ref().map_or(Form::new(FORM), fresh);
            let form = Form::after_save(&filled, trouble, &stands, &ask.house.speech)?;
            page(&ask, loaded, form, true)
        }
        fine => fine,
    }
}

async fn try_change(ask: &InClass, id: ProjectId, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let draft = read(&mut sheet);
    let version = sheet.whole("version", 1..=i64::MAX);
    sheet.done()?;
    let class = ask.class();
    let next = said(settings_path(ask, "#projects"), "done-project-changed");
    let act = move |tx: &mut Tx<'_>| tx.change_project(class, id, version, &draft);
    ask.act(Scope::Class(class), filled, next, act).await
}

// ---- the due date for everybody ----

#[derive(Serialize)]
struct DueView {
    form: Form,
    base: String,
    id: ProjectId,
    title: String,
    due: String,
    zone: String,
    starts: String,
    ends: String,
    moves: Vec<MoveView>,
}

fn fresh_due(project: &Project) -> Form {
    Form::new(DUE).with("due", &project.due_local).with("version", project.version.to_string())
}

async fn due_page(ask: &InClass, id: ProjectId, refused: Option<(Filled, Trouble)>) -> Reply {
    let class = ask.class();
    let (facts, project, moves) = ask
        .house
        .db
        .read(move |db| {
            Ok((
                facts::class(db, class)?,
                projects::project(db, class, id)?,
                projects::due_moves(db, class, Some(id))?,
            ))
        })
        .await?;
    let speech = &ask.house.speech;
    let stands = fresh_due(&project);
    let again = refused.is_some();
    let form = match refused {
        Some((filled, trouble)) => Form::after_save(&filled, trouble, &stands, speech)?,
        None => stands,
    };
    let view = DueView {
        form,
        base: settings_path(ask, ""),
        id,
        due: dates::day_and_time(project.due()?),
        title: project.title,
        zone: facts.term.zone,
        starts: dates::day(facts.term.starts),
        ends: dates::day(facts.term.ends),
        moves: move_views(&moves, id)?,
    };
    if again {
        ask.show_again("classes/due", "classes-due-move", &view)
    } else {
        ask.show("classes/due", "classes-due-move", &view)
    }
}

pub async fn due(ask: InClass, path: web::Path<(String, ProjectId)>) -> Reply {
    due_page(&ask, path.into_inner().1, None).await
}

pub async fn move_due(ask: InClass, path: web::Path<(String, ProjectId)>, filled: Filled) -> Reply {
    let id = path.into_inner().1;
    match try_move_due(&ask, id, &filled).await {
        Err(trouble) => due_page(&ask, id, Some((filled, trouble))).await,
        fine => fine,
    }
}

async fn try_move_due(ask: &InClass, id: ProjectId, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let to = sheet.local_time("due");
    let reason = reasons::DUE.read(&mut sheet, &ask.house.speech);
    let version = sheet.whole("version", 1..=i64::MAX);
    sheet.done()?;
    let class = ask.class();
    let next = said(settings_path(ask, "#projects"), "done-due-moved");
    let act = move |tx: &mut Tx<'_>| tx.move_due(class, id, version, to, &reason);
    ask.act(Scope::Class(class), filled, next, act).await
}
