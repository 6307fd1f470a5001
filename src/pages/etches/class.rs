//! All etch logs of a class, newest first: by container and by how they came up, so that one bad batch shows; and the
//! picture of how strong they were against how they came up. A student sees their own, and in the picture also those of
//! the others where the class shares its logs: without names.

use serde::Serialize;

use crate::ids::PersonId;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::etches::picture::{Picture, picture};
use crate::pages::etches::shown::{Shown, shown};
use crate::pages::fields::{Choice, Form};
use crate::store::classes::facts;
use crate::store::etches::logs::{self, Asked, Filter};
use crate::store::studio::containers;
use crate::trade::etch::came_up::CameUp;
use crate::trade::spelled::Spelled;

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

/// The list; `?container=` and `?came_up=` narrow it, `?page=` goes on. What names nothing here narrows nothing.
pub async fn page(ask: InClass) -> Reply {
    let container = ask.query("container").and_then(|id| id.parse().ok());
    let word = ask.query("came_up").unwrap_or_default();
    let came_up = match word.as_str() {
        NOT_TOLD => Some(Asked::NotToldYet),
        word => CameUp::from_word(word).map(Asked::So),
    };
    let at: i64 = ask.query("page").and_then(|page| page.parse().ok()).unwrap_or(0).clamp(0, 100_000);
    let filter = Filter { container, came_up };
    let (class, studio, house) = (ask.class(), ask.membership.studio, ask.house.clone());
    let owner = ask.owner();
    let (found, more, held, procedures, all) = ask
        .house
        .db
        .read(move |db| {
            let (found, more) = logs::listed(db, class, owner, &filter, at)?;
            let mut versions: Vec<_> = found.iter().map(|log| log.plate.procedure_version).collect();
            versions.sort_unstable();
            versions.dedup();
            let procedures = house.procedures.of(db, &versions)?;
            let shared = owner.is_none() || facts::class(db, class)?.rules.shares_logs;
            let all = logs::of_class(db, class, owner.filter(|_| !shared))?;
            Ok((found, more, containers::containers(db, studio)?, procedures, all))
        })
        .await?;
    let people = people(&all);
    let marked: Option<PersonId> = owner.or_else(|| ask.query("person")?.parse().ok());
    let title = |log: &logs::Log| {
        let key = log.entry.step_key.as_str();
        let step = procedures.get(&log.plate.procedure_version).and_then(|one| one.find(key));
        step.map_or_else(|| key.to_owned(), |step| step.title.clone())
    };
    let class_path = format!("/classes/{class}");
    let chosen = container.map(|id| id.to_string()).unwrap_or_default();
    let link = |page: i64| {
        format!(
            "{class_path}/etches?container={chosen}&came_up={}&person={}&page={page}",
            crate::pages::answer::encode(&word),
            marked.filter(|_| owner.is_none()).map(|id| id.to_string()).unwrap_or_default(),
        )
    };
    let mut hows = Choice::of_words::<CameUp>("etches-how", &ask.house.speech);
    hows.push(Choice::new(NOT_TOLD, ask.house.speech.plain("etches-not-told")));
    let view = View {
        wide: true,
        staff: owner.is_none(),
        picture: picture(&all, marked, &ask.house.speech),
        marked: match owner {
            Some(_) => Some(ask.house.speech.plain("etches-picture-yours")),
            None => marked.and_then(|id| {
                people.iter().find(|one| one.value == id.to_string()).map(|one| one.label.clone())
            }),
        },
        form: Form::new(FORM)
            .with("container", &chosen)
            .with("came_up", &word)
            .with_maybe("person", marked.map(|id| id.to_string())),
        people,
        containers: held
            .iter()
            .map(|one| Choice::new(one.id.to_string(), format!("{}, {}", one.mark(), one.told.label)))
            .collect(),
        hows,
        logs: found.iter().map(|log| shown(&ask, log, &title(log))).collect(),
        narrowed: filter.container.is_some() || filter.came_up.is_some(),
        newer: (at > 0).then(|| link(at - 1)),
        older: more.then(|| link(at + 1)),
        class_path,
    };
    let title = if view.staff { "etches-class" } else { "etches-own" };
    ask.show("etches/class", title, &view)
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
