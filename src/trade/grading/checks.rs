//! What a grade cannot be reckoned from. Each complaint names the field, the value and what to do.

use super::{Category, Item, Lateness, Scheme, Status};
use crate::trade::exact::Exact;
use crate::trade::remark::Remark;

/// The rules of the class.
pub(super) fn scheme(scheme: &Scheme) -> Result<(), Remark> {
    scheme.rounding.check()?;
    let Some(late) = &scheme.late else { return Ok(()) };
    if late.percent_per_day.is_negative() || late.percent_per_day > Exact::whole(100) {
        return Err(Remark::new("grading-late-percent-bad").with("value", late.percent_per_day.to_string()));
    }
    if late.grace_hours.is_negative() {
        return Err(Remark::new("grading-grace-negative").with("value", late.grace_hours.to_string()));
    }
    Ok(())
}

/// The weights and every item.
pub(super) fn categories(categories: &[Category]) -> Result<(), Remark> {
    for category in categories {
        if category.weight.is_negative() {
            return Err(Remark::new("grading-weight-negative")
                .with("category", category.name.as_str())
                .with("value", category.weight.to_string()));
        }
        for item in &category.items {
            self::item(item).map_err(|remark| {
                remark.with("category", category.name.as_str()).with("item", item.title.as_str())
            })?;
        }
    }
    let sum: Exact = categories.iter().map(|category| &category.weight).sum();
    if sum == Exact::whole(100) {
        return Ok(());
    }
    Err(Remark::new("grading-weights-sum").with("value", sum.to_string()))
}

fn item(item: &Item) -> Result<(), Remark> {
    let points = item.points.to_string();
    if item.points.is_negative() || (item.points.is_zero() && !item.extra_credit) {
        return Err(Remark::new("grading-points-bad").with("value", points));
    }
    match &item.score {
        Some(score) if score.is_negative() => {
            return Err(Remark::new("grading-score-negative").with("value", score.to_string()));
        }
        Some(score) if *score > item.points && !item.extra_credit => {
            return Err(Remark::new("grading-score-above-points")
                .with("value", score.to_string())
                .with("points", points));
        }
        None if item.status == Status::Graded => return Err(Remark::new("grading-score-absent")),
        _ => {}
    }
    match &item.lateness {
        Lateness::Hours(hours) if hours.is_negative() => {
            Err(Remark::new("grading-hours-late-negative").with("value", hours.to_string()))
        }
        _ => Ok(()),
    }
}
