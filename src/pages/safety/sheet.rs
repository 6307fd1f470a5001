//! The sheet on which a class is signed off on a topic: ticked per student and point, looked over, then signed. Nothing
//! is stored before the signature; each stage sends the whole sheet again.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::ids::{ClassId, Id, PersonId, SignOffId, TopicId, TopicPointId, TopicVersionId};
use crate::pages::answer::{Reply, see_other};
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::safety::own::best;
use crate::pages::safety::role;
use crate::speech::Speech;
use crate::store::Scope;
use crate::store::people::members;
use crate::store::people::sessions::Role;
use crate::store::safety::sign_offs::{self, SignOff, Signing, TAKE_BACK_MS, Whose};
use crate::store::safety::topics::{self, Topic};
use crate::trade::procedure::Grade;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::{Complaint, Trouble};

/// The word people read for a grade.
pub(super) fn grade_word(speech: &Speech, grade: Grade) -> String {
    speech.plain(match grade {
        Grade::Shown => "safety-grade-shown",
        Grade::Watched => "safety-grade-watched",
        Grade::Alone => "safety-grade-alone",
    })
}

#[derive(Serialize)]
struct Choice {
    value: String,
    label: String,
    here: bool,
}

#[derive(Serialize)]
struct PointTick {
    value: String,
    place: usize,
    ticked: bool,
    words: String,
}

#[derive(Serialize)]
struct Row {
    name: String,
    listing: String,
    standing: Option<String>,
    since: Option<String>,
    ticks: Vec<PointTick>,
}

#[derive(Serialize)]
struct Fresh {
    id: SignOffId,
    name: String,
    what: String,
    until: String,
}

#[derive(Serialize)]
struct View {
    class_path: String,
    topics: Vec<Choice>,
    grades: Vec<Choice>,
    topic: Option<TopicId>,
    version: Option<TopicVersionId>,
    grade: &'static str,
    shown: bool,
    title: String,
    introduction: String,
    points: Vec<String>,
    rows: Vec<Row>,
    note: String,
    complaints: Vec<String>,
    fresh: Vec<Fresh>,
    may_edit: bool,
}

/// What was ticked: (person, point); at the grade “shown” the person stands with no point.
type Ticks = BTreeSet<(PersonId, Option<TopicPointId>)>;

struct Loaded {
    topics: Vec<Topic>,
    people: Vec<members::Member>,
    given: Vec<SignOff>,
}

async fn load(ask: &InClass) -> Result<Loaded, Trouble> {
    let (class, studio, me, role) = (ask.class(), ask.membership.studio, ask.person.id, role(ask)?);
    ask.house
        .db
        .read(move |db| {
            let mut all = topics::topics(db, Some(class))?;
            if role == Role::Assistant {
                let named = topics::named_witnesses(db, class)?;
                all.retain(|topic| named.contains(&(me, topic.id)));
            }
            Ok(Loaded {
                topics: all,
                people: members::members(db, class)?,
                given: sign_offs::sign_offs(db, Whose::EnrolledIn(class, studio))?,
            })
        })
        .await
}

/// The empty sheet of a topic and grade.
pub(super) async fn page(ask: &InClass) -> Reply {
    let loaded = load(ask).await?;
    let wanted = ask.query("topic").and_then(|text| text.parse::<TopicId>().ok());
    let grade = ask.query("grade").and_then(|word| Grade::from_word(&word)).unwrap_or(Grade::Watched);
    let topic = loaded.topics.iter().find(|topic| Some(topic.id) == wanted).or(loaded.topics.first());
    let view = view(ask, &loaded, topic, grade, &Ticks::new(), "", Vec::new());
    ask.show("safety/sheet", "layout-sign-offs", &view)
}

fn view(
    ask: &InClass,
    loaded: &Loaded,
    topic: Option<&Topic>,
    grade: Grade,
    ticks: &Ticks,
    note: &str,
    complaints: Vec<String>,
) -> View {
    let speech = &ask.house.speech;
    View {
        class_path: format!("/classes/{}", ask.class()),
        topics: loaded
            .topics
            .iter()
            .map(|one| Choice {
                value: one.id.to_string(),
                label: one.title.clone(),
                here: topic.is_some_and(|topic| topic.id == one.id),
            })
            .collect(),
        grades: Grade::ALL
            .iter()
            .map(|one| Choice {
                value: one.word().to_owned(),
                label: grade_word(speech, *one),
                here: *one == grade,
            })
            .collect(),
        topic: topic.map(|topic| topic.id),
        version: topic.map(|topic| topic.version),
        grade: grade.word(),
        shown: grade == Grade::Shown,
        title: topic.map(|topic| topic.title.clone()).unwrap_or_default(),
        introduction: topic.map(|topic| topic.introduction.clone()).unwrap_or_default(),
        points: topic.map(|topic| topic.points.iter().map(|p| p.words.clone()).collect()).unwrap_or_default(),
        rows: topic.map(|topic| rows(ask, loaded, topic, grade, ticks)).unwrap_or_default(),
        note: note.to_owned(),
        complaints,
        fresh: fresh(ask, loaded),
        may_edit: ask.is_instructor(),
    }
}

fn rows(ask: &InClass, loaded: &Loaded, topic: &Topic, grade: Grade, ticks: &Ticks) -> Vec<Row> {
    let zone = ask.membership.zone;
    loaded
        .people
        .iter()
        .filter(|member| member.person != ask.person.id && member.role.0 != Role::Instructor)
        .map(|member| {
            let best =
                best(loaded.given.iter().filter(|one| one.person == member.person && one.topic == topic.id));
            let boxes: Vec<Option<TopicPointId>> = if grade == Grade::Shown {
                vec![None]
            } else {
                topic.points.iter().map(|point| Some(point.id)).collect()
            };
            Row {
                name: format!("{} {}", member.given_name, member.family_name),
                listing: member.listing.clone().unwrap_or_default(),
                standing: best.map(|one| grade_word(&ask.house.speech, one.grade.0)),
                since: best.map(|one| dates::day(one.given_at.local_date(zone))),
                ticks: boxes
                    .into_iter()
                    .enumerate()
                    .map(|(place, point)| PointTick {
                        value: match point {
                            Some(point) => format!("{}:{point}", member.person),
                            None => member.person.to_string(),
                        },
                        place: place + 1,
                        ticked: ticks.contains(&(member.person, point)),
                        words: topic.points.get(place).map(|point| point.words.clone()).unwrap_or_default(),
                    })
                    .collect(),
            }
        })
        .collect()
}

/// What this person signed within the last ten minutes and may take back.
fn fresh(ask: &InClass, loaded: &Loaded) -> Vec<Fresh> {
    let zone = ask.membership.zone;
    loaded
        .given
        .iter()
        .filter(|one| {
            one.given_by == ask.person.id && one.taken_back_at.is_none() && one.withdrawn_at.is_none()
        })
        .filter(|one| ask.now().millis() - one.given_at.millis() <= TAKE_BACK_MS)
        .map(|one| Fresh {
            id: one.id,
            name: loaded
                .people
                .iter()
                .find(|member| member.person == one.person)
                .map(|member| format!("{} {}", member.given_name, member.family_name))
                .unwrap_or_default(),
            what: format!("{}, {}", one.topic_title, grade_word(&ask.house.speech, one.grade.0)),
            until: dates::time(one.given_at.plus_ms(TAKE_BACK_MS).local(zone)),
        })
        .collect()
}

/// A sheet as it was sent.
struct Sent {
    topic: TopicId,
    version: TopicVersionId,
    grade: Grade,
    note: String,
    ticks: Ticks,
}

/// Reads a sheet; with what is wrong about it, so that nothing ticked is lost.
fn read(filled: &Filled) -> (Sent, Vec<Complaint>) {
    let mut sheet = Sheet::new(filled);
    let (topic, version) = (sheet.id("topic"), sheet.id("version"));
    let grade = sheet.choice("grade", Grade::Shown);
    let words = sheet.words("note", 500);
    let note =
        if words.is_empty() { filled.get("note").unwrap_or_default().trim().to_owned() } else { words };
    let mut ticks = Ticks::new();
    for value in filled.all("seen") {
        let (person, point) = value.split_once(':').map_or((value, None), |(a, b)| (a, Some(b)));
        match (person.parse(), point.map(str::parse).transpose()) {
            (Ok(person), Ok(point)) => {
                ticks.insert((person, point));
            }
            _ => {
                let cut: String = value.chars().take(40).collect();
                sheet.complain("seen", Remark::new("safety-sheet-unreadable").with("value", cut));
            }
        }
    }
    let sent = Sent { topic, version, grade, note, ticks };
    match sheet.done() {
        Err(Trouble::Complaints(complaints)) => (sent, complaints),
        _ => (sent, Vec::new()),
    }
}

/// Goes on with a sheet: ticks everything, shows it to be looked over, or signs it.
pub async fn send(ask: InClass, filled: Filled) -> Reply {
    let loaded = load(&ask).await?;
    let (mut sent, unreadable) = read(&filled);
    let topic = loaded.topics.iter().find(|topic| topic.id == sent.topic).ok_or(Trouble::NotFound)?;
    if !unreadable.is_empty() {
        return again(&ask, &loaded, topic, &sent, &unreadable);
    }
    match filled.get("stage").unwrap_or_default() {
        "tick-all" => {
            sent.ticks = everything(&ask, &loaded, topic, sent.grade);
            let view = view(&ask, &loaded, Some(topic), sent.grade, &sent.ticks, &sent.note, Vec::new());
            ask.show("safety/sheet", "layout-sign-offs", &view)
        }
        "sign" => sign(&ask, &filled, &loaded, topic, sent).await,
        "back" => {
            let view = view(&ask, &loaded, Some(topic), sent.grade, &sent.ticks, &sent.note, Vec::new());
            ask.show("safety/sheet", "layout-sign-offs", &view)
        }
        _ => look_over(&ask, &loaded, topic, sent),
    }
}

fn everything(ask: &InClass, loaded: &Loaded, topic: &Topic, grade: Grade) -> Ticks {
    let people = loaded
        .people
        .iter()
        .filter(|member| member.person != ask.person.id && member.role.0 == Role::Student)
        .map(|member| member.person);
    if grade == Grade::Shown {
        return people.map(|person| (person, None)).collect();
    }
    people.flat_map(|person| topic.points.iter().map(move |point| (person, Some(point.id)))).collect()
}

/// Whom the sheet names, with the points ticked for each.
fn named(sent: &Sent) -> Vec<(PersonId, Vec<TopicPointId>)> {
    let mut people: Vec<PersonId> = sent.ticks.iter().map(|tick| tick.0).collect();
    people.dedup();
    people
        .into_iter()
        .map(|person| {
            let points =
                sent.ticks.iter().filter(|tick| tick.0 == person).filter_map(|tick| tick.1).collect();
            (person, points)
        })
        .collect()
}

/// What keeps the sheet from being signed: nobody ticked, oneself, somebody who left, or somebody with points missing.
fn complaints(ask: &InClass, loaded: &Loaded, topic: &Topic, sent: &Sent) -> Vec<Complaint> {
    let people = named(sent);
    if people.is_empty() {
        return vec![Complaint::new("seen", Remark::new("safety-nobody-ticked"))];
    }
    if people.iter().any(|(person, _)| *person == ask.person.id) {
        return vec![Complaint::new("seen", Remark::new("safety-not-yourself"))];
    }
    if people.iter().any(|(person, _)| loaded.people.iter().all(|member| member.person != *person)) {
        return vec![Complaint::new("seen", Remark::new("safety-left-meanwhile"))];
    }
    if sent.grade == Grade::Shown {
        return Vec::new();
    }
    people
        .iter()
        .filter(|(_, points)| points.len() < topic.points.len())
        .map(|(person, points)| {
            let name = loaded
                .people
                .iter()
                .find(|member| member.person == *person)
                .map(|member| format!("{} {}", member.given_name, member.family_name))
                .unwrap_or_default();
            let count = |n: usize| i64::try_from(n).unwrap_or(i64::MAX);
            let remark = Remark::new("safety-points-missing-for")
                .with("name", name)
                .with("ticked", count(points.len()))
                .with("all", count(topic.points.len()));
            Complaint::new("seen", remark)
        })
        .collect()
}

fn again(ask: &InClass, loaded: &Loaded, topic: &Topic, sent: &Sent, complaints: &[Complaint]) -> Reply {
    let sentences = complaints.iter().map(|complaint| ask.house.speech.remark(&complaint.remark)).collect();
    let view = view(ask, loaded, Some(topic), sent.grade, &sent.ticks, &sent.note, sentences);
    ask.show_again("safety/sheet", "layout-sign-offs", &view)
}

#[derive(Serialize)]
struct LookOver {
    class_path: String,
    topic: TopicId,
    version: TopicVersionId,
    grade: &'static str,
    grade_word: String,
    title: String,
    points: Vec<String>,
    shown: bool,
    people: Vec<String>,
    values: Vec<String>,
    note: String,
}

fn look_over(ask: &InClass, loaded: &Loaded, topic: &Topic, sent: Sent) -> Reply {
    let complaints = complaints(ask, loaded, topic, &sent);
    if !complaints.is_empty() {
        return again(ask, loaded, topic, &sent, &complaints);
    }
    let people = named(&sent)
        .iter()
        .filter_map(|(person, _)| loaded.people.iter().find(|member| member.person == *person))
        .map(|member| format!("{} {}", member.given_name, member.family_name))
        .collect();
    let values = sent
        .ticks
        .iter()
        .map(|(person, point)| match point {
            Some(point) => format!("{person}:{point}"),
            None => person.to_string(),
        })
        .collect();
    let view = LookOver {
        class_path: format!("/classes/{}", ask.class()),
        topic: topic.id,
        version: sent.version,
        grade: sent.grade.word(),
        grade_word: grade_word(&ask.house.speech, sent.grade),
        title: topic.title.clone(),
        points: topic.points.iter().map(|point| point.words.clone()).collect(),
        shown: sent.grade == Grade::Shown,
        people,
        values,
        note: sent.note,
    };
    ask.show("safety/look-over", "safety-look-over", &view)
}

async fn sign(ask: &InClass, filled: &Filled, loaded: &Loaded, topic: &Topic, sent: Sent) -> Reply {
    let complaints = complaints(ask, loaded, topic, &sent);
    if !complaints.is_empty() {
        return again(ask, loaded, topic, &sent, &complaints);
    }
    let signing = Signing {
        class: ask.class(),
        studio: ask.membership.studio,
        zone: ask.membership.zone,
        topic: sent.topic,
        version: sent.version,
        grade: sent.grade,
        note: sent.note.clone(),
        people: named(&sent),
    };
    let (key, role, class): (_, _, ClassId) = (filled.once_key()?, role(ask)?, ask.class());
    let grade = sent.grade.word();
    let outcome = ask
        .house
        .db
        .write(Scope::Class(class), Some(ask.person.id), ask.now(), move |tx| {
            tx.once(&key, |tx| {
                tx.sign_off(&signing, role)?;
                let topic: Id<_> = signing.topic;
                Ok(format!("/classes/{class}/sign-offs?topic={topic}&grade={grade}&done=done-signed"))
            })
        })
        .await;
    match outcome {
        Ok(location) => Ok(see_other(location)),
        Err(Trouble::Stale(remark) | Trouble::Refused(remark)) => {
            again(ask, loaded, topic, &sent, &[Complaint::new("", remark)])
        }
        Err(other) => Err(other),
    }
}
