//! Tonight: who waits for the staff, what is ready for which station, what to put out, the roll. For students the line
//! in which they wait. Pages refresh by themselves through `news`.

pub mod askings;
pub mod listeners;
pub mod news;
pub mod own;
pub mod page;
mod put_out;
mod run_sheet;
