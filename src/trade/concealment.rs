//! Counts of people for a review, in which no small group can be made out: a count below the least is hidden, and so many
//! others with it that none of the hidden ones follows from the total, not even for somebody who knows this rule.
//!
//! Hiding small cells and then further ones is common in statistics (primary and complementary suppression); the order
//! in which further cells are hidden is ours, and a test tries all tables of a size by brute force.

/// Counts below this are hidden: common practice in published school statistics, no published source.
pub const LEAST: u64 = 5;

/// A row of counts as it may be shown.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Shown {
    /// None where it is hidden.
    pub cells: Vec<Option<u64>>,
    /// None where there are too few people to say even how many.
    pub total: Option<u64>,
}

/// Hides what has to be hidden in one row whose total is shown.
#[must_use]
pub fn conceal(counts: &[u64]) -> Shown {
    shown(counts, &mask(counts))
}

/// Hides what has to be hidden in rows that tell of the same people, such as a goal and the criteria that show it: a place
/// that is hidden in one is hidden in all, so that no row gives away what another hides.
#[must_use]
pub fn conceal_together(rows: &[Vec<u64>]) -> Vec<Shown> {
    let mut all: Vec<bool> = vec![false; rows.iter().map(Vec::len).max().unwrap_or(0)];
    for row in rows {
        for (hidden, own) in all.iter_mut().zip(mask(row)) {
            *hidden |= own;
        }
    }
    rows.iter().map(|row| shown(row, &all)).collect()
}

/// Which cells of a row are hidden; all of them where there are too few people.
fn mask(counts: &[u64]) -> Vec<bool> {
    if counts.iter().sum::<u64>() < LEAST {
        return vec![true; counts.len()];
    }
    let mut hidden: Vec<bool> = counts.iter().map(|count| *count < LEAST).collect();
    while hidden.contains(&true) && !enough(counts, &hidden) {
        // By place and not by size, so that which cell was chosen tells nothing about it.
        let Some(next) = nearest_shown(&hidden) else { break };
        if let Some(cell) = hidden.get_mut(next) {
            *cell = true;
        }
    }
    hidden
}

fn shown(counts: &[u64], hidden: &[bool]) -> Shown {
    let total: u64 = counts.iter().sum();
    if total < LEAST {
        return Shown { cells: vec![None; counts.len()], total: None };
    }
    let cells = counts.iter().zip(hidden).map(|(count, hidden)| (!hidden).then_some(*count)).collect();
    Shown { cells, total: Some(total) }
}

/// Two cells at least, with enough people in them, and not all of them as large as a small one can be.
fn enough(counts: &[u64], hidden: &[bool]) -> bool {
    let those = || counts.iter().zip(hidden).filter(|(_, hidden)| **hidden).map(|(count, _)| *count);
    those().count() >= 2 && those().sum::<u64>() >= 2 * LEAST && those().any(|count| count != LEAST - 1)
}

/// The shown cell next to a hidden one, the first of several.
fn nearest_shown(hidden: &[bool]) -> Option<usize> {
    let far = |place: usize| {
        let others = hidden.iter().enumerate().filter(|(_, hidden)| **hidden);
        others.map(|(other, _)| other.abs_diff(place)).min().unwrap_or(usize::MAX)
    };
    let shown = hidden.iter().enumerate().filter(|(_, hidden)| !**hidden);
    shown.map(|(place, _)| (far(place), place)).min().map(|(_, place)| place)
}

#[cfg(test)]
mod tests {
    use std::collections::{HashMap, HashSet};

    use super::*;

    fn rows_of(cells: usize, most: u64) -> Vec<Vec<u64>> {
        let mut rows: Vec<Vec<u64>> = vec![Vec::new()];
        for _ in 0..cells {
            rows = rows
                .into_iter()
                .flat_map(|row| {
                    let left = most - row.iter().sum::<u64>();
                    (0..=left).map(move |count| {
                        let mut row = row.clone();
                        row.push(count);
                        row
                    })
                })
                .collect();
        }
        rows
    }

    /// By brute force: all rows that look the same are laid side by side; whoever knows the rule knows no more than that
    /// the true one is among them. Every hidden cell has at least two values there, so none can be had by subtraction.
    #[test]
    fn no_hidden_cell_can_be_derived() {
        for (cells, most) in [(2, 30), (3, 30), (4, 20)] {
            let mut alike: HashMap<Shown, Vec<Vec<u64>>> = HashMap::new();
            for row in rows_of(cells, most) {
                alike.entry(conceal(&row)).or_default().push(row);
            }
            for (shown, rows) in alike {
                for place in 0..cells {
                    if shown.cells[place].is_some() {
                        continue;
                    }
                    let values: HashSet<u64> = rows.iter().map(|row| row[place]).collect();
                    assert!(values.len() >= 2, "{shown:?} gives cell {place} away: {rows:?}");
                }
            }
        }
    }

    /// The same for two rows that are hidden together.
    #[test]
    fn no_row_gives_away_what_another_hides() {
        let rows = rows_of(3, 14);
        let mut alike: HashMap<Vec<Shown>, Vec<[&Vec<u64>; 2]>> = HashMap::new();
        for one in &rows {
            for other in &rows {
                alike.entry(conceal_together(&[one.clone(), other.clone()])).or_default().push([one, other]);
            }
        }
        for (shown, pairs) in alike {
            for (row, place) in (0..2).flat_map(|row| (0..3).map(move |place| (row, place))) {
                if shown[row].cells[place].is_none() {
                    let values: HashSet<u64> = pairs.iter().map(|pair| pair[row][place]).collect();
                    assert!(values.len() >= 2, "{shown:?} gives cell {place} of row {row} away");
                }
            }
            let hidden = |row: usize| shown[row].cells.iter().map(Option::is_none).collect::<Vec<_>>();
            if shown.iter().all(|row| row.total.is_some()) {
                assert_eq!(hidden(0), hidden(1), "{shown:?}");
            }
        }
        let alone = vec![9, 12, 0, 7];
        assert_eq!(conceal_together(std::slice::from_ref(&alone)), [conceal(&alone)]);
    }

    #[test]
    fn small_counts_are_hidden_and_large_ones_shown() {
        for row in rows_of(4, 20) {
            let shown = conceal(&row);
            for (count, cell) in row.iter().zip(&shown.cells) {
                assert!(*count >= LEAST || cell.is_none(), "{row:?} shows {count}");
                assert!(cell.is_none_or(|cell| cell == *count), "{row:?} is told wrongly");
            }
            assert_eq!(shown.total.is_none(), row.iter().sum::<u64>() < LEAST);
        }
        assert_eq!(conceal(&[5, 6, 7, 9]).cells, [Some(5), Some(6), Some(7), Some(9)]);
        assert_eq!(
            conceal(&[9, 12, 0, 0]).cells,
            [Some(9), None, None, None],
            "a lone group is not told by its zeros"
        );
        assert_eq!(conceal(&[]), Shown { cells: Vec::new(), total: None });
    }
}
