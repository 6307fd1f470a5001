//! An entry from the table, as the phone sends it: the form of an etch log with the times of the phone's own clock. The
//! once-key is the entry's id, so a retry stores nothing twice; what is known of the phone's clock at the moment of sending
//! stands in the address, because it differs from one retry to the next.

use actix_web::web;
use serde_json::json;

use crate::ids::{ClassId, PersonId, PlateId, TabletId};
use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::InClass;
use crate::pages::etches::form::{read, read_down};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::plates;
use crate::pages::sittings::page::{json as answered, wants_json};
use crate::store::etches::recording::MOST_APPLICATIONS;
use crate::store::sittings::clock::ByPhone;
use crate::store::sittings::entries::{Says, TableEntry};
use crate::store::{Scope, Tx};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Instants a phone may name: from 2000 to 2100, in milliseconds.
const DEVICE_MS: std::ops::RangeInclusive<i64> = 946_684_800_000..=4_102_444_800_000;
/// A phone may be without signal for a term.
const LONGEST_MS: i64 = 200 * crate::clock::DAY_MS;

/// Stores an entry.
pub async fn keep(ask: InClass, ids: web::Path<(ClassId, PlateId)>, filled: Filled) -> Reply {
    stored(&ask, ids.into_inner().1, &filled, None).await
}

/// Stores an entry told on somebody's phone, or on the studio's tablet.
pub(super) async fn stored(
    ask: &InClass,
    plate: PlateId,
    filled: &Filled,
    tablet: Option<TabletId>,
) -> Reply {
    let (at, house) = (plates::at(ask, plate), ask.house.clone());
    let back = if tablet.is_some() { "/tablet".to_owned() } else { plates::path(ask, plate) };
    // Whose plate it is comes first: what is not this person's is not there, whatever was typed.
    let place = at;
    let procedures = ask.house.clone();
    ask.house
        .db
        .read(move |db| {
            let (class, owner) = (place.class, place.owner);
            crate::store::plates::folder::folder(
                db,
                &procedures.procedures,
                class,
                plate,
                owner,
                place.studio,
                place.zone,
            )
            .map(|_| ())
        })
        .await?;
    let entry = typed(ask, filled, tablet)?;
    let key = filled.once_key()?;
    let by = ask.person.id;
    let location = ask
        .house
        .db
        .write(Scope::Class(ask.class()), Some(by), ask.now(), move |tx: &mut Tx<'_>| {
            tx.once(&key, |tx| {
                let kept = tx.keep_entry(&house.procedures, &at, &entry)?;
                let word =
                    if kept.outside.is_empty() { "done-table-kept" } else { "done-table-kept-outside" };
                Ok(crate::pages::acts::said(&back, word))
            })
        })
        .await?;
    match wants_json(ask) {
        true => Ok(answered(&json!({ "stored": true, "next": location }))),
        false => Ok(see_other(location)),
    }
}

fn typed(ask: &InClass, filled: &Filled, tablet: Option<TabletId>) -> Result<TableEntry, Trouble> {
    let mut sheet = Sheet::new(filled);
    let person: PersonId = sheet.id("person");
    let says = sheet.choice("says", Says::Done);
    let elapsed = number(ask, "elapsed").unwrap_or(0).clamp(0, LONGEST_MS);
    let (offset_ms, sent_offset_ms) = (number(ask, "offset"), number(ask, "now_offset"));
    let steady = ask.query("steady").is_some();
    let began = sheet.whole("began_ms", DEVICE_MS);
    let ended = sheet.maybe_whole("ended_ms", DEVICE_MS);
    if ended.is_some_and(|ended| ended < began) {
        sheet.complain("ended_ms", Remark::new("table-ended-before-began"));
    }
    if says != Says::Began && ended.is_none() {
        sheet.complain("ended_ms", Remark::new("form-empty"));
    }
    let lasted = ended.map_or(0, |ended| (ended - began).max(0));
    let by_phone =
        |device_ms, elapsed_ms| ByPhone { device_ms, offset_ms, sent_offset_ms, elapsed_ms, steady };
    let over = says != Says::Began;
    let etched = over && filled.get("recipe").is_some() && any_application(filled);
    let etch = etched.then(|| read(&mut sheet, filled));
    let measured = seconds(filled, "measured");
    let entry = TableEntry {
        says,
        run: sheet.id("run"),
        step_key: sheet.text("step", 80),
        began: by_phone(began, elapsed.saturating_add(lasted)),
        ended: ended.filter(|_| over).map(|ended| by_phone(ended, elapsed)),
        planned: seconds(filled, "planned"),
        in_room: sheet.maybe_text("in_room", 80).unwrap_or_default(),
        sheets: sheet.maybe_whole("sheets", 0..=2000).and_then(|sheets| i32::try_from(sheets).ok()),
        note: sheet.words("note", 1000),
        timed: etch.as_ref().is_some_and(|etch| !measured.is_empty() && etch.applications == measured),
        etch,
        down: if over { read_down(&mut sheet) } else { None },
        tablet,
    };
    sheet.done()?;
    if person != ask.person.id {
        return Err(Trouble::Refused(Remark::new("table-anothers-entry")));
    }
    Ok(entry)
}

fn number(ask: &InClass, name: &str) -> Option<i64> {
    ask.query(name)?.parse().ok()
}

fn any_application(filled: &Filled) -> bool {
    filled.pairs.iter().any(|(field, typed)| field.starts_with("application_") && !typed.trim().is_empty())
}

/// “120,120,90”; what cannot be read is left out: it says what the clocks were set to, or what they measured.
fn seconds(filled: &Filled, field: &str) -> Vec<i32> {
    let text = filled.get(field).unwrap_or_default();
    text.split(',')
        .filter_map(|seconds| seconds.trim().parse().ok())
        .filter(|seconds| (1..=3600).contains(seconds))
        .take(MOST_APPLICATIONS)
        .collect()
}
