//! What was taken away by a slip of the thumb comes back as it was, from the page that comes after.

use diesel::prelude::*;
use tympan::store::schema::{closure, extra_opening, meeting, opening, station, station_down};

use crate::on_both;
use crate::stories::{planning, rows};
use crate::studio::world::*;
use crate::studio::{Page, Studio, Visitor};

/// A row of what is out of order.
type Down = (String, i32, i64, Option<i64>, String, String, i64);

/// Takes something away and goes on to the page after it: the page, and what its button sends.
fn taken_away(visitor: &Visitor, path: &str) -> (Page, String, Vec<(String, String)>) {
    let removed = visitor.post(path, &[]);
    assert_eq!(removed.status, 303, "{path}: {}", removed.read());
    let page = visitor.get(removed.location());
    let text = page.text();
    let (_, form) =
        text.split_once("<form class=\"acts\" method=\"post\" action=\"").expect("a form to bring it back");
    let (action, form) = form.split_once('"').unwrap();
    let form = form.split_once("</form>").unwrap().0;
    assert!(form.contains("Bring it back"), "{form}");
    let value = |name: &str| {
        let (_, rest) = form.split_once(&format!("name=\"{name}\" value=\"")).expect(name);
        (name.to_owned(), rest.split('"').next().unwrap().to_owned())
    };
    let (action, fields) = (action.to_owned(), vec![value("what"), value("gone")]);
    (page, action, fields)
}

fn bring_back(visitor: &Visitor, action: &str, fields: &[(String, String)]) -> Page {
    let fields: Vec<(&str, &str)> =
        fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    visitor.post(action, &fields)
}

fn nothing(page: &Page) {
    assert!(
        page.status == 409 && page.read().contains("add it anew if it is missing"),
        "{} {}",
        page.status,
        page.read()
    );
}

fn acts(studio: &Studio, act: &str) -> i64 {
    rows(studio, &format!("journal WHERE act = '{act}'"))
}

on_both! {
    fn a_closed_day_is_brought_back_once_by_whoever_opened_it_and_not_for_long(studio) {
        let base = format!("{}/studio", studio.class_path());
        let (assistant, instructor) = (studio.signed_in(ASSISTANT), studio.signed_in(INSTRUCTOR));
        let closed = [("first", "2026-11-26"), ("why", "holiday"), ("reason", "Thanksgiving")];
        assert_eq!(assistant.post(&format!("{base}/closures"), &closed).status, 303);
        let all = |studio: &Studio| -> Vec<(String, String)> {
            closure::table.select((closure::id, closure::reason)).load(&mut studio.connection()).unwrap()
        };
        let before = all(studio);
        let remove = format!("{base}/closures/{}/remove", before[0].0);
        let (page, action, fields) = taken_away(&assistant, &remove);
        assert!(page.read().contains("The closure is gone"), "{}", page.read());
        assert!(all(studio).is_empty());
        nothing(&bring_back(&instructor, &action, &fields));
        assert_eq!(bring_back(&studio.signed_in(STUDENT), &action, &fields).status, 403);
        let back = bring_back(&assistant, &action, &fields);
        assert_eq!(back.location(), format!("{base}/hours?done=done-brought-back"), "{}", back.read());
        assert!(!assistant.get(back.location()).has("bring-back"));
        assert_eq!(all(studio), before, "as it was, under the same id");
        nothing(&bring_back(&assistant, &action, &fields));
        let told = ["closure.added", "closure.removed", "closure.brought_back"].map(|act| acts(studio, act));
        assert_eq!(told, [1, 1, 1], "all of it stands in the journal");

        let (_, action, fields) = taken_away(&assistant, &remove);
        studio.later_ms(10 * 60_000 + 1);
        nothing(&bring_back(&assistant, &action, &fields));
        assert!(all(studio).is_empty());
        let forged = assistant.get(&format!("{base}/hours?done=done-closure-added&gone={}", before[0].0));
        assert!(!forged.has("bring-back"), "nothing was taken away");
    }

    fn hours_come_back_to_calendars_under_the_name_they_had(studio) {
        let base = format!("{}/studio", studio.class_path());
        let assistant = studio.signed_in(ASSISTANT);
        let extra = [("day", "2026-11-14"), ("from", "18:00"), ("to", "21:00"), ("reason", "open house")];
        assert_eq!(assistant.post(&format!("{base}/extra-openings"), &extra).status, 303);
        let extras = |studio: &Studio| -> Vec<(String, i32, i32, String)> {
            extra_opening::table
                .select((extra_opening::id, extra_opening::from_minute, extra_opening::to_minute, extra_opening::reason))
                .load(&mut studio.connection()).unwrap()
        };
        let openings = |studio: &Studio| -> Vec<(String, i32, i32, i32)> {
            opening::table.order(opening::id)
                .select((opening::id, opening::weekday, opening::from_minute, opening::to_minute))
                .load(&mut studio.connection()).unwrap()
        };
        let (extras_before, openings_before) = (extras(studio), openings(studio));
        let remove_extra = format!("{base}/extra-openings/{}/remove", extras_before[0].0);
        for remove in [remove_extra.clone(), format!("{base}/openings/{}/remove", openings_before[0].0)] {
            let (_, action, fields) = taken_away(&assistant, &remove);
            assert_eq!(rows(studio, "called_off"), 1, "{remove}");
            assert_eq!(bring_back(&assistant, &action, &fields).status, 303, "{remove}");
            assert_eq!(rows(studio, "called_off"), 0, "{remove}");
        }
        assert_eq!((extras(studio), openings(studio)), (extras_before, openings_before));
        assert_eq!((acts(studio, "hours.brought_back"), acts(studio, "extra_opening.brought_back")), (1, 1));

        let (_, action, fields) = taken_away(&assistant, &remove_extra);
        let closed = [("first", "2026-11-14"), ("why", "staff")];
        assert_eq!(assistant.post(&format!("{base}/closures"), &closed).status, 303);
        let page = bring_back(&assistant, &action, &fields);
        assert!(page.status == 409 && page.read().contains("2026-11-14"), "closed meanwhile: {}", page.read());
        assert!(extras(studio).is_empty());
    }

    fn a_station_comes_back_with_what_is_out_of_order_there(studio) {
        let base = format!("{}/studio", studio.class_path());
        let instructor = studio.signed_in(INSTRUCTOR);
        let press = planning::station(studio, "press", 2);
        planning::station(studio, "slab", 1);
        let id = press.to_string();
        let down = [("station", id.as_str()), ("unit", "2"), ("from", "2026-10-20T10:00"), ("why", "repair")];
        assert_eq!(instructor.post(&format!("{base}/downs"), &down).status, 303);
        let standing = |studio: &Studio| {
            let db = &mut studio.connection();
            let stations: Vec<(String, String, String, i32, i32, i64)> = station::table.order(station::position)
                .select((station::id, station::kind, station::name, station::units, station::position, station::version))
                .load(db).unwrap();
            let downs: Vec<Down> = station_down::table
                .select((
                    station_down::id, station_down::unit, station_down::from_at, station_down::to_at,
                    station_down::reason, station_down::by_id, station_down::at,
                ))
                .load(db).unwrap();
            (stations, downs)
        };
        let before = standing(studio);
        assert_eq!((before.0.len(), before.1.len()), (2, 1));
        let (_, action, fields) = taken_away(&instructor, &format!("{base}/stations/{press}/remove"));
        assert_eq!(standing(studio).1.len(), 0);
        let back = bring_back(&instructor, &action, &fields);
        assert_eq!(back.status, 303, "{}", back.read());
        assert_eq!(standing(studio), before);
        assert!(instructor.get(&base).read().contains("It is being repaired"));
        nothing(&bring_back(&instructor, &action, &fields));
        assert_eq!(acts(studio, "station.brought_back"), 1);
    }

    fn a_meeting_comes_back_to_its_own_class_alone(studio) {
        let base = format!("{}/settings/meetings", studio.class_path());
        let instructor = studio.signed_in(INSTRUCTOR);
        let assistant = studio.world.assistant.to_string();
        let there = [("kind", "presence"), ("person", assistant.as_str()), ("weekday", "3"), ("from", "17:00"), ("to", "19:00")];
        assert_eq!(instructor.post(&base, &there).status, 303);
        let all = |studio: &Studio| -> Vec<(String, String, Option<String>, i32, i32, i32)> {
            meeting::table
                .select((
                    meeting::id, meeting::kind, meeting::person_id, meeting::weekday, meeting::from_minute, meeting::to_minute,
                ))
                .load(&mut studio.connection()).unwrap()
        };
        let before = all(studio);
        let (_, action, fields) = taken_away(&instructor, &format!("{base}/{}/remove", before[0].0));
        assert!(all(studio).is_empty() && rows(studio, "called_off") == 1);
        assert_eq!(bring_back(&studio.signed_in(ASSISTANT), &action, &fields).status, 403);
        assert_eq!(bring_back(&instructor, &action, &fields).status, 303);
        assert_eq!((all(studio), rows(studio, "called_off")), (before, 0));
        nothing(&bring_back(&instructor, &action, &fields));
        assert_eq!(acts(studio, "meeting.brought_back"), 1);
    }
}
