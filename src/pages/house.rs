//! The house: everything a page needs besides the request, built once at the start.

use std::sync::Arc;

use crate::clock::{Clock, Instant};
use crate::exchange::spool::Spool;
use crate::pages::limits::Limits;
use crate::pages::render::Templates;
use crate::pages::tonight::listeners::Listeners;
use crate::passwords::Passwords;
use crate::photos::darkroom::Darkroom;
use crate::secrets::ServerKey;
use crate::settings::Settings;
use crate::speech::Speech;
use crate::store::Db;
use crate::store::plates::procedures::Procedures;
use crate::trouble::Trouble;

/// Shared by all workers.
#[derive(Debug)]
pub struct House {
    pub settings: Settings,
    pub db: Db,
    pub clock: Clock,
    pub key: ServerKey,
    pub speech: Arc<Speech>,
    pub templates: Templates,
    pub passwords: Passwords,
    pub limits: Limits,
    pub darkroom: Darkroom,
    /// Procedure versions read so far.
    pub procedures: Procedures,
    /// Tables on their way out.
    pub spool: Spool,
    /// Pages that refresh by themselves.
    pub listeners: Arc<Listeners>,
}

impl House {
    /// Builds the house over an open database.
    ///
    /// # Errors
    /// The catalogue or a template does not parse, or there is no place for photos.
    pub fn build(settings: Settings, db: Db, clock: Clock, key: ServerKey) -> Result<Self, Trouble> {
        let speech = Arc::new(Speech::load().map_err(|error| Trouble::broken("reading the words", error))?);
        let templates = Templates::load()?;
        let darkroom = Darkroom::open(&settings)?;
        let passwords = Passwords::new(settings.quick_passwords)?;
        let spool = Spool::new(&settings.data);
        Ok(Self {
            settings,
            db,
            clock,
            key,
            speech,
            templates,
            passwords,
            limits: Limits::default(),
            darkroom,
            procedures: Procedures::default(),
            spool,
            listeners: Arc::default(),
        })
    }

    #[must_use]
    pub fn now(&self) -> Instant {
        self.clock.now()
    }
}
