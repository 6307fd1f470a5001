//! The page a procedure is written on: its head, its steps in order, what is still to be mended, and keeping it as the next
//! version.

use actix_web::web;
use serde::Serialize;

use crate::ids::{ClassId, ProcedureId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::procedures::said::Voice;
use crate::pages::procedures::step::span_field;
use crate::pages::procedures::typed::span;
use crate::pages::procedures::{list, list_path, mark_of, reading_path, writing_path};
use crate::spelled;
use crate::store::plates::drafts::{self, Draft};
use crate::store::{Scope, Tx};
use crate::trade::procedure::check::{LONGEST_NAME, LONGEST_REST, MOST_STEPS, check};
use crate::trade::procedure::{Procedure, Step, Surface};
use crate::trade::remark::{Param, Remark};
use crate::trade::spelled::Spelled as _;
use crate::trouble::{Complaint, Trouble};

const HEAD: &str = "procedures-head";
const ADD: &str = "procedures-add";
const DRAFT: &str = "procedures-draft";

/// The class and the procedure.
pub type Ids = web::Path<(ClassId, ProcedureId)>;

spelled!(
    /// What can be done to a step in the list.
    Deed { Up = "up", Down = "down", Remove = "remove" }
);

#[derive(Serialize)]
struct StepRow {
    key: String,
    title: String,
    minutes: String,
    place: String,
    waits_for: String,
    complaints: Vec<String>,
    path: String,
    up: bool,
    down: bool,
    on_the_way: bool,
}

#[derive(Serialize)]
struct View {
    /// The form whose complaints stand on top.
    form: Form,
    head: Form,
    add: Form,
    base: String,
    list_path: String,
    reading_path: Option<String>,
    name: String,
    surfaces: Vec<Choice>,
    after: Vec<Choice>,
    /// The version that would be kept, and the one that holds.
    next: i32,
    number: i32,
    draft: i64,
    changed: Option<String>,
    whole: Vec<String>,
    open_complaints: i64,
    steps: Vec<StepRow>,
    any_time: Vec<StepRow>,
}

/// Which form came back, with what was typed.
enum Back {
    None,
    Head(Filled, Trouble),
    Add(Filled, Trouble),
    Draft(Filled, Trouble),
}

/// The page of a procedure that is being written.
pub async fn show(ask: InClass, ids: Ids) -> Reply {
    page(&ask, ids.into_inner().1, Back::None).await
}

async fn page(ask: &InClass, id: ProcedureId, back: Back) -> Reply {
    let class = ask.class();
    let (draft, topics) =
        ask.house.db.read(move |db| Ok((drafts::draft(db, class, id)?, drafts::topic_titles(db)?))).await?;
    let speech = &ask.house.speech;
    let (mut form, mut head, mut add) = (Form::new(DRAFT), fresh_head(&draft.procedure), fresh_add(ask));
    let again = !matches!(back, Back::None);
    match back {
        Back::None => {}
        Back::Head(filled, trouble) => {
            head = Form::after_save(&filled, trouble, &head, speech)?;
            form = head.clone();
        }
        Back::Add(filled, trouble) => {
            add = Form::after(ADD, &filled, trouble, speech)?;
            form = add.clone();
        }
        Back::Draft(filled, trouble) => {
            form = Form::after(DRAFT, &filled, at_steps(trouble, &draft.procedure), speech)?;
        }
    }
    let view = view(ask, id, &draft, &topics, (form, head, add));
    let name = draft.procedure.name.as_str();
    if again {
        ask.show_again("procedures/draft", name, &view)
    } else {
        ask.show("procedures/draft", name, &view)
    }
}

/// The key of the step a remark is about; empty where it is about the whole.
fn about(remark: &Remark, procedure: &Procedure) -> String {
    let named = remark.with.iter().find_map(|(name, value)| match value {
        Param::Text(text) if *name == "step" => Some(text.as_str()),
        _ => None,
    });
    let called = |step: &&Step| Some(step.title.trim()).filter(|title| !title.is_empty()) == named;
    let found = procedure.all().find(called).or_else(|| named.and_then(|key| procedure.find(key)));
    found.map(|step| step.key.clone()).unwrap_or_default()
}

/// Complaints of the check stand at the step they are about.
fn at_steps(trouble: Trouble, procedure: &Procedure) -> Trouble {
    let Trouble::Complaints(complaints) = trouble else { return trouble };
    let placed = complaints.into_iter().map(|complaint| match complaint.field.as_str() {
        "" => Complaint::new(about(&complaint.remark, procedure), complaint.remark),
        _ => complaint,
    });
    Trouble::Complaints(placed.collect())
}

#[derive(Serialize)]
struct HeadPart<'a>(&'a str, Surface, &'a str, Option<i64>);

fn head_mark(procedure: &Procedure) -> String {
    let part = HeadPart(&procedure.name, procedure.surface, &procedure.about, procedure.gum_limit_minutes);
    mark_of(&part)
}

fn fresh_head(procedure: &Procedure) -> Form {
    Form::new(HEAD)
        .with("name", &procedure.name)
        .with("surface", procedure.surface.word())
        .with("about", &procedure.about)
        .with("gum_limit", span_field(procedure.gum_limit_minutes.unwrap_or(0)))
        .with("version", head_mark(procedure))
}

fn fresh_add(ask: &InClass) -> Form {
    Form::new(ADD).with_maybe("after", ask.query("after")).tick("any_time", ask.query("any_time").is_some())
}

fn view(
    ask: &InClass,
    id: ProcedureId,
    draft: &Draft,
    topics: &[(String, String)],
    (form, head, add): (Form, Form, Form),
) -> View {
    let (class, speech, procedure) = (ask.class(), &ask.house.speech, &draft.procedure);
    let keys: Vec<&str> = topics.iter().map(|(key, _)| key.as_str()).collect();
    let complaints: Vec<(String, String)> = check(procedure, &keys)
        .iter()
        .map(|remark| (about(remark, procedure), speech.remark(remark)))
        .collect();
    let voice = Voice { speech, procedure, topics, pictures: "", writing: None };
    let base = writing_path(class, id);
    let rows = |steps: &[Step], on_the_way: bool| {
        let row = |(place, step): (usize, &Step)| StepRow {
            key: step.key.clone(),
            title: step.title.clone(),
            minutes: voice.minutes(step),
            place: voice.place(&step.place),
            waits_for: voice.waits_for(step),
            complaints: of_step(&complaints, &step.key),
            path: format!("{base}/steps/{}", step.key),
            up: place > 0,
            down: place + 1 < steps.len(),
            on_the_way,
        };
        steps.iter().enumerate().map(row).collect::<Vec<_>>()
    };
    View {
        steps: rows(&procedure.steps, true),
        any_time: rows(&procedure.any_time, false),
        whole: of_step(&complaints, ""),
        open_complaints: i64::try_from(complaints.len()).unwrap_or(i64::MAX),
        list_path: list_path(ask),
        reading_path: (draft.number > 0).then(|| reading_path(class, id)),
        name: procedure.name.clone(),
        surfaces: Choice::of_words::<Surface>("classes-surface", speech),
        after: procedure.steps.iter().map(|step| Choice::new(&step.key, &step.title)).collect(),
        next: draft.number + 1,
        number: draft.number,
        draft: draft.version,
        changed: changed(ask, draft),
        base,
        form,
        head,
        add,
    }
}

/// Who changed a draft last, and when.
fn changed(ask: &InClass, draft: &Draft) -> Option<String> {
    let (who, at) = draft.by.as_ref()?;
    let when = dates::near(*at, ask.now(), ask.membership.zone);
    Some(
        ask.house
            .speech
            .remark(&Remark::new("procedures-changed").with("who", who.as_str()).with("when", when)),
    )
}

fn of_step(complaints: &[(String, String)], key: &str) -> Vec<String> {
    complaints.iter().filter(|(about, _)| about == key).map(|(_, sentence)| sentence.clone()).collect()
}

/// Keeps name, surface, what it is about and the limit under gum.
pub async fn change_head(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    let (class, id) = ids.into_inner();
    match try_change_head(&ask, class, id, &filled).await {
        Err(trouble) => page(&ask, id, Back::Head(filled, trouble)).await,
        fine => fine,
    }
}

async fn try_change_head(ask: &InClass, class: ClassId, id: ProcedureId, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let name = sheet.text("name", LONGEST_NAME);
    let surface = sheet.choice("surface", Surface::Plate);
    let about = sheet.words("about", 2000).replace(['\t', '\n'], " ");
    let gum_limit = span(&mut sheet, filled, "gum_limit", 1, LONGEST_REST);
    let mark = sheet.text("version", 64);
    sheet.done()?;
    let next = said(writing_path(class, id), "done-procedure-head");
    ask.act(Scope::Class(class), filled, next, move |tx: &mut Tx<'_>| {
        tx.change_draft(class, id, None, "head", |procedure| {
            if head_mark(procedure) != mark {
                return Err(Trouble::Stale(Remark::new("form-stale")));
            }
            procedure.name.clone_from(&name);
            procedure.surface = surface;
            procedure.about.clone_from(&about);
            procedure.gum_limit_minutes = gum_limit;
            Ok(())
        })
    })
    .await
}

/// Adds a step and goes to its form.
pub async fn add(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    let (class, id) = ids.into_inner();
    match try_add(&ask, class, id, &filled).await {
        Err(trouble) => page(&ask, id, Back::Add(filled, trouble)).await,
        fine => fine,
    }
}

async fn try_add(ask: &InClass, class: ClassId, id: ProcedureId, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let title = sheet.text("title", LONGEST_NAME);
    let after = sheet.maybe_text("after", 80);
    let any_time = sheet.tick("any_time");
    sheet.done()?;
    ask.act_to(Scope::Class(class), filled, move |tx| {
        let key = tx.change_draft(class, id, None, "step added", |procedure| {
            if procedure.all().count() >= MOST_STEPS {
                let most = i64::try_from(MOST_STEPS).unwrap_or(i64::MAX);
                let remark = Remark::new("procedures-many-steps").with("most", most);
                return Err(Trouble::about("title", remark));
            }
            if any_time {
                return Ok(procedure.add_any_time(&title));
            }
            let last = procedure.steps.last().map(|step| step.key.clone());
            match &after {
                Some(after) if !procedure.is_on_the_way(after) => {
                    let remark = Remark::new("form-no-choice").with("value", after.as_str());
                    Err(Trouble::about("after", remark))
                }
                Some(after) => Ok(procedure.add_to_way(&title, Some(after))),
                None => Ok(procedure.add_to_way(&title, last.as_deref())),
            }
        })?;
        Ok(said(format!("{}/steps/{key}", writing_path(class, id)), "done-step-added"))
    })
    .await
}

/// Moves a step up or down, or takes it out.
pub async fn order(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    let (class, id) = ids.into_inner();
    match try_order(&ask, class, id, &filled).await {
        Err(trouble) => page(&ask, id, Back::Draft(filled, trouble)).await,
        fine => fine,
    }
}

async fn try_order(ask: &InClass, class: ClassId, id: ProcedureId, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let key = sheet.text("step", 80);
    let deed = sheet.choice("deed", Deed::Up);
    let seen = sheet.whole("version", 0..=i64::MAX);
    sheet.done()?;
    let back = writing_path(class, id);
    let next = match deed {
        Deed::Up | Deed::Down => said(format!("{back}#{DRAFT}-{key}"), "done-step-moved"),
        Deed::Remove => said(back, "done-step-removed"),
    };
    ask.act(Scope::Class(class), filled, next, move |tx: &mut Tx<'_>| {
        tx.change_draft(class, id, Some(seen), deed.word(), |procedure| {
            if procedure.find(&key).is_none() {
                return Err(Trouble::NotFound);
            }
            match deed {
                Deed::Up => procedure.shift(&key, true),
                Deed::Down => procedure.shift(&key, false),
                Deed::Remove => procedure.take_out(&key),
            };
            Ok(())
        })
    })
    .await
}

/// Keeps the draft as the next version.
pub async fn keep(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    let (class, id) = ids.into_inner();
    let mut sheet = Sheet::new(&filled);
    let seen = sheet.whole("version", 0..=i64::MAX);
    sheet.done()?;
    let next = said(writing_path(class, id), "done-procedure-kept");
    let kept = ask
        .act(Scope::Class(class), &filled, next, move |tx: &mut Tx<'_>| {
            tx.keep_draft(class, id, seen).map(drop)
        })
        .await;
    match kept {
        Err(trouble) => page(&ask, id, Back::Draft(filled, trouble)).await,
        fine => fine,
    }
}

#[derive(Serialize)]
struct GoingView {
    name: String,
    base: String,
    draft: i64,
    steps: i64,
    changed: Option<String>,
    /// The version that holds; 0 where none was ever kept.
    number: i32,
}

/// Asks whether the draft is to be thrown away, and says what goes.
pub async fn discarding(ask: InClass, ids: Ids) -> Reply {
    let (class, id) = ids.into_inner();
    let draft = ask.house.db.read(move |db| drafts::draft(db, class, id)).await?;
    if draft.version == 0 {
        return Err(Trouble::NotFound);
    }
    let view = GoingView {
        base: writing_path(class, id),
        draft: draft.version,
        steps: i64::try_from(draft.procedure.all().count()).unwrap_or(i64::MAX),
        changed: changed(&ask, &draft),
        number: draft.number,
        name: draft.procedure.name,
    };
    ask.show("procedures/discard", "procedures-discard", &view)
}

/// Throws the draft away.
pub async fn discard(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    let (class, id) = ids.into_inner();
    let mut sheet = Sheet::new(&filled);
    let seen = sheet.whole("version", 0..=i64::MAX);
    sheet.done()?;
    let next = said(list_path(&ask), "done-draft-discarded");
    let thrown =
        ask.act(Scope::Class(class), &filled, next, move |tx| tx.discard_draft(class, id, seen)).await;
    match thrown {
        Err(trouble) => page(&ask, id, Back::Draft(filled, trouble)).await,
        fine => fine,
    }
}

/// Takes back a draft that was thrown away.
pub async fn take_back(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    let (class, id) = ids.into_inner();
    let next = said(writing_path(class, id), "done-draft-taken-back");
    let taken = ask.act(Scope::Class(class), &filled, next, move |tx| tx.take_back_draft(class, id)).await;
    match taken {
        Err(Trouble::Complaints(complaints)) => list::refused(&ask, complaints).await,
        other => other,
    }
}
