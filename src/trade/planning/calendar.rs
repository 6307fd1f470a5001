//! Open hours as sorted instants, and the questions a plan asks of them. Every question is a binary search;
//! only a step that must not be split walks on, past openings too short for it.

use chrono_tz::Tz;

use super::graph::Where;
use super::{MINUTE, Millis};

/// Open hours over a span: disjoint openings in order, none of them empty. Outside the span nothing is open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Calendar {
    zone: Tz,
    openings: Vec<Opening>,
    longest: Millis,
    /// By the number of the station: when one of its units at least can be used, where that is less.
    stations: Vec<Option<Calendar>>,
    /// When the instructor is there, where that is known.
    instructor: Option<Box<Calendar>>,
}

/// One opening, and the open time of all openings before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Opening {
    from: Millis,
    to: Millis,
    before: Millis,
}

/// A stretch of time from `start` to `finish`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    pub start: Millis,
    pub finish: Millis,
}

/// What a step needs of the hours; milliseconds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// Time on the clock, open or not.
    Clock(Millis),
    /// Open time within one opening.
    Whole(Millis),
    /// Open time, across openings if need be.
    Split(Millis),
}

impl Calendar {
    /// Where time without openings begins: an always open studio is one opening from here to
    /// [`Calendar::FAR_FUTURE`].
    pub const FAR_PAST: Millis = -(1 << 53);
    pub const FAR_FUTURE: Millis = 1 << 53;

    /// A calendar of openings in any order; empty and reversed ones are dropped, overlaps and neighbours joined.
    #[must_use]
    pub fn new(zone: Tz, mut spans: Vec<Span>) -> Self {
        spans.retain(|span| span.start < span.finish);
        spans.sort_unstable_by_key(|span| span.start);
        let mut openings: Vec<Opening> = Vec::with_capacity(spans.len());
        for span in spans {
            match openings.last_mut() {
                Some(last) if span.start <= last.to => last.to = last.to.max(span.finish),
                _ => openings.push(Opening { from: span.start, to: span.finish, before: 0 }),
            }
        }
        let mut before = 0;
        for opening in &mut openings {
            opening.before = before;
            before += opening.length();
        }
        let longest = openings.iter().map(Opening::length).max().unwrap_or(0);
        Self { zone, openings, longest, stations: Vec::new(), instructor: None }
    }

    /// The same hours, during some of which the instructor is there.
    #[must_use]
    pub fn with_instructor(mut self, there: Vec<Span>) -> Self {
        self.instructor = Some(Box::new(Self::new(self.zone, there)));
        self
    }

    /// The same hours, of which a station can use only some: `usable` are the times at which one of its units at
    /// least is not out of order. (Where two units take turns a step is planned as if it could change over.)
    #[must_use]
    pub fn with_station(mut self, station: usize, usable: Vec<Span>) -> Self {
        if self.stations.len() <= station {
            self.stations.resize(station + 1, None);
        }
        if let Some(cell) = self.stations.get_mut(station) {
            *cell = Some(Self::new(self.zone, usable));
        }
        self
    }

    /// The hours of a place: a station's own or the instructor's, else the studio's.
    #[must_use]
    pub fn at(&self, place: Where) -> &Self {
        match place {
            Where::Station(number) => self.stations.get(number).and_then(Option::as_ref).unwrap_or(self),
            Where::Instructor => self.instructor.as_deref().unwrap_or(self),
            Where::Anywhere | Where::Studio => self,
        }
    }

    #[must_use]
    pub fn zone(&self) -> Tz {
        self.zone
    }

    /// The length of the longest opening; a step that must not be split and needs more has no place.
    #[must_use]
    pub fn longest(&self) -> Millis {
        self.longest
    }

    /// The openings in order, cut to `from..to`.
    pub fn within(&self, from: Millis, to: Millis) -> impl Iterator<Item = Span> + '_ {
        let cut = move |opening: &Opening| Span { start: opening.from.max(from), finish: opening.to.min(to) };
        self.onward(self.first_ending_after(from)).iter().map(cut).take_while(|span| span.start < span.finish)
    }

    /// The opening at an instant; an opening's last instant is no longer in it.
    #[must_use]
    pub fn opening_at(&self, at: Millis) -> Option<Span> {
        let opening = self.openings.get(self.first_ending_after(at))?;
        (opening.from <= at).then_some(Span { start: opening.from, finish: opening.to })
    }

    /// Open time from `from` to `to`; negative when `to` comes first.
    #[must_use]
    pub fn open_between(&self, from: Millis, to: Millis) -> Millis {
        self.open_until(to) - self.open_until(from)
    }

    /// The earliest place at or after `from`. Ends when the needed time has passed, not at the next opening.
    #[must_use]
    pub fn earliest(&self, from: Millis, need: Need) -> Option<Span> {
        match need {
            Need::Clock(time) => Some(Span { start: from, finish: from.checked_add(time)? }),
            Need::Whole(time) if time > self.longest => None,
            Need::Whole(time) => self.onward(self.first_ending_after(from)).iter().find_map(|opening| {
                let start = opening.from.max(from);
                (opening.to - start >= time).then_some(Span { start, finish: start + time })
            }),
            Need::Split(time) => {
                let opening = self.openings.get(self.first_ending_after(from))?;
                let start = opening.from.max(from);
                let passed = opening.before + (start - opening.from) + time;
                let last = self.openings.partition_point(|opening| opening.before < passed).checked_sub(1)?;
                let last = self.openings.get(last)?;
                let finish = last.from + (passed - last.before);
                (finish <= last.to).then_some(Span { start, finish })
            }
        }
    }

    /// The latest place that ends at or before `by`.
    #[must_use]
    pub fn latest(&self, by: Millis, need: Need) -> Option<Span> {
        let begun = self.openings.partition_point(|opening| opening.from < by);
        match need {
            Need::Clock(time) => Some(Span { start: by.checked_sub(time)?, finish: by }),
            Need::Whole(time) if time > self.longest => None,
            Need::Whole(time) => self.openings.iter().take(begun).rev().find_map(|opening| {
                let finish = opening.to.min(by);
                (finish - opening.from >= time).then_some(Span { start: finish - time, finish })
            }),
            Need::Split(time) => {
                let opening = self.openings.get(begun.checked_sub(1)?)?;
                let finish = opening.to.min(by);
                let passed = opening.before + (finish - opening.from) - time;
                let first =
                    self.openings.partition_point(|opening| opening.before <= passed).checked_sub(1)?;
                let first = self.openings.get(first)?;
                Some(Span { start: first.from + (passed - first.before), finish })
            }
        }
    }

    /// The latest start at or before `by` from which the work can run: whole steps end in the same opening,
    /// split ones get a minute at least of an opening.
    #[must_use]
    pub fn latest_start(&self, by: Millis, need: Need) -> Option<Millis> {
        let (time, wanted) = match need {
            Need::Clock(_) => return Some(by),
            Need::Whole(time) => (time, time),
            Need::Split(time) => (time.min(MINUTE), 0),
        };
        let begun = self.openings.partition_point(|opening| opening.from <= by);
        self.openings.iter().take(begun).rev().find_map(|opening| {
            let last = opening.to - time.min(opening.length());
            (opening.length() >= wanted).then_some(last.min(by))
        })
    }

    fn open_until(&self, at: Millis) -> Millis {
        let begun = self.openings.partition_point(|opening| opening.from < at);
        match begun.checked_sub(1).and_then(|last| self.openings.get(last)) {
            Some(opening) => opening.before + at.min(opening.to) - opening.from,
            None => 0,
        }
    }

    fn first_ending_after(&self, at: Millis) -> usize {
        self.openings.partition_point(|opening| opening.to <= at)
    }

    fn onward(&self, index: usize) -> &[Opening] {
        self.openings.get(index..).unwrap_or(&[])
    }
}

impl Opening {
    fn length(&self) -> Millis {
        self.to - self.from
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn calendar(spans: &[(i64, i64)]) -> Calendar {
        let spans = spans.iter().map(|&(start, finish)| Span { start, finish }).collect();
        Calendar::new(Tz::UTC, spans)
    }

    #[test]
    fn split_work_ends_with_its_opening_and_starts_with_one() {
        let calendar = calendar(&[(10, 20), (30, 40), (50, 90)]);
        assert_eq!(calendar.earliest(0, Need::Split(10)), Some(Span { start: 10, finish: 20 }));
        assert_eq!(calendar.earliest(20, Need::Split(11)), Some(Span { start: 30, finish: 51 }));
        assert_eq!(calendar.latest(50, Need::Split(10)), Some(Span { start: 30, finish: 40 }));
        assert_eq!(calendar.latest(55, Need::Split(15)), Some(Span { start: 30, finish: 55 }));
        assert_eq!(calendar.latest(55, Need::Split(16)), Some(Span { start: 19, finish: 55 }));
        assert_eq!(calendar.earliest(0, Need::Split(61)), None);
        assert_eq!(calendar.latest(99, Need::Split(61)), None);
        assert_eq!(calendar.earliest(85, Need::Whole(10)), None);
    }

    #[test]
    fn the_latest_start_stays_in_the_last_fitting_opening() {
        let calendar = calendar(&[(0, 600_000), (1_000_000, 1_100_000)]);
        assert_eq!(calendar.latest_start(2_000_000, Need::Whole(200_000)), Some(400_000));
        assert_eq!(calendar.latest_start(300_000, Need::Whole(200_000)), Some(300_000));
        assert_eq!(calendar.latest_start(2_000_000, Need::Split(200_000)), Some(1_040_000));
        assert_eq!(calendar.latest_start(-1, Need::Whole(1)), None);
    }

    /// The minute-by-minute answer, on a line of 60 units.
    fn walk(open: &[bool; 60], from: i64, need: Need) -> Option<Span> {
        let is_open =
            |at: i64| usize::try_from(at).ok().and_then(|at| open.get(at)).copied().unwrap_or(false);
        match need {
            Need::Clock(time) => Some(Span { start: from, finish: from + time }),
            Need::Whole(time) => (from..60)
                .find(|&start| (start..start + time).all(is_open))
                .map(|start| Span { start, finish: start + time }),
            Need::Split(time) => {
                let start = (from..60).find(|&at| is_open(at))?;
                let last = (start..60).filter(|&at| is_open(at)).nth(usize::try_from(time).unwrap() - 1)?;
                Some(Span { start, finish: last + 1 })
            }
        }
    }

    proptest! {
        #[test]
        fn answers_are_those_of_walking_minute_by_minute(
            spans in proptest::collection::vec((0_i64..55, 1_i64..9), 0..8),
            from in 0_i64..60, time in 1_i64..15, split: bool,
        ) {
            let spans: Vec<(i64, i64)> = spans.into_iter().map(|(at, long)| (at, (at + long).min(60))).collect();
            let mut open = [false; 60];
            for (at, cell) in (0_i64..).zip(open.iter_mut()) {
                *cell = spans.iter().any(|&(start, finish)| start <= at && at < finish);
            }
            let ours = calendar(&spans);
            let need = if split { Need::Split(time) } else { Need::Whole(time) };
            prop_assert_eq!(ours.earliest(from, need), walk(&open, from, need));
            // Backwards is forwards in a mirror.
            let mut mirrored = open;
            mirrored.reverse();
            let back = walk(&mirrored, 60 - from, need);
            let back = back.map(|span| Span { start: 60 - span.finish, finish: 60 - span.start });
            prop_assert_eq!(ours.latest(from, need), back);
            let counted = (0..from).filter(|&at| open[usize::try_from(at).unwrap()]).count();
            prop_assert_eq!(ours.open_between(0, from), i64::try_from(counted).unwrap());
        }
    }
}
