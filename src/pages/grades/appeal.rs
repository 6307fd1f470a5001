//! A student's file for an appeal, on one page that prints: every mark ever given with who, when, against which wording and
//! why it changed, second looks, what was handed back, what was submitted, notes of critiques, letters sent, and proofs.

use std::collections::HashMap;

use actix_web::web;
use serde::Serialize;
use serde_json::Value;

use crate::ids::{ClassId, PersonId, ScoreId};
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::grades::own::{judged_view, look_lines, note};
use crate::pages::grades::submitted::{Shown, shown};
use crate::pages::grades::{hundredths, say, status_key};
use crate::photos::shelf::Size;
use crate::store::grades::critiques::{self, OwnNote};
use crate::store::grades::marks::{self, Judged};
use crate::store::grades::scores::{self, Score};
use crate::store::grades::second_looks::{self, SecondLook};
use crate::store::grades::{assessments, submitted};
use crate::store::letters::listing;
use crate::store::people::members;
use crate::store::proofs::pulls;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Letters on the page.
const MOST_LETTERS: i64 = 500;

#[derive(Serialize)]
struct Mark {
    mark: String,
    line: String,
    stands: bool,
    handed_back: Option<String>,
    reason: String,
    words: String,
    /// Against which wording: criterion, level and comment as they held then.
    levels: Vec<Value>,
    own_points: Option<String>,
    /// The second look that was asked at this mark, and what came of it.
    look: Vec<String>,
}

#[derive(Serialize)]
struct Work {
    title: String,
    marks: Vec<Mark>,
}

#[derive(Serialize)]
struct Photo {
    path: String,
    alt: String,
    line: String,
    width: i32,
    height: i32,
}

#[derive(Serialize)]
struct View {
    class_path: String,
    person: PersonId,
    about: String,
    submitted: Vec<Shown>,
    works: Vec<Work>,
    notes: Vec<Value>,
    letters: Vec<String>,
    photos: Vec<Photo>,
}

/// The page.
pub async fn page(ask: InClass, path: web::Path<(ClassId, PersonId)>) -> Reply {
    ask.confirmed()?;
    let (class, person) = path.into_inner();
    let (everybody, work, history, kept, letters, proofs, beside) = ask
        .house
        .db
        .read(move |db| {
            Ok((
                members::everybody(db, class)?,
                assessments::assessments(db, class)?,
                scores::history(db, class, None, Some(person))?,
                submitted::submitted(db, class, Some(person))?,
                listing::letters(db, Some(class), None, None, Some(person), MOST_LETTERS)?,
                pulls::of_class(db, class, Some(person))?,
                Beside {
                    judged: marks::judged(db, class, None, Some(person))?,
                    looks: second_looks::second_looks(db, class, Some(person))?,
                    notes: critiques::handed_back(db, class, Some(person))?,
                },
            ))
        })
        .await?;
    let member = everybody.iter().find(|one| one.person == person).ok_or(Trouble::NotFound)?;
    let (speech, zone) = (&ask.house.speech, ask.membership.zone);
    let name = |id: PersonId| {
        let found = everybody.iter().find(|one| one.person == id);
        found.map(|one| format!("{} {}", one.given_name, one.family_name)).unwrap_or_default()
    };
    let works = work
        .iter()
        .map(|one| Work {
            title: one.title.clone(),
            marks: history
                .iter()
                .filter(|score| score.assessment == one.id)
                .map(|score| mark(&ask, score, one.points_hundredths, &name(score.by), &beside))
                .collect(),
        })
        .collect();
    let photos = proofs.iter().flat_map(|(_, of_plate)| of_plate).map(|one| photo(&ask, one)).collect();
    let about = Remark::new("appeal-about")
        .with("class", ask.membership.class_title.as_str())
        .with("term", ask.membership.term_name.as_str())
        .with("at", dates::moment(ask.now(), zone));
    let view = View {
        class_path: ask.path(""),
        person,
        about: speech.remark(&about),
        submitted: shown(speech, zone, &kept),
        works,
        notes: beside.notes.iter().map(note).collect(),
        letters: letters.iter().map(|one| letter_line(&ask, one)).collect(),
        photos,
    };
    let whole = format!("{} {}", member.given_name, member.family_name);
    ask.show("grades/appeal", &say(speech, "appeal-title", "name", whole), &view)
}

/// What stands beside marks.
struct Beside {
    judged: HashMap<ScoreId, Vec<Judged>>,
    looks: Vec<SecondLook>,
    notes: Vec<OwnNote>,
}

fn mark(ask: &InClass, score: &Score, points: i64, by: &str, beside: &Beside) -> Mark {
    let (speech, zone) = (&ask.house.speech, ask.membership.zone);
    let given = Remark::new("appeal-given").with("at", dates::moment(score.at, zone)).with("by", by);
    Mark {
        mark: match score.points_hundredths {
            Some(given) => speech.remark(
                &Remark::new("grades-of").with("score", hundredths(given)).with("points", hundredths(points)),
            ),
            None => speech.plain(status_key(score.status.0)),
        },
        line: speech.remark(&given),
        stands: score.superseded_at.is_none(),
        handed_back: score
            .handed_back_at
            .map(|at| say(speech, "grades-handed-back", "at", dates::moment(at, zone))),
        reason: score.reason.clone(),
        words: score.words.clone(),
        levels: beside
            .judged
            .get(&score.id)
            .into_iter()
            .flatten()
            .map(|one| judged_view(speech, one))
            .collect(),
        own_points: (!score.own_points_reason.is_empty())
            .then(|| say(speech, "grades-own-points", "reason", score.own_points_reason.as_str())),
        look: beside
            .looks
            .iter()
            .filter(|one| one.score == score.id)
            .flat_map(|one| look_lines(speech, zone, one, true))
            .collect(),
    }
}

fn letter_line(ask: &InClass, one: &listing::Listed) -> String {
    let speech = &ask.house.speech;
    let (state, at) = one.state();
    let known = speech.knows(&format!("letters-kind-{}", one.kind));
    let kind = if known { format!("letters-kind-{}", one.kind) } else { "letters-kind-unknown".to_owned() };
    let state = speech.plain(crate::pages::letters::list::state_key(state));
    format!("{}, {state}, {}", speech.plain(&kind), dates::moment(at, ask.membership.zone))
}

fn photo(ask: &InClass, one: &pulls::Numbered) -> Photo {
    let (width, height) =
        Size::Large1600.within(one.proof.width.unsigned_abs(), one.proof.height.unsigned_abs());
    let number = i64::try_from(one.number).unwrap_or(0);
    Photo {
        path: ask.path(&format!("/photos/{}/1600", one.proof.photo)),
        alt: say(&ask.house.speech, "appeal-photo", "number", number),
        line: format!("{} {}", dates::moment(one.proof.pulled_at, ask.membership.zone), one.proof.note),
        width: i32::try_from(width).unwrap_or(0),
        height: i32::try_from(height).unwrap_or(0),
    }
}
