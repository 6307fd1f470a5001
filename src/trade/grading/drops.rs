//! Which low scores to drop: the set whose absence gives the best result.
//!
//! With equal points this is the lowest scores. With unequal points it is not, and the best two need not
//! contain the best one (Kane and Kane, "Dropping lowest grades", Mathematics Magazine 79(3), 2006). Trying
//! subsets explodes; Dinkelbach's search does not: at a ratio r the best set to keep is found by sorting the
//! margins `earned - r x asked`, that set gives a better r, and a few rounds reach the best there is.

use crate::trade::exact::Exact;

/// One item of a category: what was earned and what it asks for (more than zero).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    pub earned: Exact,
    pub asked: Exact,
}

/// The positions to drop, in rising order: at most `most`, always leaving one, so that
/// (`beyond` + earned) / asked of the rest is greatest. `beyond` is what extra credit adds to every set.
/// An item whose absence gains nothing stays.
#[must_use]
pub fn best(parts: &[Part], beyond: &Exact, most: usize) -> Vec<usize> {
    let most = most.min(parts.len().saturating_sub(1));
    let mut rest = Rest::without(parts, beyond, &[]);
    loop {
        let dropped = lowest_margins(parts, &rest, most);
        let better = Rest::without(parts, beyond, &dropped);
        if !better.beats(&rest) {
            return dropped;
        }
        rest = better;
    }
}

/// What remains of a category: the ratio `earned / asked`, kept as its two sums.
struct Rest {
    earned: Exact,
    asked: Exact,
}

impl Rest {
    fn without(parts: &[Part], beyond: &Exact, dropped: &[usize]) -> Self {
        let kept =
            || parts.iter().enumerate().filter(|(place, _)| !dropped.contains(place)).map(|(_, part)| part);
        let earned: Exact = kept().map(|part| &part.earned).sum();
        Self { earned: &earned + beyond, asked: kept().map(|part| &part.asked).sum() }
    }

    /// Both sums of points are above zero, so the ratios compare by crossing over.
    fn beats(&self, other: &Self) -> bool {
        &self.earned * &other.asked > &other.earned * &self.asked
    }

    /// How far a part lies above this ratio, in units that are the same for all parts.
    fn margin(&self, part: &Part) -> Exact {
        &part.earned * &self.asked - &self.earned * &part.asked
    }
}

/// The at most `most` parts that lie furthest below the ratio.
fn lowest_margins(parts: &[Part], rest: &Rest, most: usize) -> Vec<usize> {
    let mut below: Vec<(Exact, usize)> = parts
        .iter()
        .enumerate()
        .map(|(place, part)| (rest.margin(part), place))
        .filter(|(margin, _)| margin.is_negative())
        .collect();
    below.sort();
    let mut dropped: Vec<usize> = below.into_iter().take(most).map(|(_, place)| place).collect();
    dropped.sort_unstable();
    dropped
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parts(scores: &[(i64, i64)]) -> Vec<Part> {
        scores
            .iter()
            .map(|(earned, asked)| Part { earned: Exact::whole(*earned), asked: Exact::whole(*asked) })
            .collect()
    }

    #[test]
    fn one_always_stays_and_equal_scores_are_left_alone() {
        assert_eq!(best(&parts(&[(0, 10)]), &Exact::zero(), 3), Vec::<usize>::new());
        assert_eq!(best(&parts(&[(1, 10), (2, 10), (3, 10)]), &Exact::zero(), 9), vec![0, 1]);
        assert_eq!(best(&parts(&[(8, 10), (8, 10)]), &Exact::zero(), 1), Vec::<usize>::new());
        assert_eq!(best(&[], &Exact::zero(), 1), Vec::<usize>::new());
    }

    #[test]
    fn extra_credit_can_make_a_full_score_worth_dropping() {
        // 10/10 and 20/20 with 5 beyond: 35/30, without the second 15/10, which is more.
        assert_eq!(best(&parts(&[(10, 10), (20, 20)]), &Exact::whole(5), 1), vec![1]);
    }
}
