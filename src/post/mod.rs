//! Letters: from a row of the outbox to something sent. `letters` writes them, `transport` carries them, `runner` does
//! both for what is due, `reminders` puts the daily letter into the outbox, `lapses` ends what runs out by itself.

pub mod address;
pub mod lapses;
pub mod letters;
pub mod reminders;
pub mod runner;
pub mod transport;
pub mod unsubscribing;
