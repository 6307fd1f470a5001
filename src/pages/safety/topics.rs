//! The checklists: which topics a class uses, what each assistant may witness, and a new version of a list.

use actix_web::web;
use serde::Serialize;
use serde_json::json;

use crate::ids::{ClassId, PersonId, TopicId};
use crate::pages::answer::{Reply, done};
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::store::Scope;
use crate::store::people::members;
use crate::store::people::sessions::Role;
use crate::store::safety::topics;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

#[derive(Serialize)]
struct Witness {
    value: String,
    name: String,
    ticked: bool,
}

#[derive(Serialize)]
struct Row {
    id: TopicId,
    title: String,
    number: i32,
    points: Vec<String>,
    used: bool,
    witnesses: Vec<Witness>,
}

/// Topics of the school, those the class uses ticked.
pub async fn page(ask: InClass) -> Reply {
    let class = ask.class();
    let (all, used, people, named) = ask
        .house
        .db
        .read(move |db| {
            Ok((
                topics::topics(db, None)?,
                topics::topics(db, Some(class))?,
                members::members(db, class)?,
                topics::named_witnesses(db, class)?,
            ))
        })
        .await?;
    let rows: Vec<Row> = all
        .into_iter()
        .map(|topic| Row {
            id: topic.id,
            number: topic.number,
            points: topic.points.into_iter().map(|point| point.words).collect(),
            used: used.iter().any(|one| one.id == topic.id),
            witnesses: people
                .iter()
                .filter(|member| member.role.0 == Role::Assistant)
                .map(|member| Witness {
                    value: format!("{}:{}", member.person, topic.id),
                    name: format!("{} {}", member.given_name, member.family_name),
                    ticked: named.contains(&(member.person, topic.id)),
                })
                .collect(),
            title: topic.title,
        })
        .collect();
    let view = json!({ "class_path": format!("/classes/{class}"), "rows": rows });
    ask.show("safety/topics", "safety-topics", &view)
}

/// Keeps which topics the class uses and who may witness.
pub async fn keep(ask: InClass, filled: Filled) -> Reply {
    let mut sheet = Sheet::new(&filled);
    let used: Vec<TopicId> = sheet.ids("topic");
    let mut witnesses: Vec<(PersonId, TopicId)> = Vec::new();
    for value in filled.all("witness") {
        let pair = value.split_once(':').and_then(|(a, b)| a.parse().ok().zip(b.parse().ok()));
        match pair {
            Some(pair) => witnesses.push(pair),
            None => sheet.complain("witness", Remark::new("form-no-choice").with("value", value)),
        }
    }
    sheet.done()?;
    let class = ask.class();
    ask.house
        .db
        .write(Scope::Class(class), Some(ask.person.id), ask.now(), move |tx| {
            tx.set_class_topics(class, &used, &witnesses)
        })
        .await?;
    Ok(done(format!("/classes/{class}/topics"), "done-topics"))
}

/// The page on which a checklist is written anew.
pub async fn edit_form(ask: InClass, path: web::Path<(ClassId, TopicId)>) -> Reply {
    let (_, id) = path.into_inner();
    let topic = find(&ask, id).await?;
    let points: Vec<&str> = topic.points.iter().map(|point| point.words.as_str()).collect();
    let form = Form::new("safety-topic")
        .with("introduction", topic.introduction.as_str())
        .with("points", points.join("\n"))
        .with("number", topic.number.to_string())
        .with_maybe("valid_days", topic.valid_days.map(|days| days.to_string()));
    edit_page(&ask, &topic, form, false)
}

async fn find(ask: &InClass, id: TopicId) -> Result<topics::Topic, Trouble> {
    ask.house
        .db
        .read(move |db| {
            topics::topics(db, None)?.into_iter().find(|topic| topic.id == id).ok_or(Trouble::NotFound)
        })
        .await
}

fn edit_page(ask: &InClass, topic: &topics::Topic, form: Form, again: bool) -> Reply {
    let view = json!({
        "class_path": format!("/classes/{}", ask.class()), "form": form, "id": topic.id, "title": topic.title,
        "number": topic.number,
    });
    if again {
        ask.show_again("safety/topic", "safety-topic", &view)
    } else {
        ask.show("safety/topic", "safety-topic", &view)
    }
}

/// Keeps a new version of a checklist.
pub async fn edit(ask: InClass, path: web::Path<(ClassId, TopicId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let topic = find(&ask, id).await?;
    match try_edit(&ask, class, id, &filled).await {
        Ok(()) => Ok(done(format!("/classes/{class}/topics"), "done-topic-written")),
        Err(trouble) => {
            let form = Form::after("safety-topic", &filled, trouble, &ask.house.speech)?;
            edit_page(&ask, &topic, form, true)
        }
    }
}

async fn try_edit(ask: &InClass, class: ClassId, id: TopicId, filled: &Filled) -> Result<(), Trouble> {
    let mut sheet = Sheet::new(filled);
    let introduction = sheet.words("introduction", 2000);
    let seen = i32::try_from(sheet.whole("number", 1..=100_000)).unwrap_or(0);
    let valid_days = sheet.maybe_whole("valid_days", 1..=3650).and_then(|days| i32::try_from(days).ok());
    let points: Vec<String> = sheet
        .words("points", 8000)
        .lines()
        .map(|line| line.trim().to_owned())
        .filter(|line| !line.is_empty())
        .collect();
    if points.is_empty() {
        sheet.complain("points", Remark::new("form-empty"));
    }
    if points.len() > 20 {
        let count = i64::try_from(points.len()).unwrap_or(i64::MAX);
        sheet.complain("points", Remark::new("safety-too-many-points").with("count", count));
    }
    sheet.done()?;
    ask.house
        .db
        .write(Scope::Class(class), Some(ask.person.id), ask.now(), move |tx| {
            tx.edit_topic(id, seen, &introduction, valid_days, &points)
        })
        .await
}
