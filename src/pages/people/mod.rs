//! Accounts: signing in and out, invitations, forgotten passwords, own sessions.

pub mod entrance;
