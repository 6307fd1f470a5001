//! The calendar feed: a private address, strict RFC 5545, the same dates as the plans, nothing once it is withdrawn.

use chrono::NaiveDate;
use diesel::prelude::*;
use tympan::ids::{ClosureId, MeetingId, PlateId};
use tympan::store::schema::*;

use super::{done, plan_path, set, train};
use crate::on_both;
use crate::stories::rows;
use crate::studio::world::*;
use crate::studio::{Page, Studio, Visitor};

/// Makes an address and gives its path.
fn subscribe(visitor: &Visitor) -> String {
    assert_eq!(visitor.post("/account/calendar", &[]).status, 303);
    let page = visitor.get("/account").text();
    let at = page.find("/calendar/").expect("the address stands on the account page");
    page[at..].split(['<', '"']).next().unwrap().to_owned()
}

/// Our own strict reading: line ends, line lengths, what must be there, unfolded lines.
fn strict(page: &Page) -> Vec<String> {
    assert_eq!(page.status, 200, "{}", page.read());
    assert_eq!(page.headers["content-type"], "text/calendar; charset=utf-8");
    assert_eq!(page.headers["cache-control"], "private, no-cache");
    let text = page.text();
    assert!(text.ends_with("\r\n") && text.matches('\n').count() == text.matches("\r\n").count());
    assert!(text.split("\r\n").all(|line| line.len() <= 75), "75 octets");
    let lines: Vec<String> = text.replace("\r\n ", "").split("\r\n").map(str::to_owned).collect();
    let count = |wanted: &str| lines.iter().filter(|line| *line == wanted).count();
    for kind in ["VCALENDAR", "VEVENT", "VTIMEZONE", "STANDARD", "DAYLIGHT"] {
        assert_eq!(count(&format!("BEGIN:{kind}")), count(&format!("END:{kind}")), "{kind}");
    }
    assert_eq!(
        (count("VERSION:2.0"), lines.iter().filter(|line| line.starts_with("PRODID:")).count()),
        (1, 1)
    );
    for name in ["UID:", "DTSTAMP:", "DTSTART", "SEQUENCE:", "STATUS:"] {
        let found =
            events(&lines).iter().filter(|event| event.iter().any(|line| line.starts_with(name))).count();
        assert_eq!(found, count("BEGIN:VEVENT"), "{name} in every event");
    }
    let known: Vec<&str> = lines.iter().filter_map(|line| line.strip_prefix("TZID:")).collect();
    for line in lines.iter().filter_map(|line| line.split_once(";TZID=")) {
        assert!(known.contains(&line.1.split(':').next().unwrap()), "{line:?} is described");
    }
    lines
}

fn events(lines: &[String]) -> Vec<Vec<String>> {
    lines.split(|line| line == "BEGIN:VEVENT").skip(1).map(<[String]>::to_vec).collect()
}

/// The one event whose summary holds these words.
fn event(lines: &[String], words: &str) -> Vec<String> {
    let found =
        |event: &Vec<String>| event.iter().any(|line| line.starts_with("SUMMARY:") && line.contains(words));
    events(lines).into_iter().find(found).unwrap_or_else(|| panic!("{words} in {lines:#?}"))
}

fn value(event: &[String], name: &str) -> String {
    event
        .iter()
        .find_map(|line| line.strip_prefix(name))
        .unwrap_or_else(|| panic!("{name} in {event:?}"))
        .to_owned()
}

fn meeting(studio: &Studio) {
    diesel::insert_into(meeting::table)
        .values((
            (
                meeting::id.eq(MeetingId::new(NOW)),
                meeting::class_id.eq(studio.world.class),
                meeting::kind.eq("meeting"),
            ),
            (meeting::weekday.eq(2), meeting::from_minute.eq(540), meeting::to_minute.eq(720)),
        ))
        .execute(&mut studio.connection())
        .unwrap();
}

on_both! {
    fn a_student_subscribes_to_meetings_hours_and_latest_starts(studio) {
        let things = set(studio);
        meeting(studio);
        diesel::insert_into(closure::table)
            .values((
                closure::id.eq(ClosureId::new(NOW)), closure::studio_id.eq(studio.world.studio),
                closure::day.eq(NaiveDate::from_ymd_opt(2026, 11, 26).unwrap()), closure::reason.eq("holiday; no lights, no water"),
            ))
            .execute(&mut studio.connection()).unwrap();
        let student = studio.signed_in(STUDENT);
        let path = subscribe(&student);
        let lines = strict(&studio.visitor().get(&path));
        let met = event(&lines, "Plate lithography B");
        assert_eq!(value(&met, "DTSTART;TZID=America/New_York:"), "20260901T090000", "the first Tuesday of the term");
        assert_eq!(value(&met, "RRULE:"), "FREQ=WEEKLY;UNTIL=20261215T140000Z;BYDAY=TU");
        let off = event(&lines, "Closed: Lower print studio");
        assert_eq!(value(&off, "RECURRENCE-ID;TZID=America/New_York:"), "20261126T090000");
        assert_eq!((value(&off, "STATUS:").as_str(), value(&off, "DESCRIPTION:").as_str()), ("CANCELLED", "holiday\\; no lights\\, no water"));
        // The change of 1 November 2026, 02:00 to 01:00 (15 U.S.C. 260a).
        assert!(lines.contains(&"DTSTART:20261101T020000".to_owned()) && lines.contains(&"TZOFFSETTO:-0500".to_owned()));
        // The latest start is the plan's own.
        let start = value(&event(&lines, "Start by now at the latest: Prepare"), "DTSTART:");
        let at = chrono::NaiveDateTime::parse_from_str(&start, "%Y%m%dT%H%M%SZ").unwrap().and_utc();
        let said = tympan::speech::dates::moment(tympan::clock::Instant::from_utc(at), chrono_tz::America::New_York);
        let plan = student.get(&plan_path(studio, &things)).read();
        assert!(plan.contains(&format!("begin it by {}", said.replace('\u{a0}', " "))), "{said}: {plan}");
        assert_eq!(value(&event(&lines, "Due: A room at night"), "DTSTART:"), "20261124T213000Z");
    }

    fn what_is_done_is_cancelled_under_the_same_uid_with_a_higher_sequence(studio) {
        let things = set(studio);
        train(studio, &things);
        let path = subscribe(&studio.signed_in(STUDENT));
        let before = event(&strict(&studio.visitor().get(&path)), "at the latest: Prepare");
        assert_eq!(value(&before, "STATUS:"), "CONFIRMED");
        studio.at("2026-10-20T10:40:00-04:00");
        done(studio, &things, "prepare", "2026-10-20T10:00", "2026-10-20T10:30");
        let after = event(&strict(&studio.visitor().get(&path)), "at the latest: Prepare");
        assert_eq!(value(&after, "UID:"), value(&before, "UID:"));
        assert_eq!(value(&after, "STATUS:"), "CANCELLED");
        let sequence = |event: &[String]| value(event, "SEQUENCE:").parse::<i64>().unwrap();
        assert!(sequence(&after) > sequence(&before));
    }

    fn what_is_taken_away_or_handed_in_is_cancelled_and_does_not_vanish(studio) {
        let things = set(studio);
        meeting(studio);
        let student = studio.signed_in(STUDENT);
        let path = subscribe(&student);
        let instructor = studio.signed_in(INSTRUCTOR);
        let base = studio.class_path();
        let extra = [("day", "2026-11-14"), ("from", "18:00"), ("to", "21:00"), ("reason", "open house")];
        assert_eq!(instructor.post(&format!("{base}/studio/extra-openings"), &extra).status, 303);
        let feed = || strict(&studio.visitor().get(&path));
        let before = feed();
        let uids = |lines: &[String], state: &str| -> Vec<String> {
            let of = |event: &Vec<String>| value(event, "STATUS:") == state;
            events(lines).iter().filter(|event| of(event)).map(|event| value(event, "UID:")).collect()
        };
        let kinds = ["meeting-", "open-", "extra-", "start-"];
        for kind in kinds {
            assert!(uids(&before, "CONFIRMED").iter().any(|uid| uid.starts_with(kind)), "{kind}: {before:#?}");
        }
        let db = &mut studio.connection();
        let met: String = meeting::table.select(meeting::id).first(db).unwrap();
        let open: Vec<String> = opening::table.select(opening::id).load(db).unwrap();
        let extra: String = extra_opening::table.select(extra_opening::id).first(db).unwrap();
        assert_eq!(instructor.post(&format!("{base}/settings/meetings/{met}/remove"), &[]).status, 303);
        assert_eq!(instructor.post(&format!("{base}/studio/extra-openings/{extra}/remove"), &[]).status, 303);
        for id in &open {
            assert_eq!(instructor.post(&format!("{base}/studio/openings/{id}/remove"), &[]).status, 303);
        }
        assert_eq!(student.post(&format!("{base}/prints/{}/hand-in", things.print), &[]).status, 303);
        let after = feed();
        for kind in kinds {
            let was: Vec<String> = uids(&before, "CONFIRMED").into_iter().filter(|uid| uid.starts_with(kind)).collect();
            let off = uids(&after, "CANCELLED");
            assert!(was.iter().all(|uid| off.contains(uid)), "{kind}: {was:?} in {off:?}");
            assert!(!uids(&after, "CONFIRMED").iter().any(|uid| uid.starts_with(kind)), "{kind}");
        }
        let sequence = |lines: &[String]| value(&event(lines, "Plate lithography B"), "SEQUENCE:").parse::<i64>().unwrap();
        assert!(sequence(&after) > sequence(&before));
        studio.later_ms(61 * 86_400_000);
        if studio.visitor().get(&path).status == 200 {
            assert!(!uids(&feed(), "CANCELLED").iter().any(|uid| uid.starts_with("meeting-")), "two months are enough");
        }
    }

    fn a_plate_that_was_scrapped_cancels_its_starts_for_a_while(studio) {
        let things = set(studio);
        train(studio, &things);
        let student = studio.signed_in(STUDENT);
        let path = subscribe(&student);
        let of_plate = |state: &str| -> Vec<(String, i64)> {
            let lines = strict(&studio.visitor().get(&path));
            let events = events(&lines).into_iter().filter(|event| value(event, "STATUS:") == state);
            let told = events.map(|event| (value(&event, "UID:"), value(&event, "SEQUENCE:").parse().unwrap()));
            told.filter(|(uid, _)| uid.starts_with(&format!("start-{}", things.plate))).collect()
        };
        let before = of_plate("CONFIRMED");
        assert!(before.len() > 5, "{before:?}");
        studio.at("2026-10-20T10:40:00-04:00");
        done(studio, &things, "scrap", "2026-10-20T10:20", "2026-10-20T10:30");
        assert_eq!(of_plate("CONFIRMED"), []);
        let off = of_plate("CANCELLED");
        for (uid, sequence) in &before {
            let after = off.iter().find(|(known, _)| known == uid).unwrap_or_else(|| panic!("{uid} in {off:?}"));
            assert!(after.1 > *sequence, "{uid}");
        }
        studio.later_ms(15 * 86_400_000);
        assert_eq!(of_plate("CANCELLED"), [], "two weeks are enough");
    }

    fn a_plate_that_was_begun_anew_cancels_its_starts_and_the_new_one_has_its_own(studio) {
        let things = set(studio);
        train(studio, &things);
        let student = studio.signed_in(STUDENT);
        let path = subscribe(&student);
        let of_plate = |plate: PlateId, state: &str| -> Vec<(String, i64)> {
            let lines = strict(&studio.visitor().get(&path));
            let events = events(&lines).into_iter().filter(|event| value(event, "STATUS:") == state);
            let told = events.map(|event| (value(&event, "UID:"), value(&event, "SEQUENCE:").parse().unwrap()));
            told.filter(|(uid, _)| uid.starts_with(&format!("start-{plate}"))).collect()
        };
        let before = of_plate(things.plate, "CONFIRMED");
        assert!(before.len() > 5, "{before:?}");
        let (procedure, old) = (things.procedure.to_string(), things.plate.to_string());
        let anew = [
            ("procedure", procedure.as_str()), ("width", "25"), ("height", "35"), ("size_unit", "cm"),
            ("materials", "crayon 3"), ("weight", "heavy"), ("replaces", &old),
        ];
        let page = student.post(&format!("{}/prints/{}/plates/new", studio.class_path(), things.print), &anew);
        assert_eq!(page.status, 303, "{}", page.read());
        assert_eq!(of_plate(things.plate, "CONFIRMED"), []);
        let off = of_plate(things.plate, "CANCELLED");
        for (uid, sequence) in &before {
            let after = off.iter().find(|(known, _)| known == uid).unwrap_or_else(|| panic!("{uid} in {off:?}"));
            assert!(after.1 > *sequence, "{uid}");
        }
        let new: PlateId = plate::table
            .filter(plate::replaces_id.eq(things.plate)).select(plate::id).first(&mut studio.connection()).unwrap();
        assert_eq!(of_plate(new, "CONFIRMED").len(), before.len(), "the new plate has every step before it");
    }

    fn a_press_out_of_order_moves_the_latest_start_under_its_own_uid(studio) {
        let things = set(studio);
        let press = crate::stories::planning::station(studio, "press", 1).to_string();
        let path = subscribe(&studio.signed_in(STUDENT));
        let proof = || event(&strict(&studio.visitor().get(&path)), "at the latest: Proof");
        let before = proof();
        let down = [
            ("station", press.as_str()), ("unit", "1"), ("from", "2026-11-02T10:00"), ("to", "2026-11-24T09:00"), ("reason", "bed cracked"),
        ];
        assert_eq!(studio.signed_in(ASSISTANT).post(&format!("{}/studio/downs", studio.class_path()), &down).status, 303);
        let after = proof();
        assert_eq!(value(&after, "UID:"), value(&before, "UID:"));
        // Times of RFC 5545 in UTC order as they are written.
        assert!(value(&after, "DTSTART:").as_str() < "20261102T150000Z", "{after:?}");
        assert!(value(&before, "DTSTART:").as_str() > "20261110T000000Z", "{before:?}");
        let sequence = |event: &[String]| value(event, "SEQUENCE:").parse::<i64>().unwrap();
        assert!(sequence(&after) > sequence(&before));
        assert_eq!((value(&before, "STATUS:").as_str(), value(&after, "STATUS:").as_str()), ("CONFIRMED", "CONFIRMED"));
        let _ = things;
    }

    fn a_feed_over_the_change_in_spring_keeps_local_hours(studio) {
        // New York 2027: 14 March 02:00 (15 U.S.C. 260a).
        let things = set(studio);
        meeting(studio);
        let db = &mut studio.connection();
        let day = |text: &str| text.parse::<NaiveDate>().unwrap();
        diesel::update(term::table).set((term::starts.eq(day("2027-01-18")), term::ends.eq(day("2027-05-15")))).execute(db).unwrap();
        diesel::update(project::table.find(things.project)).set(project::due_local.eq("2027-03-19T16:30")).execute(db).unwrap();
        studio.at("2027-03-01T10:00:00-05:00");
        let student = studio.signed_in(STUDENT);
        let lines = strict(&studio.visitor().get(&subscribe(&student)));
        let met = event(&lines, "Plate lithography B");
        assert_eq!(value(&met, "DTSTART;TZID=America/New_York:"), "20270119T090000");
        // The last Tuesday, 9:00 EDT.
        assert_eq!(value(&met, "RRULE:"), "FREQ=WEEKLY;UNTIL=20270511T130000Z;BYDAY=TU");
        assert!(lines.contains(&"DTSTART:20270314T020000".to_owned()) && lines.contains(&"TZOFFSETTO:-0400".to_owned()), "{lines:#?}");
        // Latest starts on both sides of the change stand in UTC as the plan has them in local time.
        let plan = student.get(&plan_path(studio, &things)).read();
        let mut offsets = std::collections::BTreeSet::new();
        for step in ["Prepare", "Proof", "First etch"] {
            let start = value(&event(&lines, &format!("at the latest: {step}")), "DTSTART:");
            let at = chrono::NaiveDateTime::parse_from_str(&start, "%Y%m%dT%H%M%SZ").unwrap().and_utc();
            let said = tympan::speech::dates::moment(tympan::clock::Instant::from_utc(at), chrono_tz::America::New_York);
            assert!(plan.contains(&said.replace('\u{a0}', " ")), "{step} {said}: {plan}");
            offsets.insert(at.with_timezone(&chrono_tz::America::New_York).format("%z").to_string());
        }
        assert!(!offsets.is_empty(), "{offsets:?}");
    }

    fn an_instructor_sees_due_dates_and_meetings_and_nobodys_plates(studio) {
        set(studio);
        meeting(studio);
        let path = subscribe(&studio.signed_in(INSTRUCTOR));
        let lines = strict(&studio.visitor().get(&path));
        event(&lines, "Due: A room at night");
        event(&lines, "Plate lithography B");
        assert!(!lines.iter().any(|line| line.contains("Stair lamp") || line.contains("Sami")), "{lines:#?}");
    }

    fn an_address_is_private_and_ends_when_it_is_withdrawn(studio) {
        set(studio);
        let student = studio.signed_in(STUDENT);
        let first = subscribe(&student);
        assert!(first.ends_with(".ics") && first.len() > "/calendar/.ics".len() + 22, "128 bits and more: {first}");
        let secret = first.trim_start_matches("/calendar/").trim_end_matches(".ics");
        let stored: Vec<String> = calendar_feed::table.select(calendar_feed::secret_hash).load(&mut studio.connection()).unwrap();
        assert!(stored.iter().all(|hash| hash.len() == 64 && !hash.contains(secret)));
        let acts = rows(studio, "journal");
        assert_eq!(studio.visitor().get(&first).status, 200);
        assert_eq!(rows(studio, "journal"), acts, "looking changes nothing");
        let second = subscribe(&student);
        assert_eq!(studio.visitor().get(&first).status, 404, "the one before ends");
        assert_eq!(studio.visitor().get(&second).status, 200);
        assert_eq!(student.post("/account/calendar/withdraw", &[]).status, 303);
        assert_eq!(studio.visitor().get(&second).status, 404);
        assert!(!student.get("/account").has("/calendar/0") && student.get("/account").has("Make an address"));
        assert_eq!(studio.visitor().get("/calendar/guess.ics").status, 404);
        assert!(studio.visitor().post("/account/calendar", &[]).location().starts_with("/sign-in") || studio.visitor().post("/account/calendar", &[]).status == 401);
    }

    fn who_leaves_a_class_reads_it_no_more(studio) {
        set(studio);
        let path = subscribe(&studio.signed_in(STUDENT));
        diesel::update(enrolment::table.filter(enrolment::person_id.eq(studio.world.student)))
            .set(enrolment::state.eq("withdrawn")).execute(&mut studio.connection()).unwrap();
        let lines = strict(&studio.visitor().get(&path));
        assert!(events(&lines).is_empty(), "{lines:#?}");
    }
}
