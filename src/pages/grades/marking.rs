//! The marking sheet of one assessment: every student in one form. Only rows that changed are stored; where somebody else
//! marked the same student meanwhile, both are shown and what was typed is kept.

use actix_web::web;
use serde::Serialize;
use serde_json::{Value, json};

use crate::ids::{AssessmentId, ClassId, PersonId, ScoreId};
use crate::pages::answer::{Reply, see_other};

use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::pages::grades::assessment::MOST_POINTS;
use crate::pages::grades::{days_late, hundredths, mark, own, say, status_key};
use crate::speech::dates;
use crate::store::Scope;
use crate::store::grades::assessments::Assessment;
use crate::store::grades::book::{self, Book};
use crate::store::grades::criteria;
use crate::store::grades::scores::{self, Mark, Score, Which};
use crate::store::people::members::{self, Member};
use crate::trade::grading::Status;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const FORM: &str = "grades-mark";

#[derive(Serialize)]
struct View {
    class_path: String,
    id: AssessmentId,
    about: String,
    form: Form,
    rows: Vec<Row>,
    statuses: Vec<Value>,
    may_hand_back: bool,
    any_stored: bool,
    /// Marked by criteria: the sheet leads to each print instead.
    criteria: bool,
}

#[derive(Serialize)]
struct Row {
    name: String,
    path: String,
    mark: Option<String>,
    listing: String,
    work: Vec<String>,
    late: Option<String>,
    handed_back: Option<String>,
    status: String,
    points: String,
    words: String,
    seen: String,
    earlier: Vec<Earlier>,
}

#[derive(Serialize)]
struct Earlier {
    line: String,
    words: String,
    reason: Option<String>,
}

struct Loaded {
    book: Book,
    assessment: Assessment,
    history: Vec<Score>,
    everybody: Vec<Member>,
    criteria: bool,
}

impl Loaded {
    fn name(&self, person: PersonId) -> String {
        let member = self.everybody.iter().find(|member| member.person == person);
        member.map(|member| format!("{} {}", member.given_name, member.family_name)).unwrap_or_default()
    }

    fn standing(&self, person: PersonId) -> Option<&Score> {
        self.book.score(self.assessment.id, person)
    }
}

async fn load(ask: &InClass, id: AssessmentId) -> Result<Loaded, Trouble> {
    let (class, zone) = (ask.class(), ask.membership.zone);
    ask.house
        .db
        .read(move |db| {
            let book = book::open(db, class, zone, Which::InHand, None)?;
            let assessment = book.assessments.iter().find(|one| one.id == id).cloned();
            Ok(Loaded {
                assessment: assessment.ok_or(Trouble::NotFound)?,
                book,
                history: scores::history(db, class, Some(id), None)?,
                everybody: members::everybody(db, class)?,
                criteria: !criteria::weighed(db, class, id)?.is_empty(),
            })
        })
        .await
}

/// The sheet as things stand.
pub async fn page(ask: InClass, path: web::Path<(ClassId, AssessmentId)>) -> Reply {
    let loaded = load(&ask, path.into_inner().1).await?;
    let form =
        loaded.book.students.iter().fold(Form::new(FORM), |form, student| {
            stored(form, student.person, loaded.standing(student.person))
        });
    let view = view(&ask, &loaded, form);
    ask.show("grades/marking", &loaded.assessment.title, &view)
}

/// Puts what is stored into a student's row.
fn stored(form: Form, person: PersonId, score: Option<&Score>) -> Form {
    let status = score.map_or(Status::Pending, |score| score.status.0);
    let points = score.and_then(|score| score.points_hundredths).map(|points| decimal_text(points, 2));
    form.with(&format!("status-{person}"), status.word())
        .with(&format!("points-{person}"), points.unwrap_or_default())
        .with(&format!("words-{person}"), score.map(|score| score.words.as_str()).unwrap_or_default())
        .with(&format!("seen-{person}"), score.map(|score| score.id.to_string()).unwrap_or_default())
}

fn view(ask: &InClass, loaded: &Loaded, form: Form) -> View {
    let speech = &ask.house.speech;
    let one = &loaded.assessment;
    let category = loaded.book.categories.iter().find(|category| category.id == one.category);
    let about = Remark::new("grades-marking-about")
        .with("category", category.map(|category| category.title.as_str()).unwrap_or_default())
        .with("points", hundredths(one.points_hundredths));
    let stands = |person: PersonId| loaded.standing(person);
    let marked = |score: &&Score| score.status.0 != Status::Pending;
    let scores = || loaded.book.students.iter().filter_map(|student| stands(student.person)).filter(marked);
    View {
        class_path: format!("/classes/{}", ask.class()),
        id: one.id,
        about: speech.remark(&about),
        form,
        rows: loaded.book.students.iter().map(|student| row(ask, loaded, student)).collect(),
        statuses: Status::ALL
            .iter()
            .map(|status| json!({ "value": status.word(), "label": speech.plain(status_key(*status)) }))
            .collect(),
        may_hand_back: scores().any(|score| score.handed_back_at.is_none()),
        any_stored: scores().next().is_some(),
        criteria: loaded.criteria,
    }
}

fn row(ask: &InClass, loaded: &Loaded, student: &Member) -> Row {
    let (speech, zone) = (&ask.house.speech, ask.membership.zone);
    let (book, one, person) = (&loaded.book, &loaded.assessment, student.person);
    let received = book.print(one, person).and_then(|print| print.handed_in_at);
    let work = one.project.map(|_| match received {
        Some(at) => say(speech, "grades-handed-in", "at", dates::moment(at, zone)),
        None => speech.plain("grades-not-handed-in"),
    });
    Row {
        name: format!("{} {}", student.given_name, student.family_name),
        path: format!("/classes/{}/assessments/{}/marking/{person}", ask.class(), one.id),
        mark: loaded
            .standing(person)
            .filter(|score| score.status.0 != Status::Pending)
            .map(|score| mark(speech, Some(score), one)),
        listing: student.listing.clone().unwrap_or_default(),
        work: own::due(speech, book, one, person).into_iter().chain(work).collect(),
        late: days_late(speech, book.days_late(one, person)),
        handed_back: loaded.standing(person).map(|score| match score.handed_back_at {
            Some(at) => say(speech, "grades-handed-back", "at", dates::moment(at, zone)),
            None => speech.plain("grades-not-handed-back"),
        }),
        status: format!("status-{person}"),
        points: format!("points-{person}"),
        words: format!("words-{person}"),
        seen: format!("seen-{person}"),
        earlier: earlier(ask, loaded, person),
    }
}

/// What stood before, newest first.
fn earlier(ask: &InClass, loaded: &Loaded, person: PersonId) -> Vec<Earlier> {
    let speech = &ask.house.speech;
    let own = loaded.history.iter().rev().filter(|score| score.person == person);
    own.filter(|score| score.superseded_at.is_some())
        .map(|score| {
            let next = loaded.history.iter().find(|one| one.corrects == Some(score.id));
            let reason = next.map(|next| next.reason.as_str()).filter(|reason| !reason.is_empty());
            let line = Remark::new("grades-earlier-line")
                .with("mark", mark(speech, Some(score), &loaded.assessment))
                .with("at", dates::moment(score.at, ask.membership.zone))
                .with("by", loaded.name(score.by));
            Earlier {
                line: speech.remark(&line),
                words: score.words.clone(),
                reason: reason.map(|reason| say(speech, "grades-earlier-reason", "reason", reason)),
            }
        })
        .collect()
}

/// Keeps what changed.
pub async fn keep(ask: InClass, path: web::Path<(ClassId, AssessmentId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let read = read(&filled);
    let marks = read.as_ref().map(|(marks, _)| marks.clone()).unwrap_or_default();
    let outcome = async {
        let (marks, reason) = read?;
        let key = filled.once_key()?;
        ask.house
            .db
            .write(Scope::Class(class), Some(ask.person.id), ask.now(), move |tx| {
                tx.once(&key, |tx| {
                    tx.mark(class, id, &marks, &reason)?;
                    Ok(format!("/classes/{class}/assessments/{id}?done=done-marks"))
                })
            })
            .await
    };
    match outcome.await {
        Ok(location) => Ok(see_other(location)),
        Err(trouble) => again(&ask, id, &filled, &marks, trouble).await,
    }
}

fn read(filled: &Filled) -> Result<(Vec<Mark>, String), Trouble> {
    let mut sheet = Sheet::new(filled);
    let mut marks = Vec::new();
    for person in filled.pairs.iter().filter_map(|(field, _)| field.strip_prefix("status-")) {
        marks.push(Mark {
            person: person.parse().map_err(|_error| Trouble::NotFound)?,
            seen: sheet.maybe_id(&format!("seen-{person}")),
            status: sheet.choice(&format!("status-{person}"), Status::Pending),
            points_hundredths: sheet.maybe_decimal(&format!("points-{person}"), 2, 0..=MOST_POINTS),
            words: sheet.words(&format!("words-{person}"), 2000),
        });
    }
    let reason = sheet.maybe_text("reason", 300).unwrap_or_default();
    sheet.done()?;
    Ok((marks, reason))
}

/// The sheet with what was typed. A row its marker left alone shows what stands now; a row that somebody else marked
/// meanwhile counts as seen from here on, because both are shown.
async fn again(ask: &InClass, id: AssessmentId, filled: &Filled, marks: &[Mark], trouble: Trouble) -> Reply {
    let stale: Vec<String> = match &trouble {
        Trouble::Complaints(complaints) => {
            complaints.iter().filter_map(|one| one.field.strip_prefix("status-")).map(str::to_owned).collect()
        }
        _ => Vec::new(),
    };
    let loaded = load(ask, id).await?;
    let speech = &ask.house.speech;
    let mut form = Form::after(FORM, filled, trouble, speech)?.naming(|field| {
        let (part, person) = field.split_once('-')?;
        let key = match part {
            "status" => "grades-mark-status",
            "points" => "grades-mark-points",
            "words" => "grades-mark-words",
            _ => return None,
        };
        let row = Remark::new("grades-mark-row")
            .with("what", speech.plain(key))
            .with("name", loaded.name(person.parse().ok()?));
        Some(speech.remark(&row))
    });
    for student in &loaded.book.students {
        let (person, standing) = (student.person, loaded.standing(student.person));
        let typed = marks.iter().find(|one| one.person == person);
        let seen = |id: Option<ScoreId>| loaded.history.iter().find(|score| Some(score.id) == id);
        match typed {
            Some(typed) if typed.says(seen(typed.seen)) => form = stored(form, person, standing),
            // Somebody who joined while the sheet was open.
            None if filled.get(&format!("status-{person}")).is_none() => {
                form = stored(form, person, standing)
            }
            Some(_) if stale.contains(&person.to_string()) => {
                let seen = standing.map(|score| score.id.to_string()).unwrap_or_default();
                form = form.with(&format!("seen-{person}"), seen);
            }
            _ => {}
        }
    }
    let view = view(ask, &loaded, form);
    ask.show_again("grades/marking", &loaded.assessment.title, &view)
}
