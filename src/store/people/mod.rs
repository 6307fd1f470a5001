//! People and how they come in: accounts, sessions, one-time links.

pub mod accounts;
pub mod links;
pub mod members;
pub mod persons;
pub mod school;
pub mod sessions;
