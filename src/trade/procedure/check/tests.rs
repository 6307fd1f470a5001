//! Slips an instructor may make, one by one, in the shipped aluminium procedure.

use super::*;
use crate::trade::procedure::runs::unsaid;
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

/// The remarks a spoiled procedure gets, each of which the catalogue can say.
fn remarks(spoil: impl FnOnce(&mut Procedure)) -> Vec<Remark> {
    let mut procedure = aluminium();
    spoil(&mut procedure);
    let remarks = check(&procedure, &shipped::TOPICS);
    for remark in &remarks {
        assert_eq!(unsaid(remark), [""; 0]);
    }
    remarks
}

fn keys(remarks: &[Remark]) -> Vec<&str> {
    remarks.iter().map(|remark| remark.key).collect()
}

#[test]
fn what_is_shipped_is_sound() {
    for procedure in shipped::procedures().unwrap() {
        assert_eq!(check(&procedure, &shipped::TOPICS), [], "{}", procedure.name);
        assert!(procedure.all().all(|step| !step.source.is_empty() && !step.instructions.is_empty()));
    }
}

type Slip = (&'static str, fn(&mut Procedure));

/// One slip each, and the one remark it gets.
fn each_gets_its_remark(slips: &[Slip]) {
    for (number, (key, spoil)) in slips.iter().enumerate() {
        let remarks = remarks(spoil);
        assert_eq!(keys(&remarks), [*key], "slip {number}: {remarks:?}");
    }
}

#[test]
fn slips_in_texts_and_minutes() {
    each_gets_its_remark(&[
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
        ("procedure-check-rest-gum-limit", |it| {
            it.gum_limit_minutes = Some(1439);
            let roll_up = step(it, "roll-up");
            (roll_up.rest.minimum, roll_up.rest.advised) = (1440, 0);
            roll_up.rest.maximum = Some(Maximum::UnderGum);
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
    ]);
}

#[test]
fn slips_in_keys_words_and_sign_offs() {
    each_gets_its_remark(&[
        ("procedure-check-key", |it| step(it, "tear-paper").counts_as.push("Paper".to_owned())),
        ("procedure-check-counts-as", |it| step(it, "tear-paper").counts_as.push("papper".to_owned())),
        ("procedure-check-after", |it| step(it, "proof").after.push("varnish".to_owned())),
        ("procedure-check-after-any-time", |it| step(it, "proof").after.push("re-gum".to_owned())),
        ("procedure-check-circle", |it| step(it, "draw").after.push("draw".to_owned())),
        ("procedure-check-then-only", |it| step(it, "scrap").then_only = Some(vec!["burn".to_owned()])),
        ("procedure-check-topic", |it| step(it, "proof").sign_offs[0].topic = "pres".to_owned()),
        ("procedure-check-etch-hazard", |it| step(it, "local-etch").hazards.clear()),
        ("procedure-check-numbers-twice", |it| step(it, "put-away").numbers_edition = true),
        ("procedure-check-numbers-early", |it| step(it, "curate").after = vec!["proof".to_owned()]),
        ("procedure-check-key-twice", |it| {
            let again = it.any_time[4].clone();
            it.any_time.push(again);
        }),
        ("procedure-check-topic-twice", |it| {
            let twice = SignOff { topic: "press".to_owned(), grade: Grade::Alone };
            step(it, "proof").sign_offs.push(twice);
        }),
    ]);
}

#[test]
fn slips_in_rests() {
    each_gets_its_remark(&[
        ("procedure-check-rest-since", |it| step(it, "proof").rest.since.push("ecth".to_owned())),
        ("procedure-check-rest-advised", |it| step(it, "curate").rest.advised = 60),
        ("procedure-check-rest-maximum", |it| step(it, "curate").rest.maximum = Some(Maximum::Minutes(2000))),
        ("procedure-check-rest-from-nothing", |it| step(it, "prepare").rest.advised = 60),
        ("procedure-check-rest-same-day", |it| {
            step(it, "curate").rest.maximum = Some(Maximum::SameDay { met_by_talc_and_gum: false });
        }),
    ]);
}

#[test]
fn slips_in_rules() {
    for (key, of) in [
        ("procedure-check-need", vec!["ecth".to_owned()]),
        ("procedure-check-need-empty", vec![]),
        ("procedure-check-out-of-reach", vec!["edition".to_owned()]),
    ] {
        let need = Need::AfterAnyOf { of, because: String::new() };
        let remarks = remarks(|it| step(it, "proof").needs.push(need));
        assert!(remarks.iter().all(|remark| remark.key == key) && !remarks.is_empty(), "{key}: {remarks:?}");
    }
}

#[test]
fn a_circle_is_shown_as_it_runs() {
    let remarks = remarks(|it| step(it, "first-etch").after.push("proof".to_owned()));
    let circle = "First etch → Proof → Second etch → Wash out and roll up → First etch";
    assert_eq!(
        remarks,
        [Remark::new("procedure-check-circle").with("value", circle).with("step", "First etch")]
    );
}

#[test]
fn rules_that_wait_for_each_other_are_out_of_reach() {
    let remarks = remarks(|it| {
        let of = vec!["cancellation-proof".to_owned()];
        step(it, "cancel").needs = vec![Need::AfterAnyOf { of, because: String::new() }];
    });
    let out_of_reach = |step: &str| Remark::new("procedure-check-out-of-reach").with("step", step);
    assert_eq!(remarks, [out_of_reach("Cancel"), out_of_reach("Cancellation proof")]);
}

#[test]
fn gum_that_nobody_lays_has_no_limit() {
    let remarks = remarks(|it| {
        for step in it.steps.iter_mut().chain(&mut it.any_time) {
            step.gums = false;
        }
    });
    assert_eq!(keys(&remarks), ["procedure-check-rest-no-gum"; 3]);
}

#[test]
fn a_procedure_without_steps_or_with_too_many() {
    let nothing = remarks(|it| {
        it.steps.clear();
        it.any_time.clear();
    });
    assert_eq!(keys(&nothing), ["procedure-check-no-steps"]);
    let many = remarks(|it| {
        for number in 0..60 {
            let mut copy = it.any_time[4].clone();
            copy.key = format!("gum-{number}");
            it.any_time.push(copy);
        }
    });
    assert_eq!(many, [Remark::new("procedure-check-many-steps").with("value", 79).with("most", 60)]);
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
