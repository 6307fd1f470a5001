//! The settings of a class for its instructor: everything at a glance, and its own rules.

use serde::Serialize;

use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::classes::listings::{ListingView, listing_view};
use crate::pages::classes::meetings::{MeetingView, meeting_view};
use crate::pages::classes::projects::{ProjectView, project_views};
use crate::pages::classes::settings_path;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::store::Scope;
use crate::store::classes::facts::{self, Class, Rules};
use crate::store::classes::{dues, listings, meetings, projects};
use crate::store::studio::open_hours;
use crate::trouble::Trouble;

const FORM: &str = "classes-rules";

#[derive(Serialize)]
struct View {
    base: String,
    code: String,
    term: String,
    starts: String,
    ends: String,
    zone: String,
    go_ahead: bool,
    shares_logs: bool,
    gum_limit_days: Option<i32>,
    ph_low: Option<String>,
    ph_high: Option<String>,
    listings: Vec<ListingView>,
    meetings: Vec<MeetingView>,
    projects: Vec<ProjectView>,
}

/// All settings on one page.
pub async fn overview(ask: InClass) -> Reply {
    let (class, studio) = (ask.class(), ask.membership.studio);
    let (facts, listings, meetings, projects, moves, own, hours) = ask
        .house
        .db
        .read(move |db| {
            let facts = facts::class(db, class)?;
            let hours = open_hours(db, studio, facts.term.starts, facts.term.ends)?;
            Ok((
                facts,
                listings::listings(db, class)?,
                meetings::meetings(db, class)?,
                projects::projects(db, class)?,
                projects::due_moves(db, class, None)?,
                dues::own_dues(db, class, None)?,
                hours,
            ))
        })
        .await?;
    let speech = &ask.house.speech;
    let view = View {
        base: settings_path(&ask, ""),
        starts: dates::day_in_full(facts.term.starts),
        ends: dates::day_in_full(facts.term.ends),
        go_ahead: facts.rules.go_ahead,
        shares_logs: facts.rules.shares_logs,
        gum_limit_days: facts.rules.gum_limit_days,
        ph_low: hundredths(facts.rules.ph_low_hundredths),
        ph_high: hundredths(facts.rules.ph_high_hundredths),
        listings: listings.into_iter().map(|listing| listing_view(listing, speech)).collect(),
        meetings: meetings.into_iter().map(|meeting| meeting_view(meeting, speech)).collect(),
        projects: project_views(projects, &moves, &own, &hours)?,
        code: facts.code,
        term: facts.term.name,
        zone: facts.term.zone,
    };
    ask.show("classes/settings", "classes-settings", &view)
}

fn hundredths(value: Option<i32>) -> Option<String> {
    value.map(|value| decimal_text(value.into(), 2))
}

#[derive(Serialize)]
struct RulesView {
    form: Form,
    base: String,
}

fn fresh(class: &Class) -> Form {
    let rules = &class.rules;
    Form::new(FORM)
        .with("title", &rules.title)
        .tick("go_ahead", rules.go_ahead)
        .tick("shares_logs", rules.shares_logs)
        .with("gum_limit_days", rules.gum_limit_days.map(|days| days.to_string()).unwrap_or_default())
        .with("ph_low", hundredths(rules.ph_low_hundredths).unwrap_or_default())
        .with("ph_high", hundredths(rules.ph_high_hundredths).unwrap_or_default())
        .with("version", class.version.to_string())
}

async fn rules_page(ask: &InClass, refused: Option<(Filled, Trouble)>) -> Reply {
    let class = ask.class();
    let stands = fresh(&ask.house.db.read(move |db| facts::class(db, class)).await?);
    let base = settings_path(ask, "");
    match refused {
        Some((filled, trouble)) => {
            let form = Form::after_save(&filled, trouble, &stands, &ask.house.speech)?;
            ask.show_again("classes/rules", "classes-rules-change", &RulesView { form, base })
        }
        None => ask.show("classes/rules", "classes-rules-change", &RulesView { form: stands, base }),
    }
}

pub async fn rules(ask: InClass) -> Reply {
    rules_page(&ask, None).await
}

pub async fn set_rules(ask: InClass, filled: Filled) -> Reply {
    match try_set_rules(&ask, &filled).await {
        Err(trouble) => rules_page(&ask, Some((filled, trouble))).await,
        fine => fine,
    }
}

async fn try_set_rules(ask: &InClass, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let mut small = |field: &str, places: u32, range| {
        sheet.maybe_decimal(field, places, range).and_then(|value| i32::try_from(value).ok())
    };
    let gum_limit_days = small("gum_limit_days", 0, 1..=60);
    let ph_low_hundredths = small("ph_low", 2, 0..=1400);
    let ph_high_hundredths = small("ph_high", 2, 0..=1400);
    let rules = Rules {
        title: sheet.text("title", 120),
        go_ahead: sheet.tick("go_ahead"),
        shares_logs: sheet.tick("shares_logs"),
        gum_limit_days,
        ph_low_hundredths,
        ph_high_hundredths,
    };
    let version = sheet.whole("version", 1..=i64::MAX);
    sheet.done()?;
    let class = ask.class();
    let next = said(settings_path(ask, ""), "done-rules-set");
    ask.act(Scope::Class(class), filled, next, move |tx| {
        // Before the rules are set, for what is set is compared with what stood; said after what they say themselves.
        let limit = tx.check_gum_limit(class, rules.gum_limit_days);
        tx.set_rules(class, version, &rules)?;
        limit
    })
    .await
}
