//! The roll: every meeting of the term, and one page for each, called by thumb.

use actix_web::web;
use chrono::{NaiveDate, NaiveDateTime, Timelike};
use serde_json::{Value, json};

use crate::ids::PersonId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::classes::full_name;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::store::Scope;
use crate::store::classes::dues::students;
use crate::store::classes::rolls::{self, Called, Entry, Held, Presence};
use crate::store::people::members::Member;
use crate::store::studio::hours::clock;
use crate::trade::remark::{Param, Remark};
use crate::trade::spelled::Spelled;
use crate::trouble::{Complaint, Trouble};

const FORM: &str = "roll";
/// The button that comes back with everybody here who has nothing chosen.
const ALL_HERE: &str = "all-here";

fn base(ask: &InClass) -> String {
    format!("/classes/{}/rolls", ask.class())
}

fn today(ask: &InClass) -> NaiveDate {
    ask.now().local_date(ask.membership.zone)
}

/// “2026-10-20T0900”: a meeting in an address.
pub(in crate::pages) fn place(held: &Held) -> String {
    format!("{}T{:02}{:02}", held.day, held.from_minute / 60, held.from_minute % 60)
}

fn read_place(text: &str) -> Result<(NaiveDate, i32), Trouble> {
    let at = NaiveDateTime::parse_from_str(text, "%Y-%m-%dT%H%M").map_err(|_error| Trouble::NotFound)?;
    let minute = i32::try_from(at.hour() * 60 + at.minute()).map_err(|_error| Trouble::NotFound)?;
    Ok((at.date(), minute))
}

fn day_and_time(held: &Held) -> String {
    format!("{}, {}–{}", dates::day(held.day), clock(held.from_minute), clock(held.to_minute))
}

/// Every meeting so far.
pub async fn list(ask: InClass) -> Reply {
    let (class, until) = (ask.class(), today(&ask));
    let lines = ask.house.db.read(move |db| rolls::rolls(db, class, until)).await?;
    let speech = &ask.house.speech;
    let rows: Vec<Value> = lines
        .iter()
        .map(|line| {
            let counts = line.counts.map(|[here, late, away, excused]| {
                let count = |number: usize| i64::try_from(number).unwrap_or(i64::MAX);
                speech.remark(
                    &Remark::new("roll-counts")
                        .with("here", count(here))
                        .with("late", count(late))
                        .with("away", count(away))
                        .with("excused", count(excused)),
                )
            });
            json!({
                "path": format!("{}/{}", base(&ask), place(&line.held)), "when": day_and_time(&line.held),
                "counts": counts,
            })
        })
        .collect();
    let view = json!({ "class_path": format!("/classes/{class}"), "rows": rows });
    ask.show("classes/rolls", "rolls-title", &view)
}

struct Loaded {
    held: Held,
    students: Vec<Member>,
    standing: Vec<Entry>,
}

async fn load(ask: &InClass, text: &str) -> Result<Loaded, Trouble> {
    let (class, until, (day, minute)) = (ask.class(), today(ask), read_place(text)?);
    ask.house
        .db
        .read(move |db| {
            let held = rolls::held(db, class, until, day, minute)?;
            let mut standing = rolls::entries(db, class, None)?;
            standing.retain(|entry| entry.day == day && entry.from_minute == minute);
            Ok(Loaded { held, students: students(db, class)?, standing })
        })
        .await
}

fn fresh(loaded: &Loaded) -> Form {
    loaded.standing.iter().fold(Form::new(FORM), |form, entry| {
        form.with(&format!("presence-{}", entry.person), entry.presence.0.word())
            .with(&format!("seen-{}", entry.person), entry.id.to_string())
    })
}

/// The roll of one meeting.
pub async fn page(ask: InClass, path: web::Path<(String, String)>) -> Reply {
    let loaded = load(&ask, &path.into_inner().1).await?;
    let form = fresh(&loaded);
    show(&ask, &loaded, form, false)
}

fn show(ask: &InClass, loaded: &Loaded, form: Form, again: bool) -> Reply {
    let speech = &ask.house.speech;
    let rows: Vec<Value> = loaded
        .students
        .iter()
        .map(|student| {
            let field = format!("presence-{}", student.person);
            let seen = format!("seen-{}", student.person);
            let chosen = form.value(&field).unwrap_or_default();
            let choices: Vec<Value> = Presence::ALL
                .iter()
                .map(|one| {
                    json!({
                        "value": one.word(), "label": speech.plain(one.key()), "chosen": one.word() == chosen,
                    })
                })
                .collect();
            json!({
                "name": full_name(&student.given_name, &student.family_name), "field": field, "seen": seen,
                "choices": choices, "complaint": form.complaint(&field),
            })
        })
        .collect();
    let view = json!({
        "base": base(ask), "path": format!("{}/{}", base(ask), place(&loaded.held)), "rows": rows, "form": form,
    });
    let title = speech
        .say("roll-of", &[("when", Param::Text(day_and_time(&loaded.held)))])
        .unwrap_or_else(|_| day_and_time(&loaded.held));
    if again {
        ask.show_again("classes/roll", &title, &view)
    } else {
        ask.show("classes/roll", &title, &view)
    }
}

/// Keeps the roll; or shows it again with everybody here who has nothing chosen.
pub async fn call(ask: InClass, path: web::Path<(String, String)>, filled: Filled) -> Reply {
    let text = path.into_inner().1;
    let loaded = load(&ask, &text).await?;
    if filled.get("stage") == Some(ALL_HERE) {
        let typed = Form::refused(FORM, &filled, &[], &ask.house.speech);
        let form = loaded.students.iter().fold(typed, |form, student| {
            let field = format!("presence-{}", student.person);
            if form.value(&field).is_some() { form } else { form.with(&field, Presence::Here.word()) }
        });
        return show(&ask, &loaded, form, false);
    }
    let outcome = async {
        let called = read(&filled)?;
        if let (Some(first), true) = (called.first(), loaded.standing.is_empty())
            && called.iter().all(|one| one.presence.is_none())
        {
            return Err(Trouble::about(format!("presence-{}", first.person), Remark::new("roll-nobody")));
        }
        let (class, until) = (ask.class(), today(&ask));
        let at = (loaded.held.day, loaded.held.from_minute);
        let next = said(base(&ask), "done-roll");
        let act = move |tx: &mut crate::store::Tx<'_>| tx.call_roll(class, until, at, &called);
        ask.act(Scope::Class(class), &filled, next, act).await
    };
    match outcome.await {
        Err(Trouble::Complaints(complaints)) => {
            let loaded = load(&ask, &text).await?;
            let form = refused(&ask, &loaded, &filled, complaints);
            show(&ask, &loaded, form, true)
        }
        other => other,
    }
}

/// What was chosen stays; where somebody else called the roll meanwhile, what stands is shown and counts as seen.
fn refused(ask: &InClass, loaded: &Loaded, filled: &Filled, complaints: Vec<Complaint>) -> Form {
    let speech = &ask.house.speech;
    let said: Vec<Complaint> = complaints
        .into_iter()
        .map(|mut one| {
            for (name, value) in &mut one.remark.with {
                // The store names a standing by its key; people read its word.
                if let ("stands", Param::Text(key)) = (*name, &*value) {
                    *value = Param::Text(speech.plain(key));
                }
            }
            one
        })
        .collect();
    let named = |field: &str| {
        let person: PersonId = field.strip_prefix("presence-")?.parse().ok()?;
        let student = loaded.students.iter().find(|student| student.person == person)?;
        Some(full_name(&student.given_name, &student.family_name))
    };
    let form = Form::refused(FORM, filled, &said, speech).naming(named);
    loaded
        .standing
        .iter()
        .fold(form, |form, entry| form.with(&format!("seen-{}", entry.person), entry.id.to_string()))
}

fn read(filled: &Filled) -> Result<Vec<Called>, Trouble> {
    let mut sheet = Sheet::new(filled);
    let mut called = Vec::new();
    for person in filled.pairs.iter().filter_map(|(field, _)| field.strip_prefix("presence-")) {
        called.push(Called {
            person: person.parse().map_err(|_error| Trouble::NotFound)?,
            seen: sheet.maybe_id(&format!("seen-{person}")),
            presence: sheet.maybe_choice(&format!("presence-{person}")),
        });
    }
    sheet.done()?;
    Ok(called)
}
