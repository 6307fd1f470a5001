//! The training record of a class: everybody against every topic, and each sign-off with its points, printable.

use std::collections::BTreeMap;

use actix_web::web;
use serde::Serialize;
use serde_json::json;

use crate::ids::{ClassId, PersonId, SignOffId};
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::Filled;
use crate::pages::safety::own::best;
use crate::store::people::members;
use crate::store::safety::sign_offs::{self, Whose};
use crate::store::safety::topics;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const WITHDRAW: &str = "safety-withdraw";

#[derive(Serialize)]
struct Cell {
    topic: String,
    grade: Option<String>,
    since: Option<String>,
    until: Option<String>,
}

#[derive(Serialize)]
struct Line {
    id: SignOffId,
    topic: String,
    version: i32,
    grade: String,
    given: String,
    by: String,
    until: Option<String>,
    points: Vec<String>,
    gone: Option<String>,
    waiting: bool,
    withdraw: Option<Withdraw>,
}

/// The form to withdraw a sign-off. Ids stand once on a page, and complaints point at them, so the one that came back
/// has the plain ones.
#[derive(Serialize)]
struct Withdraw {
    form: Form,
    came_back: bool,
    /// Put behind the ids.
    at: String,
}

#[derive(Serialize)]
struct Person {
    /// Where the person's own page is.
    path: String,
    name: String,
    cells: Vec<Cell>,
    lines: Vec<Line>,
}

#[derive(Serialize)]
struct View {
    class_path: String,
    topics: Vec<String>,
    people: Vec<Person>,
    /// What was wrong with a withdrawal.
    refused: Form,
}

/// The record, for staff, safety officer and records staff.
pub async fn show(ask: InClass) -> Reply {
    page(&ask, None).await
}

/// The record; after a withdrawal that was refused with what was typed at its sign-off.
pub(super) async fn page(ask: &InClass, refused: Option<(SignOffId, &Filled, Trouble)>) -> Reply {
    let refused = match refused {
        Some((id, filled, trouble)) => Some((id, Form::after(WITHDRAW, filled, trouble, &ask.house.speech)?)),
        None => None,
    };
    let (class, studio) = (ask.class(), ask.membership.studio);
    let (topics, people, given, points) = ask
        .house
        .db
        .read(move |db| {
            let given = sign_offs::sign_offs(db, Whose::EnrolledIn(class, studio))?;
            let ids: Vec<SignOffId> = given.iter().map(|one| one.id).collect();
            let points = sign_offs::points_of(db, &ids)?;
            Ok((topics::topics(db, Some(class))?, members::members(db, class)?, given, points))
        })
        .await?;
    if refused.as_ref().is_some_and(|(id, _)| given.iter().all(|one| one.id != *id)) {
        return Err(Trouble::NotFound);
    }
    let zone = ask.membership.zone;
    let word = |grade| super::sheet::grade_word(&ask.house.speech, grade);
    let people = people
        .into_iter()
        .map(|member| {
            let own: Vec<_> = given.iter().filter(|one| one.person == member.person).collect();
            Person {
                path: format!("/classes/{class}/people/{}/training", member.person),
                name: format!("{} {}", member.given_name, member.family_name),
                cells: topics
                    .iter()
                    .map(|topic| {
                        let best = best(own.iter().copied().filter(|one| one.topic == topic.id));
                        Cell {
                            topic: topic.title.clone(),
                            grade: best.map(|one| word(one.grade.0)),
                            since: best.map(|one| dates::day(one.given_at.local_date(zone))),
                            until: best.and_then(|one| one.valid_until).map(dates::day),
                        }
                    })
                    .collect(),
                lines: own.iter().map(|one| line(ask, one, &points, refused.as_ref())).collect(),
            }
        })
        .collect();
    let view = View {
        class_path: format!("/classes/{class}"),
        topics: topics.into_iter().map(|topic| topic.title).collect(),
        people,
        refused: refused.as_ref().map_or_else(|| Form::new(WITHDRAW), |(_, form)| form.clone()),
    };
    match refused {
        Some(_) => ask.show_again("safety/record", "safety-record", &view),
        None => ask.show("safety/record", "safety-record", &view),
    }
}

/// The training record of one person in the studio of the class, on one page that prints.
pub async fn of_person(ask: InClass, path: web::Path<(ClassId, PersonId)>) -> Reply {
    let (class, person) = path.into_inner();
    let studio = ask.membership.studio;
    let (topics, people, given, points) = ask
        .house
        .db
        .read(move |db| {
            let given = sign_offs::sign_offs(db, Whose::Person(person, studio))?;
            let ids: Vec<SignOffId> = given.iter().map(|one| one.id).collect();
            let points = sign_offs::points_of(db, &ids)?;
            Ok((topics::topics(db, Some(class))?, members::members(db, class)?, given, points))
        })
        .await?;
    let member = people.into_iter().find(|one| one.person == person).ok_or(Trouble::NotFound)?;
    let speech = &ask.house.speech;
    let missing: Vec<String> = topics
        .into_iter()
        .filter(|topic| given.iter().all(|one| one.topic != topic.id || !one.counts()))
        .map(|topic| topic.title)
        .collect();
    let today = ask.now().local_date(ask.membership.zone);
    let about = Remark::new("training-about")
        .with("room", ask.membership.studio_name.as_str())
        .with("day", dates::day_with_year(today));
    let view = json!({
        "class_path": ask.path(""), "about": speech.remark(&about), "missing": missing.join("; "),
        "lines": given.iter().map(|one| line(&ask, one, &points, None)).collect::<Vec<_>>(),
    });
    let name = format!("{} {}", member.given_name, member.family_name);
    let title = speech.remark(&Remark::new("training-of").with("name", name.trim()));
    ask.show("safety/training", &title, &view)
}

/// One sign-off as the record lists it.
fn line(
    ask: &InClass,
    one: &sign_offs::SignOff,
    points: &BTreeMap<SignOffId, Vec<String>>,
    refused: Option<&(SignOffId, Form)>,
) -> Line {
    let zone = ask.membership.zone;
    let may_withdraw = ask.is_instructor()
        && one.class == ask.class()
        && one.taken_back_at.is_none()
        && one.withdrawn_at.is_none();
    Line {
        id: one.id,
        topic: one.topic_title.clone(),
        version: one.version_number,
        grade: super::sheet::grade_word(&ask.house.speech, one.grade.0),
        given: dates::moment(one.given_at, zone),
        by: format!("{} {}", one.giver_given_name, one.giver_family_name),
        until: one.valid_until.map(dates::day),
        points: points.get(&one.id).cloned().unwrap_or_default(),
        gone: match (&one.withdrawn_reason, one.taken_back_at) {
            (Some(reason), _) => Some(reason.clone()),
            (None, Some(_)) => Some(ask.house.speech.plain("safety-taken-back")),
            (None, None) => None,
        },
        waiting: !one.counts() && one.taken_back_at.is_none() && one.withdrawn_at.is_none(),
        withdraw: may_withdraw.then(|| withdraw(one.id, refused)),
    }
}

fn withdraw(id: SignOffId, refused: Option<&(SignOffId, Form)>) -> Withdraw {
    match refused.filter(|(about, _)| *about == id) {
        Some((_, form)) => Withdraw { form: form.clone(), came_back: true, at: String::new() },
        None => Withdraw { form: Form::new(WITHDRAW), came_back: false, at: format!("-{id}") },
    }
}
