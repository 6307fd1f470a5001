//! Finding something by a few letters: people, prints, plates and containers of the class, as far as who asks may see
//! them. A class is small, so its rows are read and compared here, alike on both databases.

use std::collections::HashMap;

use serde::Serialize;

use crate::ids::{PersonId, PrintId};
use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::{CLASS_SEATS, InClass, ROSTER_SEATS, STUDIO_SEATS, Seat};
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::plates;
use crate::pages::roster::role_key;
use crate::speech::folding::Sought;
use crate::store::people::members::{self, Member};
use crate::store::plates::prints::{self, Numbered, Print};
use crate::store::studio::containers::{self, Container, Usable};
use crate::trade::spelled::Spelled;

const FORM: &str = "search";
/// Nobody types more to find something.
const LONGEST: usize = 80;
/// Most lines of one kind; more letters find fewer.
const MOST: usize = 25;

#[derive(Serialize)]
struct View {
    form: Form,
    path: String,
    /// What this person can look for.
    about: &'static str,
    /// What was looked for, once something was.
    asked: Option<String>,
    people: Group<PersonLine>,
    prints: Group<PrintLine>,
    plates: Group<PlateLine>,
    containers: Group<ContainerLine>,
    nothing: bool,
}

/// The first of what was found, and how many more there are.
#[derive(Serialize)]
struct Group<T> {
    lines: Vec<T>,
    more: usize,
}

#[derive(Serialize)]
struct PersonLine {
    path: String,
    name: String,
    role: String,
    /// Where the enrolment is not simply in force.
    state: Option<String>,
}

#[derive(Serialize)]
struct PrintLine {
    title: String,
    who: Option<String>,
    project: String,
    plates: Vec<PlateLine>,
}

#[derive(Serialize)]
struct PlateLine {
    path: String,
    number: i32,
    surface: String,
    title: String,
    who: Option<String>,
}

#[derive(Serialize)]
struct ContainerLine {
    path: String,
    mark: String,
    words: String,
    /// Why it is not to be used, where it is not.
    unusable: Option<String>,
}

/// Everything of the class that this person may find.
#[derive(Default)]
struct Ground {
    people: Vec<Member>,
    prints: Vec<Print>,
    plates: Vec<Numbered>,
    containers: Vec<Container>,
}

impl<T> Group<T> {
    fn of(mut lines: Vec<T>) -> Self {
        let more = lines.len().saturating_sub(MOST);
        lines.truncate(MOST);
        Self { lines, more }
    }
}

/// The page of what was found. The number of a plate goes to the plate.
pub async fn page(ask: InClass) -> Reply {
    let filled = Filled::asked(&ask);
    if filled.get("q").is_none() {
        return ask.show("overview/search", "search-title", &view(&ask, Form::new(FORM), None));
    }
    let mut sheet = Sheet::new(&filled);
    let typed = sheet.text("q", LONGEST);
    if let Err(trouble) = sheet.done() {
        let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?;
        return ask.show_again("overview/search", "search-title", &view(&ask, form, None));
    }
    let (sought, ground) = (Sought::of(&typed), ground(&ask).await?);
    let number = sought.number(&ask.house.speech.plain("plates-plate"));
    if let Some(plate) = ground.plates.iter().find(|plate| Some(plate.number) == number) {
        return Ok(see_other(plates::path(&ask, plate.id)));
    }
    let form = Form::new(FORM).with("q", &typed);
    ask.show("overview/search", "search-title", &view(&ask, form, Some((&typed, &sought, &ground))))
}

async fn ground(ask: &InClass) -> Result<Ground, crate::trouble::Trouble> {
    let (class, studio, owner, seat) = (ask.class(), ask.membership.studio, ask.owner(), ask.seat());
    ask.house
        .db
        .read(move |db| {
            let mut ground = Ground::default();
            if ROSTER_SEATS.contains(&seat) {
                ground.people = members::everybody(db, class)?;
            }
            if CLASS_SEATS.contains(&seat) {
                ground.prints = prints::prints(db, class, None, owner)?;
                ground.plates = prints::numbered(db, class, owner)?;
            }
            if STUDIO_SEATS.contains(&seat) {
                ground.containers = containers::containers(db, studio)?;
            }
            Ok(ground)
        })
        .await
}

/// The catalogue key of what a seat can look for.
fn about(seat: Seat) -> &'static str {
    match seat {
        Seat::Student => "search-about-student",
        Seat::Assistant | Seat::Instructor => "search-about-staff",
        Seat::SafetyOfficer => "search-about-safety",
        Seat::Records => "search-about-records",
    }
}

fn view(ask: &InClass, form: Form, found: Option<(&str, &Sought, &Ground)>) -> View {
    let nothing_yet = Ground::default();
    let nowhere = Sought::of("");
    let (sought, ground) = found.map_or((&nowhere, &nothing_yet), |(_, sought, ground)| (sought, ground));
    let people = people(ask, sought, ground);
    let prints = printed(ask, sought, ground);
    let plates = numbered(ask, sought, ground);
    let containers = held(ask, sought, ground);
    View {
        form,
        path: ask.path("/search"),
        about: about(ask.seat()),
        asked: found.map(|(typed, ..)| typed.to_owned()),
        nothing: people.is_empty() && prints.is_empty() && plates.is_empty() && containers.is_empty(),
        people: Group::of(people),
        prints: Group::of(prints),
        plates: Group::of(plates),
        containers: Group::of(containers),
    }
}

fn name(member: &Member) -> String {
    format!("{} {}", member.given_name, member.family_name)
}

fn people(ask: &InClass, sought: &Sought, ground: &Ground) -> Vec<PersonLine> {
    let speech = &ask.house.speech;
    let line = |member: &Member| PersonLine {
        path: ask.path(&format!("/people/{}", member.person)),
        name: name(member),
        role: speech.plain(role_key(member.role.0)),
        state: (!members::in_force(member))
            .then(|| speech.plain(&format!("roster-state-{}", member.state.0.word()))),
    };
    ground.people.iter().filter(|member| sought.finds(&name(member))).map(line).collect()
}

/// Prints by their title; for staff also by who makes them.
fn printed(ask: &InClass, sought: &Sought, ground: &Ground) -> Vec<PrintLine> {
    let names = names(ground);
    let mut found = Vec::new();
    for print in &ground.prints {
        let who = names.get(&print.person).cloned();
        if !sought.finds(&format!("{} {}", print.title, who.as_deref().unwrap_or_default())) {
            continue;
        }
        let of_print = ground.plates.iter().filter(|plate| plate.print == print.id);
        found.push(PrintLine {
            title: print.title.clone(),
            project: print.project_title.clone(),
            plates: of_print.map(|plate| plate_line(ask, plate, Some(print), who.as_ref())).collect(),
            who,
        });
    }
    found
}

/// Plates whose number begins with the digits typed.
fn numbered(ask: &InClass, sought: &Sought, ground: &Ground) -> Vec<PlateLine> {
    let Some(number) = sought.number(&ask.house.speech.plain("plates-plate")) else { return Vec::new() };
    let (names, begins) = (names(ground), number.to_string());
    let prints: HashMap<PrintId, &Print> = ground.prints.iter().map(|print| (print.id, print)).collect();
    ground
        .plates
        .iter()
        .filter(|plate| plate.number.to_string().starts_with(&begins))
        .map(|plate| {
            let print = prints.get(&plate.print).copied();
            plate_line(ask, plate, print, print.and_then(|print| names.get(&print.person)))
        })
        .collect()
}

fn names(ground: &Ground) -> HashMap<PersonId, String> {
    ground.people.iter().map(|member| (member.person, name(member))).collect()
}

fn plate_line(ask: &InClass, plate: &Numbered, print: Option<&Print>, who: Option<&String>) -> PlateLine {
    PlateLine {
        path: plates::path(ask, plate.id),
        number: plate.number,
        surface: ask.house.speech.plain(&format!("plates-surface-{}", plate.surface.0.word())),
        title: print.map(|print| print.title.clone()).unwrap_or_default(),
        who: who.cloned(),
    }
}

/// Containers by letter, mark, substance or what is written on them.
fn held(ask: &InClass, sought: &Sought, ground: &Ground) -> Vec<ContainerLine> {
    let speech = &ask.house.speech;
    let today = ask.now().local_date(ask.membership.zone);
    let mut found = Vec::new();
    for one in &ground.containers {
        let mark = one.mark();
        let substance = speech.plain(&format!("studio-substance-{}", one.substance.0.word()));
        let words = format!("{substance}: {}", one.told.label);
        if !sought.finds(&format!("{mark} {} {} {words}", one.letter, one.number)) {
            continue;
        }
        let unusable = match one.usable(today) {
            Usable::Yes => None,
            Usable::PastDiscard => Some("studio-past-discard"),
            Usable::DoNotUse => Some("studio-do-not-use"),
            Usable::Finished => Some("search-finished"),
        };
        let path = match ask.is_staff() {
            true => ask.path(&format!("/containers/{}", one.id)),
            false => ask.path(&format!("/containers#container-{}", one.id)),
        };
        found.push(ContainerLine { path, mark, words, unusable: unusable.map(|key| speech.plain(key)) });
    }
    found
}
