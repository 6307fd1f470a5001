//! What a warning says: one plate, one limit, one thing to do.

use chrono_tz::Tz;
use serde_json::{Value, json};

use crate::clock::Instant;
use crate::post::letters::Desk;
use crate::post::letters::contents::said;
use crate::post::reminders::Urgent;
use crate::speech::dates;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

pub(super) fn about(desk: &Desk, urgent: &Urgent) -> Result<Value, Trouble> {
    let zone: Tz =
        urgent.zone.parse().map_err(|_error| Trouble::broken("reading a warning", &urgent.zone))?;
    let moment = |at: i64| dates::moment(Instant::from_millis(at), zone);
    let speak = |key: &'static str| {
        said(
            desk,
            &Remark::new(key)
                .with("number", i64::from(urgent.number))
                .with("title", urgent.title.as_str())
                .with("step", urgent.step.as_str())
                .with("by", moment(urgent.by))
                .with("limit", moment(urgent.limit)),
        )
    };
    let words = if urgent.same_day { "letters-urgent-words-same-day" } else { "letters-urgent-words-limit" };
    Ok(json!({
        "subject": speak("letters-urgent-subject")?,
        "heading": speak("letters-urgent-heading")?,
        "words": speak(words)?,
        "address": format!("{}/classes/{}/plates/{}", desk.public_url, urgent.class, urgent.plate),
    }))
}
