//! What is done on a plate: starting and ending a step, telling one that happened, settling, allowing once, putting
//! the plate down.

use actix_web::http::StatusCode;
use actix_web::web;
use chrono::NaiveDateTime;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, PlateId, StepRunId};
use crate::pages::answer::{Reply, done};
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::plates::{at, path};
use crate::store::Scope;
use crate::store::plates::folder::KnownHow;
use crate::store::plates::runs::{Started, Told};
use crate::store::safety::topics;
use crate::trade::civil;
use crate::trade::procedure::{Ordered, RuleName, Verdict};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Starts a step, or says which rules refuse it and what to do.
pub async fn start(ask: InClass, ids: web::Path<(ClassId, PlateId)>, filled: Filled) -> Reply {
    let plate = ids.into_inner().1;
    let mut sheet = Sheet::new(&filled);
    let step = sheet.text("step", 80);
    find(&ask, plate).await?;
    sheet.done()?;
    let (place, house, key) = (at(&ask, plate), ask.house.clone(), step.clone());
    let started = ask
        .house
        .db
        .write(Scope::Class(ask.class()), Some(ask.person.id), ask.now(), move |tx| {
            tx.start_step(&house.procedures, &place, &key)
        })
        .await?;
    match started {
        Started::Running(_) => Ok(done(path(&ask, plate), "done-started")),
        Started::Refused(verdict) => refused(&ask, plate, &step, &verdict).await,
    }
}

/// Somebody else's plate is not there, whatever was typed.
async fn find(ask: &InClass, plate: PlateId) -> Result<(), Trouble> {
    let (at, house) = (at(ask, plate), ask.house.clone());
    ask.house
        .db
        .read(move |db| {
            crate::store::plates::folder::folder(
                db,
                &house.procedures,
                at.class,
                plate,
                at.owner,
                at.studio,
                at.zone,
            )
        })
        .await
        .map(|_| ())
}

/// Why a start is refused, what to do, and for a missing sign-off who can give it, where and when.
async fn refused(ask: &InClass, plate: PlateId, step: &str, verdict: &Verdict) -> Reply {
    let missing: Vec<String> = verdict
        .broken
        .iter()
        .filter(|broken| broken.rule == RuleName::SignOff)
        .map(|broken| broken.about.clone())
        .collect();
    let class = ask.class();
    let wanted = missing.clone();
    let (witnesses, presence) = ask
        .house
        .db
        .read(move |db| {
            let mut found = Vec::new();
            for topic in topics::topics(db, Some(class))? {
                if wanted.contains(&topic.key) {
                    found.push((topic.title.clone(), topics::witnesses(db, class, topic.id)?));
                }
            }
            Ok((found, topics::presences(db, class)?))
        })
        .await?;
    let who: Vec<_> = witnesses
        .iter()
        .map(|(title, witnesses)| {
            let people: Vec<_> = witnesses
                .iter()
                .map(|witness| {
                    let when: Vec<String> = presence
                        .iter()
                        .filter(|one| one.person.is_none() || one.person == Some(witness.person))
                        .map(|one| dates::weekly(one.weekday, one.from_minute, one.to_minute))
                        .collect();
                    json!({ "name": witness.name, "when": when.join(", ") })
                })
                .collect();
            json!({ "title": title, "people": people })
        })
        .collect();
    let sentences: Vec<_> = verdict
        .broken
        .iter()
        .map(|broken| json!({ "says": ask.house.speech.remark(&broken.remark), "because": broken.because }))
        .collect();
    let view = json!({
        "plate_path": path(ask, plate), "step": step, "sentences": sentences, "who": who,
        "studio": ask.membership.studio_name, "may_allow": ask.is_instructor(),
    });
    ask.page(StatusCode::CONFLICT, "plates/refused", "plates-refused", &view)
}

/// Ends a running step.
pub async fn end(ask: InClass, ids: web::Path<(ClassId, PlateId)>, filled: Filled) -> Reply {
    let plate = ids.into_inner().1;
    find(&ask, plate).await?;
    let mut sheet = Sheet::new(&filled);
    let run: StepRunId = sheet.id("run");
    let sheets = sheet.maybe_whole("sheets", 0..=2000).and_then(|sheets| i32::try_from(sheets).ok());
    let note = sheet.words("note", 1000);
    sheet.done()?;
    let (place, house) = (at(&ask, plate), ask.house.clone());
    ask.house
        .db
        .write(Scope::Class(ask.class()), Some(ask.person.id), ask.now(), move |tx| {
            tx.end_step(&house.procedures, &place, run, sheets, &note)
        })
        .await?;
    Ok(done(path(&ask, plate), "done-ended"))
}

/// Tells a step that has happened; it is stored whatever rule it broke, and marked.
pub async fn tell(ask: InClass, ids: web::Path<(ClassId, PlateId)>, filled: Filled) -> Reply {
    let plate = ids.into_inner().1;
    find(&ask, plate).await?;
    let mut sheet = Sheet::new(&filled);
    let step = sheet.text("step", 80);
    let now_local = sheet.tick("now");
    let began = if now_local { None } else { Some(sheet.local_time("began")) };
    let ended = if now_local { None } else { Some(sheet.local_time("ended")) };
    let sheets = sheet.maybe_whole("sheets", 0..=2000).and_then(|sheets| i32::try_from(sheets).ok());
    let note = sheet.words("note", 1000);
    let card = sheet.tick("card");
    sheet.done()?;
    let instant = |local: NaiveDateTime| Instant::from_utc(civil::instant(local, ask.membership.zone));
    let told = Told {
        step_key: step,
        began_at: began.map_or(ask.now(), instant),
        ended_at: Some(ended.map_or(ask.now(), instant)),
        known_how: match (now_local, card) {
            (true, _) => KnownHow::Measured,
            (false, true) => KnownHow::Card,
            (false, false) => KnownHow::Told,
        },
        sheets,
        note,
    };
    let (place, house, key) = (at(&ask, plate), ask.house.clone(), filled.once_key()?);
    let back = path(&ask, plate);
    let location = ask
        .house
        .db
        .write(Scope::Class(ask.class()), Some(ask.person.id), ask.now(), move |tx| {
            tx.once(&key, |tx| {
                let (_, outside) = tx.tell_step(&house.procedures, &place, &told)?;
                let word = if outside.is_empty() { "done-told" } else { "done-told-outside" };
                Ok(format!("{back}?done={word}"))
            })
        })
        .await?;
    Ok(crate::pages::answer::see_other(location))
}

/// An instructor settles a run outside the rules.
pub async fn settle(ask: InClass, ids: web::Path<(ClassId, PlateId)>, filled: Filled) -> Reply {
    let plate = ids.into_inner().1;
    find(&ask, plate).await?;
    let mut sheet = Sheet::new(&filled);
    let run: StepRunId = sheet.id("run");
    let ordered = sheet.choice("ordered", Ordered::Stands);
    let reason = sheet.text("reason", 300);
    sheet.done()?;
    let (place, house) = (at(&ask, plate), ask.house.clone());
    ask.house
        .db
        .write(Scope::Class(ask.class()), Some(ask.person.id), ask.now(), move |tx| {
            tx.settle_run(&house.procedures, &place, run, ordered, &reason)
        })
        .await?;
    Ok(done(path(&ask, plate), "done-settled"))
}

/// An instructor allows one start, with a reason.
pub async fn allow(ask: InClass, ids: web::Path<(ClassId, PlateId)>, filled: Filled) -> Reply {
    let plate = ids.into_inner().1;
    find(&ask, plate).await?;
    let mut sheet = Sheet::new(&filled);
    let step = sheet.text("step", 80);
    let reason = sheet.text("reason", 300);
    sheet.done()?;
    let (place, house) = (at(&ask, plate), ask.house.clone());
    ask.house
        .db
        .write(Scope::Class(ask.class()), Some(ask.person.id), ask.now(), move |tx| {
            tx.allow_once(&house.procedures, &place, &step, &reason)
        })
        .await?;
    Ok(done(path(&ask, plate), "done-allowed"))
}

/// Puts a plate down: gummed, buffed, and where in the rack. Without gum the page warns.
pub async fn put_down(ask: InClass, ids: web::Path<(ClassId, PlateId)>, filled: Filled) -> Reply {
    let plate = ids.into_inner().1;
    find(&ask, plate).await?;
    let mut sheet = Sheet::new(&filled);
    let (gummed, buffed, talc) = (sheet.tick("gummed"), sheet.tick("buffed"), sheet.tick("talc"));
    let rack_place = sheet.text("rack_place", 40);
    if buffed && !gummed {
        sheet.complain("gummed", Remark::new("plates-buffed-without-gum"));
    }
    sheet.done()?;
    let (place, house) = (at(&ask, plate), ask.house.clone());
    ask.house
        .db
        .write(Scope::Class(ask.class()), Some(ask.person.id), ask.now(), move |tx| {
            tx.put_plate_down(&house.procedures, &place, gummed, buffed, talc, &rack_place)
        })
        .await?;
    let word = if gummed && buffed { "done-put-down" } else { "done-put-down-bare" };
    Ok(done(path(&ask, plate), word))
}
