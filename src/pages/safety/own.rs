//! A student's own sign-offs: what is given, what waits to be acknowledged, what is missing and who can give it.

use serde::Serialize;

use crate::ids::SignOffId;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::store::safety::sign_offs::{self, SignOff, Whose};
use crate::store::safety::topics;

#[derive(Serialize)]
struct Row {
    title: String,
    introduction: String,
    points: Vec<String>,
    grade: Option<String>,
    given: Option<String>,
    by: Option<String>,
    until: Option<String>,
    expired: bool,
    waiting: Option<SignOffId>,
    who: Vec<String>,
}

#[derive(Serialize)]
struct View {
    rows: Vec<Row>,
}

pub(super) async fn page(ask: &InClass) -> Reply {
    let (class, person, studio) = (ask.class(), ask.person.id, ask.membership.studio);
    let (topics, given, witnesses) = ask
        .house
        .db
        .read(move |db| {
            let topics = topics::topics(db, Some(class))?;
            let given = sign_offs::sign_offs(db, Whose::Person(person, studio))?;
            let mut witnesses = Vec::new();
            for topic in &topics {
                witnesses.push(topics::witnesses(db, class, topic.id)?);
            }
            Ok((topics, given, witnesses))
        })
        .await?;
    let zone = ask.membership.zone;
    let today = ask.now().local_date(zone);
    let rows = topics
        .into_iter()
        .zip(witnesses)
        .map(|(topic, witnesses)| {
            let of_topic = given.iter().filter(|one| one.topic == topic.id);
            let best = best(of_topic.clone());
            let waiting = of_topic
                .filter(|one| {
                    one.acknowledged_at.is_none() && one.grade.0 == crate::trade::procedure::Grade::Shown
                })
                .find(|one| one.taken_back_at.is_none() && one.withdrawn_at.is_none())
                .map(|one| one.id);
            Row {
                title: topic.title,
                introduction: topic.introduction,
                points: topic.points.into_iter().map(|point| point.words).collect(),
                grade: best.map(|one| super::sheet::grade_word(&ask.house.speech, one.grade.0)),
                given: best.map(|one| dates::day(one.given_at.local_date(zone))),
                by: best.map(|one| format!("{} {}", one.giver_given_name, one.giver_family_name)),
                until: best.and_then(|one| one.valid_until).map(dates::day),
                expired: best.and_then(|one| one.valid_until).is_some_and(|until| until < today),
                waiting,
                who: witnesses.into_iter().map(|witness| witness.name).collect(),
            }
        })
        .collect();
    ask.show("safety/own", "layout-sign-offs", &View { rows })
}

/// The highest sign-off that counts; of equal ones the latest.
pub(super) fn best<'a>(all: impl Iterator<Item = &'a SignOff>) -> Option<&'a SignOff> {
    all.filter(|one| one.counts()).max_by_key(|one| (one.grade.0, one.given_at))
}
