use super::*;
use crate::speech::Speech;
use crate::trade::procedure::shipped;
use crate::trade::procedure::step::{Grade, Maximum, Need, Picture, Recording, Shows, SignOff};

fn aluminium() -> Procedure {
    Procedure::from_json(shipped::FILES[0].1).unwrap()
}

/// The step to spoil.
fn step<'p>(procedure: &'p mut Procedure, key: &str) -> &'p mut Step {
    let any_time = procedure.any_time.iter_mut();
    procedure.steps.iter_mut().chain(any_time).find(|step| step.key == key).unwrap()
}

/// The remarks of a spoiled procedure, each said in English.
fn said(spoil: impl FnOnce(&mut Procedure)) -> Vec<(&'static str, String)> {
    let mut procedure = aluminium();
    spoil(&mut procedure);
    let speech = Speech::load().unwrap();
    let remarks = check(&procedure, &shipped::TOPICS);
    remarks.iter().map(|remark| (remark.key, speech.say(remark.key, &remark.with).unwrap())).collect()
}

#[test]
fn what_is_shipped_is_sound() {
    for procedure in shipped::procedures().unwrap() {
        assert_eq!(check(&procedure, &shipped::TOPICS), [], "{}", procedure.name);
        assert!(procedure.all().all(|step| !step.source.is_empty() && !step.instructions.is_empty()));
    }
}

/// One slip each, and the one remark it gets.
#[test]
fn each_slip_gets_its_remark() {
    type Spoil = fn(&mut Procedure);
    let rule = |of: &[&str]| Need::AfterAnyOf {
        of: of.iter().map(|word| (*word).to_owned()).collect(),
        because: String::new(),
    };
    let table: Vec<(&str, Spoil)> = vec![
        ("procedure-check-name", |it| it.name = "  ".to_owned()),
        ("procedure-check-name", |it| it.name = "n".repeat(81)),
        ("procedure-check-gum-limit", |it| it.gum_limit_minutes = Some(0)),
        ("procedure-check-empty", |it| step(it, "draw").title = " ".to_owned()),
        ("procedure-check-too-long", |it| step(it, "draw").title = "t".repeat(81)),
        ("procedure-check-empty", |it| step(it, "draw").instructions.during.push(String::new())),
        ("procedure-check-too-long", |it| step(it, "draw").instructions.after.push("x".repeat(601))),
        ("procedure-check-empty", |it| step(it, "proof").place = Place::Station(String::new())),
        ("procedure-check-minutes", |it| step(it, "proof").minutes.fixed = 4500),
        ("procedure-check-minutes", |it| step(it, "proof").minutes.fixed = -5),
        ("procedure-check-minutes", |it| step(it, "edition").minutes.per_sheet = 600),
        ("procedure-check-minutes", |it| step(it, "draw").minutes.fixed = 20_161),
        ("procedure-check-minutes", |it| step(it, "draw").rest.minimum = -1),
        ("procedure-check-key", |it| step(it, "tear-paper").counts_as.push("Paper".to_owned())),
        ("procedure-check-counts-as", |it| step(it, "tear-paper").counts_as.push("papper".to_owned())),
        ("procedure-check-after", |it| step(it, "proof").after.push("varnish".to_owned())),
        ("procedure-check-after-any-time", |it| step(it, "proof").after.push("re-gum".to_owned())),
        ("procedure-check-circle", |it| step(it, "draw").after.push("draw".to_owned())),
        ("procedure-check-then-only", |it| step(it, "scrap").then_only = Some(vec!["burn".to_owned()])),
        ("procedure-check-rest-since", |it| step(it, "proof").rest.since.push("ecth".to_owned())),
        ("procedure-check-topic", |it| step(it, "proof").sign_offs[0].topic = "pres".to_owned()),
        ("procedure-check-etch-hazard", |it| step(it, "local-etch").hazards.clear()),
        ("procedure-check-rest-advised", |it| step(it, "curate").rest.advised = 60),
        ("procedure-check-rest-maximum", |it| step(it, "curate").rest.maximum = Some(Maximum::Minutes(2000))),
        ("procedure-check-rest-from-nothing", |it| step(it, "prepare").rest.advised = 60),
        ("procedure-check-numbers-twice", |it| step(it, "put-away").numbers_edition = true),
        ("procedure-check-numbers-early", |it| step(it, "curate").after = vec!["proof".to_owned()]),
        ("procedure-check-rest-same-day", |it| {
            step(it, "curate").rest.maximum = Some(Maximum::SameDay { met_by_talc_and_gum: false });
        }),
        ("procedure-check-key-twice", |it| {
            let again = it.any_time[4].clone();
            it.any_time.push(again);
        }),
        ("procedure-check-topic-twice", |it| {
            let twice = SignOff { topic: "press".to_owned(), grade: Grade::Alone };
            step(it, "proof").sign_offs.push(twice);
        }),
        ("procedure-check-empty", |it| {
            let picture = Picture { name: "flat".to_owned(), shows: Shows::Wrong, caption: String::new() };
            step(it, "proof").pictures.push(picture);
        }),
        ("procedure-check-link", |it| {
            step(it, "proof").recording = Some(Recording { link: "ftp://films/proof".to_owned(), minute: 3 });
        }),
        ("procedure-check-minutes", |it| {
            let link = "https://films.example.edu/proof".to_owned();
            step(it, "proof").recording = Some(Recording { link, minute: -1 });
        }),
    ];
    for (number, (key, spoil)) in table.into_iter().enumerate() {
        let remarks = said(spoil);
        assert_eq!(
            remarks.iter().map(|(key, _)| *key).collect::<Vec<_>>(),
            [key],
            "slip {number}: {remarks:?}"
        );
    }
    for (key, need) in [
        ("procedure-check-need", rule(&["ecth"])),
        ("procedure-check-need-empty", rule(&[])),
        ("procedure-check-out-of-reach", rule(&["edition"])),
    ] {
        let remarks = said(|it| step(it, "proof").needs.push(need));
        assert!(remarks.iter().all(|(said, _)| *said == key) && !remarks.is_empty(), "{key}: {remarks:?}");
    }
}

#[test]
fn remarks_name_step_value_and_remedy() {
    let table: Vec<(&str, Vec<(&str, String)>)> = vec![
        (
            "Proof: the hands-on time is 4500 minutes. Write 0 to 1440 (1\u{a0}d).",
            said(|it| step(it, "proof").minutes.fixed = 4500),
        ),
        ("draw: the title is empty. Write it, or take it out.", said(|it| step(it, "draw").title.clear())),
        (
            "Proof needs the sign-off “pres”, and there is no such topic. Known: studio-basics, acid-and-gum, solvents, press, nitric, graining.",
            said(|it| step(it, "proof").sign_offs[0].topic = "pres".to_owned()),
        ),
        (
            "Dry, curate, sign and number: the advised rest of 1\u{a0}h is shorter than the shortest, 2\u{a0}d. Make it at least that, or leave it empty.",
            said(|it| step(it, "curate").rest.advised = 60),
        ),
    ];
    for (sentence, remarks) in table {
        assert_eq!(remarks[0].1, sentence);
    }
}

#[test]
fn a_circle_is_shown_as_it_runs() {
    let remarks = said(|it| step(it, "first-etch").after.push("proof".to_owned()));
    assert_eq!(
        remarks[0].1,
        "First etch waits for itself: First etch → Proof → Second etch → Wash out and roll up → First etch. \
         Take one of these out of what another comes after."
    );
    assert_eq!(remarks.len(), 1);
}

#[test]
fn rules_that_wait_for_each_other_are_out_of_reach() {
    let remarks = said(|it| {
        let need = |of: &str| Need::AfterAnyOf { of: vec![of.to_owned()], because: String::new() };
        step(it, "cancel").needs = vec![need("cancellation-proof")];
    });
    let sentences: Vec<&str> = remarks.iter().map(|(_, said)| said.as_str()).collect();
    assert_eq!(
        sentences,
        [
            "Cancel can never begin: what it needs can only be done after it. Loosen one of its rules.",
            "Cancellation proof can never begin: what it needs can only be done after it. Loosen one of its rules.",
        ]
    );
}

#[test]
fn gum_that_nobody_lays_has_no_limit() {
    let remarks = said(|it| {
        for step in it.steps.iter_mut().chain(&mut it.any_time) {
            step.gums = false;
        }
    });
    let keys: Vec<&str> = remarks.iter().map(|(key, _)| *key).collect();
    assert_eq!(keys, ["procedure-check-rest-no-gum"; 3]);
}

#[test]
fn a_procedure_without_steps_or_with_too_many() {
    let nothing = said(|it| {
        it.steps.clear();
        it.any_time.clear();
    });
    assert_eq!(nothing.iter().map(|(key, _)| *key).collect::<Vec<_>>(), ["procedure-check-no-steps"]);
    let many = said(|it| {
        for number in 0..60 {
            let mut copy = it.any_time[4].clone();
            copy.key = format!("gum-{number}");
            it.any_time.push(copy);
        }
    });
    assert_eq!(many[0].1, "The procedure has 79 steps: keep to 60, or make two procedures of it.");
    assert_eq!(many.len(), 1);
}

#[test]
fn keys_are_plain() {
    for (text, sound) in [
        ("first-etch", true),
        ("etch2", true),
        ("2-etch", true),
        ("", false),
        ("-etch", false),
        ("etch-", false),
        ("First", false),
        ("first etch", false),
        ("étch", false),
        ("gummed", false),
        (&"x".repeat(40), true),
        (&"x".repeat(41), false),
    ] {
        assert_eq!(is_key(text), sound, "{text}");
    }
}
