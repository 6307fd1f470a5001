//! The instructor's ledger: students against assessments, and what there is to mark and to hand back.

use serde::Serialize;
use serde_json::{Value, json};

use crate::ids::{AssessmentId, PersonId};
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::grades::{days_late, hundredths, open, say, status_key};
use crate::speech::dates;
use crate::store::grades::assessments::Assessment;
use crate::store::grades::book::Book;
use crate::store::grades::criteria;
use crate::store::grades::scores::Which;
use crate::store::grades::second_looks;
use crate::store::grades::uncounted::{self, LateAdd};
use crate::store::people::members::Member;
use crate::trade::exact::Rounding;
use crate::trade::grading::Status;
use crate::trade::remark::Remark;

#[derive(Serialize)]
struct View {
    wide: bool,
    class_path: String,
    categories: Vec<String>,
    cannot: Option<String>,
    assessments: Vec<Line>,
    heads: Vec<String>,
    rows: Vec<Row>,
    waiting: usize,
    looks: usize,
    late_adds: Vec<Value>,
}

#[derive(Serialize)]
struct Line {
    id: AssessmentId,
    title: String,
    category: String,
    project: bool,
    points: String,
    extra: bool,
    /// Marked by criteria, one print after the other.
    criteria: bool,
    marked: usize,
    all: usize,
    waiting: usize,
}

#[derive(Serialize)]
struct Row {
    person: PersonId,
    name: String,
    listing: String,
    grade: Option<String>,
    letter: String,
    weight: Option<String>,
    cells: Vec<Cell>,
}

#[derive(Serialize)]
struct Cell {
    title: String,
    /// Points, or the word for where it stands; nothing while it is not yet marked.
    mark: Option<String>,
    in_hand: bool,
    late: Option<String>,
}

pub(super) async fn page(ask: &InClass) -> Reply {
    let book = open(ask, Which::InHand, None).await?;
    let (class, zone) = (ask.class(), ask.membership.zone);
    let (looks, late_adds, by_criteria) = ask
        .house
        .db
        .read(move |db| {
            Ok((
                second_looks::second_looks(db, class, None)?,
                uncounted::late_adds(db, class, zone)?,
                criteria::assessments_by_criteria(db, class)?,
            ))
        })
        .await?;
    let outcome = book.students.first().map(|student| book.grade(student.person));
    let cannot = match outcome {
        Some(Err(why)) if !book.categories.is_empty() => Some(ask.house.speech.remark(&why)),
        _ => None,
    };
    let view = View {
        wide: true,
        class_path: format!("/classes/{}", ask.class()),
        categories: book
            .categories
            .iter()
            .map(|one| {
                let remark = Remark::new("grades-weight-of")
                    .with("title", one.title.as_str())
                    .with("weight", hundredths(one.weight_bp.into()));
                ask.house.speech.remark(&remark)
            })
            .collect(),
        cannot,
        assessments: book
            .assessments
            .iter()
            .map(|one| line(&book, one, by_criteria.contains(&one.id)))
            .collect(),
        heads: book.assessments.iter().map(|one| one.title.clone()).collect(),
        rows: book.students.iter().map(|student| row(ask, &book, student)).collect(),
        waiting: book.assessments.iter().map(|one| waiting(&book, one)).sum(),
        looks: looks.iter().filter(|one| one.answered_at.is_none()).count(),
        late_adds: late_adds.iter().map(|one| late_add(ask, one)).collect(),
    };
    ask.show("grades/ledger", "layout-grades", &view)
}

fn late_add(ask: &InClass, one: &LateAdd) -> Value {
    let line = Remark::new("late-add-line")
        .with("name", one.name.as_str())
        .with("title", one.title.as_str())
        .with("due", dates::day_and_time(one.due))
        .with("since", dates::day(one.since));
    json!({
        "line": ask.house.speech.remark(&line),
        "path": format!("/classes/{}/assessments/{}/excuse/{}", ask.class(), one.assessment, one.person),
    })
}

/// How many marks of an assessment wait to be handed back.
fn waiting(book: &Book, assessment: &Assessment) -> usize {
    let scores = book.students.iter().filter_map(|student| book.score(assessment.id, student.person));
    scores.filter(|score| score.status.0 != Status::Pending && score.handed_back_at.is_none()).count()
}

fn line(book: &Book, assessment: &Assessment, criteria: bool) -> Line {
    let scores: Vec<_> =
        book.students.iter().filter_map(|student| book.score(assessment.id, student.person)).collect();
    let marked = scores.iter().filter(|score| score.status.0 != Status::Pending);
    Line {
        id: assessment.id,
        title: assessment.title.clone(),
        category: book
            .categories
            .iter()
            .find(|one| one.id == assessment.category)
            .map(|one| one.title.clone())
            .unwrap_or_default(),
        project: assessment.project.is_some(),
        points: hundredths(assessment.points_hundredths),
        extra: assessment.extra_credit,
        criteria,
        marked: marked.count(),
        all: book.students.len(),
        waiting: waiting(book, assessment),
    }
}

fn row(ask: &InClass, book: &Book, student: &Member) -> Row {
    let speech = &ask.house.speech;
    let grade = book.grade(student.person).ok();
    let percent = grade.as_ref().and_then(|grade| grade.percent.as_ref());
    Row {
        person: student.person,
        name: format!("{} {}", student.given_name, student.family_name),
        listing: student.listing.clone().unwrap_or_default(),
        letter: grade.as_ref().and_then(|grade| grade.letter.clone()).unwrap_or_default(),
        weight: grade
            .as_ref()
            .filter(|grade| grade.percent.is_some())
            .map(|grade| say(speech, "grades-from-weight", "weight", grade.counted_weight.to_string())),
        grade: percent
            .map(|percent| say(speech, "grades-of-percent", "percent", percent.text(Rounding::half_up(2)))),
        cells: book
            .assessments
            .iter()
            .map(|assessment| cell(ask, book, assessment, student.person))
            .collect(),
    }
}

fn cell(ask: &InClass, book: &Book, assessment: &Assessment, person: PersonId) -> Cell {
    let speech = &ask.house.speech;
    let score = book.score(assessment.id, person).filter(|score| score.status.0 != Status::Pending);
    Cell {
        title: assessment.title.clone(),
        mark: score.map(|score| match score.points_hundredths {
            Some(points) => hundredths(points),
            None => speech.plain(status_key(score.status.0)),
        }),
        in_hand: score.is_some_and(|score| score.handed_back_at.is_none()),
        late: days_late(speech, book.days_late(assessment, person)),
    }
}
