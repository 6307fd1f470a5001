//! Today: one question for each seat. A student: what may I do now, and by when? Staff: who waits for me?

use std::collections::BTreeSet;

use serde::Serialize;

use crate::clock::Instant;
use crate::ids::{PlateId, PrintId};
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::{InClass, Seat};
use crate::pages::overview::square::{Square, squares};
use crate::pages::overview::{looked_at_with_line, span, starts};
use crate::pages::tonight::own::{self, On, Own};
use crate::store::plates::folder::Folder;
use crate::store::plates::plans::Look;
use crate::trade::procedure::{Flag, Records, RuleName, StepOutlook, StepState};
use crate::trade::remark::Remark;

/// The first page of a class.
pub async fn page(ask: InClass) -> Reply {
    match ask.seat() {
        Seat::Student => student(&ask).await,
        _ => staff(&ask).await,
    }
}

#[derive(Serialize)]
struct Ticket<'a> {
    plate: PlateId,
    number: i32,
    print_title: &'a str,
    step_key: &'a str,
    step: &'a str,
    running: bool,
    /// The step wants an etch, so the mix is one tap away.
    etches: bool,
    start_by: Option<String>,
    due: Option<String>,
    minutes: Option<i64>,
    besides: Vec<String>,
    warnings: Vec<String>,
    squares: Vec<Square>,
}

#[derive(Serialize)]
struct Waiting<'a> {
    plate: PlateId,
    number: i32,
    print_title: &'a str,
    step: &'a str,
    sentences: Vec<String>,
    besides: Vec<String>,
    until: Option<String>,
    squares: Vec<Square>,
}

#[derive(Serialize)]
struct Ahead<'a> {
    plate: PlateId,
    print: PrintId,
    number: i32,
    print_title: &'a str,
    next: Option<&'a str>,
    start_by: Option<String>,
    due: Option<String>,
    late: bool,
    handed_in: bool,
}

#[derive(Serialize)]
struct StudentView<'a> {
    class_path: String,
    date: String,
    time: String,
    ticket: Option<Ticket<'a>>,
    ready: Vec<Waiting<'a>>,
    missing: Vec<Waiting<'a>>,
    resting: Vec<Waiting<'a>>,
    ahead: Vec<Ahead<'a>>,
    own: Own,
}

async fn student(ask: &InClass) -> Reply {
    let (all, line) = looked_at_with_line(ask, Some(ask.person.id)).await?;
    let now = ask.now();
    let zone = ask.membership.zone;
    let (mut ready, mut missing, mut resting) = (Vec::new(), Vec::new(), Vec::new());
    for (folder, look) in &all {
        let Some(next) = look.outlook.next_for(false) else { continue };
        if folder.row.print.handed_in_at.is_some() || folder.replaced {
            continue;
        }
        match next.state {
            _ if next.waits_for_instructor => missing.push((folder, look)),
            StepState::Ready | StepState::UnderWay { .. } if next.may_start() || is_running(next.state) => {
                ready.push((folder, look));
            }
            StepState::Resting { .. } => resting.push((folder, look)),
            _ => missing.push((folder, look)),
        }
    }
    // Running first, then by the latest start.
    ready.sort_by_key(|(_, look)| {
        let running = look.outlook.next_for(false).is_some_and(|next| is_running(next.state));
        (!running, look.next_start_by().map_or(i64::MAX, |at| at.timestamp_millis()))
    });
    let first = ready.first().map(|(folder, look)| ticket(ask, folder, look));
    let open = all.iter().filter(|(folder, _)| folder.row.print.handed_in_at.is_none());
    let plates = open.map(|(folder, _)| own::plate_choice(folder)).collect();
    let about = first.as_ref().map(|ticket| ticket.plate);
    let view = StudentView {
        class_path: format!("/classes/{}", ask.class()),
        date: dates::day(now.local_date(zone)),
        time: dates::time(now.local(zone)),
        ticket: first,
        ready: all_waiting(ask, ready.get(1..).unwrap_or_default()),
        missing: all_waiting(ask, &missing),
        resting: all_waiting(ask, &resting),
        ahead: all.iter().map(|(folder, look)| ahead(folder, look, now)).collect(),
        own: own::own(ask, &line, On::Today, plates, about),
    };
    ask.show("overview/today-student", "layout-today", &view)
}

fn is_running(state: StepState) -> bool {
    matches!(state, StepState::UnderWay { .. })
}

fn ticket<'a>(ask: &InClass, folder: &'a Folder, look: &'a Look) -> Ticket<'a> {
    let speech = &ask.house.speech;
    let next = look.outlook.next_for(false);
    let near = |at| dates::near(Instant::from_utc(at), ask.now(), folder.zone);
    Ticket {
        plate: folder.row.id,
        number: folder.row.number,
        print_title: &folder.row.print.title,
        step_key: next.map(|next| &*next.key).unwrap_or_default(),
        step: next.map(|next| &*next.title).unwrap_or_default(),
        running: next.is_some_and(|next| is_running(next.state)),
        etches: next
            .and_then(|next| folder.procedure.find(&next.key))
            .is_some_and(|step| step.records == Records::Etch),
        start_by: next.and_then(|next| look.start_by.get(&next.key)).map(near),
        due: folder.due().map(near),
        minutes: next
            .and_then(|next| look.remaining.iter().find(|one| *one.key == *next.key))
            .map(|step| step.minutes),
        besides: starts::besides_in_words(ask, folder, next),
        warnings: next
            .map(|next| folder.verdict(next, ask.now()).warnings)
            .unwrap_or_default()
            .iter()
            .map(|one| speech.remark(&one.remark))
            .collect(),
        squares: squares(speech, &look.outlook),
    }
}

fn all_waiting<'a>(ask: &InClass, list: &[(&'a Folder, &'a Look)]) -> Vec<Waiting<'a>> {
    list.iter().map(|(folder, look)| waiting(ask, folder, look)).collect()
}

fn waiting<'a>(ask: &InClass, folder: &'a Folder, look: &'a Look) -> Waiting<'a> {
    let speech = &ask.house.speech;
    let next = look.outlook.next_for(false);
    let until = next.and_then(|next| match next.state {
        StepState::Resting { until, .. } => {
            Some(dates::near(Instant::from_utc(until), ask.now(), folder.zone))
        }
        _ => None,
    });
    Waiting {
        plate: folder.row.id,
        number: folder.row.number,
        print_title: &folder.row.print.title,
        step: next.map(|next| &*next.title).unwrap_or_default(),
        sentences: next.map(|next| said(ask, folder, next)).unwrap_or_default(),
        besides: starts::besides_in_words(ask, folder, next),
        until,
        squares: squares(speech, &look.outlook),
    }
}

/// What holds a step up.
fn said(ask: &InClass, folder: &Folder, next: &StepOutlook) -> Vec<String> {
    let speech = &ask.house.speech;
    let broken = folder.verdict(next, ask.now()).broken;
    let mut all: Vec<String> = broken.iter().map(|one| speech.remark(&one.remark)).collect();
    if next.waits_for_instructor {
        all.push(speech.remark(&waits(next)));
    }
    all
}

/// That a step is the instructor's.
pub(super) fn waits(next: &StepOutlook) -> Remark {
    Remark::new("plates-waits-for-instructor").with("step", &*next.title)
}

fn ahead<'a>(folder: &'a Folder, look: &'a Look, now: Instant) -> Ahead<'a> {
    let near = |at| dates::near(Instant::from_utc(at), now, folder.zone);
    Ahead {
        plate: folder.row.id,
        print: folder.row.print.id,
        number: folder.row.number,
        print_title: &folder.row.print.title,
        next: look.outlook.next_step().map(|next| &*next.title),
        start_by: look.next_start_by().map(near),
        due: folder.due().map(near),
        late: look.flags.iter().any(|flag| matches!(flag, Flag::Late { .. })),
        handed_in: folder.row.print.handed_in_at.is_some(),
    }
}

#[derive(Serialize)]
struct Line {
    plate: PlateId,
    number: i32,
    who: String,
    print_title: String,
    what: String,
    since: Option<String>,
}

#[derive(Serialize)]
struct StaffView {
    class_path: String,
    date: String,
    time: String,
    instructor: bool,
    /// Whom no letters reach.
    unreached: Option<String>,
    unsettled: Vec<Line>,
    go_aheads: Vec<Line>,
    running: Vec<Line>,
    unsigned: Vec<Line>,
    late: usize,
    stuck: usize,
    plates: usize,
    empty: bool,
    /// How many wait for somebody of the staff.
    waiting: Option<String>,
}

async fn staff(ask: &InClass) -> Reply {
    let (all, line) = looked_at_with_line(ask, None).await?;
    let instructor = ask.is_instructor();
    let waiting = i64::try_from(line.open.len()).unwrap_or(i64::MAX);
    let count = Remark::new("tonight-count").with("count", waiting);
    let (now, zone) = (ask.now(), ask.membership.zone);
    let near = |at| Some(dates::near(Instant::from_utc(at), now, zone));
    let mut view = StaffView {
        class_path: format!("/classes/{}", ask.class()),
        date: dates::day(now.local_date(zone)),
        time: dates::time(now.local(zone)),
        instructor,
        unreached: unreached(ask, &all).filter(|_| instructor),
        unsettled: Vec::new(),
        go_aheads: Vec::new(),
        running: Vec::new(),
        unsigned: Vec::new(),
        late: 0,
        stuck: 0,
        plates: all.len(),
        empty: all.is_empty(),
        waiting: (waiting > 0).then(|| ask.house.speech.remark(&count)),
    };
    for (folder, look) in &all {
        let line = |what: String, since| Line {
            plate: folder.row.id,
            number: folder.row.number,
            who: format!("{} {}", folder.row.person.given_name, folder.row.person.family_name),
            print_title: folder.row.print.title.clone(),
            what,
            since,
        };
        // Counted as the class's page lists them: what is late is not counted once more as stuck.
        let late = look.flags.iter().any(|flag| matches!(flag, Flag::Late { .. }));
        view.late += usize::from(late);
        let stuck = look.flags.iter().any(|flag| matches!(flag, Flag::Stuck { .. }));
        view.stuck += usize::from(stuck && !late);
        if let Some(run) = look.outlook.blocked_by.and_then(|place| folder.runs.get(place)) {
            let title = folder.procedure.find(&run.step_key).map(|step| step.title.clone());
            view.unsettled.push(line(title.unwrap_or_default(), near(run.began_at.utc())));
        }
        let Some(next) = look.outlook.next_step() else { continue };
        if next.waits_for_instructor && next.state == StepState::Ready {
            view.go_aheads.push(line(next.title.to_string(), look.outlook.standing_since.and_then(near)));
        }
        if let StepState::UnderWay { since } = next.state {
            view.running.push(line(next.title.to_string(), near(since)));
        }
        if next.rules.contains(RuleName::SignOff) {
            view.unsigned.push(line(next.title.to_string(), None));
        }
    }
    ask.show("overview/today-staff", "layout-today", &view)
}

/// Whom no letters reach.
fn unreached(ask: &InClass, all: &[(Folder, Look)]) -> Option<String> {
    let resting = all.iter().filter(|(folder, _)| !folder.left()).map(|(folder, _)| &folder.row.person);
    let who: BTreeSet<String> = resting
        .filter(|person| person.mail_rests_since.is_some())
        .map(|person| format!("{} {}", person.given_name, person.family_name))
        .collect();
    let who = who.into_iter().collect::<Vec<_>>().join(", ");
    (!who.is_empty())
        .then(|| ask.house.speech.remark(&Remark::new("letters-week-unreached").with("who", who)))
}

/// The flag words of a plate, worst first: “late 18 h”, “stuck 5 d”.
pub(super) fn flag_words(ask: &InClass, look: &Look) -> Vec<(&'static str, String)> {
    let now = ask.now();
    let mut words: Vec<(&'static str, String)> = look
        .flags
        .iter()
        .map(|flag| match flag {
            Flag::Late { latest_start, .. } => {
                let long = span(Instant::from_utc(*latest_start), now);
                ("flag-late", format!("{} {long}", ask.house.speech.plain("plates-flag-late")))
            }
            Flag::Stuck { since, .. } => {
                let long = span(Instant::from_utc(*since), now);
                ("flag-stuck", format!("{} {long}", ask.house.speech.plain("plates-flag-stuck")))
            }
        })
        .collect();
    words.dedup_by(|later, first| later.0 == first.0);
    words
}
