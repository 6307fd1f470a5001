//! Grades: the rules and categories of a class, what is assessed, the scores, and the book that reckons from them.

pub mod assessments;
pub mod book;
pub mod categories;
pub mod rules;
pub mod scores;
