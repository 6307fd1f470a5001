//! Whole jobs over HTTP against the running program.

mod accounts;
mod doors;
mod entrance;
mod grades;
mod letters;
mod plates;
mod reminders;
mod roster;
mod safety;
mod school;
mod sending;
