//! Each thing a row can ask for.

use super::*;

fn ana() -> Person<u32, u8> {
    member(1, "Ana", "Lima", "ana@student.example", "7")
}

fn only(plan: &Plan<u32, u8>) -> &Known<u32, u8> {
    assert_eq!((plan.known.len(), plan.added.len(), plan.bad.len()), (1, 0, 0), "{:?}", sentences(plan));
    &plan.known[0]
}

#[test]
fn who_is_not_known_is_added() {
    let plan = plan("Lima, Ana;ana@student.example;7;x;LIT 220-01;\nMoss, Bo;;8;;;assistant\n", &[]);
    let added: Vec<_> = plan.added.iter().map(|it| (it.line, it.listing, it.role, it.has_namesake)).collect();
    assert_eq!(added, [(2, Some(PRINT), Role::Student, false), (3, None, Role::Assistant, false)]);
    assert_eq!(plan.added[0].details.external_id.as_deref(), Some("x"));
    assert!(plan.known.is_empty() && plan.bad.is_empty() && !plan.asks_for_nothing());
}

#[test]
fn a_namesake_with_another_number_is_another_person_worth_a_look() {
    let plan = plan("Lima, Ana;;8;;LIT 220-01;\nLima, Ana;;7;;;\n", &[ana()]);
    assert_eq!((plan.added.len(), plan.added[0].has_namesake), (1, true));
    assert_eq!(plan.known[0].person, 1);
}

#[test]
fn who_is_as_the_list_says_has_nothing_to_do() {
    for row in [
        "Lima, Ana;ana@student.example;7;;LIT 220-01;student",
        "Lima, Ana;ANA@Student.Example;;;;",
        "LIMA, ANA;;7;;;",
        "Lima,;;7;;;",
        "Lima, Ana;;;;;",
        "Lima, ana;;;;;",
    ] {
        let plan = plan(row, &[ana()]);
        assert_eq!(plan.nothing_to_do().count(), usize::from(!row.contains(", ana")), "{row}");
        assert_eq!(plan.known.len(), 1, "{row}");
        assert!(plan.withdrawals.is_empty(), "{row}");
    }
}

#[test]
fn the_strongest_key_is_told() {
    let mut person = ana();
    person.details.external_id = Some("x".to_owned());
    for (row, by) in [
        ("Lima, Ana;ana@student.example;7;x;;", Some(Field::ExternalId)),
        ("Lima, Ana;ana@student.example;7;;;", Some(Field::StudentNumber)),
        ("Lima, Ana;ana@student.example;;;;", Some(Field::Email)),
        ("Lima, Ana;;;;;", None),
    ] {
        let plan = plan(row, std::slice::from_ref(&person));
        assert_eq!(only(&plan).by, by, "{row}");
        assert!(plan.asks_for_nothing(), "{row}");
    }
}

#[test]
fn changes_name_field_old_and_new() {
    let plan = plan("Souza, Ana;souza@student.example;7;x;;assistant\n", &[ana()]);
    let known = only(&plan);
    let changes: Vec<_> =
        known.changes.iter().map(|it| (it.field, it.old.as_str(), it.new.as_str())).collect();
    assert_eq!(
        changes,
        [
            (Field::FamilyName, "Lima", "Souza"),
            (Field::Email, "ana@student.example", "souza@student.example"),
            (Field::ExternalId, "", "x"),
        ]
    );
    assert_eq!(known.role, Some(RoleChange { old: ClassRole::Student, new: Role::Assistant }));
    assert_eq!((plan.changed().count(), known.left_alone.len(), known.moved), (1, 0, None));
}

#[test]
fn another_listing_is_a_move() {
    let plan = plan("Lima, Ana;;7;;LIT 420-01;\n", &[ana()]);
    assert_eq!(only(&plan).moved, Some(Moved { old: Some(PRINT), new: ADVANCED }));
    assert_eq!((plan.moved().count(), plan.changed().count()), (1, 0));
}

#[test]
fn who_left_is_brought_back_and_an_incomplete_stays() {
    for (state, back) in [
        (State::Enrolled, false),
        (State::Dropped, true),
        (State::Withdrawn, true),
        (State::Incomplete, false),
    ] {
        let plan = plan("Lima, Ana;;7;;;\n", &[seated(ana(), state, ClassRole::Student)]);
        assert_eq!(only(&plan).brought_back, back, "{state:?}");
        assert_eq!(plan.brought_back().count(), usize::from(back));
        assert_eq!(plan.asks_for_nothing(), !back);
    }
}

#[test]
fn who_is_missing_is_only_proposed() {
    let bo = member(2, "Bo", "Moss", "", "8");
    let mut chi = member(3, "Chi", "Ono", "", "9");
    chi.seat = chi.seat.map(|seat| Seat { listing: Some(ADVANCED), ..seat });
    let gone = seated(member(4, "Di", "Pa", "", "10"), State::Dropped, ClassRole::Student);
    let waits = seated(member(5, "Ed", "Qu", "", "11"), State::Incomplete, ClassRole::Student);
    let helps = seated(member(6, "Fa", "Ra", "", "12"), State::Enrolled, ClassRole::Assistant);
    let teaches = seated(member(7, "Gu", "Sa", "", "13"), State::Enrolled, ClassRole::Instructor);
    let people = [ana(), bo, chi, gone, waits, helps, teaches];
    let proposed = |rows: &str| -> Vec<(u32, bool)> {
        let plan = plan(rows, &people);
        assert_eq!(plan.withdrawals_held, None);
        plan.withdrawals.iter().map(|it| (it.person, it.listing_in_list)).collect()
    };
    assert_eq!(proposed("Lima, Ana;;7;;LIT 220-01;\n"), [(2, true), (3, false)]);
    assert_eq!(proposed("Lima, Ana;;7;;;\n"), [(2, true), (3, true)]);
    assert_eq!(proposed("Lima, Ana;;7;;;\nUx, Va;;14;;;assistant\n"), [(2, true), (3, true), (6, true)]);
}

#[test]
fn nobody_in_a_bad_row_is_proposed_as_withdrawn() {
    let people =
        [ana(), member(2, "Bo", "Moss", "bo@student.example", "8"), member(3, "Chi", "Ono", "", "9")];
    for row in [
        "Moss, Bo;;8;;LIT 110-01;",
        "Moss, Bo;bo@;;;;",
        "moss, bo;;1.2E+8;;;",
        "Bo Moss;bo@student.example;;;;",
        "Moss, Bo;bo@student.example;9;;;",
    ] {
        let plan = plan(&format!("Lima, Ana;;7;;;\nOno, Chi;;;;;\n{row}\n"), &people);
        assert!(!plan.bad.is_empty(), "{row}");
        assert!(plan.withdrawals.is_empty(), "{row}: {:?}", plan.withdrawals);
    }
}

#[test]
fn a_row_that_may_hide_others_holds_withdrawals_back() {
    let plan = plan("\"Lima, Ana;;7;;;\nMoss, Bo\";;8;;;\n", &[ana(), member(2, "Bo", "Moss", "", "9")]);
    assert_eq!((plan.bad.len(), plan.withdrawals.len()), (1, 0));
    assert_eq!(
        said(&plan.withdrawals_held.unwrap()),
        "Nobody is proposed as withdrawn, because line 2 cannot be read and may hide people. Put it right and choose the file again."
    );
}

#[test]
fn rows_that_do_not_agree_with_the_people_are_bad() {
    let people =
        [ana(), member(2, "Bo", "Moss", "bo@student.example", "8"), member(3, "Bo", "Moss", "", "9")];
    for (rows, expected) in [
        (
            "Lima, Ana;bo@student.example;7;;;",
            vec![
                "Line 2: “7” and “bo@student.example” belong to two different people. Correct the one that is wrong, or empty it.",
            ],
        ),
        (
            "Lima, Ana;;7;;;\nLima, Anna;ana@student.example;;;;",
            vec![
                "Line 2: “Ana Lima” is a person whom line 3 means too. Keep one of the two lines.",
                "Line 3: “Anna Lima” is a person whom line 2 means too. Keep one of the two lines.",
            ],
        ),
        (
            "Moss, Bo;;;;;",
            vec![
                "Line 2: several people in the class are called “Bo Moss”. Add a student number or an e-mail address.",
            ],
        ),
        (
            "Pa, Di;;10;;;",
            vec![
                "Line 2: no listing is told for “Di Pa”, and the class has several. Write one of LIT 220-01, LIT 420-01.",
            ],
        ),
    ] {
        let plan = plan(rows, &people);
        assert_eq!(sentences(&plan), expected);
        assert_eq!((plan.added.len(), plan.known.len()), (0, 0), "{rows}");
    }
}

#[test]
fn while_the_keys_of_a_row_disagree_no_other_row_changes_its_people() {
    let mut bo = member(2, "Bo", "Moss", "bo@student.example", "8");
    bo.details.external_id = Some("x".to_owned());
    let rows = "Lima, Ana;;7;x;;\nMoss, Bo;bo@student.example;9;;LIT 420-01;\nMoss, Bo;;;;LIT 220-01;\n";
    let plan = plan(rows, &[ana(), bo]);
    let keys: Vec<_> = plan.bad.iter().map(|row| row.complaints[0].remark.key).collect();
    assert_eq!(keys, ["roster-keys-disagree", "roster-person-twice", "roster-name-twice"]);
    assert!(plan.added.is_empty() && plan.known.is_empty() && plan.withdrawals.is_empty());
}

#[test]
fn bad_rows_come_by_line_whichever_step_found_them() {
    let plan = plan("Pa, Di;;10;;;\nQu, Ed;ed@;11;;;\nRa, Fa;;12;;;\n", &[]);
    assert_eq!(plan.bad.iter().map(|row| row.line).collect::<Vec<_>>(), [2, 3, 4]);
}

#[test]
fn a_name_alone_never_means_whom_another_row_is_sure_of() {
    let people = [ana()];
    let plan = plan("Lima, Ana;;;;LIT 220-01;\nLima, Anna;;7;;;\n", &people);
    assert_eq!((plan.added.len(), plan.known[0].person), (1, 1));
    assert_eq!(plan.known[0].changes[0].new, "Anna");
}

#[test]
fn the_only_listing_of_a_class_need_not_be_told() {
    let only = &listings()[..1];
    let roster = read(b"Name,ID\n\"Lima, Ana\",7\n\"Moss, Bo\",8\n", only).unwrap();
    let mut without = ana();
    without.seat = without.seat.map(|seat| Seat { listing: None, ..seat });
    let plan = compare(&roster, &[without.clone()], only);
    assert_eq!(plan.known[0].moved, Some(Moved { old: None, new: PRINT }));
    assert_eq!(plan.added[0].listing, Some(PRINT));
    let plan = compare(&roster, &[without], &[]);
    assert_eq!((plan.known[0].moved, plan.added[0].listing), (None, None));
}

#[test]
fn somebody_brought_twice_is_one_person() {
    let plan = plan("Lima, Ana;;7;;;\n", &[ana(), ana()]);
    assert_eq!((only(&plan).person, plan.withdrawals.len()), (1, 0));
    let missing = plan_of_another(&[ana(), ana()]);
    assert_eq!(missing.withdrawals.len(), 1);
}

fn plan_of_another(people: &[Person<u32, u8>]) -> Plan<u32, u8> {
    plan("Moss, Bo;;8;;LIT 220-01;\n", people)
}
