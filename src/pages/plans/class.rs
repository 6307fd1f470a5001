//! The class plan: are the shared places enough for every print by its due date, who is first without one, and what
//! would help. A print counts only where all its steps can be placed.

use std::collections::{BTreeSet, HashSet};

use actix_web::web;
use serde::Serialize;

use super::bars::{Bars, Week, bars};
use super::what_if::{self, WhatIf};
use super::{down_words, length};
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::Filled;
use crate::pages::studio::hours::weekdays;
use crate::speech::Speech;
use crate::store::plates::class_plan::{ClassWork, PrintWork, class_work};
use crate::store::studio::downs::{self, Down};
use crate::trade::planning::Millis;
use crate::trade::planning::press::{self, Answer, Problem};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const FORM: &str = "plans-what-if";

/// An answer to a question, with what was asked.
#[derive(Debug)]
pub(super) struct Answered {
    pub(super) label: String,
    pub(super) answer: Answer,
}

#[derive(Serialize)]
struct View {
    class_path: String,
    now: String,
    zone: String,
    form: Form,
    projects: Vec<Choice>,
    weekdays: Vec<Choice>,
    repairable: Vec<Choice>,
    /// Why there is no plan.
    none: Option<String>,
    headline: Option<String>,
    bound: Option<String>,
    without: Vec<Without>,
    answers: Vec<AnswerView>,
    stations: Vec<StationView>,
    notes: Vec<String>,
    downs: Vec<String>,
}

/// A print for which no place was found.
#[derive(Serialize)]
struct Without {
    who: String,
    print: String,
    due: String,
    path: Option<String>,
}

#[derive(Serialize)]
struct AnswerView {
    label: String,
    now: bool,
    fits: String,
    had: String,
    wanted: String,
    short: String,
    first: Option<String>,
    more: Option<String>,
}

#[derive(Serialize)]
struct StationView {
    name: String,
    number: usize,
    count: u32,
    had: String,
    wanted: String,
    short: Option<String>,
    picture: Bars,
}

/// The class plan; the query part of the address asks what something else would give.
pub async fn page(ask: InClass) -> Reply {
    let asked = Filled::asked(&ask);
    let (questions, form, again) = match what_if::read(&asked) {
        Ok(questions) => (questions, Form::refused(FORM, &asked, &[], &ask.house.speech), false),
        Err(trouble) => (WhatIf::default(), Form::after(FORM, &asked, trouble, &ask.house.speech)?, true),
    };
    let (work, downs) = gather(&ask, &questions).await?;
    let (house, reckoned) = (ask.house.clone(), questions.clone());
    let (work, found) = web::block(move || {
        let found = what_if::answers(&house.speech, &work, &reckoned);
        (work, found)
    })
    .await
    .map_err(|error| Trouble::broken("reckoning a class plan", error))?;
    let mut view = empty(&ask, form, &work, &downs);
    match found {
        Ok(Some((problem, answer, others))) => fill(&mut view, &ask, &work, &problem, &answer, &others),
        Ok(None) => view.none = Some(ask.house.speech.plain("plans-class-nothing")),
        Err(remark) => view.none = Some(ask.house.speech.remark(&remark)),
    }
    if again {
        ask.show_again("plans/class", "plans-class", &view)
    } else {
        ask.show("plans/class", "plans-class", &view)
    }
}

async fn gather(ask: &InClass, questions: &WhatIf) -> Result<(ClassWork, Vec<Down>), Trouble> {
    let (class, studio, zone) = (ask.class(), ask.membership.studio, ask.membership.zone);
    let (house, now, only) = (ask.house.clone(), ask.now(), questions.project);
    ask.house
        .db
        .read(move |db| {
            let work = class_work(db, &house.procedures, class, studio, zone, now, only)?;
            Ok((work, downs::downs(db, studio, now)?))
        })
        .await
}

fn empty(ask: &InClass, form: Form, work: &ClassWork, downs: &[Down]) -> View {
    let (speech, zone) = (&ask.house.speech, ask.membership.zone);
    View {
        class_path: format!("/classes/{}", ask.class()),
        now: dates::moment(ask.now(), zone),
        zone: zone.name().to_owned(),
        form,
        projects: work
            .projects
            .iter()
            .map(|one| Choice::new(one.id.to_string(), one.title.clone()))
            .collect(),
        weekdays: weekdays(speech),
        repairable: repairable(speech, work),
        none: None,
        headline: None,
        bound: None,
        without: Vec::new(),
        answers: Vec::new(),
        stations: Vec::new(),
        notes: notes(speech, work),
        downs: downs.iter().map(|down| down_words(speech, down, zone)).collect(),
    }
}

/// What may be asked about what is out of order: all of a kind, and each unit of it.
fn repairable(speech: &Speech, work: &ClassWork) -> Vec<Choice> {
    let mut choices = Vec::new();
    for station in work.premises.stations.iter().filter(|station| !station.down.is_empty()) {
        let name = station.name.as_str();
        choices.push(Choice::new(what_if::repairable(name, None), name.to_owned()));
        let units: BTreeSet<u32> = station.down.iter().map(|down| down.unit).collect();
        choices.extend(units.into_iter().map(|unit| {
            let label = Remark::new("plans-unit").with("station", name).with("unit", i64::from(unit));
            Choice::new(what_if::repairable(name, Some(unit)), speech.remark(&label))
        }));
    }
    choices
}

/// What limits what the plan can say.
fn notes(speech: &Speech, work: &ClassWork) -> Vec<String> {
    let unknown: Vec<String> = work.unknown_stations().into_iter().collect();
    let unknown = (!unknown.is_empty())
        .then(|| Remark::new("plans-unknown-stations").with("stations", unknown.join(", ")));
    let extras = work.premises.hours.extras_on_closed_dates();
    let closed = extras.first().map(|day| Remark::new("plans-extra-on-closed").with("day", dates::day(*day)));
    unknown.iter().chain(&closed).map(|remark| speech.remark(remark)).collect()
}

fn fill(
    view: &mut View,
    ask: &InClass,
    work: &ClassWork,
    problem: &Problem,
    answer: &Answer,
    asked_also: &[Answered],
) {
    let speech = &ask.house.speech;
    let asked = i64::try_from(problem.asked()).unwrap_or(i64::MAX);
    let fits = count(answer);
    view.headline =
        Some(speech.remark(&Remark::new("plans-headline").with("fits", fits).with("asked", asked)));
    let bound = answer.bound.and_then(|bound| i64::try_from(bound).ok()).filter(|bound| *bound > fits);
    view.bound = bound.map(|bound| speech.remark(&Remark::new("plans-bound").with("bound", bound)));
    let placed: HashSet<usize> = answer.places.iter().map(|place| place.print).collect();
    let left_over = work.prints.iter().enumerate().filter(|(number, _)| !placed.contains(number));
    view.without = left_over.map(|(_, print)| without(ask, print)).collect();
    if answer.short() == 0 && !view.without.is_empty() {
        view.notes.insert(0, speech.plain("plans-pieces-too-short"));
    }
    let others = i64::try_from(work.in_the_way().count()).unwrap_or(i64::MAX);
    if others > 0 {
        let counted = Remark::new("plans-others-counted").with("count", others);
        view.notes.insert(0, speech.remark(&counted.with("wanted", length(answer.of_others()))));
    }
    view.answers.push(answer_view(speech, work, &speech.plain("plans-now"), answer, None));
    let more = asked_also.iter().map(|one| answer_view(speech, work, &one.label, &one.answer, Some(answer)));
    view.answers.extend(more);
    view.stations = stations(problem, answer);
}

fn count(answer: &Answer) -> i64 {
    i64::try_from(answer.fits).unwrap_or(i64::MAX)
}

fn without(ask: &InClass, print: &PrintWork) -> Without {
    let speech = &ask.house.speech;
    let named = |key: &'static str, title: &str| speech.remark(&Remark::new(key).with("title", title));
    Without {
        who: format!("{} {}", print.given_name, print.family_name),
        print: match &print.print {
            Some((_, title)) => named("plans-print", title),
            None => named("plans-print-not-begun", &print.project_title),
        },
        due: dates::moment(print.due, ask.membership.zone),
        path: print.print.as_ref().map(|_| format!("/classes/{}/plates", ask.class())),
    }
}

fn answer_view(
    speech: &Speech,
    work: &ClassWork,
    label: &str,
    answer: &Answer,
    beside: Option<&Answer>,
) -> AnswerView {
    let first = answer.first_without_place.and_then(|number| work.prints.get(number));
    AnswerView {
        label: label.to_owned(),
        now: beside.is_none(),
        fits: count(answer).to_string(),
        had: length(answer.had()),
        wanted: length(answer.wanted()),
        short: length(answer.short()),
        first: first.map(|print| format!("{} {}", print.given_name, print.family_name)),
        more: beside.map(|before| {
            let more = count(answer) - count(before);
            let key = match more {
                0 => "plans-no-more",
                ..0 => "plans-fewer",
                _ => "plans-more",
            };
            speech.remark(&Remark::new(key).with("count", more.abs()))
        }),
    }
}

fn stations(problem: &Problem, answer: &Answer) -> Vec<StationView> {
    let wanted = press::wanted_by_week(problem);
    let of = |week: &[Millis], number: usize| week.get(number).copied().unwrap_or(0);
    let view = |(number, (station, figures)): (usize, (&press::Station, &press::StationFigures))| {
        let weeks: Vec<Week> = answer
            .weeks
            .iter()
            .zip(&wanted)
            .map(|(week, wanted)| {
                let (had, placed) = week.stations.get(number).copied().unwrap_or((0, 0));
                Week { monday: week.monday, had, wanted: of(wanted, number), placed }
            })
            .collect();
        StationView {
            name: station.name.clone(),
            number,
            count: station.count,
            had: length(figures.had),
            wanted: length(figures.wanted),
            short: (figures.short > 0).then(|| length(figures.short)),
            picture: bars(&weeks),
        }
    };
    problem.stations().iter().zip(&answer.stations).enumerate().map(view).collect()
}
