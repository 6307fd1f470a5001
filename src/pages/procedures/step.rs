//! The form of one step: everything about it on one page, and keeping it in the draft.

use actix_web::web;
use serde::Serialize;

use crate::ids::{ClassId, ProcedureId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::procedures::said::{LookedAt, Voice};
use crate::pages::procedures::typed::{self, MOST_RULES, MaximumKind, NeedKind, PlaceKind};
use crate::pages::procedures::{mark_of, reading_path, writing_path};
use crate::speech::Speech;
use crate::store::plates::drafts::{self, Draft};
use crate::store::studio::stations;
use crate::store::{Scope, Tx};
use crate::trade::procedure::check::MOST_STEPS;
use crate::trade::procedure::step::spelled_minutes;
use crate::trade::procedure::writing::word_from;
use crate::trade::procedure::{
    GUMMED, Grade, Hazard, Maximum, Need, Place, Procedure, Records, Shows, Standing, Step,
};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled as _;
use crate::trouble::Trouble;

const FORM: &str = "procedures-step";
/// The mark of a step that somebody took out of the draft meanwhile.
const GONE: &str = "gone";
const PICTURE: &str = "procedures-picture";

/// The class, the procedure and the step.
pub type Ids = web::Path<(ClassId, ProcedureId, String)>;

#[derive(Serialize)]
struct TopicRow {
    id: String,
    name: String,
    title: String,
    options: Vec<Marked>,
}

#[derive(Serialize)]
struct Marked {
    value: &'static str,
    label: String,
    here: bool,
}

/// One rule of the form: the names of its fields, and whether it stands open.
#[derive(Serialize)]
struct RuleRow {
    number: usize,
    sentence: Option<String>,
    open: bool,
    kind: String,
    of: String,
    since: String,
    because: String,
}

#[derive(Serialize)]
struct View {
    /// The form whose complaints stand on top.
    form: Form,
    picture: Form,
    shows: Vec<Choice>,
    base: String,
    step_path: String,
    key: String,
    title: String,
    /// Pictures are added to a step that stands.
    taken_out: bool,
    procedure: String,
    stations: Vec<String>,
    places: Vec<Choice>,
    hazards: Vec<Choice>,
    steps_before: Vec<Choice>,
    words: Vec<Choice>,
    all_steps: Vec<Choice>,
    records: Vec<Choice>,
    standings: Vec<Choice>,
    maximums: Vec<Choice>,
    rule_kinds: Vec<Choice>,
    topics: Vec<TopicRow>,
    rules: Vec<RuleRow>,
    cautions: Vec<String>,
    pictures: Vec<LookedAt>,
}

/// Which form of the page came back, with what was typed.
pub enum Back {
    Step(Filled, Trouble),
    Picture(Filled, Trouble),
}

/// A draft and what its forms offer.
struct Loaded {
    draft: Draft,
    topics: Vec<(String, String)>,
    stations: Vec<String>,
}

async fn load(ask: &InClass, id: ProcedureId) -> Result<Loaded, Trouble> {
    let (class, studio) = (ask.class(), ask.membership.studio);
    ask.house
        .db
        .read(move |db| {
            let mut kinds: Vec<String> =
                stations(db, studio)?.into_iter().map(|station| station.kind).collect();
            kinds.sort();
            kinds.dedup();
            let draft = drafts::draft(db, class, id)?;
            Ok(Loaded { draft, topics: drafts::topic_titles(db)?, stations: kinds })
        })
        .await
}

impl Loaded {
    /// The step of that key, and whether it stands on the way.
    fn step(&self, key: &str) -> Result<(&Step, bool), Trouble> {
        let procedure = &self.draft.procedure;
        let step = procedure.find(key).ok_or(Trouble::NotFound)?;
        Ok((step, procedure.is_on_the_way(key)))
    }

    /// The topics a sign-off can be asked on: the school's, and what a file named beside them.
    fn topic_keys(&self, step: &Step) -> Vec<String> {
        let mut keys: Vec<String> = self.topics.iter().map(|(key, _)| key.clone()).collect();
        for need in &step.sign_offs {
            if !keys.contains(&need.topic) {
                keys.push(need.topic.clone());
            }
        }
        keys
    }
}

/// The form of a step.
pub async fn edit(ask: InClass, ids: Ids) -> Reply {
    let (_, id, key) = ids.into_inner();
    let loaded = load(&ask, id).await?;
    page(&ask, id, &loaded, &key, None)
}

/// Asks whether there is such a step to be written.
///
/// # Errors
/// There is none.
pub async fn there(ask: &InClass, id: ProcedureId, key: &str) -> Result<(), Trouble> {
    load(ask, id).await?.step(key).map(drop)
}

/// The form of a step with what is wrong.
pub async fn again(ask: &InClass, id: ProcedureId, key: &str, back: Back) -> Reply {
    let loaded = load(ask, id).await?;
    page(ask, id, &loaded, key, Some(back))
}

/// Keeps a step in the draft.
pub async fn change(ask: InClass, ids: Ids, filled: Filled) -> Reply {
    let (class, id, key) = ids.into_inner();
    let loaded = load(&ask, id).await?;
    let stands = match loaded.step(&key) {
        Ok((step, _)) => step.clone(),
        Err(_) => gone(&key)?,
    };
    match try_change(&ask, class, id, &loaded, &stands, &filled).await {
        // Loaded anew: what stands now is what a stale save is compared with.
        Err(trouble) => again(&ask, id, &key, Back::Step(filled, trouble)).await,
        fine => fine,
    }
}

/// Stands for a step that somebody took out while its form was open.
fn gone(key: &str) -> Result<Step, Trouble> {
    if word_from(key) == key { Ok(Step::bare(key.to_owned(), String::new())) } else { Err(Trouble::NotFound) }
}

async fn try_change(
    ask: &InClass,
    class: ClassId,
    id: ProcedureId,
    loaded: &Loaded,
    stands: &Step,
    filled: &Filled,
) -> Reply {
    let mut sheet = Sheet::new(filled);
    let topics = loaded.topic_keys(stands);
    let (step, on_the_way) = typed::read(&mut sheet, filled, &loaded.draft.procedure, stands, &topics);
    let mark = sheet.text("version", 64);
    sheet.done()?;
    let next = said(format!("{}#procedures-draft-{}", writing_path(class, id), step.key), "done-step-kept");
    ask.act(Scope::Class(class), filled, next, move |tx: &mut Tx<'_>| {
        tx.change_draft(class, id, None, "step", |procedure| {
            let Some(known) = procedure.find(&step.key) else {
                return put_back(procedure, &step, on_the_way, &mark);
            };
            if step_mark(known, procedure.is_on_the_way(&step.key)) != mark {
                return Err(Trouble::Stale(Remark::new("form-stale")));
            }
            let mut step = step.clone();
            // Pictures come and go by forms of their own.
            step.pictures.clone_from(&known.pictures);
            procedure.put(step, on_the_way);
            Ok(())
        })
    })
    .await
}

/// A step that was taken out meanwhile comes back as it was typed, once its writer has read that it was.
fn put_back(procedure: &mut Procedure, step: &Step, on_the_way: bool, mark: &str) -> Result<(), Trouble> {
    if mark != GONE {
        return Err(Trouble::Stale(Remark::new("procedures-step-gone")));
    }
    if procedure.all().count() >= MOST_STEPS {
        let most = i64::try_from(MOST_STEPS).unwrap_or(i64::MAX);
        return Err(Trouble::Refused(Remark::new("procedures-many-steps").with("most", most)));
    }
    procedure.put_back(step.clone(), on_the_way);
    Ok(())
}

/// Pictures have forms of their own, so they make no step stale.
fn step_mark(step: &Step, on_the_way: bool) -> String {
    let mut step = step.clone();
    step.pictures.clear();
    mark_of(&(step, on_the_way))
}

/// A length of time as it stands in a field; nothing for none.
pub(super) fn span_field(minutes: i64) -> String {
    if minutes == 0 { String::new() } else { spelled_minutes(minutes).replace('\u{a0}', " ") }
}

/// The form filled with what stands.
fn fresh(step: &Step, on_the_way: bool) -> Form {
    let said = &step.instructions;
    let minutes = spelled_minutes(step.minutes.fixed).replace('\u{a0}', " ");
    let form = Form::new(FORM)
        .with("title", &step.title)
        .with("before", said.before.join("\n"))
        .with("during", said.during.join("\n"))
        .with("afterwards", said.after.join("\n"))
        .with("source", &step.source)
        .with("recording_link", step.recording.as_ref().map_or("", |recording| &recording.link))
        .with(
            "recording_minute",
            step.recording.as_ref().map(|recording| recording.minute.to_string()).unwrap_or_default(),
        )
        .with("minutes", minutes)
        .with("per_sheet", span_field(step.minutes.per_sheet))
        .tick("may_split", step.may_split)
        .tick("beside_others", step.beside_others)
        .tick("on_the_way", on_the_way)
        .with("version", step_mark(step, on_the_way));
    let (place, station) = match &step.place {
        Place::Anywhere => (PlaceKind::Anywhere, ""),
        Place::Instructor => (PlaceKind::Instructor, ""),
        Place::Station(kind) => (PlaceKind::Station, kind.as_str()),
    };
    let form = form.with("place", place.word()).with("station", station);
    fresh_flags(fresh_rules(fresh_rest(form, step), step), step)
}

fn fresh_rest(form: Form, step: &Step) -> Form {
    let (kind, time, met) = match step.rest.maximum {
        None => ("", 0, false),
        Some(Maximum::Minutes(minutes)) => (MaximumKind::Minutes.word(), minutes, false),
        Some(Maximum::SameDay { met_by_talc_and_gum }) => {
            (MaximumKind::SameDay.word(), 0, met_by_talc_and_gum)
        }
        Some(Maximum::UnderGum) => (MaximumKind::UnderGum.word(), 0, false),
    };
    let form = form
        .with("rest_minimum", span_field(step.rest.minimum))
        .with("rest_advised", span_field(step.rest.advised))
        .with("maximum", kind)
        .with("maximum_time", span_field(time))
        .tick("met_by_talc_and_gum", met);
    let form = step.after.iter().fold(form, |form, key| form.ticked("after", key));
    step.rest.since.iter().fold(form, |form, word| form.ticked("rest_since", word))
}

fn fresh_rules(form: Form, step: &Step) -> Form {
    let form = step.hazards.iter().fold(form, |form, hazard| form.ticked("hazards", hazard.word()));
    let form = step
        .sign_offs
        .iter()
        .fold(form, |form, need| form.with(&format!("grade_{}", need.topic), need.grade.word()));
    step.needs.iter().enumerate().fold(form, |form, (row, need)| {
        let kind = match need {
            Need::AfterAnyOf { .. } => NeedKind::AfterAnyOf,
            Need::RequiresSince { .. } => NeedKind::RequiresSince,
            Need::Once { .. } => NeedKind::Once,
        };
        let form = form
            .with(&format!("need{row}_kind"), kind.word())
            .with(&format!("need{row}_because"), need.because());
        let form = need.of().iter().fold(form, |form, word| form.ticked(&format!("need{row}_of"), word));
        need.since().iter().fold(form, |form, word| form.ticked(&format!("need{row}_since"), word))
    })
}

fn fresh_flags(form: Form, step: &Step) -> Form {
    let form = form
        .with("records", step.records.word())
        .with("leaves", step.leaves.map_or("", |standing| standing.word()))
        .with("counts_as", step.counts_as.join(", "))
        .tick("closes", step.then_only.is_some())
        .tick("optional", step.optional)
        .tick("never_waits", step.never_waits)
        .tick("gums", step.gums)
        .tick("takes_gum_off", step.takes_gum_off)
        .tick("shows_etch", step.shows_etch)
        .tick("numbers_edition", step.numbers_edition);
    step.then_only.iter().flatten().fold(form, |form, key| form.ticked("then_only", key))
}

/// The words a rule or a rest may name, each once: steps, then the procedure's own words, then any gumming, then what
/// stands in the step already though nothing answers to it.
fn words(procedure: &Procedure, step: &Step, voice: &Voice<'_>) -> Vec<Choice> {
    let mut found: Vec<&str> = procedure.all().map(|step| step.key.as_str()).collect();
    found.extend(procedure.own_words());
    found.push(GUMMED);
    let named = step.needs.iter().flat_map(|need| need.of().iter().chain(need.since()));
    for word in named.chain(&step.rest.since) {
        if !found.contains(&word.as_str()) {
            found.push(word);
        }
    }
    found.into_iter().map(|word| Choice::new(word, voice.word(word))).collect()
}

fn topic_rows(loaded: &Loaded, step: &Step, form: &Form, speech: &Speech) -> Vec<TopicRow> {
    let title = |key: &str| {
        let known = loaded.topics.iter().find(|(known, _)| known == key);
        known.map_or_else(|| key.to_owned(), |(_, title)| title.clone())
    };
    let row = |key: String| {
        let name = format!("grade_{key}");
        let now = form.value(&name).unwrap_or_default();
        let option = |grade: &Grade| Marked {
            value: grade.word(),
            label: speech.plain(&format!("safety-grade-{}", grade.word())),
            here: grade.word() == now,
        };
        let options = Grade::ALL.iter().map(option).collect();
        TopicRow { id: format!("{FORM}-{name}"), title: title(&key), name, options }
    };
    loaded.topic_keys(step).into_iter().map(row).collect()
}

/// A row for each rule that stands or was typed, and an empty one.
fn rule_rows(step: &Step, form: &Form, voice: &Voice<'_>, again: bool) -> Vec<RuleRow> {
    let typed = (0..MOST_RULES)
        .filter(|row| form.value(&format!("need{row}_kind")).is_some_and(|kind| !kind.is_empty()));
    let rows = typed.max().map_or(0, |last| last + 1).max(step.needs.len());
    let row = |number: usize| RuleRow {
        number: number + 1,
        sentence: step.needs.get(number).map(|need| voice.rule(need).sentence),
        open: again && form.value(&format!("need{number}_kind")).is_some_and(|kind| !kind.is_empty()),
        kind: format!("need{number}_kind"),
        of: format!("need{number}_of"),
        since: format!("need{number}_since"),
        because: format!("need{number}_because"),
    };
    (0..(rows + 1).min(MOST_RULES)).map(row).collect()
}

fn page(ask: &InClass, id: ProcedureId, loaded: &Loaded, key: &str, back: Option<Back>) -> Reply {
    let taken_out = loaded.step(key).is_err() && matches!(back, Some(Back::Step(..)));
    let bare = if taken_out { gone(key)? } else { Step::bare(String::new(), String::new()) };
    let (step, on_the_way) = if taken_out { (&bare, true) } else { loaded.step(key)? };
    let speech = &ask.house.speech;
    let (mut form, mut picture) = (fresh(step, on_the_way), Form::new(PICTURE).with("shows", "right"));
    let again = back.is_some();
    match back {
        None => {}
        Some(Back::Step(filled, trouble)) if taken_out => {
            let told = matches!(trouble, Trouble::Stale(_)) || filled.get("version") == Some(GONE);
            form = Form::after(FORM, &filled, trouble, speech)?;
            form = if told { form.with("version", GONE) } else { form };
        }
        Some(Back::Step(filled, trouble)) => form = Form::after_save(&filled, trouble, &form, speech)?,
        Some(Back::Picture(filled, trouble)) => {
            picture = Form::after(PICTURE, &filled, trouble, speech)?;
        }
    }
    let form = form.naming(|field| {
        let (row, what) = field.strip_prefix("need")?.split_once('_')?;
        let number = row.parse::<i64>().ok()?.saturating_add(1);
        let label = speech.plain(&format!("{FORM}-need-{what}"));
        Some(speech.remark(&Remark::new("procedures-rule-field").with("number", number).with("label", label)))
    });
    let title = if taken_out { form.value("title").unwrap_or(key).to_owned() } else { step.title.clone() };
    let mut view = view(ask, id, loaded, step, (form, picture, again));
    view.title.clone_from(&title);
    view.taken_out = taken_out;
    if again {
        ask.show_again("procedures/step", &title, &view)
    } else {
        ask.show("procedures/step", &title, &view)
    }
}

fn view(
    ask: &InClass,
    id: ProcedureId,
    loaded: &Loaded,
    step: &Step,
    (form, picture, again): (Form, Form, bool),
) -> View {
    let (speech, procedure) = (&ask.house.speech, &loaded.draft.procedure);
    let pictures = format!("{}/pictures", reading_path(ask.class(), id));
    let base = writing_path(ask.class(), id);
    let step_path = format!("{base}/steps/{}", step.key);
    let topics = loaded.topics.as_slice();
    let voice = Voice { speech, procedure, topics, pictures: &pictures, writing: Some(&step_path) };
    let choice = |other: &Step| Choice::new(other.key.as_str(), other.title.as_str());
    View {
        base,
        key: step.key.clone(),
        title: step.title.clone(),
        taken_out: false,
        procedure: procedure.name.clone(),
        stations: loaded.stations.clone(),
        places: Choice::of_words::<PlaceKind>("procedures-place", speech),
        hazards: Choice::of_words::<Hazard>("procedures-hazard", speech),
        steps_before: procedure.steps.iter().filter(|other| other.key != step.key).map(choice).collect(),
        words: words(procedure, step, &voice),
        all_steps: procedure.all().map(choice).collect(),
        records: Choice::of_words::<Records>("procedures-records", speech),
        standings: Choice::of_words::<Standing>("plates-standing", speech),
        maximums: Choice::of_words::<MaximumKind>("procedures-maximum", speech),
        rule_kinds: Choice::of_words::<NeedKind>("procedures-rule", speech),
        topics: topic_rows(loaded, step, &form, speech),
        rules: rule_rows(step, &form, &voice, again),
        cautions: step.hazards.iter().map(|hazard| speech.remark(&hazard.caution())).collect(),
        pictures: voice.pictures(step),
        shows: Choice::of_words::<Shows>("procedures-shows", speech),
        form,
        picture,
        step_path,
    }
}
