//! Plans against published critical-path examples and calendar rules.
//!
//! Critical paths: F. S. Hillier and G. J. Lieberman, Introduction to Operations Research (Reliable
//! Construction Co.); Render and Stair type examples (laser machine, General Foundry); a seven-activity
//! lecture example. Durations as published, predecessors partly from memory, solutions recomputed.

use chrono_tz::Tz;
use proptest::prelude::*;
use tympan::trade::civil;
use tympan::trade::planning::hours::weekday;
use tympan::trade::planning::*;

const WEEK: Millis = 60 * MINUTE;

/// Activity, duration, predecessors as letters.
type Activity = (&'static str, u32, &'static str);

const RELIABLE: &[Activity] = &[
    ("A", 2, ""),
    ("B", 4, "A"),
    ("C", 10, "B"),
    ("D", 6, "C"),
    ("E", 4, "C"),
    ("F", 5, "E"),
    ("G", 7, "D"),
    ("H", 9, "EG"),
    ("I", 7, "C"),
    ("J", 8, "FI"),
    ("K", 4, "J"),
    ("L", 5, "J"),
    ("M", 2, "H"),
    ("N", 6, "KL"),
];

/// ES, EF, LS, LF of the same, in order.
const RELIABLE_TIMES: &[[i64; 4]] = &[
    [0, 2, 0, 2],
    [2, 6, 2, 6],
    [6, 16, 6, 16],
    [16, 22, 20, 26],
    [16, 20, 16, 20],
    [20, 25, 20, 25],
    [22, 29, 26, 33],
    [29, 38, 33, 42],
    [16, 23, 18, 25],
    [25, 33, 25, 33],
    [33, 37, 34, 38],
    [33, 38, 33, 38],
    [38, 40, 42, 44],
    [38, 44, 38, 44],
];

fn graph(activities: &[Activity]) -> Graph {
    let steps = activities.iter().map(|(key, duration, after)| Step {
        key: (*key).into(),
        minutes: duration * 60,
        after: after.chars().map(|key| key.to_string().into()).collect(),
        ..Step::default()
    });
    Graph::new(steps.collect()).unwrap()
}

fn always() -> Hours {
    Hours::new(Tz::UTC, None, vec![], Default::default())
}

fn worked(activities: &[Activity], due: i64) -> Plan {
    let ask = Ask { start: 0, due: Some(due * WEEK), sheets: 0, states: &[], rests: Rests::Advised };
    plan_within(&graph(activities), &always(), &ask)
}

fn times(step: &Planned) -> [i64; 4] {
    let (earliest, latest) = (step.earliest.unwrap(), step.latest.unwrap());
    [earliest.start, earliest.finish, latest.start, latest.finish].map(|at| at / WEEK)
}

fn critical(activities: &[Activity], plan: &Plan) -> String {
    let critical = activities.iter().zip(&plan.steps).filter(|(_, step)| step.critical);
    critical.map(|((key, ..), _)| *key).collect()
}

#[test]
fn reliable_construction_takes_44_weeks() {
    let plan = worked(RELIABLE, 44);
    assert_eq!(plan.finish, Some(44 * WEEK));
    assert_eq!(plan.steps.iter().map(times).collect::<Vec<_>>(), RELIABLE_TIMES);
    assert_eq!(critical(RELIABLE, &plan), "ABCEFJLN");
    // The contract allows 47 weeks: all latest times move by 3, the least slack is 3, the path stays.
    let plan = worked(RELIABLE, 47);
    let moved: Vec<_> = RELIABLE_TIMES.iter().map(|[es, ef, ls, lf]| [*es, *ef, ls + 3, lf + 3]).collect();
    assert_eq!(plan.steps.iter().map(times).collect::<Vec<_>>(), moved);
    assert_eq!(plan.steps.iter().map(|step| step.slack.unwrap()).min(), Some(3 * WEEK));
    assert_eq!(critical(RELIABLE, &plan), "ABCEFJLN");
    // 40 weeks are too few: N is the first that cannot end by then.
    let plan = worked(RELIABLE, 40);
    assert_eq!(plan.breaks, Some(Breaks::Due { step: 13 }));
    assert_eq!(plan.steps[0].slack, Some(-4 * WEEK));
}

#[test]
fn smaller_published_networks() {
    let laser: &[Activity] = &[
        ("A", 7, ""),
        ("B", 8, ""),
        ("C", 3, "A"),
        ("D", 1, "A"),
        ("E", 4, "B"),
        ("F", 5, "B"),
        ("G", 11, "CE"),
        ("H", 7, "DF"),
    ];
    let plan = worked(laser, 23);
    assert_eq!((plan.finish, critical(laser, &plan)), (Some(23 * WEEK), "BEG".to_owned()));
    let late: Vec<_> = plan.steps.iter().map(times).map(|[_, _, ls, lf]| [ls, lf]).collect();
    assert_eq!(late, [[2, 9], [0, 8], [9, 12], [15, 16], [8, 12], [11, 16], [12, 23], [16, 23]]);

    let seven: &[Activity] = &[
        ("A", 6, ""),
        ("B", 2, "A"),
        ("C", 2, "A"),
        ("D", 3, "B"),
        ("F", 2, "C"),
        ("E", 4, "DF"),
        ("G", 1, "E"),
    ];
    let plan = worked(seven, 16);
    assert_eq!((plan.finish, critical(seven, &plan)), (Some(16 * WEEK), "ABDEG".to_owned()));
    assert_eq!(times(&plan.steps[2])[2..], [7, 9]);
    assert_eq!(times(&plan.steps[4])[2..], [9, 11]);

    let foundry: &[Activity] = &[
        ("A", 2, ""),
        ("B", 3, ""),
        ("C", 2, "A"),
        ("D", 4, "B"),
        ("E", 4, "C"),
        ("F", 3, "C"),
        ("G", 5, "DE"),
        ("H", 2, "FG"),
    ];
    let plan = worked(foundry, 15);
    assert_eq!((plan.finish, critical(foundry, &plan)), (Some(15 * WEEK), "ACEGH".to_owned()));
    let slacks: Vec<_> = plan.steps.iter().map(|step| step.slack.unwrap() / WEEK).collect();
    assert_eq!(slacks, [0, 1, 0, 1, 0, 6, 0, 0]);
}

// ---- calendars ----

fn new_york(open: &[(&str, &str, &str)], closed: &[&str]) -> Hours {
    let time = |text| DayTime::parse("open", text).unwrap();
    let weekly = open.iter().map(|(day, from, to)| Weekly {
        day: weekday("open", day).unwrap(),
        stretch: Stretch::new("open", time(from), time(to)).unwrap(),
    });
    let closed = closed.iter().map(|text| civil::date("closed", text).unwrap()).collect();
    Hours::new(Tz::America__New_York, Some(weekly.collect()), vec![], closed)
}

fn at(text: &str) -> Millis {
    civil::rfc3339("at", text).unwrap().timestamp_millis()
}

fn starts(hours: &Hours, from: &str, to: &str) -> Vec<Millis> {
    hours.over(at(from), at(to)).within(at(from), at(to)).map(|span| span.start).collect()
}

/// RFC 5545 section 3.8.5.3: "weekly on Tuesday and Thursday for five weeks" and "every other week on Tuesday
/// and Thursday for 8 occurrences", DTSTART 1997-09-02 09:00 in New York; the weeks left out are closures.
#[test]
fn weekly_openings_fall_on_the_days_of_rfc_5545() {
    let open = [("tue", "09:00", "10:00"), ("thu", "09:00", "10:00")];
    let on =
        |days: &[&str]| days.iter().map(|day| at(&format!("1997-{day}T09:00:00-04:00"))).collect::<Vec<_>>();
    let five_weeks =
        on(&["09-02", "09-04", "09-09", "09-11", "09-16", "09-18", "09-23", "09-25", "09-30", "10-02"]);
    let hours = new_york(&open, &[]);
    assert_eq!(starts(&hours, "1997-09-02T00:00:00Z", "1997-10-05T00:00:00Z"), five_weeks);
    let left_out = ["1997-09-09", "1997-09-11", "1997-09-23", "1997-09-25", "1997-10-07", "1997-10-09"];
    let hours = new_york(&open, &left_out);
    let every_other = on(&["09-02", "09-04", "09-16", "09-18", "09-30", "10-02", "10-14", "10-16"]);
    assert_eq!(starts(&hours, "1997-09-02T00:00:00Z", "1997-10-17T00:00:00Z"), every_other);
}

/// RFC 5545 section 3.8.5.3, "daily until December 24, 1997": nine in the morning is EDT up to 25 October and
/// EST from 26 October 1997 on.
#[test]
fn nine_in_the_morning_stays_nine_across_the_change() {
    let days = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"].map(|day| (day, "09:00", "10:00"));
    let starts = starts(&new_york(&days, &[]), "1997-10-25T04:00:00Z", "1997-10-27T05:00:00Z");
    assert_eq!(starts, [at("1997-10-25T09:00:00-04:00"), at("1997-10-26T09:00:00-05:00")]);
}

// ---- any plan ----

fn random_steps() -> impl Strategy<Value = Vec<Step>> {
    let step = (0_u32..200, any::<u8>(), 0_u32..2_000, any::<bool>(), 0_u32..10);
    proptest::collection::vec(step, 1..10).prop_map(|list| {
        let steps =
            list.into_iter().enumerate().map(|(number, (minutes, before, rest, may_split, place))| Step {
                key: number.to_string().into(),
                minutes,
                after: (0..number.min(8))
                    .filter(|bit| before >> bit & 1 == 1)
                    .map(|step| step.to_string().into())
                    .collect(),
                rest: Rest { minimum_minutes: rest, ..Rest::default() },
                may_split,
                place: if place == 0 { Where::Anywhere } else { Where::Studio },
                ..Step::default()
            });
        steps.collect()
    })
}

proptest! {
    /// Whatever the hours: the plan is feasible exactly when no step's earliest start passes its latest, the
    /// earliest plan keeps order, rests and hours, and starting any step at its latest still meets the due date.
    #[test]
    fn passes_agree(steps in random_steps(), start in 0_i64..10_080, long in 0_i64..20_160) {
        let hours = new_york(&[("mon", "09:00", "12:00"), ("wed", "13:00", "21:00"), ("fri", "10:00", "17:00")], &[]);
        let start = at("2026-10-26T00:00:00-04:00") + start * MINUTE;
        let due = start + long * MINUTE;
        let graph = Graph::new(steps).unwrap();
        let ask = Ask { start, due: Some(due), sheets: 0, states: &[], rests: Rests::Advised };
        let plan = plan_within(&graph, &hours, &ask);
        let calendar = hours.over(start - 90 * DAY, due + 90 * DAY);
        let in_time = plan.steps.iter().all(|step| step.earliest.unwrap().start <= step.latest.unwrap().start);
        prop_assert_eq!(plan.feasible, in_time);
        prop_assert_eq!(plan.feasible, plan.breaks.is_none());
        prop_assert!(plan.steps.iter().any(|step| step.critical));
        for (number, step) in graph.steps().iter().enumerate() {
            let planned = plan.steps[number];
            for span in [planned.earliest.unwrap(), planned.latest.unwrap()] {
                let worked = match step.place {
                    Where::Anywhere => span.finish - span.start,
                    _ => calendar.open_between(span.start, span.finish),
                };
                prop_assert_eq!(worked, step.hands_on(0));
                if step.place != Where::Anywhere && !step.may_split {
                    prop_assert_eq!(span.finish - span.start, step.hands_on(0));
                }
            }
            for &before in graph.before(number) {
                let before = plan.steps[before];
                let rested = |one: Option<Span>, other: Option<Span>| {
                    one.unwrap().finish + step.rest.minimum() <= other.unwrap().start
                };
                prop_assert!(rested(before.earliest, planned.earliest) && rested(before.latest, planned.latest));
            }
        }
        if let (true, Some(step)) = (plan.feasible, plan.steps.first()) {
            // Beginning only at the first step's latest start still works out.
            let late = Ask { start: step.latest.unwrap().start, ..ask };
            let alone = Graph::new(graph.steps().iter().filter(|step| leads_to("0", step, &graph)).cloned().collect());
            prop_assert!(plan_within(&alone.unwrap(), &hours, &late).feasible);
        }
    }
}

/// Whether a step is `root` or comes after it, with everything else it waits for left out of the question.
fn leads_to(root: &str, step: &Step, graph: &Graph) -> bool {
    let mut reached: Vec<std::sync::Arc<str>> = vec![root.into()];
    for &number in graph.order() {
        let step = &graph.steps()[number];
        if step.after.iter().any(|key| reached.contains(key))
            && step.after.iter().all(|key| reached.contains(key))
        {
            reached.push(step.key.clone());
        }
    }
    reached.contains(&step.key)
}

/// 1,000 plates of 11 steps over a term of 16 weeks, as a class page asks for them. Prints nanoseconds.
#[test]
#[ignore = "a measurement, not a check"]
fn how_long_a_thousand_plates_take() {
    let step = |number: u32| Step {
        key: number.to_string().into(),
        minutes: 45 + 15 * (number % 3),
        after: number.checked_sub(1).map(|before| before.to_string().into()).into_iter().collect(),
        rest: Rest { advised_minutes: Some(30 * (number % 4)), ..Rest::default() },
        may_split: number == 1,
        ..Step::default()
    };
    let graph = Graph::new((0..11).map(step).collect()).unwrap();
    let open = ["mon", "tue", "wed", "thu", "fri"].map(|day| (day, "10:00", "21:00"));
    let (start, due) = (at("2026-08-31T10:00:00-04:00"), at("2026-12-18T17:00:00-05:00"));
    let begun = std::time::Instant::now();
    let calendar = new_york(&open, &[]).over(start - 30 * DAY, due + 60 * DAY);
    let compiled = begun.elapsed().as_nanos();
    let ask = |plate: i64| {
        let start = start + plate * 60 * MINUTE;
        Ask { start, due: Some(due), sheets: 0, states: &[], rests: Rests::Advised }
    };
    let begun = std::time::Instant::now();
    let feasible = (0..1_000).filter(|plate| plan(&graph, &calendar, &ask(*plate)).feasible).count();
    let planned = begun.elapsed().as_nanos();
    let begun = std::time::Instant::now();
    let broken =
        (0..1_000).filter(|plate| outlook(&graph, &calendar, &ask(*plate)).breaks_first.is_some()).count();
    let looked = begun.elapsed().as_nanos();
    println!("calendar {compiled} ns; 1,000 plans {planned} ns; 1,000 outlooks {looked} ns");
    assert_eq!((feasible, broken), (1_000, 1_000));
}
