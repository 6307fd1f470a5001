//! Marking one print: its photos and etch logs beside the criteria, all in one plain form that a keyboard can go through;
//! then the next print.

use actix_web::web;
use serde::Serialize;
use serde_json::{Value, json};

use crate::ids::{AssessmentId, ClassId, CriterionId, PersonId};
use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::pages::grades::assessment::MOST_POINTS;
use crate::pages::grades::beside::{self, Beside};
use crate::pages::grades::{hundredths, mark, own, say, status_key};
use crate::speech::dates;
use crate::store::Scope;
use crate::store::grades::assessments::Assessment;
use crate::store::grades::book::{self, Book};
use crate::store::grades::criteria::{self, Weighed};
use crate::store::grades::marks::{self, Judged, PrintMark};
use crate::store::grades::scores::{self, Score, Which};
use crate::store::grades::second_looks::{self, SecondLook};
use crate::store::people::members::{self, Member};
use crate::trade::criteria::points;
use crate::trade::grading::Status;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const FORM: &str = "grades-print";

struct Loaded {
    book: Book,
    one: Assessment,
    weighed: Vec<Weighed>,
    history: Vec<Score>,
    judged: std::collections::HashMap<crate::ids::ScoreId, Vec<Judged>>,
    looks: Vec<SecondLook>,
    everybody: Vec<Member>,
    person: PersonId,
}

impl Loaded {
    fn standing(&self) -> Option<&Score> {
        self.book.score(self.one.id, self.person)
    }

    fn levels(&self, score: Option<&Score>) -> &[Judged] {
        score.and_then(|score| self.judged.get(&score.id)).map_or(&[], Vec::as_slice)
    }

    fn student(&self) -> Result<&Member, Trouble> {
        self.book.students.iter().find(|student| student.person == self.person).ok_or(Trouble::NotFound)
    }

    fn name(&self, person: PersonId) -> String {
        let member = self.everybody.iter().find(|member| member.person == person);
        member.map(full_name).unwrap_or_default()
    }

    /// Who stands before and after this one in the class's order.
    fn neighbours(&self) -> (Option<&Member>, Option<&Member>) {
        let all = &self.book.students;
        let place = all.iter().position(|student| student.person == self.person);
        let before = place.and_then(|place| all.get(place.checked_sub(1)?));
        (before, place.and_then(|place| all.get(place + 1)))
    }
}

fn full_name(member: &Member) -> String {
    format!("{} {}", member.given_name, member.family_name)
}

async fn load(ask: &InClass, id: AssessmentId, person: PersonId) -> Result<Loaded, Trouble> {
    let (class, zone) = (ask.class(), ask.membership.zone);
    ask.house
        .db
        .read(move |db| {
            let book = book::open(db, class, zone, Which::InHand, None)?;
            let one = book.assessments.iter().find(|one| one.id == id).cloned().ok_or(Trouble::NotFound)?;
            Ok(Loaded {
                weighed: criteria::weighed(db, class, id)?,
                history: scores::history(db, class, Some(id), Some(person))?,
                judged: marks::judged(db, class, Some(id), Some(person))?,
                looks: second_looks::second_looks(db, class, Some(person))?,
                everybody: members::everybody(db, class)?,
                book,
                one,
                person,
            })
        })
        .await
}

fn path_of(ask: &InClass, id: AssessmentId, person: PersonId) -> String {
    format!("/classes/{}/assessments/{id}/marking/{person}", ask.class())
}

/// The page as things stand.
pub async fn page(ask: InClass, path: web::Path<(ClassId, AssessmentId, PersonId)>) -> Reply {
    let (_, id, person) = path.into_inner();
    let loaded = load(&ask, id, person).await?;
    let form = stored(&loaded);
    show(&ask, &loaded, form, false).await
}

/// The form as things stand.
fn stored(loaded: &Loaded) -> Form {
    let score = loaded.standing();
    let own = score.filter(|score| loaded.weighed.is_empty() || !score.own_points_reason.is_empty());
    let form = Form::new(FORM)
        .with("status", score.map_or(Status::Pending, |score| score.status.0).word())
        .with("seen", score.map(|score| score.id.to_string()).unwrap_or_default())
        .with("words", score.map(|score| score.words.as_str()).unwrap_or_default())
        .with_maybe(
            "own_points",
            own.and_then(|score| score.points_hundredths).map(|points| decimal_text(points, 2)),
        )
        .with("own_reason", score.map(|score| score.own_points_reason.as_str()).unwrap_or_default());
    loaded.levels(score).iter().fold(form, |form, one| {
        let level = one.level.map(|level| level.to_string()).unwrap_or_default();
        form.with(&format!("level-{}", one.criterion), level)
            .with(&format!("words-{}", one.criterion), one.words.as_str())
    })
}

#[derive(Serialize)]
pub(super) struct Criterion {
    title: String,
    about: String,
    of: String,
    level: String,
    words: String,
    levels: Vec<Choice>,
}

pub(super) fn criterion(ask: &InClass, one: &Weighed) -> Criterion {
    let speech = &ask.house.speech;
    let mut levels: Vec<Choice> = (1..)
        .zip(&one.criterion.levels)
        .map(|(place, level)| {
            let worth = points(one.points_hundredths, level.share_bp).map(hundredths).unwrap_or_default();
            let words = Remark::new("criteria-level-choice")
                .with("number", i64::from(place))
                .with("title", level.title.as_str())
                .with("points", worth)
                .with("words", level.descriptor.as_str());
            Choice::new(place.to_string(), speech.remark(&words))
        })
        .collect();
    levels.push(Choice::new("", speech.plain("criteria-level-none")));
    Criterion {
        title: one.criterion.title.clone(),
        about: one.criterion.about.clone(),
        of: say(speech, "criteria-of-points", "points", hundredths(one.points_hundredths)),
        level: format!("level-{}", one.criterion.id),
        words: format!("words-{}", one.criterion.id),
        levels,
    }
}

#[derive(Serialize)]
struct View {
    wide: bool,
    class_path: String,
    id: AssessmentId,
    path: String,
    about: String,
    form: Form,
    criteria: Vec<Criterion>,
    statuses: Vec<Value>,
    beside: Beside,
    standing: Option<String>,
    earlier: Vec<Value>,
    theirs: Vec<String>,
    look: Option<Value>,
    before: Option<Value>,
    next: Option<Value>,
    changes: bool,
}

async fn show(ask: &InClass, loaded: &Loaded, form: Form, again: bool) -> Reply {
    let speech = &ask.house.speech;
    let student = loaded.student()?;
    let beside = beside::read(ask, &loaded.book, &loaded.one, loaded.person).await?;
    let link = |member: &Member| json!({ "path": path_of(ask, loaded.one.id, member.person), "name": full_name(member) });
    let (before, next) = loaded.neighbours();
    let stale = form.complains("status")
        && form.value("seen") != loaded.standing().map(|one| one.id.to_string()).as_deref();
    let theirs = if stale { loaded.levels(loaded.standing()) } else { &[] };
    // Both are shown, so whoever saves again has seen what stands.
    let form = match loaded.standing().filter(|_| stale) {
        Some(standing) => form.with("seen", standing.id.to_string()),
        None => form,
    };
    let view = View {
        wide: true,
        class_path: format!("/classes/{}", ask.class()),
        id: loaded.one.id,
        path: path_of(ask, loaded.one.id, loaded.person),
        about: speech.remark(
            &Remark::new("grades-print-about")
                .with("title", loaded.one.title.as_str())
                .with("points", hundredths(loaded.one.points_hundredths)),
        ),
        criteria: loaded.weighed.iter().map(|one| criterion(ask, one)).collect(),
        statuses: Status::ALL
            .iter()
            .map(|status| json!({ "value": status.word(), "label": speech.plain(status_key(*status)) }))
            .collect(),
        beside,
        standing: loaded.standing().filter(|score| score.status.0 != Status::Pending).map(|score| {
            let state = match score.handed_back_at {
                Some(at) => say(speech, "grades-handed-back", "at", dates::moment(at, ask.membership.zone)),
                None => speech.plain("grades-not-handed-back"),
            };
            let line = Remark::new("grades-print-stands")
                .with("mark", mark(speech, Some(score), &loaded.one))
                .with("by", loaded.name(score.by))
                .with("state", state);
            speech.remark(&line)
        }),
        earlier: earlier(ask, loaded),
        theirs: theirs.iter().map(|one| own::judged_line(speech, one)).collect(),
        look: look(ask, loaded),
        before: before.map(link),
        next: next.map(link),
        changes: loaded.standing().is_some_and(|score| score.status.0 != Status::Pending),
        form,
    };
    let name = full_name(student);
    if again { ask.show_again("grades/print", &name, &view) } else { ask.show("grades/print", &name, &view) }
}

/// What stood before, newest first, with its levels.
fn earlier(ask: &InClass, loaded: &Loaded) -> Vec<Value> {
    let speech = &ask.house.speech;
    let past = loaded.history.iter().rev().filter(|score| score.superseded_at.is_some());
    past.map(|score| {
        let next = loaded.history.iter().find(|one| one.corrects == Some(score.id));
        let reason = next.map(|next| next.reason.as_str()).filter(|reason| !reason.is_empty());
        let line = Remark::new("grades-earlier-line")
            .with("mark", mark(speech, Some(score), &loaded.one))
            .with("at", dates::moment(score.at, ask.membership.zone))
            .with("by", loaded.name(score.by));
        let levels: Vec<String> =
            loaded.levels(Some(score)).iter().map(|one| own::judged_line(speech, one)).collect();
        json!({
            "line": speech.remark(&line), "words": score.words, "levels": levels,
            "reason": reason.map(|reason| say(speech, "grades-earlier-reason", "reason", reason)),
        })
    })
    .collect()
}

/// The second look that waits for an answer.
fn look(ask: &InClass, loaded: &Loaded) -> Option<Value> {
    let look =
        loaded.looks.iter().find(|one| one.assessment == loaded.one.id && one.answered_at.is_none())?;
    let at = dates::moment(look.asked_at, ask.membership.zone);
    Some(json!({
        "reason": look.reason, "form": Form::new("second-look"),
        "asked": say(&ask.house.speech, "second-look-asked-at", "at", at),
        "path": format!("/classes/{}/second-looks/{}", ask.class(), look.id),
    }))
}

/// Keeps the mark and goes on.
pub async fn keep(ask: InClass, path: web::Path<(ClassId, AssessmentId, PersonId)>, filled: Filled) -> Reply {
    let (class, id, person) = path.into_inner();
    let loaded = load(&ask, id, person).await?;
    loaded.student()?;
    let outcome = async {
        let (said, reason) = read(&filled, person)?;
        let key = filled.once_key()?;
        let next = loaded.neighbours().1.map(|next| next.person).filter(|_| filled.get("go") == Some("next"));
        let location = match next {
            Some(next) => format!("{}?done=done-mark", path_of(&ask, id, next)),
            None => format!("{}?done=done-mark", path_of(&ask, id, person)),
        };
        ask.house
            .db
            .write(Scope::Class(class), Some(ask.person.id), ask.now(), move |tx| {
                tx.once(&key, |tx| {
                    tx.mark_print(class, id, &said, &reason)?;
                    Ok(location.clone())
                })
            })
            .await
    };
    match outcome.await {
        Ok(location) => Ok(see_other(location)),
        Err(trouble) => {
            let loaded = load(&ask, id, person).await?;
            let named = |field: &str| criterion_title(&loaded.weighed, field);
            let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?.naming(named);
            show(&ask, &loaded, form, true).await
        }
    }
}

/// The title of the criterion a field is about.
pub(super) fn criterion_title(weighed: &[Weighed], field: &str) -> Option<String> {
    let id = field.split_once('-')?.1;
    weighed.iter().find(|one| one.criterion.id.to_string() == id).map(|one| one.criterion.title.clone())
}

pub(super) fn read(filled: &Filled, person: PersonId) -> Result<(PrintMark, String), Trouble> {
    let mut sheet = Sheet::new(filled);
    let mut levels: Vec<(CriterionId, Option<i32>, String)> = Vec::new();
    for id in filled.pairs.iter().filter_map(|(field, _)| field.strip_prefix("words-")) {
        let level =
            sheet.maybe_whole(&format!("level-{id}"), 1..=100).and_then(|level| i32::try_from(level).ok());
        let words = sheet.words(&format!("words-{id}"), 1000);
        levels.push((id.parse().map_err(|_error| Trouble::NotFound)?, level, words));
    }
    let said = PrintMark {
        person,
        seen: sheet.maybe_id("seen"),
        status: sheet.maybe_choice("status").unwrap_or(Status::Pending),
        levels,
        own_points: sheet.maybe_decimal("own_points", 2, 0..=MOST_POINTS),
        own_reason: sheet.maybe_text("own_reason", 300).unwrap_or_default(),
        words: sheet.words("words", 2000),
    };
    let reason = sheet.maybe_text("reason", 300).unwrap_or_default();
    sheet.done()?;
    Ok((said, reason))
}
