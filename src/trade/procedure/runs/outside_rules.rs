//! Facts that broke a rule: kept, named, blocking until settled. Sign-offs and allowances.

use chrono::NaiveDate;

use super::*;

/// Drawn and rolled up without an etch, told afterwards.
fn rolled_up_unetched() -> Tale {
    Tale::aluminium()
        .told("prepare", "2026-10-13 09:00", "2026-10-13 09:30")
        .told("draw", "2026-10-13 10:00", "2026-10-15 16:00")
        .told("roll-up", "2026-10-20 09:00", "2026-10-20 10:00")
}

#[test]
fn a_fact_outside_the_rules_is_kept_and_blocks_until_it_is_settled() {
    let tale = rolled_up_unetched();
    assert_eq!(tale.history.entries[2].outside, [RuleName::Order, RuleName::AfterAnyOf]);
    let outlook = tale.outlook("2026-10-20 11:00");
    assert_eq!(outlook.blocked_by, Some(2));
    assert_eq!(outlook.step("roll-up").unwrap().state.word(), "done_outside");
    assert_eq!(outlook.standing, Standing::RolledUp, "it stands as it stands");
    for step in tale.procedure.all() {
        let waits = tale.refused(&step.key, "2026-10-20 11:00").contains(&"unsettled");
        let never = ["tear-paper", "re-gum", "scrap"].contains(&step.key.as_str());
        assert_eq!(waits, !never, "{}", step.key);
    }
    // Done nonetheless: kept again, and named for that.
    let on = tale.told("second-etch", "2026-10-20 11:00", "2026-10-20 11:45");
    assert_eq!(on.history.entries[3].outside, [RuleName::Unsettled]);
}

#[test]
fn settled_as_it_stands_the_plate_goes_on_from_there() {
    let tale = rolled_up_unetched().settled(Ordered::Stands, "2026-10-20 12:00");
    assert_eq!(tale.outlook("2026-10-20 11:59").blocked_by, Some(2), "not settled before it was");
    let outlook = tale.outlook("2026-10-20 12:00");
    assert_eq!(outlook.blocked_by, None);
    assert_eq!(outlook.step("roll-up").unwrap().state.word(), "done_outside", "settling does not unmake it");
    assert_eq!(outlook.next.as_deref(), Some("second-etch"));
    assert!(outlook.step("first-etch").unwrap().passed_over);
    assert_eq!(tale.refused("second-etch", "2026-10-20 12:00"), [""; 0]);
}

#[test]
fn settled_as_to_be_done_again_the_step_is_ready_anew() {
    let again = rolled_up_unetched().settled(Ordered::Again, "2026-10-20 12:00");
    assert_eq!(again.stands("2026-10-20 12:00").0, "first-etch", "what it left out comes first");
    let again = again.told("first-etch", "2026-10-20 13:00", "2026-10-20 13:45");
    let outlook = again.outlook("2026-10-20 15:00");
    assert_eq!(outlook.next.as_deref(), Some("roll-up"));
    assert_eq!(outlook.step("roll-up").unwrap().state.word(), "ready");
    assert_eq!(outlook.step("roll-up").unwrap().times, 1);
    let done = again.told("roll-up", "2026-10-20 15:00", "2026-10-20 16:00");
    assert_eq!(done.state("roll-up", "2026-10-20 16:00"), "done");

    // Again, though the plate has gone on: it is asked for all the same.
    let mut later = Tale::approved();
    later.history.entries[4].outside = vec![RuleName::SignOff];
    later.history.entries[4].settled = Some(Settled { at: at("2026-10-23 09:00"), ordered: Ordered::Again });
    assert_eq!(later.stands("2026-10-23 10:00").0, "second-etch");
}

#[test]
fn a_run_is_judged_by_what_came_before_it_in_whatever_order_it_was_told() {
    // The roll-up reaches the server first, from the studio tablet; the etch follows from a phone.
    let tale = rolled_up_unetched();
    let entry = tale.history.entries[2].clone();
    let tale = tale.told("first-etch", "2026-10-19 13:00", "2026-10-19 13:45");
    assert_eq!(tale.case().judge_done(&entry), [], "with the etch known it was in order");
    // Told times are rounded: an etch told to end ten minutes into the roll-up still came before it.
    let rounded = rolled_up_unetched().told("first-etch", "2026-10-20 08:30", "2026-10-20 09:10");
    assert_eq!(rounded.case().judge_done(&entry), []);
    let overlapping = rolled_up_unetched().told("first-etch", "2026-10-20 08:30", "2026-10-20 09:30");
    assert_eq!(
        overlapping.case().judge_done(&entry),
        [RuleName::UnderWay, RuleName::Order, RuleName::AfterAnyOf]
    );
}

#[test]
fn an_expired_sign_off_refuses_a_start_and_names_a_fact() {
    let mut tale = Tale::aluminium().did("prepare", "2026-10-13 09:00", "2026-10-13 09:30").did(
        "draw",
        "2026-10-13 10:00",
        "2026-10-15 16:00",
    );
    tale.sign_offs[1].until = NaiveDate::from_ymd_opt(2026, 10, 20);
    assert_eq!(tale.refused("first-etch", "2026-10-20 23:59"), [""; 0]);
    let verdict = tale.case().may_start("first-etch", at("2026-10-21 00:00"));
    assert_eq!(verdict.rules(), [RuleName::SignOff]);
    assert_eq!(verdict.broken[0].about, "acid-and-gum");
    assert_eq!(verdict.broken[0].remark.key, "procedure-sign-off-expired");
    assert_eq!(tale.state("first-etch", "2026-10-21 09:00"), "not_yet");
    assert_eq!(tale.stands("2026-10-21 09:00").0, "first-etch");
    // Acid was on the plate all the same.
    let tale = tale.told("first-etch", "2026-10-21 09:00", "2026-10-21 09:45");
    assert_eq!(tale.history.entries[2].outside, [RuleName::SignOff]);
    // A sign-off given later does not reach back.
    let mut renewed = tale.clone();
    let held = Held { from: at("2026-10-21 12:00"), until: None, ..renewed.sign_offs[1].clone() };
    renewed.sign_offs.push(held);
    assert_eq!(renewed.case().judge_done(&tale.history.entries[2]), [RuleName::SignOff]);
    assert_eq!(renewed.refused("local-etch", "2026-10-21 12:00"), ["unsettled"]);
}

#[test]
fn what_is_said_about_a_missing_sign_off() {
    let now = at("2026-10-23 09:00");
    let said = |held: Option<Held>| {
        let mut tale = Tale::approved();
        tale.sign_offs = held.into_iter().collect();
        let verdict = tale.case().may_start("deletion", now);
        verdict.broken[0].remark.clone()
    };
    let held = Held {
        topic: "acid-and-gum".to_owned(),
        grade: Grade::Shown,
        from: at("2026-09-15 10:00"),
        until: None,
        withdrawn: None,
    };
    let need = |key, held: Option<&str>| {
        let remark = Remark::new(key);
        let remark = held.map_or(remark.clone(), |held| remark.with("held", held));
        remark.with("step", "Delete").with("topic", "acid and gum").with("grade", "watched")
    };
    assert_eq!(said(None), need("procedure-sign-off-missing", None));
    assert_eq!(said(Some(held.clone())), need("procedure-sign-off-grade", Some("shown")));
    let withdrawn = Held { withdrawn: Some(at("2026-10-01 10:00")), ..held };
    assert_eq!(said(Some(withdrawn)), need("procedure-sign-off-withdrawn", None));
}

#[test]
fn an_allowance_sets_rules_aside_once_a_missing_sign_off_among_them() {
    let mut tale = Tale::aluminium()
        .did("prepare", "2026-10-13 09:00", "2026-10-13 09:30")
        .did("draw", "2026-10-13 10:00", "2026-10-15 16:00")
        .did("first-etch", "2026-10-20 13:40", "2026-10-20 14:25")
        .did("roll-up", "2026-10-22 09:00", "2026-10-22 10:00");
    assert_eq!(tale.refused("proof", "2026-10-22 11:00"), ["order"]);
    tale.allowances.push(Allowance { step: "proof".to_owned(), given: at("2026-10-22 11:00"), used: None });
    let verdict = tale.case().may_start("proof", at("2026-10-22 11:00"));
    assert!(verdict.may_start());
    assert_eq!(verdict.allowed, [RuleName::Order], "so the caller marks the allowance used");
    let mut untrained = tale.clone();
    untrained.sign_offs.retain(|held| held.topic != "press");
    let verdict = untrained.case().may_start("proof", at("2026-10-22 11:00"));
    assert_eq!(verdict.allowed, [RuleName::Order, RuleName::SignOff]);
    untrained.allowances.clear();
    assert_eq!(untrained.refused("proof", "2026-10-22 11:00"), ["order", "sign_off"]);

    // The run that used it stays in order when it is judged again; the next one is refused.
    tale.allowances[0].used = Some(at("2026-10-22 11:05"));
    let tale = tale.told("proof", "2026-10-22 11:05", "2026-10-22 12:30");
    assert_eq!(tale.history.entries[4].outside, []);
    assert_eq!(tale.refused("proof", "2026-10-22 13:00"), ["order"]);
    // The plate went on without its second etch, and the way goes on from the proof.
    assert_eq!(tale.stands("2026-10-22 13:00").0, "go-ahead");
}

#[test]
fn a_step_the_procedure_does_not_have_is_kept_and_named() {
    let tale = Tale::approved().told("varnish", "2026-10-23 09:00", "2026-10-23 09:30");
    assert_eq!(tale.history.entries[7].outside, [RuleName::UnknownStep]);
    assert_eq!(tale.outlook("2026-10-23 10:00").blocked_by, Some(7));
}
