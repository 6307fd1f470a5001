//! A student's own place in the line: on Today, on the plate's page, and on a page of its own.

use actix_web::http::StatusCode;
use serde::Serialize;

use crate::clock::Instant;
use crate::ids::{AskingId, PlateId};
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::store::plates::folder::Folder;
use crate::store::plates::prints;
use crate::store::tonight::askings::{self, Asking, Kind, Line};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

pub(super) const FORM: &str = "asking";

/// The part of a page that says where one stands in the line, with the form that asks.
#[derive(Debug, Serialize)]
pub(in crate::pages) struct Own {
    class_path: String,
    /// What the page compares with the news.
    number: i64,
    /// What is said aloud when it changes.
    says: String,
    waiting: Vec<Waiting>,
    form: Form,
    kinds: Vec<Choice>,
    plates: Vec<Choice>,
    /// The plate it is about where there is no choice: on the plate's own page.
    plate: Option<PlateId>,
    /// The page to come back to.
    from: &'static str,
}

#[derive(Debug, Serialize)]
struct Waiting {
    id: AskingId,
    what: String,
    place: String,
    since: String,
}

/// Where the form stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::pages) enum On {
    Today,
    Plate,
    Line,
}

impl On {
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Today => "today",
            Self::Plate => "plate",
            Self::Line => "line",
        }
    }
}

/// What an asking is about, in words: “Help, plate 3”.
pub(super) fn what(ask: &InClass, one: &Asking) -> String {
    let kind = ask.house.speech.plain(&kind_key(one.kind));
    match one.plate {
        Some((_, number)) => {
            let remark =
                Remark::new("asking-with-plate").with("kind", kind).with("number", i64::from(number));
            ask.house.speech.remark(&remark)
        }
        None => kind,
    }
}

pub(super) fn kind_key(kind: Kind) -> String {
    format!("asking-kind-{}", kind.word().replace('_', "-"))
}

/// The person's own place in the line, with the form; `plates` to choose from, or the one it is about.
pub(in crate::pages) fn own(
    ask: &InClass,
    line: &Line,
    on: On,
    plates: Vec<Choice>,
    about: Option<PlateId>,
) -> Own {
    let form = Form::new(FORM).with("place", line.last_place.clone());
    let form = form.with_maybe("plate", about.map(|plate| plate.to_string()));
    with_form(ask, line, on, plates, about, form)
}

fn with_form(
    ask: &InClass,
    line: &Line,
    on: On,
    plates: Vec<Choice>,
    about: Option<PlateId>,
    form: Form,
) -> Own {
    let speech = &ask.house.speech;
    let mine = line.open.iter().filter(|one| one.person == ask.person.id);
    let waiting: Vec<Waiting> = mine.map(|one| waiting(ask, line, one)).collect();
    let says = waiting.iter().map(|one| format!("{}: {}", one.what, one.place)).collect::<Vec<_>>();
    Own {
        class_path: format!("/classes/{}", ask.class()),
        number: line.number,
        says: if says.is_empty() { speech.plain("asking-none-open") } else { says.join(" ") },
        waiting,
        form,
        kinds: Kind::ALL
            .iter()
            .map(|kind| Choice::new(kind.word(), speech.plain(&kind_key(*kind))))
            .collect(),
        plates: if on == On::Plate { Vec::new() } else { plates },
        plate: about.filter(|_| on == On::Plate),
        from: on.word(),
    }
}

fn waiting(ask: &InClass, line: &Line, one: &Asking) -> Waiting {
    let speech = &ask.house.speech;
    let place = line.place_of(one.id).and_then(|place| i64::try_from(place).ok()).unwrap_or(1);
    Waiting {
        id: one.id,
        what: what(ask, one),
        place: speech.remark(&Remark::new("asking-place-in-line").with("place", place)),
        since: time_of(ask, one.at),
    }
}

pub(super) fn time_of(ask: &InClass, at: Instant) -> String {
    dates::time(at.local(ask.membership.zone))
}

/// A plate to choose, by number and print.
pub(in crate::pages) fn plate_choice(folder: &Folder) -> Choice {
    let row = &folder.row;
    Choice::new(row.id.to_string(), format!("{}, {}", row.number, row.print.title))
}

/// The page of the line: what Today and the plate's page refresh from, and where a form without use comes back.
pub async fn page(ask: InClass) -> Reply {
    let line = line(&ask).await?;
    let plates = plates(&ask).await?;
    let (on, about) = match ask.query("plate").and_then(|id| id.parse::<PlateId>().ok()) {
        Some(plate) if plates.iter().any(|one| one.value == plate.to_string()) => (On::Plate, Some(plate)),
        _ => (On::Line, None),
    };
    let on = if ask.query("from").as_deref() == Some("today") { On::Today } else { on };
    let view = serde_json::json!({ "own": own(&ask, &line, on, plates, about) });
    ask.show("tonight/line", "asking-title", &view)
}

/// The page with what is wrong.
pub(super) async fn again(ask: &InClass, filled: &crate::pages::forms::Filled, trouble: Trouble) -> Reply {
    let status = actix_web::ResponseError::status_code(&trouble);
    let form = Form::after(FORM, filled, trouble, &ask.house.speech)?;
    let line = line(ask).await?;
    let plates = plates(ask).await?;
    let view = serde_json::json!({ "own": with_form(ask, &line, On::Line, plates, None, form) });
    ask.page(
        if status.is_success() { StatusCode::UNPROCESSABLE_ENTITY } else { status },
        "tonight/line",
        "asking-title",
        &view,
    )
}

async fn line(ask: &InClass) -> Result<Line, Trouble> {
    let (class, person, now) = (ask.class(), ask.person.id, ask.now());
    ask.house.db.read(move |db| askings::line(db, class, person, now)).await
}

async fn plates(ask: &InClass) -> Result<Vec<Choice>, Trouble> {
    let (class, owner) = (ask.class(), ask.person.id);
    let own = ask.house.db.read(move |db| prints::own_plates(db, class, owner)).await?;
    Ok(own
        .into_iter()
        .map(|(id, number, title)| Choice::new(id.to_string(), format!("{number}, {title}")))
        .collect())
}

/// The time with its day where it is not today's, for staff.
pub(super) fn near(ask: &InClass, at: Instant) -> String {
    dates::near(at, ask.now(), ask.membership.zone)
}
