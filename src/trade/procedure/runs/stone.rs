//! A stone from graining to graining again.

use super::*;

#[test]
fn a_stone_from_graining_to_graining() {
    let mut tale = Tale::of(shipped("stone"));
    let way = [
        ("prepare", "2026-10-12 09:00", "2026-10-12 11:00", Standing::Bare, "draw"),
        ("draw", "2026-10-12 13:00", "2026-10-14 16:00", Standing::Drawn, "first-etch"),
        ("first-etch", "2026-10-14 16:10", "2026-10-14 16:55", Standing::Etched, "roll-up"),
        ("roll-up", "2026-10-16 09:00", "2026-10-16 10:00", Standing::RolledUp, "second-etch"),
        ("second-etch", "2026-10-16 10:30", "2026-10-16 11:15", Standing::Etched, "proof"),
        ("proof", "2026-10-19 09:00", "2026-10-19 10:30", Standing::Pulled, "go-ahead"),
        ("go-ahead", "2026-10-19 10:30", "2026-10-19 10:35", Standing::Pulled, "tear-paper"),
        ("tear-paper", "2026-10-19 10:40", "2026-10-19 11:10", Standing::Pulled, "edition"),
        ("edition", "2026-10-20 09:00", "2026-10-20 11:00", Standing::Pulled, "put-away"),
        ("curate", "2026-10-23 11:00", "2026-10-23 11:45", Standing::Pulled, "put-away"),
        ("re-grain", "2026-10-26 09:00", "2026-10-26 11:00", Standing::Scrapped, ""),
    ];
    for (step, began, ended, standing, next) in way {
        assert_eq!(tale.refused(step, began), [""; 0], "{step}");
        tale = tale.told(step, began, ended);
        let outlook = tale.outlook(ended);
        assert_eq!(outlook.standing, standing, "{step}");
        let next = if step == "go-ahead" { "edition" } else { next };
        assert_eq!(outlook.next.as_deref().unwrap_or_default(), next, "after {step}");
    }
    assert!(tale.history.entries.iter().all(|entry| entry.outside.is_empty()));
    assert!(tale.outlook("2026-10-26 12:00").finished, "grained again is one way of putting away");
    assert_eq!(tale.refused("proof", "2026-10-26 12:00"), ["ended"]);
}

/// "At least a day, at most a week" between preparing a stone and printing it: Engineer's and Mechanic's
/// Encyclopedia, "Preparation of the stone for printing".
#[test]
fn a_day_is_advised_and_a_week_is_the_limit_before_a_stone_is_rolled_up() {
    let etched = Tale::of(shipped("stone"))
        .did("prepare", "2026-10-12 09:00", "2026-10-12 11:00")
        .did("draw", "2026-10-12 13:00", "2026-10-13 16:00")
        .did("first-etch", "2026-10-14 09:00", "2026-10-14 10:00");
    let table: &[(&str, &str, &[WarningName])] = &[
        ("2026-10-14 10:00", "resting", &[WarningName::AdvisedRest]),
        ("2026-10-15 09:59", "resting", &[WarningName::AdvisedRest]),
        ("2026-10-15 10:00", "ready", &[]),
        ("2026-10-20 09:59", "ready", &[]),
        ("2026-10-20 10:00", "ready", &[WarningName::LongestRestNear]),
        ("2026-10-21 10:00", "ready", &[WarningName::LongestRestNear]),
        ("2026-10-21 10:01", "ready", &[WarningName::LongestRestPassed]),
    ];
    for (now, state, warnings) in table {
        assert_eq!(etched.state("roll-up", now), *state, "{now}");
        assert_eq!(etched.warned("roll-up", now), *warnings, "{now}");
        assert_eq!(etched.refused("roll-up", now), [""; 0]);
    }
    assert_eq!(etched.case().remaining(at("2026-10-15 10:00"), 1)[0].latest_by, Some(at("2026-10-21 10:00")));
    let late = etched.told("roll-up", "2026-10-22 09:00", "2026-10-22 10:00");
    assert_eq!(late.state("roll-up", "2026-10-22 10:00"), "done_outside");
}

#[test]
fn nitric_acid_has_its_own_sign_off() {
    let mut tale = Tale::of(shipped("stone")).did("prepare", "2026-10-12 09:00", "2026-10-12 11:00").did(
        "draw",
        "2026-10-12 13:00",
        "2026-10-13 16:00",
    );
    tale.sign_offs.retain(|held| held.topic != "nitric");
    let broken = tale.case().may_start("first-etch", at("2026-10-14 09:00")).broken;
    assert_eq!((broken.len(), broken[0].rule, broken[0].about.as_str()), (1, RuleName::SignOff, "nitric"));
}
