//! The page for whoever runs the evening: who waits, the run sheet, what to put out, the roll.

use std::sync::Arc;

use actix_web::http::StatusCode;
use serde::Serialize;

use crate::ids::{AskingId, PersonId, PlateId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::classes::rolls::place;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::forms::Filled;
use crate::pages::tonight::own::{time_of, what};
use crate::pages::tonight::run_sheet::{self, Evening, Looked, Sheet};
use crate::pages::tonight::{own, put_out};
use crate::store::Scope;
use crate::store::classes::rolls::{self, Held, RollLine};
use crate::store::plates::folder::{Which, folders};
use crate::store::plates::plans;
use crate::store::plates::premises::{self, Ground};
use crate::store::studio::hours::clock;
use crate::store::studio::stations::{self, Station};
use crate::store::tonight::askings::{self, Asking, Kind, Line};
use crate::store::tonight::run_order::{self, Item};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Everything the page is made from.
struct Scene {
    looked: Vec<Looked>,
    ground: Arc<Ground>,
    stations: Vec<Station>,
    kept: Vec<Item>,
    line: Line,
    rolls: Vec<RollLine>,
    evening: Evening,
}

async fn scene(ask: &InClass) -> Result<Scene, Trouble> {
    let (class, studio, zone) = (ask.class(), ask.membership.studio, ask.membership.zone);
    let (house, now, person) = (ask.house.clone(), ask.now(), ask.person.id);
    let today = now.local_date(zone);
    ask.house
        .db
        .read(move |db| {
            let ground = premises::ground(db, studio, class, zone, now)?;
            let looked = folders(db, &house.procedures, Which::Class(class), None, studio, zone)?
                .into_iter()
                .map(|folder| {
                    let look = plans::look(&folder, &ground, now);
                    let plan = look.plan(&folder, &ground, now).ok().flatten();
                    Looked { folder, look, plan }
                })
                .collect();
            let mut rolls = rolls::rolls(db, class, today)?;
            rolls.retain(|line| line.held.day == today);
            let meetings: Vec<Held> = rolls.iter().map(|line| line.held).collect();
            Ok(Scene {
                looked,
                ground,
                stations: stations::stations(db, studio)?,
                kept: run_order::run_order(db, class, today)?,
                line: askings::line(db, class, person, now)?,
                rolls,
                evening: Evening::of(&meetings, now, zone),
            })
        })
        .await
}

impl Scene {
    fn sheet(&self) -> Sheet<'_> {
        let found = run_sheet::found(&self.looked, &self.ground.premises, &self.evening);
        run_sheet::sheet(found, &self.stations, &self.ground.premises, &self.kept, &self.evening)
    }
}

#[derive(Serialize)]
struct View {
    class_path: String,
    number: i64,
    says: String,
    instructor: bool,
    date: String,
    time: String,
    meeting: Option<String>,
    until: String,
    waiting: Vec<Waiting>,
    answered: Vec<Waiting>,
    /// There is no plate in the class yet.
    no_plates: bool,
    sheet: run_sheet::View,
    put_out: put_out::View,
    rolls: Vec<Roll>,
}

#[derive(Serialize)]
struct Waiting {
    id: AskingId,
    person: PersonId,
    who: String,
    what: String,
    plate: Option<PlateId>,
    place: String,
    since: String,
    minutes: i64,
    /// Where it is seen to.
    to: String,
    to_words: String,
}

#[derive(Serialize)]
struct Roll {
    when: String,
    path: String,
    counts: Option<String>,
}

/// The page.
pub async fn page(ask: InClass) -> Reply {
    let scene = scene(&ask).await?;
    let view = view(&ask, &scene).await?;
    ask.page(StatusCode::OK, "tonight/page", "tonight-title", &view)
}

async fn view(ask: &InClass, scene: &Scene) -> Result<View, Trouble> {
    let (speech, zone, evening) = (&ask.house.speech, ask.membership.zone, &scene.evening);
    let found = run_sheet::found(&scene.looked, &scene.ground.premises, evening);
    let count = i64::try_from(scene.line.open.len()).unwrap_or(i64::MAX);
    Ok(View {
        class_path: ask.path(""),
        number: scene.line.number,
        says: speech.remark(&Remark::new("tonight-count").with("count", count)),
        instructor: ask.is_instructor(),
        date: dates::day(ask.now().local_date(zone)),
        time: time_of(ask, ask.now()),
        meeting: evening.held.map(|held| format!("{}–{}", clock(held.from_minute), clock(held.to_minute))),
        until: time_of(ask, crate::clock::Instant::from_millis(evening.until)),
        waiting: scene.line.open.iter().map(|one| waiting(ask, one)).collect(),
        answered: scene.line.answered.iter().map(|one| waiting(ask, one)).collect(),
        no_plates: scene.looked.is_empty(),
        sheet: scene.sheet().view(ask, &scene.stations, evening),
        put_out: put_out::view(ask, &found.works).await?,
        rolls: scene.rolls.iter().map(|line| roll(ask, line)).collect(),
    })
}

fn waiting(ask: &InClass, one: &Asking) -> Waiting {
    let speech = &ask.house.speech;
    let plate = one.plate.map(|(id, _)| id);
    let of_plate = plate.map(|id| ask.path(&format!("/plates/{id}")));
    let (to, key) = match (one.kind, of_plate) {
        (Kind::Mix, _) => (
            match plate {
                Some(id) => ask.path(&format!("/mix?plate={id}")),
                None => ask.path("/mix"),
            },
            "tonight-to-mix",
        ),
        (Kind::SignOff, _) => (ask.path("/sign-offs"), "tonight-to-sign-offs"),
        (Kind::GoAhead, Some(plate)) => (plate, "tonight-to-go-ahead"),
        (Kind::Help, Some(plate)) => (plate, "tonight-to-plate"),
        (Kind::GoAhead | Kind::Help, None) => (ask.path("/plates"), "tonight-to-plates"),
    };
    Waiting {
        id: one.id,
        person: one.person,
        who: format!("{} {}", one.given_name, one.family_name),
        what: what(ask, one),
        plate,
        place: one.place.clone(),
        since: own::near(ask, one.at),
        minutes: (ask.now().millis() - one.at.millis()).max(0) / 60_000,
        to,
        to_words: speech.plain(key),
    }
}

fn roll(ask: &InClass, line: &RollLine) -> Roll {
    let counts = line.counts.map(|[here, late, away, excused]| {
        let count = |number: usize| i64::try_from(number).unwrap_or(i64::MAX);
        let remark = Remark::new("roll-counts").with("here", count(here)).with("late", count(late));
        ask.house.speech.remark(&remark.with("away", count(away)).with("excused", count(excused)))
    });
    Roll {
        when: format!("{}–{}", clock(line.held.from_minute), clock(line.held.to_minute)),
        path: ask.path(&format!("/rolls/{}", place(&line.held))),
        counts,
    }
}

/// Puts one piece of work right before another at the same station, for today. Sent twice it comes to the same.
pub async fn order(ask: InClass, filled: Filled) -> Reply {
    let read = |field: &str| filled.get(field).and_then(run_sheet::read);
    let (Some(item), Some(above)) = (read("item"), read("above")) else { return Err(Trouble::NotFound) };
    let scene = scene(&ask).await?;
    let (class, day) = (ask.class(), ask.now().local_date(ask.membership.zone));
    let back = format!("{}#run-sheet", ask.path("/tonight"));
    let Some(items) = scene.sheet().moved(&item, &above) else {
        return Ok(crate::pages::answer::see_other(said(back, "done-run-moved-on")));
    };
    let next = said(back, "done-run-ordered");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.put_in_order(class, day, &items)).await
}
