//! Whole jobs over HTTP against the running program.

mod doors;
mod entrance;
