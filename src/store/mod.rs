//! The record: connections, migrations, and for each subject its rows, its questions and its acts.
//! An act is one write transaction: the change, its journal row and its letters commit together or not at all.

pub mod classes;
pub mod connections;
pub mod copying;
pub mod etches;
pub mod exports;
pub mod grades;
pub mod health;
pub mod journal;
pub mod letters;
pub mod many;
pub mod migrations;
pub mod news;
pub mod once;
pub mod people;
pub mod plates;
pub mod proofs;
pub mod retention;
pub mod safety;
pub mod schema;
pub mod sittings;
pub mod standing;
pub mod studio;
pub mod tally;
pub mod tonight;
pub mod types;
pub mod write;

pub use connections::{AnyConnection, Db};
pub use types::Word;
pub use write::{Scope, Tx};
