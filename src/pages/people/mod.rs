//! Accounts: signing in and out, invitations, forgotten passwords, own sessions.

pub mod account;
pub mod entrance;
pub mod hall;
pub mod language;
pub mod links;
pub mod naming;
