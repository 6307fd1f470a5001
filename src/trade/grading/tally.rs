//! Which items count, what they bring, and the sums.

use super::drops::{self, Part};
use super::{Category, CategoryResult, Item, Scheme, Status};
use crate::trade::exact::Exact;

/// What to take for work that is not yet marked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unmarked {
    /// It does not count.
    Left,
    /// It counts as 0.
    Nothing,
    /// It counts as full points, less the penalty for lateness already known.
    Full,
}

/// One category, added up.
#[derive(Debug)]
pub(super) struct Tally<'a> {
    pub(super) category: &'a Category,
    /// Counted items by their position in the category, with what each brings, dropped ones included.
    pub(super) counted: Vec<(usize, &'a Item, Exact)>,
    /// Positions in the category of those dropped.
    pub(super) dropped: Vec<usize>,
    /// Over the counted items that are not dropped; extra credit asks for nothing.
    pub(super) earned: Exact,
    pub(super) asked: Exact,
}

/// All categories, added up.
#[derive(Debug)]
pub(super) struct Total<'a> {
    pub(super) tallies: Vec<Tally<'a>>,
}

/// Adds up all categories.
pub(super) fn sum<'a>(scheme: &Scheme, categories: &'a [Category], unmarked: Unmarked) -> Total<'a> {
    Total { tallies: categories.iter().map(|category| tally(scheme, category, unmarked)).collect() }
}

impl Total<'_> {
    /// The weighted result in percent, over the categories in which something counts.
    pub(super) fn percent(&self) -> Option<Exact> {
        let weighted: Exact =
            self.tallies.iter().filter_map(|t| Some(&t.category.weight * &t.percent()?)).sum();
        weighted.over(&self.counted_weight())
    }

    /// Percent of the weight in which something counts.
    pub(super) fn counted_weight(&self) -> Exact {
        self.tallies.iter().filter(|tally| tally.counts()).map(|tally| &tally.category.weight).sum()
    }
}

impl<'a> Tally<'a> {
    /// Whether anything is asked for; extra credit alone is no result.
    pub(super) fn counts(&self) -> bool {
        !self.asked.is_zero()
    }

    pub(super) fn percent(&self) -> Option<Exact> {
        (&self.earned * &Exact::whole(100)).over(&self.asked)
    }

    pub(super) fn result(&self) -> CategoryResult {
        CategoryResult { percent: self.percent(), dropped: self.dropped.clone() }
    }

    /// The counted items that are not dropped, with what each brings.
    pub(super) fn kept(&self) -> impl Iterator<Item = (&'a Item, &Exact)> {
        self.counted
            .iter()
            .filter(|(place, _, _)| !self.dropped.contains(place))
            .map(|(_, item, earned)| (*item, earned))
    }
}

fn tally<'a>(scheme: &Scheme, category: &'a Category, unmarked: Unmarked) -> Tally<'a> {
    let counted: Vec<(usize, &Item, Exact)> = category
        .items
        .iter()
        .enumerate()
        .filter_map(|(place, item)| Some((place, item, brings(scheme, item, unmarked)?)))
        .collect();
    let beyond: Exact =
        counted.iter().filter(|(_, item, _)| item.extra_credit).map(|(_, _, earned)| earned).sum();
    let (places, parts): (Vec<usize>, Vec<Part>) = counted
        .iter()
        .filter(|(_, item, _)| !item.extra_credit)
        .map(|(place, item, earned)| (*place, Part { earned: earned.clone(), asked: item.points.clone() }))
        .unzip();
    let most = usize::try_from(category.drop_lowest).unwrap_or(usize::MAX);
    let dropped =
        drops::best(&parts, &beyond, most).iter().filter_map(|part| places.get(*part).copied()).collect();
    let mut tally = Tally { category, counted, dropped, earned: Exact::zero(), asked: Exact::zero() };
    tally.earned = tally.kept().map(|(_, earned)| earned).sum();
    tally.asked = tally.kept().filter(|(item, _)| !item.extra_credit).map(|(item, _)| &item.points).sum();
    tally
}

/// What an item brings after its penalty, or nothing if it does not count.
fn brings(scheme: &Scheme, item: &Item, unmarked: Unmarked) -> Option<Exact> {
    match (item.status, unmarked) {
        (Status::Graded, _) => item.score.as_ref().map(|score| less_penalty(scheme, item, score)),
        (Status::Missing, _) => scheme.missing_counts_zero.then(Exact::zero),
        (Status::Excused, _) | (Status::Pending, Unmarked::Left) => None,
        (Status::Pending, Unmarked::Nothing) => Some(Exact::zero()),
        (Status::Pending, Unmarked::Full) => Some(less_penalty(scheme, item, &item.points)),
    }
}

fn less_penalty(scheme: &Scheme, item: &Item, score: &Exact) -> Exact {
    match &scheme.late {
        Some(rule) => rule.on(score, &item.points, &item.lateness).left,
        None => score.clone(),
    }
}
