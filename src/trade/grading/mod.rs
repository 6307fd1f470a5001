//! Grades: from scores to a percent, a letter and the lines a student can follow by hand.
//!
//! A category's result is what was earned over what was asked in its counted items, after late penalties and
//! without the scores that are dropped. The total weighs the categories in which something counts; the weight
//! of the others is shared out among them in proportion. Everything is exact; the total is rounded once, and
//! the letter is read from the rounded value.

mod checks;
pub mod drops;
pub mod penalty;
pub mod points;
pub mod scale;
mod tally;
mod working;

use crate::spelled;
use crate::trade::exact::{Exact, Rounding};
use crate::trade::remark::Remark;

pub use penalty::{LateRule, Lateness, Of};
pub use scale::{Scale, Step};

use tally::{Unmarked, sum};

/// What a class settles once about its grades.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scheme {
    /// None: lateness costs nothing.
    pub late: Option<LateRule>,
    /// Whether work not handed in counts as 0 or not at all.
    pub missing_counts_zero: bool,
    /// How the total percent is rounded before the letter is read.
    pub rounding: Rounding,
    pub scale: Scale,
}

/// A group of items that share one weight.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Category {
    pub name: String,
    /// Percent of the total; [`Exact::percent_from_basis_points`] from what is stored.
    pub weight: Exact,
    /// At most so many items are dropped, always leaving one.
    pub drop_lowest: u32,
    pub items: Vec<Item>,
}

/// One piece of work of one student.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    pub title: String,
    /// Points it can bring; [`Exact::hundredths`] from what is stored.
    pub points: Exact,
    /// Points it did bring; read only when it is graded.
    pub score: Option<Exact>,
    pub status: Status,
    pub lateness: Lateness,
    /// Its score is added but its points are not asked for.
    pub extra_credit: bool,
}

spelled!(
    /// Where a piece of work stands.
    Status {
        /// Marked: it has a score.
        Graded = "graded",
        /// Never counts.
        Excused = "excused",
        /// Not handed in.
        Missing = "missing",
        /// Not yet marked.
        Pending = "pending",
    }
);

/// A grade and how it came about. Percents are exact; the texts round them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Grade {
    /// None when nothing counts yet.
    pub percent: Option<Exact>,
    /// The percent, rounded as the class rounds; what the letter is read from.
    pub rounded: Option<Exact>,
    pub rounding: Rounding,
    pub letter: Option<String>,
    /// Percent of the weight that has something counted: "from N % of the weight".
    pub counted_weight: Exact,
    /// With all work not yet marked at 0, drops chosen anew.
    pub possible_low: Option<Exact>,
    /// With all work not yet marked at full points (less what is known to be late), drops chosen anew.
    pub possible_high: Option<Exact>,
    /// One for each category, in their order.
    pub categories: Vec<CategoryResult>,
    /// The reckoning line by line.
    pub working: Vec<Remark>,
}

/// The result of one category.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CategoryResult {
    /// None when nothing counts yet.
    pub percent: Option<Exact>,
    /// Positions, in the category, of the items that were dropped.
    pub dropped: Vec<usize>,
}

/// Percents are written with so many places when they are not rounded by the class's rule.
pub const PERCENT_TEXT: Rounding = Rounding::half_up(4);

impl Grade {
    /// The percent with four places.
    #[must_use]
    pub fn percent_text(&self) -> Option<String> {
        self.percent.as_ref().map(|percent| percent.text(PERCENT_TEXT))
    }

    /// The rounded percent with the places the class asks for.
    #[must_use]
    pub fn rounded_text(&self) -> Option<String> {
        self.rounded.as_ref().map(|percent| percent.text(self.rounding))
    }

    /// The least that is still possible, with four places.
    #[must_use]
    pub fn possible_low_text(&self) -> Option<String> {
        self.possible_low.as_ref().map(|percent| percent.text(PERCENT_TEXT))
    }

    /// The most that is still possible, with four places.
    #[must_use]
    pub fn possible_high_text(&self) -> Option<String> {
        self.possible_high.as_ref().map(|percent| percent.text(PERCENT_TEXT))
    }
}

/// Reckons one student's grade.
///
/// # Errors
/// The weights do not add up to 100, or a rule, weight, points, score or lateness makes no sense; the remark
/// names it.
pub fn reckon(scheme: &Scheme, categories: &[Category]) -> Result<Grade, Remark> {
    checks::scheme(scheme)?;
    checks::categories(categories)?;
    let now = sum(scheme, categories, Unmarked::Left);
    let percent = now.percent();
    let rounded = percent.as_ref().map(|percent| percent.rounded(scheme.rounding));
    let letter = rounded.as_ref().and_then(|rounded| scheme.scale.step(rounded));
    let possible_low = sum(scheme, categories, Unmarked::Nothing).percent();
    let possible_high = sum(scheme, categories, Unmarked::Full).percent();
    let possible = working::Possible { low: possible_low.as_ref(), high: possible_high.as_ref() };
    Ok(Grade {
        working: working::lines(scheme, &now, &possible),
        letter: letter.map(|step| step.letter.clone()),
        rounding: scheme.rounding,
        counted_weight: now.counted_weight(),
        possible_low,
        possible_high,
        categories: now.tallies.iter().map(tally::Tally::result).collect(),
        percent,
        rounded,
    })
}

#[cfg(test)]
mod tests;
