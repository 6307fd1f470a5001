//! `tympan restore`: an archive back into an empty Tympan, so that its classes can be read in pages again.

use std::fs::File;
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::{Arc, Mutex};

use crate::clock::Clock;
use crate::commands::export::Fault;
use crate::commands::foundation::{build_house, sentence};
use crate::exchange::archive::checking::{self, LIMITS};
use crate::exchange::archive::reading_back;
use crate::exchange::parcel::Parcel;
use crate::pages::{House, server};
use crate::settings::Settings;
use crate::store::Scope;
use crate::store::people::accounts;
use crate::store::people::links::Purpose;
use crate::store::people::persons::{NewPerson, Right};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// What is to be read back.
#[derive(Debug, Clone, clap::Args)]
pub struct Order {
    /// The archive.
    #[arg(long)]
    pub from: PathBuf,
    /// The e-mail address of whoever is to be keeper; an address to open the account is printed.
    #[arg(long)]
    pub keeper: String,
}

/// Runs the command.
#[must_use]
pub fn run(order: &Order) -> ExitCode {
    Fault::exit(try_run(order))
}

fn try_run(order: &Order) -> Result<(), Fault> {
    let settings = Settings::from_environment().map_err(Fault::Failed)?;
    let house = build_house(settings, Clock::Machine).map_err(Fault::Failed)?;
    let (said, address) = server::block_on(read_back(&house, order))?;
    eprintln!("{said}");
    eprintln!(
        "Open this address within 30 minutes to choose the keeper's password; it works once:\n{address}"
    );
    Ok(())
}

/// Checks the archive from end to end, then reads it back. Says what came of it, and where the keeper goes.
///
/// # Errors
/// Something is here already, the archive is not whole, or a row does not fit; then no row is kept.
pub async fn read_back(house: &House, order: &Order) -> Result<(String, String), Fault> {
    let failed = |trouble: Trouble| match trouble {
        Trouble::Refused(remark) => Fault::Asked(house.speech.remark(&remark)),
        other => Fault::Failed(sentence(other)),
    };
    if !house.db.read(crate::store::people::school::is_empty).await.map_err(failed)? {
        return Err(failed(Trouble::Refused(Remark::new("restore-not-empty"))));
    }
    let at = order.from.display();
    let say = |wrong: Vec<Remark>| {
        let lines: Vec<String> = wrong.iter().map(|remark| house.speech.remark(remark)).collect();
        Fault::Asked(format!("{at}: {}", lines.join("\n")))
    };
    let file = File::open(&order.from).map_err(|error| Fault::Failed(format!("{at}: {error}")))?;
    let mut parcel = Parcel::open(file, LIMITS).map_err(|remark| say(vec![remark]))?;
    let about = checking::check(&mut parcel).map_err(say)?.about;
    let pictures =
        reading_back::lay_out(&mut parcel, &*house.darkroom.shelf(), &house.papers()).map_err(failed)?;
    let rows = reading_back::take_in(&house.db, Arc::new(Mutex::new(parcel)), &about, house.now())
        .await
        .map_err(failed)?;
    let address = seat_keeper(house, &order.keeper).await.map_err(failed)?;
    Ok((format!("Read back: {rows} rows and {pictures} pictures, as of {}.", about.as_of), address))
}

/// Makes somebody keeper, a new person where nobody has the address, and gives the address that opens the account.
async fn seat_keeper(house: &House, email: &str) -> Result<String, Trouble> {
    let (key, email) = (house.key.clone(), email.trim().to_owned());
    let link = house
        .db
        .write(Scope::School, None, house.now(), move |tx| {
            let known = accounts::by_email(tx.connection, &accounts::email_key(&email))?;
            let id = match known {
                Some(account) => account.id,
                None => tx.add_person(&NewPerson {
                    given_name: "Keeper".to_owned(),
                    family_name: email.clone(),
                    email: Some(email.clone()),
                    student_number: None,
                })?,
            };
            tx.set_right(id, Right::Keeper, true)?;
            tx.make_link(&key, Purpose::Rescue, Some(id))
        })
        .await?;
    let secret = house.key.link_secret(Purpose::Rescue.word(), link.as_str());
    Ok(format!("{}/links/{secret}", house.settings.public_url))
}
