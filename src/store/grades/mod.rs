//! Grades: the rules and categories of a class, what is assessed, the scores, and the book that reckons from them.

pub mod assessments;
pub mod book;
pub mod categories;
pub mod criteria;
pub mod critiques;
pub mod goals;
pub mod handing_back;
pub mod marks;
pub mod rules;
pub mod scores;
pub mod second_looks;
pub mod second_marking;
pub mod uncounted;
