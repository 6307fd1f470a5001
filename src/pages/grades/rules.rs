//! The categories and the grading rules of a class: two forms on one page, under one version.

use serde::Serialize;
use serde_json::{Value, json};

use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::pages::grades::{hundredths, say};
use crate::speech::Speech;
use crate::store::grades::assessments::{self, Assessment};
use crate::store::grades::categories::{self, Category, CategoryDraft};
use crate::store::grades::rules::{self, Rules};
use crate::store::{Scope, Word};
use crate::trade::exact::Ties;
use crate::trade::grading::Of;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const CATEGORIES: &str = "grades-categories";
const SCHEME: &str = "grades-scheme";
/// Rows a form of categories can have.
const MOST_ROWS: usize = 40;

#[derive(Serialize)]
struct View {
    class_path: String,
    /// The form that came back, for the summary above both.
    form: Form,
    categories: Form,
    scheme: Form,
    rows: Vec<Row>,
    /// Categories of which as many may be dropped as there are assessments in them.
    drops_all: Vec<String>,
    usual: bool,
    stands: Vec<String>,
    ofs: Vec<Value>,
    ties: Vec<Value>,
}

/// Names of the fields of one category.
#[derive(Serialize)]
struct Row {
    number: usize,
    id: String,
    title: String,
    weight: String,
    drop: String,
}

/// Both forms as things stand.
pub async fn page(ask: InClass) -> Reply {
    let standing = load(&ask).await?;
    let view = view(&ask, &standing, None, false);
    ask.show("grades/rules", "grades-rules", &view)
}

/// What is kept by now.
struct Standing {
    rules: Rules,
    categories: Vec<Category>,
    assessments: Vec<Assessment>,
}

async fn load(ask: &InClass) -> Result<Standing, Trouble> {
    let class = ask.class();
    ask.house
        .db
        .read(move |db| {
            Ok(Standing {
                rules: rules::rules(db, class)?,
                categories: categories::categories(db, class)?,
                assessments: assessments::assessments(db, class)?,
            })
        })
        .await
}

/// One of a category always stays, so a number to drop that is not below that of its assessments is worth a sentence.
fn drops_all(speech: &Speech, kept: &Standing) -> Vec<String> {
    let of = |one: &Category| {
        let own = |of: &&Assessment| of.category == one.id && !of.extra_credit;
        i64::try_from(kept.assessments.iter().filter(own).count()).unwrap_or(i64::MAX)
    };
    let told = kept.categories.iter().filter(|one| one.drop_lowest > 0 && of(one) > 0);
    told.filter(|one| i64::from(one.drop_lowest) >= of(one))
        .map(|one| {
            let remark = Remark::new("grades-category-drops-all").with("title", one.title.as_str());
            speech.remark(&remark.with("drop", i64::from(one.drop_lowest)).with("count", of(one)))
        })
        .collect()
}

fn view(ask: &InClass, kept: &Standing, back: Option<Form>, stale: bool) -> View {
    let (speech, rules, standing) = (&ask.house.speech, &kept.rules, kept.categories.as_slice());
    let (mut categories, mut scheme) = (categories_form(rules, standing), scheme_form(rules));
    let mut rows = standing.len() + 2;
    let form = match back {
        Some(form) if form.name == CATEGORIES => {
            rows = rows.max(form.count_rows("title-"));
            categories = form.clone();
            form
        }
        Some(form) => {
            scheme = form.clone();
            form
        }
        None => Form::new(CATEGORIES),
    };
    let option = |value: &str, key: &str| json!({ "value": value, "label": speech.plain(key) });
    View {
        class_path: format!("/classes/{}", ask.class()),
        form,
        categories,
        scheme,
        rows: (0..rows.max(4)).map(field_names).collect(),
        drops_all: drops_all(speech, kept),
        usual: rules.version == 0,
        stands: if stale { stands(speech, rules, standing) } else { Vec::new() },
        ofs: Of::ALL.iter().map(|of| option(of.word(), of_key(*of))).collect(),
        ties: Ties::ALL
            .iter()
            .map(|ties| {
                option(
                    ties.word(),
                    match ties {
                        Ties::HalfUp => "grades-ties-half-up",
                        Ties::HalfEven => "grades-ties-half-even",
                        Ties::Truncate => "grades-ties-truncate",
                    },
                )
            })
            .collect(),
    }
}

fn of_key(of: Of) -> &'static str {
    match of {
        Of::Possible => "grades-of-possible",
        Of::Earned => "grades-of-earned",
    }
}

fn field_names(place: usize) -> Row {
    Row {
        number: place + 1,
        id: format!("id-{place}"),
        title: format!("title-{place}"),
        weight: format!("weight-{place}"),
        drop: format!("drop-{place}"),
    }
}

fn categories_form(rules: &Rules, standing: &[Category]) -> Form {
    let form = Form::new(CATEGORIES).with("version", rules.version.to_string());
    standing.iter().enumerate().fold(form, |form, (place, one)| {
        let names = field_names(place);
        form.with(&names.id, one.id.to_string())
            .with(&names.title, one.title.as_str())
            .with(&names.weight, decimal_text(one.weight_bp.into(), 2))
            .with(&names.drop, one.drop_lowest.to_string())
    })
}

fn scheme_form(rules: &Rules) -> Form {
    Form::new(SCHEME)
        .with("late", decimal_text(rules.late_bp.into(), 2))
        .with("late_of", rules.late_of.0.word())
        .with_maybe("max_days", rules.late_max_days.map(|days| days.to_string()))
        .with("grace", rules.grace_minutes.to_string())
        .tick("missing", rules.missing_counts_zero)
        .with("places", rules.rounding_places.to_string())
        .with("ties", rules.ties.0.word())
        .with("scale", rules.scale.as_str())
        .with("version", rules.version.to_string())
}

/// What somebody else stored, for whoever came second.
fn stands(speech: &Speech, rules: &Rules, standing: &[Category]) -> Vec<String> {
    let most = rules.late_max_days.map_or_else(|| speech.plain("grades-no-limit"), |days| days.to_string());
    let categories = standing.iter().map(|one| {
        Remark::new("grades-stands-category")
            .with("title", one.title.as_str())
            .with("weight", hundredths(one.weight_bp.into()))
            .with("drop", i64::from(one.drop_lowest))
    });
    let scheme = Remark::new("grades-stands-rules")
        .with("late", hundredths(rules.late_bp.into()))
        .with("of", speech.plain(of_key(rules.late_of.0)))
        .with("most", most)
        .with("grace", i64::from(rules.grace_minutes))
        .with("places", i64::from(rules.rounding_places));
    let letters = rules.scale.lines().collect::<Vec<_>>().join(", ");
    categories.chain([scheme]).map(|remark| speech.remark(&remark)).chain([letters]).collect()
}

/// Keeps all categories.
pub async fn keep_categories(ask: InClass, filled: Filled) -> Reply {
    let class = ask.class();
    let outcome = async {
        let (seen, drafts) = read_categories(&filled)?;
        let key = filled.once_key()?;
        ask.house
            .db
            .write(Scope::Class(class), Some(ask.person.id), ask.now(), move |tx| {
                tx.once(&key, |tx| {
                    tx.keep_categories(class, seen, &drafts)?;
                    Ok(format!("/classes/{class}/grades/rules?done=done-categories"))
                })
            })
            .await
    };
    match outcome.await {
        Ok(location) => Ok(see_other(location)),
        Err(trouble) => again(&ask, CATEGORIES, &filled, trouble).await,
    }
}

/// Keeps the rules.
pub async fn keep_rules(ask: InClass, filled: Filled) -> Reply {
    let class = ask.class();
    let outcome = async {
        let rules = read_rules(&filled)?;
        let key = filled.once_key()?;
        ask.house
            .db
            .write(Scope::Class(class), Some(ask.person.id), ask.now(), move |tx| {
                tx.once(&key, |tx| {
                    tx.keep_rules(class, &rules)?;
                    Ok(format!("/classes/{class}/grades/rules?done=done-rules"))
                })
            })
            .await
    };
    match outcome.await {
        Ok(location) => Ok(see_other(location)),
        Err(trouble) => again(&ask, SCHEME, &filled, trouble).await,
    }
}

async fn again(ask: &InClass, name: &'static str, filled: &Filled, trouble: Trouble) -> Reply {
    let stale = matches!(trouble, Trouble::Stale(_));
    let standing = load(ask).await?;
    let speech = &ask.house.speech;
    let mut form = Form::after(name, filled, trouble, speech)?.naming(|field| {
        let (part, place) = field.rsplit_once('-')?;
        let number = place.parse::<i64>().ok()? + 1;
        let key = match part {
            "title" => "grades-category-row-title",
            "weight" => "grades-category-row-weight",
            "drop" => "grades-category-row-drop",
            _ => return None,
        };
        Some(say(speech, key, "number", number))
    });
    if stale {
        form = form.with("version", standing.rules.version.to_string());
    }
    let view = view(ask, &standing, Some(form), stale);
    ask.show_again("grades/rules", "grades-rules", &view)
}

fn read_categories(filled: &Filled) -> Result<(i64, Vec<CategoryDraft>), Trouble> {
    let mut sheet = Sheet::new(filled);
    let seen = sheet.whole("version", 0..=i64::MAX);
    let mut drafts: Vec<CategoryDraft> = Vec::new();
    for place in 0..MOST_ROWS {
        let names = field_names(place);
        let typed = |field: &str| filled.get(field).unwrap_or_default().trim();
        let empty_drop = matches!(typed(&names.drop), "" | "0");
        if typed(&names.title).is_empty() && typed(&names.weight).is_empty() && empty_drop {
            continue;
        }
        let title = sheet.maybe_text(&names.title, 80).unwrap_or_default();
        if title.is_empty() {
            sheet.complain(&names.title, Remark::new("grades-category-untitled"));
        } else if drafts.iter().any(|draft| draft.title == title) {
            sheet.complain(&names.title, Remark::new("grades-category-twice").with("title", title.as_str()));
        }
        drafts.push(CategoryDraft {
            id: sheet.maybe_id(&names.id),
            title,
            weight_bp: i32::try_from(sheet.decimal(&names.weight, 2, 0..=10_000)).unwrap_or(0),
            drop_lowest: i32::try_from(sheet.maybe_whole(&names.drop, 0..=50).unwrap_or(0)).unwrap_or(0),
        });
    }
    if drafts.is_empty() {
        sheet.complain("", Remark::new("grades-categories-none"));
    }
    sheet.done()?;
    Ok((seen, drafts))
}

fn read_rules(filled: &Filled) -> Result<Rules, Trouble> {
    let mut sheet = Sheet::new(filled);
    let small = |number: i64| i32::try_from(number).unwrap_or(0);
    let rules = Rules {
        late_bp: small(sheet.decimal("late", 2, 0..=10_000)),
        late_of: Word(sheet.choice("late_of", Of::Possible)),
        late_max_days: sheet.maybe_whole("max_days", 0..=365).map(small),
        grace_minutes: small(sheet.whole("grace", 0..=10_080)),
        missing_counts_zero: sheet.tick("missing"),
        rounding_places: small(sheet.whole("places", 0..=4)),
        ties: Word(sheet.choice("ties", Ties::HalfUp)),
        scale: sheet.words("scale", 2000),
        version: sheet.whole("version", 0..=i64::MAX),
    };
    sheet.done()?;
    Ok(rules)
}
