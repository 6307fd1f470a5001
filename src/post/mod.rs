//! Letters: from a row of the outbox to something sent.

pub mod address;
