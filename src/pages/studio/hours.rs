//! The hours of the studio: weekly openings, closures, extra openings; each is added by a small form and taken away by
//! a button.

use actix_web::web;
use chrono::NaiveDate;
use serde::Serialize;

use crate::ids::{ClosureId, ExtraOpeningId, OpeningId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::reasons;
use crate::pages::studio::studio_path;
use crate::speech::Speech;
use crate::store::studio::hours::{Closure, ExtraOpening, Stretch, clock, open_hours};
use crate::store::{Scope, Tx};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const OPENING: &str = "studio-opening";
const CLOSURE: &str = "studio-closure";
const EXTRA: &str = "studio-extra";

/// A weekday counted from Monday, 1, as in ISO 8601: `Tuesday`.
pub(in crate::pages) fn weekday(speech: &Speech, number: i32) -> String {
    speech.plain(&format!("days-weekday-{number}"))
}

/// The days of the week to choose from.
pub(in crate::pages) fn weekdays(speech: &Speech) -> Vec<Choice> {
    (1..=7).map(|number| Choice::new(number.to_string(), weekday(speech, number))).collect()
}

/// Reads one weekday.
pub(in crate::pages) fn read_weekday(sheet: &mut Sheet<'_>) -> i32 {
    i32::try_from(sheet.whole("weekday", 1..=7)).unwrap_or(1)
}

/// Reads `from` and `to`; an end at 00:00 means the end of the day.
pub(in crate::pages) fn read_stretch(sheet: &mut Sheet<'_>) -> Stretch {
    let (from_minute, to_minute) = (sheet.minutes_of_day("from"), sheet.minutes_of_day("to"));
    Stretch { from_minute, to_minute: if to_minute == 0 { 1440 } else { to_minute } }
}

/// A closed day in a table.
#[derive(Serialize)]
pub(in crate::pages) struct ClosureView {
    id: ClosureId,
    day: String,
    reason: String,
}

pub(in crate::pages) fn closure_view(closure: Closure) -> ClosureView {
    ClosureView { id: closure.id, day: dates::day_in_full(closure.day), reason: closure.reason }
}

/// An extra opening in a table.
#[derive(Serialize)]
pub(in crate::pages) struct ExtraView {
    id: ExtraOpeningId,
    day: String,
    from: String,
    to: String,
    reason: String,
}

pub(in crate::pages) fn extra_view(extra: ExtraOpening) -> ExtraView {
    ExtraView {
        id: extra.id,
        day: dates::day_in_full(extra.day),
        from: clock(extra.from_minute),
        to: clock(extra.to_minute),
        reason: extra.reason,
    }
}

#[derive(Serialize)]
struct OpeningView {
    id: OpeningId,
    weekday: String,
    from: String,
    to: String,
}

#[derive(Serialize)]
struct View {
    base: String,
    weekdays: Vec<Choice>,
    openings: Vec<OpeningView>,
    closures: Vec<ClosureView>,
    extra: Vec<ExtraView>,
    /// The three forms; one of them may have come back.
    opening: Form,
    closure: Form,
    extra_opening: Form,
}

async fn page(ask: &InClass, came_back: Option<Form>) -> Reply {
    let studio = ask.membership.studio;
    let last = NaiveDate::from_ymd_opt(2200, 12, 31).unwrap_or(NaiveDate::MAX);
    // What lies half a year back is of no use here any more.
    let today = ask.now().local_date(ask.membership.zone);
    let first = today.checked_sub_days(chrono::Days::new(180)).unwrap_or(today);
    let hours = ask.house.db.read(move |db| open_hours(db, studio, first, last)).await?;
    let speech = &ask.house.speech;
    let again = came_back.is_some();
    let mut forms = [OPENING, CLOSURE, EXTRA].map(Form::new);
    if let Some(back) = came_back
        && let Some(form) = forms.iter_mut().find(|form| form.name == back.name)
    {
        *form = back;
    }
    let [opening, closure, extra_opening] = forms;
    let view = View {
        base: studio_path(ask, ""),
        weekdays: weekdays(speech),
        openings: hours
            .weekly
            .into_iter()
            .map(|opening| OpeningView {
                id: opening.id,
                weekday: weekday(speech, opening.weekday),
                from: clock(opening.from_minute),
                to: clock(opening.to_minute),
            })
            .collect(),
        closures: hours.closures.into_iter().map(closure_view).collect(),
        extra: hours.extra.into_iter().map(extra_view).collect(),
        opening,
        closure,
        extra_opening,
    };
    if again {
        ask.show_again("studio/hours", "studio-hours", &view)
    } else {
        ask.show("studio/hours", "studio-hours", &view)
    }
}

pub async fn list(ask: InClass) -> Reply {
    page(&ask, None).await
}

/// Runs an act on the hours, or shows the page again with the form it came from.
async fn act<F>(
    ask: &InClass,
    form: &'static str,
    filled: &Filled,
    key: &str,
    act: Result<F, Trouble>,
) -> Reply
where
    F: Fn(&mut Tx<'_>) -> Result<(), Trouble> + Send + 'static,
{
    let next = said(studio_path(ask, "/hours"), key);
    let tried = match act {
        Ok(act) => ask.act(Scope::School, filled, next, act).await,
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => page(ask, Some(Form::after(form, filled, trouble, &ask.house.speech)?)).await,
        fine => fine,
    }
}

pub async fn add_opening(ask: InClass, filled: Filled) -> Reply {
    let studio = ask.membership.studio;
    let read = || {
        let mut sheet = Sheet::new(&filled);
        let typed: Vec<Option<i32>> = filled.all("weekday").map(|typed| typed.parse().ok()).collect();
        let mut days: Vec<i32> =
            typed.iter().copied().flatten().filter(|day| (1..=7).contains(day)).collect();
        if days.is_empty() || days.len() < typed.len() {
            sheet.complain("weekday", Remark::new("studio-no-weekday"));
        }
        days.sort_unstable();
        days.dedup();
        let stretch = read_stretch(&mut sheet);
        sheet.done()?;
        Ok(move |tx: &mut Tx<'_>| tx.add_openings(studio, &days, stretch))
    };
    act(&ask, OPENING, &filled, "done-opening-added", read()).await
}

pub async fn add_closure(ask: InClass, filled: Filled) -> Reply {
    let studio = ask.membership.studio;
    let read = || {
        let mut sheet = Sheet::new(&filled);
        let first = sheet.date("first");
        let last = sheet.maybe_date("last").unwrap_or(first);
        let reason = reasons::CLOSURE.read(&mut sheet, &ask.house.speech);
        sheet.done()?;
        Ok(move |tx: &mut Tx<'_>| tx.add_closures(studio, first, last, &reason))
    };
    act(&ask, CLOSURE, &filled, "done-closure-added", read()).await
}

pub async fn add_extra(ask: InClass, filled: Filled) -> Reply {
    let studio = ask.membership.studio;
    let read = || {
        let mut sheet = Sheet::new(&filled);
        let day = sheet.date("day");
        let stretch = read_stretch(&mut sheet);
        let reason = sheet.maybe_text("reason", 120).unwrap_or_default();
        sheet.done()?;
        Ok(move |tx: &mut Tx<'_>| tx.add_extra_opening(studio, day, stretch, &reason))
    };
    act(&ask, EXTRA, &filled, "done-extra-added", read()).await
}

pub async fn remove_opening(ask: InClass, path: web::Path<(String, OpeningId)>, filled: Filled) -> Reply {
    let (studio, id) = (ask.membership.studio, path.into_inner().1);
    let next = said(studio_path(&ask, &format!("/hours?gone={id}")), "done-opening-removed");
    ask.act(Scope::School, &filled, next, move |tx| tx.remove_opening(studio, id)).await
}

pub async fn remove_closure(ask: InClass, path: web::Path<(String, ClosureId)>, filled: Filled) -> Reply {
    let (studio, id) = (ask.membership.studio, path.into_inner().1);
    let next = said(studio_path(&ask, &format!("/hours?gone={id}")), "done-closure-removed");
    ask.act(Scope::School, &filled, next, move |tx| tx.remove_closure(studio, id)).await
}

pub async fn remove_extra(ask: InClass, path: web::Path<(String, ExtraOpeningId)>, filled: Filled) -> Reply {
    let (studio, id) = (ask.membership.studio, path.into_inner().1);
    let next = said(studio_path(&ask, &format!("/hours?gone={id}")), "done-extra-removed");
    ask.act(Scope::School, &filled, next, move |tx| tx.remove_extra_opening(studio, id)).await
}
