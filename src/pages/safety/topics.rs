//! The checklists: which topics a class uses, what each assistant may witness, a new one, and a new version of one.

use std::collections::BTreeSet;

use actix_web::web;
use serde::Serialize;
use serde_json::json;

use crate::ids::{ClassId, PersonId, TopicId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::store::Scope;
use crate::store::people::members;
use crate::store::people::sessions::Role;
use crate::store::safety::topics::{self, Draft, Topic};
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

const FORM: &str = "safety-topic";
const CHOOSING: &str = "safety-topics";

/// A box of the page, and whether it stands otherwise by now.
#[derive(Serialize)]
struct Tick {
    value: String,
    name: String,
    ticked: bool,
    /// What somebody else made of it meanwhile.
    stands: Option<String>,
}

#[derive(Serialize)]
struct Row {
    id: TopicId,
    title: String,
    number: i32,
    points: Vec<String>,
    used: Tick,
    witnesses: Vec<Tick>,
}

/// What is ticked: topics, and who may witness which.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
struct Ticks {
    used: BTreeSet<TopicId>,
    witnesses: BTreeSet<(PersonId, TopicId)>,
}

struct Loaded {
    topics: Vec<Topic>,
    people: Vec<members::Member>,
    /// What stands, and the text it is compared by.
    stands: Ticks,
    version: String,
}

async fn load(ask: &InClass) -> Result<Loaded, Trouble> {
    let class = ask.class();
    ask.house
        .db
        .read(move |db| {
            let version = topics::standing(db, class)?;
            Ok(Loaded {
                topics: topics::topics(db, None)?,
                people: members::members(db, class)?,
                stands: Ticks {
                    used: topics::topics(db, Some(class))?.into_iter().map(|topic| topic.id).collect(),
                    witnesses: topics::named_witnesses(db, class)?.into_iter().collect(),
                },
                version,
            })
        })
        .await
}

/// Topics of the school, those the class uses ticked.
pub async fn page(ask: InClass) -> Reply {
    let loaded = load(&ask).await?;
    let ticks = loaded.stands.clone();
    show(&ask, &loaded, &ticks, Form::new(CHOOSING), false)
}

/// The page with these ticks; `again` after a saving that was refused.
fn show(ask: &InClass, loaded: &Loaded, ticks: &Ticks, form: Form, again: bool) -> Reply {
    let speech = &ask.house.speech;
    let stands = |ticked: bool, stood: bool| {
        let key = if stood { "form-stands-ticked" } else { "form-stands-unticked" };
        (again && ticked != stood).then(|| speech.plain(key))
    };
    let witness = |member: &members::Member, topic: TopicId| {
        let pair = (member.person, topic);
        let ticked = ticks.witnesses.contains(&pair);
        Tick {
            value: format!("{}:{topic}", member.person),
            name: format!("{} {}", member.given_name, member.family_name),
            ticked,
            stands: stands(ticked, loaded.stands.witnesses.contains(&pair)),
        }
    };
    let row = |topic: &Topic| {
        let ticked = ticks.used.contains(&topic.id);
        Row {
            id: topic.id,
            number: topic.number,
            points: topic.points.iter().map(|point| point.words.clone()).collect(),
            used: Tick {
                value: topic.id.to_string(),
                name: topic.title.clone(),
                ticked,
                stands: stands(ticked, loaded.stands.used.contains(&topic.id)),
            },
            witnesses: loaded
                .people
                .iter()
                .filter(|member| member.role.0 == Role::Assistant)
                .map(|member| witness(member, topic.id))
                .collect(),
            title: topic.title.clone(),
        }
    };
    let view = json!({
        "class_path": ask.path(""), "form": form, "version": loaded.version,
        "rows": loaded.topics.iter().map(row).collect::<Vec<_>>(),
    });
    if again {
        ask.show_again("safety/topics", "safety-topics", &view)
    } else {
        ask.show("safety/topics", "safety-topics", &view)
    }
}

/// Reads the ticks; with what is wrong about them, so that the others are not lost.
fn read(filled: &Filled) -> (Ticks, Vec<Complaint>) {
    let mut sheet = Sheet::new(filled);
    let used = sheet.ids("topic").into_iter().collect();
    let mut witnesses = BTreeSet::new();
    for value in filled.all("witness") {
        let pair = value.split_once(':').and_then(|(a, b)| a.parse().ok().zip(b.parse().ok()));
        match pair {
            Some(pair) => {
                witnesses.insert(pair);
            }
            None => sheet.complain("witness", Remark::new("safety-no-assistant")),
        }
    }
    let complaints = match sheet.done() {
        // The boxes stand in rows: what is wrong is said above them.
        Err(Trouble::Complaints(complaints)) => {
            complaints.into_iter().map(|complaint| Complaint::new("", complaint.remark)).collect()
        }
        _ => Vec::new(),
    };
    (Ticks { used, witnesses }, complaints)
}

/// Keeps which topics the class uses and who may witness. Whoever ticked what somebody else has changed meanwhile sees
/// both; saving again is then a choice.
pub async fn keep(ask: InClass, filled: Filled) -> Reply {
    let (ticks, complaints) = read(&filled);
    let outcome = if complaints.is_empty() {
        let (class, wanted) = (ask.class(), ticks.clone());
        let seen = filled.get("version").unwrap_or_default().to_owned();
        let next = said(ask.path("/topics"), "done-topics");
        ask.act(Scope::Class(class), &filled, next, move |tx| {
            tx.set_class_topics(class, &seen, &wanted.used, &wanted.witnesses)
        })
        .await
    } else {
        Err(Trouble::Complaints(complaints))
    };
    match outcome {
        Err(trouble) => {
            let form = Form::after(CHOOSING, &filled, trouble, &ask.house.speech)?;
            show(&ask, &load(&ask).await?, &ticks, form, true)
        }
        fine => fine,
    }
}

/// The page on which a checklist is added to the school's.
pub async fn add_form(ask: InClass) -> Reply {
    add_page(&ask, Form::new(FORM), false)
}

fn add_page(ask: &InClass, form: Form, again: bool) -> Reply {
    let view = json!({ "class_path": ask.path(""), "form": form });
    if again {
        ask.show_again("safety/topic-new", "safety-topic-add", &view)
    } else {
        ask.show("safety/topic-new", "safety-topic-add", &view)
    }
}

/// Adds a checklist to the school's.
pub async fn add(ask: InClass, filled: Filled) -> Reply {
    let mut sheet = Sheet::new(&filled);
    let title = sheet.text("title", 80);
    let draft = read_draft(&mut sheet);
    let outcome = match sheet.done() {
        Ok(()) => {
            let next = said(ask.path("/topics"), "done-topic-added");
            ask.act(Scope::School, &filled, next, move |tx| tx.add_topic(&title, &draft).map(drop)).await
        }
        Err(trouble) => Err(trouble),
    };
    match outcome {
        Err(trouble) => add_page(&ask, Form::after(FORM, &filled, trouble, &ask.house.speech)?, true),
        fine => fine,
    }
}

fn fresh(topic: &Topic) -> Form {
    let points: Vec<&str> = topic.points.iter().map(|point| point.words.as_str()).collect();
    Form::new(FORM)
        .with("introduction", topic.introduction.as_str())
        .with("points", points.join("\n"))
        .with("valid_days", topic.valid_days.map(|days| days.to_string()).unwrap_or_default())
        .with("version", topic.number.to_string())
}

/// The page on which a checklist is written anew.
pub async fn edit_form(ask: InClass, path: web::Path<(ClassId, TopicId)>) -> Reply {
    let topic = find(&ask, path.into_inner().1).await?;
    edit_page(&ask, &topic, fresh(&topic), false)
}

async fn find(ask: &InClass, id: TopicId) -> Result<Topic, Trouble> {
    ask.house
        .db
        .read(move |db| {
            topics::topics(db, None)?.into_iter().find(|topic| topic.id == id).ok_or(Trouble::NotFound)
        })
        .await
}

fn edit_page(ask: &InClass, topic: &Topic, form: Form, again: bool) -> Reply {
    let view = json!({
        "class_path": ask.path(""), "form": form, "id": topic.id, "title": topic.title, "number": topic.number,
    });
    if again {
        ask.show_again("safety/topic", "safety-topic", &view)
    } else {
        ask.show("safety/topic", "safety-topic", &view)
    }
}

/// Keeps a new version of a checklist.
pub async fn edit(ask: InClass, path: web::Path<(ClassId, TopicId)>, filled: Filled) -> Reply {
    let (_, id) = path.into_inner();
    find(&ask, id).await?;
    let mut sheet = Sheet::new(&filled);
    let draft = read_draft(&mut sheet);
    let seen = i32::try_from(sheet.whole("version", 1..=100_000)).unwrap_or(0);
    let outcome = match sheet.done() {
        Ok(()) => {
            let next = said(ask.path("/topics"), "done-topic-written");
            ask.act(Scope::School, &filled, next, move |tx| tx.edit_topic(id, seen, &draft)).await
        }
        Err(trouble) => Err(trouble),
    };
    match outcome {
        Err(trouble) => {
            let topic = find(&ask, id).await?;
            let form = Form::after_save(&filled, trouble, &fresh(&topic), &ask.house.speech)?;
            edit_page(&ask, &topic, form, true)
        }
        fine => fine,
    }
}

fn read_draft(sheet: &mut Sheet<'_>) -> Draft {
    let introduction = sheet.words("introduction", 2000);
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
    Draft { introduction, valid_days, points }
}
