//! Starting a step, or saying which rules refuse it, what to do, and for a missing sign-off who can give it and when.

use actix_web::http::StatusCode;
use serde_json::{Value, json};

use crate::ids::PlateId;
use crate::pages::acts::said;
use crate::pages::answer::{Reply, see_other};
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::plates::acts::{Ids, again};
use crate::pages::plates::{at, forms, path};
use crate::store::Scope;
use crate::store::plates::folder::folder;
use crate::store::plates::runs::Started;
use crate::store::safety::topics;
use crate::trade::procedure::{RuleName, Verdict};
use crate::trouble::Trouble;

/// Where a refused start goes: the same form sent twice is one refusal, shown twice.
const REFUSED: &str = "refused";

/// Starts a step, or says which rules refuse it and what to do.
pub async fn start(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    let plate = ids.into_inner().1;
    let mut sheet = Sheet::new(&filled);
    let step = sheet.text("step", 80);
    let outcome = match sheet.done() {
        Ok(()) => try_start(&ask, plate, &step, &filled).await,
        Err(trouble) => Err(trouble),
    };
    match outcome {
        Err(trouble) => again(&ask, plate, forms::START, &filled, trouble).await,
        fine => fine,
    }
}

async fn try_start(ask: &InClass, plate: PlateId, step: &str, filled: &Filled) -> Reply {
    let (place, house, key, once) = (at(ask, plate), ask.house.clone(), step.to_owned(), filled.once_key()?);
    let running = said(path(ask, plate), "done-started");
    let location = ask
        .house
        .db
        .write(Scope::Class(ask.class()), Some(ask.person.id), ask.now(), move |tx| {
            tx.once(&once, |tx| {
                Ok(match tx.start_step(&house.procedures, &place, &key)? {
                    Started::Running(_) => running.clone(),
                    Started::Refused(_) => REFUSED.to_owned(),
                })
            })
        })
        .await?;
    if location != REFUSED {
        return Ok(see_other(location));
    }
    let verdict = verdict(ask, plate, step).await?;
    match verdict.may_start() {
        // What stood in the way when the form was first sent has gone since.
        true => Ok(see_other(path(ask, plate))),
        false => refused(ask, plate, step, &verdict).await,
    }
}

async fn verdict(ask: &InClass, plate: PlateId, step: &str) -> Result<Verdict, Trouble> {
    let (place, house, key, now) = (at(ask, plate), ask.house.clone(), step.to_owned(), ask.now());
    ask.house
        .db
        .read(move |db| {
            let (class, owner) = (place.class, place.owner);
            let folder = folder(db, &house.procedures, class, plate, owner, place.studio, place.zone)?;
            Ok(folder.case().may_start(&key, now.utc()))
        })
        .await
}

async fn refused(ask: &InClass, plate: PlateId, step: &str, verdict: &Verdict) -> Reply {
    let sentences: Vec<_> = verdict
        .broken
        .iter()
        .map(|broken| json!({ "says": ask.house.speech.remark(&broken.remark), "because": broken.because }))
        .collect();
    let view = json!({
        "plate_path": path(ask, plate), "step": step, "sentences": sentences,
        "who": who_can_sign(ask, verdict).await?,
        "studio": ask.membership.studio_name, "may_allow": ask.is_instructor(),
        "form": Form::new(forms::ALLOW.name),
    });
    ask.page(StatusCode::CONFLICT, "plates/refused", "plates-refused", &view)
}

/// For each missing sign-off, who can give it and when they are there.
async fn who_can_sign(ask: &InClass, verdict: &Verdict) -> Result<Vec<Value>, Trouble> {
    let missing: Vec<String> = verdict
        .broken
        .iter()
        .filter(|broken| broken.rule == RuleName::SignOff)
        .map(|broken| broken.about.clone())
        .collect();
    let class = ask.class();
    let (witnesses, presence) = ask
        .house
        .db
        .read(move |db| {
            let mut found = Vec::new();
            for topic in topics::topics(db, Some(class))? {
                if missing.contains(&topic.key) {
                    found.push((topic.title.clone(), topics::witnesses(db, class, topic.id)?));
                }
            }
            Ok((found, topics::presences(db, class)?))
        })
        .await?;
    let there = |person| {
        let when: Vec<String> = presence
            .iter()
            .filter(|one| one.person.is_none() || one.person == Some(person))
            .map(|one| dates::weekly(one.weekday, one.from_minute, one.to_minute))
            .collect();
        when.join(", ")
    };
    Ok(witnesses
        .iter()
        .map(|(title, witnesses)| {
            let people: Vec<_> = witnesses
                .iter()
                .map(|witness| json!({ "name": witness.name, "when": there(witness.person) }))
                .collect();
            json!({ "title": title, "people": people })
        })
        .collect())
}
