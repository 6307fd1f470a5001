//! The demo school in its first week: people, studio, containers, class, listings, projects, sign-offs.

use std::collections::{BTreeSet, HashMap};

use chrono::{Days, NaiveTime};

use super::calendar::{Calendar, stretch};
use super::script::{Container, School, Turned, Weekly, Withdrawn};
use crate::clock::DAY_MS;
use crate::exchange::roster;
use crate::ids::{ClassId, ContainerId, ListingId, PersonId, ProcedureId, ProjectId, StudioId, TopicPointId};
use crate::store::classes::listings::{Basis, ListingDraft};
use crate::store::classes::making::{NewClass, Teacher};
use crate::store::classes::meetings::{MeetingDraft, MeetingKind};
use crate::store::classes::projects::ProjectDraft;
use crate::store::classes::terms::TermDraft;
use crate::store::people::persons::{NewPerson, Right};
use crate::store::people::roster as record;
use crate::store::people::seats::NewSeat;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::plates::procedures;
use crate::store::safety::sign_offs::Signing;
use crate::store::safety::topics;
use crate::store::studio::containers::{self, Told};
use crate::store::studio::rooms::RoomDraft;
use crate::store::studio::stations::StationDraft;
use crate::store::{Db, Scope, Tx};
use crate::trade::procedure::Surface;
use crate::trouble::Trouble;

const CLASS_LIST: &[u8] = include_bytes!("../../../seed/roster.csv");

/// What the works of the term need to know of the school.
#[derive(Debug, Clone)]
pub(super) struct Founded {
    pub calendar: Calendar,
    pub staff: HashMap<String, PersonId>,
    /// By student number.
    pub students: HashMap<String, PersonId>,
    pub studio: StudioId,
    pub class: ClassId,
    /// By key.
    pub projects: HashMap<String, ProjectId>,
    pub procedures: HashMap<Surface, ProcedureId>,
    /// By mark.
    pub containers: HashMap<String, ContainerId>,
}

impl Founded {
    pub(super) fn person(&self, role: &str) -> Result<PersonId, Trouble> {
        found(&self.staff, role)
    }

    pub(super) fn student(&self, number: &str) -> Result<PersonId, Trouble> {
        found(&self.students, number)
    }
}

/// What the script names must be there.
pub(super) fn found<T: Copy>(all: &HashMap<String, T>, name: &str) -> Result<T, Trouble> {
    all.get(name).copied().ok_or_else(|| Trouble::broken("reading the demo's script", format!("no {name}")))
}

/// Makes the school as it was in the first week.
pub(super) async fn found_school(
    db: &Db,
    calendar: Calendar,
    script: &School,
    hash: &str,
) -> Result<Founded, Trouble> {
    let began = calendar.now.plus_ms(-script.term.began_days_ago * DAY_MS);
    let (told, words) = (script.clone(), hash.to_owned());
    let staff = db.write(Scope::School, None, began, move |tx| people(tx, &told, &words)).await?;
    let keeper = found(&staff, "keeper")?;
    let (told, teacher) = (script.clone(), found(&staff, "instructor")?);
    let (studio, class) = db
        .write(Scope::School, Some(keeper), began, move |tx| rooms_and_class(tx, &calendar, &told, teacher))
        .await?;
    let mut school = Founded {
        calendar,
        staff,
        students: HashMap::new(),
        studio,
        class,
        projects: HashMap::new(),
        procedures: HashMap::new(),
        containers: HashMap::new(),
    };
    let (told, so_far, words) = (script.clone(), school.clone(), hash.to_owned());
    school = db
        .write(Scope::Class(class), Some(teacher), began, move |tx| {
            let mut school = so_far.clone();
            members(tx, &mut school, &told, &words)?;
            projects(tx, &mut school, &told)?;
            Ok(school)
        })
        .await?;
    sign_offs(db, &school, script).await?;
    for told in &script.containers {
        let id = shelve(db, &school, told).await?;
        school.containers.insert(told.mark.clone(), id);
    }
    Ok(school)
}

fn people(tx: &mut Tx<'_>, script: &School, hash: &str) -> Result<HashMap<String, PersonId>, Trouble> {
    let mut staff = HashMap::new();
    for told in &script.people {
        let new = NewPerson {
            given_name: told.given_name.clone(),
            family_name: told.family_name.clone(),
            email: Some(told.email.clone()),
            student_number: None,
        };
        let id = match told.role.as_str() {
            "keeper" => tx.found_school(&script.name, &script.safety_office, &new, true)?,
            _ => tx.add_person(&new)?,
        };
        match told.role.as_str() {
            "keeper" => {
                tx.by = Some(id);
                tx.ship_topics()?;
                tx.ship_procedures()?;
            }
            "records" => tx.set_right(id, Right::Records, true)?,
            "safety officer" => tx.set_right(id, Right::SafetyOfficer, true)?,
            _ => {}
        }
        tx.set_password(id, hash, None)?;
        staff.insert(told.role.clone(), id);
    }
    Ok(staff)
}

fn rooms_and_class(
    tx: &mut Tx<'_>,
    calendar: &Calendar,
    script: &School,
    teacher: PersonId,
) -> Result<(StudioId, ClassId), Trouble> {
    let first = calendar.date(script.term.began_days_ago);
    let term = tx.add_term(&TermDraft {
        name: format!("Term of {}", first.format("%B %Y")),
        starts: first,
        ends: first.checked_add_days(Days::new(script.term.weeks * 7)).unwrap_or(first),
        zone: script.zone.clone(),
    })?;
    let room = &script.studio;
    let studio = tx.add_studio(&RoomDraft {
        name: room.name.clone(),
        room_address: room.room_address.clone(),
        eyewash: room.eyewash.clone(),
        emergency_numbers: room.emergency_numbers.clone(),
        waste_words: room.waste_words.clone(),
    })?;
    for one in &room.openings {
        tx.add_openings(studio, &one.weekdays, stretch(&one.from, &one.to)?)?;
    }
    for one in &room.stations {
        let draft = StationDraft { kind: one.kind.clone(), name: one.name.clone(), units: one.units };
        tx.add_station(studio, &draft)?;
    }
    let (code, title) = (script.class.code.clone(), script.class.title.clone());
    let made = tx.add_class(&NewClass { term, studio, code, title }, &Teacher::Known(teacher))?;
    Ok((studio, made.class))
}

/// The assistant, the listings, the students of the shipped list, the topics and who is there when.
fn members(tx: &mut Tx<'_>, school: &mut Founded, script: &School, hash: &str) -> Result<(), Trouble> {
    let (class, first) = (school.class, tx.now.local_date(school.calendar.zone));
    let assistant = school.person("assistant")?;
    tx.enrol(class, assistant, None, Role::Assistant, first, "")?;
    let used: BTreeSet<_> = topics::topics(tx.connection, None)?.iter().map(|topic| topic.id).collect();
    let witnesses = used.iter().map(|topic| (assistant, *topic)).collect();
    let seen = topics::standing(tx.connection, class)?;
    tx.set_class_topics(class, &seen, &used, &witnesses)?;
    let mut known: Vec<roster::Listing<ListingId>> = Vec::new();
    for told in &script.class.listings {
        let (code, section) = (told.code.clone(), told.section.clone());
        let id = tx.add_listing(
            class,
            &ListingDraft {
                code: code.clone(),
                section: section.clone(),
                level: told.level.clone(),
                credits_hundredths: told.credits_hundredths,
                basis: Basis::Letter,
            },
        )?;
        known.push(roster::Listing { id, code, section });
    }
    let list = roster::read(CLASS_LIST, &known)
        .map_err(|remark| Trouble::broken("reading the demo's class list", format!("{remark:?}")))?;
    for row in &list.rows {
        let id = tx.add_person(&NewPerson {
            given_name: row.details.given_name.clone(),
            family_name: row.details.family_name.clone(),
            email: row.details.email.clone(),
            student_number: row.details.student_number.clone(),
        })?;
        if row.details.email.is_some() {
            tx.set_password(id, hash, None)?;
        }
        tx.enrol(class, id, row.listing, Role::Student, first, "class list")?;
        school.students.insert(row.details.student_number.clone().unwrap_or_default(), id);
    }
    for told in &script.class.meetings {
        weekly(tx, school, MeetingKind::Meeting, told)?;
    }
    for told in &script.class.presences {
        weekly(tx, school, MeetingKind::Presence, told)?;
    }
    Ok(())
}

fn weekly(tx: &mut Tx<'_>, school: &Founded, kind: MeetingKind, told: &Weekly) -> Result<(), Trouble> {
    let person = told.role.as_deref().map(|role| school.person(role)).transpose()?;
    let stretch = stretch(&told.from, &told.to)?;
    tx.add_meeting(school.class, &MeetingDraft { kind, person, weekday: told.weekday, stretch })?;
    Ok(())
}

fn projects(tx: &mut Tx<'_>, school: &mut Founded, script: &School) -> Result<(), Trouble> {
    let choices = procedures::choices(tx.connection, school.class)?;
    school.procedures = choices.iter().map(|one| (one.surface.0, one.id)).collect();
    let usual = *school.procedures.get(&Surface::Plate).ok_or(Trouble::NotFound)?;
    let half_past_four = NaiveTime::from_hms_opt(16, 30, 0).unwrap_or_default();
    for told in &script.projects {
        let draft = ProjectDraft {
            title: told.title.clone(),
            brief: told.brief.clone(),
            edition_asked: told.edition,
            procedure: usual,
        };
        let due = school.calendar.date(told.due_days_ago).and_time(half_past_four);
        let id = tx.add_project(school.class, &draft, due)?;
        school.projects.insert(told.key.clone(), id);
    }
    Ok(())
}

async fn sign_offs(db: &Db, school: &Founded, script: &School) -> Result<(), Trouble> {
    for told in &script.sign_offs {
        let (told, school) = (told.clone(), school.clone());
        let at = school.calendar.at(told.ago, "14:00")?;
        let (class, by) = (school.class, school.person("instructor")?);
        db.write(Scope::Class(class), Some(by), at, move |tx| {
            let topics = topics::topics(tx.connection, Some(class))?;
            let topic = topics.iter().find(|topic| topic.key == told.topic).ok_or(Trouble::NotFound)?;
            let points: Vec<TopicPointId> = topic.points.iter().map(|point| point.id).collect();
            let mut numbers: Vec<&String> = school.students.keys().collect();
            numbers.sort();
            let people = numbers
                .into_iter()
                .filter(|number| !told.without.contains(number))
                .filter(|number| told.only.as_ref().is_none_or(|only| only.contains(number)))
                .map(|number| Ok((school.student(number)?, points.clone())))
                .collect::<Result<_, Trouble>>()?;
            let signing = Signing {
                class,
                studio: school.studio,
                zone: school.calendar.zone,
                topic: topic.id,
                version: topic.version,
                grade: told.grade,
                note: String::new(),
                people,
            };
            tx.sign_off(&signing, Role::Instructor).map(drop)
        })
        .await?;
    }
    Ok(())
}

/// Puts a container on the shelf on its day.
async fn shelve(db: &Db, school: &Founded, told: &Container) -> Result<ContainerId, Trouble> {
    let (studio, script, opened) = (school.studio, told.clone(), school.calendar.date(told.opened));
    let at = school.calendar.at(told.opened, "09:30")?;
    db.write(Scope::School, Some(school.person("assistant")?), at, move |tx| {
        let id = tx.add_container(studio, script.substance, opened, &figures(&script, None), opened)?;
        let mark = containers::container(tx.connection, studio, id)?.mark();
        if mark == script.mark { Ok(id) } else { Err(Trouble::broken("shelving a container", mark)) }
    })
    .await
}

fn figures(told: &Container, turned: Option<&Turned>) -> Told {
    Told {
        label: told.label.clone(),
        baume_tenths: told.baume_tenths,
        ph_hundredths: told.ph_hundredths,
        weight_bp: told.weight_bp,
        drops_per_ml_hundredths: told.drops_per_ml_hundredths,
        drops_spread_hundredths: told.drops_spread_hundredths,
        discard: None,
        sour: turned.is_some_and(|turned| turned.sour),
        do_not_use: turned.map(|turned| turned.do_not_use.clone()),
        note: String::new(),
    }
}

/// A container was found bad.
pub(super) fn turn(tx: &mut Tx<'_>, school: &Founded, told: &Container) -> Result<(), Trouble> {
    let id = found(&school.containers, &told.mark)?;
    let now = containers::container(tx.connection, school.studio, id)?;
    let (figures, today) = (figures(told, told.turned.as_ref()), tx.now.local_date(school.calendar.zone));
    tx.change_container(school.studio, id, now.version, now.opened, &figures, today)
}

/// A student left.
pub(super) fn withdraw(tx: &mut Tx<'_>, school: &Founded, told: &Withdrawn) -> Result<(), Trouble> {
    let id = school.student(&told.student)?;
    let seat = record::member(tx.connection, school.class, id)?.seat.ok_or(Trouble::NotFound)?;
    let (listing, role, since) = (seat.listing, seat.role, tx.now.local_date(school.calendar.zone));
    let new = NewSeat { listing, role, state: EnrolmentState::Withdrawn, since };
    tx.change_seat(&seat, new, &told.reason)
}
