//! At the table: one page for each running step, made for wet gloves and no signal; what it needs on the phone, the
//! entries that come back, and the page for a splash.

pub mod accounts;
pub mod beside;
pub mod card;
pub mod entry;
pub mod pack;
pub mod page;
pub mod splash;
pub mod tablet;
pub mod worker;
