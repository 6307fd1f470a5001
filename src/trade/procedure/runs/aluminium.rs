//! An aluminium plate from bare metal to put away, as the house plan's table has it.

use super::*;

/// The order of the handouts and the hard orderings worth testing: no roll-up before a first etch, no addition
/// without a counter-etch, go-ahead before the edition, cancelling ends printing.
#[test]
fn a_bare_plate_may_be_prepared_and_little_else() {
    let tale = Tale::aluminium();
    let table: &[(&str, &[&str])] = &[
        ("prepare", &[]),
        ("draw", &["order"]),
        ("first-etch", &["order"]),
        ("roll-up", &["order", "after_any_of"]),
        ("second-etch", &["order"]),
        ("proof", &["order"]),
        ("go-ahead", &["order"]),
        ("tear-paper", &[]),
        ("edition", &["order"]),
        ("curate", &["order"]),
        ("put-away", &["order"]),
        ("counter-etch", &["after_any_of"]),
        ("addition", &["after_any_of"]),
        ("deletion", &["after_any_of"]),
        ("local-etch", &["after_any_of"]),
        ("re-gum", &["after_any_of"]),
        ("cancel", &["after_any_of"]),
        ("cancellation-proof", &["after_any_of"]),
        ("scrap", &[]),
    ];
    assert_eq!(table.len(), tale.procedure.all().count());
    for (step, rules) in table {
        assert_eq!(tale.refused(step, "2026-10-13 09:00"), *rules, "{step}");
        let state = tale.state(step, "2026-10-13 09:00");
        assert_eq!(state == "ready", rules.is_empty(), "{step} is {state}");
    }
    assert_eq!(tale.refused("linseed", "2026-10-13 09:00"), ["unknown_step"]);
}

#[test]
fn from_bare_metal_to_put_away() {
    let mut tale = Tale::aluminium();
    // (step, began, ended, standing after it, next after it, then, when asked)
    let way = [
        ("prepare", "2026-10-13 09:00", "2026-10-13 09:30", Standing::Bare, "draw", "first-etch"),
        ("draw", "2026-10-13 10:00", "2026-10-15 16:00", Standing::Drawn, "first-etch", "roll-up"),
        ("first-etch", "2026-10-20 13:40", "2026-10-20 14:25", Standing::Etched, "roll-up", "second-etch"),
        ("roll-up", "2026-10-22 09:00", "2026-10-22 10:00", Standing::RolledUp, "second-etch", "proof"),
        ("second-etch", "2026-10-22 10:10", "2026-10-22 10:55", Standing::Etched, "proof", "go-ahead"),
        ("proof", "2026-10-22 13:00", "2026-10-22 14:30", Standing::Pulled, "go-ahead", "edition"),
        ("tear-paper", "2026-10-22 14:00", "2026-10-22 14:30", Standing::Pulled, "go-ahead", "edition"),
        ("go-ahead", "2026-10-22 14:35", "2026-10-22 14:40", Standing::Pulled, "edition", "curate"),
        ("edition", "2026-10-27 09:00", "2026-10-27 11:15", Standing::Pulled, "put-away", ""),
        ("put-away", "2026-10-27 11:30", "2026-10-27 12:00", Standing::PutAway, "curate", ""),
        ("curate", "2026-10-30 12:00", "2026-10-30 12:45", Standing::PutAway, "", ""),
    ];
    for (step, began, ended, standing, next, then) in way {
        assert_eq!(tale.refused(step, began), [""; 0], "{step}");
        let under_way = tale.clone().began(step, began);
        assert_eq!(under_way.state(step, began), "under_way");
        let open = Entry::new(step, at(began), None);
        assert_eq!(under_way.case().judge_done(&open), [], "{step}");
        tale = tale.did(step, began, ended);
        assert_eq!(tale.state(step, ended), "done", "{step}");
        assert_eq!(tale.stands(ended), (next.to_owned(), then.to_owned(), standing), "after {step}");
    }
    let end = tale.outlook("2026-10-30 13:00");
    assert!(end.finished && tale.to_do("2026-10-30 13:00").is_empty());
    assert!(
        end.steps
            .iter()
            .filter(|step| step.on_the_way)
            .all(|step| step.state.word() == "done" && step.times == 1)
    );
    assert_eq!(end.standing_since, Some(at("2026-10-27 12:00")));
}

#[test]
fn an_advised_rest_is_shown_as_resting_and_refuses_nothing() {
    let tale = Tale::aluminium().did("prepare", "2026-11-10 08:00", "2026-11-10 08:05").did(
        "draw",
        "2026-11-10 08:05",
        "2026-11-10 08:30",
    );
    let outlook = tale.outlook("2026-11-10 14:20");
    let until = at("2026-11-10 20:30");
    assert_eq!(outlook.step("first-etch").unwrap().state, StepState::Resting { until, by_rule: false });
    let verdict = tale.case().may_start("first-etch", at("2026-11-10 14:20"));
    assert!(verdict.may_start());
    let remark = Remark::new("procedure-advised-rest")
        .with("step", "First etch")
        .with("rest", "12\u{a0}h")
        .with("left", "6\u{a0}h 10\u{a0}min");
    assert_eq!(verdict.warnings, [Warning { name: WarningName::AdvisedRest, remark, until }]);
    assert_eq!(tale.state("first-etch", "2026-11-10 20:29"), "resting");
    assert_eq!(tale.state("first-etch", "2026-11-10 20:30"), "ready");
    // Advice passed over is not a limit: the etch done early is simply done.
    let early = tale.told("first-etch", "2026-11-10 14:30", "2026-11-10 15:15");
    assert_eq!(early.state("first-etch", "2026-11-10 15:15"), "done");
}

#[test]
fn the_shortest_rest_of_two_days_runs_on_the_clock_over_a_change_of_the_clocks() {
    // The clocks go back on 1 November 2026 at 02:00 in New York: two days on the clock end an hour earlier.
    let tale = Tale::approved().did("tear-paper", "2026-10-22 15:00", "2026-10-22 15:30").did(
        "edition",
        "2026-10-30 13:00",
        "2026-10-30 15:00",
    );
    let until = at("2026-11-01 14:00");
    assert_eq!(tale.refused("curate", "2026-11-01 13:59"), ["rest"]);
    assert_eq!(
        tale.outlook("2026-11-01 13:59").step("curate").unwrap().state,
        StepState::Resting { until, by_rule: true }
    );
    assert_eq!(tale.case().may_start("curate", at("2026-11-01 13:59")).broken[0].until, Some(until));
    assert_eq!(tale.refused("curate", "2026-11-01 14:00"), [""; 0]);
    // The advised third day is still running.
    assert_eq!(tale.warned("curate", "2026-11-01 14:00"), [WarningName::AdvisedRest]);
    assert_eq!(tale.state("curate", "2026-11-01 14:00"), "resting");
    assert_eq!(tale.state("curate", "2026-11-02 14:00"), "ready");
    assert_eq!(tale.procedure.numbering_step().unwrap().key, "curate");
}

#[test]
fn the_second_etch_belongs_to_the_day_of_the_roll_up() {
    let rolled = Tale::aluminium()
        .did("prepare", "2026-10-13 09:00", "2026-10-13 09:30")
        .did("draw", "2026-10-13 10:00", "2026-10-15 16:00")
        .did("first-etch", "2026-10-20 13:40", "2026-10-20 14:25")
        .did("roll-up", "2026-10-22 15:10", "2026-10-22 16:10");
    assert_eq!(rolled.warned("second-etch", "2026-10-22 23:59"), [WarningName::SameDayEnds]);
    assert_eq!(rolled.warned("second-etch", "2026-10-23 00:00"), [WarningName::SameDayPassed]);
    assert_eq!(
        rolled.refused("second-etch", "2026-10-23 10:05"),
        [""; 0],
        "a limit warns, it refuses nothing"
    );
    // In UTC that day ends four hours earlier.
    let abroad = Tale { zone: chrono_tz::UTC, ..rolled.clone() };
    assert_eq!(abroad.warned("second-etch", "2026-10-22 20:00"), [WarningName::SameDayPassed]);

    // Rolled up, talc, under gum: the day is met. Gum without talc, or the next day, is not enough.
    let safe = rolled.clone().put_down("2026-10-22 16:30", true);
    assert_eq!(safe.warned("second-etch", "2026-10-23 10:05"), []);
    let bare_gum = rolled.clone().put_down("2026-10-22 16:30", false);
    assert_eq!(bare_gum.warned("second-etch", "2026-10-23 10:05"), [WarningName::SameDayPassed]);
    let too_late = rolled.clone().put_down("2026-10-23 09:00", true);
    assert_eq!(too_late.warned("second-etch", "2026-10-23 10:05"), [WarningName::SameDayPassed]);

    let late = rolled.told("second-etch", "2026-10-23 10:05", "2026-10-23 10:50");
    assert!(late.history.entries.last().unwrap().outside.is_empty(), "a limit is not a rule");
    assert_eq!(late.state("second-etch", "2026-10-23 11:00"), "done_outside");
    assert_eq!(late.outlook("2026-10-23 11:00").blocked_by, None);
    assert_eq!(
        safe.told("second-etch", "2026-10-23 10:05", "2026-10-23 10:50")
            .state("second-etch", "2026-10-23 11:00"),
        "done"
    );
}

#[test]
fn the_gum_clock_runs_from_the_last_gumming_and_stops_when_gum_comes_off() {
    let limit = 14 * 1440;
    let tale = Tale::aluminium()
        .gum_limit(limit)
        .did("prepare", "2026-10-13 09:00", "2026-10-13 09:30")
        .did("draw", "2026-10-13 10:00", "2026-10-15 16:00")
        .did("first-etch", "2026-10-20 13:40", "2026-10-20 14:25");
    let clock = tale.outlook("2026-10-21 09:00").gum;
    assert_eq!((clock.gummed, clock.limit_minutes), (Some(at("2026-10-20 14:25")), Some(limit)));
    // Fourteen days on the clock, an hour of them given back on 1 November.
    assert_eq!(clock.until, Some(at("2026-11-03 13:25")));
    assert_eq!(tale.warned("roll-up", "2026-11-02 13:24"), []);
    assert_eq!(tale.warned("roll-up", "2026-11-02 13:25"), [WarningName::GumNear]);
    assert_eq!(tale.warned("roll-up", "2026-11-03 13:26"), [WarningName::GumPassed]);
    assert_eq!(tale.outlook("2026-11-03 13:26").warnings[0].name, WarningName::GumPassed);
    assert_eq!(tale.refused("roll-up", "2026-11-03 13:26"), [""; 0]);

    // A later gumming, whether a step or told at the end of a sitting, starts it anew.
    let again = tale.clone().did("re-gum", "2026-11-02 10:00", "2026-11-02 10:10");
    assert_eq!(again.outlook("2026-11-03 13:26").gum.gummed, Some(at("2026-11-02 10:10")));
    assert_eq!(again.stands("2026-11-03 13:26").2, Standing::UnderGum);
    let put_down = tale.clone().put_down("2026-11-01 12:00", false);
    assert_eq!(put_down.warned("roll-up", "2026-11-03 13:26"), []);
    let (standing, since) =
        (put_down.outlook("2026-11-02 09:00").standing, put_down.outlook("2026-11-02 09:00").standing_since);
    assert_eq!((standing, since), (Standing::UnderGum, Some(at("2026-11-01 12:00"))));

    // Rolled up: no gum on the plate, so no clock; what was late is done outside the limit.
    let late = tale.told("roll-up", "2026-11-04 09:00", "2026-11-04 10:00");
    let outlook = late.outlook("2026-11-04 10:00");
    assert_eq!((outlook.gum.gummed, outlook.gum.off_since), (None, Some(at("2026-11-04 09:00"))));
    assert_eq!(outlook.step("roll-up").unwrap().state.word(), "done_outside");
    assert!(outlook.warnings.is_empty());
}

#[test]
fn a_class_may_do_without_the_go_ahead_and_without_nothing_else() {
    let proofed = Tale::approved();
    let mut tale = proofed.clone().without("go-ahead").without("second-etch");
    tale.history.entries.pop();
    let tale = tale.did("tear-paper", "2026-10-22 15:00", "2026-10-22 15:30");
    assert_eq!(tale.refused("edition", "2026-10-22 16:00"), [""; 0]);
    assert!(tale.outlook("2026-10-22 16:00").step("go-ahead").is_none());
    assert!(tale.outlook("2026-10-22 16:00").step("second-etch").is_some());
    let mut asked = tale.clone();
    asked.choice.without.clear();
    assert_eq!(asked.refused("edition", "2026-10-22 16:00"), ["order"]);
    assert!(asked.outlook("2026-10-22 16:00").next_step().unwrap().waits_for_instructor);
}

#[test]
fn paper_is_torn_beside_the_others() {
    let tale = Tale::aluminium().began("tear-paper", "2026-10-13 09:00");
    assert_eq!(tale.refused("prepare", "2026-10-13 09:10"), [""; 0]);
    let tale = Tale::aluminium().began("prepare", "2026-10-13 09:00");
    assert_eq!(tale.refused("tear-paper", "2026-10-13 09:10"), [""; 0]);
    let outlook = tale.outlook("2026-10-13 09:10");
    assert_eq!((outlook.next.as_deref(), outlook.then.as_deref()), (Some("prepare"), Some("draw")));
    assert_eq!(outlook.beside, ["tear-paper".into()]);
}

#[test]
fn a_step_done_again_is_an_entry_and_asks_how_each_etch_came_up() {
    let tale = Tale::approved();
    // First etch at the roll-up, second at the proof; nothing is open afterwards.
    let asked = |tale: &Tale, step: &str, now: &str| tale.case().etches_to_ask_about(step, at(now));
    assert_eq!(asked(&tale, "roll-up", "2026-10-22 09:00"), [2]);
    assert_eq!(asked(&tale, "proof", "2026-10-22 13:00"), [4]);
    assert_eq!(asked(&tale, "proof", "2026-10-23 13:00"), [0_usize; 0]);
    assert_eq!(asked(&tale, "second-etch", "2026-10-22 13:00"), [0_usize; 0], "an etch shows nothing");

    // Third etch and second proof.
    let tale = tale.told("second-etch", "2026-11-03 13:20", "2026-11-03 14:05");
    assert_eq!(tale.history.entries[7].outside, []);
    let third = tale.outlook("2026-11-03 15:00");
    assert_eq!(third.step("second-etch").unwrap().times, 2);
    assert_eq!(asked(&tale, "proof", "2026-11-05 15:00"), [7]);
    // The edition wants a proof of the plate as it is now.
    assert_eq!(tale.refused("edition", "2026-11-05 14:00"), ["order", "requires_since"]);
    assert_eq!(tale.to_do("2026-11-05 14:00"), ["tear-paper", "proof", "edition", "curate", "put-away"]);
    let tale = tale.told("proof", "2026-11-05 14:15", "2026-11-05 15:45");
    assert_eq!(tale.history.entries[8].outside, []);
    assert_eq!(tale.to_do("2026-11-05 16:00"), ["tear-paper", "edition", "curate", "put-away"]);

    // Two etches before anything shows them are both asked about, the earlier first.
    let twice = tale.did("local-etch", "2026-11-06 09:00", "2026-11-06 09:30").did(
        "second-etch",
        "2026-11-06 10:00",
        "2026-11-06 10:45",
    );
    assert_eq!(asked(&twice, "proof", "2026-11-06 13:00"), [9, 10]);
}

#[test]
fn what_remains_can_be_planned_without_knowing_rules() {
    let tale = Tale::aluminium()
        .gum_limit(14 * 1440)
        .did("prepare", "2026-10-13 09:00", "2026-10-13 09:30")
        .did("draw", "2026-10-13 10:00", "2026-10-15 16:00");
    let remaining = tale.case().remaining(at("2026-10-15 17:00"), 12);
    // key, minutes, after, wait, shortest wait, longest wait, same day
    type Row<'a> = (&'a str, i64, &'a [&'a str], i64, i64, Option<i64>, bool);
    let table: &[Row<'_>] = &[
        ("first-etch", 45, &[], 0, 0, None, false),
        ("roll-up", 60, &["first-etch"], 60, 0, Some(14 * 1440), false),
        ("second-etch", 45, &["roll-up"], 0, 0, None, true),
        ("proof", 90, &["second-etch"], 30, 0, Some(14 * 1440), false),
        ("go-ahead", 5, &["proof"], 0, 0, None, false),
        ("tear-paper", 30, &[], 0, 0, None, false),
        ("edition", 75 + 6 * 12, &["go-ahead", "tear-paper", "proof"], 0, 0, Some(14 * 1440), false),
        ("curate", 45, &["edition"], 4320, 2880, None, false),
        ("put-away", 30, &["edition"], 0, 0, None, false),
    ];
    assert_eq!(remaining.len(), table.len());
    for (step, (key, minutes, after, wait, shortest, longest, same_day)) in remaining.iter().zip(table) {
        assert_eq!((&*step.key, step.minutes), (*key, *minutes));
        assert_eq!(after_of(step), *after, "{key}");
        assert_eq!((step.wait_minutes, step.minimum_wait_minutes), (*wait, *shortest), "{key}");
        assert_eq!((step.maximum_wait_minutes, step.same_day), (*longest, *same_day), "{key}");
        assert!(!step.called_for && step.under_way_since.is_none(), "{key}");
    }
    assert_eq!(remaining[0].not_before, Some(at("2026-10-16 04:00")));
    assert_eq!(*remaining[4].place, Place::Instructor);
    assert!(remaining[5].beside_others);

    // What runs already is counted from when it began.
    let etched =
        tale.did("first-etch", "2026-10-20 13:40", "2026-10-20 14:25").began("roll-up", "2026-10-22 09:00");
    let remaining = etched.case().remaining(at("2026-10-22 09:20"), 12);
    assert_eq!(remaining[0].under_way_since, Some(at("2026-10-22 09:00")));
    assert_eq!((&*remaining[1].key, after_of(&remaining[1])), ("second-etch", vec!["roll-up"]));
}
