//! The lists of letters, of a class and of the school, and trying a failed one again.

use actix_web::web;
use chrono_tz::Tz;
use serde::Serialize;

use crate::clock::Instant;
use crate::ids::{ClassId, LetterId, PersonId};
use crate::pages::acts::said;
use crate::pages::answer::{Reply, done};
use crate::pages::dates;
use crate::pages::entry::{Ask, InClass};
use crate::pages::forms::Filled;
use crate::speech::Speech;
use crate::store::Scope;
use crate::store::letters::listing::{self, Listed, State};
use crate::store::letters::{Kind, outbox, resting};
use crate::trade::spelled::Spelled;

/// Letters on one page.
const MOST: usize = 100;

#[derive(Debug, Serialize)]
struct View {
    about: &'static str,
    path: String,
    of_school: bool,
    states: Vec<Choice>,
    letters: Vec<Line>,
    resting: Vec<RestingLine>,
    older: Option<String>,
}

/// An address to which no letters go.
#[derive(Debug, Serialize)]
struct RestingLine {
    id: PersonId,
    person: String,
    address: Option<String>,
    since: String,
    said: Option<String>,
}

/// A link that shows one state only.
#[derive(Debug, Serialize)]
struct Choice {
    name: String,
    path: String,
    here: bool,
}

#[derive(Debug, Serialize)]
struct Line {
    id: LetterId,
    kind: String,
    person: String,
    class: Option<String>,
    state: &'static str,
    failed: bool,
    /// When it came to be so; for a letter that waits after a try, when it is tried next.
    since: String,
    next_try: bool,
    /// How often it was tried, if not just once.
    tries: Option<i32>,
    said: Option<String>,
}

/// Letters of the class.
pub async fn of_class(ask: InClass) -> Reply {
    let (path, zone) = (format!("/classes/{}/letters", ask.class()), ask.membership.zone);
    page(&ask, Some(ask.class()), path, zone).await
}

/// Letters of the whole school, those about accounts among them. Times are those of UTC: a school has no zone.
pub async fn of_school(ask: Ask) -> Reply {
    page(&ask, None, "/school/letters".to_owned(), Tz::UTC).await
}

async fn page(ask: &Ask, of: Option<ClassId>, path: String, zone: Tz) -> Reply {
    let state = ask.query("state").and_then(|word| State::from_word(&word));
    let before = ask.query("before").and_then(|mark| unmark(&mark));
    let most = i64::try_from(MOST).unwrap_or(i64::MAX);
    let (mut listed, rests) = ask
        .house
        .db
        .read(move |db| {
            Ok((listing::letters(db, of, state, before, None, most + 1)?, resting::resting(db, of)?))
        })
        .await?;
    let more = listed.len() > MOST;
    listed.truncate(MOST);
    let speech = &ask.house.speech;
    let query = state.map(|state| format!("state={}&", state.word())).unwrap_or_default();
    let older = listed.last().filter(|_| more).map(|last| format!("{path}?{query}before={}", mark(last)));
    let view = View {
        about: if of.is_some() { "letters-list-about-class" } else { "letters-list-about-school" },
        of_school: of.is_none(),
        states: states(speech, &path, state),
        resting: rests
            .into_iter()
            .map(|one| RestingLine {
                id: one.person,
                person: format!("{} {}", one.given_name, one.family_name),
                address: one.email,
                since: moment(one.since, zone),
                said: one.said,
            })
            .collect(),
        letters: listed.into_iter().map(|one| line(speech, one, zone)).collect(),
        older,
        path,
    };
    ask.show("outbox/list", "letters-list", &view)
}

fn states(speech: &Speech, path: &str, here: Option<State>) -> Vec<Choice> {
    let all = Choice { name: speech.plain("letters-list-all"), path: path.to_owned(), here: here.is_none() };
    let each = State::ALL.iter().map(|state| Choice {
        name: speech.plain(state_key(*state)),
        path: format!("{path}?state={}", state.word()),
        here: here == Some(*state),
    });
    std::iter::once(all).chain(each).collect()
}

pub(in crate::pages) const fn state_key(state: State) -> &'static str {
    match state {
        State::Waiting => "letters-state-waiting",
        State::Sent => "letters-state-sent",
        State::Failed => "letters-state-failed",
        State::Dropped => "letters-state-dropped",
    }
}

fn line(speech: &Speech, one: Listed, zone: Tz) -> Line {
    let (state, at) = one.state();
    let kind = Kind::from_word(&one.kind).map_or("unknown", Spelled::word);
    // Why a letter was dropped is a word of ours; what a mail server said is shown as it was said.
    let words = match state {
        State::Waiting if one.last_error.as_deref() == Some(outbox::QUIET) => {
            Some(speech.plain("letters-waits-quiet"))
        }
        State::Dropped => one.last_error.map(|word| speech.plain(&format!("letters-dropped-{word}"))),
        _ => one.last_error,
    };
    Line {
        id: one.id,
        kind: speech.plain(&format!("letters-kind-{kind}")),
        person: format!("{} {}", one.given_name, one.family_name),
        class: one.class,
        state: state_key(state),
        failed: state == State::Failed,
        next_try: state == State::Waiting && one.attempts > 0,
        since: moment(at, zone),
        tries: (one.attempts > 1).then_some(one.attempts),
        said: words,
    }
}

/// A moment on the wall clock of a class; a school has none, so there it is said that it is UTC.
fn moment(at: Instant, zone: Tz) -> String {
    let zone_name = if zone == Tz::UTC { " UTC" } else { "" };
    format!("{}{zone_name}", dates::moment(at, zone))
}

/// Where a page of the list ends, for the address of the next.
fn mark(last: &Listed) -> String {
    format!("{}.{}", last.created_at.millis(), last.id)
}

fn unmark(mark: &str) -> Option<(Instant, LetterId)> {
    let (at, id) = mark.split_once('.')?;
    Some((Instant::from_millis(at.parse().ok()?), id.parse().ok()?))
}

/// Tries a failed letter of the class again.
pub async fn again_in_class(ask: InClass, path: web::Path<(String, LetterId)>, filled: Filled) -> Reply {
    let (class, (_, letter)) = (ask.class(), path.into_inner());
    again(&ask, Some(class), letter, &filled, format!("/classes/{class}/letters")).await
}

/// Tries a failed letter of the school again.
pub async fn again_in_school(ask: Ask, letter: web::Path<LetterId>, filled: Filled) -> Reply {
    again(&ask, None, letter.into_inner(), &filled, "/school/letters".to_owned()).await
}

async fn again(ask: &Ask, of: Option<ClassId>, letter: LetterId, filled: &Filled, path: String) -> Reply {
    let (by, key) = (ask.person()?.id, filled.once_key()?);
    let scope = of.map_or(Scope::School, Scope::Class);
    let location = ask
        .house
        .db
        .write(scope, Some(by), ask.now(), move |tx| {
            tx.once(&key, |tx| {
                tx.try_letter_again(of, letter)?;
                Ok(path.clone())
            })
        })
        .await?;
    Ok(done(location, "done-letter-again"))
}

/// Has letters sent again to somebody of the class whose address rests.
pub async fn wake_in_class(ask: InClass, path: web::Path<(String, PersonId)>, filled: Filled) -> Reply {
    let (class, (_, person)) = (ask.class(), path.into_inner());
    let next = said(format!("/classes/{class}/letters"), "done-address-woken");
    ask.act(Scope::School, &filled, next, move |tx| tx.wake_address(Some(class), person)).await
}

/// Has letters sent again to somebody of the school whose address rests.
pub async fn wake_in_school(ask: Ask, person: web::Path<PersonId>, filled: Filled) -> Reply {
    let (person, next) = (person.into_inner(), said("/school/letters", "done-address-woken"));
    ask.act(Scope::School, &filled, next, move |tx| tx.wake_address(None, person)).await
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::post::letters::Drop;

    #[test]
    fn every_kind_state_and_reason_has_its_words() {
        let speech = Speech::load().unwrap();
        let kinds = Kind::ALL.iter().map(|kind| format!("letters-kind-{}", kind.word()));
        let reasons = Drop::ALL.iter().map(|drop| format!("letters-dropped-{}", drop.word()));
        let states = State::ALL.iter().map(|state| state_key(*state).to_owned());
        for key in kinds.chain(reasons).chain(states) {
            assert!(speech.knows(&key), "{key}");
        }
    }

    #[test]
    fn a_mark_is_read_back_and_nonsense_is_not() {
        let (at, id) = (Instant::from_millis(12), "0198c0de-0000-7000-8000-000000000001");
        assert_eq!(unmark(&format!("12.{id}")), Some((at, id.parse().unwrap())));
        for bad in ["", "12", ".", "x.y", "12.", "99999999999999999999.0"] {
            assert_eq!(unmark(bad), None, "{bad}");
        }
    }
}
