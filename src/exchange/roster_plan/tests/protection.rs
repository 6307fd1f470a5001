//! Taking over an account, or rights, by a list. A person is attacked by a row with the person's number and the attacker's
//! mailbox; whatever makes the person protected must be enough by itself.

use super::*;

const ATTACK: &str = "Thief, Tom;tom@elsewhere.example;7;evil;LIT 220-01;assistant\n";

fn target() -> Person<u32, u8> {
    member(1, "Ana", "Lima", "ana@student.example", "7")
}

fn protected() -> Vec<(&'static str, Person<u32, u8>)> {
    let plain = target;
    vec![
        ("account", Person { has_account: true, ..plain() }),
        ("another class", Person { in_another_class: true, ..plain() }),
        ("school right", Person { has_school_right: true, ..plain() }),
    ]
}

#[test]
fn details_of_protected_people_are_left_alone() {
    for (why, person) in protected() {
        for seat in [person.seat, None] {
            let person = Person { seat, ..person.clone() };
            let plan = plan(ATTACK, &[person]);
            let known = &plan.known[0];
            assert_eq!(known.changes, [], "{why}");
            let told: Vec<_> = known.left_alone.iter().map(|it| (it.field, it.told.as_str())).collect();
            assert_eq!(
                told,
                [
                    (Field::GivenName, "Tom"),
                    (Field::FamilyName, "Thief"),
                    (Field::Email, "tom@elsewhere.example"),
                    (Field::ExternalId, "evil"),
                ],
                "{why}"
            );
            assert_eq!(known.joins.is_some(), seat.is_none(), "{why}");
        }
    }
}

#[test]
fn a_missing_detail_of_a_protected_person_is_not_filled_in() {
    let mut person = Person { has_account: true, ..target() };
    person.details.email = None;
    let plan = plan("Lima, Ana;tom@elsewhere.example;7;;;\n", &[person]);
    assert!(plan.asks_for_nothing());
    assert_eq!(plan.known[0].left_alone.len(), 1);
}

#[test]
fn a_known_person_joins_as_student_or_assistant() {
    let elsewhere = Person { seat: None, in_another_class: true, has_account: true, ..target() };
    for (row, role) in [
        ("Lima, Ana;;7;;LIT 420-01;\n", Role::Student),
        ("Lima, Ana;;7;;LIT 420-01;assistant\n", Role::Assistant),
    ] {
        let plan = plan(row, std::slice::from_ref(&elsewhere));
        assert_eq!(plan.known[0].joins, Some(Joins { listing: Some(ADVANCED), role }));
        assert_eq!((plan.joining().count(), plan.added.len(), plan.known[0].left_alone.len()), (1, 0, 0));
    }
}

#[test]
fn an_instructor_is_neither_made_nor_changed() {
    let teacher = seated(target(), State::Enrolled, ClassRole::Instructor);
    for role in ["student", "assistant"] {
        let plan = plan(&format!("Lima, Ana;;7;;;{role}\n"), std::slice::from_ref(&teacher));
        assert_eq!(
            sentences(&plan),
            [
                "Line 2: “Ana Lima” is instructor of this class, which a list cannot change. Delete the line or empty its role."
            ]
        );
        assert!(plan.known.is_empty() && plan.withdrawals.is_empty());
    }
    let away = seated(teacher.clone(), State::Withdrawn, ClassRole::Instructor);
    for person in [teacher, away] {
        let plan = plan("Thief, Tom;tom@elsewhere.example;7;;LIT 420-01;\n", &[person]);
        assert!(plan.asks_for_nothing() && plan.known.len() == 1, "{plan:?}");
    }
    let asked = plan("Lima, Ana;;7;;;instructor\n", &[target()]);
    assert!(asked.known.is_empty() && asked.bad[0].complaints[0].remark.key == "roster-role-too-high");
}

#[test]
fn a_name_alone_reaches_nobody_outside_the_class() {
    let elsewhere = Person { seat: None, in_another_class: true, ..target() };
    let plan = plan("Lima, Ana;;;;LIT 220-01;assistant\n", &[elsewhere]);
    assert_eq!((plan.added.len(), plan.known.len()), (1, 0));
}

#[test]
fn a_bad_row_tells_nothing_about_people_of_other_classes() {
    let first = Person { seat: None, in_another_class: true, ..target() };
    let second = Person { seat: None, ..member(2, "Bo", "Moss", "bo@student.example", "8") };
    let plan = plan("Thief, Tom;bo@student.example;7;;LIT 220-01;\n", &[first, second]);
    let sentence = &sentences(&plan)[0];
    for name in ["Ana", "Lima", "Bo ", "Moss"] {
        assert!(!sentence.contains(name), "{sentence}");
    }
}
