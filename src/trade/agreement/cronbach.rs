//! Cronbach's alpha: how far the items of a test or a set of criteria go together.

use super::{count, same_lengths};
use crate::trade::exact::Exact;
use crate::trade::remark::Remark;

/// The coefficient with the variances it was reckoned from (n - 1 in the denominator).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Consistency {
    /// None when all persons have the same total.
    pub alpha: Option<Exact>,
    /// Of each item, in order.
    pub item_variances: Vec<Exact>,
    /// Of the persons' totals.
    pub total_variance: Exact,
    /// The reckoning line by line.
    pub working: Vec<Remark>,
}

/// Reckons k / (k - 1) x (1 - sum of the item variances / variance of the totals) from a row for each person
/// and a column for each of the k items.
///
/// # Errors
/// Rows differ in length, or there are fewer than two persons or two items.
pub fn cronbach(scores: &[Vec<Exact>]) -> Result<Consistency, Remark> {
    let items = same_lengths(scores)?;
    if items < 2 || scores.len() < 2 {
        return Err(Remark::new("agreement-too-few-scores")
            .with("persons", count(scores.len()))
            .with("items", count(items)));
    }
    let item_variances: Vec<Exact> = (0..items)
        .map(|item| variance(&scores.iter().filter_map(|row| row.get(item)).cloned().collect::<Vec<_>>()))
        .collect();
    let total_variance = variance(&scores.iter().map(|row| row.iter().sum()).collect::<Vec<_>>());
    let parts: Exact = item_variances.iter().sum();
    let items = Exact::whole(count(items));
    let spread = items.over(&(&items - &Exact::one())).unwrap_or_else(Exact::one);
    let alpha = parts.over(&total_variance).map(|share| spread * (Exact::one() - share));
    let line = match &alpha {
        Some(alpha) => Remark::new("agreement-line-cronbach")
            .with("items", items.to_string())
            .with("parts", parts.to_string())
            .with("total", total_variance.to_string())
            .with("equals", alpha.equals(&[&parts, &total_variance]))
            .with("value", alpha.to_string()),
        None => Remark::new("agreement-line-cronbach-none"),
    };
    Ok(Consistency { alpha, item_variances, total_variance, working: vec![line] })
}

/// The sample variance of at least two numbers.
fn variance(numbers: &[Exact]) -> Exact {
    let many = Exact::whole(count(numbers.len()));
    let mean = numbers.iter().sum::<Exact>().over(&many).unwrap_or_else(Exact::zero);
    let squares: Exact = numbers.iter().map(|number| (number - &mean).squared()).sum();
    squares.over(&(many - Exact::one())).unwrap_or_else(Exact::zero)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scores(rows: &[&[i64]]) -> Vec<Vec<Exact>> {
        rows.iter().map(|row| row.iter().map(|score| Exact::whole(*score)).collect()).collect()
    }

    #[test]
    fn items_that_move_as_one_give_one_and_equal_totals_give_nothing() {
        assert_eq!(cronbach(&scores(&[&[1, 1], &[2, 2], &[4, 4]])).unwrap().alpha, Some(Exact::one()));
        let equal = cronbach(&scores(&[&[1, 3], &[3, 1]])).unwrap();
        assert_eq!(equal.alpha, None);
        assert_eq!(equal.working.last().unwrap().key, "agreement-line-cronbach-none");
    }

    #[test]
    fn too_few_or_uneven_scores_are_refused() {
        for rows in [&[][..], &[&[1, 2][..]], &[&[1], &[2]]] {
            assert_eq!(cronbach(&scores(rows)).unwrap_err().key, "agreement-too-few-scores");
        }
        assert_eq!(cronbach(&scores(&[&[1, 2], &[1]])).unwrap_err().key, "agreement-rows-uneven");
    }
}
