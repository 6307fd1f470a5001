//! Assessments: made, changed, and taken away while nobody was marked on them.

use actix_web::web;
use serde_json::{Value, json};

use crate::ids::{AssessmentId, ClassId};
use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::pages::grades::say;
use crate::store::Scope;
use crate::store::grades::assessments::{self, Assessment, AssessmentDraft};
use crate::store::grades::{categories, scores};
use crate::trouble::Trouble;

/// The most points an assessment can have, in hundredths.
pub(super) const MOST_POINTS: i64 = 10_000_000;

const FORM: &str = "grades-facts";

/// The empty form.
pub async fn new(ask: InClass) -> Reply {
    let form = Form::new(FORM).with("points", "100");
    form_page(&ask, None, form, false).await
}

/// Adds an assessment.
pub async fn add(ask: InClass, filled: Filled) -> Reply {
    let class = ask.class();
    let outcome = async {
        let draft = read(&filled)?;
        let key = filled.once_key()?;
        ask.house
            .db
            .write(Scope::Class(class), Some(ask.person.id), ask.now(), move |tx| {
                tx.once(&key, |tx| {
                    tx.add_assessment(class, &draft)?;
                    Ok(format!("/classes/{class}/grades?done=done-assessment"))
                })
            })
            .await
    };
    match outcome.await {
        Ok(location) => Ok(see_other(location)),
        Err(trouble) => {
            let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?;
            form_page(&ask, None, form, true).await
        }
    }
}

/// The form of an assessment that is there.
pub async fn edit(ask: InClass, path: web::Path<(ClassId, AssessmentId)>) -> Reply {
    let standing = find(&ask, path.into_inner().1).await?;
    let form = fresh(&ask, &standing).await?;
    form_page(&ask, Some(&standing), form, false).await
}

/// The form of an assessment as it stands.
async fn fresh(ask: &InClass, standing: &Assessment) -> Result<Form, Trouble> {
    let class = ask.class();
    let (categories, projects) = ask
        .house
        .db
        .read(move |db| Ok((categories::categories(db, class)?, assessments::projects(db, class)?)))
        .await?;
    let category = categories.iter().find(|one| one.id == standing.category).map(|one| one.title.as_str());
    let project = projects.iter().find(|one| Some(one.id) == standing.project).map(|one| one.title.as_str());
    let project_id = standing.project.map(|id| id.to_string()).unwrap_or_default();
    let form = Form::new(FORM)
        .with_choice("category", standing.category.to_string(), category.unwrap_or_default())
        .with_choice("project", project_id, project.unwrap_or_default())
        .with("title", standing.title.as_str())
        .with("points", decimal_text(standing.points_hundredths, 2))
        .with("version", standing.version.to_string());
    Ok(form.tick("extra_credit", standing.extra_credit))
}

/// Changes an assessment.
pub async fn change(ask: InClass, path: web::Path<(ClassId, AssessmentId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let standing = find(&ask, id).await?;
    let outcome = async {
        let draft = read(&filled)?;
        let mut sheet = Sheet::new(&filled);
        let seen = sheet.whole("version", 1..=i64::MAX);
        sheet.done()?;
        let key = filled.once_key()?;
        ask.house
            .db
            .write(Scope::Class(class), Some(ask.person.id), ask.now(), move |tx| {
                tx.once(&key, |tx| {
                    tx.change_assessment(class, id, seen, &draft)?;
                    Ok(format!("/classes/{class}/grades?done=done-assessment"))
                })
            })
            .await
    };
    match outcome.await {
        Ok(location) => Ok(see_other(location)),
        Err(trouble) => {
            let stands = fresh(&ask, &standing).await?;
            let form = Form::after_save(&filled, trouble, &stands, &ask.house.speech)?;
            form_page(&ask, Some(&standing), form, true).await
        }
    }
}

/// Takes an assessment away.
pub async fn remove(ask: InClass, path: web::Path<(ClassId, AssessmentId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let next = format!("/classes/{class}/grades?done=done-assessment-removed");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.remove_assessment(class, id)).await
}

pub(super) async fn find(ask: &InClass, id: AssessmentId) -> Result<Assessment, Trouble> {
    let class = ask.class();
    ask.house.db.read(move |db| assessments::assessment(db, class, id)).await
}

fn read(filled: &Filled) -> Result<AssessmentDraft, Trouble> {
    let mut sheet = Sheet::new(filled);
    let draft = AssessmentDraft {
        category: sheet.id("category"),
        project: sheet.maybe_id("project"),
        title: sheet.text("title", 120),
        points_hundredths: sheet.decimal("points", 2, 0..=MOST_POINTS),
        extra_credit: sheet.tick("extra_credit"),
    };
    sheet.done()?;
    Ok(draft)
}

async fn form_page(ask: &InClass, standing: Option<&Assessment>, form: Form, again: bool) -> Reply {
    let class = ask.class();
    let id = standing.map(|one| one.id);
    let (categories, projects, marked) = ask
        .house
        .db
        .read(move |db| {
            let marked = match id {
                Some(id) => !scores::history(db, class, Some(id), None)?.is_empty(),
                None => true,
            };
            Ok((categories::categories(db, class)?, assessments::projects(db, class)?, marked))
        })
        .await?;
    let option = |value: String, label: &str| json!({ "value": value, "label": label });
    let categories: Vec<Value> =
        categories.iter().map(|one| option(one.id.to_string(), &one.title)).collect();
    let projects: Vec<Value> = projects.iter().map(|one| option(one.id.to_string(), &one.title)).collect();
    let title = match standing {
        Some(one) => say(&ask.house.speech, "grades-facts", "title", one.title.as_str()),
        None => "grades-new-assessment".to_owned(),
    };
    let view = json!({
        "class_path": format!("/classes/{class}"), "form": form, "id": id, "may_go": !marked,
        "categories": categories, "projects": projects,
    });
    if again {
        ask.show_again("grades/assessment", &title, &view)
    } else {
        ask.show("grades/assessment", &title, &view)
    }
}
