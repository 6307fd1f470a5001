//! Calibrating the dropper of a bottle: drops of the acid itself are counted and weighed, and the page shows how drops per
//! mL come out of that.

use actix_web::web;
use serde::Serialize;

use crate::ids::ContainerId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::pages::mixing::{self, Cautions, figure};
use crate::speech::Speech;
use crate::store::studio::weighings::{self, Weighing, WeighingDraft};
use crate::store::studio::{Container, container};
use crate::store::{Scope, Tx};
use crate::trade::measure::acid::Acid;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const FORM: &str = "mixing-dropper";

#[derive(Serialize)]
struct View {
    form: Form,
    base: String,
    back: String,
    mark: String,
    now: String,
    density: Option<String>,
    weighings: Vec<Line>,
    cautions: Cautions,
}

#[derive(Serialize)]
struct Line {
    at: String,
    who: String,
    arithmetic: String,
    per_ml: String,
}

async fn held(ask: &InClass, id: ContainerId) -> Result<(Container, Vec<Weighing>), Trouble> {
    let studio = ask.membership.studio;
    let found =
        ask.house.db.read(move |db| Ok((container(db, studio, id)?, weighings::weighings(db, id)?))).await?;
    if found.0.substance.0.is_acid() { Ok(found) } else { Err(Trouble::NotFound) }
}

fn fresh(held: &Container) -> Form {
    Form::new(FORM).with("version", held.version.to_string())
}

/// The form, with what was weighed before.
pub async fn page(ask: InClass, place: web::Path<(String, ContainerId)>) -> Reply {
    let (held, before) = held(&ask, place.into_inner().1).await?;
    show(&ask, &held, before, fresh(&held), false).await
}

async fn show(ask: &InClass, held: &Container, before: Vec<Weighing>, form: Form, again: bool) -> Reply {
    let speech = &ask.house.speech;
    let acid = held.acid().ok().flatten();
    let zone = ask.membership.zone;
    let shelf = format!("/classes/{}/containers", ask.class());
    let view = View {
        form,
        base: format!("{shelf}/{}/dropper", held.id),
        back: format!("{shelf}/{}", held.id),
        mark: held.mark(),
        now: now(held, speech),
        density: acid.map(|acid| figure(&acid.grams_per_ml(), 4)),
        weighings: before
            .iter()
            .map(|one| Line {
                at: dates::day_with_year(one.at.local_date(zone)),
                who: format!("{} {}", one.given_name, one.family_name),
                arithmetic: arithmetic(held, one, speech),
                per_ml: per_ml(one.drops_per_ml_hundredths, one.drops_spread_hundredths, speech),
            })
            .collect(),
        cautions: mixing::cautions(ask, vec![held.clone()], Vec::new()).await?,
    };
    if again {
        ask.show_again("mixing/dropper", "mixing-dropper", &view)
    } else {
        ask.show("mixing/dropper", "mixing-dropper", &view)
    }
}

fn now(held: &Container, speech: &Speech) -> String {
    match (held.told.drops_per_ml_hundredths, held.told.drops_spread_hundredths) {
        (Some(drops), Some(spread)) => per_ml(drops, spread, speech),
        (Some(drops), None) => {
            speech.remark(&Remark::new("studio-drops").with("value", decimal_text(drops.into(), 2)))
        }
        _ => speech.plain("mixing-dropper-not"),
    }
}

fn per_ml(drops: i32, spread: i32, speech: &Speech) -> String {
    let remark = Remark::new("studio-drops-spread")
        .with("value", decimal_text(drops.into(), 2))
        .with("spread", decimal_text(spread.into(), 2));
    speech.remark(&remark)
}

/// “30 drops × 1.689 g/mL ÷ 1.689 g = 30 drops per mL”, with the density of the acid as it was told then.
fn arithmetic(held: &Container, one: &Weighing, speech: &Speech) -> String {
    let kind = held.acid().ok().flatten().map(|acid| acid.kind());
    let acid = kind.and_then(|kind| Acid::basis_points("weight", kind, one.weight_bp).ok());
    let remark = Remark::new("mixing-dropper-arithmetic")
        .with("drops", i64::from(one.drops))
        .with("density", acid.map(|acid| figure(&acid.grams_per_ml(), 4)).unwrap_or_default())
        .with("grams", decimal_text(one.milligrams, 3))
        .with("value", decimal_text(one.drops_per_ml_hundredths.into(), 2));
    speech.remark(&remark)
}

fn read(filled: &Filled) -> Result<(WeighingDraft, i64), Trouble> {
    let mut sheet = Sheet::new(filled);
    let drops = i32::try_from(sheet.whole("drops", 1..=1000)).unwrap_or(0);
    let milligrams = sheet.decimal("grams", 3, 1..=500_000);
    let spread = sheet.maybe_decimal("spread", 2, 0..=100_000);
    let version = sheet.whole("version", 1..=i64::MAX);
    sheet.done()?;
    let spread_hundredths = spread.and_then(|spread| i32::try_from(spread).ok());
    Ok((WeighingDraft { drops, milligrams, spread_hundredths }, version))
}

/// Records a weighing; the bottle stands with it from now on.
pub async fn weigh(ask: InClass, place: web::Path<(String, ContainerId)>, filled: Filled) -> Reply {
    let (studio, id) = (ask.membership.studio, place.into_inner().1);
    let tried = match read(&filled) {
        Ok((draft, version)) => {
            let next = format!("/classes/{}/containers/{id}/dropper", ask.class());
            let act = move |tx: &mut Tx<'_>| tx.weigh_drops(studio, id, version, &draft);
            ask.act(Scope::School, &filled, said(next, "done-dropper-weighed"), act).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => {
            let (held, before) = held(&ask, id).await?;
            let form = Form::after_save(&filled, trouble, &fresh(&held), &ask.house.speech)?;
            show(&ask, &held, before, form, true).await
        }
        fine => fine,
    }
}
