//! Additions, deletions, cancelling: what a correction calls for before the plate is printed again.

use super::*;

#[test]
fn an_addition_needs_a_counter_etch_then_an_etch_then_a_roll_up_before_printing() {
    let tale = Tale::approved();
    assert_eq!(tale.refused("addition", "2026-10-23 09:00"), ["after_any_of", "requires_since"]);
    assert_eq!(tale.refused("draw", "2026-10-23 09:00"), ["requires_since"], "drawing on is an addition too");

    let tale = tale.told("counter-etch", "2026-10-23 09:00", "2026-10-23 09:30");
    assert_eq!(tale.outlook("2026-10-23 09:30").gum.off_since, Some(at("2026-10-23 09:00")));
    assert_eq!(tale.stands("2026-10-23 09:30").2, Standing::Drawn);
    for printing in ["roll-up", "proof", "edition"] {
        assert!(tale.refused(printing, "2026-10-23 09:40").contains(&"requires_since"), "{printing}");
    }
    assert_eq!(tale.refused("addition", "2026-10-23 09:40"), [""; 0]);

    let tale = tale.told("addition", "2026-10-23 10:00", "2026-10-23 12:00");
    let remaining = tale.case().remaining(at("2026-10-23 12:10"), 10);
    let keys: Vec<&str> = remaining.iter().map(|step| &*step.key).collect();
    // The go-ahead was given for the plate as it was, so it is wanted again, and with it a proof.
    assert_eq!(
        keys,
        ["tear-paper", "first-etch", "roll-up", "proof", "go-ahead", "edition", "curate", "put-away"]
    );
    let called: Vec<&str> = remaining.iter().filter(|step| step.called_for).map(|step| &*step.key).collect();
    assert_eq!(called, ["first-etch", "roll-up", "proof", "go-ahead"]);
    assert_eq!(remaining[1].not_before, Some(at("2026-10-24 00:00")), "new drawing rests like a first one");
    assert_eq!(after_of(&remaining[2]), ["first-etch"]);
    assert_eq!(after_of(&remaining[3]), ["first-etch", "roll-up"]);
    assert_eq!(tale.stands("2026-10-24 09:00"), ("first-etch".into(), "roll-up".into(), Standing::Drawn));
    assert_eq!(tale.state("first-etch", "2026-10-24 09:00"), "ready", "done once, and called for again");
    assert_eq!(tale.state("proof", "2026-10-24 09:00"), "not_yet");

    let tale = tale.told("first-etch", "2026-10-24 09:00", "2026-10-24 09:45");
    assert_eq!(tale.refused("proof", "2026-10-24 11:00"), ["requires_since"], "not yet rolled up");
    assert_eq!(
        tale.refused("addition", "2026-10-24 11:00"),
        ["requires_since"],
        "each addition its own counter-etch"
    );
    let tale = tale.told("roll-up", "2026-10-24 11:00", "2026-10-24 12:00").told(
        "proof",
        "2026-10-24 13:00",
        "2026-10-24 14:30",
    );
    assert_eq!(tale.to_do("2026-10-24 15:00"), ["tear-paper", "go-ahead", "edition", "curate", "put-away"]);
    assert!(tale.history.entries.iter().all(|entry| entry.outside.is_empty()));
    assert_eq!(tale.refused("edition", "2026-10-24 15:00"), ["order", "requires_since"]);
    let tale = tale.told("go-ahead", "2026-10-24 15:00", "2026-10-24 15:05").told(
        "tear-paper",
        "2026-10-24 15:10",
        "2026-10-24 15:40",
    );
    assert_eq!(tale.refused("edition", "2026-10-24 16:00"), [""; 0]);
}

#[test]
fn before_the_first_etch_one_just_draws_on() {
    let tale = Tale::aluminium().did("prepare", "2026-10-13 09:00", "2026-10-13 09:30").did(
        "draw",
        "2026-10-13 10:00",
        "2026-10-13 12:00",
    );
    assert_eq!(tale.refused("draw", "2026-10-14 10:00"), [""; 0]);
    assert_eq!(tale.refused("counter-etch", "2026-10-14 10:00"), ["after_any_of"]);
}

#[test]
fn a_counter_etch_before_the_roll_up_sends_back_to_the_first_etch() {
    let tale = Tale::aluminium()
        .did("prepare", "2026-10-13 09:00", "2026-10-13 09:30")
        .did("draw", "2026-10-13 10:00", "2026-10-15 16:00")
        .did("first-etch", "2026-10-20 13:40", "2026-10-20 14:25")
        .told("counter-etch", "2026-10-21 09:00", "2026-10-21 09:30");
    assert_eq!(tale.refused("roll-up", "2026-10-21 10:00"), ["requires_since"]);
    assert_eq!(tale.to_do("2026-10-21 10:00")[..3], ["first-etch", "roll-up", "second-etch"]);
}

#[test]
fn a_deletion_needs_a_local_etch_or_gum() {
    let deleted = Tale::approved().told("deletion", "2026-10-23 09:00", "2026-10-23 09:20");
    let broken = deleted.case().may_start("proof", at("2026-10-23 10:00")).broken;
    assert_eq!(broken.len(), 1);
    assert_eq!((broken[0].rule, broken[0].about.as_str()), (RuleName::RequiresSince, "local-etch"));
    assert_eq!(broken[0].because, "The bare spot of a deletion takes ink until it is etched or gummed.");
    assert_eq!(deleted.to_do("2026-10-23 10:00")[..3], ["tear-paper", "local-etch", "proof"]);

    let etched = deleted.clone().told("local-etch", "2026-10-23 10:00", "2026-10-23 10:30");
    let gummed = deleted.clone().told("re-gum", "2026-10-23 10:00", "2026-10-23 10:10");
    let put_down = deleted.clone().put_down("2026-10-23 09:40", true);
    let mut told = deleted.clone();
    told.history.entries.last_mut().unwrap().gummed_at = Some(at("2026-10-23 09:25"));
    for (tale, how) in
        [(etched, "etched"), (gummed, "gummed"), (put_down, "put down"), (told, "told with it")]
    {
        assert_eq!(tale.refused("proof", "2026-10-23 11:00"), [""; 0], "{how}");
        assert_eq!(tale.stands("2026-10-23 11:00").0, "proof", "{how}");
    }
    // Gum from before the deletion does not count.
    let earlier = Tale::approved().put_down("2026-10-22 15:00", true).told(
        "deletion",
        "2026-10-23 09:00",
        "2026-10-23 09:20",
    );
    assert_eq!(earlier.refused("proof", "2026-10-23 11:00"), ["requires_since"]);
}

#[test]
fn after_cancelling_only_one_cancellation_proof() {
    let printed = Tale::approved().told("tear-paper", "2026-10-22 15:00", "2026-10-22 15:30").told(
        "edition",
        "2026-10-27 09:00",
        "2026-10-27 11:15",
    );
    assert_eq!(printed.refused("cancellation-proof", "2026-10-27 12:00"), ["after_any_of"]);
    assert_eq!(
        Tale::approved().refused("cancel", "2026-10-27 12:00"),
        ["after_any_of"],
        "no edition, nothing to cancel"
    );

    let cancelled = printed.told("cancel", "2026-10-27 12:00", "2026-10-27 12:15");
    assert_eq!(cancelled.stands("2026-10-27 12:30"), ("curate".into(), String::new(), Standing::PutAway));
    let ended = [
        "draw",
        "first-etch",
        "roll-up",
        "second-etch",
        "proof",
        "go-ahead",
        "edition",
        "counter-etch",
        "addition",
        "deletion",
        "local-etch",
    ];
    for step in ended {
        assert!(cancelled.refused(step, "2026-10-27 13:00").contains(&"ended"), "{step}");
    }
    assert_eq!(cancelled.refused("cancel", "2026-10-27 13:00"), ["ended", "once"]);
    assert_eq!(cancelled.refused("cancellation-proof", "2026-10-27 13:00"), [""; 0]);

    let proofed = cancelled.told("cancellation-proof", "2026-10-27 13:00", "2026-10-27 14:00");
    assert_eq!(proofed.refused("cancellation-proof", "2026-10-27 15:00"), ["once"]);
    assert_eq!(proofed.refused("scrap", "2026-10-27 15:00"), [""; 0]);
    let done = proofed.told("curate", "2026-10-30 12:00", "2026-10-30 12:30").told(
        "scrap",
        "2026-10-30 13:00",
        "2026-10-30 13:10",
    );
    assert!(done.history.entries.iter().all(|entry| entry.outside.is_empty()));
    let end = done.outlook("2026-10-30 14:00");
    assert_eq!((end.finished, end.standing), (true, Standing::Scrapped));
    assert_eq!(done.refused("cancellation-proof", "2026-10-30 14:00"), ["ended", "once"]);
}

#[test]
fn gum_is_never_refused_for_waiting() {
    let open = Tale::approved().began("deletion", "2026-10-23 09:00");
    assert_eq!(open.refused("local-etch", "2026-10-23 10:00"), ["under_way"]);
    assert_eq!(open.refused("re-gum", "2026-10-23 10:00"), [""; 0]);
    assert_eq!(open.refused("deletion", "2026-10-23 10:00"), ["under_way"]);
}
