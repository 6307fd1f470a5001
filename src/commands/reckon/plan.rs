//! `reckon plan`: the earliest and latest times of steps between a start and a due date.
//!
//! `{"start", "due", "zone", "open": [{"day", "from", "to"}] or null, "extra": [{"date", "from", "to"}],
//! "closed": [dates], "instructor": [{"day", "from", "to"}], "steps": [{"key", "minutes", "after": [keys],
//! "min_wait_minutes", "max_wait_minutes", "may_split", "anywhere", "with_instructor"}]}`; start and due are RFC 3339.
//! Without `open` the studio is always open; lists may be left out when empty, waits when none, flags when false.
//! `anywhere` is not held to open hours; `with_instructor` is done in open hours at which the instructor is there, or in
//! any where `instructor` is left out or meets no opening.
//!
//! A step is `critical` when it cannot move without moving `finish`, wherever the due date is. `breaks` is the
//! first step in time that cannot end by the due date, or the first that has no place in the hours at all; then
//! it and what follows have null times.

use chrono_tz::Tz;
use serde::{Deserialize, Serialize};

use super::hours::{self, ExtraIn, OpeningIn};
use crate::speech::Speech;
use crate::trade::civil;
use crate::trade::planning::{
    self, Ask, Breaks, DAY, Graph, Hours, MOST_DAYS, Maximum, Millis, Plan, Planned, Rest, RestBroken, Rests,
    Span, Step, Where,
};
use crate::trade::remark::Remark;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct PlanIn {
    start: String,
    due: String,
    zone: String,
    #[serde(default)]
    open: Option<Vec<OpeningIn>>,
    #[serde(default)]
    extra: Vec<ExtraIn>,
    #[serde(default)]
    closed: Vec<String>,
    #[serde(default)]
    instructor: Option<Vec<OpeningIn>>,
    steps: Vec<StepIn>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StepIn {
    key: String,
    minutes: i64,
    #[serde(default)]
    after: Vec<String>,
    #[serde(default)]
    min_wait_minutes: i64,
    #[serde(default)]
    max_wait_minutes: Option<i64>,
    #[serde(default)]
    may_split: bool,
    #[serde(default)]
    anywhere: bool,
    #[serde(default)]
    with_instructor: bool,
}

#[derive(Debug, Serialize)]
struct PlanOut {
    finish: Option<String>,
    feasible: bool,
    /// The step that breaks an infeasible plan.
    breaks: Option<String>,
    sentence: Option<String>,
    steps: Vec<StepOut>,
    warnings: Vec<WarningOut>,
}

#[derive(Debug, Serialize)]
struct StepOut {
    key: String,
    earliest_start: Option<String>,
    earliest_finish: Option<String>,
    latest_start: Option<String>,
    latest_finish: Option<String>,
    slack_minutes: Option<i64>,
    critical: bool,
}

#[derive(Debug, Serialize)]
struct WarningOut {
    step: Option<String>,
    rest_minutes: Option<i64>,
    begin_by: Option<String>,
    hold_until: Option<String>,
    sentence: String,
}

pub(super) fn answer(speech: &Speech, input: &str) -> Result<String, Remark> {
    let input: PlanIn = super::read("plan", input)?;
    let zone = civil::zone("zone", &input.zone)?;
    let start = civil::rfc3339("start", &input.start)?.timestamp_millis();
    let due = civil::rfc3339("due", &input.due)?.timestamp_millis();
    check_span(&input, start, due)?;
    let hours = hours::hours(zone, input.open.as_deref(), &input.extra, &input.closed)?;
    let hours = match &input.instructor {
        Some(there) => hours.with_instructor(hours::weekly_openings("instructor", there)?),
        None => hours,
    };
    let graph = Graph::new(input.steps.iter().map(step).collect::<Result<_, _>>()?)?;
    hours::check(&hours, graph.steps().iter(), (start, due), (&input.start, &input.due))?;
    let ask = Ask { start, due: Some(due), sheets: 0, states: &[], rests: Rests::Advised };
    let plan = planning::plan_within(&graph, &hours, &ask);
    super::write("plan", &PlanOut::new(speech, &graph, &hours, due, &plan))
}

fn check_span(input: &PlanIn, start: Millis, due: Millis) -> Result<(), Remark> {
    let key = match due - start {
        ..0 => "planning-due-before-start",
        long if long > MOST_DAYS * DAY => "planning-span-too-long",
        _ => return Ok(()),
    };
    let remark = Remark::new(key).with("start", input.start.as_str()).with("due", input.due.as_str());
    Err(remark.with("most", MOST_DAYS))
}

fn step(step: &StepIn) -> Result<Step, Remark> {
    let read = |field, value| hours::minutes(&step.key, field, value);
    let maximum = step.max_wait_minutes.map(|value| read("max_wait_minutes", value)).transpose()?;
    let rest = Rest {
        minimum_minutes: read("min_wait_minutes", step.min_wait_minutes)?,
        advised_minutes: None,
        maximum: maximum.map_or(Maximum::None, Maximum::Minutes),
    };
    let place = match (step.anywhere, step.with_instructor) {
        (true, true) => {
            return Err(Remark::new("planning-instructor-anywhere").with("step", step.key.as_str()));
        }
        (true, false) => Where::Anywhere,
        (false, true) => Where::Instructor,
        (false, false) => Where::Studio,
    };
    Ok(Step {
        key: step.key.as_str().into(),
        minutes: read("minutes", step.minutes)?,
        minutes_per_sheet: 0,
        after: step.after.iter().map(|key| key.as_str().into()).collect(),
        rest,
        may_split: step.may_split,
        place,
    })
}

impl PlanOut {
    fn new(speech: &Speech, graph: &Graph, hours: &Hours, due: Millis, plan: &Plan) -> Self {
        let zone = hours.zone();
        let breaks = plan.breaks.map(|breaks| broken(graph, zone, due, breaks));
        let rests = plan.rests_broken.iter().map(|rest| WarningOut::of_rest(speech, graph, zone, rest));
        let extras = hours::taken_back(hours);
        let extras = extras.iter().map(|remark| WarningOut::of_hours(speech, remark));
        Self {
            finish: plan.finish.map(|at| hours::rfc3339(at, zone)),
            feasible: plan.feasible,
            sentence: breaks.as_ref().map(|(_, remark)| speech.remark(remark)),
            breaks: breaks.map(|(key, _)| key),
            steps: graph
                .steps()
                .iter()
                .zip(&plan.steps)
                .map(|(step, times)| StepOut::new(step, zone, times))
                .collect(),
            warnings: rests.chain(extras).collect(),
        }
    }
}

impl StepOut {
    fn new(step: &Step, zone: Tz, planned: &Planned) -> Self {
        let write =
            |span: Option<Span>, end: fn(Span) -> Millis| span.map(|span| hours::rfc3339(end(span), zone));
        Self {
            key: step.key.to_string(),
            earliest_start: write(planned.earliest, |span| span.start),
            earliest_finish: write(planned.earliest, |span| span.finish),
            latest_start: write(planned.latest, |span| span.start),
            latest_finish: write(planned.latest, |span| span.finish),
            slack_minutes: planned.slack.map(hours::whole_minutes),
            critical: planned.critical,
        }
    }
}

impl WarningOut {
    fn of_rest(speech: &Speech, graph: &Graph, zone: Tz, rest: &RestBroken) -> Self {
        let step = key(graph, rest.step);
        let (begin_by, hold_until) =
            (hours::rfc3339(rest.begin_by, zone), hours::rfc3339(rest.hold_until, zone));
        let remark = Remark::new("planning-rest-broken")
            .with("step", step.as_str())
            .with("minutes", hours::whole_minutes(rest.rest).to_string())
            .with("by", begin_by.as_str())
            .with("hold", hold_until.as_str());
        Self {
            step: Some(step),
            rest_minutes: Some(hours::whole_minutes(rest.rest)),
            begin_by: Some(begin_by),
            hold_until: Some(hold_until),
            sentence: speech.remark(&remark),
        }
    }

    fn of_hours(speech: &Speech, remark: &Remark) -> Self {
        let sentence = speech.remark(remark);
        Self { step: None, rest_minutes: None, begin_by: None, hold_until: None, sentence }
    }
}

fn broken(graph: &Graph, zone: Tz, due: Millis, breaks: Breaks) -> (String, Remark) {
    let (name, step) = match breaks {
        Breaks::Due { step } => ("planning-breaks-due", step),
        Breaks::NoPlace { step } => ("planning-breaks-no-place", step),
    };
    let minutes = graph.steps().get(step).map_or(0, |step| step.minutes);
    let step = key(graph, step);
    let remark = Remark::new(name).with("step", step.as_str()).with("due", hours::rfc3339(due, zone));
    (step, remark.with("minutes", i64::from(minutes)))
}

fn key(graph: &Graph, step: usize) -> String {
    graph.steps().get(step).map(|step| step.key.to_string()).unwrap_or_default()
}
