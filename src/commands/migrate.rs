//! `tympan migrate`: brings the database to this program's schema.

use crate::commands::foundation::{make_folder, sentence};
use crate::settings::Settings;
use crate::store::connections::Address;
use crate::store::migrations;

/// Migrates and says how much there was to do.
///
/// # Errors
/// A sentence for the console.
pub fn run() -> Result<(), String> {
    let settings = Settings::from_environment()?;
    let address = Address::parse(&settings.database_url)
        .map_err(|problem| format!("Setting TYMPAN_DATABASE_URL: {problem}."))?;
    if let Address::Sqlite(path) = &address
        && let Some(folder) = path.parent()
    {
        make_folder(folder)?;
    }
    let run = migrations::migrate(&address).map_err(sentence)?;
    eprintln!("{run} migration(s) run; the database is at this program's schema.");
    Ok(())
}
