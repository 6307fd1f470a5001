//! Tympan runs a plate lithography class: plates, etch logs, sign-offs, proofs, grades and the record.
pub mod commands;
pub mod speech;
pub mod trade;
