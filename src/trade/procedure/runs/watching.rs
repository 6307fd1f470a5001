//! Late or stuck.

use super::*;
use crate::trade::procedure::flags::{LatestStarts, Refusal};

fn flags(tale: &Tale, now: &str, watch: &Watch<'_>) -> Vec<Flag> {
    tale.case().seen(at(now)).late_or_stuck(watch)
}

fn watch<'a>(latest_starts: &'a LatestStarts, refusals: &'a [Refusal]) -> Watch<'a> {
    Watch { begun: at("2026-10-12 12:00"), latest_starts, refusals, replaced: false, lost: false }
}

fn stuck(by: StuckBy, step: &str, since: &str) -> Flag {
    Flag::Stuck { by, step: Some(step.to_owned()), since: at(since) }
}

#[test]
fn late_is_past_a_latest_start() {
    let tale = Tale::aluminium().did("prepare", "2026-10-13 09:00", "2026-10-13 09:30");
    let mut latest = LatestStarts::default();
    latest.insert("prepare".into(), at("2026-10-13 08:00"));
    latest.insert("draw".into(), at("2026-10-14 12:00"));
    latest.insert("first-etch".into(), at("2026-10-14 18:00"));
    assert_eq!(
        flags(&tale, "2026-10-14 12:00", &watch(&latest, &[])),
        [],
        "the latest start itself is in time"
    );
    let late = Flag::Late { step: "draw".to_owned(), latest_start: at("2026-10-14 12:00") };
    assert_eq!(flags(&tale, "2026-10-14 12:01", &watch(&latest, &[])), std::slice::from_ref(&late));
    assert_eq!(flags(&tale, "2026-10-14 19:00", &watch(&latest, &[])), [late], "one flag, of the first step");
    let begun = tale.began("draw", "2026-10-14 13:00");
    assert_eq!(flags(&begun, "2026-10-14 14:00", &watch(&latest, &[])), [], "begun, so not late for it");
}

#[test]
fn stuck_is_ready_for_seven_days_untouched() {
    let none = LatestStarts::default();
    let watch = watch(&none, &[]);
    let drawn = Tale::aluminium().did("prepare", "2026-10-13 09:00", "2026-10-13 09:30").did(
        "draw",
        "2026-10-13 10:00",
        "2026-10-13 16:00",
    );
    // Seven days from the end of the advised rest, 04:00 on the 14th.
    assert_eq!(flags(&drawn, "2026-10-21 03:59", &watch), []);
    let expected = stuck(StuckBy::Untouched, "first-etch", "2026-10-14 04:00");
    assert_eq!(flags(&drawn, "2026-10-21 04:00", &watch), [expected]);
    let touched = drawn.clone().put_down("2026-10-20 10:00", false);
    assert_eq!(flags(&touched, "2026-10-21 04:00", &watch), []);
    // A missing sign-off is what somebody should see.
    let mut untrained = drawn.clone();
    untrained.sign_offs.clear();
    assert_eq!(flags(&untrained, "2026-10-21 04:00", &watch).len(), 1);
    // Never touched at all: from when the plate was begun.
    assert_eq!(flags(&Tale::aluminium(), "2026-10-19 11:59", &watch), []);
    assert_eq!(
        flags(&Tale::aluminium(), "2026-10-19 12:00", &watch),
        [stuck(StuckBy::Untouched, "prepare", "2026-10-12 12:00")]
    );
    let under_way = drawn.began("first-etch", "2026-10-13 16:30");
    assert_eq!(flags(&under_way, "2026-10-30 04:00", &watch), []);
}

#[test]
fn stuck_is_done_three_times_with_nothing_further() {
    let none = LatestStarts::default();
    let watch = watch(&none, &[]);
    let mut tale = Tale::approved();
    tale.history.entries.pop();
    let tale = tale.did("proof", "2026-10-23 09:00", "2026-10-23 10:00");
    assert_eq!(flags(&tale, "2026-10-23 16:00", &watch), []);
    let tale = tale.did("re-gum", "2026-10-23 10:05", "2026-10-23 10:10").did(
        "proof",
        "2026-10-23 13:00",
        "2026-10-23 14:00",
    );
    assert_eq!(
        flags(&tale, "2026-10-23 16:00", &watch),
        [stuck(StuckBy::DoneThreeTimes, "proof", "2026-10-23 14:00")]
    );
    let on = tale.did("go-ahead", "2026-10-23 15:00", "2026-10-23 15:05");
    assert_eq!(flags(&on, "2026-10-23 16:00", &watch), []);
}

#[test]
fn stuck_is_refused_twice_since_it_was_last_begun() {
    let none = LatestStarts::default();
    let refusal = |step: &str, when: &str| Refusal { step: step.to_owned(), at: at(when) };
    let tale = Tale::aluminium().did("prepare", "2026-10-13 09:00", "2026-10-13 09:30");
    let refusals = [
        refusal("draw", "2026-10-12 13:00"),
        refusal("first-etch", "2026-10-13 10:00"),
        refusal("first-etch", "2026-10-13 11:00"),
    ];
    assert_eq!(flags(&tale, "2026-10-13 10:30", &watch(&none, &refusals)), []);
    let expected = stuck(StuckBy::RefusedTwice, "first-etch", "2026-10-13 11:00");
    assert_eq!(flags(&tale, "2026-10-13 12:00", &watch(&none, &refusals)), [expected]);
    let done = tale.did("draw", "2026-10-13 12:00", "2026-10-13 13:00").did(
        "first-etch",
        "2026-10-13 13:00",
        "2026-10-13 13:45",
    );
    assert_eq!(flags(&done, "2026-10-13 14:00", &watch(&none, &refusals)), []);
}

#[test]
fn stuck_is_lost_without_a_successor() {
    let none = LatestStarts::default();
    let watch = watch(&none, &[]);
    let mut tale = Tale::approved().did("scrap", "2026-10-23 09:00", "2026-10-23 09:10");
    let lost = Flag::Stuck { by: StuckBy::Lost, step: None, since: at("2026-10-23 09:10") };
    assert_eq!(flags(&tale, "2026-10-24 09:00", &watch), [lost]);
    assert_eq!(flags(&tale, "2026-10-24 09:00", &Watch { replaced: true, ..watch }), []);
    assert!(tale.to_do("2026-10-24 09:00").is_empty());
    // Scrapped after its edition it is not lost, and the sheets are still curated.
    tale.history
        .entries
        .insert(7, Entry::new("edition", at("2026-10-22 15:00"), Some(at("2026-10-22 18:00"))));
    assert_eq!(flags(&tale, "2026-10-24 09:00", &watch), []);
    assert_eq!(tale.to_do("2026-10-24 09:00"), ["curate"]);
    // Burned, but still in the rack: told lost.
    let told = Watch { lost: true, ..watch };
    let burned = Flag::Stuck { by: StuckBy::Lost, step: None, since: at("2026-10-22 14:30") };
    assert_eq!(flags(&Tale::approved(), "2026-10-24 09:00", &told), [burned]);
}
