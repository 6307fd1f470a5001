//! Tympan runs a plate lithography class: plates, etch logs, sign-offs, proofs, grades and the record.
pub mod chance;
pub mod clock;
pub mod commands;
pub mod exchange;
pub mod ids;
pub mod pages;
pub mod passwords;
pub mod photos;
pub mod post;
pub mod secrets;
pub mod settings;
pub mod speech;
pub mod store;
pub mod trade;
pub mod trouble;
