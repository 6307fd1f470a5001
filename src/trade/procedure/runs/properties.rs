//! What holds for any history whatever.

use proptest::prelude::*;

use super::*;

/// Histories of the aluminium plate: runs of any step at any minute of three weeks, some open, some settled.
pub(super) fn tales() -> impl Strategy<Value = Tale> {
    let keys: Vec<String> = shipped("aluminium-plate").all().map(|step| step.key.clone()).collect();
    let key = prop::sample::select(keys);
    let settled = prop::option::of((0_i64..30_000, any::<bool>()));
    let entry = (key, 0_i64..30_000, prop::option::weighted(0.9, 1_i64..300), any::<bool>(), settled);
    let put_down = (0_i64..30_000, any::<bool>(), any::<bool>());
    (prop::collection::vec(entry, 0..14), prop::collection::vec(put_down, 0..4)).prop_map(
        |(entries, put_downs)| {
            let mut tale = Tale::aluminium().gum_limit(14 * 1440);
            let minute = |minutes| rests::later(at("2026-10-12 08:00"), minutes);
            for (step, began, long, outside, settled) in entries {
                let mut entry = Entry::new(&step, minute(began), long.map(|long| minute(began + long)));
                if outside {
                    entry.outside = vec![RuleName::Order];
                    entry.settled = settled.map(|(at, stands)| Settled {
                        at: minute(at),
                        ordered: if stands { Ordered::Stands } else { Ordered::Again },
                    });
                }
                tale.history.entries.push(entry);
            }
            for (when, gummed, talc) in put_downs {
                tale.history.put_downs.push(PutDown { at: minute(when), gummed, talc });
            }
            tale
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    /// Refusing a start and naming a fact are one judgement: a run begun now, told later, broke exactly the
    /// rules that would have refused it.
    #[test]
    fn a_fact_broke_what_would_have_refused_its_start(tale in tales(), minutes in 0_i64..31_000) {
        let now = rests::later(at("2026-10-12 08:00"), minutes);
        for step in tale.procedure.all() {
            if tale.history.entries.iter().any(|entry| entry.began == now && entry.step == step.key) {
                continue;
            }
            let refused = tale.case().may_start(&step.key, now).rules();
            let mut later = tale.clone();
            let entry = Entry::new(&step.key, now, Some(rests::later(now, 30)));
            prop_assert_eq!(&later.case().judge_done(&entry), &refused);
            later.history.entries.insert(0, entry.clone());
            prop_assert_eq!(&later.case().judge_done(&entry), &refused);
        }
    }

    /// The list of what remains can be worked from top to bottom: whatever a step waits for stands before it,
    /// no step stands in it twice, and the next step is one of it.
    #[test]
    fn what_remains_is_in_an_order_that_can_be_worked(tale in tales(), minutes in 0_i64..31_000) {
        let now = rests::later(at("2026-10-12 08:00"), minutes);
        let remaining = tale.case().remaining(now, 10);
        let keys: Vec<&str> = remaining.iter().map(|step| &*step.key).collect();
        for (place, step) in remaining.iter().enumerate() {
            prop_assert!(!keys[..place].contains(&&*step.key), "{} twice in {:?}", step.key, keys);
            for before in step.after.iter() {
                prop_assert!(keys[..place].contains(&&**before), "{} before {} in {:?}", before, step.key, keys);
            }
        }
        let outlook = tale.case().outlook(now);
        prop_assert_eq!(outlook.finished, keys.is_empty());
        prop_assert_eq!(outlook.next.is_none(), keys.is_empty());
        prop_assert!(outlook.next.as_deref().is_none_or(|next| keys.contains(&next)));
        prop_assert!(outlook.then != outlook.next || outlook.next.is_none());
    }

    /// Told in another order, a history is the same history.
    #[test]
    fn the_order_of_telling_does_not_matter(tale in tales(), minutes in 0_i64..31_000) {
        let now = rests::later(at("2026-10-12 08:00"), minutes);
        let mut backwards = tale.clone();
        backwards.history.entries.reverse();
        backwards.history.put_downs.reverse();
        let (one, other) = (tale.case().outlook(now), backwards.case().outlook(now));
        let distinct = tale.history.entries.iter().enumerate().all(|(place, entry)| {
            tale.history.entries[..place].iter().all(|earlier| earlier.began != entry.began && earlier.ended != entry.ended)
        });
        if distinct {
            prop_assert_eq!(one.next, other.next);
            prop_assert_eq!(one.standing, other.standing);
            prop_assert_eq!(one.gum, other.gum);
        }
    }

    /// Working down the list, however the plate got where it is, brings it to an end.
    #[test]
    fn working_down_the_list_comes_to_an_end(tale in tales()) {
        let mut tale = tale;
        let mut now = at("2026-11-10 08:00");
        for entry in &mut tale.history.entries {
            entry.ended = entry.ended.or(Some(entry.began));
            entry.settled = entry.settled.or(Some(Settled { at: now, ordered: Ordered::Stands }));
        }
        for _ in 0..40 {
            let remaining = tale.case().remaining(now, 10);
            let Some(first) = remaining.first() else { return Ok(()) };
            now = rests::later(now, 5 * 1440);
            let verdict = tale.case().may_start(&first.key, now);
            prop_assert!(verdict.may_start(), "{}: {:?}", first.key, verdict.broken);
            tale.history.entries.push(Entry::new(&first.key, now, Some(rests::later(now, 60))));
            now = rests::later(now, 60);
        }
        prop_assert!(false, "still to do: {:?}", tale.to_do("2027-12-01 08:00"));
    }
}
