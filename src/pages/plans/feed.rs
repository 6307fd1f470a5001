//! The calendar feed: a private address to which a calendar program subscribes. It shows a person's classes: meetings,
//! open hours, due dates, and for a student the latest starts of their own plates. Looking at it changes nothing.

use std::collections::HashSet;

use actix_web::http::header;
use actix_web::{HttpResponse, web};
use chrono::{DateTime, Datelike, Days, NaiveDate, NaiveDateTime, NaiveTime, TimeDelta, Utc, Weekday};

use crate::clock::{DAY_MS, Instant};
use crate::exchange::calendar::{At, Calendar, Event, write};
use crate::ids::CalendarFeedId;
use crate::pages::answer::{Reply, done};
use crate::pages::entry::Ask;
use crate::pages::forms::Filled;
use crate::pages::house::House;
use crate::post::letters::host_of;
use crate::speech::Speech;
use crate::speech::language::Language;
use crate::store::Scope;
use crate::store::people::{accounts, feeds};
use crate::store::plates::agenda::{Agenda, agendas};
use crate::store::plates::folder::Folder;
use crate::store::plates::plans::Look;
use crate::store::studio::called_off::{CalledOff, On};
use crate::trade::civil;
use crate::trade::planning::MINUTE;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// A step that was done stays in the feed so long as cancelled, for programs that keep what they saw.
const CANCELLED_MS: i64 = 14 * DAY_MS;

/// The address of a feed.
#[must_use]
pub fn address(house: &House, feed: CalendarFeedId) -> String {
    format!("{}/calendar/{}.ics", house.settings.public_url, feeds::secret(&house.key, feed))
}

/// Makes a new address; the one before opens nothing any more.
pub async fn make(ask: Ask, filled: Filled) -> Reply {
    let (person, house) = (ask.person()?.id, ask.house.clone());
    let next = crate::pages::acts::said("/account", "done-calendar-made");
    ask.act(Scope::School, &filled, next, move |tx| tx.make_feed(&house.key, person).map(drop)).await
}

/// Withdraws the address.
pub async fn withdraw(ask: Ask, _filled: Filled) -> Reply {
    let person = ask.person()?.id;
    ask.house.db.write(Scope::School, Some(person), ask.now(), move |tx| tx.withdraw_feed(person)).await?;
    Ok(done("/account", "done-calendar-withdrawn"))
}

/// The feed behind a secret; a withdrawn one is not there.
pub async fn feed(ask: Ask, secret: web::Path<String>) -> Reply {
    let secret = secret.into_inner();
    let secret = secret.strip_suffix(".ics").unwrap_or(&secret).to_owned();
    let (house, now) = (ask.house.clone(), ask.now());
    let (language, agendas) = ask
        .house
        .db
        .read(move |db| {
            let person = feeds::reader(db, &secret)?.ok_or(Trouble::NotFound)?;
            let language = accounts::preferences(db, person)?.language;
            Ok((language, agendas(db, &house.procedures, person, now)?))
        })
        .await?;
    // A calendar program asks for no language, but the person whose calendar it is may have chosen one.
    let language = language.map_or_else(Language::at_hand, |language| language.0);
    let feed = Feed { speech: &ask.house.speech, public_url: &ask.house.settings.public_url, now };
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, "text/calendar; charset=utf-8"))
        .insert_header((header::CACHE_CONTROL, "private, no-cache"))
        .body(language.during(|| feed.written(&agendas))))
}

struct Feed<'a> {
    speech: &'a Speech,
    public_url: &'a str,
    now: Instant,
}

impl Feed<'_> {
    fn written(&self, agendas: &[Agenda]) -> String {
        let utc = self.now.utc();
        let bounds = agendas.iter().flat_map(|one| [midnight(one.starts, one), midnight(one.ends, one)]);
        let (from, to) = bounds.fold((utc, utc), |(from, to), at| (from.min(at), to.max(at)));
        let mut events = Vec::new();
        for agenda in agendas {
            self.meetings(agenda, &mut events);
            self.dues(agenda, &mut events);
            for (folder, look) in &agenda.plates {
                self.starts(agenda, folder, look, &mut events);
            }
        }
        // Classes may share a studio: its hours stand once.
        let mut known = HashSet::new();
        for agenda in agendas.iter().filter(|one| known.insert(one.studio)) {
            self.hours(agenda, &mut events);
        }
        write(&Calendar { name: self.speech.plain("plans-feed-name"), stamp: utc, from, to, events })
    }

    fn say(&self, key: &'static str, with: &[(&'static str, &str)]) -> String {
        let remark = with.iter().fold(Remark::new(key), |remark, (name, value)| remark.with(name, *value));
        self.speech.remark(&remark)
    }

    fn event(&self, agenda: &Agenda, uid: &str, summary: String, at: At) -> Event {
        Event {
            uid: format!("{uid}@{}", host_of(self.public_url)),
            sequence: agenda.acts,
            summary,
            description: String::new(),
            location: agenda.studio_name.clone(),
            url: Some(format!("{}/classes/{}", self.public_url, agenda.class)),
            at,
            cancelled: false,
        }
    }

    fn meetings(&self, agenda: &Agenda, events: &mut Vec<Event>) {
        for meeting in &agenda.meetings {
            let who = format!(
                "{} {}",
                meeting.given_name.as_deref().unwrap_or_default(),
                meeting.family_name.as_deref().unwrap_or_default()
            );
            let summary = match meeting.person {
                Some(_) => self.say("plans-feed-there", &[("who", who.trim()), ("class", &agenda.title)]),
                None => self.say("plans-feed-meeting", &[("class", &agenda.title)]),
            };
            let stretch = (meeting.from_minute, meeting.to_minute);
            if let Some(at) = weekly(agenda, meeting.weekday, stretch) {
                events.push(self.event(agenda, &format!("meeting-{}", meeting.id), summary, at));
            }
        }
        let summary = self.say("plans-feed-meeting", &[("class", &agenda.title)]);
        self.off(agenda, &agenda.off.0, &summary, events);
    }

    /// What was taken away, as cancelled under the name it had.
    fn off(&self, agenda: &Agenda, off: &[CalledOff], summary: &str, events: &mut Vec<Event>) {
        for one in off {
            let stretch = (one.from_minute, one.to_minute);
            let at = match one.on {
                On::Weekday(day) => weekly(agenda, day, stretch),
                On::Day(day) => Some(one_day(agenda, day, stretch)),
            };
            let summary = match &one.who {
                Some(who) => self.say("plans-feed-there", &[("who", who), ("class", &agenda.title)]),
                None => summary.to_owned(),
            };
            let event = at.map(|at| self.event(agenda, &one.id, summary, at));
            events.extend(event.map(|event| Event { cancelled: true, ..event }));
        }
    }

    /// The studio's hours; a closed day stands as cancelled, with why.
    fn hours(&self, agenda: &Agenda, events: &mut Vec<Event>) {
        let summary = self.say("plans-feed-open", &[("studio", &agenda.studio_name)]);
        for opening in &agenda.hours.weekly {
            let stretch = (opening.from_minute, opening.to_minute);
            let Some(at) = weekly(agenda, opening.weekday, stretch) else { continue };
            let uid = format!("open-{}", opening.id);
            events.push(self.event(agenda, &uid, summary.clone(), at));
            for closure in &agenda.hours.closures {
                let here = (agenda.starts..=agenda.ends).contains(&closure.day);
                if !here || Some(closure.day.weekday()) != weekday(opening.weekday) {
                    continue;
                }
                let at = At::OneOf {
                    start: at_minute(closure.day, opening.from_minute),
                    minutes: i64::from(opening.to_minute - opening.from_minute),
                    zone: agenda.zone,
                };
                let summary = self.say("plans-feed-closed", &[("studio", &agenda.studio_name)]);
                let event = self.event(agenda, &uid, summary, at);
                events.push(Event { cancelled: true, description: closure.reason.clone(), ..event });
            }
        }
        for extra in &agenda.hours.extra {
            let at = one_day(agenda, extra.day, (extra.from_minute, extra.to_minute));
            let event = self.event(agenda, &format!("extra-{}", extra.id), summary.clone(), at);
            let cancelled = agenda.hours.closure_on(extra.day).is_some();
            events.push(Event { cancelled, description: extra.reason.clone(), ..event });
        }
        self.off(agenda, &agenda.off.1, &summary, events);
    }

    fn dues(&self, agenda: &Agenda, events: &mut Vec<Event>) {
        for due in &agenda.dues {
            let summary = self.say("plans-feed-due", &[("title", &due.title)]);
            let at = At::Once { start: due.at.utc(), end: None };
            events.push(self.event(agenda, &format!("due-{}", due.project), summary, at));
        }
    }

    /// Latest starts of what is to be done, and what was done lately as cancelled.
    fn starts(&self, agenda: &Agenda, folder: &Folder, look: &Look, events: &mut Vec<Event>) {
        let row = &folder.row;
        let number = row.number.to_string();
        let title = &row.print.title;
        let url = Some(format!("{}/classes/{}/plates/{}", self.public_url, agenda.class, row.id));
        let open = row.print.handed_in_at.is_none() && !folder.replaced;
        // What is handed in, or was begun anew, needs no start any more.
        let over = row.print.handed_in_at.map(Instant::utc);
        for left in &look.remaining {
            let Some(start) = look.start_by.get(&left.key).or(over) else { continue };
            let with = [("step", &*left.title), ("number", &number), ("title", title)];
            let summary = self.say("plans-feed-start", &with);
            let end = start.checked_add_signed(TimeDelta::milliseconds(left.minutes * MINUTE));
            let event = self.event(
                agenda,
                &format!("start-{}-{}", row.id, left.key),
                summary,
                At::Once { start, end },
            );
            events.push(Event {
                url: url.clone(),
                description: self.speech.plain("plans-feed-estimate"),
                cancelled: !open,
                ..event
            });
        }
        let told: HashSet<&str> = look.remaining.iter().map(|left| &*left.key).collect();
        for (key, title_of_step, at) in self.over(folder, told) {
            let with = [("step", title_of_step), ("number", &number), ("title", title)];
            let summary = self.say("plans-feed-start", &with);
            let at = At::Once { start: at.utc(), end: None };
            let event = self.event(agenda, &format!("start-{}-{key}", row.id), summary, at);
            events.push(Event { cancelled: true, url: url.clone(), ..event });
        }
    }

    /// The steps, beside those told already, that are to be begun no more: done lately, or left out when the plate went
    /// on without them, was scrapped or put away. Each with the moment since when.
    fn over<'f>(&self, folder: &'f Folder, mut told: HashSet<&'f str>) -> Vec<(&'f str, &'f str, Instant)> {
        let lately = |at: &Instant| self.now.millis() - at.millis() <= CANCELLED_MS;
        let mut over = Vec::new();
        for run in folder.runs.iter().rev() {
            let Some(ended) = run.ended_at else { continue };
            let key = run.step_key.as_str();
            let title = folder.procedure.find(key).map_or(key, |step| step.title.as_str());
            if told.insert(key) && lately(&ended) {
                over.push((key, title, ended));
            }
        }
        let last = folder.runs.iter().filter_map(|run| run.ended_at).max().filter(lately);
        for step in folder.procedure.way(&folder.choice) {
            if let Some(last) = last
                && told.insert(&step.key)
            {
                over.push((&step.key, &step.title, last));
            }
        }
        over
    }
}

fn weekday(number: i32) -> Option<Weekday> {
    Weekday::try_from(u8::try_from(number - 1).ok()?).ok()
}

/// A stretch of every week of the term; none where the term is over before its first time.
fn weekly(agenda: &Agenda, day: i32, (from, to): (i32, i32)) -> Option<At> {
    let day = weekday(day)?;
    let ahead = (7 + day.num_days_from_monday() - agenda.starts.weekday().num_days_from_monday()) % 7;
    let first = agenda.starts.checked_add_days(Days::new(u64::from(ahead)))?;
    let back = (7 + agenda.ends.weekday().num_days_from_monday() - day.num_days_from_monday()) % 7;
    let last = agenda.ends.checked_sub_days(Days::new(u64::from(back)))?;
    (first <= last).then(|| At::Weekly {
        first: at_minute(first, from),
        minutes: i64::from(to - from),
        day,
        last: at_minute(last, from),
        zone: agenda.zone,
    })
}

fn one_day(agenda: &Agenda, day: NaiveDate, (from, to): (i32, i32)) -> At {
    let local = |minute| civil::instant(at_minute(day, minute), agenda.zone);
    At::Once { start: local(from), end: Some(local(to)) }
}

fn at_minute(day: NaiveDate, minute: i32) -> NaiveDateTime {
    let midnight = day.and_time(NaiveTime::MIN);
    midnight.checked_add_signed(TimeDelta::minutes(i64::from(minute))).unwrap_or(midnight)
}

fn midnight(day: NaiveDate, agenda: &Agenda) -> DateTime<Utc> {
    civil::instant(day.and_time(NaiveTime::MIN), agenda.zone)
}
