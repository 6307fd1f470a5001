//! Writing letters: from a row of the outbox and what stands in the record to a finished message of RFC 5322.
//!
//! A kind of letter is a member of `store::letters::Kind`, what it says in `contents`, and three templates in
//! `templates/letters/<kind>/`: `subject.txt.hbs`, `body.txt.hbs`, `body.html.hbs`. Their words stand in the catalogue
//! under `letters-<kind>-…`.

pub mod brief;
pub mod contents;
pub mod layout;
mod sealing;
mod templates;
#[cfg(test)]
mod tests;

pub use brief::{Brief, Briefed, Drop, brief};
pub use sealing::host_of;
pub use templates::{Part, Templates};

use std::sync::Arc;

use lettre::message::Mailbox;

use crate::clock::Instant;
use crate::post::address;
use crate::post::transport::Sealed;
use crate::post::unsubscribing;
use crate::secrets::ServerKey;
use crate::settings::Settings;
use crate::speech::Speech;
use crate::speech::language::Language;
use crate::trouble::Trouble;

/// What is needed to write letters.
#[derive(Debug)]
pub struct Desk {
    pub(crate) key: ServerKey,
    pub(crate) speech: Arc<Speech>,
    templates: Templates,
    from: Mailbox,
    pub(crate) public_url: String,
}

impl Desk {
    /// Reads the templates and the sender's address.
    ///
    /// # Errors
    /// A sentence for the console.
    pub fn new(settings: &Settings, key: ServerKey, speech: Arc<Speech>) -> Result<Self, String> {
        let from = address::sender(&settings.mail_from).ok_or_else(|| {
            format!(
                "Setting TYMPAN_MAIL_FROM: “{}” is no sender. Example: TYMPAN_MAIL_FROM=Print studio \
                 <studio@college.example>",
                settings.mail_from
            )
        })?;
        let templates =
            Templates::load(&speech).map_err(|trouble| format!("Reading the letters: {trouble:?}"))?;
        Ok(Self { key, speech, templates, from, public_url: settings.public_url.clone() })
    }

    /// Writes a letter, in the language of whom it is for. The same brief gives the same Message-ID, whoever writes it
    /// and whenever.
    ///
    /// # Errors
    /// The row's detail does not fit its kind, a word is missing, or the address is none.
    pub fn write(&self, brief: &Brief, now: Instant) -> Result<Sealed, Trouble> {
        let language = brief.to.language.map_or(Language::English, |language| language.0);
        language.during(|| self.write_at_hand(brief, now))
    }

    fn write_at_hand(&self, brief: &Brief, now: Instant) -> Result<Sealed, Trouble> {
        let view = contents::view(self, brief)?;
        let kind = brief.claim.kind;
        let subject = self.templates.fill(kind, Part::Subject, &view)?;
        let text = self.templates.fill(kind, Part::Text, &view)?;
        let page = sealing::Page {
            id: brief.claim.letter,
            to: sealing::mailbox(&brief.to)?,
            subject: layout::one_line(&subject),
            text: layout::set(&text),
            html: self.templates.fill(kind, Part::Html, &view)?,
            stop: unsubscribing::address(&self.key, &self.public_url, brief.claim.person, kind),
        };
        sealing::seal(page, &self.from, &self.public_url, now)
    }
}
