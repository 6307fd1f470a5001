//! Who is cleared for which room, for what and until when: one page that prints, for the door of the room.

use chrono::NaiveDate;
use serde::Serialize;

use crate::ids::{ClassId, PersonId};
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::{InClass, Seat};
use crate::pages::safety::own::best;
use crate::pages::safety::sheet::grade_word;
use crate::store::people::members::{self, Member};
use crate::store::safety::sign_offs::{self, SignOff, Whose};
use crate::store::safety::topics::{self, Topic};
use crate::store::studio::rooms;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

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
    /// Codes of the classes they are in, on the page of the room.
    classes: String,
    cells: Vec<Cell>,
}

#[derive(Serialize)]
struct View {
    wide: bool,
    class_path: String,
    about: String,
    /// Where the page of the whole room is, for whoever may read it.
    room: Option<String>,
    topics: Vec<String>,
    rows: Vec<Row>,
}

/// The page of a class.
pub async fn show(ask: InClass) -> Reply {
    let sheet = read(&ask, vec![(ask.class(), String::new())]).await?;
    let room = matches!(ask.seat(), Seat::SafetyOfficer | Seat::Records);
    let about = Remark::new("cleared-about");
    show_sheet(&ask, sheet, about, room.then(|| ask.path("/sign-offs/cleared/room")))
}

/// The page of the room: everybody of every class that works in it now, for those who see every class.
pub async fn room(ask: InClass) -> Reply {
    let (studio, today) = (ask.membership.studio, today(&ask));
    let classes = ask.house.db.read(move |db| rooms::classes_in(db, studio, today)).await?;
    let codes: Vec<&str> = classes.iter().map(|(_, code)| code.as_str()).collect();
    let about = Remark::new("cleared-about-room").with("classes", codes.join(", "));
    let sheet = read(&ask, classes).await?;
    show_sheet(&ask, sheet, about, None)
}

fn today(ask: &InClass) -> NaiveDate {
    ask.now().local_date(ask.membership.zone)
}

/// What classes know: their topics, their people each with the codes of their classes, and sign-offs.
#[derive(Default)]
struct Sheet {
    topics: Vec<Topic>,
    people: Vec<(Member, Vec<String>)>,
    given: Vec<SignOff>,
}

async fn read(ask: &InClass, classes: Vec<(ClassId, String)>) -> Result<Sheet, Trouble> {
    let studio = ask.membership.studio;
    ask.house
        .db
        .read(move |db| {
            let mut sheet = Sheet::default();
            for (class, code) in classes {
                for topic in topics::topics(db, Some(class))? {
                    if sheet.topics.iter().all(|known| known.id != topic.id) {
                        sheet.topics.push(topic);
                    }
                }
                for member in members::members(db, class)? {
                    match sheet.people.iter_mut().find(|(known, _)| known.person == member.person) {
                        Some((_, codes)) => codes.push(code.clone()),
                        None => sheet.people.push((member, vec![code.clone()])),
                    }
                }
                for one in sign_offs::sign_offs(db, Whose::EnrolledIn(class, studio))? {
                    if sheet.given.iter().all(|known| known.id != one.id) {
                        sheet.given.push(one);
                    }
                }
            }
            sheet.people.sort_by(|(one, _), (other, _)| {
                (&one.family_name, &one.given_name).cmp(&(&other.family_name, &other.given_name))
            });
            Ok(sheet)
        })
        .await
}

fn show_sheet(ask: &InClass, sheet: Sheet, about: Remark, room: Option<String>) -> Reply {
    let (speech, today) = (&ask.house.speech, today(ask));
    let cell = |person: PersonId, topic: &Topic| {
        let of_topic = sheet.given.iter().filter(|one| one.person == person && one.topic == topic.id);
        let holds = |one: &&SignOff| one.valid_until.is_none_or(|until| until >= today);
        let held = best(of_topic.clone().filter(holds));
        let over = best(of_topic).filter(|_| held.is_none()).and_then(|one| one.valid_until);
        Cell {
            topic: topic.title.clone(),
            grade: held.map(|one| grade_word(speech, one.grade.0)),
            until: held.and_then(|one| one.valid_until).map(dates::day_with_year),
            over: over.map(dates::day_with_year),
        }
    };
    let rows = sheet
        .people
        .iter()
        .map(|(member, codes)| Row {
            name: format!("{} {}", member.given_name, member.family_name),
            classes: codes.iter().filter(|code| !code.is_empty()).cloned().collect::<Vec<_>>().join(", "),
            cells: sheet.topics.iter().map(|topic| cell(member.person, topic)).collect(),
        })
        .collect();
    let about =
        about.with("room", ask.membership.studio_name.as_str()).with("day", dates::day_with_year(today));
    let view = View {
        wide: true,
        class_path: ask.path(""),
        about: speech.remark(&about),
        room,
        topics: sheet.topics.into_iter().map(|topic| topic.title).collect(),
        rows,
    };
    ask.show("safety/cleared", "cleared-title", &view)
}
