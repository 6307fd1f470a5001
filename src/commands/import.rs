//! `tympan import roster`: a class list from the command line. Prints what the list would do; does it with `--apply`.

use std::io::Write;
use std::path::PathBuf;

use chrono::NaiveDate;
use clap::Subcommand;

use crate::clock::Clock;
use crate::commands::foundation::build_house;
use crate::exchange::oneroster::{self, List as Brought, Told, Wanted};
use crate::exchange::roster::MOST_BYTES;
use crate::ids::{ClassId, PersonId};
use crate::pages::answer::remarks;
use crate::pages::roster::import::{self, Looked, Orders};
use crate::pages::roster::told;
use crate::pages::{House, server};
use crate::settings::Settings;
use crate::store::people::accounts::email_key;
use crate::store::people::roster as record;
use crate::store::people::theirs::{self, Kind};
use crate::store::{AnyConnection, Scope};
use crate::trouble::Trouble;

/// What can be brought in.
#[derive(Debug, Subcommand)]
pub enum What {
    /// A class list (CSV, or a zip file that follows the OneRoster 1.2 CSV binding): print what it would do, and do it
    /// with --apply.
    Roster {
        file: PathBuf,
        /// The class's code, such as LIT-B.
        #[arg(long)]
        class: String,
        /// The term's name, such as “Autumn 2026”.
        #[arg(long)]
        term: String,
        /// Do what is printed. Nobody is withdrawn and nobody invited; that is done on the page of the class.
        #[arg(long)]
        apply: bool,
        /// The e-mail address of the instructor in whose name it is done, where the class has several.
        #[arg(long)]
        by: Option<String>,
    },
}

/// Runs the command.
///
/// # Errors
/// A sentence for the console.
pub fn run(what: &What) -> Result<(), String> {
    let What::Roster { file, class, term, apply, by } = what;
    let most = u64::try_from(MOST_BYTES).unwrap_or(u64::MAX);
    let reading = |error| format!("Reading {}: {error}", file.display());
    if std::fs::metadata(file).map_err(reading)?.len() > most {
        return Err(format!("{} has more than {most} bytes: split the list by listing.", file.display()));
    }
    let bytes = std::fs::read(file).map_err(reading)?;
    let house = build_house(Settings::from_environment()?, Clock::Machine)?;
    let order = Order { class, term, apply: *apply, by: by.as_deref() };
    let lines = server::block_on(bring(&house, bytes, &order))?;
    let mut out = std::io::stdout().lock();
    lines.iter().try_for_each(|line| writeln!(out, "{line}")).map_err(|error| error.to_string())
}

/// What is asked for on the command line.
#[derive(Debug, Clone, Copy)]
pub struct Order<'a> {
    /// The class's code.
    pub class: &'a str,
    /// The term's name.
    pub term: &'a str,
    pub apply: bool,
    /// An instructor's e-mail address.
    pub by: Option<&'a str>,
}

/// Looks at a list and does what it asks if so ordered; answers the lines to print.
///
/// # Errors
/// A sentence for the console.
pub async fn bring(house: &House, bytes: Vec<u8>, order: &Order<'_>) -> Result<Vec<String>, String> {
    let say = |trouble: Trouble| sentence(house, &trouble);
    let (code, term) = (order.class.to_owned(), order.term.to_owned());
    let found = house.db.read(move |db| record::class_called(db, &code, &term)).await.map_err(say)?;
    let (class, zone) =
        found.ok_or_else(|| format!("There is no class “{}” in a term “{}”.", order.class, order.term))?;
    let zone: chrono_tz::Tz = zone.parse().map_err(|error| format!("The term's zone: {error}"))?;
    let brought = unpacked(house, bytes, class, order.class, house.now().local_date(zone)).await?;
    if !order.apply {
        let look = move |db: &mut AnyConnection| import::look_with(db, class, &brought.csv, &brought.told);
        let looked = house.db.read(look).await.map_err(say)?;
        return Ok(told::lines(&looked, &house.speech));
    }
    let by = in_whose_name(house, class, order).await?;
    let orders = Orders {
        withdraw: Vec::new(),
        invite: None,
        today: house.now().local_date(zone),
        reason: house.speech.plain("roster-reason-console"),
        reason_withdrawn: house.speech.plain("roster-reason-withdrawn"),
    };
    let looked: Looked = house
        .db
        .write(Scope::Class(class), Some(by), house.now(), move |tx| {
            let looked = import::look_with(tx.connection, class, &brought.csv, &brought.told)?;
            if !looked.asks_for_nothing() {
                import::carry_out(tx, class, &looked, &orders)?;
            }
            Ok(looked)
        })
        .await
        .map_err(say)?;
    Ok(told::lines(&looked, &house.speech))
}

/// A package of the OneRoster CSV binding gives the list of this class; anything else is the list itself.
async fn unpacked(
    house: &House,
    bytes: Vec<u8>,
    class: ClassId,
    code: &str,
    today: NaiveDate,
) -> Result<Brought, String> {
    if !oneroster::is_package(&bytes).map_err(|remark| house.speech.remark(&remark))? {
        return Ok(Brought { csv: bytes, told: Told::default() });
    }
    let theirs = house.db.read(move |db| theirs::given(db, Kind::Class, &[class.as_str()])).await;
    let theirs = theirs.map_err(|trouble| sentence(house, &trouble))?;
    let theirs = theirs.get(class.as_str()).map(String::as_str);
    oneroster::list(&bytes, Wanted { id: class.as_str(), theirs, code }, today).map_err(|wrong| {
        wrong.iter().map(|remark| house.speech.remark(remark)).collect::<Vec<_>>().join("\n")
    })
}

/// The only instructor of the class, or the one named.
async fn in_whose_name(house: &House, class: ClassId, order: &Order<'_>) -> Result<PersonId, String> {
    let teachers = house.db.read(move |db| record::instructors(db, class)).await;
    let teachers = teachers.map_err(|trouble| sentence(house, &trouble))?;
    let named = order.by.map(email_key);
    match (named, teachers.as_slice()) {
        (None, [(only, _)]) => Ok(*only),
        (None, []) => Err("The class has no instructor yet. Let a keeper name one first.".to_owned()),
        (None, _) => Err("The class has several instructors: say in whose name with --by E-MAIL.".to_owned()),
        (Some(key), teachers) => teachers
            .iter()
            .find(|(_, email)| email.as_ref() == Some(&key))
            .map(|(id, _)| *id)
            .ok_or_else(|| format!("“{key}” is no instructor of this class. Check --by.")),
    }
}

fn sentence(house: &House, trouble: &Trouble) -> String {
    if let Trouble::Broken { doing, cause } = trouble {
        return format!("While {doing}: {cause}");
    }
    remarks(trouble).iter().map(|remark| house.speech.remark(remark)).collect::<Vec<_>>().join("\n")
}
