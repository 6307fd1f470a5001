//! Who is cleared for which room, for what and until when: one page that prints, for the door of the room.

use serde::Serialize;

use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::safety::own::best;
use crate::pages::safety::sheet::grade_word;
use crate::store::people::members;
use crate::store::safety::sign_offs::{self, SignOff, Whose};
use crate::store::safety::topics;
use crate::trade::remark::Remark;

#[derive(Serialize)]
struct Cell {
    topic: String,
    /// The grade held today; nothing where there is none, or where it ran out.
    grade: Option<String>,
    until: Option<String>,
    /// The day it ran out.
    over: Option<String>,
}

#[derive(Serialize)]
struct Row {
    name: String,
    cells: Vec<Cell>,
}

#[derive(Serialize)]
struct View {
    wide: bool,
    class_path: String,
    about: String,
    topics: Vec<String>,
    rows: Vec<Row>,
}

/// The page.
pub async fn show(ask: InClass) -> Reply {
    let (class, studio) = (ask.class(), ask.membership.studio);
    let (topics, people, given) = ask
        .house
        .db
        .read(move |db| {
            Ok((
                topics::topics(db, Some(class))?,
                members::members(db, class)?,
                sign_offs::sign_offs(db, Whose::EnrolledIn(class, studio))?,
            ))
        })
        .await?;
    let today = ask.now().local_date(ask.membership.zone);
    let speech = &ask.house.speech;
    let rows = people
        .iter()
        .map(|member| Row {
            name: format!("{} {}", member.given_name, member.family_name),
            cells: topics
                .iter()
                .map(|topic| {
                    let of_topic =
                        given.iter().filter(|one| one.person == member.person && one.topic == topic.id);
                    let holds = |one: &&SignOff| one.valid_until.is_none_or(|until| until >= today);
                    let held = best(of_topic.clone().filter(holds));
                    let over = best(of_topic).filter(|_| held.is_none()).and_then(|one| one.valid_until);
                    Cell {
                        topic: topic.title.clone(),
                        grade: held.map(|one| grade_word(speech, one.grade.0)),
                        until: held.and_then(|one| one.valid_until).map(dates::day_with_year),
                        over: over.map(dates::day_with_year),
                    }
                })
                .collect(),
        })
        .collect();
    let about = Remark::new("cleared-about")
        .with("room", ask.membership.studio_name.as_str())
        .with("day", dates::day_with_year(today));
    let view = View {
        wide: true,
        class_path: ask.path(""),
        about: speech.remark(&about),
        topics: topics.into_iter().map(|topic| topic.title).collect(),
        rows,
    };
    ask.show("safety/cleared", "cleared-title", &view)
}
