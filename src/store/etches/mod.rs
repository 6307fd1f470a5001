//! Etch logs: what was mixed and how long it was on the plate, as told at the table, with the figures of the containers
//! as they were then; corrections as new entries; and how each etch came up.

pub mod came_up;
pub mod entries;
pub mod logs;
pub mod mixture;
pub mod recording;
mod rows;
