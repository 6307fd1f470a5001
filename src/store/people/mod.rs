//! People and how they come in: accounts, sessions, one-time links.

pub mod accounts;
pub mod duties;
pub mod feeds;
pub mod links;
pub mod members;
pub mod persons;
pub mod roster;
pub mod school;
pub mod seats;
pub mod sessions;
pub mod theirs;
