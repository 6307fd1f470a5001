//! `tympan demo`: a fresh school in mid-term on embedded SQLite, on loopback, with one sign-in per role. Everybody in it
//! is invented. Everything goes in by the same acts the pages use.

use std::net::{SocketAddr, TcpListener};
use std::path::PathBuf;

use chrono::{DateTime, Days, NaiveDate, NaiveTime, Utc};

use crate::clock::{Clock, DAY_MS, Instant};
use crate::commands::foundation::{build_house, make_folder, sentence};
use crate::commands::serve;
use crate::exchange::roster;
use crate::ids::{ClassId, ListingId, PersonId, PlateId, ProcedureId, ProjectId, StudioId, TopicPointId};
use crate::pages::mixing::table::proposals;
use crate::pages::{House, server};
use crate::passwords::Passwords;
use crate::settings::Settings;
use crate::store::Scope;
use crate::store::classes::listings::{Basis, ListingDraft};
use crate::store::classes::making::{NewClass, Teacher};
use crate::store::classes::projects::ProjectDraft;
use crate::store::classes::terms::TermDraft;
use crate::store::people::persons::{NewPerson, Right};
use crate::store::people::sessions::Role;
use crate::store::plates::folder::{KnownHow, SizeUnit, Weight};
use crate::store::plates::prints::{NewPlate, NewPrint};
use crate::store::plates::runs::{At, Told};
use crate::store::safety::sign_offs::Signing;
use crate::store::safety::topics;
use crate::store::studio::containers::{self, Substance};
use crate::store::studio::hours::Stretch;
use crate::store::studio::rooms::RoomDraft;
use crate::store::studio::stations::StationDraft;
use crate::trade::procedure::{Grade, Surface};
use crate::trouble::Trouble;

/// Everybody's password in the demo school; it holds invented data only.
const PASSWORD: &str = "gum-over-the-whole-plate";
const ZONE: &str = "America/New_York";
const CLASS_LIST: &[u8] = include_bytes!("../../seed/roster.csv");

/// What the command line says.
#[derive(Debug, clap::Args)]
pub struct Options {
    /// The same number draws the same school.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// The moment the school plays at, such as 2026-10-20T14:00:00Z; now if left out.
    #[arg(long)]
    at: Option<DateTime<Utc>>,
    /// Loopback address to listen on; port 0 takes a free one.
    #[arg(long, default_value = "127.0.0.1:8080")]
    listen: SocketAddr,
    /// A folder for the school; a temporary one if left out.
    #[arg(long)]
    folder: Option<PathBuf>,
}

/// Makes the school and serves it until told to stop.
///
/// # Errors
/// A sentence for the console.
pub fn run(options: &Options) -> Result<(), String> {
    if !options.listen.ip().is_loopback() {
        return Err(format!(
            "--listen {}: the demo listens on loopback only, such as 127.0.0.1:8080.",
            options.listen
        ));
    }
    let folder = match &options.folder {
        Some(folder) => folder.clone(),
        None => std::env::temp_dir().join(format!("tympan-demo-{}", std::process::id())),
    };
    make_folder(&folder)?;
    if folder.join("tympan.db").exists() {
        return Err(format!(
            "--folder {}: there is a school in it already. Name an empty folder.",
            folder.display()
        ));
    }
    let listener = TcpListener::bind(options.listen)
        .map_err(|error| format!("--listen {}: {error}. Name another port.", options.listen))?;
    let address = listener.local_addr().map_err(|error| format!("Listening: {error}"))?;
    let given = [
        ("TYMPAN_DATA", folder.display().to_string()),
        ("TYMPAN_LISTEN", address.to_string()),
        ("TYMPAN_PUBLIC_URL", format!("http://{address}")),
    ];
    let given = given.into_iter().map(|(name, value)| (name.to_owned(), value)).collect();
    let at = options.at.map_or_else(|| Clock::Machine.now(), Instant::from_utc);
    let house = build_house(Settings::from_values(&given)?, Clock::starting_at(at))?;
    let signs = server::block_on(furnish(&house, at, options.seed)).map_err(sentence)?;
    let lines: String =
        signs.iter().map(|(role, email)| format!("sign-in {role}: {email} {PASSWORD}\n")).collect();
    eprint!("address: http://{address}\n{lines}");
    serve::serve(house, listener)
}

/// Ids the later parts need.
struct School {
    instructor: PersonId,
    students: Vec<PersonId>,
    studio: StudioId,
    class: ClassId,
    project: ProjectId,
    procedure: ProcedureId,
}

async fn furnish(house: &House, at: Instant, seed: u64) -> Result<Vec<(&'static str, String)>, Trouble> {
    let hash = Passwords::new(false)?.hash(PASSWORD.to_owned()).await?;
    let school = found(house, at, hash).await?;
    sign_off(house, at, &school).await?;
    for (place, student) in school.students.iter().enumerate() {
        let place = u64::try_from(place).unwrap_or(0).wrapping_add(seed - 1);
        carry(house, at, &school, *student, place).await?;
    }
    Ok(vec![
        ("keeper", "mara.lind@college.example".to_owned()),
        ("instructor", "edda.varga@college.example".to_owned()),
        ("assistant", "tomas.reyne@college.example".to_owned()),
        ("student", "ana.figueroa@student.example".to_owned()),
        ("records", "iris.holt@college.example".to_owned()),
        ("safety officer", "noor.sabet@college.example".to_owned()),
    ])
}

fn person(given_name: &str, family_name: &str, email: &str) -> NewPerson {
    NewPerson {
        given_name: given_name.to_owned(),
        family_name: family_name.to_owned(),
        email: Some(email.to_owned()),
        student_number: None,
    }
}

/// The school, its studio and class with everybody in it, as it was in the first week of the term.
async fn found(house: &House, at: Instant, hash: String) -> Result<School, Trouble> {
    let began = at.plus_ms(-50 * DAY_MS);
    let zone = chrono_tz::America::New_York;
    let first = began.local_date(zone);
    let (keeper, instructor, assistant) = people(house, began, hash.clone()).await?;
    let (studio, class, procedure) = class(house, began, first, keeper, instructor).await?;
    let due = first.checked_add_days(Days::new(63)).unwrap_or(first).and_time(NaiveTime::MIN)
        + chrono::TimeDelta::minutes(16 * 60 + 30);
    let etches = proposals(Surface::Plate, &house.speech);
    let (students, project) = house
        .db
        .write(Scope::Class(class), Some(instructor), began, move |tx| {
            tx.keep_etch_table(class, 0, &etches)?;
            tx.enrol(class, assistant, None, Role::Assistant, first, "")?;
            let used: Vec<_> = topics::topics(tx.connection, None)?.iter().map(|topic| topic.id).collect();
            let witnesses: Vec<_> = used.iter().map(|topic| (assistant, *topic)).collect();
            tx.set_class_topics(class, &used, &witnesses)?;
            let listings = [("LIT 220", "undergraduate"), ("LIT 420", "advanced")];
            let mut known: Vec<roster::Listing<ListingId>> = Vec::new();
            for (code, level) in listings {
                let draft = ListingDraft {
                    code: code.to_owned(),
                    section: "01".to_owned(),
                    level: level.to_owned(),
                    credits_hundredths: 300,
                    basis: Basis::Letter,
                };
                let id = tx.add_listing(class, &draft)?;
                known.push(roster::Listing { id, code: code.to_owned(), section: "01".to_owned() });
            }
            let students = students(tx, class, &known, first, &hash)?;
            let draft = ProjectDraft {
                title: "A room at night".to_owned(),
                brief: "Tones from crayon and wash; one plate, an edition of eight.".to_owned(),
                edition_asked: 8,
                procedure,
            };
            let project = tx.add_project(class, &draft, due)?;
            Ok((students, project))
        })
        .await?;
    Ok(School { instructor, students, studio, class, project, procedure })
}

async fn people(
    house: &House,
    began: Instant,
    hash: String,
) -> Result<(PersonId, PersonId, PersonId), Trouble> {
    house
        .db
        .write(Scope::School, None, began, move |tx| {
            let keeper = person("Mara", "Lind", "mara.lind@college.example");
            let keeper =
                tx.found_school("Saltmarsh College of Art", "Safety office, extension 4100", &keeper, true)?;
            tx.by = Some(keeper);
            tx.ship_topics()?;
            tx.ship_procedures()?;
            let instructor = tx.add_person(&person("Edda", "Varga", "edda.varga@college.example"))?;
            let assistant = tx.add_person(&person("Tomás", "Reyne", "tomas.reyne@college.example"))?;
            let records = tx.add_person(&person("Iris", "Holt", "iris.holt@college.example"))?;
            let safety = tx.add_person(&person("Noor", "Sabet", "noor.sabet@college.example"))?;
            tx.set_right(records, Right::Records, true)?;
            tx.set_right(safety, Right::SafetyOfficer, true)?;
            for id in [keeper, instructor, assistant, records, safety] {
                tx.set_password(id, &hash, None)?;
            }
            Ok((keeper, instructor, assistant))
        })
        .await
}

async fn class(
    house: &House,
    began: Instant,
    first: NaiveDate,
    keeper: PersonId,
    instructor: PersonId,
) -> Result<(StudioId, ClassId, ProcedureId), Trouble> {
    house
        .db
        .write(Scope::School, Some(keeper), began, move |tx| {
            let term = tx.add_term(&TermDraft {
                name: format!("Term of {}", first.format("%B %Y")),
                starts: first,
                ends: first.checked_add_days(Days::new(112)).unwrap_or(first),
                zone: ZONE.to_owned(),
            })?;
            let studio = tx.add_studio(&RoomDraft {
                name: "Lower print studio".to_owned(),
                room_address: "Saltmarsh College of Art, room 012".to_owned(),
                eyewash: "left of the sink, six steps from the etching table".to_owned(),
                emergency_numbers: "911, then extension 4100".to_owned(),
                waste_words: "HAZARDOUS WASTE\nWaste etch: gum arabic with phosphoric acid\nKeep closed. \
                    Collection: Safety office, extension 4100"
                    .to_owned(),
            })?;
            tx.add_openings(studio, &[1, 2, 3, 4, 5], Stretch { from_minute: 540, to_minute: 1260 })?;
            tx.add_openings(studio, &[6], Stretch { from_minute: 600, to_minute: 960 })?;
            for (kind, name, units) in
                [("etching table", "Etching table", 2), ("slab", "Ink slab", 3), ("press", "Press", 2)]
            {
                let draft = StationDraft { kind: kind.to_owned(), name: name.to_owned(), units };
                tx.add_station(studio, &draft)?;
            }
            for (substance, label, baume, weight) in [
                (Substance::Gum, "Gum arabic", Some(140), None),
                (Substance::Phosphoric, "Phosphoric acid", None, Some(8500)),
            ] {
                let told = containers::Told {
                    label: label.to_owned(),
                    baume_tenths: baume,
                    ph_hundredths: baume.map(|_| 430),
                    weight_bp: weight,
                    drops_per_ml_hundredths: None,
                    drops_spread_hundredths: None,
                    discard: None,
                    sour: false,
                    do_not_use: None,
                    note: String::new(),
                };
                tx.add_container(studio, substance, first, &told, first)?;
            }
            let new =
                NewClass { term, studio, code: "LIT-B".to_owned(), title: "Plate lithography".to_owned() };
            let made = tx.add_class(&new, &Teacher::Known(instructor))?;
            let choices = crate::store::plates::procedures::choices(tx.connection, made.class)?;
            let plate =
                choices.iter().find(|one| one.surface.0 == Surface::Plate).ok_or(Trouble::NotFound)?;
            Ok((studio, made.class, plate.id))
        })
        .await
}

/// The students of the shipped class list.
fn students(
    tx: &mut crate::store::Tx<'_>,
    class: ClassId,
    listings: &[roster::Listing<ListingId>],
    first: NaiveDate,
    hash: &str,
) -> Result<Vec<PersonId>, Trouble> {
    let list = roster::read(CLASS_LIST, listings)
        .map_err(|remark| Trouble::broken("reading the demo class list", format!("{remark:?}")))?;
    let mut found = Vec::new();
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
        found.push(id);
    }
    Ok(found)
}

/// Sign-offs with gaps: every seventh student lacks the press, every ninth the solvents.
async fn sign_off(house: &House, at: Instant, school: &School) -> Result<(), Trouble> {
    let (class, studio) = (school.class, school.studio);
    let students = school.students.clone();
    house
        .db
        .write(Scope::Class(class), Some(school.instructor), at.plus_ms(-45 * DAY_MS), move |tx| {
            for topic in topics::topics(tx.connection, Some(class))? {
                let lacks = match topic.key.as_str() {
                    "press" => 7,
                    "solvents" => 9,
                    "nitric" | "graining" => 1,
                    _ => usize::MAX,
                };
                let points: Vec<TopicPointId> = topic.points.iter().map(|point| point.id).collect();
                let people = students
                    .iter()
                    .enumerate()
                    .filter(|(place, _)| (place + 1) % lacks != 0)
                    .map(|(_, student)| (*student, points.clone()))
                    .collect();
                let signing = Signing {
                    class,
                    studio,
                    zone: chrono_tz::America::New_York,
                    topic: topic.id,
                    version: topic.version,
                    grade: Grade::Watched,
                    note: String::new(),
                    people,
                };
                tx.sign_off(&signing, Role::Instructor)?;
            }
            Ok(())
        })
        .await
}

const TITLES: [&str; 9] = [
    "Stair lamp",
    "Harbour, late",
    "Bowl and knife",
    "Kettle",
    "Hands at rest",
    "Hillside",
    "Coat rack",
    "Tide table",
    "Bicycle shed",
];
/// The way of a plate as far as the demo tells it, with minutes of work.
const WAY: [(&str, i64); 6] =
    [("prepare", 30), ("draw", 240), ("first-etch", 45), ("roll-up", 60), ("second-etch", 45), ("proof", 90)];

/// Begins a student's print and carries its plate as far as this one got; every ninth was burned and begun again.
async fn carry(
    house: &House,
    at: Instant,
    school: &School,
    student: PersonId,
    place: u64,
) -> Result<(), Trouble> {
    let class = school.class;
    let (project, procedure) = (school.project, school.procedure);
    let got = usize::try_from(place % 7).unwrap_or(0);
    let burned = place % 9 == 4;
    let title = usize::try_from(place)
        .ok()
        .and_then(|place| TITLES.get(place % TITLES.len()))
        .unwrap_or(&"Still life");
    let began = at.plus_ms(-20 * DAY_MS);
    let new = move |replaces| NewPlate {
        procedure,
        width_hundredths: 2500,
        height_hundredths: 3500,
        size_unit: SizeUnit::Centimetre,
        materials: if place.is_multiple_of(2) { "crayon 3 and 5" } else { "tusche wash, crayon 4" }
            .to_owned(),
        weight: match place % 3 {
            0 => Weight::Light,
            1 => Weight::Medium,
            _ => Weight::Heavy,
        },
        note: String::new(),
        replaces,
    };
    let plate = house
        .db
        .write(Scope::Class(class), Some(student), began, move |tx| {
            let print = NewPrint { project, person: student, title: (*title).to_owned(), edition_size: None };
            let print = tx.begin_print(class, &print)?;
            let first = tx.begin_plate(class, print, Some(student), &new(None))?;
            if burned { tx.begin_plate(class, print, Some(student), &new(Some(first))) } else { Ok(first) }
        })
        .await?;
    tell(house, at, school, student, plate, got).await
}

/// Tells the first steps of a plate, the last one a few days ago.
async fn tell(
    house: &House,
    at: Instant,
    school: &School,
    student: PersonId,
    plate: PlateId,
    got: usize,
) -> Result<(), Trouble> {
    let class = school.class;
    for (turn, (key, minutes)) in WAY.iter().take(got).enumerate() {
        let days = i64::try_from(got - turn).unwrap_or(1) * 2 + 1;
        // The second etch belongs to the day of the roll-up.
        let ended = if *key == "second-etch" {
            at.plus_ms(-(days + 2) * DAY_MS + 3 * 3_600_000)
        } else {
            at.plus_ms(-days * DAY_MS)
        };
        let told = Told {
            step_key: (*key).to_owned(),
            began_at: ended.plus_ms(-minutes * 60_000),
            ended_at: Some(ended),
            known_how: KnownHow::Told,
            sheets: None,
            note: String::new(),
        };
        let place = At {
            class,
            studio: school.studio,
            zone: chrono_tz::America::New_York,
            plate,
            owner: Some(student),
            instructor: false,
        };
        let procedures = crate::store::plates::procedures::Procedures::default();
        house
            .db
            .write(Scope::Class(class), Some(student), ended, move |tx| {
                tx.tell_step(&procedures, &place, &told).map(|_| ())
            })
            .await?;
    }
    Ok(())
}
