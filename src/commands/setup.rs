//! `tympan setup` and `tympan rescue`: one-time links for whoever holds the machine. No password is ever typed on a
//! command line, and no account exists before somebody opens one.

use crate::clock::Clock;
use crate::commands::foundation::{build_house, sentence};
use crate::pages::{House, server};
use crate::settings::Settings;
use crate::store::Scope;
use crate::store::people::links::Purpose;
use crate::store::people::{accounts, school};
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

fn block_on<T>(work: impl Future<Output = Result<T, Trouble>>) -> Result<T, String> {
    server::block_on(work).map_err(sentence)
}

/// Prints the address that makes the school and its first keeper.
///
/// # Errors
/// There is a school already, or the database cannot be reached.
pub fn run() -> Result<(), String> {
    let house = build_house(Settings::from_environment()?, Clock::Machine)?;
    match block_on(set_up_address(&house))? {
        Some(address) => {
            eprintln!(
                "Open this address within 14 days to make the school and its first keeper; it works once:"
            );
            eprintln!("{address}");
            Ok(())
        }
        None => {
            Err("There is a school already. Use “tympan rescue E-MAIL” if its keeper cannot sign in.".into())
        }
    }
}

/// A fresh set-up address, if nobody is there yet.
///
/// # Errors
/// The database cannot be reached.
pub async fn set_up_address(house: &House) -> Result<Option<String>, Trouble> {
    let key = house.key.clone();
    let link = house
        .db
        .write(Scope::School, None, house.now(), move |tx| {
            if !school::is_empty(tx.connection)? {
                return Ok(None);
            }
            let link = tx.make_link(&key, Purpose::Setup, None)?;
            tx.journal("set-up.offered", link, &serde_json::json!({}))?;
            Ok(Some(link))
        })
        .await?;
    Ok(link.map(|link| {
        let secret = house.key.link_secret(Purpose::Setup.word(), link.as_str());
        format!("{}/links/{secret}", house.settings.public_url)
    }))
}

/// Prints an address that gives a person a new password: for a keeper who is locked out.
///
/// # Errors
/// Nobody has this e-mail, or the database cannot be reached.
pub fn rescue(email: &str) -> Result<(), String> {
    let house = build_house(Settings::from_environment()?, Clock::Machine)?;
    let address = block_on(rescue_address(&house, email))?
        .ok_or_else(|| format!("Nobody has the e-mail address “{email}”. Check its spelling."))?;
    eprintln!("Open this address within 30 minutes to choose a new password; it works once:");
    eprintln!("{address}");
    Ok(())
}

/// A fresh rescue address for a person.
///
/// # Errors
/// The database cannot be reached.
pub async fn rescue_address(house: &House, email: &str) -> Result<Option<String>, Trouble> {
    let (key, email) = (house.key.clone(), accounts::email_key(email));
    let link = house
        .db
        .write(Scope::School, None, house.now(), move |tx| {
            let Some(account) = accounts::by_email(tx.connection, &email)? else { return Ok(None) };
            let link = tx.make_link(&key, Purpose::Rescue, Some(account.id))?;
            tx.journal("account.rescued", account.id, &serde_json::json!({ "from": "console" }))?;
            Ok(Some(link))
        })
        .await?;
    Ok(link.map(|link| {
        let secret = house.key.link_secret(Purpose::Rescue.word(), link.as_str());
        format!("{}/links/{secret}", house.settings.public_url)
    }))
}
