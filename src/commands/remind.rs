//! `tympan remind --once`: writes the daily letters of today that are still to be written, lets incompletes lapse whose day
//! is past, and delivers what is due. A
//! running server does the same by itself; this is for a school whose letters leave by a timer of the machine.

use crate::clock::Clock;
use crate::commands::foundation::{build_house, build_post, sentence, start_log};
use crate::pages::server;
use crate::settings::Settings;

/// Writes and delivers, and says how many letters there were.
///
/// # Errors
/// A sentence for the console.
pub fn run() -> Result<(), String> {
    let settings = Settings::from_environment()?;
    start_log(&settings.log);
    let house = build_house(settings, Clock::Machine)?;
    let post = build_post(&house)?;
    let (written, lapsed, sent) = server::block_on(async {
        let written = post.remind().await?;
        let lapsed = post.lapse().await?;
        Ok((written, lapsed, post.deliver_all().await?))
    })
    .map_err(sentence)?;
    eprintln!("{written} daily letter(s) written; {lapsed} incomplete(s) lapsed; {sent} letter(s) sent.");
    Ok(())
}
