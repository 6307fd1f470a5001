//! Packages that follow the OneRoster 1.2 CSV binding: a class as one, and a class list out of one. Layout, writer and
//! reader are one table; what is ours and what theirs is said in `from_class` and `to_list`, and `given` keeps what their ids are.

mod from_class;
mod given;
mod layout;
mod package;
mod to_list;

pub use from_class::of_class;
pub use given::{Given, Keep, Told};
pub use package::Package;
pub use to_list::{List, Wanted, is_package, list};
