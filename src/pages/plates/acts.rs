//! What is done on a plate: starting and ending a step, telling one that happened, settling, allowing once, putting
//! the plate down. Whatever cannot be used comes back on the plate's page, at its field.

use actix_web::web;

use crate::clock::Instant;
use crate::ids::{ClassId, PlateId, StepRunId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::overview;
use crate::pages::plates::forms::{self, Kind, Refused};
use crate::pages::plates::{at, path};
use crate::pages::reasons;
use crate::store::plates::folder::KnownHow;
use crate::store::plates::procedures::Procedures;
use crate::store::plates::put_downs::PutDownDraft;
use crate::store::plates::runs::{At, Told};
use crate::store::{Scope, Tx};
use crate::trade::civil;
use crate::trade::procedure::Ordered;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// The address of a plate's act: the class and the plate.
pub type Ids = web::Path<(ClassId, PlateId)>;

/// One act on a plate: `read` takes from the form what it needs and answers the deed, which says the word for the next
/// page. The same form sent twice acts once.
async fn act<F>(
    ask: &InClass,
    ids: Ids,
    kind: Kind,
    filled: &Filled,
    read: impl FnOnce(&mut Sheet<'_>) -> F,
) -> Reply
where
    F: Fn(&mut Tx<'_>, &Procedures, &At) -> Result<&'static str, Trouble> + Send + 'static,
{
    let plate = ids.into_inner().1;
    let mut sheet = Sheet::new(filled);
    let deed = read(&mut sheet);
    let outcome = match sheet.done() {
        Ok(()) => {
            let (house, at, back) = (ask.house.clone(), at(ask, plate), path(ask, plate));
            ask.act_to(Scope::Class(ask.class()), filled, move |tx| {
                deed(tx, &house.procedures, &at).map(|word| said(&back, word))
            })
            .await
        }
        Err(trouble) => Err(trouble),
    };
    match outcome {
        Err(trouble) => again(ask, plate, kind, filled, trouble).await,
        fine => fine,
    }
}

/// The plate's page with what is wrong.
pub(super) async fn again(
    ask: &InClass,
    plate: PlateId,
    kind: Kind,
    filled: &Filled,
    trouble: Trouble,
) -> Reply {
    let status = actix_web::ResponseError::status_code(&trouble);
    let refused = Refused::after(kind, filled, trouble, &ask.house.speech)?;
    overview::plate::again(ask, plate, status, &refused).await
}

/// Ends a running step.
pub async fn end(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    act(&ask, ids, forms::END, &filled, |sheet| {
        let run: StepRunId = sheet.id("run");
        let sheets = sheets(sheet);
        let note = sheet.words("note", 1000);
        let late = late_note(&ask, sheets, &note);
        move |tx, procedures, at| {
            if !late.is_empty() && tx.note_after(procedures, at, run, &late)? {
                return Ok("done-noted-after");
            }
            tx.end_step(procedures, at, run, sheets, &note).map(|()| "done-ended")
        }
    })
    .await
}

/// Takes back a start made by mistake.
pub async fn take_back(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    act(&ask, ids, forms::TAKE_BACK, &filled, |sheet| {
        let run: StepRunId = sheet.id("run");
        move |tx, procedures, at| tx.take_back_start(procedures, at, run).map(|()| "done-start-taken-back")
    })
    .await
}

/// What was typed, for a step that turns out to have ended already: its sheets stand, so these go into words.
fn late_note(ask: &InClass, sheets: Option<i32>, note: &str) -> String {
    let counted = sheets.map(|sheets| {
        let remark = Remark::new("plates-note-sheets").with("sheets", i64::from(sheets));
        ask.house.speech.remark(&remark)
    });
    let words = counted.into_iter().chain((!note.is_empty()).then(|| note.to_owned()));
    words.collect::<Vec<_>>().join("\n")
}

fn sheets(sheet: &mut Sheet<'_>) -> Option<i32> {
    sheet.maybe_whole("sheets", 0..=2000).and_then(|sheets| i32::try_from(sheets).ok())
}

/// Tells a step that has happened; it is stored whatever rule it broke, and marked.
pub async fn tell(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    act(&ask, ids, forms::TELL, &filled, |sheet| {
        let told = read_told(&ask, sheet);
        move |tx, procedures, at| {
            let (_, outside) = tx.tell_step(procedures, at, &told)?;
            Ok(if outside.is_empty() { "done-told" } else { "done-told-outside" })
        }
    })
    .await
}

fn read_told(ask: &InClass, sheet: &mut Sheet<'_>) -> Told {
    let now = sheet.tick("now");
    let mut instant = |field: &str| match now {
        true => ask.now(),
        false => Instant::from_utc(civil::instant(sheet.local_time(field), ask.membership.zone)),
    };
    let (began_at, ended_at) = (instant("began"), instant("ended"));
    Told {
        step_key: sheet.text("step", 80),
        began_at,
        ended_at: Some(ended_at),
        known_how: match (now, sheet.tick("card")) {
            (true, _) => KnownHow::Measured,
            (false, true) => KnownHow::Card,
            (false, false) => KnownHow::Told,
        },
        sheets: sheets(sheet),
        note: sheet.words("note", 1000),
    }
}

/// An instructor settles a run outside the rules.
pub async fn settle(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    act(&ask, ids, forms::SETTLE, &filled, |sheet| {
        let run: StepRunId = sheet.id("run");
        let ordered = sheet.choice("ordered", Ordered::Stands);
        let reason = reasons::SETTLE.read(sheet, &ask.house.speech);
        move |tx, procedures, at| {
            tx.settle_run(procedures, at, run, ordered, &reason).map(|()| "done-settled")
        }
    })
    .await
}

/// An instructor allows one start, with a reason.
pub async fn allow(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    act(&ask, ids, forms::ALLOW, &filled, |sheet| {
        let step = sheet.text("step", 80);
        let reason = reasons::ALLOW.read(sheet, &ask.house.speech);
        move |tx, procedures, at| tx.allow_once(procedures, at, &step, &reason).map(|_| "done-allowed")
    })
    .await
}

/// Puts a plate down: gummed, buffed, and where in the rack. Without gum the page warns.
pub async fn put_down(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    act(&ask, ids, forms::DOWN, &filled, |sheet| {
        let draft = PutDownDraft {
            gummed: sheet.tick("gummed"),
            buffed: sheet.tick("buffed"),
            talc: sheet.tick("talc"),
            rack_place: sheet.text("rack_place", 40),
        };
        if draft.buffed && !draft.gummed {
            sheet.complain("gummed", Remark::new("plates-buffed-without-gum"));
        }
        let word = if draft.gummed && draft.buffed { "done-put-down" } else { "done-put-down-bare" };
        move |tx, procedures, at| tx.put_plate_down(procedures, at, &draft).map(|()| word)
    })
    .await
}
