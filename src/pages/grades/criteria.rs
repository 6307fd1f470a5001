//! The criteria of a class: written, brought along from an earlier class, and taken away while no assessment uses them.

use actix_web::web;
use serde::Serialize;
use serde_json::{Value, json};

use crate::ids::{ClassId, CriterionId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::pages::grades::say;
use crate::store::Scope;
use crate::store::classes::carrying;
use crate::store::grades::criteria::{self, Criterion, CriterionDraft};
use crate::trade::criteria::{ALL_BP, Level};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const FORM: &str = "criteria-facts";
/// Levels a criterion can have on its form.
const ROWS: usize = 6;

/// A criterion on the list.
#[derive(Serialize)]
struct Line {
    path: String,
    title: String,
    about: String,
    levels: Vec<Value>,
}

fn base(ask: &InClass) -> String {
    format!("/classes/{}/criteria", ask.class())
}

/// All criteria, and how to begin.
pub async fn list(ask: InClass) -> Reply {
    let (class, person) = (ask.class(), ask.person.id);
    let (all, mut sources) = ask
        .house
        .db
        .read(move |db| Ok((criteria::criteria(db, class)?, carrying::sources(db, Some(person))?)))
        .await?;
    sources.retain(|source| source.id != class);
    let percent =
        |bp: i32| say(&ask.house.speech, "grades-of-percent", "percent", decimal_text(bp.into(), 2));
    let lines: Vec<Line> = all
        .iter()
        .map(|one| Line {
            path: format!("{}/{}", base(&ask), one.id),
            title: one.title.clone(),
            about: one.about.clone(),
            levels: one
                .levels
                .iter()
                .map(|level| {
                    json!({ "title": level.title, "share": percent(level.share_bp), "words": level.descriptor })
                })
                .collect(),
        })
        .collect();
    let sources: Vec<Choice> = sources
        .iter()
        .map(|one| Choice::new(one.id.to_string(), format!("{}, {}", one.code, one.term_name)))
        .collect();
    let view = json!({
        "class_path": format!("/classes/{class}"), "criteria": lines, "sources": sources,
        "form": Form::new("criteria-copy"),
    });
    ask.show("grades/criteria", "criteria-title", &view)
}

/// Takes over what the program proposes.
pub async fn begin_usual(ask: InClass, filled: Filled) -> Reply {
    let class = ask.class();
    let next = said(base(&ask), "done-criteria-brought");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.begin_usual_criteria(class).map(drop)).await
}

/// Copies those of an earlier class.
pub async fn copy(ask: InClass, filled: Filled) -> Reply {
    let mut sheet = Sheet::new(&filled);
    let from: ClassId = sheet.id("from");
    sheet.done()?;
    let (class, by) = (ask.class(), ask.person.id);
    let next = said(base(&ask), "done-criteria-brought");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.copy_criteria(class, from, by).map(drop)).await
}

/// The empty form.
pub async fn new(ask: InClass) -> Reply {
    form_page(&ask, None, Form::new(FORM), false)
}

/// Adds a criterion.
pub async fn add(ask: InClass, filled: Filled) -> Reply {
    let class = ask.class();
    let outcome = async {
        let draft = read(&filled)?;
        let next = said(base(&ask), "done-criterion");
        ask.act(Scope::Class(class), &filled, next, move |tx| tx.add_criterion(class, &draft).map(drop)).await
    };
    match outcome.await {
        Err(trouble) => form_page(&ask, None, after(&ask, &filled, trouble, None)?, true),
        fine => fine,
    }
}

/// The form of one that is there.
pub async fn edit(ask: InClass, path: web::Path<(ClassId, CriterionId)>) -> Reply {
    let standing = find(&ask, path.into_inner().1).await?;
    form_page(&ask, Some(&standing), fresh(&standing), false)
}

/// Rewrites one.
pub async fn change(ask: InClass, path: web::Path<(ClassId, CriterionId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let standing = find(&ask, id).await?;
    let outcome = async {
        let draft = read(&filled)?;
        let mut sheet = Sheet::new(&filled);
        let seen = sheet.whole("version", 1..=i64::MAX);
        sheet.done()?;
        let next = said(base(&ask), "done-criterion");
        let act = move |tx: &mut crate::store::Tx<'_>| tx.change_criterion(class, id, seen, &draft);
        ask.act(Scope::Class(class), &filled, next, act).await
    };
    match outcome.await {
        Err(trouble) => {
            let form = after(&ask, &filled, trouble, Some(&standing))?;
            form_page(&ask, Some(&standing), form, true)
        }
        fine => fine,
    }
}

/// Takes one away.
pub async fn remove(ask: InClass, path: web::Path<(ClassId, CriterionId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let next = said(base(&ask), "done-criterion-removed");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.remove_criterion(class, id)).await
}

async fn find(ask: &InClass, id: CriterionId) -> Result<Criterion, Trouble> {
    let class = ask.class();
    ask.house.db.read(move |db| criteria::criterion_of(db, class, id)).await
}

fn fresh(standing: &Criterion) -> Form {
    let form = Form::new(FORM)
        .with("title", standing.title.as_str())
        .with("about", standing.about.as_str())
        .with("version", standing.version.to_string());
    standing.levels.iter().enumerate().fold(form, |form, (place, level)| {
        form.with(&format!("level-{place}"), level.title.as_str())
            .with(&format!("share-{place}"), decimal_text(level.share_bp.into(), 2))
            .with(&format!("words-{place}"), level.descriptor.as_str())
    })
}

/// A row with nothing in it is no level; what stands in a row without a share is complained about.
fn read(filled: &Filled) -> Result<CriterionDraft, Trouble> {
    let mut sheet = Sheet::new(filled);
    let (title, about) = (sheet.text("title", 120), sheet.words("about", 1000));
    let mut levels = Vec::new();
    for place in 0..ROWS {
        let level_title = sheet.maybe_text(&format!("level-{place}"), 60).unwrap_or_default();
        let descriptor = sheet.words(&format!("words-{place}"), 500);
        let share = format!("share-{place}");
        let share_bp = sheet.maybe_decimal(&share, 2, 0..=i64::from(ALL_BP));
        if level_title.is_empty() && descriptor.is_empty() && share_bp.is_none() {
            continue;
        }
        if share_bp.is_none() {
            sheet.complain(&share, Remark::new("criteria-share-missing"));
        }
        let share_bp = share_bp.and_then(|bp| i32::try_from(bp).ok()).unwrap_or(0);
        levels.push(Level { title: level_title, descriptor, share_bp });
    }
    sheet.done()?;
    Ok(CriterionDraft { title, about, levels })
}

fn after(
    ask: &InClass,
    filled: &Filled,
    trouble: Trouble,
    standing: Option<&Criterion>,
) -> Result<Form, Trouble> {
    let speech = &ask.house.speech;
    let form = match standing {
        Some(standing) => Form::after_save(filled, trouble, &fresh(standing), speech)?,
        None => Form::after(FORM, filled, trouble, speech)?,
    };
    Ok(form.naming(|field| {
        let (_, place) = field.split_once('-')?;
        let number = place.parse::<i64>().ok()? + 1;
        Some(say(speech, "criteria-level-number", "number", number))
    }))
}

fn form_page(ask: &InClass, standing: Option<&Criterion>, form: Form, again: bool) -> Reply {
    let rows: Vec<Value> = (0..ROWS)
        .map(|place| {
            json!({
                "number": place + 1, "level": format!("level-{place}"), "share": format!("share-{place}"),
                "words": format!("words-{place}"),
            })
        })
        .collect();
    let id = standing.map(|one| one.id);
    let title = standing.map_or("criteria-new", |one| one.title.as_str());
    let view = json!({ "base": base(ask), "form": form, "id": id, "rows": rows });
    if again {
        ask.show_again("grades/criterion", title, &view)
    } else {
        ask.show("grades/criterion", title, &view)
    }
}
