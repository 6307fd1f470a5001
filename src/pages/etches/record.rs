//! The log of an etch at the table: in the run that is under way, in one that ended without a log, or told with times.

use actix_web::web;
use chrono::NaiveDateTime;
use serde::Serialize;

use crate::clock::Instant;
use crate::ids::{ClassId, PlateId, StepRunId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::etches::form::{FORM, Offers, fresh, offers, read, read_down};
use crate::pages::etches::shown::unit_of;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::plates;
use crate::store::etches::logs::{self, Log};
use crate::store::etches::recording::{Draft, When};
use crate::store::plates::folder::{Folder, KnownHow, Run, folder};
use crate::store::plates::put_downs::PutDownDraft;
use crate::store::studio::containers::{self, Container};
use crate::store::{Scope, Tx};
use crate::trade::civil;
use crate::trade::procedure::Records;
use crate::trouble::Trouble;

/// What the form needs from the record.
struct Desk {
    folder: Folder,
    held: Vec<Container>,
    last: Option<Log>,
}

async fn desk(ask: &InClass, plate: PlateId) -> Result<Desk, Trouble> {
    let (at, house, now) = (plates::at(ask, plate), ask.house.clone(), ask.now());
    ask.house
        .db
        .read(move |db| {
            let folder = folder(db, &house.procedures, at.class, at.plate, at.owner, at.studio, at.zone)?;
            let held = containers::containers(db, at.studio)?;
            let last = logs::last(db, at.class, at.plate, folder.row.person.id, now)?;
            Ok(Desk { folder, held, last })
        })
        .await
}

impl Desk {
    fn etches(&self, key: &str) -> bool {
        self.folder.procedure.find(key).is_some_and(|step| step.records == Records::Etch)
    }

    /// The run the log belongs to: the one the address names, else the one under way; None: told with times.
    fn run(&self, ask: &InClass) -> Result<Option<&Run>, Trouble> {
        let named = ask.query("run").or_else(|| ask.query("told").map(|_| String::new()));
        match named.as_deref() {
            Some("") => Ok(None),
            Some(id) => {
                let id: StepRunId = id.parse().map_err(|_no_id| Trouble::NotFound)?;
                self.find(id).map(Some)
            }
            None => Ok(self
                .folder
                .runs
                .iter()
                .rev()
                .find(|run| run.ended_at.is_none() && self.etches(&run.step_key))),
        }
    }

    fn find(&self, id: StepRunId) -> Result<&Run, Trouble> {
        let found = self.folder.runs.iter().find(|run| run.id == id && self.etches(&run.step_key));
        found.ok_or(Trouble::NotFound)
    }
}

#[derive(Serialize)]
struct View {
    form: Form,
    offers: Offers,
    action: String,
    /// Title of the step, for a log of a run that is known.
    step: Option<String>,
    /// When that run began, and when it ended if it did.
    since: Option<String>,
    ended: Option<String>,
    steps: Vec<Choice>,
    carried: Option<String>,
}

fn page(ask: &InClass, desk: &Desk, run: Option<&Run>, form: Form, again: bool) -> Reply {
    let near = |at: Instant| dates::near(at, ask.now(), desk.folder.zone);
    let title =
        |key: &str| desk.folder.procedure.find(key).map_or_else(|| key.to_owned(), |step| step.title.clone());
    let offers = offers(ask, &desk.folder, &desk.held, desk.last.as_ref(), &form);
    let view = View {
        action: format!("{}/etches/new", offers.plate_path),
        offers,
        form,
        step: run.map(|run| title(&run.step_key)),
        since: run.map(|run| near(run.began_at)),
        ended: run.and_then(|run| run.ended_at).map(near),
        steps: desk
            .folder
            .procedure
            .all()
            .filter(|step| step.records == Records::Etch)
            .map(|step| Choice::new(step.key.clone(), step.title.clone()))
            .collect(),
        carried: desk.last.as_ref().map(|log| near(log.entry.at)),
    };
    if again {
        ask.show_again("etches/new", "etches-new", &view)
    } else {
        ask.show("etches/new", "etches-new", &view)
    }
}

/// The form, with what the last log said.
pub async fn new(ask: InClass, ids: web::Path<(ClassId, PlateId)>) -> Reply {
    let desk = desk(&ask, ids.into_inner().1).await?;
    let run = desk.run(&ask)?;
    let today = ask.now().local_date(ask.membership.zone);
    let form = fresh(desk.last.as_ref(), unit_of(&ask), &desk.held, Some(today))
        .with("rack_place", &desk.folder.row.rack_place)
        .with_maybe("run", run.map(|run| run.id.to_string()));
    page(&ask, &desk, run, form, false)
}

/// What was typed.
struct Typed {
    when: When,
    draft: Draft,
    down: Option<PutDownDraft>,
}

fn typed(ask: &InClass, filled: &Filled) -> Result<Typed, Trouble> {
    let mut sheet = Sheet::new(filled);
    let when = match sheet.maybe_id("run") {
        Some(run) => When::Run(run),
        None => {
            let instant =
                |local: NaiveDateTime| Instant::from_utc(civil::instant(local, ask.membership.zone));
            When::Told {
                step_key: sheet.text("step", 80),
                began_at: instant(sheet.local_time("began")),
                ended_at: instant(sheet.local_time("ended")),
                known_how: if sheet.tick("card") { KnownHow::Card } else { KnownHow::Told },
            }
        }
    };
    let draft = read(&mut sheet, filled);
    let down = read_down(&mut sheet);
    sheet.done()?;
    Ok(Typed { when, draft, down })
}

/// Stores the log and goes on to the plate, which says what comes next.
pub async fn record(ask: InClass, ids: web::Path<(ClassId, PlateId)>, filled: Filled) -> Reply {
    let plate = ids.into_inner().1;
    let (at, house, back) = (plates::at(&ask, plate), ask.house.clone(), plates::path(&ask, plate));
    let tried = match typed(&ask, &filled) {
        Ok(Typed { when, draft, down }) => {
            let act = move |tx: &mut Tx<'_>| {
                let stored = tx.record_etch(&house.procedures, &at, &when, &draft, down.as_ref())?;
                let bare = down.as_ref().is_some_and(|down| !(down.gummed && down.buffed));
                Ok(said(&back, word(!stored.outside.is_empty(), bare)))
            };
            ask.act_to(Scope::Class(ask.class()), &filled, act).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => {
            // Read only now: what was told well needs nothing but the act.
            let desk = desk(&ask, plate).await?;
            let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?;
            let run = filled.get("run").and_then(|id| id.parse().ok());
            let run = run.map(|id| desk.find(id)).transpose()?;
            page(&ask, &desk, run, form, true)
        }
        fine => fine,
    }
}

const fn word(outside: bool, bare: bool) -> &'static str {
    match (outside, bare) {
        (true, _) => "done-etch-recorded-outside",
        (false, true) => "done-etch-recorded-bare",
        (false, false) => "done-etch-recorded",
    }
}
