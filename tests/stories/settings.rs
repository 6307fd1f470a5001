//! An instructor sets a class up: rules, listings, hours, projects, due dates for all and for one; and what is refused.

use diesel::prelude::*;
use tympan::store::classes::{due_of, dues_of_class};
use tympan::store::schema::*;

use crate::on_both;
use crate::stories::{but, refuses, rows};
use crate::studio::things::Things;
use crate::studio::world::*;

on_both! {
    fn the_rules_of_a_class_are_set_and_a_stale_save_is_not_lost(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/settings/rules", studio.class_path());
        let rules = [("title", "Plates"), ("shares_logs", "yes"), ("gum_limit_days", "7"), ("ph_low", "1.8"), ("ph_high", "4,3"), ("version", "1")];
        refuses(&instructor, &path, "classes-rules", &rules, &[
            ("title", "", "This is missing"),
            ("title", "a\u{0}b", "control characters"),
            ("gum_limit_days", "0", "outside what is possible"),
            ("gum_limit_days", "seven", "is no number"),
            ("gum_limit_days", "7.5", "is no number"),
            ("ph_low", "15", "outside what is possible"),
            ("ph_low", "", "one end only"),
            ("ph_high", "", "one end only"),
            ("ph_high", "1.8", "not above the lowest"),
            ("ph_high", "1.234", "at most 2 decimals"),
        ]);
        assert_eq!(instructor.post(&path, &rules).status, 303);
        let page = instructor.get(&format!("{}/settings", studio.class_path())).read();
        for said in ["Plates", "no, editions start without it", "7 days", "1.8 to 4.3"] {
            assert!(page.contains(said), "{said}: {page}");
        }
        let stale = instructor.post(&path, &but(&rules, "title", "Mine"));
        assert_eq!(stale.status, 422);
        assert!(stale.has("value=\"Mine\"") && stale.read().contains("“Plates”"), "{}", stale.read());
        assert_eq!(instructor.post(&path, &but(&but(&rules, "title", "Mine"), "version", "2")).status, 303);
    }

    fn listings_come_change_and_go_unless_somebody_is_in_them(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let base = format!("{}/settings", studio.class_path());
        let path = format!("{base}/listings");
        let listing = [("code", "LIT 520"), ("section", "01"), ("level", "graduate"), ("credits", "3.5"), ("basis", "pass")];
        refuses(&instructor, &path, "classes-listing", &listing, &[
            ("code", "", "This is missing"),
            ("section", &"9".repeat(21), "at most 20"),
            ("credits", "-1", "outside what is possible"),
            ("credits", "three", "is no number"),
            ("basis", "bribe", "not one of the choices"),
            ("basis", "", "This is missing"),
        ]);
        assert_eq!(instructor.post(&path, &listing).status, 303);
        let twice = instructor.post(&path, &listing);
        assert!(twice.has("classes-listing-section-complaint"), "the same code and section: {}", twice.read());
        let id: String = listing::table.filter(listing::code.eq("LIT 520")).select(listing::id)
            .first(&mut studio.connection()).unwrap();
        let one = format!("{path}/{id}");
        let changed = [but(&listing, "credits", "3"), vec![("version", "1")]].concat();
        assert_eq!(instructor.post(&one, &changed).status, 303);
        assert_eq!(instructor.post(&one, &changed).status, 422, "stale");
        assert_eq!(rows(studio, "listing WHERE credits_hundredths = 300"), 2);
        assert_eq!(instructor.post(&format!("{one}/remove"), &[]).status, 303);
        let in_use = instructor.post(&format!("{path}/{}/remove", studio.world.listing), &[]);
        assert_eq!(in_use.status, 409);
        assert!(in_use.read().contains("is or was enrolled"), "{}", in_use.read());
        assert_eq!(instructor.get(&one).status, 404, "gone");
        // A listing of another class is not there.
        let stranger = studio.signed_in(STRANGER);
        let theirs = format!("/classes/{}/settings/listings/{}", studio.world.other_class, studio.world.listing);
        assert_eq!(stranger.get(&theirs).status, 404);
        assert_eq!(stranger.post(&format!("{theirs}/remove"), &[]).status, 404);
    }

    fn hours_of_meeting_and_presence_are_told(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/settings/meetings", studio.class_path());
        let (assistant, student) = (studio.world.assistant.to_string(), studio.world.student.to_string());
        let presence = [("kind", "presence"), ("person", assistant.as_str()), ("weekday", "4"), ("from", "18:00"), ("to", "21:00")];
        refuses(&instructor, &path, "classes-meeting", &presence, &[
            ("kind", "party", "not one of the choices"),
            ("person", "", "Choose who is there"),
            ("person", &student, "neither teaches nor assists"),
            ("weekday", "8", "outside what is possible"),
            ("from", "6 pm", "is no time of day"),
            ("to", "18:00", "does not come after"),
            ("to", "17:00", "does not come after"),
        ]);
        assert_eq!(instructor.post(&path, &presence).status, 303);
        let meeting = [("kind", "meeting"), ("person", ""), ("weekday", "2"), ("from", "09:00"), ("to", "00:00")];
        assert_eq!(instructor.post(&path, &meeting).status, 303, "until the end of the day");
        let seen = studio.signed_in(STUDENT).get(&format!("{}/studio", studio.class_path())).read();
        assert!(seen.contains("Tuesday 09:00–24:00 the class meets"), "{seen}");
        assert!(seen.contains("Thursday 18:00–21:00 in the studio:"), "{seen}");
        let id: String = meeting::table.filter(meeting::weekday.eq(2)).select(meeting::id)
            .first(&mut studio.connection()).unwrap();
        assert_eq!(instructor.post(&format!("{path}/{id}/remove"), &[]).status, 303);
        assert_eq!(rows(studio, "meeting"), 1);
        let stranger = studio.signed_in(STRANGER);
        let left: String = meeting::table.select(meeting::id).first(&mut studio.connection()).unwrap();
        let theirs = format!("/classes/{}/settings/meetings/{left}/remove", studio.world.other_class);
        assert_eq!(stranger.post(&theirs, &[]).status, 404);
    }

    fn a_project_is_added_changed_and_moved_with_a_reason(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        let instructor = studio.signed_in(INSTRUCTOR);
        let base = format!("{}/settings/projects", studio.class_path());
        let procedure = things.procedure.to_string();
        let project = [("title", "Edition of ten"), ("brief", "Two plates.\r\nOne key."), ("due", "2026-12-11T17:00"), ("edition_asked", "10"), ("procedure", procedure.as_str())];
        refuses(&instructor, &base, "classes-project", &project, &[
            ("title", "", "This is missing"),
            ("brief", &"x".repeat(5001), "at most 5000"),
            ("due", "", "This is missing"),
            ("due", "tomorrow", "is no day and time"),
            ("due", "2026-12-19T09:00", "outside the term"),
            ("due", "2026-08-30T09:00", "outside the term"),
            ("edition_asked", "501", "outside what is possible"),
            ("edition_asked", "2.5", "is no number"),
            ("procedure", "", "This is missing"),
            ("procedure", "11111111-1111-7111-8111-111111111111", "not there any more"),
        ]);
        let once = "fedcba9876543210fedcba9876543210";
        assert_eq!(instructor.post_once(&base, &project, once).status, 303);
        assert_eq!(instructor.post_once(&base, &project, once).status, 303);
        assert_eq!(rows(studio, "project"), 2, "sent twice, stored once");

        let path = format!("{base}/{}", things.project);
        let changed = [("title", "A room at dusk"), ("brief", ""), ("edition_asked", "0"), ("procedure", procedure.as_str()), ("version", "1")];
        assert_eq!(instructor.post(&path, &changed).status, 303);
        assert_eq!(instructor.post(&path, &changed).status, 422, "stale");

        let due = format!("{path}/due");
        let moved = [("due", "2026-11-30T16:30"), ("reason", "The press was down"), ("version", "2")];
        refuses(&instructor, &due, "classes-due", &moved, &[
            ("due", "2026-11-24T16:30", "has already"),
            ("due", "2027-01-01T10:00", "outside the term"),
            ("due", "2026-10-19T10:00", "every print would be late at once"),
            ("reason", "", "This is missing"),
            ("reason", &"x".repeat(301), "at most 300"),
        ]);
        assert_eq!(instructor.post(&due, &but(&moved, "version", "1")).status, 422, "stale");
        assert_eq!(instructor.post(&due, &moved).status, 303);
        let page = instructor.get(&format!("{}/settings", studio.class_path())).read();
        assert!(page.contains("Mon 30 Nov, 16:30"), "{page}");
        assert!(page.contains("moved from Tue 24 Nov, 16:30 by") && page.contains("The press was down"), "{page}");
        assert_eq!(rows(studio, "journal WHERE act = 'project.due_moved'"), 1);
    }

    fn a_due_date_of_ones_own_replaces_the_classs_and_its_reason_stays_private(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        let world = &studio.world;
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/settings/projects/{}/own-due", studio.class_path(), things.project);
        let (student, assistant) = (world.student.to_string(), world.assistant.to_string());
        let own = [("person", student.as_str()), ("due", "2027-01-15T12:00"), ("reason", "broken wrist")];
        refuses(&instructor, &path, "classes-own-due", &own, &[
            ("person", "", "This is missing"),
            ("person", &assistant, "no student of the class"),
            ("due", "2026-08-01T12:00", "before the term begins"),
            ("due", "noon", "is no day and time"),
            ("reason", "", "This is missing"),
        ]);
        assert_eq!(instructor.post(&path, &but(&own, "due", "2026-12-01T12:00")).status, 303);
        assert_eq!(instructor.post(&path, &own).status, 303, "an own date may lie after the term");
        assert_eq!(rows(studio, "own_due WHERE superseded_at IS NULL"), 1);

        let db = &mut studio.connection();
        // 12:00 in New York in January is 17:00 UTC, 16:30 in November 21:30 UTC (zoneinfo).
        let mine = due_of(db, things.project, world.student).unwrap();
        assert!(mine.own && mine.at.rfc3339() == "2027-01-15T17:00:00.000Z", "{mine:?}");
        let other = due_of(db, things.project, world.other_student).unwrap();
        assert!(!other.own && other.at.rfc3339() == "2026-11-24T21:30:00.000Z", "{other:?}");
        let all = dues_of_class(db, world.class, chrono_tz::America::New_York, None).unwrap();
        assert_eq!(all.of(things.project, world.student), Some(mine));
        assert_eq!(all.of(things.project, world.other_student), Some(other));
        let hers = dues_of_class(db, world.class, chrono_tz::America::New_York, Some(world.other_student)).unwrap();
        assert_eq!(hers.of(things.project, world.student).map(|due| due.own), Some(false), "another's is not read");

        for email in [ASSISTANT, OTHER_STUDENT] {
            assert_eq!(studio.signed_in(email).get(&path).status, 403, "{email}");
        }
        let back = format!("{path}/{student}/take-back");
        assert_eq!(instructor.post(&back, &[]).status, 303);
        assert_eq!(instructor.post(&back, &[]).status, 404, "there is none any more");
        assert!(!due_of(db, things.project, world.student).unwrap().own);
    }
}
