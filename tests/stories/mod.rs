//! Whole jobs over HTTP against the running program.

mod accounts;
mod doors;
mod entrance;
mod plates;
mod safety;
