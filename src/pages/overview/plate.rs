//! A plate's own page: what it is, its procedure, the one thing to do now, and what was done.

use actix_web::http::StatusCode;
use actix_web::web;
use serde::Serialize;

use crate::clock::Instant;
use crate::ids::{ClassId, PlateId, PrintId, ProjectId, StepRunId};
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::etches;
use crate::pages::fields::Form;
use crate::pages::forms::decimal_text;
use crate::pages::overview::course::{self, Picture};
use crate::pages::overview::starts::{self, Beside};
use crate::pages::overview::today::{self, flag_words};
use crate::pages::overview::{along, square};
use crate::pages::plans::plate::{Notice, notice};
use crate::pages::plates;
use crate::pages::plates::forms::{self, Forms, Refused};
use crate::pages::proofs::section::{self, Section};
use crate::pages::sittings;
use crate::pages::tonight::own::{self, On, Own};
use crate::speech::Speech;
use crate::speech::figures::figures;
use crate::store::etches::logs::{self, Log};
use crate::store::plates::folder::{Folder, Run, folder};
use crate::store::plates::plans::{self, Look};
use crate::store::plates::premises;
use crate::store::proofs::PlateTitle;
use crate::store::sittings::accounts;
use crate::store::tonight::askings;
use crate::trade::procedure::{Hazard, Records, RuleName, StepOutlook, StepState};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled as _;

#[derive(Serialize)]
struct Flag {
    class: &'static str,
    words: String,
}

#[derive(Serialize)]
struct Now {
    step_key: String,
    title: String,
    running: Option<StepRunId>,
    /// It began a moment ago and can be taken back.
    take_back: bool,
    since: Option<String>,
    may_start: bool,
    sentences: Vec<String>,
    warnings: Vec<String>,
    until: Option<String>,
    start_by: Option<String>,
    minutes: Option<i64>,
    before: Vec<String>,
    during: Vec<String>,
    after: Vec<String>,
    cautions: Vec<String>,
    wants_sheets: bool,
    wants_etch: bool,
    /// It may be done now, with the clocks of the page at the table.
    at_table: bool,
    /// Only the instructor can start it, and somebody else asks.
    for_instructor: bool,
}

#[derive(Serialize)]
struct AnyTime {
    key: String,
    title: String,
    may_start: bool,
    one_tap: bool,
}

#[derive(Serialize)]
struct RunLine {
    id: StepRunId,
    step: String,
    began: String,
    ended: Option<String>,
    known: String,
    outside: Vec<String>,
    unsettled: bool,
    /// The instructor's form for a run outside the rules.
    settle: Option<forms::Settle>,
    settled: Option<String>,
    sheets: Option<i32>,
    note: String,
    in_room: String,
    /// What other phones told of it besides.
    accounts: Vec<String>,
}

#[derive(Serialize)]
struct View {
    /// The form whose complaints stand on top.
    form: Form,
    forms: Forms,
    class_path: String,
    plate_path: String,
    plate: PlateId,
    print: PrintId,
    number: i32,
    print_title: String,
    who: String,
    project: String,
    project_id: ProjectId,
    surface: String,
    size: String,
    materials: String,
    weight: String,
    procedure: String,
    standing: String,
    rack_place: String,
    gummed: Option<String>,
    due: Option<String>,
    edition: Option<i32>,
    handed_in: Option<String>,
    replaced: bool,
    flags: Vec<Flag>,
    steps: Vec<along::Step>,
    now: Option<Now>,
    /// Runs under way besides the step above.
    besides: Vec<Beside>,
    /// For a student: that a step waits for the instructor.
    waits: Option<String>,
    then: Option<String>,
    any_time: Vec<AnyTime>,
    course: Option<Picture>,
    runs: Vec<RunLine>,
    /// What was allowed once, a sentence each.
    allowed: Vec<String>,
    own: bool,
    instructor: bool,
    may_act: bool,
    lost: bool,
    plan: Notice,
    /// Its student's place in the line of those who ask.
    asking: Option<Own>,
    proofs: Section,
    etches: etches::section::Section,
}

/// The page of a plate.
pub async fn page(ask: InClass, ids: web::Path<(ClassId, PlateId)>) -> Reply {
    show(&ask, ids.into_inner().1, StatusCode::OK, None).await
}

/// The page of a plate with a form that came back.
pub async fn again(ask: &InClass, plate: PlateId, status: StatusCode, refused: &Refused) -> Reply {
    show(ask, plate, status, Some(refused)).await
}

async fn show(ask: &InClass, plate: PlateId, status: StatusCode, refused: Option<&Refused>) -> Reply {
    let at = plates::at(ask, plate);
    let (house, now) = (ask.house.clone(), ask.now());
    let asks = ask.owner();
    let (folder, look, proofs, logs, accounts, line) = ask
        .house
        .db
        .read(move |db| {
            let folder = folder(db, &house.procedures, at.class, at.plate, at.owner, at.studio, at.zone)?;
            let ground = premises::ground(db, at.studio, at.class, at.zone, now)?;
            let look = plans::look(&folder, &ground, now);
            let logs = logs::of_plate(db, at.class, at.plate, at.owner)?;
            let accounts = accounts::of_plate(db, at.plate)?;
            let line = asks.map(|person| askings::line(db, at.class, person, now)).transpose()?;
            Ok((folder, look, section::OnFile::read(db, at.class, at.plate)?, logs, accounts, line))
        })
        .await?;
    let title = folder.row.print.title.clone();
    let mut view = view(ask, &folder, &look, &proofs, &logs, refused);
    view.besides = starts::besides(ask, &folder, view.now.as_ref().and_then(|now| now.running));
    for run in &mut view.runs {
        let of_run = accounts.iter().filter(|account| account.run == run.id);
        run.accounts = of_run.map(|account| sittings::accounts::words(ask, account)).collect();
    }
    view.asking = line.map(|line| own::own(ask, &line, On::Plate, Vec::new(), Some(plate)));
    ask.page(status, "overview/plate", &title, &view)
}

fn view(
    ask: &InClass,
    folder: &Folder,
    look: &Look,
    proofs: &section::OnFile,
    logs: &[Log],
    refused: Option<&Refused>,
) -> View {
    let (form, forms) = forms::forms(folder, refused);
    let (speech, row, now) = (&ask.house.speech, &folder.row, ask.now());
    let near = |at: Instant| dates::near(at, now, folder.zone);
    let spelled = square::spelled(speech, folder, &look.outlook, now);
    View {
        form,
        forms,
        class_path: format!("/classes/{}", ask.class()),
        plate_path: plates::path(ask, row.id),
        plate: row.id,
        print: row.print.id,
        number: row.number,
        print_title: row.print.title.clone(),
        who: format!("{} {}", row.person.given_name, row.person.family_name),
        project: row.project.title.clone(),
        project_id: row.project.id,
        surface: speech.plain(&format!("plates-surface-{}", row.surface.0.word())),
        size: size(folder),
        materials: row.materials.clone(),
        weight: speech.plain(&format!("plates-weight-{}", row.weight.0.word())),
        procedure: folder.procedure.name.clone(),
        standing: speech.plain(&format!("plates-standing-{}", look.outlook.standing.word())),
        rack_place: row.rack_place.clone(),
        gummed: look.outlook.gum.gummed.map(|at| near(Instant::from_utc(at))),
        due: folder.due().map(|at| near(Instant::from_utc(at))),
        edition: row.print.edition_size.or(Some(row.project.edition_asked)),
        handed_in: row.print.handed_in_at.map(near),
        replaced: folder.replaced,
        flags: flag_words(ask, look).into_iter().map(|(class, words)| Flag { class, words }).collect(),
        steps: along::steps(ask, folder, spelled, logs, proofs.proofs()),
        now: look.outlook.next_for(ask.is_instructor()).map(|next| now_view(ask, folder, look, next)),
        besides: Vec::new(),
        waits: waits(ask, look),
        then: look
            .outlook
            .then
            .as_ref()
            .and_then(|key| look.outlook.step(key))
            .map(|step| step.title.to_string()),
        any_time: any_time(folder, look),
        course: course::picture(speech, folder, proofs.proofs(), now),
        runs: folder.runs.iter().rev().map(|run| run_line(ask, folder, run, refused)).collect(),
        allowed: starts::allowed(ask, folder),
        own: row.person.id == ask.person.id,
        instructor: ask.is_instructor(),
        may_act: row.person.id == ask.person.id || ask.is_instructor(),
        etches: etches::section::section(
            ask,
            folder,
            logs,
            row.person.id == ask.person.id || ask.is_instructor(),
        ),
        plan: notice(ask, folder, look),
        asking: None,
        lost: look.outlook.standing == crate::trade::procedure::Standing::Scrapped && !folder.replaced,
        proofs: Section::of(ask, &plate_title(folder), proofs),
    }
}

fn plate_title(folder: &Folder) -> PlateTitle {
    let row = &folder.row;
    PlateTitle {
        plate: row.id,
        number: row.number,
        print: row.print.title.clone(),
        person: row.person.id,
        given_name: row.person.given_name.clone(),
        family_name: row.person.family_name.clone(),
    }
}

fn size(folder: &Folder) -> String {
    let side = |value: i32| figures(decimal_text(value.into(), 2));
    let (width, height) = (side(folder.row.width_hundredths), side(folder.row.height_hundredths));
    format!("{width}\u{a0}×\u{a0}{height}\u{a0}{}", folder.row.size_unit.0.word())
}

fn any_time(folder: &Folder, look: &Look) -> Vec<AnyTime> {
    let one_tap = |key: &str| folder.procedure.find(key).is_some_and(|step| step.never_waits && step.gums);
    look.outlook
        .steps
        .iter()
        .filter(|step| !step.on_the_way)
        .map(|step| AnyTime {
            key: step.key.to_string(),
            title: step.title.to_string(),
            may_start: step.may_start(),
            one_tap: one_tap(&step.key),
        })
        .collect()
}

fn waits(ask: &InClass, look: &Look) -> Option<String> {
    let next = look.outlook.next_step().filter(|next| next.waits_for_instructor && !ask.is_instructor())?;
    Some(ask.house.speech.remark(&today::waits(next)))
}

fn now_view(ask: &InClass, folder: &Folder, look: &Look, next: &StepOutlook) -> Now {
    let speech = &ask.house.speech;
    let near = |at| dates::near(Instant::from_utc(at), ask.now(), folder.zone);
    let step = folder.procedure.find(&next.key);
    let running = folder.runs.iter().rev().find(|run| *run.step_key == *next.key && run.ended_at.is_none());
    let words = |pick: fn(&crate::trade::procedure::Instructions) -> &Vec<String>| {
        step.map(|step| pick(&step.instructions).clone()).unwrap_or_default()
    };
    let hazards: &[Hazard] = step.map(|step| step.hazards.as_slice()).unwrap_or_default();
    let verdict = folder.verdict(next, ask.now());
    Now {
        step_key: next.key.to_string(),
        title: next.title.to_string(),
        running: running.map(|run| run.id),
        take_back: running.is_some_and(|run| starts::may_take_back(ask, folder, run)),
        since: match next.state {
            StepState::UnderWay { since } => Some(near(since)),
            _ => None,
        },
        may_start: verdict.may_start() && (ask.is_instructor() || !next.waits_for_instructor),
        sentences: verdict.broken.iter().map(|one| speech.remark(&one.remark)).collect(),
        warnings: verdict.warnings.iter().map(|one| speech.remark(&one.remark)).collect(),
        until: match next.state {
            StepState::Resting { until, .. } => Some(near(until)),
            _ => None,
        },
        start_by: look.start_by.get(&next.key).map(near),
        minutes: look.remaining.iter().find(|one| *one.key == *next.key).map(|one| one.minutes),
        before: words(|all| &all.before),
        during: words(|all| &all.during),
        after: words(|all| &all.after),
        cautions: hazards.iter().map(|hazard| speech.remark(&hazard.caution())).collect(),
        wants_sheets: step.is_some_and(|step| step.records == Records::Sheets),
        wants_etch: step.is_some_and(|step| step.records == Records::Etch),
        at_table: running.is_some() || verdict.may_start(),
        for_instructor: next.waits_for_instructor && !ask.is_instructor(),
    }
}

fn run_line(ask: &InClass, folder: &Folder, run: &Run, refused: Option<&Refused>) -> RunLine {
    let speech = &ask.house.speech;
    let near = |at: Instant| dates::near(at, ask.now(), folder.zone);
    let rules: Vec<RuleName> = run.outside_rules.split(',').filter_map(RuleName::from_word).collect();
    let title =
        |key: &str| folder.procedure.find(key).map_or_else(|| key.to_owned(), |step| step.title.clone());
    let unsettled = !rules.is_empty() && run.settled_at.is_none();
    RunLine {
        id: run.id,
        step: title(&run.step_key),
        began: near(run.began_at),
        ended: run.ended_at.map(near),
        known: known(speech, run),
        outside: rules.iter().map(|rule| speech.plain(&rule_key(*rule))).collect(),
        unsettled,
        settle: (unsettled && ask.is_instructor()).then(|| forms::settle(&run.id.to_string(), refused)),
        settled: run.settlement.map(|ordered| {
            let word = speech.plain(&format!("plates-ordered-{}", ordered.0.word()));
            format!("{word}: {}", run.settled_reason.clone().unwrap_or_default())
        }),
        sheets: run.sheets,
        note: run.note.clone(),
        in_room: run.in_room.clone(),
        accounts: Vec::new(),
    }
}

/// How its times are known: where a phone's clock was off by a minute or more, that and how it was put right.
fn known(speech: &Speech, run: &Run) -> String {
    let known = speech.plain(&format!("plates-known-{}", run.known_how.0.word()));
    let known = match run.on_tablet {
        true => format!("{known}, {}", speech.plain("tablet-told")),
        false => known,
    };
    let minutes = run.clock_off_ms.map_or(0, |off| off.saturating_abs() / 60_000);
    let key = match (run.clock_doubtful, run.clock_off_ms.unwrap_or(0) > 0) {
        (true, _) => "table-clock-doubtful",
        (false, _) if minutes == 0 => return known,
        (false, true) => "table-clock-ahead",
        (false, false) => "table-clock-behind",
    };
    format!("{known}. {}", speech.remark(&Remark::new(key).with("minutes", minutes)))
}

/// The catalogue key of a rule's name.
fn rule_key(rule: RuleName) -> String {
    format!("plates-rule-{}", rule.word().replace('_', "-"))
}
