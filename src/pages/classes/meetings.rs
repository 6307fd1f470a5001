//! When a class meets, and when its instructor and assistants are there.

use actix_web::web;
use serde::Serialize;

use crate::ids::MeetingId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::classes::{full_name, settings_path};
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::studio::hours::{read_stretch, read_weekday, weekday, weekdays};
use crate::speech::Speech;
use crate::store::Scope;
use crate::store::classes::meetings::{self, Meeting, MeetingDraft, MeetingKind};
use crate::store::people::members::Member;
use crate::store::studio::hours::clock;
use crate::trade::spelled::Spelled;

const FORM: &str = "classes-meeting";

/// A meeting or presence in a table.
#[derive(Serialize)]
pub(super) struct MeetingView {
    id: MeetingId,
    weekday: String,
    from: String,
    to: String,
    what: String,
    who: String,
}

pub(super) fn meeting_view(meeting: Meeting, speech: &Speech) -> MeetingView {
    let given = meeting.given_name.unwrap_or_default();
    MeetingView {
        id: meeting.id,
        weekday: weekday(speech, meeting.weekday),
        from: clock(meeting.from_minute),
        to: clock(meeting.to_minute),
        what: speech.plain(&format!("classes-kind-{}", meeting.kind.0.word())),
        who: full_name(&given, &meeting.family_name.unwrap_or_default()).trim().to_owned(),
    }
}

#[derive(Serialize)]
struct View {
    form: Form,
    base: String,
    meetings: Vec<MeetingView>,
    kinds: Vec<Choice>,
    people: Vec<Choice>,
    weekdays: Vec<Choice>,
}

async fn page(ask: &InClass, form: Form, again: bool) -> Reply {
    let class = ask.class();
    let (meetings, staff) = ask
        .house
        .db
        .read(move |db| Ok((meetings::meetings(db, class)?, meetings::staff(db, class)?)))
        .await?;
    let speech = &ask.house.speech;
    let member = |member: Member| {
        Choice::new(member.person.to_string(), full_name(&member.given_name, &member.family_name))
    };
    let view = View {
        form,
        base: settings_path(ask, ""),
        meetings: meetings.into_iter().map(|meeting| meeting_view(meeting, speech)).collect(),
        kinds: Choice::of_words::<MeetingKind>("classes-kind", speech),
        people: staff.into_iter().map(member).collect(),
        weekdays: weekdays(speech),
    };
    if again {
        ask.show_again("classes/meetings", "classes-meetings", &view)
    } else {
        ask.show("classes/meetings", "classes-meetings", &view)
    }
}

pub async fn list(ask: InClass) -> Reply {
    page(&ask, Form::new(FORM).with("kind", MeetingKind::Meeting.word()), false).await
}

pub async fn add(ask: InClass, filled: Filled) -> Reply {
    match try_add(&ask, &filled).await {
        Err(trouble) => page(&ask, Form::after(FORM, &filled, trouble, &ask.house.speech)?, true).await,
        fine => fine,
    }
}

async fn try_add(ask: &InClass, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let draft = MeetingDraft {
        kind: sheet.choice("kind", MeetingKind::Meeting),
        person: sheet.maybe_id("person"),
        weekday: read_weekday(&mut sheet),
        stretch: read_stretch(&mut sheet),
    };
    sheet.done()?;
    let class = ask.class();
    let next = said(settings_path(ask, "/meetings"), "done-meeting-added");
    ask.act(Scope::Class(class), filled, next, move |tx| tx.add_meeting(class, &draft).map(drop)).await
}

pub async fn remove(ask: InClass, path: web::Path<(String, MeetingId)>, filled: Filled) -> Reply {
    let (class, id) = (ask.class(), path.into_inner().1);
    let next = said(settings_path(&ask, &format!("/meetings?gone={id}")), "done-meeting-removed");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.remove_meeting(class, id)).await
}

/// Brings back what was just taken away.
pub async fn bring_back(ask: InClass, filled: Filled) -> Reply {
    let mut sheet = Sheet::new(&filled);
    let id: MeetingId = sheet.id("gone");
    sheet.done()?;
    let class = ask.class();
    let next = said(settings_path(&ask, "/meetings"), "done-brought-back");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.bring_back_meeting(class, id)).await
}
