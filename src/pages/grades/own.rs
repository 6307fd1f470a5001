//! One student's grade: what was marked, the grade so far, and the working line by line. A student sees what was handed
//! back and what follows from it alone; the instructor sees the same page with every mark in hand.

use std::collections::HashMap;

use actix_web::web;
use serde::Serialize;
use serde_json::{Value, json};

use crate::ids::{ClassId, PersonId, ScoreId};
use crate::pages::answer::Reply;

use crate::pages::classes::duties::line;
use crate::pages::entry::InClass;
use crate::pages::grades::submitted::{Shown, shown};
use crate::pages::grades::{days_late, hundredths, mark, open, say};
use crate::speech::{Speech, dates};
use crate::store::classes::duties::{self, Duty};
use crate::store::classes::rolls::{self, Entry, Presence};
use crate::store::grades::assessments::Assessment;
use crate::store::grades::book::Book;
use crate::store::grades::critiques::{self, OwnNote};
use crate::store::grades::marks::{self, Judged};
use crate::store::grades::scores::{self, Score, Which};
use crate::store::grades::second_looks::{self, SecondLook};
use crate::store::grades::submitted::{self, Submitted};
use crate::store::people::members::{self, Member};
use crate::trade::exact::Exact;
use crate::trade::grading::points::PointScale;
use crate::trade::grading::{Grade, Status};
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
    notes: Vec<Value>,
    roll: Option<String>,
    meetings: Vec<Value>,
    duties: Vec<Value>,
    /// There is something not yet marked, so that one may reckon ahead.
    ahead: bool,
}

#[derive(Serialize)]
pub(super) struct GradeView {
    percent: Option<String>,
    rounded: Option<String>,
    letter: Option<String>,
    /// What the letter is worth on the usual scale of four, where that scale knows it.
    points: Option<String>,
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
    levels: Vec<Value>,
    own_points: Option<String>,
    by: Option<String>,
    times: Vec<String>,
    look: Option<Look>,
}

/// What became of a second look, or where to ask for one.
#[derive(Serialize)]
struct Look {
    may_ask: Option<String>,
    lines: Vec<String>,
}

/// Everything the page is made from besides the book.
#[derive(Default)]
struct Beside {
    /// Marks handed back before, for the student; none for the instructor.
    handed_back: Vec<Score>,
    judged: HashMap<ScoreId, Vec<Judged>>,
    looks: Vec<SecondLook>,
    submitted: Vec<Submitted>,
    notes: Vec<OwnNote>,
    roll: Vec<Entry>,
    duties: Vec<Duty>,
    everybody: Vec<Member>,
}

async fn read(ask: &InClass, person: PersonId) -> Result<Beside, Trouble> {
    let class = ask.class();
    ask.house
        .db
        .read(move |db| {
            let mut handed_back = scores::history(db, class, None, Some(person))?;
            handed_back.retain(|score| score.handed_back_at.is_some());
            Ok(Beside {
                handed_back,
                judged: marks::judged(db, class, None, Some(person))?,
                looks: second_looks::second_looks(db, class, Some(person))?,
                submitted: submitted::submitted(db, class, Some(person))?,
                notes: critiques::handed_back(db, class, Some(person))?,
                roll: rolls::entries(db, class, Some(person))?,
                duties: duties::duties(db, class, Some(person))?,
                everybody: members::everybody(db, class)?,
            })
        })
        .await
}

/// A student's own page: nothing is read that was not handed back.
pub(super) async fn page(ask: &InClass) -> Reply {
    let person = ask.person.id;
    let book = open(ask, Which::HandedBack, Some(person)).await?;
    let beside = read(ask, person).await?;
    let view = view(ask, &book, person, &beside, true);
    ask.show("grades/own", "layout-grades", &view)
}

/// The same of any student, for the instructor.
pub async fn of_person(ask: InClass, path: web::Path<(ClassId, PersonId)>) -> Reply {
    let (_, person) = path.into_inner();
    let book = open(&ask, Which::InHand, Some(person)).await?;
    let student = book.students.first().ok_or(Trouble::NotFound)?;
    let name = format!("{} {}", student.given_name, student.family_name);
    let beside = Beside { handed_back: Vec::new(), ..read(&ask, person).await? };
    let view = view(&ask, &book, person, &beside, false);
    ask.show("grades/own", &name, &view)
}

fn view(ask: &InClass, book: &Book, person: PersonId, beside: &Beside, own: bool) -> View {
    let speech = &ask.house.speech;
    let outcome = book.grade(person);
    let about = if own { "grades-own-about" } else { "grades-of-person-about" };
    View {
        class_path: format!("/classes/{}", ask.class()),
        about: speech.plain(about),
        own,
        submitted: shown(speech, ask.membership.zone, &beside.submitted),
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
                    .map(|one| row(ask, book, one, person, beside, own))
                    .collect(),
            })
            .collect(),
        notes: beside.notes.iter().map(note).collect(),
        roll: roll_counts(speech, &beside.roll),
        meetings: beside.roll.iter().map(|entry| meeting(speech, entry)).collect(),
        duties: beside.duties.iter().map(|one| line(speech, one)).collect(),
        ahead: own && book.assessments.iter().any(|one| book.open(one.id, person)),
    }
}

/// “Here 9 times, late 1, away 0, excused 1”; nothing where no roll was called.
fn roll_counts(speech: &Speech, roll: &[Entry]) -> Option<String> {
    let count = |presence: Presence| {
        let number = roll.iter().filter(|entry| entry.presence.0 == presence).count();
        i64::try_from(number).unwrap_or(i64::MAX)
    };
    let counts = Remark::new("roll-counts")
        .with("here", count(Presence::Here))
        .with("late", count(Presence::Late))
        .with("away", count(Presence::Away))
        .with("excused", count(Presence::Excused));
    (!roll.is_empty()).then(|| speech.remark(&counts))
}

fn meeting(speech: &Speech, entry: &Entry) -> Value {
    let at = format!("{}, {}", dates::day(entry.day), dates::minutes(entry.from_minute));
    json!({ "at": at, "presence": speech.plain(entry.presence.0.key()) })
}

pub(super) fn note(one: &OwnNote) -> Value {
    json!({
        "title": one.print_title, "project": one.project_title, "day": dates::day(one.held_on),
        "words": one.words,
    })
}

impl GradeView {
    pub(super) fn of(speech: &Speech, grade: &Grade) -> Self {
        grade_view(speech, grade)
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
        points: grade
            .letter
            .as_ref()
            .and_then(|letter| PointScale::usual().points(letter).map(Exact::to_string))
            .map(|points| say(speech, "grades-own-points-of-four", "points", points)),
        weight: say(speech, "grades-from-weight", "weight", grade.counted_weight.to_string()),
        low: exact(&grade.possible_low).filter(|_| open),
        high: exact(&grade.possible_high).filter(|_| open),
    }
}

fn row(
    ask: &InClass,
    book: &Book,
    assessment: &Assessment,
    person: PersonId,
    beside: &Beside,
    own: bool,
) -> Row {
    let speech = &ask.house.speech;
    let zone = ask.membership.zone;
    let score = book.score(assessment.id, person);
    let at = score.and_then(|score| score.handed_back_at);
    let judged = score.and_then(|score| beside.judged.get(&score.id)).map_or(&[][..], Vec::as_slice);
    let by = score.filter(|score| score.status.0 != Status::Pending).and_then(|score| {
        let member = beside.everybody.iter().find(|member| member.person == score.by)?;
        let name = format!("{} {}", member.given_name, member.family_name);
        Some(say(speech, "grades-own-by", "name", name))
    });
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
        before: score.and_then(|score| before(speech, assessment, score, &beside.handed_back)),
        levels: judged.iter().map(|one| judged_view(speech, one)).collect(),
        own_points: score
            .filter(|score| !score.own_points_reason.is_empty())
            .map(|score| say(speech, "grades-own-points", "reason", score.own_points_reason.as_str())),
        by,
        times: times(ask, book, assessment, person),
        look: score.and_then(|score| look(ask, assessment, score, beside, own)),
    }
}

/// “Sure, 25.5 of 30 points”, with the words of the level and the comment.
pub(super) fn judged_view(speech: &Speech, one: &Judged) -> Value {
    let level = one.points_hundredths.map(|points| {
        let worth = Remark::new("grades-of")
            .with("score", hundredths(points))
            .with("points", hundredths(one.of_hundredths));
        format!("{}, {}", one.level_title, speech.remark(&worth))
    });
    json!({
        "title": one.criterion_title, "level": level, "descriptor": one.descriptor, "words": one.words,
    })
}

/// The same on one line.
pub(super) fn judged_line(speech: &Speech, one: &Judged) -> String {
    let level = if one.level_title.is_empty() { "–" } else { one.level_title.as_str() };
    let line = Remark::new("criteria-judged-line")
        .with("title", one.criterion_title.as_str())
        .with("level", level)
        .with("points", one.points_hundredths.map(hundredths).unwrap_or_default())
        .with("words", one.words.as_str());
    speech.remark(&line)
}

/// A second look in words: when and why it was asked for, and what came of it where that is `told`.
pub(super) fn look_lines(speech: &Speech, zone: chrono_tz::Tz, one: &SecondLook, told: bool) -> Vec<String> {
    let asked = Remark::new("second-look-asked-because")
        .with("at", dates::moment(one.asked_at, zone))
        .with("reason", one.reason.as_str());
    let mut lines = vec![speech.remark(&asked)];
    match one.answered_at.filter(|_| told) {
        None => lines.push(speech.plain("second-look-waits")),
        Some(at) => {
            let key = if one.new_score.is_some() { "second-look-changed" } else { "second-look-stays" };
            let answer =
                Remark::new(key).with("at", dates::moment(at, zone)).with("answer", one.answer.as_str());
            lines.push(speech.remark(&answer));
        }
    }
    lines
}

/// A student reads an answer once what it says was handed back.
fn look(ask: &InClass, assessment: &Assessment, score: &Score, beside: &Beside, own: bool) -> Option<Look> {
    let (speech, zone) = (&ask.house.speech, ask.membership.zone);
    let known = beside.looks.iter().find(|one| {
        one.assessment == assessment.id && (one.score == score.id || one.new_score == Some(score.id))
    });
    let Some(one) = known else {
        let path = format!("/classes/{}/assessments/{}/second-look", ask.class(), assessment.id);
        return (own && score.status.0 != Status::Pending)
            .then_some(Look { may_ask: Some(path), lines: Vec::new() });
    };
    let told = one.new_score.is_none_or(|new| !own || new == score.id);
    let lines = look_lines(speech, zone, one, told);
    Some(Look { may_ask: None, lines })
}

/// Due, handed in, and how days late were counted: one line each.
pub(super) fn times(ask: &InClass, book: &Book, assessment: &Assessment, person: PersonId) -> Vec<String> {
    let (speech, zone) = (&ask.house.speech, ask.membership.zone);
    let Some(deadline) = book.deadline(assessment, person) else { return Vec::new() };
    let mut lines: Vec<String> = due(speech, book, assessment, person).into_iter().collect();
    let received = book.print(assessment, person).and_then(|print| print.handed_in_at);
    let Some(received) = received else {
        lines.push(speech.plain("grades-not-handed-in"));
        return lines;
    };
    lines.push(say(speech, "grades-handed-in", "at", dates::moment(received, zone)));
    let late = deadline.late(received.utc());
    if deadline.in_time_until() >= received.utc() {
        return lines;
    }
    let days: Vec<String> = late.charged_on.iter().map(|day| dates::day(*day)).collect();
    let key = if late.days == 0 { "grades-late-none" } else { "grades-late-counted" };
    let counted = Remark::new(key)
        .with("days", i64::from(late.days))
        .with("grace", i64::from(deadline.grace_minutes))
        .with("due", dates::day_and_time(deadline.due_local()))
        .with("on", days.join("; "));
    lines.push(speech.remark(&counted));
    let begun = book.days_begun(&deadline, received);
    if begun > late.days {
        lines.push(
            speech.remark(&Remark::new("grades-late-uncounted").with("days", i64::from(begun - late.days))),
        );
    }
    lines
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
