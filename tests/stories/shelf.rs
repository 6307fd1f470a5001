//! The studio and its shelf: hours, closures, stations, containers; who reads them, who writes them, what is refused.

use chrono::NaiveDate;
use diesel::prelude::*;
use tympan::store::schema::*;
use tympan::store::studio::open_hours;

use crate::on_both;
use crate::stories::{but, refuses, rows};
use crate::studio::things::Things;
use crate::studio::world::*;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

on_both! {
    fn the_room_is_told_by_staff_and_read_by_everybody(studio) {
        let path = format!("{}/studio", studio.class_path());
        let room = [("name", "Lower studio"), ("room_address", "Alder Hill 012"), ("eyewash", "right of the press"), ("emergency_numbers", "911, then 4100"), ("version", "1")];
        let assistant = studio.signed_in(ASSISTANT);
        refuses(&assistant, &format!("{path}/room"), "studio-room", &room, &[
            ("name", "", "This is missing"),
            ("room_address", &"x".repeat(201), "at most 200"),
            ("eyewash", "", "This is missing"),
            ("emergency_numbers", "9\u{1}1", "control characters"),
        ]);
        assert_eq!(assistant.post(&format!("{path}/room"), &room).location(), format!("{path}?done=done-studio-changed"));
        let stale = studio.signed_in(INSTRUCTOR).post(&format!("{path}/room"), &but(&room, "eyewash", "at the sink"));
        assert_eq!(stale.status, 422);
        assert!(stale.read().contains("“right of the press”") && stale.has("value=\"at the sink\""), "{}", stale.read());
        for email in [STUDENT, ASSISTANT, INSTRUCTOR, SAFETY_OFFICER] {
            let page = studio.signed_in(email).get(&path);
            assert!(page.read().contains("911, then 4100") && page.read().contains("right of the press"), "{email}: {}", page.read());
            assert_eq!(page.has("/studio/room"), matches!(email, ASSISTANT | INSTRUCTOR), "{email}");
        }
    }

    fn hours_closures_and_extra_openings_are_told_and_handed_to_the_planner(studio) {
        let assistant = studio.signed_in(ASSISTANT);
        let base = format!("{}/studio", studio.class_path());
        let student = studio.signed_in(STUDENT);
        // Tuesday 20 October 2026, 10:00: open from 9 to 21 as the world is set up.
        assert!(student.get(&base).read().contains("Open now, until 21:00"), "{}", student.get(&base).read());
        let opening = [("weekday", "6"), ("from", "10:00"), ("to", "16:00")];
        refuses(&assistant, &format!("{base}/openings"), "studio-opening", &opening, &[
            ("weekday", "9", "No weekday"),
            ("weekday", "Sat", "No weekday"),
            ("from", "25:00", "is no time of day"),
            ("to", "10:00", "does not come after"),
            ("to", "", "This is missing"),
        ]);
        assert_eq!(assistant.post(&format!("{base}/openings"), &[("weekday", "6"), ("weekday", "7"), ("from", "10:00"), ("to", "16:00")]).status, 303);
        assert_eq!(assistant.post(&format!("{base}/openings"), &[("weekday", "2"), ("from", "20:00"), ("to", "23:00")]).status, 303, "an overlap is fine");
        assert!(student.get(&base).read().contains("Open now, until 23:00"), "what overlaps is one");

        let closure = [("first", "2026-11-26"), ("last", "2026-11-27"), ("reason", "Thanksgiving")];
        refuses(&assistant, &format!("{base}/closures"), "studio-closure", &closure, &[
            ("first", "", "This is missing"),
            ("last", "2026-11-25", "lies before the first"),
            ("last", "2027-03-01", "At most 60 days"),
            ("reason", "", "This is missing"),
        ]);
        assert_eq!(assistant.post(&format!("{base}/closures"), &closure).status, 303);
        let again = assistant.post(&format!("{base}/closures"), &[("first", "2026-11-20"), ("last", "2026-11-26"), ("reason", "x")]);
        assert!(again.has("studio-closure-first-complaint") && again.read().contains("2026-11-26 is closed already"), "{}", again.read());
        let extra = [("day", "2026-10-25"), ("from", "18:00"), ("to", "20:00"), ("reason", "")];
        refuses(&assistant, &format!("{base}/extra-openings"), "studio-extra", &extra, &[
            ("day", "2026-11-26", "closes the whole day"),
            ("day", "soon", "is no day"),
            ("to", "17:00", "does not come after"),
        ]);
        assert_eq!(assistant.post(&format!("{base}/extra-openings"), &extra).status, 303);

        let db = &mut studio.connection();
        let hours = open_hours(db, studio.world.studio, day("2026-10-01"), day("2026-12-31")).unwrap();
        assert_eq!((hours.weekly.len(), hours.closures.len(), hours.extra.len()), (8, 2, 1));
        let stretches = |on: &str| hours.stretches_on(day(on)).collect::<Vec<_>>();
        assert_eq!(stretches("2026-10-20"), [(540, 1260), (1200, 1380)], "a Tuesday");
        assert_eq!(stretches("2026-10-25"), [(600, 960), (1080, 1200)], "a Sunday with an extra opening");
        assert_eq!(stretches("2026-11-26"), [], "a closed Thursday");
        assert!(!hours.opens_on(day("2026-11-27")) && hours.opens_on(day("2026-11-28")));
        let narrow = open_hours(db, studio.world.studio, day("2026-11-27"), day("2026-11-27")).unwrap();
        assert_eq!((narrow.weekly.len(), narrow.closures.len(), narrow.extra.len()), (8, 1, 0), "both ends included");

        let id: String = closure::table.order(closure::day).select(closure::id).first(db).unwrap();
        assert_eq!(assistant.post(&format!("{base}/closures/{id}/remove"), &[]).status, 303);
        let id: String = extra_opening::table.select(extra_opening::id).first(db).unwrap();
        assert_eq!(assistant.post(&format!("{base}/extra-openings/{id}/remove"), &[]).status, 303);
        let id: String = opening::table.filter(opening::weekday.eq(6)).select(opening::id).first(db).unwrap();
        assert_eq!(assistant.post(&format!("{base}/openings/{id}/remove"), &[]).status, 303);
        assert_eq!(assistant.post(&format!("{base}/openings/{id}/remove"), &[]).status, 404, "gone");
        assert_eq!((rows(studio, "opening"), rows(studio, "closure"), rows(studio, "extra_opening")), (7, 1, 0));
        assert_eq!(student.post(&format!("{base}/closures"), &closure).status, 403);
    }

    fn stations_are_set_up_changed_and_taken_away(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let base = format!("{}/studio/stations", studio.class_path());
        let station = [("name", "Large press"), ("kind", "Press"), ("units", "2")];
        refuses(&instructor, &base, "studio-station", &station, &[
            ("name", "", "This is missing"),
            ("kind", &"k".repeat(41), "at most 40"),
            ("units", "0", "outside what is possible"),
            ("units", "two", "is no number"),
        ]);
        assert_eq!(instructor.post(&base, &station).status, 303);
        let (id, kind): (String, String) = station::table.select((station::id, station::kind)).first(&mut studio.connection()).unwrap();
        assert_eq!(kind, "press", "steps find it by the word in lower case");
        let changed = [but(&station, "units", "3"), vec![("version", "1")]].concat();
        assert_eq!(instructor.post(&format!("{base}/{id}"), &changed).status, 303);
        assert_eq!(instructor.post(&format!("{base}/{id}"), &changed).status, 422, "stale");
        let page = studio.signed_in(STUDENT).get(&format!("{}/studio", studio.class_path()));
        assert!(page.read().contains("Large press press 3"), "{}", page.read());
        assert_eq!(instructor.post(&format!("{base}/{id}/remove"), &[]).status, 303);
        assert_eq!(rows(studio, "station"), 0);
    }

    fn a_container_gets_the_next_number_and_what_may_be_used_comes_first(studio) {
        Things::set(&mut studio.connection(), &studio.world);
        let assistant = studio.signed_in(ASSISTANT);
        let base = format!("{}/containers", studio.class_path());
        let gum = [("what", "gum"), ("label", "Batch of 12 October"), ("opened", "2026-10-12"), ("discard", "2026-10-19"), ("baume", "14"), ("ph", "4.3")];
        let acid = [("what", "phosphoric"), ("label", "From the store"), ("opened", "2026-10-12"), ("weight", "85"), ("drops_per_ml", "20"), ("drops_spread", "1.5")];
        let new = format!("{base}/new");
        refuses(&assistant, &new, "studio-container", &gum, &[
            ("label", "", "This is missing"),
            ("opened", "2026-10-21", "has not come yet"),
            ("opened", "", "This is missing"),
            ("discard", "2026-10-11", "before the day it was opened"),
            ("baume", "41", "outside what is possible"),
            ("baume", "14.25", "is no number"),
            ("ph", "15", "outside what is possible"),
        ]);
        refuses(&assistant, &new, "studio-container", &acid, &[
            ("weight", "", "needs its percent"),
            ("weight", "100.5", "outside what is possible"),
            ("drops_per_ml", "0.5", "outside what is possible"),
            ("drops_per_ml", "", "needs drops per mL"),
            ("drops_spread", "20", "as large as the drops"),
        ]);
        // A figure that belongs to another substance has no field on this form; the page says it above the form.
        for (fields, field, value) in [
            (&gum[..], "weight", "85"),
            (&gum[..], "drops_per_ml", "20"),
            (&acid[..], "baume", "14"),
            (&acid[..], "ph", "2"),
            (&acid[..], "sour", "yes"),
        ] {
            let page = assistant.post(&new, &but(fields, field, value));
            assert_eq!(page.status, 422, "{field}={value}");
            assert!(page.read().contains("does not belong"), "{field}={value}: {}", page.read());
        }
        assert_eq!(assistant.post(&new, &but(&gum, "what", "water")).status, 422);
        assert_eq!(assistant.post(&new, &gum).status, 303);
        assert_eq!(assistant.post(&new, &acid).status, 303);
        assert_eq!(assistant.post(&new, &[("what", "stock"), ("label", "Plate etch"), ("opened", "2026-10-01"), ("ph", "2.1"), ("do_not_use", "cloudy")]).status, 303);
        let marks: Vec<(String, i32)> = container::table.order((container::letter, container::number))
            .select((container::letter, container::number)).load(&mut studio.connection()).unwrap();
        assert_eq!(marks, [("A".into(), 1), ("A".into(), 2), ("E".into(), 1), ("G".into(), 1), ("G".into(), 2)]);

        let student = studio.signed_in(STUDENT);
        let page = student.get(&base);
        let read = page.read();
        let (usable, not) = read.split_once("Not to be used").unwrap();
        for said in ["A1", "A2", "G1", "14 °Bé", "85 % by weight", "20 ± 1.5 drops per mL", "dropper not calibrated", "Acid into gum or water, never the reverse", "left of the sink", "Gloves and goggles"] {
            assert!(usable.contains(said), "{said}: {usable}");
        }
        for said in ["G2", "past its last day", "E1", "do not use", "cloudy"] {
            assert!(not.contains(said), "{said}: {not}");
        }
        assert!(!page.has("/containers/new"), "a student reads");
        assert_eq!(student.get(&new).status, 403);
        assert_eq!(student.post(&new, &gum).status, 403);

        let id: String = container::table.filter(container::letter.eq("G").and(container::number.eq(2)))
            .select(container::id).first(&mut studio.connection()).unwrap();
        let one = format!("{base}/{id}");
        let longer = [but(&gum, "discard", "2026-10-20"), vec![("sour", "yes"), ("version", "1")]].concat();
        assert_eq!(assistant.post(&one, &longer).status, 303, "its last day counts");
        let stale = assistant.post(&one, &longer);
        assert_eq!(stale.status, 422);
        assert_eq!(rows(studio, "container WHERE sour AND discard = '2026-10-20'"), 1);
        let usable = student.get(&base).read();
        assert!(usable.split_once("Not to be used").unwrap().0.contains("G2"), "{usable}");
        assert_eq!(assistant.post(&format!("{one}/finished"), &[("finished", "yes")]).status, 303);
        assert!(student.get(&base).read().contains("finished on 20 Oct 2026"));
        assert_eq!(assistant.post(&new, &gum).status, 303);
        assert_eq!(rows(studio, "container WHERE letter = 'G' AND number = 3"), 1, "a number is not given again");
        assert_eq!(assistant.post(&format!("{one}/finished"), &[("finished", "no")]).status, 303);
        assert_eq!(rows(studio, "container WHERE finished_at IS NULL AND id <> ''"), 6);
        assert_eq!(assistant.get(&format!("{base}/11111111-1111-7111-8111-111111111111")).status, 404);
    }
}
