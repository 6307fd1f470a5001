//! `reckon plan` and `reckon press` as they are told: figures worked by hand, and one sentence for bad input.

use serde_json::{Value, json};
use tympan::commands::reckon;
use tympan::speech::Speech;

fn told(name: &str, input: &Value) -> Result<Value, String> {
    let speech = Speech::load().unwrap();
    match reckon::answer(&speech, name, &input.to_string()) {
        Ok(text) => Ok(serde_json::from_str(&text).unwrap()),
        Err(remark) => {
            let sentence = speech.remark(&remark);
            assert!(sentence.contains(' ') && sentence.ends_with('.'), "{sentence}");
            Err(sentence)
        }
    }
}

// ---- plan ----

/// A plan in which everything is in order.
fn sound() -> Value {
    json!({
        "start": "2026-10-30T16:00:00-04:00", "due": "2026-11-06T17:00:00-05:00", "zone": "America/New_York",
        "open": [{"day": "mon", "from": "09:00", "to": "17:00"}, {"day": "fri", "from": "09:00", "to": "17:00"}],
        "closed": [],
        "steps": [
            {"key": "A", "minutes": 45, "after": [], "min_wait_minutes": 0, "max_wait_minutes": null, "may_split": false},
            {"key": "B", "minutes": 60, "after": ["A"], "min_wait_minutes": 720, "max_wait_minutes": 1440, "may_split": false},
            {"key": "C", "minutes": 30, "after": ["A"], "anywhere": true},
        ],
    })
}

#[test]
fn a_plan_is_told_in_the_zone_of_the_studio() {
    let plan = told("plan", &sound()).unwrap();
    assert_eq!(plan["finish"], "2026-11-02T10:00:00-05:00");
    assert_eq!((&plan["feasible"], &plan["breaks"]), (&json!(true), &Value::Null));
    let expected = json!({
        "key": "A", "earliest_start": "2026-10-30T16:00:00-04:00", "earliest_finish": "2026-10-30T16:45:00-04:00",
        // Friday's 16:00 less 12 hours is closed: Monday is the latest.
        "latest_start": "2026-11-02T16:15:00-05:00", "latest_finish": "2026-11-02T17:00:00-05:00",
        "slack_minutes": 60 + 435, "critical": false,
    });
    assert_eq!(plan["steps"][0], expected);
    assert_eq!(plan["steps"][1]["critical"], true);
    // At home after closing, and on the clock: from Friday 16:45 EDT to the next Friday 16:30 EST.
    assert_eq!(plan["steps"][2]["slack_minutes"], 7 * 1_440 + 60 - 15);
    let warning = &plan["warnings"][0];
    assert_eq!((&warning["step"], &warning["begin_by"]), (&json!("B"), &json!("2026-10-31T16:45:00-04:00")));
    assert_eq!(warning["rest_minutes"], 64 * 60 + 15 + 60);
}

#[test]
fn a_broken_plan_names_its_step() {
    let mut input = sound();
    input["due"] = json!("2026-11-02T09:30:00-05:00");
    let plan = told("plan", &input).unwrap();
    assert_eq!((&plan["feasible"], &plan["breaks"]), (&json!(false), &json!("B")));
    assert!(plan["sentence"].as_str().unwrap().contains("2026-11-02T09:30:00-05:00"));
    input["steps"][0]["minutes"] = json!(481);
    let plan = told("plan", &input).unwrap();
    assert_eq!((&plan["breaks"], &plan["finish"]), (&json!("A"), &Value::Null));
    assert!(plan["sentence"].as_str().unwrap().contains("481"));
}

#[test]
fn bad_plans_are_refused_in_one_sentence() {
    let closed: Vec<String> = (0..8)
        .map(|day| {
            format!("2026-{}", ["10-30", "10-31", "11-01", "11-02", "11-03", "11-04", "11-05", "11-06"][day])
        })
        .collect();
    let wrong = [
        ("/start", json!("2026-11-07T16:00:00-05:00"), "2026-11-07T16:00:00-05:00"),
        ("/start", json!("2006-11-07T16:00:00-05:00"), "3660"),
        ("/due", json!("tomorrow"), "tomorrow"),
        ("/zone", json!("America/Atlantis"), "America/Atlantis"),
        ("/open/0/day", json!("monday"), "open[0].day"),
        ("/open/0/to", json!("25:00"), "25:00"),
        ("/open/0/to", json!("08:59"), "from 09:00 to 08:59"),
        ("/open", json!([]), "no opening"),
        ("/closed", json!(closed), "closed date"),
        ("/closed", json!(["2026-02-30"]), "2026-02-30"),
        ("/steps", json!([]), "empty"),
        ("/steps/0/after", json!(["B"]), "A, B, A"),
        ("/steps/1/after", json!(["Z"]), "“Z”"),
        ("/steps/1/key", json!("A"), "“A”"),
        ("/steps/1/minutes", json!(-5), "-5"),
        ("/steps/1/minutes", json!(600_000), "600000"),
        ("/steps/1/minutes", json!("60"), "JSON"),
        ("/steps/1/max_wait_minutes", json!(60), "720"),
        ("/steps/1/min_wait_minutes", json!(-1), "min_wait_minutes"),
    ];
    for (place, value, said) in wrong {
        let mut input = sound();
        *input.pointer_mut(place).unwrap() = value;
        let sentence = told("plan", &input).unwrap_err();
        assert!(sentence.contains(said), "{place}: {sentence}");
    }
    let mut input = sound();
    input["stations"] = json!([]);
    assert!(told("plan", &input).unwrap_err().contains("stations"));
}

#[test]
fn no_open_hours_are_no_matter_where_none_are_needed() {
    let mut input = sound();
    input["open"] = json!([]);
    input["steps"] =
        json!([{"key": "A", "minutes": 0}, {"key": "B", "minutes": 30, "anywhere": true, "after": ["A"]}]);
    assert_eq!(told("plan", &input).unwrap()["finish"], "2026-10-30T16:30:00-04:00");
    input["extra"] = json!([{"date": "2026-11-01", "from": "09:00", "to": "12:00"}]);
    input["closed"] = json!(["2026-11-01"]);
    let plan = told("plan", &input).unwrap();
    assert!(plan["warnings"][0]["sentence"].as_str().unwrap().contains("2026-11-01"));
}

/// 2 November 2026 is a Monday. The instructor is there on Wednesday from 13:00 to 15:00: the go-ahead falls there, and
/// what waits for it after that; back from Friday 17:00 the go-ahead ends on Wednesday at 15:00 at the latest.
#[test]
fn a_step_with_the_instructor_waits_until_they_are_there() {
    let day = |day: &str, from: &str, to: &str| json!({"day": day, "from": from, "to": to});
    let mut input = json!({
        "start": "2026-11-02T09:00:00-05:00", "due": "2026-11-06T17:00:00-05:00", "zone": "America/New_York",
        "open": [day("mon", "09:00", "17:00"), day("wed", "09:00", "17:00"), day("fri", "09:00", "17:00")],
        "instructor": [day("wed", "13:00", "15:00"), day("sat", "09:00", "17:00")],
        "steps": [
            {"key": "proof", "minutes": 60},
            {"key": "go-ahead", "minutes": 15, "after": ["proof"], "with_instructor": true},
            {"key": "edition", "minutes": 60, "after": ["go-ahead"]},
        ],
    });
    let times = |plan: &Value| -> Vec<[String; 2]> {
        let time = |step: &Value, name: &str| step[name].as_str().unwrap()[8..16].to_owned();
        let steps = plan["steps"].as_array().unwrap().iter();
        steps.map(|step| [time(step, "earliest_start"), time(step, "latest_start")]).collect()
    };
    let plan = told("plan", &input).unwrap();
    assert_eq!(times(&plan), [["02T09:00", "04T13:45"], ["04T13:00", "04T14:45"], ["04T13:15", "06T16:00"]]);
    // Two hours a week in which it may slip: 13:00 to 14:45.
    assert_eq!(plan["steps"][1]["slack_minutes"], 105);
    // Only on days on which the studio is shut, or nothing said: any open hour, as without it.
    for instructor in [json!([day("sat", "09:00", "17:00")]), Value::Null, json!([])] {
        input["instructor"] = instructor;
        let plan = told("plan", &input).unwrap();
        assert_eq!(
            times(&plan),
            [["02T09:00", "06T14:45"], ["02T10:00", "06T15:45"], ["02T10:15", "06T16:00"]]
        );
    }
    // The one day is closed: no place until another week.
    input["instructor"] = json!([day("wed", "13:00", "15:00")]);
    input["closed"] = json!(["2026-11-04"]);
    let plan = told("plan", &input).unwrap();
    assert_eq!((&plan["feasible"], &plan["breaks"]), (&json!(false), &json!("go-ahead")));
    assert_eq!(plan["steps"][1]["earliest_start"], "2026-11-11T13:00:00-05:00");
    input["steps"][1]["anywhere"] = json!(true);
    assert!(told("plan", &input).unwrap_err().contains("“go-ahead”"));
}

// ---- press ----

/// Four Mondays of three hours at one press that is down on the second; ten prints of 30 + 6 x 10 minutes.
fn class() -> Value {
    json!({
        "zone": "America/New_York", "from": "2026-09-07T00:00", "to": "2026-10-05T00:00",
        "open": [{"day": "mon", "from": "18:00", "to": "21:00"}], "extra": [], "closed": [],
        "stations": [{"name": "press", "count": 1, "down": [
            {"unit": 1, "from": "2026-09-14T00:00", "to": "2026-09-15T00:00"}]}],
        "prints": 10, "sheets": 10,
        "steps": [{"key": "edition", "minutes": 30, "minutes_per_sheet": 6, "station": "press", "after": []}],
        "instead": [
            {"extra": {"date": "2026-09-16", "from": "18:00", "to": "21:00"}},
            {"sheets": 5},
            {"repaired": {"station": "press", "unit": 1}},
            {"repaired": {"station": "press"}},
        ],
    })
}

#[test]
fn a_class_at_one_press() {
    let answer = told("press", &class()).unwrap();
    let figures = |answer: &Value| {
        ["had_minutes", "wanted_minutes", "short_minutes", "fits_at_most", "first_without_place"]
            .map(|key| answer[key].clone())
    };
    assert_eq!(figures(&answer), [json!(540), json!(900), json!(360), json!(6), json!(7)]);
    assert_eq!(answer["no_more_than"], 6);
    // An evening more, or the press repaired: two prints more. Five sheets: an hour each, three an evening.
    assert_eq!(figures(&answer["instead"][0]), [json!(720), json!(900), json!(180), json!(8), json!(9)]);
    assert_eq!(figures(&answer["instead"][1]), [json!(540), json!(600), json!(60), json!(9), json!(10)]);
    assert_eq!(answer["instead"][2], answer["instead"][3]);
    assert_eq!(answer["instead"][2]["more"], 2);
    let weeks: Vec<_> = answer["weeks"].as_array().unwrap().iter().map(|week| &week["had_minutes"]).collect();
    assert_eq!(weeks, [180, 0, 180, 180]);
    let of = |name: &str| -> Vec<i64> {
        answer["weeks"].as_array().unwrap().iter().map(|week| week[name].as_i64().unwrap()).collect()
    };
    // All are due when the span ends: back from there each begins at 19:30 on the last Monday at the latest.
    assert_eq!(of("wanted_minutes"), [0, 0, 0, 900]);
    assert_eq!(of("taken_minutes"), [180, 0, 180, 180]);
    assert_eq!(answer["weeks"][3]["monday"], "2026-09-28");
    assert_eq!(answer["places"].as_array().unwrap().len(), 6);
    assert_eq!(answer["places"][2]["start"], "2026-09-21T18:00:00-04:00");
    assert_eq!(answer["warnings"], json!([]));
}

#[test]
fn one_more_evening_once_or_each_week_and_one_unit_repaired_or_all() {
    let mut input = class();
    input["stations"][0]["count"] = json!(2);
    input["stations"][0]["down"] = json!([
        {"unit": 1, "from": "2026-09-14T00:00", "to": "2026-09-15T00:00"},
        {"unit": 2, "from": "2026-09-14T00:00", "to": "2026-09-22T00:00"},
    ]);
    input["instead"] = json!([
        {"extra": {"date": "2026-09-24", "from": "18:00", "to": "21:00"}},
        {"weekly": {"day": "thu", "from": "18:00", "to": "21:00"}},
        {"repaired": {"station": "press", "unit": 1}},
        {"repaired": {"station": "press"}},
    ]);
    let answer = told("press", &input).unwrap();
    // Eight evenings of units, three of them down: 5 x 180 min, two prints of 90 min in each.
    let figures = |answer: &Value| ["had_minutes", "fits_at_most"].map(|key| answer[key].as_i64().unwrap());
    assert_eq!(figures(&answer), [900, 10]);
    // An evening more is two units of it; four Thursdays are eight, of which unit 2 misses the 17th.
    let instead: Vec<_> = answer["instead"].as_array().unwrap().iter().map(figures).collect();
    assert_eq!(instead, [[1_260, 14], [900 + 7 * 180, 24], [1_080, 12], [1_440, 16]]);
    let mut input = class();
    input["instead"] = json!([{"weekly": {"day": "thursday", "from": "18:00", "to": "21:00"}}]);
    assert!(told("press", &input).unwrap_err().contains("instead[0].weekly.day"));
}

/// The slab is free on Monday from 20:00, so a roll-up could end when the studio closes; its second etch belongs to the
/// same day and has no room any more: both wait for Tuesday.
#[test]
fn a_step_of_the_same_day_lands_on_that_day_or_nothing_is_promised() {
    let evening = |day: &str| json!({"day": day, "from": "18:00", "to": "21:00"});
    let mut input = json!({
        "zone": "America/New_York", "from": "2026-09-07T00:00", "to": "2026-09-09T00:00",
        "open": [evening("mon"), evening("tue")],
        "stations": [
            {"name": "slab", "count": 1, "down": [{"unit": 1, "from": "2026-09-07T00:00", "to": "2026-09-07T20:00"}]},
            {"name": "table", "count": 1},
        ],
        "prints": 1,
        "steps": [
            {"key": "roll up", "minutes": 60, "station": "slab"},
            {"key": "second etch", "minutes": 45, "station": "table", "after": ["roll up"], "same_day": true},
        ],
    });
    let starts = |answer: &Value| -> Vec<String> {
        answer["places"]
            .as_array()
            .unwrap()
            .iter()
            .map(|place| place["start"].as_str().unwrap().to_owned())
            .collect()
    };
    let answer = told("press", &input).unwrap();
    assert_eq!(starts(&answer), ["2026-09-08T18:00:00-04:00", "2026-09-08T19:00:00-04:00"]);
    // The table busy on Tuesday: no day holds both.
    input["stations"][1]["down"] = json!([{"unit": 1, "from": "2026-09-08T00:00", "to": "2026-09-09T00:00"}]);
    let answer = told("press", &input).unwrap();
    assert_eq!((&answer["fits_at_most"], &answer["places"]), (&json!(0), &json!([])));
    input["steps"][1]["same_day"] = json!(false);
    assert_eq!(told("press", &input).unwrap()["fits_at_most"], 0, "the table is busy on Tuesday");
    input["stations"][1]["down"] = json!([]);
    let answer = told("press", &input).unwrap();
    assert_eq!(starts(&answer), ["2026-09-07T20:00:00-04:00", "2026-09-08T18:00:00-04:00"]);
    // Twenty-one hours between the two are one too many for twenty, and just enough for twenty-one.
    input["steps"][1]["max_wait_minutes"] = json!(20 * 60);
    let answer = told("press", &input).unwrap();
    assert_eq!(starts(&answer), ["2026-09-08T18:00:00-04:00", "2026-09-08T19:00:00-04:00"]);
    input["steps"][1]["max_wait_minutes"] = json!(21 * 60);
    assert_eq!(starts(&told("press", &input).unwrap())[1], "2026-09-08T18:00:00-04:00");
    input["steps"][1]["same_day"] = json!(true);
    assert!(told("press", &input).unwrap_err().contains("same_day"));
}

/// One evening holds two proofs of 90 minutes. Prints of others come first where they are due first, and are counted
/// nowhere but among the minutes.
#[test]
fn what_others_want_of_the_press_is_not_promised_twice() {
    let step = json!([{"key": "proof", "minutes": 90, "station": "press"}]);
    let print = |name: &str, due: &str, counted: bool| json!({"print": name, "due": format!("2026-09-07T{due}"), "steps": step, "counted": counted});
    let mut input = class();
    let fields = input.as_object_mut().unwrap();
    for gone in ["prints", "sheets", "steps", "instead"] {
        fields.remove(gone);
    }
    input["to"] = json!("2026-09-08T00:00");
    input["stations"][0]["down"] = json!([]);
    let mut fits = |others: usize, due: &str| {
        let others = (0..others).map(|number| print(&format!("other {number}"), due, false));
        let ours = ["Harbour", "Gulls"].map(|name| print(name, "22:00", true));
        input["work"] = others.chain(ours).collect();
        let answer = told("press", &input).unwrap();
        ["fits_at_most", "no_more_than", "wanted_minutes", "first_without_place"]
            .map(|key| answer[key].clone())
    };
    assert_eq!(fits(0, "21:00"), [json!(2), json!(2), json!(180), Value::Null]);
    assert_eq!(fits(1, "21:00"), [json!(1), json!(2), json!(270), json!("Gulls")]);
    assert_eq!(fits(2, "21:00"), [json!(0), json!(2), json!(360), json!("Harbour")]);
    assert_eq!(
        fits(2, "23:00"),
        [json!(2), json!(2), json!(360), Value::Null],
        "what is due later gives way"
    );
}

#[test]
fn minutes_that_do_not_divide_an_evening_are_said_to_be_lost() {
    let mut input = class();
    input["prints"] = json!(5);
    input["sheets"] = json!(12);
    let answer = told("press", &input).unwrap();
    assert_eq!((&answer["short_minutes"], &answer["fits_at_most"]), (&json!(0), &json!(3)));
    assert_eq!(answer["warnings"].as_array().unwrap().len(), 1);
    input["prints"] = json!(3);
    let answer = told("press", &input).unwrap();
    assert_eq!((&answer["first_without_place"], &answer["warnings"]), (&Value::Null, &json!([])));
}

/// 1 November 2026 has 25 hours in New York, so an opening across the change has one more.
#[test]
fn a_night_of_printing_across_the_change_of_the_clock() {
    let mut input = class();
    input["from"] = json!("2026-10-31T00:00");
    input["to"] = json!("2026-11-02T00:00");
    input["open"] = json!([{"day": "sun", "from": "00:00", "to": "03:00"}]);
    input["stations"][0]["down"] = json!([{"unit": 1, "from": "2026-11-01T00:00", "to": "2026-11-01T01:00"}]);
    let answer = told("press", &input).unwrap();
    assert_eq!((&answer["had_minutes"], &answer["fits_at_most"]), (&json!(180), &json!(2)));
    assert_eq!(answer["places"][1]["start"], "2026-11-01T01:30:00-05:00");
    assert_eq!(answer["places"][0]["start"], "2026-11-01T01:00:00-04:00");
}

#[test]
fn prints_of_their_own_are_placed_by_their_due_dates() {
    let step = json!([{"key": "proof", "minutes": 90, "station": "press"},
        {"key": "tear", "minutes": 60, "anywhere": true, "after": ["proof"]}]);
    let mut input = class();
    let fields = input.as_object_mut().unwrap();
    for gone in ["prints", "sheets", "steps", "instead"] {
        fields.remove(gone);
    }
    input["work"] = json!([
        {"print": "Harbour", "due": "2026-09-21T23:00", "steps": step},
        {"print": 7, "due": "2026-09-08T12:00", "steps": step},
        {"print": "Gulls", "due": "2026-09-08T12:00", "steps": step},
        {"print": "Kiln", "due": "2026-09-20T12:00", "steps": step},
        {"print": "Weir", "steps": step},
    ]);
    let answer = told("press", &input).unwrap();
    assert_eq!((&answer["fits_at_most"], &answer["first_without_place"]), (&json!(4), &json!("Kiln")));
    assert_eq!((&answer["wanted_minutes"], &answer["short_minutes"]), (&json!(450), &json!(0)));
    // Latest starts of the proofs: two on the 7th (an hour of tearing follows), then the 14th, the 21st and, without a
    // due date, the 28th; the press is down on the 14th, so that week wants more than it has.
    let weeks: Vec<_> = answer["weeks"]
        .as_array()
        .unwrap()
        .iter()
        .map(|week| {
            ["had_minutes", "wanted_minutes", "taken_minutes"].map(|name| week[name].as_i64().unwrap())
        })
        .collect();
    assert_eq!(weeks, [[180, 180, 180], [0, 90, 0], [180, 90, 180], [180, 90, 0]]);
    let torn = answer["places"]
        .as_array()
        .unwrap()
        .iter()
        .find(|place| place["print"] == 7 && place["step"] == "tear");
    assert_eq!(torn.unwrap()["start"], "2026-09-07T19:30:00-04:00");
}

#[test]
fn bad_press_plans_are_refused_in_one_sentence() {
    let wrong = [
        ("/to", json!("2026-09-07T00:00"), "“to”"),
        ("/from", json!("2006-09-07T00:00"), "3660"),
        ("/from", json!("2026-09-07"), "2026-09-07"),
        ("/stations/0/count", json!(0), "“press”"),
        ("/stations/0/count", json!(-1), "stations[0].count"),
        ("/stations/0/count", json!(2_000), "2000"),
        ("/stations/0/down/0/unit", json!(2), "Unit 2"),
        ("/stations/0/down/0/unit", json!(0), "stations[0].down[0].unit"),
        ("/stations/0/down/0/to", json!("2026-09-14T00:00"), "turn the two round"),
        ("/stations/0/name", json!("sink"), "steps[0].station"),
        ("/prints", json!(0), "0 prints"),
        ("/prints", json!(-1), "“prints”"),
        ("/prints", json!(null), "“work”"),
        ("/steps", json!([]), "empty"),
        ("/steps/0/after", json!(["edition"]), "circle"),
        ("/steps/0/minutes_per_sheet", json!(-6), "minutes_per_sheet"),
        ("/instead/0/extra/date", json!("2026-09-31"), "instead[0].extra.date"),
        ("/instead/2/repaired/station", json!("sink"), "instead[2].repaired.station"),
        ("/instead/1/sheets", json!(-1), "instead[1].sheets"),
        ("/open/0/to", json!("18:00"), "ends before it begins"),
        ("/open", json!([]), "no opening"),
        ("/closed", json!(["2026-09-07", "2026-09-14", "2026-09-21", "2026-09-28"]), "closed date"),
    ];
    for (place, value, said) in wrong {
        let mut input = class();
        *input.pointer_mut(place).unwrap() = value;
        let sentence = told("press", &input).unwrap_err();
        assert!(sentence.contains(said), "{place}: {sentence}");
    }
    let mut input = class();
    input["stations"] = json!([input["stations"][0], input["stations"][0]]);
    assert!(told("press", &input).unwrap_err().contains("“press”"));
    let mut input = class();
    input["steps"][0]["anywhere"] = json!(true);
    assert!(told("press", &input).unwrap_err().contains("“edition”"));
    let mut input = class();
    let steps = input.as_object_mut().unwrap().remove("steps").unwrap();
    input.as_object_mut().unwrap().remove("prints");
    input["work"] = json!([{"print": "1", "steps": steps}, {"print": 1, "steps": steps}]);
    assert!(told("press", &input).unwrap_err().contains("“sheets”"));
    input.as_object_mut().unwrap().remove("sheets");
    assert!(told("press", &input).unwrap_err().contains("“1”"));
}
