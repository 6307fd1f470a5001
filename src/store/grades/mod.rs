//! Grades: the rules and categories of a class, what is assessed, the scores, the book that reckons from them, and the
//! grades submitted from it.

pub mod assessments;
pub mod book;
pub mod categories;
pub mod evidence;
pub mod lapsing;
pub mod participation;
pub mod rules;
pub mod scores;
pub mod submitted;
pub mod submitting;
