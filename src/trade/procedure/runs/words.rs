//! Stored form and words: what goes to the database comes back, and every remark can be said.

use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

use super::properties::tales;
use super::*;
use crate::trade::remark::Param;
use crate::trade::spelled::Spelled;

fn text() -> impl Strategy<Value = String> {
    "[a-z “”é\\\\\"\\n🜔-]{0,12}"
}

fn texts() -> impl Strategy<Value = Vec<String>> {
    vec(text(), 0..3)
}

fn any_of<T: Spelled>() -> impl Strategy<Value = T> {
    prop::sample::select(T::ALL)
}

fn maximum() -> impl Strategy<Value = Maximum> {
    prop_oneof![
        any::<i64>().prop_map(Maximum::Minutes),
        any::<bool>().prop_map(|met_by_talc_and_gum| Maximum::SameDay { met_by_talc_and_gum }),
        Just(Maximum::UnderGum),
    ]
}

fn need() -> impl Strategy<Value = Need> {
    prop_oneof![
        (texts(), text()).prop_map(|(of, because)| Need::AfterAnyOf { of, because }),
        (texts(), texts(), text()).prop_map(|(of, since, because)| Need::RequiresSince {
            of,
            since,
            because
        }),
        text().prop_map(|because| Need::Once { because }),
    ]
}

fn place() -> impl Strategy<Value = Place> {
    prop_oneof![Just(Place::Anywhere), Just(Place::Instructor), text().prop_map(Place::Station)]
}

/// Steps with every field at will, sound or not: storage keeps what it is given.
fn steps() -> impl Strategy<Value = Step> {
    let rest = (texts(), any::<i64>(), any::<i64>(), option::of(maximum()));
    let rest = rest.prop_map(|(since, minimum, advised, maximum)| Rest { since, minimum, advised, maximum });
    let instructions = (texts(), texts(), texts());
    let instructions =
        instructions.prop_map(|(before, during, after)| Instructions { before, during, after });
    let picture = (text(), any_of::<Shows>(), text()).prop_map(|(name, shows, caption)| Picture {
        name,
        shows,
        caption,
    });
    let recording = (text(), any::<i64>()).prop_map(|(link, minute)| Recording { link, minute });
    let sign_off = (text(), any_of::<Grade>()).prop_map(|(topic, grade)| SignOff { topic, grade });
    let said = (text(), text(), text(), instructions, vec(picture, 0..2), option::of(recording));
    let done = (
        any::<i64>(),
        any::<i64>(),
        place(),
        texts(),
        rest,
        vec(sign_off, 0..2),
        vec(any_of::<Hazard>(), 0..2),
    );
    let kept = (
        any_of::<Records>(),
        option::of(any_of::<Standing>()),
        texts(),
        vec(need(), 0..3),
        option::of(texts()),
    );
    (said, done, kept, any::<[bool; 8]>()).prop_map(|(said, done, kept, flags)| Step {
        key: said.0,
        title: said.1,
        source: said.2,
        instructions: said.3,
        pictures: said.4,
        recording: said.5,
        minutes: Minutes { fixed: done.0, per_sheet: done.1 },
        place: done.2,
        after: done.3,
        rest: done.4,
        sign_offs: done.5,
        hazards: done.6,
        records: kept.0,
        leaves: kept.1,
        counts_as: kept.2,
        needs: kept.3,
        then_only: kept.4,
        may_split: flags[0],
        beside_others: flags[1],
        optional: flags[2],
        never_waits: flags[3],
        gums: flags[4],
        takes_gum_off: flags[5],
        shows_etch: flags[6],
        numbers_edition: flags[7],
    })
}

fn procedures() -> impl Strategy<Value = Procedure> {
    let whole = (text(), any_of::<Surface>(), text(), option::of(any::<i64>()));
    (whole, vec(steps(), 0..4), vec(steps(), 0..3)).prop_map(|(whole, steps, any_time)| Procedure {
        name: whole.0,
        surface: whole.1,
        about: whole.2,
        gum_limit_minutes: whole.3,
        steps,
        any_time,
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_procedure_comes_back_from_storage_as_it_was(procedure in procedures()) {
        let stored = serde_json::to_string(&procedure).unwrap();
        prop_assert_eq!(Procedure::from_json(&stored).unwrap(), procedure);
    }

    /// Whatever an instructor typed, checking and judging it come to an end without panic, and every remark
    /// can be said.
    #[test]
    fn whatever_was_typed_is_answered(procedure in procedures(), minutes in 0_i64..31_000) {
        for remark in check(&procedure, &[]) {
            prop_assert_eq!(unsaid(&remark), [""; 0]);
        }
        let mut tale = Tale::of(procedure);
        let now = rests::later(at("2026-10-12 08:00"), minutes);
        let keys: Vec<String> = tale.procedure.all().map(|step| step.key.clone()).collect();
        for (place, key) in keys.iter().enumerate() {
            let began = rests::later(at("2026-10-12 08:00"), 500 * i64::try_from(place).unwrap());
            tale.history.entries.push(Entry::new(key, began, Some(rests::later(began, 60))));
        }
        let outlook = tale.case().outlook(now);
        prop_assert!(outlook.steps.len() <= keys.len());
        prop_assert!(tale.case().remaining(now, u32::MAX).len() <= keys.len());
    }

    #[test]
    fn every_refusal_and_warning_can_be_said(tale in tales(), minutes in 0_i64..60_000) {
        let now = rests::later(at("2026-10-12 08:00"), minutes);
        for step in tale.procedure.all() {
            let verdict = tale.case().may_start(&step.key, now);
            let broken = verdict.broken.iter().map(|broken| &broken.remark);
            for remark in broken.chain(verdict.warnings.iter().map(|warning| &warning.remark)) {
                prop_assert_eq!(unsaid(remark), [""; 0]);
            }
        }
    }
}

/// Every sentence of the catalogue's section is said by this floor, so none is left over.
#[test]
fn no_sentence_of_the_catalogue_is_left_over() {
    let sources = [
        include_str!("../mod.rs"),
        include_str!("../brought.rs"),
        include_str!("../step.rs"),
        include_str!("../verdict.rs"),
        include_str!("../rests.rs"),
        include_str!("../check/mod.rs"),
        include_str!("../check/ways.rs"),
        include_str!("../check/rests.rs"),
    ]
    .concat();
    let keys: Vec<&str> = CATALOGUE
        .lines()
        .filter(|line| line.starts_with("procedure-"))
        .filter_map(|line| line.split(' ').next())
        .collect();
    assert!(keys.len() > 50, "{keys:?}");
    for key in &keys {
        assert!(sources.contains(&format!("\"{key}\"")), "{key}");
    }
    for hazard in Hazard::ALL {
        assert_eq!(unsaid(&hazard.caution()), [""; 0]);
    }
}

#[test]
fn what_cannot_be_read_is_refused_with_the_place() {
    let text = shipped::FILES[0].1;
    for (from, to, part) in [
        ("\"surface\": \"plate\"", "\"surface\": \"slate\"", "slate"),
        ("\"per_sheet\"", "\"per_shet\"", "per_shet"),
        ("\"same_day\"", "\"same_week\"", "same_week"),
        ("\"rule\": \"once\"", "\"rule\": \"twice\"", "twice"),
        ("\"where\": \"instructor\"", "\"where\": \"moon\"", "moon"),
        ("\"fixed\": 30 }", "\"fixed\": \"half an hour\" }", "half an hour"),
    ] {
        assert!(text.contains(from), "{from}");
        let remark = Procedure::from_json(&text.replacen(from, to, 1)).unwrap_err();
        assert_eq!((remark.key, unsaid(&remark).len()), ("procedure-not-json", 0));
        let Param::Text(problem) = &remark.with[0].1 else { panic!("{remark:?}") };
        assert!(problem.contains(part) && problem.contains("line"), "{problem}");
    }
}

#[test]
fn lengths_of_time_are_spelled_in_days_hours_and_minutes() {
    for (minutes, said) in [
        (0, "0 min"),
        (5, "5 min"),
        (60, "1 h"),
        (720, "12 h"),
        (1505, "1 d 1 h 5 min"),
        (2880, "2 d"),
        (-90, "-1 h 30 min"),
    ] {
        assert_eq!(step::spelled_minutes(minutes).replace('\u{a0}', " "), said);
    }
}
