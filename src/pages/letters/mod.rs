//! Letters as pages: what was sent to whom, for the instructor of a class and for keepers; and the door in every daily
//! letter that stops it. What stands in a letter is on no page.

pub mod list;
pub mod stop;
