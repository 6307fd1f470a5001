//! The plan of a plate: every step still to do, as early as it goes and as late as it may, and what breaks first.

use std::sync::Arc;

use actix_web::web;
use serde::Serialize;

use super::timeline::{Line, Timeline, timeline};
use super::{down_words, length, moment};
use crate::ids::{ClassId, PlateId};
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::plates;
use crate::speech::Speech;
use crate::store::letters::daily;
use crate::store::plates::folder::{Folder, folder};
use crate::store::plates::plans::{self, Look};
use crate::store::plates::premises;
use crate::store::studio::downs::{self, Down};
use crate::trade::planning::hours::end_of_day;
use crate::trade::planning::{BreaksFirst, DAY, MINUTE, Millis, PlatePlan, Span, StepOutlook};
use crate::trade::procedure::{Place, RemainingStep};
use crate::trade::remark::Remark;

#[derive(Serialize)]
struct View {
    plate_path: String,
    number: i32,
    print_title: String,
    who: Option<String>,
    due: Option<String>,
    own_due: bool,
    now: String,
    /// In the order of what matters: what breaks first comes first.
    sentences: Vec<String>,
    downs: Vec<String>,
    steps: Vec<StepView>,
    picture: Option<Timeline>,
    zone: String,
}

#[derive(Serialize)]
struct StepView {
    title: String,
    place: String,
    hands_on: String,
    may_split: bool,
    under_way: bool,
    rest: Option<String>,
    earliest_start: Option<String>,
    earliest_finish: Option<String>,
    latest_start: Option<String>,
    start_by: Option<String>,
    slack: Option<String>,
    anywhere: bool,
    critical: bool,
    late: bool,
    breaks_first: bool,
    called_for: bool,
}

/// The plan of one plate: its own student's, and the staff's.
pub async fn page(ask: InClass, ids: web::Path<(ClassId, PlateId)>) -> Reply {
    let at = plates::at(&ask, ids.into_inner().1);
    let (house, now) = (ask.house.clone(), ask.now());
    let (folder, look, plan, downs) = ask
        .house
        .db
        .read(move |db| {
            let folder = folder(db, &house.procedures, at.class, at.plate, at.owner, at.studio, at.zone)?;
            let ground = premises::ground(db, at.studio, at.class, at.zone, now)?;
            let look = plans::look(&folder, &ground, now);
            let plan = look.plan(&folder, &ground, now).map(|plan| plan.filter(|_| !folder.replaced));
            Ok((folder, look, plan, downs::downs(db, at.studio, now)?))
        })
        .await?;
    let title =
        ask.house.speech.remark(&Remark::new("plans-of-plate").with("number", i64::from(folder.row.number)));
    ask.show("plans/plate", &title, &view(&ask, &folder, &look, &plan, &downs))
}

fn view(
    ask: &InClass,
    folder: &Folder,
    look: &Look,
    plan: &Result<Option<PlatePlan>, Remark>,
    downs: &[Down],
) -> View {
    let (speech, zone, now) = (&ask.house.speech, folder.zone, ask.now());
    let due = folder.due().map(|at| at.timestamp_millis());
    let own = folder.row.person.id == ask.person.id;
    let row = &folder.row;
    let mut view = View {
        plate_path: plates::path(ask, row.id),
        number: row.number,
        print_title: row.print.title.clone(),
        who: (!own).then(|| format!("{} {}", row.person.given_name, row.person.family_name)),
        due: due.map(|at| moment(at, zone)),
        own_due: row.own_due_local.is_some(),
        now: moment(now.millis(), zone),
        sentences: Vec::new(),
        downs: downs.iter().map(|down| down_words(speech, down, zone)).collect(),
        steps: Vec::new(),
        picture: None,
        zone: zone.name().to_owned(),
    };
    let plan = match plan {
        Ok(Some(plan)) => plan,
        Ok(None) => {
            view.sentences.push(speech.plain("plans-nothing-left"));
            return view;
        }
        Err(remark) => {
            view.sentences = vec![speech.plain("plans-cannot"), speech.remark(remark)];
            return view;
        }
    };
    view.sentences = sentences(speech, look, plan, due, zone);
    let first = plan.breaks_first.map(step_of);
    for (number, (left, planned)) in look.remaining.iter().zip(&plan.steps).enumerate() {
        let mut step = step_view(speech, left, planned, zone);
        step.breaks_first = first == Some(number);
        view.steps.push(step);
    }
    view.picture = Some(timeline(&lines(look, plan, now.millis()), now.millis(), due, zone));
    view
}

fn step_view(speech: &Speech, left: &RemainingStep, planned: &StepOutlook, zone: chrono_tz::Tz) -> StepView {
    let write = |at: Option<Millis>| at.map(|at| moment(at, zone));
    let latest = planned.latest.map(|span| span.start);
    StepView {
        title: left.title.to_string(),
        place: match &*left.place {
            Place::Anywhere => speech.plain("plans-anywhere"),
            Place::Instructor => speech.plain("plans-instructor"),
            Place::Station(word) => word.clone(),
        },
        hands_on: length(left.minutes * MINUTE),
        may_split: left.may_split,
        under_way: left.under_way_since.is_some(),
        rest: rest_words(speech, left, zone),
        earliest_start: write(planned.earliest.map(|span| span.start)),
        earliest_finish: write(planned.earliest.map(|span| span.finish)),
        latest_start: write(latest),
        // The end of a longest rest, where that comes before the latest start.
        start_by: write(planned.start_by.filter(|by| latest.is_none_or(|latest| *by < latest))),
        slack: planned.slack.map(length),
        anywhere: *left.place == Place::Anywhere,
        critical: planned.critical,
        late: planned.late,
        breaks_first: false,
        called_for: left.called_for,
    }
}

fn rest_words(speech: &Speech, left: &RemainingStep, zone: chrono_tz::Tz) -> Option<String> {
    if let Some(at) = left.not_before {
        let until = moment(at.timestamp_millis(), zone);
        return Some(speech.remark(&Remark::new("plans-rests-until").with("until", until)));
    }
    (left.wait_minutes > 0)
        .then(|| speech.remark(&Remark::new("plans-rests").with("rest", clock_length(left.wait_minutes))))
}

/// Minutes of the clock: days where they are whole.
fn clock_length(minutes: i64) -> String {
    let day = DAY / MINUTE;
    match minutes % day {
        0 if minutes >= day => format!("{}\u{a0}d", minutes / day),
        _ => length(minutes * MINUTE),
    }
}

fn step_of(first: BreaksFirst) -> usize {
    match first {
        BreaksFirst::Start { step, .. }
        | BreaksFirst::Rest { step, .. }
        | BreaksFirst::Due { step }
        | BreaksFirst::NoPlace { step } => step,
    }
}

/// What breaks first, and whether the due date can be met.
fn sentences(
    speech: &Speech,
    look: &Look,
    plan: &PlatePlan,
    due: Option<Millis>,
    zone: chrono_tz::Tz,
) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(first) = breaks_first(look, plan, due, zone) {
        said.push(speech.remark(&first));
    }
    let due_words = due.map(|at| moment(at, zone)).unwrap_or_default();
    if let Some(finish) = plan.finish {
        let key = match (due.is_some(), plan.feasible) {
            (false, _) => "plans-finish",
            (true, true) => "plans-in-time",
            (true, false) => "plans-not-in-time",
        };
        let remark = Remark::new(key).with("finish", moment(finish, zone)).with("due", due_words);
        said.push(speech.remark(&remark));
    }
    if !plan.feasible && plan.feasible_at_shortest {
        said.push(speech.plain("plans-at-shortest"));
    }
    said
}

/// The sentence that says what gives way first if nobody does anything.
#[must_use]
pub fn breaks_first(
    look: &Look,
    plan: &PlatePlan,
    due: Option<Millis>,
    zone: chrono_tz::Tz,
) -> Option<Remark> {
    let first = plan.breaks_first?;
    let step = look.remaining.get(step_of(first))?;
    let (key, by) = match first {
        BreaksFirst::Start { by, .. } => ("plans-first-start", Some(by)),
        BreaksFirst::Rest { by, .. } => ("plans-first-rest", Some(by)),
        BreaksFirst::Due { .. } => ("plans-first-due", due),
        BreaksFirst::NoPlace { .. } => ("plans-first-no-place", None),
    };
    let minutes = length(step.minutes * MINUTE);
    let by = by.map(|by| moment(by, zone)).unwrap_or_default();
    Some(Remark::new(key).with("step", &*step.title).with("by", by).with("minutes", minutes))
}

/// The steps as the picture draws them.
fn lines(look: &Look, plan: &PlatePlan, now: Millis) -> Vec<Line> {
    let ended = |key: &Arc<str>| {
        let number = look.remaining.iter().position(|step| step.key == *key)?;
        plan.steps.get(number)?.earliest.map(|span| span.finish)
    };
    let line = |(left, planned): (&RemainingStep, &StepOutlook)| {
        let rest = match left.not_before {
            Some(at) => Some(Span { start: now, finish: at.timestamp_millis() }),
            None => left
                .after
                .iter()
                .filter_map(ended)
                .max()
                .map(|start| Span { start, finish: start.saturating_add(left.wait_minutes * MINUTE) }),
        };
        Line {
            title: left.title.to_string(),
            may_split: left.may_split,
            earliest: planned.earliest,
            latest_end: planned.latest.map(|span| span.finish),
            rest: rest.filter(|rest| rest.start < rest.finish),
        }
    };
    look.remaining.iter().zip(&plan.steps).map(line).collect()
}

/// What the plate's own page shows of its plan.
#[derive(Serialize)]
pub struct Notice {
    path: String,
    /// What to do before one leaves the studio: a limit passes before the next daily letter could tell it.
    leaving: Option<String>,
    /// That no letter will say it again.
    no_letter: Option<String>,
    /// Only on plates that have something left to plan.
    planned: bool,
}

/// The notice of a plate: a way to the plan, and what must not wait until tomorrow.
#[must_use]
pub fn notice(ask: &InClass, folder: &Folder, look: &Look) -> Notice {
    let open = folder.row.print.handed_in_at.is_none() && !folder.replaced;
    let quiet = Remark::new("plans-leaving-no-letter").with("from", i64::from(daily::LOUD.end));
    let quiet = quiet.with("to", i64::from(daily::LOUD.start));
    Notice {
        no_letter: Some(ask.house.speech.remark(&quiet)),
        path: format!("{}/plan", plates::path(ask, folder.row.id)),
        leaving: leaving(look, ask.now().millis(), folder.zone)
            .filter(|_| open)
            .map(|remark| ask.house.speech.remark(&remark)),
        planned: open && !look.remaining.is_empty(),
    }
}

/// The first longest rest that runs and ends before the end of tomorrow.
fn leaving(look: &Look, now: Millis, zone: chrono_tz::Tz) -> Option<Remark> {
    let tomorrow = end_of_day(end_of_day(now, zone), zone);
    let waiting = look.remaining.iter().filter(|step| step.under_way_since.is_none());
    let (step, limit) = waiting
        .filter_map(|step| Some((step, step.latest_by?.timestamp_millis())))
        .filter(|(_, limit)| now < *limit && *limit <= tomorrow)
        .min_by_key(|(_, limit)| *limit)?;
    let by = look.start_by.get(&step.key).map_or(limit, |by| by.timestamp_millis().min(limit));
    let key = if step.same_day { "plans-leaving-same-day" } else { "plans-leaving-limit" };
    let remark = Remark::new(key).with("step", &*step.title).with("by", moment(by, zone));
    Some(remark.with("limit", moment(limit, zone)))
}
