//! One student's grade: what was marked, the grade so far, and the working line by line. A student sees what was handed
//! back and what follows from it alone; the instructor sees the same page with every mark in hand.

use actix_web::web;
use serde::Serialize;

use crate::ids::{ClassId, PersonId};
use crate::pages::answer::Reply;

use crate::pages::entry::InClass;
use crate::pages::grades::submitted::{Shown, shown};
use crate::pages::grades::{days_late, hundredths, mark, open, say};
use crate::speech::{Speech, dates};
use crate::store::grades::assessments::Assessment;
use crate::store::grades::book::Book;
use crate::store::grades::scores::{self, Score, Which};
use crate::store::grades::submitted::{self, Submitted};
use crate::trade::exact::Exact;
use crate::trade::grading::Grade;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

#[derive(Serialize)]
struct View {
    class_path: String,
    about: String,
    own: bool,
    set_up: bool,
    submitted: Vec<Shown>,
    /// Where the instructor submits or changes this grade.
    decide: Option<String>,
    file: String,
    cannot: Option<String>,
    grade: Option<GradeView>,
    working: Vec<String>,
    groups: Vec<Group>,
}

#[derive(Serialize)]
struct GradeView {
    percent: Option<String>,
    rounded: Option<String>,
    letter: Option<String>,
    weight: String,
    low: Option<String>,
    high: Option<String>,
}

#[derive(Serialize)]
struct Group {
    head: String,
    rows: Vec<Row>,
}

#[derive(Serialize)]
struct Row {
    title: String,
    extra: bool,
    mark: String,
    late: Option<String>,
    due: Option<String>,
    handed_back: Option<String>,
    words: String,
    before: Option<String>,
}

/// A student's own page: nothing is read that was not handed back.
pub(super) async fn page(ask: &InClass) -> Reply {
    let person = ask.person.id;
    let book = open(ask, Which::HandedBack, Some(person)).await?;
    let class = ask.class();
    let (mut history, kept) = ask
        .house
        .db
        .read(move |db| {
            Ok((
                scores::history(db, class, None, Some(person))?,
                submitted::submitted(db, class, Some(person))?,
            ))
        })
        .await?;
    history.retain(|score| score.handed_back_at.is_some());
    let view = view(ask, &book, person, Past { handed_back: &history, submitted: &kept }, true);
    ask.show("grades/own", "layout-grades", &view)
}

/// The same of any student, for the instructor.
pub async fn of_person(ask: InClass, path: web::Path<(ClassId, PersonId)>) -> Reply {
    let (_, person) = path.into_inner();
    let book = open(&ask, Which::InHand, Some(person)).await?;
    let student = book.students.first().ok_or(Trouble::NotFound)?;
    let name = format!("{} {}", student.given_name, student.family_name);
    let class = ask.class();
    let kept = ask.house.db.read(move |db| submitted::submitted(db, class, Some(person))).await?;
    let view = view(&ask, &book, person, Past { handed_back: &[], submitted: &kept }, false);
    ask.show("grades/own", &name, &view)
}

/// What stands beside the grade as it is reckoned now.
#[derive(Clone, Copy)]
struct Past<'a> {
    handed_back: &'a [Score],
    submitted: &'a [Submitted],
}

fn view(ask: &InClass, book: &Book, person: PersonId, past: Past<'_>, own: bool) -> View {
    let speech = &ask.house.speech;
    let outcome = book.grade(person);
    let about = if own { "grades-own-about" } else { "grades-of-person-about" };
    View {
        class_path: format!("/classes/{}", ask.class()),
        about: speech.plain(about),
        own,
        submitted: shown(speech, ask.membership.zone, past.submitted),
        decide: (!own).then(|| format!("/classes/{}/grades/people/{person}/submitted", ask.class())),
        file: format!("/classes/{}/grades/people/{person}/file", ask.class()),
        set_up: !book.categories.is_empty(),
        cannot: outcome.as_ref().err().map(|why| say(speech, "grades-cannot", "why", speech.remark(why))),
        grade: outcome.as_ref().ok().map(|grade| grade_view(speech, grade)),
        working: outcome
            .map(|grade| grade.working.iter().map(|line| speech.remark(line)).collect())
            .unwrap_or_default(),
        groups: book
            .categories
            .iter()
            .map(|category| Group {
                head: speech.remark(
                    &Remark::new("grades-weight-of")
                        .with("title", category.title.as_str())
                        .with("weight", hundredths(category.weight_bp.into())),
                ),
                rows: book
                    .of_category(category)
                    .map(|one| row(ask, book, one, person, past.handed_back))
                    .collect(),
            })
            .collect(),
    }
}

fn grade_view(speech: &Speech, grade: &Grade) -> GradeView {
    let percent =
        |number: Option<String>| number.map(|text| say(speech, "grades-of-percent", "percent", text));
    let exact = |number: &Option<Exact>| percent(number.as_ref().map(Exact::to_string));
    // Where nothing is open, both are the grade itself.
    let open = grade.possible_low != grade.possible_high;
    GradeView {
        percent: exact(&grade.percent),
        rounded: percent(grade.rounded_text()),
        letter: grade.letter.clone(),
        weight: say(speech, "grades-from-weight", "weight", grade.counted_weight.to_string()),
        low: exact(&grade.possible_low).filter(|_| open),
        high: exact(&grade.possible_high).filter(|_| open),
    }
}

fn row(ask: &InClass, book: &Book, assessment: &Assessment, person: PersonId, handed_back: &[Score]) -> Row {
    let speech = &ask.house.speech;
    let zone = ask.membership.zone;
    let score = book.score(assessment.id, person);
    let at = score.and_then(|score| score.handed_back_at);
    Row {
        title: assessment.title.clone(),
        extra: assessment.extra_credit,
        mark: mark(speech, score, assessment),
        late: days_late(speech, book.days_late(assessment, person)),
        due: due(speech, book, assessment, person),
        handed_back: score.map(|_| match at {
            Some(at) => say(speech, "grades-handed-back", "at", dates::day(at.local_date(zone))),
            None => speech.plain("grades-not-handed-back"),
        }),
        words: score.map(|score| score.words.clone()).unwrap_or_default(),
        before: score.and_then(|score| before(speech, assessment, score, handed_back)),
    }
}

/// When the work is due, and whether that is the person's own date.
pub(super) fn due(speech: &Speech, book: &Book, assessment: &Assessment, person: PersonId) -> Option<String> {
    let deadline = book.deadline(assessment, person)?;
    let key = if deadline.personal_due.is_some() { "grades-due-own" } else { "grades-due" };
    Some(say(speech, key, "due", dates::day_and_time(deadline.due_local())))
}

/// What stood before a correction, if that was handed back too.
fn before(speech: &Speech, assessment: &Assessment, score: &Score, handed_back: &[Score]) -> Option<String> {
    let before = handed_back
        .iter()
        .filter(|one| {
            one.root == score.root && one.id != score.id && one.handed_back_at < score.handed_back_at
        })
        .max_by_key(|one| one.handed_back_at)?;
    Some(
        speech.remark(
            &Remark::new("grades-own-before")
                .with("mark", mark(speech, Some(before), assessment))
                .with("reason", score.reason.as_str()),
        ),
    )
}
