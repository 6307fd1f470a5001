//! What people see: `doors` is the one table of routes; `gate` and `entry` say who is asking; `forms` reads what they
//! typed; `answer` and `render` write the page; then one file per subject.

pub mod acts;
pub mod answer;
pub mod assets;
pub mod bring_back;
pub mod classes;
pub mod controls;
pub mod doors;
pub mod entry;
pub mod etches;
pub mod exports;
pub mod fields;
pub mod forms;
pub mod gate;
pub mod grades;
pub mod health;
pub mod help;
pub mod house;
pub mod letters;
pub mod limits;
pub mod mixing;
pub mod overview;
pub mod people;
pub mod plans;
pub mod plates;
pub mod procedures;
pub mod proofs;
pub mod reasons;
pub mod render;
pub mod roster;
pub mod safety;
pub mod server;
pub mod sittings;
pub mod studio;
pub mod tonight;
pub mod upload;

pub use crate::speech::dates;
pub use answer::{Reply, see_other};
pub use entry::{Ask, InClass, Seat, Who};
pub use forms::{Filled, Sheet};
pub use house::House;
