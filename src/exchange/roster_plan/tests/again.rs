//! The same list again asks for nothing: plans carried out on a class kept in memory, then made anew.

use proptest::prelude::*;

use super::*;

/// Does what a plan says, withdrawals left aside, as the record would.
fn carry_out(plan: &Plan<u32, u8>, people: &mut Vec<Person<u32, u8>>) {
    for known in &plan.known {
        let person = people.iter_mut().find(|person| person.id == known.person).unwrap();
        for change in &known.changes {
            let details = &mut person.details;
            match change.field {
                Field::GivenName => details.given_name = change.new.clone(),
                Field::FamilyName => details.family_name = change.new.clone(),
                Field::Email => details.email = Some(change.new.clone()),
                Field::StudentNumber => details.student_number = Some(change.new.clone()),
                Field::ExternalId => details.external_id = Some(change.new.clone()),
                other => panic!("{other:?} is no detail"),
            }
        }
        if let Some(joins) = known.joins {
            person.seat =
                Some(Seat { listing: joins.listing, state: State::Enrolled, role: joins.role.into() });
        }
        let seat = person.seat.as_mut().unwrap();
        if known.brought_back {
            seat.state = State::Enrolled;
        }
        if let Some(moved) = known.moved {
            assert_eq!(moved.old, seat.listing);
            seat.listing = Some(moved.new);
        }
        if let Some(change) = known.role {
            assert_eq!(change.old, seat.role);
            seat.role = change.new.into();
        }
    }
    for added in &plan.added {
        let id = 1000 + u32::try_from(people.len()).unwrap();
        let seat = Seat { listing: added.listing, state: State::Enrolled, role: added.role.into() };
        let person =
            Person { details: added.details.clone(), seat: Some(seat), ..member(id, "", "", "", "") };
        people.push(person);
    }
}

/// A small world of names, addresses, numbers and ids, so that rows and people meet in every way.
fn a_person(id: u32) -> impl Strategy<Value = Person<u32, u8>> {
    let flags = (prop::bool::weighted(0.2), prop::bool::weighted(0.2), prop::bool::weighted(0.1));
    let seat = prop::option::weighted(0.8, (prop::option::of(1_u8..3), 0_usize..4, 0_usize..6));
    (0_usize..4, 0_usize..3, prop::option::of(0_u32..2), flags, seat).prop_map(
        move |(given, family, external, flags, seat)| {
            let states = [State::Enrolled, State::Dropped, State::Withdrawn, State::Incomplete];
            let roles = [ClassRole::Student, ClassRole::Assistant, ClassRole::Instructor];
            let mut person = member(
                id,
                ["Ana", "Bo", "ana", "Łu"][given],
                ["Lima", "Moss", "Łoś"][family],
                &if id.is_multiple_of(3) { String::new() } else { format!("p{id}@student.example") },
                &if id.is_multiple_of(4) { String::new() } else { id.to_string() },
            );
            person.details.external_id = external.map(|it| format!("x{}", id * 2 + it));
            (person.has_account, person.in_another_class, person.has_school_right) = flags;
            person.seat = seat.map(|(listing, state, role)| Seat {
                listing,
                state: states[state],
                role: roles[role.saturating_sub(3)],
            });
            person
        },
    )
}

fn a_row() -> impl Strategy<Value = String> {
    (0_usize..5, 0_usize..4, 0_u32..9, 0_u32..9, 0_u32..18, 0_usize..4, 0_usize..5).prop_map(
        |(given, family, email, number, external, listing, role)| {
            let or_empty = |empty: bool, text: String| if empty { String::new() } else { text };
            format!(
                "{}, {};{};{};{};{};{}",
                ["Lima", "Moss", "Łoś", "LIMA"][family],
                ["Ana", "Bo", "ANA", "Łu", "New"][given],
                or_empty(email.is_multiple_of(3), format!("P{email}@student.example")),
                or_empty(number.is_multiple_of(3), number.to_string()),
                or_empty(external.is_multiple_of(3), format!("x{external}")),
                ["", "LIT 220-01", "LIT 420-01", "LIT 220"][listing],
                ["", "", "", "student", "assistant"][role],
            )
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn the_same_list_again_asks_for_nothing(
        mut people in (0_u32..8).prop_flat_map(|count| (0..count).map(a_person).collect::<Vec<_>>()),
        rows in prop::collection::vec(a_row(), 1..9),
    ) {
        let roster = list(&(rows.join("\n") + "\n"));
        let before = people.clone();
        let first = compare(&roster, &people, &listings());
        prop_assert_eq!(first.added.len() + first.known.len() + first.bad.len(), rows.len());
        carry_out(&first, &mut people);
        for (old, new) in before.iter().zip(&people) {
            let was_instructor = old.seat.is_some_and(|seat| seat.role == ClassRole::Instructor);
            if old.has_account || old.in_another_class || old.has_school_right || was_instructor {
                prop_assert_eq!(&old.details, &new.details);
            }
            if was_instructor {
                prop_assert_eq!(&old.seat, &new.seat);
            } else {
                prop_assert!(new.seat.is_none_or(|seat| seat.role != ClassRole::Instructor));
            }
        }
        let second = compare(&roster, &people, &listings());
        prop_assert!(second.asks_for_nothing(), "{rows:?}\nfirst {first:#?}\nsecond {second:#?}");
        let lines = |plan: &Plan<u32, u8>| plan.bad.iter().map(|row| row.line).collect::<Vec<_>>();
        prop_assert_eq!(lines(&second), lines(&first));
        prop_assert_eq!(second.withdrawals, first.withdrawals);
    }

    /// Every key still belongs to one person at most after an import.
    #[test]
    fn no_key_gets_a_second_owner(
        mut people in (0_u32..8).prop_flat_map(|count| (0..count).map(a_person).collect::<Vec<_>>()),
        rows in prop::collection::vec(a_row(), 1..9),
    ) {
        let plan = plan(&(rows.join("\n") + "\n"), &people);
        carry_out(&plan, &mut people);
        let details = people.iter().map(|person| &person.details);
        let mut keys: Vec<String> = details
            .flat_map(|it| {
                let email = it.email.as_ref().map(|email| email.to_lowercase());
                [email, it.student_number.clone(), it.external_id.clone()].into_iter().flatten()
            })
            .collect();
        keys.sort();
        let all = keys.len();
        keys.dedup();
        prop_assert_eq!(keys.len(), all);
    }
}

/// As many as a file may hold, compared with as many people; a comparison of each with each would be 400 million.
#[test]
fn a_whole_college_is_compared_at_once() {
    const MANY: u32 = 20_000;
    let mut text = String::new();
    for number in 0..MANY {
        text.push_str(&format!("Lima, Ana;p{number}@student.example;{number};;LIT 420-01;\n"));
    }
    let people: Vec<_> = (MANY / 2..MANY + MANY / 2)
        .map(|number| {
            member(number, "Ana", "Lima", &format!("p{number}@student.example"), &number.to_string())
        })
        .collect();
    let plan = plan(&text, &people);
    let half = usize::try_from(MANY / 2).unwrap();
    assert_eq!((plan.added.len(), plan.moved().count(), plan.withdrawals.len()), (half, half, half));
}
