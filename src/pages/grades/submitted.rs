//! Submitted grades as pages show them, and the list of a class that records staff read: nothing else of its grades.

use chrono_tz::Tz;
use serde::Serialize;

use crate::ids::{PersonId, SubmittedGradeId};
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::grades::say;
use crate::speech::Speech;
use crate::store::classes::Basis;
use crate::store::grades::participation::{Deed, Last};
use crate::store::grades::submitted::{self, Submitted};
use crate::store::people::members;
use crate::store::people::sessions::Role;
use crate::trade::remark::Remark;

/// A submitted grade to be read.
#[derive(Debug, Serialize)]
pub(super) struct Shown {
    pub(super) id: SubmittedGradeId,
    pub(super) stands: bool,
    pub(super) letter: String,
    how: String,
    basis: String,
    listing: String,
    percent: Option<String>,
    line: String,
    reason: String,
    remains: String,
    until: Option<String>,
    lapses_to: Option<String>,
    last: Option<String>,
    working: Vec<String>,
}

/// Turns rows into what is read, the latest first.
pub(super) fn shown(speech: &Speech, zone: Tz, rows: &[Submitted]) -> Vec<Shown> {
    rows.iter().rev().map(|row| one(speech, zone, row)).collect()
}

fn one(speech: &Speech, zone: Tz, row: &Submitted) -> Shown {
    let at = dates::moment(row.at, zone);
    let line = match &row.by_name {
        Some((given, family)) => speech.remark(
            &Remark::new("submitted-by").with("at", at).with("by", format!("{given} {family}").trim()),
        ),
        None => say(speech, "submitted-by-itself", "at", at),
    };
    let until = row.open_until.map(dates::day_with_year);
    Shown {
        id: row.id,
        stands: row.stands(),
        letter: row.letter.clone(),
        how: speech.plain(row.how.0.key()),
        basis: speech.plain(basis_key(row.basis.0)),
        listing: row.listing.clone(),
        percent: row.rounded.as_deref().zip(row.percent.as_deref()).map(|(rounded, percent)| {
            speech.remark(&Remark::new("submitted-percent").with("rounded", rounded).with("percent", percent))
        }),
        line,
        reason: row.reason.clone(),
        remains: row.remains.clone(),
        lapses_to: row.lapses_to.clone(),
        until,
        last: row.last_day.zip(row.last_deed).map(|(day, deed)| last_line(speech, (day, deed.0))),
        working: row.working.lines().map(str::to_owned).collect(),
    }
}

/// “log on 3 December 2026”.
pub(super) fn last_line(speech: &Speech, (day, deed): Last) -> String {
    let key = match deed {
        Deed::Log => "submitted-last-log",
        Deed::SignOff => "submitted-last-sign-off",
        Deed::HandIn => "submitted-last-hand-in",
        Deed::Meeting => "submitted-last-meeting",
    };
    say(speech, key, "day", dates::day_with_year(day))
}

pub(super) fn basis_key(basis: Basis) -> &'static str {
    match basis {
        Basis::Letter => "classes-basis-letter",
        Basis::Pass => "classes-basis-pass",
        Basis::Audit => "classes-basis-audit",
    }
}

#[derive(Serialize)]
struct Row {
    person: PersonId,
    name: String,
    number: Option<String>,
    grade: Option<Shown>,
    changes: Vec<Shown>,
}

#[derive(Serialize)]
struct View {
    wide: bool,
    class_path: String,
    instructor: bool,
    rows: Vec<Row>,
    missing: usize,
}

/// The list: what was submitted for whom, with every change, and for whom nothing was.
pub async fn page(ask: InClass) -> Reply {
    let class = ask.class();
    let (people, all) = ask
        .house
        .db
        .read(move |db| Ok((members::everybody(db, class)?, submitted::submitted(db, class, None)?)))
        .await?;
    let (speech, zone) = (&ask.house.speech, ask.membership.zone);
    let rows: Vec<Row> = people
        .into_iter()
        .filter(|one| one.role.0 == Role::Student)
        .filter_map(|one| {
            let own: Vec<Submitted> = all.iter().filter(|row| row.person == one.person).cloned().collect();
            let in_force = members::in_force(&one);
            let mut shown = shown(speech, zone, &own);
            let grade = (!shown.is_empty()).then(|| shown.remove(0));
            (in_force || grade.is_some()).then(|| Row {
                person: one.person,
                name: format!("{} {}", one.given_name, one.family_name),
                number: one.student_number,
                grade,
                changes: shown,
            })
        })
        .collect();
    let missing = rows.iter().filter(|row| row.grade.is_none()).count();
    let view = View { wide: true, class_path: ask.path(""), instructor: ask.is_instructor(), rows, missing };
    ask.show("grades/submitted", "submitted-title", &view)
}
