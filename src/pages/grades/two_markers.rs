//! Two markers on a share of an assessment: drawing it, marking blind, and what they agree on once both are done.

use actix_web::web;
use serde_json::{Value, json};

use crate::ids::{AssessmentId, ClassId, PersonId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::pages::grades::{beside, hundredths, open, print, say};
use crate::store::Scope;
use crate::store::grades::assessments::Assessment;
use crate::store::grades::book::Book;
use crate::store::grades::criteria::{self, Weighed};
use crate::store::grades::scores::Which;
use crate::store::grades::second_marking::{self, Ask, Twice};
use crate::store::people::members::{self, Member};
use crate::store::people::sessions::Role;
use crate::trade::agreement::{Coefficient, Level, Table, Weights, kappa, krippendorff};
use crate::trade::exact::{Exact, Rounding};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const FORM: &str = "two-draw";
const BLIND: &str = "grades-print";
/// Below so many pairs a coefficient says little: common practice, no published source.
const FEW: usize = 30;

struct Loaded {
    one: Assessment,
    book: Book,
    weighed: Vec<Weighed>,
    twice: Option<Twice>,
    staff: Vec<Member>,
}

impl Loaded {
    fn name(&self, person: PersonId) -> String {
        let all = self.book.students.iter().chain(&self.staff);
        let member = all.into_iter().find(|member| member.person == person);
        member.map(|one| format!("{} {}", one.given_name, one.family_name)).unwrap_or_default()
    }
}

async fn load(ask: &InClass, id: AssessmentId) -> Result<Loaded, Trouble> {
    let class = ask.class();
    let book = open(ask, Which::InHand, None).await?;
    let one = book.assessments.iter().find(|one| one.id == id).cloned().ok_or(Trouble::NotFound)?;
    let (weighed, twice, mut staff) = ask
        .house
        .db
        .read(move |db| {
            Ok((
                criteria::weighed(db, class, id)?,
                second_marking::twice(db, class, id)?,
                members::members(db, class)?,
            ))
        })
        .await?;
    staff.retain(|member| member.role.0 == Role::Instructor);
    Ok(Loaded { one, book, weighed, twice, staff })
}

fn base(ask: &InClass, id: AssessmentId) -> String {
    format!("/classes/{}/assessments/{id}/two-markers", ask.class())
}

/// The draw, what is still to be marked, or what they agree on.
pub async fn page(ask: InClass, path: web::Path<(ClassId, AssessmentId)>) -> Reply {
    let loaded = load(&ask, path.into_inner().1).await?;
    let form = Form::new(FORM).with("share", "25").with("seed", "1").with("first", ask.person.id.to_string());
    show(&ask, &loaded, form, false)
}

fn show(ask: &InClass, loaded: &Loaded, form: Form, again: bool) -> Reply {
    let speech = &ask.house.speech;
    let staff: Vec<Choice> =
        loaded.staff.iter().map(|one| Choice::new(one.person.to_string(), loaded.name(one.person))).collect();
    let drawn = loaded.twice.as_ref().map(|twice| drawn(ask, loaded, twice));
    let view = json!({
        "class_path": format!("/classes/{}", ask.class()), "id": loaded.one.id, "path": base(ask, loaded.one.id),
        "form": form, "staff": staff, "two": loaded.staff.len() > 1, "drawn": drawn,
    });
    let title = say(speech, "two-title", "title", loaded.one.title.as_str());
    if again {
        ask.show_again("grades/two-markers", &title, &view)
    } else {
        ask.show("grades/two-markers", &title, &view)
    }
}

fn drawn(ask: &InClass, loaded: &Loaded, twice: &Twice) -> Value {
    let speech = &ask.house.speech;
    let (first, second) = (twice.marking.first, twice.marking.second);
    let about = Remark::new("two-drawn-about")
        .with("count", count(twice.chosen.len()))
        .with("share", i64::from(twice.marking.share_percent))
        .with("seed", twice.marking.seed.to_string())
        .with("first", loaded.name(first))
        .with("second", loaded.name(second));
    let mut value = json!({ "about": speech.remark(&about), "done": twice.done() });
    let fields = if twice.done() {
        json!({ "agreement": agreement(ask, loaded, twice), "rows": differences(loaded, twice) })
    } else {
        let me = ask.person.id;
        let rows: Vec<Value> = twice
            .chosen
            .iter()
            .filter(|_| [first, second].contains(&me))
            .map(|person| {
                json!({
                    "name": loaded.name(*person), "marked": twice.mark(*person, me).is_some(),
                    "path": format!("{}/{person}", base(ask, loaded.one.id)),
                })
            })
            .collect();
        json!({ "mine": rows })
    };
    if let (Some(value), Value::Object(fields)) = (value.as_object_mut(), fields) {
        value.extend(fields);
    }
    value
}

fn count(number: usize) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX)
}

/// The work both marked, what they differ on most first.
fn differences(loaded: &Loaded, twice: &Twice) -> Vec<Value> {
    let (first, second) = (twice.marking.first, twice.marking.second);
    let mut rows: Vec<(i64, Value)> = twice
        .chosen
        .iter()
        .filter_map(|person| {
            let (one, two) = (twice.mark(*person, first)?, twice.mark(*person, second)?);
            let apart = (one.points_hundredths - two.points_hundredths).abs();
            let row = json!({
                "name": loaded.name(*person), "first": hundredths(one.points_hundredths),
                "second": hundredths(two.points_hundredths), "apart": hundredths(apart), "person": person,
                "first_words": one.words, "second_words": two.words,
            });
            Some((apart, row))
        })
        .collect();
    rows.sort_by_key(|(apart, _)| std::cmp::Reverse(*apart));
    rows.into_iter().map(|(_, row)| row).collect()
}

/// Kappa with quadratic weights over all levels, and alpha over levels and over points, with what to make of few pairs.
fn agreement(ask: &InClass, loaded: &Loaded, twice: &Twice) -> Vec<String> {
    let speech = &ask.house.speech;
    let (first, second) = (twice.marking.first, twice.marking.second);
    let mut pairs: Vec<(usize, usize)> = Vec::new();
    let mut points: [Vec<Option<Exact>>; 2] = [Vec::new(), Vec::new()];
    for person in &twice.chosen {
        let Some((one, two)) = twice.mark(*person, first).zip(twice.mark(*person, second)) else { continue };
        points[0].push(Some(Exact::hundredths(one.points_hundredths)));
        points[1].push(Some(Exact::hundredths(two.points_hundredths)));
        for (criterion, level) in &one.levels {
            let other = two.levels.iter().find(|(id, _)| id == criterion).map(|(_, level)| *level);
            let place = |level: i32| usize::try_from(level).ok()?.checked_sub(1);
            if let Some(pair) = place(*level).zip(other.and_then(place)) {
                pairs.push(pair);
            }
        }
    }
    let mut lines = Vec::new();
    let value = |found: Result<Coefficient, Remark>| match found {
        Ok(found) => {
            found.value.map_or_else(|| speech.plain("two-no-value"), |value| value.text(Rounding::half_up(3)))
        }
        Err(why) => speech.remark(&why),
    };
    let levels = loaded.weighed.iter().map(|one| one.criterion.levels.len()).max().unwrap_or(0);
    if !pairs.is_empty() {
        let table = Table::of_pairs(&pairs, levels);
        let weighted = table.and_then(|table| kappa(&table, &Weights::Quadratic));
        lines.push(say(speech, "two-kappa", "value", value(weighted)));
        let as_exact = |place: usize| Some(Exact::whole(count(place)));
        let ranks = [
            pairs.iter().map(|pair| as_exact(pair.0)).collect::<Vec<_>>(),
            pairs.iter().map(|pair| as_exact(pair.1)).collect(),
        ];
        lines.push(say(speech, "two-alpha-levels", "value", value(krippendorff(&ranks, Level::Ordinal))));
    }
    lines.push(say(speech, "two-alpha-points", "value", value(krippendorff(&points, Level::Interval))));
    let compared = if pairs.is_empty() { points[0].len() } else { pairs.len() };
    if compared < FEW {
        lines.push(say(speech, "two-few", "count", count(compared)));
    }
    lines
}

/// Draws the share.
pub async fn draw(ask: InClass, path: web::Path<(ClassId, AssessmentId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let outcome = async {
        let mut sheet = Sheet::new(&filled);
        let wanted = Ask {
            share_percent: i32::try_from(sheet.whole("share", 1..=100)).unwrap_or(100),
            seed: sheet.whole("seed", 0..=1_000_000_000),
            first: sheet.id("first"),
            second: sheet.id("second"),
        };
        sheet.done()?;
        let next = said(base(&ask, id), "done-two-drawn");
        ask.act(Scope::Class(class), &filled, next, move |tx| tx.draw_for_two(class, id, &wanted)).await
    };
    match outcome.await {
        Err(trouble @ Trouble::Complaints(_)) => {
            let loaded = load(&ask, id).await?;
            let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?;
            show(&ask, &loaded, form, true)
        }
        other => other,
    }
}

/// One print to be marked blind: the marker's own mark at the most.
pub async fn blind(ask: InClass, path: web::Path<(ClassId, AssessmentId, PersonId)>) -> Reply {
    let (_, id, person) = path.into_inner();
    let loaded = load(&ask, id).await?;
    let twice = mine(&ask, &loaded, person)?;
    let own = twice.mark(person, ask.person.id);
    let form = Form::new(BLIND)
        .with("words", own.map(|own| own.words.as_str()).unwrap_or_default())
        .with_maybe("own_points", own.map(|own| decimal_text(own.points_hundredths, 2)));
    let form = own
        .into_iter()
        .flat_map(|own| &own.levels)
        .fold(form, |form, (criterion, level)| form.with(&format!("level-{criterion}"), level.to_string()));
    show_blind(&ask, &loaded, person, form, false).await
}

/// The draw, for one of its two markers and work that was drawn.
fn mine<'a>(ask: &InClass, loaded: &'a Loaded, person: PersonId) -> Result<&'a Twice, Trouble> {
    loaded
        .twice
        .as_ref()
        .filter(|twice| [twice.marking.first, twice.marking.second].contains(&ask.person.id))
        .filter(|twice| twice.chosen.contains(&person))
        .ok_or(Trouble::NotFound)
}

async fn show_blind(ask: &InClass, loaded: &Loaded, person: PersonId, form: Form, again: bool) -> Reply {
    let beside = beside::read(ask, &loaded.book, &loaded.one, person).await?;
    let view = json!({
        "wide": true, "base": base(ask, loaded.one.id), "path": format!("{}/{person}", base(ask, loaded.one.id)),
        "form": form, "beside": beside,
        "criteria": loaded.weighed.iter().map(|one| print::criterion(ask, one)).collect::<Vec<_>>(),
    });
    let name = loaded.name(person);
    if again { ask.show_again("grades/blind", &name, &view) } else { ask.show("grades/blind", &name, &view) }
}

/// Keeps it.
pub async fn mark_blind(
    ask: InClass,
    path: web::Path<(ClassId, AssessmentId, PersonId)>,
    filled: Filled,
) -> Reply {
    let (class, id, person) = path.into_inner();
    let loaded = load(&ask, id).await?;
    mine(&ask, &loaded, person)?;
    let outcome = async {
        let (said_of_it, _) = print::read(&filled, person)?;
        let next = said(base(&ask, id), "done-blind");
        let act = move |tx: &mut crate::store::Tx<'_>| tx.mark_blind(class, id, &said_of_it);
        ask.act(Scope::Class(class), &filled, next, act).await
    };
    match outcome.await {
        Err(trouble @ (Trouble::Complaints(_) | Trouble::Refused(_))) => {
            let named = |field: &str| print::criterion_title(&loaded.weighed, field);
            let form = Form::after(BLIND, &filled, trouble, &ask.house.speech)?.naming(named);
            show_blind(&ask, &loaded, person, form, true).await
        }
        other => other,
    }
}
