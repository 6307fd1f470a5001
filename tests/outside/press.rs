//! Press against trying everything on small boards.

use std::collections::BTreeSet;
use std::sync::Arc;

use chrono_tz::Tz;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use tympan::trade::planning::hours::weekday;
use tympan::trade::planning::press::{Down, Place, Print, Problem, Station, Work, reckon as placed};
use tympan::trade::planning::*;

const SLOT: Millis = 30 * MINUTE;
const SLOTS: i64 = 9;
/// 1970-01-05 was a Monday; its midnight in UTC.
const MONDAY: Millis = 4 * DAY;

/// A studio on one Monday with open half hours, stations, and prints of one procedure.
#[derive(Debug, Clone)]
struct Small {
    open: Vec<bool>,
    /// Units of each station, and (station, unit, slot) that are down.
    units: Vec<u32>,
    down: Vec<(usize, u32, i64)>,
    steps: Vec<Row>,
}

/// Slots, station, bit set of steps before, rest in slots, and how many more slots the rest may last.
type Row = (i64, usize, u8, i64, Option<i64>);

impl Small {
    fn free(&self, station: usize, unit: u32, slot: i64) -> bool {
        usize::try_from(slot).is_ok_and(|slot| self.open.get(slot) == Some(&true))
            && !self.down.contains(&(station, unit, slot))
    }

    fn before(&self, step: usize) -> impl Iterator<Item = usize> + '_ {
        (0..step).filter(move |bit| self.steps[step].2 >> bit & 1 == 1)
    }

    fn problem(&self) -> Problem {
        let open = self.open.iter().zip(0_u32..).filter(|(open, _)| **open).map(|(_, slot)| {
            let time = |minutes: u32| {
                DayTime::parse("t", &format!("{:02}:{:02}", minutes / 60, minutes % 60)).unwrap()
            };
            let stretch = Stretch::new("open", time(slot * 30), time(slot * 30 + 30)).unwrap();
            Weekly { day: weekday("open", "mon").unwrap(), stretch }
        });
        let hours = Hours::new(Tz::UTC, Some(open.collect()), vec![], BTreeSet::new());
        let stations = self.units.iter().enumerate().map(|(station, count)| Station {
            name: station.to_string(),
            count: *count,
            down: self
                .down
                .iter()
                .filter(|(at, ..)| *at == station)
                .map(|(_, unit, slot)| Down {
                    unit: *unit,
                    from: MONDAY + slot * SLOT,
                    to: MONDAY + (slot + 1) * SLOT,
                })
                .collect(),
        });
        let steps = self.steps.iter().enumerate().map(|(number, (slots, station, _, rest, more))| Step {
            key: number.to_string().into(),
            minutes: u32::try_from(slots * 30).unwrap(),
            after: self.before(number).map(|step| step.to_string().into()).collect(),
            rest: Rest {
                minimum_minutes: u32::try_from(rest * 30).unwrap(),
                maximum: more.map_or(Maximum::None, |more| {
                    Maximum::Minutes(u32::try_from((rest + more) * 30).unwrap())
                }),
                ..Rest::default()
            },
            place: Where::Station(*station),
            ..Step::default()
        });
        let work = Work::Alike { prints: 3, sheets: 0, steps: Graph::new(steps.collect()).unwrap() };
        let span = Span { start: MONDAY, finish: MONDAY + SLOTS * SLOT };
        Problem::new(hours, span, stations.collect(), work).unwrap()
    }

    /// Every way to place one print, as a set of (unit, slot) cells; ways that take the same cells are one.
    fn ways(&self) -> Vec<u64> {
        let mut found = BTreeSet::new();
        self.extend(0, 0, 0, &mut Vec::new(), &mut found);
        found.into_iter().collect()
    }

    fn extend(&self, step: usize, cells: u64, busy: u64, starts: &mut Vec<i64>, found: &mut BTreeSet<u64>) {
        let Some(&(slots, station, _, rest, more)) = self.steps.get(step) else {
            found.insert(cells);
            return;
        };
        let ended = self.before(step).map(|step| starts[step] + self.steps[step].0).max();
        let last = ended.zip(more).map_or(SLOTS, |(ended, more)| ended + rest + more);
        for start in ended.map_or(0, |ended| ended + rest)..=last.min(SLOTS - slots) {
            let hands = (start..start + slots).fold(0, |hands, slot| hands | 1 << slot);
            for unit in 1..=self.units[station] {
                let free = (start..start + slots).all(|slot| self.free(station, unit, slot));
                if free && hands & busy == 0 {
                    let row = self.units[..station].iter().sum::<u32>() + unit - 1;
                    starts.push(start);
                    let taken = hands << (i64::from(row) * SLOTS);
                    self.extend(step + 1, cells | taken, busy | hands, starts, found);
                    starts.pop();
                }
            }
        }
    }

    /// The greatest number of prints side by side, by trying all: each way taken or left out, in turn, given
    /// up only where the cells left cannot hold more prints than the best found so far.
    fn most(&self) -> usize {
        fn deeper(ways: &[u64], taken: u64, count: usize, room: u32, best: &mut usize) {
            *best = (*best).max(count);
            for (number, way) in ways.iter().enumerate().filter(|(_, way)| *way & taken == 0) {
                let left = ways[number..]
                    .iter()
                    .filter(|other| *other & taken == 0)
                    .fold(0, |all, other| all | other);
                if count + (left.count_ones() / room) as usize <= *best {
                    return;
                }
                deeper(&ways[number + 1..], taken | way, count + 1, room, best);
            }
        }
        let (ways, mut best) = (self.ways(), 0);
        deeper(&ways, 0, 0, ways.first().map_or(1, |way| way.count_ones()), &mut best);
        best
    }

    /// Whether places keep every rule, told apart from how they were found.
    fn keeps_rules(&self, places: &[Place]) -> bool {
        let slot = |at: Millis| (at - MONDAY) / SLOT;
        let one_piece = places.iter().all(|place| place.pieces.len() == 1 && place.unit.is_some());
        let on_free = places.iter().all(|place| {
            let ((station, unit), piece) = (place.unit.unwrap(), place.pieces[0]);
            (slot(piece.start)..slot(piece.finish)).all(|slot| self.free(station, unit, slot))
                && slot(piece.finish) - slot(piece.start) == self.steps[place.step].0
                && station == self.steps[place.step].1
        });
        let apart = places.iter().enumerate().all(|(number, one)| {
            places[..number].iter().all(|other| {
                let (a, b) = (one.pieces[0], other.pieces[0]);
                a.finish <= b.start
                    || b.finish <= a.start
                    || (one.print != other.print && one.unit != other.unit)
            })
        });
        let of =
            |print, step| places.iter().find(|place| place.print == print && place.step == step).unwrap();
        let in_order = places.iter().all(|place| {
            self.before(place.step).all(|before| {
                let ended = of(place.print, before).pieces[0].finish;
                ended + self.steps[place.step].3 * SLOT <= place.pieces[0].start
            })
        });
        let in_time = places.iter().all(|place| {
            let ends = self.before(place.step).map(|before| of(place.print, before).pieces[0].finish);
            let (.., rest, more) = self.steps[place.step];
            let last = ends.max().zip(more).map(|(ended, more)| ended + (rest + more) * SLOT);
            last.is_none_or(|last| place.pieces[0].start <= last)
        });
        one_piece && on_free && apart && in_order && in_time
    }
}

fn small(steps: std::ops::RangeInclusive<usize>) -> impl Strategy<Value = Small> {
    let open = proptest::collection::vec(proptest::bool::weighted(0.8), SLOTS as usize);
    let units = proptest::collection::vec(1_u32..=2, 1..=2);
    let down = proptest::collection::vec((0_usize..2, 1_u32..=2, 0_i64..SLOTS), 0..4);
    let steps = proptest::collection::vec(
        (1_i64..=3, 0_usize..2, any::<u8>(), 0_i64..=1, proptest::option::weighted(0.4, 0_i64..=2)),
        steps,
    );
    (open, units, down, steps).prop_map(|(open, units, down, steps)| {
        let stations = units.len();
        let down = down.into_iter().map(|(station, unit, slot)| (station % stations, unit, slot));
        let down = down.filter(|(station, unit, _)| *unit <= units[*station]).collect();
        let steps = steps
            .into_iter()
            .map(|(slots, station, before, rest, more)| (slots, station % stations, before, rest, more));
        Small { open, steps: steps.collect(), units, down }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn no_more_prints_are_promised_than_can_be_placed(small in small(1..=3)) {
        prop_assume!(small.ways().len() < 100);
        let answer = placed(&small.problem());
        let most = small.most();
        prop_assert!(answer.fits <= most, "{} promised, {} is the most", answer.fits, most);
        prop_assert!(answer.bound.unwrap() >= most, "bound {:?}, {} is the most", answer.bound, most);
        prop_assert!(answer.fits > 0 || most == 0, "a print that fits alone is placed");
        prop_assert!(small.keeps_rules(&answer.places), "{:?}", answer.places);
        prop_assert_eq!(answer.places.len(), answer.fits.min(3) * small.steps.len());
        prop_assert_eq!(answer.first_without_place, (answer.fits < 3).then_some(answer.fits));
    }

    /// One step of one length: packing each opening from its start is best, so the answer is exact.
    #[test]
    fn one_step_alone_is_exact(small in small(1..=1)) {
        let answer = placed(&small.problem());
        prop_assert_eq!(answer.fits, small.most());
        prop_assert_eq!(answer.bound, Some(answer.fits));
    }
}

/// How near the simple orders come to the best there is, over random boards. Prints the figures.
#[test]
#[ignore = "a measurement, not a check"]
fn how_often_the_best_is_found() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let (mut cases, mut best, mut exact, mut missed) = (0, 0, 0, 0);
    while cases < 1_000 {
        let small = small(2..=3).new_tree(&mut runner).unwrap().current();
        if small.ways().len() >= 100 {
            continue;
        }
        let (answer, most) = (placed(&small.problem()), small.most());
        assert!(answer.fits <= most);
        cases += 1;
        best += usize::from(answer.fits == most);
        exact += usize::from(answer.bound == Some(answer.fits));
        missed += most - answer.fits;
    }
    println!("{cases} boards: best found in {best}, proved in {exact}, prints missed {missed}");
}

// ---- prints of their own ----

/// Two stations (two units, one unit) from slot 0, and prints with due slots, some steps done or begun.
#[derive(Debug, Clone)]
struct Various {
    open: Vec<bool>,
    prints: Vec<(i64, Vec<Free>)>,
}

/// Slots, place (0 and 1 stations, 2 studio, 3 anywhere), bit set of steps before, rest, split, done at slot.
type Free = (i64, u8, u8, i64, bool, Option<i64>);

impl Various {
    fn problem(&self) -> Problem {
        let steps = |list: &[Free]| {
            let steps =
                list.iter().enumerate().map(|(number, (slots, place, before, rest, may_split, _))| Step {
                    key: number.to_string().into(),
                    minutes: u32::try_from(slots * 30).unwrap(),
                    after: (0..number)
                        .filter(|bit| before >> bit & 1 == 1)
                        .map(|step| step.to_string().into())
                        .collect(),
                    rest: Rest { minimum_minutes: u32::try_from(rest * 30).unwrap(), ..Rest::default() },
                    may_split: *may_split,
                    place: [Where::Station(0), Where::Station(1), Where::Studio, Where::Anywhere]
                        [usize::from(*place)],
                    ..Step::default()
                });
            Arc::new(Graph::new(steps.collect()).unwrap())
        };
        let prints = self.prints.iter().enumerate().map(|(number, (due, list))| Print {
            name: number.to_string(),
            due: Some(MONDAY + due * SLOT),
            sheets: 0,
            steps: steps(list),
            states: list
                .iter()
                .map(|(.., done)| done.map_or(State::ToDo, |at| State::Done { at: MONDAY + at * SLOT }))
                .collect(),
            counted: true,
        });
        let empty = Small {
            open: self.open.clone(),
            units: vec![2, 1],
            down: vec![],
            steps: vec![(1, 0, 0, 0, None)],
        };
        let problem = empty.problem();
        let span = Span { start: MONDAY, finish: MONDAY + SLOTS * SLOT };
        let work = Work::Each(prints.collect());
        Problem::new(problem.hours().clone(), span, problem.stations().to_vec(), work).unwrap()
    }

    fn keeps_rules(&self, places: &[Place]) -> Result<(), String> {
        let slot = |at: Millis| (at - MONDAY) / SLOT;
        let cells = |place: &Place| -> Vec<i64> {
            place.pieces.iter().flat_map(|piece| slot(piece.start)..slot(piece.finish)).collect()
        };
        let of = |print, step| places.iter().find(|place| place.print == print && place.step == step);
        for (number, place) in places.iter().enumerate() {
            let (due, steps) = &self.prints[place.print];
            let (slots, at, before, rest, split, _) = steps[place.step];
            let (mine, start) = (cells(place), slot(place.pieces[0].start));
            let fail = |why: &str| Err(format!("{why}: {place:?}"));
            if i64::try_from(mine.len()).unwrap() != slots
                || mine.last().is_some_and(|last| last >= due)
                || start < 0
            {
                return fail("wrong length, or outside the span");
            }
            if (!split || at == 3) && place.pieces.len() != 1 {
                return fail("split");
            }
            if at != 3
                && mine.iter().any(|cell| self.open.get(usize::try_from(*cell).unwrap()) != Some(&true))
            {
                return fail("closed");
            }
            if place.unit.map(|(station, _)| station) != (at < 2).then_some(usize::from(at)) {
                return fail("at the wrong place");
            }
            for step in (0..place.step).filter(|bit| before >> bit & 1 == 1) {
                let ended =
                    steps[step].5.unwrap_or_else(|| cells(of(place.print, step).unwrap()).pop().unwrap() + 1);
                if start < ended + rest {
                    return fail("too soon");
                }
            }
            let meets = |other: &&Place| cells(other).iter().any(|cell| mine.contains(cell));
            let shares = |other: &&Place| {
                other.print == place.print || (other.unit.is_some() && other.unit == place.unit)
            };
            if places[..number].iter().filter(meets).any(|other| shares(&other)) {
                return fail("in use twice");
            }
        }
        Ok(())
    }
}

fn various() -> impl Strategy<Value = Various> {
    let open = proptest::collection::vec(proptest::bool::weighted(0.8), SLOTS as usize);
    let done = prop_oneof![4 => Just(None), 1 => (-4_i64..3).prop_map(Some)];
    let step = (1_i64..=3, 0_u8..4, any::<u8>(), 0_i64..=2, any::<bool>(), done);
    let print = (1_i64..=SLOTS, proptest::collection::vec(step, 1..4));
    (open, proptest::collection::vec(print, 1..7)).prop_map(|(open, prints)| Various { open, prints })
}

/// The greatest number of prints of one step at one unit: every order, each print as early as it goes.
fn most_at_one_unit(open: &[bool], left: &[(i64, i64)], taken: u32) -> usize {
    let tries = left.iter().enumerate().map(|(number, (due, slots))| {
        let cells = |start: i64| (start..start + slots).fold(0_u32, |all, cell| all | 1 << cell);
        let is_open = |start: i64| (start..start + slots).all(|cell| open[usize::try_from(cell).unwrap()]);
        let start = (0..=due - slots).find(|start| is_open(*start) && cells(*start) & taken == 0);
        let rest = [&left[..number], &left[number + 1..]].concat();
        start.map_or(0, |start| 1 + most_at_one_unit(open, &rest, taken | cells(start)))
    });
    tries.max().unwrap_or(0)
}

proptest! {
    #[test]
    fn prints_of_their_own_keep_every_rule(various in various()) {
        let answer = placed(&various.problem());
        prop_assert_eq!(various.keeps_rules(&answer.places), Ok(()));
        let to_do = |print: usize| various.prints[print].1.iter().filter(|step| step.5.is_none()).count();
        let count = |print: usize| answer.places.iter().filter(|place| place.print == print).count();
        let whole = (0..various.prints.len()).filter(|print| count(*print) == to_do(*print)).count();
        prop_assert_eq!(whole, answer.fits);
        prop_assert!(answer.bound.unwrap() >= answer.fits);
        prop_assert!((0..various.prints.len()).all(|print| [0, to_do(print)].contains(&count(print))));
        prop_assert_eq!(answer.first_without_place.is_none(), answer.fits == various.prints.len());
        // What found a place among others finds one alone.
        for (number, print) in various.prints.iter().enumerate().filter(|(number, _)| count(*number) > 0) {
            let alone = Various { prints: vec![print.clone()], ..various.clone() };
            prop_assert_eq!(placed(&alone.problem()).fits, 1, "print {}", number);
        }
    }

    #[test]
    fn prints_with_due_dates_are_not_promised_beyond_the_best(
        open in proptest::collection::vec(proptest::bool::weighted(0.8), SLOTS as usize),
        prints in proptest::collection::vec((1_i64..=SLOTS, 1_i64..=3), 1..6),
    ) {
        let most = most_at_one_unit(&open, &prints, 0);
        let step = |slots| vec![(slots, 1, 0, 0, false, None)];
        let list = prints.iter().map(|&(due, slots)| (due, step(slots))).collect();
        let answer = placed(&Various { open, prints: list }.problem());
        prop_assert!(answer.fits <= most && most <= answer.bound.unwrap());
        prop_assert!(answer.fits + 1 >= most, "{} placed, {} is the most", answer.fits, most);
    }
}
