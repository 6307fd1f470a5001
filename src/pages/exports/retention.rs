//! The keeper's page of how long records are kept: rules, holds, what would go by now, and the purge. Only numbers are
//! shown: a keeper opens no photo and no grade.

use std::collections::HashMap;

use actix_web::web;
use serde::Serialize;

use crate::clock::Instant;
use crate::ids::{ClassId, HoldId};
use crate::pages::acts::said;
use crate::pages::answer::{Reply, done};
use crate::pages::entry::Ask;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::reasons;
use crate::photos::shelf::PhotoKey;
use crate::store::Scope;
use crate::store::copying::kept;
use crate::store::exports;
use crate::store::people::accounts;
use crate::store::retention::due::{OfClass, OfSchool, due};
use crate::store::retention::{self, Kind, Whose};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const RULES: &str = "retention";
const HOLD: &str = "hold";

#[derive(Serialize)]
struct HoldRow {
    id: HoldId,
    whose: String,
    reason: String,
    since: String,
    stands: bool,
}

#[derive(Serialize)]
struct DueRow {
    class: Option<ClassId>,
    name: String,
    photos: usize,
    comments: usize,
    etch_notes: usize,
    letters: usize,
    sign_ins: usize,
    /// Archives that are kept of the class: they go along.
    archives: i64,
    all: usize,
    held: usize,
}

#[derive(Serialize)]
struct View {
    rules: Form,
    fields: Vec<&'static str>,
    form: Form,
    hold: Form,
    classes: Vec<Choice>,
    holds: Vec<HoldRow>,
    due: Vec<DueRow>,
}

/// The page.
pub async fn page(ask: Ask) -> Reply {
    show(&ask, None).await
}

async fn show(ask: &Ask, back: Option<Form>) -> Reply {
    let now = ask.now();
    let (rules, holds, classes, (of_classes, of_school), archives) = ask
        .house
        .db
        .read(move |db| {
            let archives: HashMap<ClassId, i64> = kept::counts(db)?.into_iter().collect();
            Ok((retention::rules(db)?, retention::holds(db)?, exports::classes(db)?, due(db, now)?, archives))
        })
        .await?;
    let mut form = Form::new(RULES);
    for rule in rules {
        form = form.with(rule.kind.0.word(), rule.days.to_string());
    }
    let again = back.is_some();
    let (mut rules, mut hold) = (form, Form::new(HOLD));
    if let Some(form) = &back {
        if form.name == HOLD { hold = form.clone() } else { rules = form.clone() }
    }
    let view = View {
        rules,
        fields: Kind::ALL.iter().map(|kind| kind.word()).collect(),
        form: back.unwrap_or_else(|| Form::new(RULES)),
        hold,
        classes: classes
            .into_iter()
            .map(|(id, code, term)| Choice::new(id.as_str(), format!("{code}, {term}")))
            .collect(),
        holds: holds.into_iter().map(hold_row).collect(),
        due: due_rows(ask, &of_classes, &of_school, &archives),
    };
    if again {
        ask.show_again("exports/retention", "retention-title", &view)
    } else {
        ask.show("exports/retention", "retention-title", &view)
    }
}

fn hold_row(one: retention::Hold) -> HoldRow {
    let whose = match (one.class_name, one.person_name) {
        (Some((code, term)), _) => format!("{code}, {term}"),
        (None, Some((given, family))) => format!("{given} {family}"),
        (None, None) => String::new(),
    };
    HoldRow { id: one.id, whose, reason: one.reason, since: day(one.at), stands: one.lifted_at.is_none() }
}

fn day(at: Instant) -> String {
    crate::pages::dates::day_with_year(at.utc().date_naive())
}

fn due_rows(
    ask: &Ask,
    classes: &[OfClass],
    school: &OfSchool,
    archives: &HashMap<ClassId, i64>,
) -> Vec<DueRow> {
    let mut rows: Vec<DueRow> = classes
        .iter()
        .map(|one| DueRow {
            class: one.class,
            name: format!("{}, {}", one.code, one.term),
            photos: one.photos.len(),
            comments: one.comments.len(),
            etch_notes: one.etches.len(),
            letters: one.letters.len(),
            sign_ins: 0,
            archives: one.class.and_then(|class| archives.get(&class).copied()).unwrap_or(0),
            all: one.count(),
            held: one.held,
        })
        .collect();
    if school.sessions.len() + school.held > 0 {
        rows.push(DueRow {
            class: None,
            name: ask.house.speech.plain("retention-school"),
            photos: 0,
            comments: 0,
            etch_notes: 0,
            letters: 0,
            sign_ins: school.sessions.len(),
            archives: 0,
            all: school.sessions.len(),
            held: school.held,
        });
    }
    rows
}

/// Keeps the rules.
pub async fn keep(ask: Ask, filled: Filled) -> Reply {
    ask.confirmed()?;
    let mut sheet = Sheet::new(&filled);
    let mut rules = Vec::new();
    for kind in Kind::ALL {
        let days = sheet.maybe_whole(kind.word(), 1..=36_500).and_then(|days| i32::try_from(days).ok());
        rules.extend(days.map(|days| (*kind, days)));
    }
    let tried = match sheet.done() {
        Ok(()) => {
            let next = said("/school/retention", "done-retention");
            ask.act(Scope::School, &filled, next, move |tx| tx.keep_retention(&rules)).await
        }
        Err(trouble) => Err(trouble),
    };
    again(&ask, &filled, RULES, tried).await
}

async fn again(ask: &Ask, filled: &Filled, name: &'static str, tried: Reply) -> Reply {
    match tried {
        Err(trouble) => show(ask, Some(Form::after(name, filled, trouble, &ask.house.speech)?)).await,
        fine => fine,
    }
}

/// Sets a hold, on a class or on a person by e-mail.
pub async fn hold(ask: Ask, filled: Filled) -> Reply {
    ask.confirmed()?;
    let tried = try_hold(&ask, &filled).await;
    again(&ask, &filled, HOLD, tried).await
}

async fn try_hold(ask: &Ask, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let class: Option<ClassId> = sheet.maybe_id("class");
    let email = sheet.maybe_text("email", 200);
    let reason = reasons::HOLD.read(&mut sheet, &ask.house.speech);
    if class.is_some() == email.is_some() {
        sheet.complain("class", Remark::new("retention-hold-one"));
    }
    sheet.done()?;
    let whose = match (class, email) {
        (Some(class), _) => Whose::Class(class),
        (None, email) => {
            let key = accounts::email_key(&email.unwrap_or_default());
            let known = ask.house.db.read(move |db| accounts::by_email(db, &key)).await?;
            let unknown = || Trouble::about("email", Remark::new("retention-hold-unknown"));
            Whose::Person(known.ok_or_else(unknown)?.id)
        }
    };
    let next = said("/school/retention", "done-held");
    ask.act(Scope::School, filled, next, move |tx| tx.hold(whose, &reason)).await
}

/// Lifts a hold.
pub async fn lift(ask: Ask, id: web::Path<HoldId>, filled: Filled) -> Reply {
    ask.confirmed()?;
    let id = id.into_inner();
    ask.act(Scope::School, &filled, said("/school/retention", "done-lifted"), move |tx| tx.lift_hold(id))
        .await
}

/// Purges what is due in one class, or the sign-ins of the school: as much as was looked at, or nothing.
pub async fn purge(ask: Ask, filled: Filled) -> Reply {
    ask.confirmed()?;
    let mut sheet = Sheet::new(&filled);
    let class: Option<ClassId> = sheet.maybe_id("class");
    let seen = usize::try_from(sheet.whole("seen", 0..=i64::MAX)).unwrap_or(0);
    sheet.done()?;
    let (by, now) = (ask.person()?.id, ask.now());
    let tried = match class {
        None => {
            ask.house
                .db
                .write(Scope::School, Some(by), now, move |tx| tx.purge_sign_ins(seen).map(|()| Vec::new()))
                .await
        }
        Some(class) => {
            ask.house
                .db
                .write(Scope::Class(class), Some(by), now, move |tx| tx.purge_class(class, seen))
                .await
        }
    };
    let gone = match tried {
        Err(trouble) => {
            return show(&ask, Some(Form::after(RULES, &filled, trouble, &ask.house.speech)?)).await;
        }
        Ok(gone) => gone,
    };
    if let Err(trouble) = ask.house.db.note(retention::purging::let_go).await {
        tracing::warn!(%trouble, "letting go of what was purged");
    }
    // The rows are gone; a file that stays behind is taken by the daily sweep.
    for photo in gone {
        let Ok(key) = photo.as_str().parse::<PhotoKey>() else { continue };
        if let Err(trouble) = ask.house.darkroom.remove(key).await {
            tracing::warn!(%trouble, "taking a purged photo off the shelf");
        }
    }
    Ok(done("/school/retention", "done-purged"))
}
