//! An evening at the stations: in which order pieces of work go onto one kind of station, and when each gets its turn.
//!
//! On one unit, with everything ready, the order is the best there is in this sense: nobody begins later after their
//! latest start than some order makes unavoidable (J. R. Jackson 1955: go by due dates), and of all such orders it is
//! the one in which people wait least in all (W. E. Smith 1956: from the last turn backwards, the longest piece that may
//! be last). With more units, or where something is ready only later, the same order is gone through and claims nothing.

use super::Millis;

/// One piece of work at a station.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Piece {
    /// It cannot begin sooner.
    pub ready: Millis,
    /// How long it takes, hands on.
    pub takes: Millis,
    /// When it has to begin at the latest.
    pub start_by: Option<Millis>,
}

/// When a piece gets its turn, and on which unit, counted from zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Turn {
    pub piece: usize,
    pub unit: usize,
    pub begin: Millis,
    pub end: Millis,
}

/// The order in which pieces go, as their places in `pieces`, for an evening that begins at `from`.
#[must_use]
pub fn order(pieces: &[Piece], from: Millis) -> Vec<usize> {
    let unavoidable = least_lateness(pieces, from);
    let mut left: Vec<(usize, &Piece)> = pieces.iter().enumerate().collect();
    let mut end = pieces.iter().fold(from, |end, piece| end.saturating_add(piece.takes));
    let mut backwards = Vec::with_capacity(left.len());
    while !left.is_empty() {
        let may_be_last = |piece: &Piece| match piece.start_by {
            Some(by) => by.saturating_add(piece.takes).saturating_add(unavoidable) >= end,
            None => true,
        };
        let last = left
            .iter()
            .enumerate()
            .filter(|(_, (_, piece))| may_be_last(piece))
            // Of equally long ones the one with more time goes later, then the one named later.
            .max_by_key(|(_, (place, piece))| (piece.takes, piece.start_by.unwrap_or(Millis::MAX), *place))
            .map_or(left.len() - 1, |(at, _)| at);
        let (place, piece) = left.remove(last);
        end = end.saturating_sub(piece.takes);
        backwards.push(place);
    }
    backwards.reverse();
    backwards
}

/// By how much somebody begins too late in every order on one unit: never less than nothing.
fn least_lateness(pieces: &[Piece], from: Millis) -> Millis {
    let mut dated: Vec<(Millis, Millis)> =
        pieces.iter().filter_map(|piece| piece.start_by.map(|by| (by, piece.takes))).collect();
    dated.sort_by_key(|(by, takes)| by.saturating_add(*takes));
    let (mut at, mut worst) = (from, 0);
    for (by, takes) in dated {
        worst = worst.max(at.saturating_sub(by));
        at = at.saturating_add(takes);
    }
    worst
}

/// Goes through pieces in an order on units that are free from these moments on: whenever a unit is free it takes the
/// first that is ready. Without a unit nothing has a turn.
#[must_use]
pub fn turns(pieces: &[Piece], order: &[usize], free: &[Millis]) -> Vec<Turn> {
    let mut free = free.to_vec();
    let mut left: Vec<(usize, Piece)> =
        order.iter().filter_map(|place| pieces.get(*place).map(|piece| (*place, *piece))).collect();
    let mut turns = Vec::with_capacity(left.len());
    while !left.is_empty() {
        let Some((unit, at)) = free.iter().copied().enumerate().min_by_key(|(_, at)| *at) else { break };
        let soonest = left.iter().map(|(_, piece)| piece.ready).min().unwrap_or(at);
        let begin = at.max(soonest);
        let next = left.iter().position(|(_, piece)| piece.ready <= begin).unwrap_or(0);
        let (piece, told) = left.remove(next);
        let end = begin.saturating_add(told.takes);
        if let Some(until) = free.get_mut(unit) {
            *until = end;
        }
        turns.push(Turn { piece, unit, begin, end });
    }
    turns
}

/// What people put in an order keeps that order; what is new since stands right behind what the program has before it.
#[must_use]
pub fn merged<T: PartialEq + Clone>(found: &[T], kept: &[T]) -> Vec<T> {
    let mut order: Vec<T> = Vec::with_capacity(found.len());
    for one in kept.iter().filter(|one| found.contains(one)) {
        if !order.contains(one) {
            order.push(one.clone());
        }
    }
    let mut before: Option<&T> = None;
    for one in found {
        if !order.contains(one) {
            let place = before.and_then(|before| order.iter().position(|known| known == before));
            order.insert(place.map_or(0, |place| place + 1), one.clone());
        }
        before = Some(one);
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;

    /// All orders of so many.
    fn all_orders(count: usize) -> Vec<Vec<usize>> {
        if count == 0 {
            return vec![vec![]];
        }
        let mut all = Vec::new();
        for shorter in all_orders(count - 1) {
            for place in 0..=shorter.len() {
                let mut longer = shorter.clone();
                longer.insert(place, count - 1);
                all.push(longer);
            }
        }
        all
    }

    /// How late the latest begins, never less than nothing, and how long people wait in all, one after the other.
    fn cost(pieces: &[Piece], order: &[usize]) -> (Millis, Millis) {
        let (mut at, mut late, mut waits) = (0, 0, 0);
        for place in order {
            let piece = pieces[*place];
            late = late.max(piece.start_by.map_or(0, |by| at - by));
            waits += at;
            at += piece.takes;
        }
        (late, waits)
    }

    /// Numbers that look drawn, the same each time.
    fn drawn(seed: &mut u64, below: u64) -> i64 {
        *seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        i64::try_from((*seed >> 33) % below).unwrap()
    }

    #[test]
    fn no_order_is_better_for_one_unit() {
        let mut seed = 5;
        let mut unlike_due_dates = 0;
        for round in 0..600 {
            let count = 1 + round % 6;
            let pieces: Vec<Piece> = (0..count)
                .map(|_| Piece {
                    ready: 0,
                    takes: 1 + drawn(&mut seed, 9),
                    start_by: (drawn(&mut seed, 4) > 0).then(|| drawn(&mut seed, 30) - 4),
                })
                .collect();
            let found = order(&pieces, 0);
            let best = all_orders(count).iter().map(|order| cost(&pieces, order)).min().unwrap();
            assert_eq!(cost(&pieces, &found), best, "{pieces:?} went {found:?}");
            let mut by_date: Vec<usize> = (0..count).collect();
            by_date.sort_by_key(|place| {
                pieces[*place].start_by.map_or(i64::MAX, |by| by + pieces[*place].takes)
            });
            unlike_due_dates += usize::from(cost(&pieces, &by_date) != best);
        }
        assert!(unlike_due_dates > 100, "due dates alone would do: {unlike_due_dates}");
    }

    #[test]
    fn one_unit_gives_turns_one_after_the_other() {
        let piece = |takes, start_by| Piece { ready: 0, takes, start_by };
        // The long one has time; the short one without a date goes first, since then fewer minutes are waited.
        let pieces = [piece(60, Some(200)), piece(30, Some(40)), piece(20, None)];
        let found = order(&pieces, 10);
        assert_eq!(found, [2, 1, 0]);
        let turns = turns(&pieces, &found, &[10]);
        let told: Vec<_> = turns.iter().map(|turn| (turn.piece, turn.begin, turn.end)).collect();
        assert_eq!(told, [(2, 10, 30), (1, 30, 60), (0, 60, 120)]);
    }

    #[test]
    fn a_unit_is_never_idle_while_something_is_ready_and_never_holds_two() {
        let mut seed = 11;
        for round in 0..300 {
            let (count, units) = (1 + round % 8, 1 + round % 3);
            let pieces: Vec<Piece> = (0..count)
                .map(|_| Piece {
                    ready: drawn(&mut seed, 20),
                    takes: 1 + drawn(&mut seed, 9),
                    start_by: None,
                })
                .collect();
            let turns = turns(&pieces, &order(&pieces, 0), &vec![0; units]);
            assert_eq!(turns.len(), count);
            for turn in &turns {
                assert!(turn.begin >= pieces[turn.piece].ready && turn.unit < units);
                let busy = |at: Millis| turns.iter().filter(|one| one.begin <= at && at < one.end).count();
                assert!(busy(turn.begin) <= units, "{turns:?}");
                for at in pieces[turn.piece].ready..turn.begin {
                    assert_eq!(busy(at), units, "idle at {at}: {turns:?}");
                }
            }
        }
    }

    #[test]
    fn without_a_unit_nothing_has_a_turn() {
        let pieces = [Piece { ready: 0, takes: 5, start_by: None }];
        assert_eq!(turns(&pieces, &[0], &[]), []);
    }

    #[test]
    fn what_people_put_in_order_stays_and_what_is_new_finds_its_place() {
        assert_eq!(merged(&["a", "b", "c"], &[]), ["a", "b", "c"]);
        assert_eq!(merged(&["a", "b", "c"], &["c", "a", "b"]), ["c", "a", "b"]);
        assert_eq!(merged(&["a", "n", "b", "c"], &["c", "a", "b"]), ["c", "a", "n", "b"]);
        assert_eq!(merged(&["n", "a", "b"], &["b", "gone", "a"]), ["n", "b", "a"]);
    }
}
