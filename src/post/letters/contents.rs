//! What each kind of letter says: from a brief to the view its templates are filled with. A new kind gets an arm in
//! `about` (and in `brief`, if it has a reason of its own to be dropped).

mod daily;
mod due;
mod urgent;
mod week;

use chrono_tz::Tz;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};

use crate::clock::Instant;
use crate::ids::{AssessmentId, ClassId, PersonId};
use crate::post::letters::brief::{self, Brief, Link};
use crate::post::letters::{Desk, layout};
use crate::post::unsubscribing;
use crate::speech::dates;
use crate::speech::language::Language;
use crate::store::letters::Kind;
use crate::store::people::links::Purpose;
use crate::trade::remark::{Param, Remark};
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// What every letter's templates may name, as `letter`.
#[derive(Debug, Serialize)]
struct Frame {
    language: Language,
    given_name: String,
    school: String,
    /// The class the letter is of, or the school.
    place: String,
    public_url: String,
    /// Where this kind of letter is stopped, if it can be.
    stop: Option<String>,
}

/// The detail of a letter about grades handed back: the titles of what was handed back, never a grade.
#[derive(Debug, Deserialize, Serialize)]
pub struct HandedBack {
    pub titles: Vec<String>,
}

/// The detail of a letter about a changed address: where this one goes, and which address holds now.
#[derive(Debug, Deserialize, Serialize)]
pub struct EmailChanged {
    pub to: String,
    pub email: String,
}

/// The detail of a letter that asks an instructor for a second look.
#[derive(Debug, Deserialize, Serialize)]
pub struct SecondLookAsked {
    pub title: String,
    pub name: String,
    pub assessment: AssessmentId,
    pub person: PersonId,
}

/// The detail of a letter that says a second look was taken.
#[derive(Debug, Deserialize, Serialize)]
pub struct SecondLookAnswered {
    pub title: String,
}

/// The detail of a letter about a submitted grade: whether one stood before, never the grade.
#[derive(Debug, Deserialize, Serialize)]
pub struct GradeSubmitted {
    pub changed: bool,
}

/// The view of a letter: `letter` and `about`. No line breaks or other control characters are left in it, whatever
/// people typed.
///
/// # Errors
/// The row's detail does not fit its kind.
pub fn view(desk: &Desk, brief: &Brief) -> Result<Value, Trouble> {
    let class = brief.to.class.as_ref().map(|class| class.title.clone());
    let kind = brief.claim.kind;
    let frame = Frame {
        language: Language::at_hand(),
        given_name: brief.to.given_name.clone(),
        school: brief.to.school.clone(),
        place: class.unwrap_or_else(|| brief.to.school.clone()),
        public_url: desk.public_url.clone(),
        stop: unsubscribing::address(&desk.key, &desk.public_url, brief.claim.person, kind),
    };
    let mut view = json!({ "letter": frame, "about": about(desk, brief)? });
    one_lined(&mut view);
    Ok(view)
}

fn about(desk: &Desk, brief: &Brief) -> Result<Value, Trouble> {
    let url = &desk.public_url;
    Ok(match brief.claim.kind {
        Kind::Invitation => {
            let link = link(brief)?;
            json!({
                "class": brief.to.class.as_ref().map(|class| &class.title),
                "address": link.address(desk),
                "until": when(desk, link.expires_at, brief)?,
            })
        }
        Kind::Reset => {
            let link = link(brief)?;
            json!({
                "address": link.address(desk),
                "until": when(desk, link.expires_at, brief)?,
                "minutes": Purpose::Reset.lasts_ms() / 60_000,
            })
        }
        Kind::PasswordChanged => json!({
            "at": when(desk, brief.claim.created_at, brief)?,
            "address": format!("{url}/forgotten"),
        }),
        Kind::EmailChanged => {
            let changed = brief::read::<EmailChanged>(&brief.claim)?;
            json!({
                "at": when(desk, brief.claim.created_at, brief)?,
                "email": changed.email,
                "here": changed.to == changed.email,
                "address": format!("{url}/account"),
            })
        }
        Kind::HandedBack => json!({
            "titles": brief::read::<HandedBack>(&brief.claim)?.titles,
            "address": format!("{url}/classes/{}/grades", class(brief)?),
        }),
        Kind::SecondLookAsked => {
            let asked = brief::read::<SecondLookAsked>(&brief.claim)?;
            let place = format!("assessments/{}/marking/{}", asked.assessment, asked.person);
            json!({
                "title": asked.title, "name": asked.name,
                "address": format!("{url}/classes/{}/{place}", class(brief)?),
            })
        }
        Kind::SecondLookAnswered => json!({
            "title": brief::read::<SecondLookAnswered>(&brief.claim)?.title,
            "address": format!("{url}/classes/{}/grades", class(brief)?),
        }),
        Kind::GradeSubmitted => {
            let class = brief.claim.class.ok_or_else(|| Trouble::broken("writing a letter", "no class"))?;
            let changed = brief::read::<GradeSubmitted>(&brief.claim)?.changed;
            json!({ "changed": changed, "address": format!("{url}/classes/{class}/grades") })
        }
        Kind::DueMoved => due::about(desk, brief)?,
        Kind::Daily => daily::about(desk, &brief::read(&brief.claim)?)?,
        Kind::Urgent => urgent::about(desk, &brief::read(&brief.claim)?)?,
        Kind::Week => week::about(desk, &brief::read(&brief.claim)?)?,
    })
}

fn class(brief: &Brief) -> Result<ClassId, Trouble> {
    brief.claim.class.ok_or_else(|| Trouble::broken("writing a letter", "no class"))
}

fn link(brief: &Brief) -> Result<Link, Trouble> {
    brief.link.ok_or_else(|| Trouble::broken("writing a letter", "its link was not looked up"))
}

impl Link {
    /// The address with the secret, computed again from the row's id: this is the only place it is written.
    fn address(&self, desk: &Desk) -> String {
        let secret = desk.key.link_secret(self.purpose.word(), self.id.as_str());
        format!("{}/links/{secret}", desk.public_url)
    }
}

/// A moment on the wall clock of the letter's class; without a class in UTC, which is said.
fn when(desk: &Desk, at: Instant, brief: &Brief) -> Result<String, Trouble> {
    let zone = brief.to.class.as_ref().and_then(|class| class.zone.parse::<Tz>().ok());
    match zone {
        Some(zone) => Ok(dates::moment(at, zone)),
        None => say(desk, "letters-utc", &[("at", Param::Text(dates::moment(at, Tz::UTC)))]),
    }
}

/// A sentence of the catalogue; a gap fails the letter, so that nobody is sent a key.
pub(super) fn say(desk: &Desk, key: &str, with: &[(&str, Param)]) -> Result<String, Trouble> {
    desk.speech.say(key, with).map_err(|error| Trouble::broken("writing a letter", error))
}

/// What a remark says.
pub(super) fn said(desk: &Desk, remark: &Remark) -> Result<String, Trouble> {
    desk.speech.say(remark.key, &remark.with).map_err(|error| Trouble::broken("writing a letter", error))
}

/// Makes every text of a view one line: nothing typed can begin a paragraph, an entry or a header.
fn one_lined(value: &mut Value) {
    match value {
        Value::String(text) if text.chars().any(|c| c.is_control()) => {
            *text = layout::one_line(&text.replace(char::is_control, " "));
        }
        Value::Array(values) => values.iter_mut().for_each(one_lined),
        Value::Object(values) => values.values_mut().for_each(one_lined),
        _ => {}
    }
}
