//! All etch logs of a class, newest first: by container and by how they came up, so that one bad batch shows; and the
//! picture of how strong they were against how they came up. A student sees their own, and in the picture also those of
//! the others where the class shares its logs: without names.

use std::collections::HashMap;
use std::sync::Arc;

use serde::Serialize;

use crate::ids::{PersonId, ProcedureVersionId};
use crate::pages::answer::{Reply, encode};
use crate::pages::entry::InClass;
use crate::pages::etches::picture::{Picture, picture};
use crate::pages::etches::shown::{Shown, shown};
use crate::pages::fields::{Choice, Form};
use crate::store::classes::facts;
use crate::store::etches::logs::{self, Asked, Filter};
use crate::store::studio::{Container, containers};
use crate::trade::etch::came_up::CameUp;
use crate::trade::procedure::Charted;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const FORM: &str = "etches-filter";
/// The choice of logs nobody was asked about yet.
const NOT_TOLD: &str = "not-told";

#[derive(Serialize)]
struct View {
    wide: bool,
    staff: bool,
    picture: Option<Picture>,
    people: Vec<Choice>,
    /// Whose plates are marked in the picture.
    marked: Option<String>,
    class_path: String,
    form: Form,
    containers: Vec<Choice>,
    hows: Vec<Choice>,
    logs: Vec<Shown>,
    narrowed: bool,
    newer: Option<String>,
    older: Option<String>,
}

/// What the address asks for. What names nothing here narrows nothing.
struct Question {
    filter: Filter,
    /// The word for how it came up, as the address has it.
    word: String,
    at: i64,
    /// Whose plates are marked in the picture.
    marked: Option<PersonId>,
}

impl Question {
    fn of(ask: &InClass) -> Self {
        let word = ask.query("came_up").unwrap_or_default();
        let came_up = match word.as_str() {
            NOT_TOLD => Some(Asked::NotToldYet),
            word => CameUp::from_word(word).map(Asked::So),
        };
        let container = ask.query("container").and_then(|id| id.parse().ok());
        Self {
            filter: Filter { container, came_up },
            word,
            at: ask.query("page").and_then(|page| page.parse().ok()).unwrap_or(0).clamp(0, 100_000),
            marked: ask.owner().or_else(|| ask.query("person")?.parse().ok()),
        }
    }

    fn container(&self) -> String {
        self.filter.container.map(|id| id.to_string()).unwrap_or_default()
    }

    /// Another page of the same list.
    fn page(&self, class_path: &str, staff: bool, page: i64) -> String {
        format!(
            "{class_path}/etches?container={}&came_up={}&person={}&page={page}",
            self.container(),
            encode(&self.word),
            self.marked.filter(|_| staff).map(|id| id.to_string()).unwrap_or_default(),
        )
    }
}

/// What the record has for a question.
struct Found {
    logs: Vec<logs::Log>,
    more: bool,
    containers: Vec<Container>,
    procedures: HashMap<ProcedureVersionId, Arc<Charted>>,
    /// All the picture may show.
    all: Vec<logs::Log>,
}

async fn found(ask: &InClass, filter: Filter, at: i64) -> Result<Found, Trouble> {
    let (class, studio, owner, house) = (ask.class(), ask.membership.studio, ask.owner(), ask.house.clone());
    ask.house
        .db
        .read(move |db| {
            let (logs, more) = logs::listed(db, class, owner, &filter, at)?;
            let mut versions: Vec<_> = logs.iter().map(|log| log.plate.procedure_version).collect();
            versions.sort_unstable();
            versions.dedup();
            let procedures = house.procedures.of(db, &versions)?;
            let shared = owner.is_none() || facts::class(db, class)?.rules.shares_logs;
            let all = logs::of_class(db, class, owner.filter(|_| !shared))?;
            Ok(Found { logs, more, containers: containers(db, studio)?, procedures, all })
        })
        .await
}

/// The list; `?container=` and `?came_up=` narrow it, `?page=` goes on, `?person=` marks somebody's plates in the picture.
pub async fn page(ask: InClass) -> Reply {
    let (question, staff) = (Question::of(&ask), ask.owner().is_none());
    let found = found(&ask, question.filter, question.at).await?;
    let speech = &ask.house.speech;
    let title = |log: &logs::Log| {
        let key = log.entry.step_key.as_str();
        let step = found.procedures.get(&log.plate.procedure_version).and_then(|one| one.find(key));
        step.map_or_else(|| key.to_owned(), |step| step.title.clone())
    };
    let class_path = format!("/classes/{}", ask.class());
    let mut hows = Choice::of_words::<CameUp>("etches-how", speech);
    hows.push(Choice::new(NOT_TOLD, speech.plain("etches-not-told")));
    let (people, marked) = (people(&found.all), question.marked.map(|id| id.to_string()));
    let called = |id: &String| people.iter().find(|one| one.value == *id).map(|one| one.label.clone());
    let view = View {
        wide: true,
        staff,
        picture: picture(&found.all, question.marked, speech),
        marked: if staff {
            marked.as_ref().and_then(called)
        } else {
            Some(speech.plain("etches-picture-yours"))
        },
        form: Form::new(FORM)
            .with("container", question.container())
            .with("came_up", &question.word)
            .with_maybe("person", marked),
        people,
        containers: found
            .containers
            .iter()
            .map(|one| Choice::new(one.id.to_string(), format!("{}, {}", one.mark(), one.told.label)))
            .collect(),
        hows,
        logs: found.logs.iter().map(|log| shown(&ask, log, &title(log))).collect(),
        narrowed: question.filter.container.is_some() || question.filter.came_up.is_some(),
        newer: (question.at > 0).then(|| question.page(&class_path, staff, question.at - 1)),
        older: found.more.then(|| question.page(&class_path, staff, question.at + 1)),
        class_path,
    };
    ask.show("etches/class", if staff { "etches-class" } else { "etches-own" }, &view)
}

/// Those of whom there are logs, by name.
fn people(logs: &[logs::Log]) -> Vec<Choice> {
    let name = |log: &logs::Log| format!("{} {}", log.plate.given_name, log.plate.family_name);
    let mut all: Vec<(String, String, PersonId)> =
        logs.iter().map(|log| (log.plate.family_name.clone(), name(log), log.plate.person)).collect();
    all.sort();
    all.dedup();
    all.into_iter().map(|(_, name, id)| Choice::new(id.to_string(), name)).collect()
}
