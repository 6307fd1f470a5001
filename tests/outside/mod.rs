//! Checks against sources outside the project; the source stands beside each check.

mod grading;
mod pictures;
