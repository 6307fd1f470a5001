//! A student's file for an appeal, on one page that prints: every mark ever given with who, when and why it changed, what
//! was handed back, what was submitted, letters sent, and proofs.

use actix_web::web;
use serde::Serialize;

use crate::ids::{ClassId, PersonId};
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::grades::submitted::{Shown, shown};
use crate::pages::grades::{hundredths, say, status_key};
use crate::photos::shelf::Size;
use crate::store::grades::scores::{self, Score};
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
    letters: Vec<String>,
    photos: Vec<Photo>,
}

/// The page.
pub async fn page(ask: InClass, path: web::Path<(ClassId, PersonId)>) -> Reply {
    ask.confirmed()?;
    let (class, person) = path.into_inner();
    let (everybody, work, history, kept, letters, proofs) = ask
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
                .map(|score| mark(&ask, score, one.points_hundredths, &name(score.by)))
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
        letters: letters.iter().map(|one| letter_line(&ask, one)).collect(),
        photos,
    };
    let whole = format!("{} {}", member.given_name, member.family_name);
    ask.show("grades/appeal", &say(speech, "appeal-title", "name", whole), &view)
}

fn mark(ask: &InClass, score: &Score, points: i64, by: &str) -> Mark {
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
