//! The studio as everybody in a class sees it: where it is, where help is, when it is open, who is there, and which
//! stations it has.

use chrono::{Days, NaiveDate, NaiveDateTime};
use serde::Serialize;

use crate::pages::answer::Reply;
use crate::pages::classes::meetings::{MeetingView, meeting_view};
use crate::pages::dates;
use crate::pages::entry::{CLASS_SEATS, InClass};
use crate::pages::plans::down_words;
use crate::pages::studio::hours::{self, ClosureView, ExtraView, closure_view, extra_view};
use crate::speech::Speech;
use crate::store::classes::meetings;
use crate::store::studio::hours::{OpenHours, clock, weekday_of};
use crate::store::studio::rooms::{self, Room};
use crate::store::studio::stations::{self, Station};
use crate::store::studio::{containers, downs, open_hours};

#[derive(Serialize)]
struct View {
    base: String,
    containers: String,
    /// Those who may change what stands here.
    staff: bool,
    /// Those who mix in this class.
    may_mix: bool,
    room: Room,
    now: Now,
    week: Vec<DayView>,
    told: bool,
    closures: Vec<ClosureView>,
    extra: Vec<ExtraView>,
    meetings: Vec<MeetingView>,
    stations: Vec<Station>,
    /// What is out of order, in sentences.
    downs: Vec<String>,
    /// Acid stands on the shelf.
    acid: bool,
}

/// How the studio stands at this moment.
#[derive(Serialize)]
struct Now {
    today: String,
    open_until: Option<String>,
    closed_for: Option<String>,
}

#[derive(Serialize)]
struct DayView {
    weekday: String,
    stretches: String,
    today: bool,
}

pub async fn show(ask: InClass) -> Reply {
    let (class, studio) = (ask.class(), ask.membership.studio);
    let local = ask.now().local(ask.membership.zone);
    let today = local.date();
    let far = today.checked_add_days(Days::new(400)).unwrap_or(today);
    let now_at = ask.now();
    let (room, hours, meetings, stations, shelf, downs) = ask
        .house
        .db
        .read(move |db| {
            Ok((
                rooms::room(db, studio)?,
                open_hours(db, studio, today, far)?,
                meetings::meetings(db, class)?,
                stations::stations(db, studio)?,
                containers(db, studio)?,
                downs::downs(db, studio, now_at)?,
            ))
        })
        .await?;
    let speech = &ask.house.speech;
    let on_shelf =
        |held: &crate::store::studio::Container| held.substance.0.is_acid() && held.finished_at.is_none();
    let view = View {
        base: format!("/classes/{class}/studio"),
        containers: format!("/classes/{class}/containers"),
        staff: ask.is_staff(),
        may_mix: CLASS_SEATS.contains(&ask.seat()),
        now: now(&hours, local),
        week: week(&hours, today, speech),
        told: !hours.weekly.is_empty(),
        closures: hours.closures.into_iter().map(closure_view).collect(),
        extra: hours.extra.into_iter().map(extra_view).collect(),
        meetings: meetings.into_iter().map(|meeting| meeting_view(meeting, speech)).collect(),
        acid: shelf.iter().any(on_shelf),
        stations,
        downs: downs.iter().map(|down| down_words(speech, down, ask.membership.zone)).collect(),
        room,
    };
    ask.show("studio/studio", "studio-studio", &view)
}

fn now(hours: &OpenHours, local: NaiveDateTime) -> Now {
    Now {
        today: dates::day_and_time(local),
        open_until: hours.open_until(local).map(clock),
        closed_for: hours.closure_on(local.date()).map(|closure| closure.reason.clone()),
    }
}

/// The weekly hours, a row for each weekday; openings that overlap or touch are shown as they were told.
fn week(hours: &OpenHours, today: NaiveDate, speech: &Speech) -> Vec<DayView> {
    (1..=7)
        .map(|weekday| {
            let of_day = hours.weekly.iter().filter(|opening| opening.weekday == weekday);
            let stretches: Vec<String> = of_day
                .map(|opening| format!("{}–{}", clock(opening.from_minute), clock(opening.to_minute)))
                .collect();
            DayView {
                weekday: hours::weekday(speech, weekday),
                stretches: stretches.join(", "),
                today: weekday == weekday_of(today),
            }
        })
        .collect()
}
