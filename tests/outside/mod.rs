//! Checks against sources outside the project; the source stands beside each check.

mod agreement;
mod etch;
mod grading;
mod pictures;
mod planning;
mod planning_told;
mod press;
mod procedure;
mod tables;
