//! By which criteria an assessment is marked, and for how many points, typed as points or as percent of the whole.

use actix_web::web;
use serde_json::{Value, json};

use crate::ids::{AssessmentId, ClassId, CriterionId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::pages::grades::assessment::{self, MOST_POINTS};
use crate::pages::grades::{hundredths, say};
use crate::spelled;
use crate::store::Scope;
use crate::store::grades::assessments::Assessment;
use crate::store::grades::criteria::{self, Criterion, Weighed};
use crate::trade::criteria::points;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const FORM: &str = "grades-weighed";

spelled!(
    /// How the numbers of the form are meant.
    Typed {
        Points = "points",
        /// Percent of the assessment's points.
        Weights = "weights",
    }
);

struct Loaded {
    one: Assessment,
    all: Vec<Criterion>,
    uses: Vec<Weighed>,
}

async fn load(ask: &InClass, id: AssessmentId) -> Result<Loaded, Trouble> {
    let class = ask.class();
    let one = assessment::find(ask, id).await?;
    let (all, uses) = ask
        .house
        .db
        .read(move |db| Ok((criteria::criteria(db, class)?, criteria::weighed(db, class, id)?)))
        .await?;
    Ok(Loaded { one, all, uses })
}

fn fresh(loaded: &Loaded) -> Form {
    let form = Form::new(FORM).with("version", loaded.one.version.to_string()).with("typed", "points");
    loaded.uses.iter().fold(form, |form, used| {
        form.with(&format!("points-{}", used.criterion.id), decimal_text(used.points_hundredths, 2))
    })
}

/// The form as things stand.
pub async fn page(ask: InClass, path: web::Path<(ClassId, AssessmentId)>) -> Reply {
    let loaded = load(&ask, path.into_inner().1).await?;
    let form = fresh(&loaded);
    show(&ask, &loaded, form, false)
}

/// Keeps it.
pub async fn keep(ask: InClass, path: web::Path<(ClassId, AssessmentId)>, filled: Filled) -> Reply {
    let (class, id) = path.into_inner();
    let loaded = load(&ask, id).await?;
    let outcome = async {
        let (seen, uses) = read(&filled, &loaded)?;
        let next = said(format!("/classes/{class}/assessments/{id}"), "done-weighed");
        ask.act(Scope::Class(class), &filled, next, move |tx| tx.keep_weighed(class, id, seen, &uses)).await
    };
    match outcome.await {
        Err(trouble) => {
            let form = Form::after_save(&filled, trouble, &fresh(&loaded), &ask.house.speech)?;
            let named = |field: &str| {
                let id = field.strip_prefix("points-")?;
                loaded.all.iter().find(|one| one.id.to_string() == id).map(|one| one.title.clone())
            };
            show(&ask, &loaded, form.naming(named), true)
        }
        fine => fine,
    }
}

fn read(filled: &Filled, loaded: &Loaded) -> Result<(i64, Vec<(CriterionId, i64)>), Trouble> {
    let mut sheet = Sheet::new(filled);
    let seen = sheet.whole("version", 1..=i64::MAX);
    let typed = sheet.choice("typed", Typed::Points);
    let mut uses = Vec::new();
    for one in &loaded.all {
        let field = format!("points-{}", one.id);
        let most = if typed == Typed::Points { MOST_POINTS } else { 10_000 };
        let Some(number) = sheet.maybe_decimal(&field, 2, 0..=most).filter(|number| *number > 0) else {
            continue;
        };
        let whole = loaded.one.points_hundredths;
        let found = match typed {
            Typed::Points => Some(number),
            Typed::Weights => i32::try_from(number).ok().and_then(|bp| points(whole, bp)),
        };
        match found {
            Some(points) => uses.push((one.id, points)),
            None => {
                let remark = Remark::new("criteria-weight-uneven")
                    .with("weight", decimal_text(number, 2))
                    .with("points", hundredths(whole));
                sheet.complain(&field, remark);
            }
        }
    }
    sheet.done()?;
    Ok((seen, uses))
}

fn show(ask: &InClass, loaded: &Loaded, form: Form, again: bool) -> Reply {
    let speech = &ask.house.speech;
    let rows: Vec<Value> = loaded
        .all
        .iter()
        .map(|one| json!({ "title": one.title, "about": one.about, "field": format!("points-{}", one.id) }))
        .collect();
    let view = json!({
        "class_path": format!("/classes/{}", ask.class()), "id": loaded.one.id, "rows": rows, "form": form,
        "about": say(speech, "grades-weighed-about", "points", hundredths(loaded.one.points_hundredths)),
        "kinds": Choice::of_words::<Typed>("grades-weighed-typed", speech),
    });
    let title = say(speech, "grades-weighed-title", "title", loaded.one.title.as_str());
    if again {
        ask.show_again("grades/weighed", &title, &view)
    } else {
        ask.show("grades/weighed", &title, &view)
    }
}
