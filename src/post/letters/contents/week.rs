//! What the instructor's letter of a week says: the class on one page.

use chrono_tz::Tz;
use serde::Serialize;
use serde_json::{Value, json};

use crate::clock::Instant;
use crate::post::letters::Desk;
use crate::post::letters::contents::said;
use crate::post::reminders::{Group, Plate, Week};
use crate::speech::dates;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Plates of one kind.
#[derive(Debug, Serialize)]
struct Part {
    heading: String,
    lines: Vec<Line>,
    left_out: usize,
}

#[derive(Debug, Serialize)]
struct Line {
    label: String,
    words: String,
}

pub(super) fn about(desk: &Desk, week: &Week) -> Result<Value, Trouble> {
    let zone: Tz = week.zone.parse().map_err(|_error| Trouble::broken("reading a letter", &week.zone))?;
    let moment = |at: i64| dates::moment(Instant::from_millis(at), zone);
    let count = |count: usize| i64::try_from(count).unwrap_or(i64::MAX);
    let mut parts = Vec::new();
    for (key, group) in [
        ("letters-week-waiting", &week.waiting),
        ("letters-week-late", &week.late),
        ("letters-week-stuck", &week.stuck),
    ] {
        if group.count > 0 {
            parts.push(part(desk, key, group)?);
        }
    }
    let due = week.due.iter().map(|due| {
        Ok(Line {
            label: moment(due.at),
            words: said(
                desk,
                &Remark::new("letters-week-due-line")
                    .with("title", due.title.as_str())
                    .with("count", count(due.open)),
            )?,
        })
    });
    let due = due.collect::<Result<Vec<_>, Trouble>>()?;
    let fits = week.fits.as_ref().map(|fits| {
        let remark =
            Remark::new(if fits.first.is_some() { "letters-week-fits-not" } else { "letters-week-fits" });
        let remark = remark.with("fits", count(fits.fits)).with("asked", count(fits.asked));
        said(desk, &remark.with("first", fits.first.clone().unwrap_or_default()))
    });
    let unreached = (!week.unreached.is_empty()).then(|| {
        let remark = Remark::new("letters-week-unreached").with("who", week.unreached.join(", "));
        said(desk, &remark)
    });
    Ok(json!({
        "unreached": unreached.transpose()?,
        "letters": format!("{}/classes/{}/letters", desk.public_url, week.class),
        "day": dates::day(week.monday),
        "plates": week.plates,
        "quiet": parts.is_empty() && due.is_empty(),
        "parts": parts,
        "due": due,
        "fits": fits.transpose()?,
        "at": moment(week.at),
        "acts": week.acts,
        "digest": week.digest,
        "address": format!("{}/classes/{}/all", desk.public_url, week.class),
        "plan": format!("{}/classes/{}/plan", desk.public_url, week.class),
    }))
}

fn part(desk: &Desk, key: &'static str, group: &Group) -> Result<Part, Trouble> {
    let count = i64::try_from(group.count).unwrap_or(i64::MAX);
    let line = |plate: &Plate| {
        let words = Remark::new("letters-week-line")
            .with("number", i64::from(plate.number))
            .with("title", plate.title.as_str())
            .with("step", plate.step.as_str());
        Ok(Line { label: plate.who.clone(), words: said(desk, &words)? })
    };
    Ok(Part {
        heading: said(desk, &Remark::new(key).with("count", count))?,
        lines: group.plates.iter().map(line).collect::<Result<_, Trouble>>()?,
        left_out: group.count - group.plates.len(),
    })
}
