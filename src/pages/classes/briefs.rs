//! What the class is asked to make, as those read it who make it: the brief, when it is due and on whose clock, what
//! was moved and why. A student reads their own date and its reason; nobody else reads those here.

use actix_web::web;
use serde::Serialize;

use crate::ids::ProjectId;
use crate::pages::answer::Reply;
use crate::pages::classes::projects::{MoveView, move_views};
use crate::pages::dates;
use crate::pages::entry::{InClass, Seat};
use crate::store::classes::due_read;
use crate::store::classes::dues::{self, OwnDue};
use crate::store::classes::projects::{self, Project};
use crate::trouble::Trouble;

#[derive(Serialize)]
struct Line {
    id: ProjectId,
    title: String,
    due: String,
    own: bool,
    edition_asked: i32,
    procedure: String,
}

#[derive(Serialize)]
struct ListView {
    base: String,
    zone: String,
    projects: Vec<Line>,
}

fn line(project: &Project, own: &[OwnDue]) -> Result<Line, Trouble> {
    let own = own.iter().find(|due| due.project == project.id);
    let due = own.map_or_else(|| project.due(), |own| due_read(&own.due_local))?;
    Ok(Line {
        id: project.id,
        title: project.title.clone(),
        due: dates::day_and_time(due),
        own: own.is_some(),
        edition_asked: project.edition_asked,
        procedure: project.procedure_name.clone(),
    })
}

/// Everything the class is asked to make.
pub async fn list(ask: InClass) -> Reply {
    let (class, owner) = (ask.class(), ask.owner());
    let (projects, own) = ask
        .house
        .db
        .read(move |db| {
            let own = owner.map(|owner| dues::own_dues(db, class, Some(owner))).transpose()?;
            Ok((projects::projects(db, class)?, own.unwrap_or_default()))
        })
        .await?;
    let view = ListView {
        base: format!("/classes/{class}"),
        zone: ask.membership.zone.name().to_owned(),
        projects: projects.iter().map(|project| line(project, &own)).collect::<Result<_, _>>()?,
    };
    ask.show("classes/briefs", "classes-projects", &view)
}

#[derive(Serialize)]
struct View {
    base: String,
    id: ProjectId,
    title: String,
    brief: Vec<String>,
    due: String,
    /// The date of the class, where the person has one of their own.
    class_due: Option<String>,
    reason: Option<String>,
    zone: String,
    edition_asked: i32,
    procedure: String,
    moves: Vec<MoveView>,
    may_begin: bool,
    may_change: bool,
}

/// One project.
pub async fn page(ask: InClass, path: web::Path<(String, ProjectId)>) -> Reply {
    let (class, owner, id) = (ask.class(), ask.owner(), path.into_inner().1);
    let (project, moves, own) = ask
        .house
        .db
        .read(move |db| {
            let project = projects::project(db, class, id)?;
            let own = owner.map(|owner| dues::own_dues(db, class, Some(owner))).transpose()?;
            Ok((project, projects::due_moves(db, class, Some(id))?, own.unwrap_or_default()))
        })
        .await?;
    let line = line(&project, &own)?;
    let class_due = dates::day_and_time(project.due()?);
    let reason = own.into_iter().find(|due| due.project == id).map(|due| due.reason);
    let view = View {
        base: format!("/classes/{class}"),
        id,
        title: line.title,
        brief: project.brief.lines().filter(|one| !one.trim().is_empty()).map(str::to_owned).collect(),
        due: line.due,
        class_due: line.own.then_some(class_due),
        reason,
        zone: ask.membership.zone.name().to_owned(),
        edition_asked: project.edition_asked,
        procedure: line.procedure,
        moves: move_views(&moves, id)?,
        may_begin: ask.seat() == Seat::Student,
        may_change: ask.is_instructor(),
    };
    let title = view.title.clone();
    ask.show("classes/brief", &title, &view)
}
