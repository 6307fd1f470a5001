//! Grades: the rules and categories of a class, what is assessed, the scores, the book that reckons from them, and the
//! grades submitted from it.

pub mod assessments;
pub mod attainment;
pub mod book;
mod candidates;
pub mod categories;
pub mod criteria;
pub mod critiques;
pub mod evidence;
pub mod goals;
pub mod handing_back;
pub mod lapsing;
pub mod marks;
pub mod participation;
pub mod rules;
pub mod scores;
pub mod second_looks;
pub mod second_marking;
pub mod submitted;
pub mod submitting;
pub mod uncounted;
