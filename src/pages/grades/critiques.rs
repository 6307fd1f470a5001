//! Critique notes: begun for a project, written line by line as the prints hang, handed back in one act.

use actix_web::web;
use serde_json::{Value, json};

use crate::ids::{ClassId, CritiqueId, PrintId, ProjectId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::grades::say;
use crate::speech::dates;
use crate::store::Scope;
use crate::store::grades::critiques::{self, Critique, Hang, Note};
use crate::store::plates::prints;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const BEGIN: &str = "critique-begin";
const FORM: &str = "critique-notes";

fn base(ask: &InClass) -> String {
    format!("/classes/{}/critiques", ask.class())
}

/// All critiques, and the form to begin one.
pub async fn list(ask: InClass) -> Reply {
    let today = ask.now().local_date(ask.membership.zone).to_string();
    list_page(&ask, Form::new(BEGIN).with("held_on", today), false).await
}

async fn list_page(ask: &InClass, form: Form, again: bool) -> Reply {
    let class = ask.class();
    let (all, projects) = ask
        .house
        .db
        .read(move |db| Ok((critiques::critiques(db, class)?, prints::projects(db, class)?)))
        .await?;
    let rows: Vec<Value> = all
        .iter()
        .map(|one| {
            json!({
                "path": format!("{}/{}", base(ask), one.id), "title": one.project_title,
                "day": dates::day(one.held_on), "open": one.handed_back_at.is_none(),
            })
        })
        .collect();
    let projects: Vec<Choice> =
        projects.iter().map(|(id, title)| Choice::new(id.to_string(), title.as_str())).collect();
    let view = json!({
        "class_path": format!("/classes/{class}"), "base": base(ask), "rows": rows, "projects": projects,
        "form": form,
    });
    if again {
        ask.show_again("grades/critiques", "critiques-title", &view)
    } else {
        ask.show("grades/critiques", "critiques-title", &view)
    }
}

/// Begins one.
pub async fn begin(ask: InClass, filled: Filled) -> Reply {
    let outcome = async {
        let mut sheet = Sheet::new(&filled);
        let project: ProjectId = sheet.id("project");
        let held_on = sheet.date("held_on");
        sheet.done()?;
        let (class, base) = (ask.class(), base(&ask));
        let act = move |tx: &mut crate::store::Tx<'_>| {
            tx.begin_critique(class, project, held_on).map(|id| format!("{base}/{id}"))
        };
        ask.act_to(Scope::Class(class), &filled, act).await
    };
    match outcome.await {
        Err(trouble) => {
            let form = Form::after(BEGIN, &filled, trouble, &ask.house.speech)?;
            list_page(&ask, form, true).await
        }
        fine => fine,
    }
}

async fn load(ask: &InClass, id: CritiqueId) -> Result<(Critique, Vec<Note>), Trouble> {
    let class = ask.class();
    ask.house.db.read(move |db| critiques::with_notes(db, class, id)).await
}

/// The lines in hanging order.
pub async fn page(ask: InClass, path: web::Path<(ClassId, CritiqueId)>) -> Reply {
    let (one, notes) = load(&ask, path.into_inner().1).await?;
    let form = fresh(&one, &notes);
    show(&ask, &one, &notes, form, false)
}

fn fresh(one: &Critique, notes: &[Note]) -> Form {
    let form = Form::new(FORM).with("version", one.version.to_string());
    notes.iter().fold(form, |form, note| form.with(&format!("words-{}", note.print), note.words.as_str()))
}

fn full_name(note: &Note) -> String {
    format!("{} {}", note.given_name, note.family_name)
}

fn show(ask: &InClass, one: &Critique, notes: &[Note], form: Form, again: bool) -> Reply {
    let speech = &ask.house.speech;
    let last = notes.len();
    let rows: Vec<Value> = (1..)
        .zip(notes)
        .map(|(number, note)| {
            json!({
                "number": number, "print": note.print, "title": note.title, "name": full_name(note),
                "field": format!("words-{}", note.print), "words": note.words,
                "first": number == 1, "last": number == last,
            })
        })
        .collect();
    let view = json!({
        "base": base(ask), "path": format!("{}/{}", base(ask), one.id), "form": form, "rows": rows,
        "open": one.handed_back_at.is_none(), "written": notes.iter().any(|note| !note.words.is_empty()),
        "handed_back": one.handed_back_at.map(|at| say(speech, "grades-handed-back", "at", dates::moment(at, ask.membership.zone))),
        "day": dates::day(one.held_on),
    });
    let title = say(speech, "critique-of", "title", one.project_title.as_str());
    if again {
        ask.show_again("grades/critique", &title, &view)
    } else {
        ask.show("grades/critique", &title, &view)
    }
}

/// Keeps the lines; a button of a row also moves its print by one place.
pub async fn keep(ask: InClass, path: web::Path<(ClassId, CritiqueId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let outcome = async {
        let (seen, words) = read(&filled)?;
        let moved = filled.get("move").and_then(|typed| {
            let (hang, print) = typed.split_once(' ')?;
            Some((print.parse::<PrintId>().ok()?, Hang::from_word(hang)?))
        });
        let next = match moved {
            Some((print, _)) => format!("{}/{id}#print-{print}", base(&ask)),
            None => said(format!("{}/{id}", base(&ask)), "done-critique"),
        };
        let act = move |tx: &mut crate::store::Tx<'_>| tx.keep_critique(class, id, seen, &words, moved);
        ask.act(Scope::Class(class), &filled, next, act).await
    };
    match outcome.await {
        Err(trouble @ (Trouble::Complaints(_) | Trouble::Refused(_))) => {
            let (one, notes) = load(&ask, id).await?;
            let named = |field: &str| {
                let print = field.strip_prefix("words-")?;
                notes.iter().find(|note| note.print.to_string() == print).map(full_name)
            };
            // What stands is beside each line now, so saving again is a choice.
            let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?
                .naming(named)
                .with("version", one.version.to_string());
            show(&ask, &one, &notes, form, true)
        }
        other => other,
    }
}

fn read(filled: &Filled) -> Result<(i64, Vec<(PrintId, String)>), Trouble> {
    let mut sheet = Sheet::new(filled);
    let seen = sheet.whole("version", 1..=i64::MAX);
    let mut words = Vec::new();
    for print in filled.pairs.iter().filter_map(|(field, _)| field.strip_prefix("words-")) {
        let id: PrintId = print.parse().map_err(|_error| Trouble::NotFound)?;
        words.push((id, sheet.words(&format!("words-{print}"), 600)));
    }
    sheet.done()?;
    Ok((seen, words))
}

/// Hands the lines back.
pub async fn hand_back(ask: InClass, path: web::Path<(ClassId, CritiqueId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let next = said(format!("{}/{id}", base(&ask)), "done-handed-back");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.hand_back_critique(class, id).map(drop)).await
}
