//! `tympan demo`: a fresh school in mid-term on embedded SQLite, on loopback, with one sign-in per role. Everybody in it
//! is invented. Everything goes in by the same acts the pages use.

mod calendar;
mod deeds;
mod desks;
mod events;
mod happenings;
mod illustrated;
mod life;
mod marks;
mod pictures;
mod school;
mod script;

use std::net::{SocketAddr, TcpListener};
use std::path::PathBuf;
use std::sync::Arc;

use chrono::{DateTime, Utc};

use self::calendar::Calendar;
use self::deeds::{Diary, SoFar};
use self::school::Founded;
use crate::clock::{Clock, Instant};
use crate::commands::foundation::{build_house, make_folder, sentence};
use crate::commands::serve;
use crate::pages::mixing::table::proposals;
use crate::pages::{House, server};
use crate::passwords::Passwords;
use crate::post::reminders;
use crate::settings::Settings;
use crate::store::Scope;
use crate::store::people::persons;
use crate::store::plates::procedures::Procedures;
use crate::trade::procedure::Surface;
use crate::trouble::Trouble;

/// Everybody's password in the demo school; it holds invented data only.
const PASSWORD: &str = "gum-over-the-whole-plate";

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

/// Founds the school and writes its term down. Answers the sign-ins: role and e-mail.
///
/// # Errors
/// An act refuses what the script says.
pub async fn furnish(house: &House, now: Instant, seed: u64) -> Result<Vec<(String, String)>, Trouble> {
    let (school, works, life) = script::read()?;
    let calendar = Calendar::read(now, &school.zone)?;
    let hash = Passwords::new(false)?.hash(PASSWORD.to_owned()).await?;
    house.db.chance().follow(seed);
    let events = events::events(&calendar, &school, &works, &life)?;
    let pictures = pictures::draw_all(house, &events, &works, seed).await?;
    let founded = school::found_school(&house.db, calendar, &school, &hash).await?;
    keep_etch_table(house, &founded).await?;
    illustrated::keep(house, &founded).await?;
    desks::set_up(house, &founded, &school.shown_student).await?;
    let assessments = marks::set_up(&house.db, &founded, &works).await?;
    let mut diary = Diary {
        founded,
        school: Arc::new(school),
        works: Arc::new(works),
        life: Arc::new(life),
        procedures: Arc::new(Procedures::default()),
        pictures: Arc::new(pictures),
        assessments,
        so_far: SoFar::default(),
    };
    let mut rounds = desks::rounds(&diary.founded.calendar)?.into_iter().peekable();
    for event in &events {
        while let Some(at) = rounds.next_if(|at| *at <= event.at) {
            desks::round(house, &diary, at).await?;
        }
        diary.write(&house.db, event).await.map_err(|trouble| {
            Trouble::broken("writing the demo's diary", format!("{event:?}: {trouble}"))
        })?;
    }
    for at in rounds {
        desks::round(house, &diary, at).await?;
    }
    reminders::write_letters(&house.db, &diary.procedures, now).await?;
    house.db.chance().stop_following();
    sign_ins(house, &diary).await
}

/// The class begins with the etch table the program proposes.
async fn keep_etch_table(house: &House, school: &Founded) -> Result<(), Trouble> {
    let (class, table) = (school.class, proposals(Surface::Plate, &house.speech));
    let (at, by) = (school.calendar.at(48, "18:30")?, school.person("instructor")?);
    house
        .db
        .write(Scope::Class(class), Some(by), at, move |tx| tx.keep_etch_table(class, 0, &table).map(drop))
        .await
}

/// One sign-in for each role.
async fn sign_ins(house: &House, diary: &Diary) -> Result<Vec<(String, String)>, Trouble> {
    let student = diary.founded.student(&diary.school.shown_student)?;
    let shown = house.db.read(move |db| persons::persons(db, Some(student))).await?;
    let email = shown.into_iter().next().and_then(|person| person.email).unwrap_or_default();
    let staff = diary.school.people.iter().map(|one| (one.role.clone(), one.email.clone()));
    let mut all: Vec<_> = staff.collect();
    all.push(("student".to_owned(), email));
    Ok(all)
}
