//! Cohen's kappa: agreement of two raters beyond chance (Cohen 1960; with weights, Cohen 1968).

use super::{Coefficient, count, same_lengths};
use crate::trade::exact::Exact;
use crate::trade::remark::Remark;

/// Counts, or proportions, of how two raters sorted the same things: a row for each category of the first, a
/// column for each category of the second, in the same order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table(Vec<Vec<Exact>>);

/// How much a disagreement weighs by the distance of the two categories.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Weights {
    /// Any disagreement is as bad as any other.
    Unweighted,
    /// In proportion to the distance.
    Linear,
    /// In proportion to its square.
    Quadratic,
    /// Given for each cell of the table, 0 for agreement.
    Given(Vec<Vec<Exact>>),
}

impl Table {
    /// A table from its rows.
    ///
    /// # Errors
    /// The table is not square, has a negative cell, or is empty.
    pub fn new(rows: Vec<Vec<Exact>>) -> Result<Self, Remark> {
        square(&rows, rows.len())?;
        if rows.iter().flatten().all(Exact::is_zero) {
            return Err(Remark::new("agreement-nothing-rated"));
        }
        Ok(Self(rows))
    }

    /// A table from pairs of ratings, each the position of a category.
    ///
    /// # Errors
    /// There is no pair, or a position is not below `categories`.
    pub fn of_pairs(pairs: &[(usize, usize)], categories: usize) -> Result<Self, Remark> {
        let mut rows = vec![vec![0_i64; categories]; categories];
        for (first, second) in pairs {
            let cell = rows.get_mut(*first).and_then(|row| row.get_mut(*second)).ok_or_else(|| {
                Remark::new("agreement-category-unknown").with("value", count(*first.max(second)))
            })?;
            *cell = cell.saturating_add(1);
        }
        Self::new(rows.into_iter().map(|row| row.into_iter().map(Exact::whole).collect()).collect())
    }

    fn row_sums(&self) -> Vec<Exact> {
        self.0.iter().map(|row| row.iter().sum()).collect()
    }

    fn column_sums(&self) -> Vec<Exact> {
        (0..self.0.len()).map(|column| self.0.iter().filter_map(|row| row.get(column)).sum()).collect()
    }
}

/// Reckons kappa: (observed - expected) / (1 - expected), where a cell agrees by 1 less its disagreement
/// weight over the greatest weight.
///
/// # Errors
/// Given weights do not fit the table, are negative, or call an agreement a disagreement.
pub fn kappa(table: &Table, weights: &Weights) -> Result<Coefficient, Remark> {
    let distances = distances(table.0.len(), weights)?;
    let greatest = distances.iter().flatten().max().filter(|most| !most.is_zero()).cloned();
    let greatest = greatest.unwrap_or_else(Exact::one);
    let all: Exact = table.row_sums().iter().sum();
    let (rows, columns) = (table.row_sums(), table.column_sums());
    let chance: Vec<Vec<Exact>> =
        rows.iter().map(|row| columns.iter().map(|column| row * column).collect()).collect();
    let agreement = |cells: &[Vec<Exact>], whole: &Exact| {
        let pairs = distances.iter().flatten().zip(cells.iter().flatten());
        let apart: Exact = pairs.map(|(distance, cell)| distance * cell).sum();
        &Exact::one() - &apart.over(&(whole * &greatest)).unwrap_or_else(Exact::zero)
    };
    let observed = agreement(&table.0, &all);
    let expected = agreement(&chance, &all.squared());
    let value = (&observed - &expected).over(&(&Exact::one() - &expected));
    let working = working(weights, &observed, &expected, value.as_ref());
    Ok(Coefficient { value, observed, expected, working })
}

fn working(weights: &Weights, observed: &Exact, expected: &Exact, value: Option<&Exact>) -> Vec<Remark> {
    let plain = *weights == Weights::Unweighted;
    let shares = Remark::new(if plain { "agreement-line-shares" } else { "agreement-line-shares-weighted" });
    let last = match value {
        Some(value) => Remark::new("agreement-line-kappa")
            .with("observed", observed.to_string())
            .with("expected", expected.to_string())
            .with("equals", value.equals(&[observed, expected]))
            .with("value", value.to_string()),
        None => Remark::new("agreement-line-kappa-none"),
    };
    vec![shares.with("observed", observed.to_string()).with("expected", expected.to_string()), last]
}

/// The disagreement weight of each cell.
fn distances(categories: usize, weights: &Weights) -> Result<Vec<Vec<Exact>>, Remark> {
    let apart = |first: usize, second: usize| Exact::whole(count(first.abs_diff(second)));
    let of = |distance: &dyn Fn(usize, usize) -> Exact| {
        (0..categories).map(|row| (0..categories).map(|column| distance(row, column)).collect()).collect()
    };
    match weights {
        Weights::Unweighted => Ok(of(&|row, column| Exact::whole(i64::from(row != column)))),
        Weights::Linear => Ok(of(&apart)),
        Weights::Quadratic => Ok(of(&|row, column| apart(row, column).squared())),
        Weights::Given(given) => {
            square(given, categories)?;
            let agree = given.iter().enumerate().filter_map(|(place, row)| row.get(place));
            match agree.into_iter().find(|weight| !weight.is_zero()) {
                None => Ok(given.clone()),
                Some(weight) => {
                    Err(Remark::new("agreement-weight-of-agreement").with("value", weight.to_string()))
                }
            }
        }
    }
}

/// Refuses what has not `size` rows of `size` cells, each 0 or more.
fn square(rows: &[Vec<Exact>], size: usize) -> Result<(), Remark> {
    let columns = same_lengths(rows)?;
    if rows.len() != size || columns != size {
        return Err(Remark::new("agreement-not-square")
            .with("rows", count(rows.len()))
            .with("columns", count(columns))
            .with("wanted", count(size)));
    }
    match rows.iter().flatten().find(|cell| cell.is_negative()) {
        None => Ok(()),
        Some(cell) => Err(Remark::new("agreement-cell-negative").with("value", cell.to_string())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table(rows: &[&[i64]]) -> Result<Table, Remark> {
        Table::new(rows.iter().map(|row| row.iter().map(|cell| Exact::whole(*cell)).collect()).collect())
    }

    #[test]
    fn full_agreement_is_one_and_one_category_is_nothing() {
        let all = kappa(&table(&[&[5, 0], &[0, 5]]).unwrap(), &Weights::Quadratic).unwrap();
        assert_eq!(all.value, Some(Exact::one()));
        for rows in [&[&[9_i64][..]][..], &[&[9, 0], &[0, 0]]] {
            let one = kappa(&table(rows).unwrap(), &Weights::Linear).unwrap();
            assert_eq!((one.value, one.expected), (None, Exact::one()));
            assert_eq!(one.working.last().unwrap().key, "agreement-line-kappa-none");
        }
    }

    #[test]
    fn pairs_make_the_same_table_as_counts() {
        let pairs = [(0, 0), (0, 1), (1, 1), (1, 1)];
        assert_eq!(Table::of_pairs(&pairs, 2).unwrap(), table(&[&[1, 1], &[0, 2]]).unwrap());
        assert_eq!(Table::of_pairs(&[(0, 2)], 2).unwrap_err().key, "agreement-category-unknown");
        assert_eq!(Table::of_pairs(&[], 2).unwrap_err().key, "agreement-nothing-rated");
    }

    #[test]
    fn tables_and_weights_without_sense_are_refused() {
        assert_eq!(table(&[&[1, 2], &[3]]).unwrap_err().key, "agreement-rows-uneven");
        assert_eq!(table(&[&[1, 2]]).unwrap_err().key, "agreement-not-square");
        assert_eq!(table(&[&[1, -2], &[3, 4]]).unwrap_err().key, "agreement-cell-negative");
        assert_eq!(table(&[&[0, 0], &[0, 0]]).unwrap_err().key, "agreement-nothing-rated");
        assert_eq!(table(&[]).unwrap_err().key, "agreement-nothing-rated");
        let two = table(&[&[1, 2], &[3, 4]]).unwrap();
        let given = |rows: &[&[i64]]| {
            Weights::Given(
                rows.iter().map(|row| row.iter().map(|cell| Exact::whole(*cell)).collect()).collect(),
            )
        };
        assert_eq!(kappa(&two, &given(&[&[0]])).unwrap_err().key, "agreement-not-square");
        assert_eq!(
            kappa(&two, &given(&[&[0, 1], &[1, 2]])).unwrap_err().key,
            "agreement-weight-of-agreement"
        );
    }
}
