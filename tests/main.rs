//! The one integration-test binary: outside sources, stories over HTTP, faults, and the rules of the house.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::cast_possible_truncation,
    clippy::too_many_lines,
    reason = "a test that panics is a test that fails; the lints' own exception covers #[test] functions only"
)]

mod house;
mod outside;
mod stories;
mod studio;
