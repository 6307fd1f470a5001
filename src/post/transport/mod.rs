//! How a finished letter leaves the house: by SMTP, as a file in a folder, or into memory for tests. A transport blocks,
//! so it is used on threads that may.

mod folder;
mod memory;
mod smtp;

pub use folder::Folder;
pub use memory::{Answer, Memory};
pub use smtp::Smtp;

use std::sync::Arc;

use lettre::address::Envelope;

use crate::ids::LetterId;
use crate::settings::Settings;

/// A letter as it leaves: every line of it written.
#[derive(Debug, Clone)]
pub struct Sealed {
    pub id: LetterId,
    pub envelope: Envelope,
    /// The whole message in the form of RFC 5322, lines ended by CR LF.
    pub bytes: Vec<u8>,
}

/// Why a transport did not take a letter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    pub lasting: Lasting,
    /// What was said, in the words of the other side: one line without control characters, no secret in it.
    pub words: String,
}

/// Whether a refusal may pass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lasting {
    /// This letter will never be taken.
    ForGood,
    /// This letter may be taken later.
    ForNow,
    /// No letter would be taken now: the other side is not reached, or does not know us.
    Everything,
}

impl Refusal {
    /// A refusal with its words made fit for a line of the database: one line, at most 300 characters.
    #[must_use]
    pub fn new(lasting: Lasting, words: &str) -> Self {
        let words: String = words.chars().map(|c| if c.is_control() { ' ' } else { c }).take(300).collect();
        Self { lasting, words: words.split_whitespace().collect::<Vec<_>>().join(" ") }
    }
}

/// Something that takes letters.
pub trait Transport: Send + Sync + std::fmt::Debug {
    /// Hands a letter over. Returns only when the other side has said yes; may block for minutes.
    ///
    /// # Errors
    /// It was not taken, or nobody knows whether it was.
    fn hand_over(&self, letter: &Sealed) -> Result<(), Refusal>;
}

/// The transport of the settings: SMTP if there is a server, else a folder of files.
///
/// # Errors
/// A sentence that names the setting.
pub fn from_settings(settings: &Settings) -> Result<Arc<dyn Transport>, String> {
    match &settings.smtp_url {
        Some(url) => Ok(Arc::new(Smtp::new(url, settings.smtp_ca_file.as_deref())?)),
        None => Ok(Arc::new(Folder::new(settings.data.join("letters")))),
    }
}
