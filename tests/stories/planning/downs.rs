//! What is out of order: told once, used by every plan at once, ended by another act.

use super::{plan_path, set, station};
use crate::on_both;
use crate::stories::{refuses, rows};
use crate::studio::world::*;

on_both! {
    fn a_press_out_of_order_moves_every_plan_until_it_runs_again(studio) {
        let things = set(studio);
        let press = station(studio, "press", 1);
        let (student, assistant) = (studio.signed_in(STUDENT), studio.signed_in(ASSISTANT));
        let path = format!("{}/studio/downs", studio.class_path());
        let plan = plan_path(studio, &things);
        let before = student.get(&plan).read();
        let id = press.to_string();
        let fields = [
            ("station", id.as_str()), ("unit", "1"), ("from", "2026-10-20T10:00"), ("to", "2026-11-16T09:00"),
            ("reason", "the bed is cracked"),
        ];
        let form = assistant.get(&path);
        assert!(form.has("2026-10-20T10:00"), "it begins now unless one says otherwise");
        let sent = assistant.post_once(&path, &fields, "0123456789abcdef-down");
        assert_eq!(sent.status, 303, "{}", sent.read());
        assert_eq!(assistant.post_once(&path, &fields, "0123456789abcdef-down").status, 303);
        assert_eq!(rows(studio, "station_down"), 1, "the same form twice is one");
        let words = "the press, unit 1, from Tue 20 Oct, 10:00 until Mon 16 Nov, 09:00: the bed is cracked";
        assert!(student.get(&format!("{}/studio", studio.class_path())).read().contains(words));
        let moved = student.get(&plan).read();
        assert!(moved.contains(words), "{moved}");
        assert!(moved.contains("Mon 16 Nov, 09:00 Mon 16 Nov, 10:30"), "the proof waits for the press: {moved}");
        assert!(!before.contains("Mon 16 Nov, 09:00"));
        let listed = assistant.get(&path).text();
        let end = listed.split(&format!("{path}/")).nth(1).unwrap().split('"').next().unwrap().to_owned();
        assert_eq!(student.post(&format!("{path}/{end}"), &[]).status, 403);
        assert_eq!(assistant.post(&format!("{path}/{end}"), &[]).status, 303);
        assert_eq!(student.get(&plan).read(), before, "as if it had never been");
        assert_eq!(assistant.post(&format!("{path}/{end}"), &[]).status, 404, "it runs already");
        assert_eq!(rows(studio, "station_down WHERE to_at IS NOT NULL AND ended_by IS NOT NULL"), 1, "what was told stays");
        assert_eq!(rows(studio, "journal WHERE act IN ('station.down', 'station.runs_again')"), 2);
    }

    fn one_press_of_two_leaves_plans_their_place(studio) {
        let things = set(studio);
        let press = station(studio, "press", 2).to_string();
        let assistant = studio.signed_in(ASSISTANT);
        let plan = plan_path(studio, &things);
        let steps = |page: String| page.split("Steps to do").nth(1).unwrap().to_owned();
        let before = steps(assistant.get(&plan).read());
        let fields = [("station", press.as_str()), ("unit", "2"), ("from", "2026-10-20T10:00"), ("reason", "felt gone")];
        assert_eq!(assistant.post(&format!("{}/studio/downs", studio.class_path()), &fields).status, 303);
        let page = assistant.get(&plan).read();
        assert!(page.contains("from Tue 20 Oct, 10:00 until further notice: felt gone"), "{page}");
        assert_eq!(steps(page), before);
    }

    fn what_cannot_be_is_refused_at_its_field(studio) {
        set(studio);
        let press = station(studio, "press", 2).to_string();
        let assistant = studio.signed_in(ASSISTANT);
        let path = format!("{}/studio/downs", studio.class_path());
        let good = [
            ("station", press.as_str()), ("unit", "2"), ("from", "2026-10-20T10:00"), ("to", "2026-10-22T10:00"),
            ("reason", "felt gone"),
        ];
        refuses(&assistant, &path, "studio-down", &good, &[
            ("station", "", "This is missing"),
            ("station", "press", "not one of the choices"),
            ("unit", "3", "This station has 2 units"),
            ("unit", "0", "outside what is possible"),
            ("unit", "two", "is no number"),
            ("from", "tomorrow", "is no day and time"),
            ("to", "2026-10-20T10:00", "does not come after the beginning"),
            ("reason", "", "This is missing"),
            ("reason", "felt\u{7}gone", "invisible control characters"),
            ("reason", &"x".repeat(201), "at most 200 fit"),
        ]);
        let over = [
            ("station", press.as_str()), ("unit", "1"), ("from", "2026-10-01T10:00"), ("to", "2026-10-02T10:00"),
            ("reason", "felt gone"),
        ];
        let page = assistant.post(&path, &over);
        assert!(page.status == 422 && page.read().contains("has passed already") && page.has("felt gone"));
        let nowhere = "00000000-0000-0000-0000-000000000000";
        let page = assistant.post(&path, &crate::stories::but(&good, "station", nowhere));
        assert_eq!(page.status, 404);
        assert_eq!(rows(studio, "station_down"), 0);
    }

    fn what_is_told_already_is_not_told_twice(studio) {
        set(studio);
        let press = station(studio, "press", 2).to_string();
        let assistant = studio.signed_in(ASSISTANT);
        let path = format!("{}/studio/downs", studio.class_path());
        let tell = |unit: &str, from: &str, to: &str| {
            assistant.post(&path, &[("station", &press), ("unit", unit), ("from", from), ("to", to), ("reason", "felt gone")])
        };
        assert_eq!(tell("2", "2026-10-20T10:00", "2026-10-22T10:00").status, 303);
        for (from, to) in [("2026-10-20T10:00", "2026-10-22T10:00"), ("2026-10-21T10:00", "2026-10-21T12:00")] {
            let page = tell("2", from, to);
            assert!(page.status == 422 && page.read().contains("all of that time already"), "{from}: {}", page.read());
        }
        assert_eq!(tell("1", "2026-10-21T10:00", "2026-10-21T12:00").status, 303, "the other one");
        assert_eq!(tell("2", "2026-10-21T10:00", "").status, 303, "longer than was told");
        assert_eq!(tell("2", "2026-10-21T10:00", "").status, 422);
        assert_eq!(rows(studio, "station_down"), 3);
    }

    fn a_station_without_a_unit_cannot_be(studio) {
        let assistant = studio.signed_in(ASSISTANT);
        let path = format!("{}/studio/stations", studio.class_path());
        let fields = [("name", "the press"), ("kind", "press"), ("units", "2")];
        refuses(&assistant, &path, "studio-station", &fields, &[("units", "0", "outside what is possible")]);
        let openings = format!("{}/studio/openings", studio.class_path());
        let page = assistant.post(&openings, &[("weekday", "1"), ("from", "18:00"), ("to", "09:00")]);
        assert!(page.status == 422 && page.has("value=\"18:00\"") && page.has("value=\"09:00\""), "kept as typed");
    }
}
