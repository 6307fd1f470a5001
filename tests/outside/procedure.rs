//! The shipped procedures against what is in print about plates and stones, and what is said when they refuse.
//!
//! Sources, each named at its check: "Plate lithography procedure, part 2" (class handout); workshop notes after a
//! summer course, 2009; Engineer's and Mechanic's Encyclopedia, "Preparation of the stone for printing"; G. Fritz,
//! *Photo-Lithography*, chapter 9. The hard orderings are those the handouts share.

use chrono::{DateTime, Utc};
use tympan::speech::Speech;
use tympan::trade::civil::rfc3339;
use tympan::trade::procedure::step::{Maximum, Records};
use tympan::trade::procedure::{
    Case, Charted, ClassChoice, Entry, Grade, Held, History, Procedure, RuleName, SignOff, Step, check,
    shipped,
};

fn at(text: &str) -> DateTime<Utc> {
    rfc3339("at", text).unwrap()
}

fn shipped(place: usize) -> Procedure {
    shipped::procedures().unwrap().swap_remove(place)
}

fn step<'p>(procedure: &'p Procedure, key: &str) -> &'p Step {
    procedure.find(key).unwrap_or_else(|| panic!("no step {key}"))
}

/// A plate on which these steps were done, a week apart, by somebody with every sign-off, a week later still.
fn refused(procedure: &Procedure, done: &[&str], asked: &str) -> Vec<RuleName> {
    let mut history = History::default();
    let mut now = at("2026-09-07T09:00:00Z");
    for key in done {
        history.entries.push(Entry::new(key, now, Some(now + chrono::TimeDelta::hours(1))));
        now += chrono::TimeDelta::days(7);
    }
    let held = |topic: &&str| Held {
        topic: (*topic).to_owned(),
        grade: Grade::Alone,
        from: at("2026-09-01T09:00:00Z"),
        until: None,
        withdrawn: None,
    };
    let sign_offs: Vec<Held> = shipped::TOPICS.iter().map(held).collect();
    let choice = ClassChoice::default();
    let procedure = Charted::of(procedure.clone());
    let case = Case {
        procedure: &procedure,
        choice: &choice,
        history: &history,
        sign_offs: &sign_offs,
        allowances: &[],
        zone: chrono_tz::UTC,
    };
    case.may_start(asked, now).rules()
}

const PROOFED: [&str; 6] = ["prepare", "draw", "first-etch", "roll-up", "second-etch", "proof"];

/// "No roll-up before first etch; no addition without counter-etch; a counter-etch always needs a new etch before
/// printing; BAT before edition; cancel ends printing."
#[test]
fn the_hard_orderings_hold_for_plate_and_stone() {
    for procedure in shipped::procedures().unwrap() {
        let with = |more: &[&'static str]| [&PROOFED[..], more].concat();
        let broken = |done: &[&str], asked| refused(&procedure, done, asked);
        assert!(broken(&["prepare", "draw"], "roll-up").contains(&RuleName::AfterAnyOf));
        assert!(broken(&PROOFED, "addition").contains(&RuleName::AfterAnyOf));
        assert_eq!(broken(&with(&["counter-etch"]), "addition"), []);
        assert_eq!(broken(&with(&["counter-etch"]), "proof"), [RuleName::RequiresSince]);
        assert_eq!(broken(&with(&["counter-etch", "first-etch"]), "proof"), []);
        assert_eq!(broken(&with(&["tear-paper"]), "edition"), [RuleName::Order], "the go-ahead is missing");
        assert_eq!(broken(&with(&["tear-paper", "go-ahead"]), "edition"), []);
        let cancelled = with(&["tear-paper", "go-ahead", "edition", "cancel"]);
        for printing in ["proof", "edition", "roll-up"] {
            assert!(broken(&cancelled, printing).contains(&RuleName::Ended), "{printing}");
        }
        assert_eq!(broken(&cancelled, "cancellation-proof"), []);
    }
}

#[test]
fn rests_are_those_in_print() {
    // 12 to 24 h after drawing a plate: class handout. We advise its lower end.
    let plate = shipped(0);
    assert!((12 * 60..=24 * 60).contains(&step(&plate, "first-etch").rest.advised));
    // A stone rests at least a day and at most a week before printing: Engineer's and Mechanic's Encyclopedia.
    let stone = shipped(1);
    let rest = &step(&stone, "roll-up").rest;
    assert_eq!((rest.advised, rest.maximum), (24 * 60, Some(Maximum::Minutes(7 * 24 * 60))));
    // The rest, common practice, no published source: a day's second etch, two days' drying at least, three advised.
    for procedure in [&plate, &stone] {
        let second = step(procedure, "second-etch");
        assert_eq!(second.rest.maximum, Some(Maximum::SameDay { met_by_talc_and_gum: true }));
        let curate = step(procedure, "curate");
        assert_eq!((curate.rest.minimum, curate.rest.advised), (2 * 24 * 60, 3 * 24 * 60));
    }
}

/// The table of the house plan: hands-on minutes (common practice, no published source), sign-offs, records.
#[test]
fn the_plates_steps_are_those_of_the_plan() {
    let plate = shipped(0);
    let table: [(&str, i64, &[&str], Records); 11] = [
        ("prepare", 30, &["studio-basics", "acid-and-gum"], Records::Nothing),
        ("draw", 240, &[], Records::Nothing),
        ("first-etch", 45, &["acid-and-gum"], Records::Etch),
        ("roll-up", 60, &["solvents"], Records::Nothing),
        ("second-etch", 45, &["acid-and-gum"], Records::Etch),
        ("proof", 90, &["press", "solvents"], Records::Proof),
        ("go-ahead", 5, &[], Records::GoAhead),
        ("tear-paper", 30, &["studio-basics"], Records::Nothing),
        ("edition", 75, &["press", "solvents"], Records::Sheets),
        ("curate", 45, &[], Records::Sheets),
        ("put-away", 30, &["solvents"], Records::Nothing),
    ];
    assert_eq!(plate.steps.len(), table.len());
    for (step, (key, minutes, topics, records)) in plate.steps.iter().zip(table) {
        let asked: Vec<&str> = step.sign_offs.iter().map(|need| need.topic.as_str()).collect();
        assert_eq!((step.key.as_str(), step.minutes.fixed, step.records), (key, minutes, records));
        assert_eq!(asked, topics, "{key}");
    }
    assert_eq!(step(&plate, "edition").hands_on(20), 75 + 6 * 20);
    // Graining a stone takes 90 to 180 minutes.
    let stone = shipped(1);
    for key in ["prepare", "re-grain"] {
        assert!((90..=180).contains(&step(&stone, key).minutes.fixed), "{key}");
    }
}

/// What a refusal says: what is missing and what to do.
#[test]
fn refusals_are_said_in_plain_words() {
    let plate = shipped(0);
    let speech = Speech::load().unwrap();
    let began = at("2026-10-22T09:00:00Z");
    let history = History {
        entries: vec![Entry::new("deletion", began, Some(began)), Entry::new("edition", began, Some(began))],
        put_downs: vec![],
    };
    let held = |grade, until| Held {
        topic: "press".to_owned(),
        grade,
        from: at("2026-09-01T09:00:00Z"),
        until,
        withdrawn: None,
    };
    let charted = Charted::of(plate);
    let said = |key: &str, sign_offs: &[Held]| -> Vec<String> {
        let choice = ClassChoice::default();
        let allowances = [];
        let zone = chrono_tz::UTC;
        let case = Case {
            procedure: &charted,
            choice: &choice,
            history: &history,
            sign_offs,
            allowances: &allowances,
            zone,
        };
        let verdict = case.may_start(key, at("2026-10-23T09:00:00Z"));
        verdict.broken.iter().map(|broken| speech.remark(&broken.remark)).collect()
    };
    let shown = held(Grade::Shown, None);
    let expired = held(Grade::Alone, chrono::NaiveDate::from_ymd_opt(2026, 10, 20));
    assert_eq!(
        said("proof", &[shown]),
        [
            "Proof needs one of these, done after the latest “Delete”: Local etch, Gum again, First etch, Second etch.",
            "Proof needs the sign-off “press”, watched; so far it is shown only. Somebody who gives it has to sign.",
            "Proof needs the sign-off “solvents”, watched. Somebody who gives it has to sign.",
        ]
    );
    assert_eq!(
        said("cancellation-proof", &[expired])[..2],
        [
            "Cancellation proof needs one of these done before: Cancel.",
            "Cancellation proof needs the sign-off “press”, which was valid until 2026-10-20. Somebody who gives it has to renew it.",
        ]
    );
    assert_eq!(
        said("curate", &[]),
        ["Dry, curate, sign and number follows a rest of 2\u{a0}d; 1\u{a0}d to go. Wait until then."]
    );
}

/// What an instructor reads about a slip: step, value, remedy.
#[test]
fn slips_are_said_in_plain_words() {
    let speech = Speech::load().unwrap();
    let mut procedure = shipped(0);
    let spoiled = procedure.steps.iter_mut().find(|step| step.key == "proof").unwrap();
    spoiled.minutes.fixed = 4500;
    spoiled.after = vec!["varnish".to_owned()];
    spoiled.sign_offs = vec![SignOff { topic: "pres".to_owned(), grade: Grade::Watched }];
    let said: Vec<String> = check(&procedure, &["press", "solvents", "studio-basics", "acid-and-gum"])
        .iter()
        .map(|it| speech.remark(it))
        .collect();
    assert_eq!(
        said,
        [
            "Proof: the hands-on time is 4500 minutes. Write 0 to 1440 (1\u{a0}d).",
            "Proof needs the sign-off “pres”, and there is no such topic. Known: press, solvents, studio-basics, acid-and-gum.",
            "Proof comes after “varnish”, which is no step here. Use the key of one.",
        ]
    );
}
