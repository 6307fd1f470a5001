//! How far raters agree, and how far the items of a test go together.
//!
//! Two raters who mark the same proofs: Cohen's kappa. Any number of raters, with gaps: Krippendorff's alpha.
//! Items meant to measure one thing: Cronbach's alpha. All are ratios of counts, sums and squares, so all are
//! exact here and rounded only when written. Where a coefficient has no value, because nothing varies, there
//! is none; 0 or 1 would be a claim.

mod cronbach;
mod kappa;
mod krippendorff;

use crate::trade::exact::Exact;
use crate::trade::remark::Remark;

pub use cronbach::{Consistency, cronbach};
pub use kappa::{Table, Weights, kappa};
pub use krippendorff::{Level, krippendorff};

/// A coefficient of agreement with what it was reckoned from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Coefficient {
    /// 1 is full agreement, 0 what chance gives; none when chance cannot disagree.
    pub value: Option<Exact>,
    /// Share of agreement seen (kappa), or disagreement seen (Krippendorff).
    pub observed: Exact,
    /// The same, as chance would give it.
    pub expected: Exact,
    /// The reckoning line by line.
    pub working: Vec<Remark>,
}

/// Refuses rows of different lengths.
fn same_lengths<T>(rows: &[Vec<T>]) -> Result<usize, Remark> {
    let wanted = rows.first().map_or(0, Vec::len);
    match rows.iter().position(|row| row.len() != wanted) {
        None => Ok(wanted),
        Some(place) => Err(Remark::new("agreement-rows-uneven")
            .with("row", count(place.saturating_add(1)))
            .with("has", count(rows.get(place).map_or(0, Vec::len)))
            .with("wanted", count(wanted))),
    }
}

fn count(number: usize) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX)
}
