//! What the daily letter says: one thing first, with a way to it, then the rest in one line each.

use chrono_tz::Tz;
use serde::Serialize;
use serde_json::{Value, json};

use crate::clock::Instant;
use crate::post::letters::Desk;
use crate::post::letters::contents::said;
use crate::post::reminders::{Daily, Item, What};
use crate::speech::dates;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// The one thing that comes first.
#[derive(Debug, Serialize)]
struct First {
    subject: String,
    heading: String,
    words: String,
    due: Option<String>,
    address: String,
    button: String,
}

/// One line of the rest.
#[derive(Debug, Serialize)]
struct Line {
    label: String,
    words: String,
}

pub(super) fn about(desk: &Desk, daily: &Daily) -> Result<Value, Trouble> {
    let zone = daily.zone()?;
    let classes = daily.classes();
    let first = first(desk, &daily.first, zone)?;
    let also = daily
        .also
        .iter()
        .map(|item| line(desk, item, zone, classes.len() > 1))
        .collect::<Result<Vec<_>, _>>()?;
    Ok(json!({
        "day": dates::day(daily.date),
        "first": first,
        "class": (classes.len() > 1).then_some(&daily.first.class_title),
        "also": also,
        "left_out": daily.left_out,
        "stood_at": format!("{:02}:00", daily.hour),
    }))
}

fn first(desk: &Desk, item: &Item, zone: Tz) -> Result<First, Trouble> {
    let speak = |part: &str| said(desk, &remark(part, item, zone)?);
    let what = item.what;
    Ok(First {
        subject: speak("subject")?,
        heading: speak("heading")?,
        words: speak("words")?,
        due: due(item, zone)
            .filter(|_| what != What::Due)
            .map(|due| said(desk, &Remark::new("letters-daily-due").with("due", due)))
            .transpose()?,
        address: address(desk, item),
        button: speak("button")?,
    })
}

fn line(desk: &Desk, item: &Item, zone: Tz, name_class: bool) -> Result<Line, Trouble> {
    let mut words = said(desk, &remark("line", item, zone)?)?;
    if let Some(due) = due(item, zone).filter(|_| item.what != What::Due) {
        words = format!("{words} {}", said(desk, &Remark::new("letters-daily-due").with("due", due))?);
    }
    if name_class {
        words = format!("{words} {}", item.class_title);
    }
    Ok(Line { label: said(desk, &remark("label", item, zone)?)?, words })
}

/// The sentence for one part of an item: `letters-daily-<part>-<what>`, with all the item knows.
fn remark(part: &str, item: &Item, zone: Tz) -> Result<Remark, Trouble> {
    let key = KEYS
        .iter()
        .find(|(what, known, _)| *what == item.what && *known == part)
        .map(|(_, _, key)| *key)
        .ok_or_else(|| Trouble::broken("writing a letter", format!("no words for {part}")))?;
    let grade = item.grade.map(Spelled::word).unwrap_or_default();
    Ok(Remark::new(key)
        .with("title", item.title.as_str())
        .with("number", i64::from(item.number.unwrap_or_default()))
        .with("step", item.step.clone().unwrap_or_default())
        .with("topic", item.topic.clone().unwrap_or_default())
        .with("grade", grade)
        .with("due", due(item, zone).unwrap_or_default())
        .with("by", by(item, zone).unwrap_or_default()))
}

/// Written out, so that a search for a key finds its place.
const KEYS: &[(What, &str, &str)] = &[
    (What::SignOff, "subject", "letters-daily-subject-sign-off"),
    (What::SignOff, "heading", "letters-daily-heading-sign-off"),
    (What::SignOff, "words", "letters-daily-words-sign-off"),
    (What::SignOff, "button", "letters-daily-button-sign-off"),
    (What::SignOff, "label", "letters-daily-label-sign-off"),
    (What::SignOff, "line", "letters-daily-line-sign-off"),
    (What::Gum, "subject", "letters-daily-subject-gum"),
    (What::Gum, "heading", "letters-daily-heading-gum"),
    (What::Gum, "words", "letters-daily-words-gum"),
    (What::Gum, "button", "letters-daily-button-ready"),
    (What::Gum, "label", "letters-daily-label-gum"),
    (What::Gum, "line", "letters-daily-line-gum"),
    (What::Expiring, "subject", "letters-daily-subject-expiring"),
    (What::Expiring, "heading", "letters-daily-heading-expiring"),
    (What::Expiring, "words", "letters-daily-words-expiring"),
    (What::Expiring, "button", "letters-daily-button-sign-off"),
    (What::Expiring, "label", "letters-daily-label-sign-off"),
    (What::Expiring, "line", "letters-daily-line-expiring"),
    (What::Start, "subject", "letters-daily-subject-start"),
    (What::Start, "heading", "letters-daily-heading-ready"),
    (What::Start, "words", "letters-daily-words-start"),
    (What::Start, "button", "letters-daily-button-ready"),
    (What::Start, "label", "letters-daily-label-start"),
    (What::Start, "line", "letters-daily-line-start"),
    (What::Ready, "subject", "letters-daily-subject-ready"),
    (What::Ready, "heading", "letters-daily-heading-ready"),
    (What::Ready, "words", "letters-daily-words-ready"),
    (What::Ready, "button", "letters-daily-button-ready"),
    (What::Ready, "label", "letters-daily-label-ready"),
    (What::Ready, "line", "letters-daily-line-ready"),
    (What::Due, "subject", "letters-daily-subject-due"),
    (What::Due, "heading", "letters-daily-heading-due"),
    (What::Due, "words", "letters-daily-words-due"),
    (What::Due, "button", "letters-daily-button-due"),
    (What::Due, "label", "letters-daily-label-due"),
    (What::Due, "line", "letters-daily-line-due"),
];

fn by(item: &Item, zone: Tz) -> Option<String> {
    item.by.map(|by| dates::moment(Instant::from_millis(by), zone))
}

fn due(item: &Item, zone: Tz) -> Option<String> {
    item.due.map(|due| dates::moment(Instant::from_millis(due), zone))
}

fn address(desk: &Desk, item: &Item) -> String {
    let class = format!("{}/classes/{}", desk.public_url, item.class);
    match (item.what, item.plate) {
        (What::SignOff | What::Expiring, _) => format!("{class}/sign-offs"),
        (What::Ready | What::Start | What::Gum, Some(plate)) => format!("{class}/plates/{plate}"),
        _ => class,
    }
}
