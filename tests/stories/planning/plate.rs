//! The plan of a plate: the page says what `reckon plan` says, over both changes of the clock too, and only to those
//! whose plate it is.

use std::io::Write;
use std::process::{Command, Stdio};

use chrono::DateTime;
use diesel::prelude::*;
use serde_json::{Value, json};
use tympan::clock::Instant;
use tympan::speech::dates;
use tympan::store::plates::folder::{Folder, Which, folders};
use tympan::store::schema::*;
use tympan::trade::procedure::Place;

use super::{done, open, plan_path, set, train};
use crate::on_both;
use crate::studio::Studio;
use crate::studio::things::Things;
use crate::studio::world::*;

const DAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

fn the_folder(studio: &Studio) -> Folder {
    let world = &studio.world;
    let zone: String = term::table.select(term::zone).first(&mut studio.connection()).unwrap();
    folders(
        &mut studio.connection(),
        &studio.house.procedures,
        Which::Class(world.class),
        None,
        world.studio,
        zone.parse().unwrap(),
    )
    .unwrap()
    .remove(0)
}

/// What the command gives for the facts as the database holds them, asked for by its own names.
fn reckoned(studio: &Studio) -> (Value, chrono_tz::Tz) {
    let folder = the_folder(studio);
    let db = &mut studio.connection();
    let zone = folder.zone;
    let at = |at: DateTime<chrono::Utc>| at.with_timezone(&zone).to_rfc3339();
    let hours: Vec<(i32, i32, i32)> =
        opening::table.select((opening::weekday, opening::from_minute, opening::to_minute)).load(db).unwrap();
    let clock = |minute: i32| format!("{:02}:{:02}", minute / 60, minute % 60);
    let day = |day: i32| DAYS[usize::try_from(day - 1).unwrap()];
    let there: Vec<(i32, i32, i32)> = meeting::table
        .filter(meeting::kind.eq("meeting"))
        .select((meeting::weekday, meeting::from_minute, meeting::to_minute))
        .load(db)
        .unwrap();
    let closed: Vec<chrono::NaiveDate> = closure::table.select(closure::day).load(db).unwrap();
    let steps: Vec<Value> = folder
        .case()
        .remaining(studio.now().utc(), folder.sheets())
        .into_iter()
        .map(|step| {
            assert!(
                step.not_before.is_none() && step.under_way_since.is_none(),
                "a fresh start: {}",
                step.key
            );
            json!({
                "key": *step.title, "minutes": step.minutes, "min_wait_minutes": step.wait_minutes,
                "max_wait_minutes": step.maximum_wait_minutes.map(|most| most.max(step.wait_minutes)),
                "may_split": step.may_split, "anywhere": *step.place == Place::Anywhere,
                "with_instructor": *step.place == Place::Instructor,
                "after": step.after.iter().map(|key| folder.procedure.find(key).unwrap().title.clone())
                    .collect::<Vec<_>>(),
            })
        })
        .collect();
    let input = json!({
        "start": at(studio.now().utc()), "due": at(folder.due().unwrap()), "zone": zone.name(),
        "open": hours.iter().map(|(weekday, from, to)| {
            json!({ "day": day(*weekday), "from": clock(*from), "to": clock(*to) })
        }).collect::<Vec<_>>(),
        "closed": closed.iter().map(ToString::to_string).collect::<Vec<_>>(),
        "instructor": there.iter().map(|(weekday, from, to)| {
            json!({ "day": day(*weekday), "from": clock(*from), "to": clock(*to) })
        }).collect::<Vec<_>>(),
        "steps": steps,
    });
    (command(&input), zone)
}

fn command(input: &Value) -> Value {
    let mut child = Command::new(env!("CARGO_BIN_EXE_tympan"))
        .args(["reckon", "plan"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(input.to_string().as_bytes()).unwrap();
    let out = child.wait_with_output().unwrap();
    assert!(out.status.success(), "{input}");
    serde_json::from_slice(&out.stdout).unwrap()
}

/// The page's row of each step, as it is read.
fn rows(html: &str) -> Vec<String> {
    let body = html.split("<tbody>").nth(1).unwrap().split("</tbody>").next().unwrap();
    body.split("<tr>").skip(1).map(crate::studio::browserlike::plain).collect()
}

fn said(value: &Value, zone: chrono_tz::Tz) -> String {
    let at = DateTime::parse_from_rfc3339(value.as_str().unwrap()).unwrap();
    dates::moment(Instant::from_utc(at.to_utc()), zone).replace('\u{a0}', " ")
}

/// Every number of the command stands in the page's row of the same step.
fn agrees(studio: &Studio, things: &Things) -> Value {
    let (found, zone) = reckoned(studio);
    let page = studio.signed_in(STUDENT).get(&plan_path(studio, things));
    assert_eq!(page.status, 200, "{}", page.read());
    let rows = rows(&page.text());
    let steps = found["steps"].as_array().unwrap();
    assert_eq!(rows.len(), steps.len(), "{rows:?}");
    for (row, step) in rows.iter().zip(steps) {
        assert!(row.starts_with(step["key"].as_str().unwrap()), "{row}");
        let places: Vec<String> = ["earliest_start", "earliest_finish", "latest_start"]
            .iter()
            .map(|name| said(&step[*name], zone))
            .collect();
        let told = places.join(" ");
        assert!(row.contains(&told), "{row} does not say {told}");
        let slack = step["slack_minutes"].as_i64().unwrap();
        let slack = match (slack / 60, slack % 60) {
            (0, minutes) => format!("{minutes} min"),
            (hours, 0) => format!("{hours} h"),
            (hours, minutes) => format!("{hours} h {minutes} min"),
        };
        assert!(row.contains(&slack), "{row} does not say {slack}");
        assert_eq!(row.contains("no room before the finish"), step["critical"] == true, "{row}");
    }
    let finish = said(&found["finish"], zone);
    assert!(page.read().contains(&format!("everything is done by {finish}")), "{finish}: {}", page.read());
    found
}

on_both! {
    fn the_page_and_the_command_give_the_same_numbers(studio) {
        let things = set(studio);
        let found = agrees(studio, &things);
        assert_eq!(found["feasible"], true);
        let page = studio.signed_in(STUDENT).get(&plan_path(studio, &things));
        let first = said(&found["steps"][0]["latest_start"], "America/New_York".parse().unwrap());
        assert!(page.read().contains(&format!("breaks first: begin it by {first}")), "{}", page.read());
        assert!(page.has("<svg class=\"chart\"") && page.has("<title id=\"picture-title\">"));
        assert!(!page.has("style="), "nothing the content policy would drop");
    }

    fn what_needs_the_instructor_is_planned_when_they_are_there(studio) {
        let things = set(studio);
        let db = &mut studio.connection();
        let world = &studio.world;
        diesel::update(class::table.find(world.class)).set(class::go_ahead.eq(true)).execute(db).unwrap();
        let with = |found: &Value, place: usize| found["steps"][place].clone();
        let place = the_folder(studio).case().remaining(studio.now().utc(), 8).iter()
            .position(|step| *step.place == Place::Instructor).expect("a go-ahead");
        let before = with(&agrees(studio, &things), place);
        // Class on Fridays from 14:00 to 15:00; an assistant who is there on other days gives no go-ahead.
        for (kind, person, weekday, from, to) in [
            ("meeting", None, 5, 840, 900), ("presence", Some(world.assistant), 3, 600, 1260),
        ] {
            diesel::insert_into(meeting::table)
                .values((
                    (meeting::id.eq(tympan::ids::MeetingId::new(NOW)), meeting::class_id.eq(world.class), meeting::kind.eq(kind)),
                    (meeting::person_id.eq(person), meeting::weekday.eq(weekday)),
                    (meeting::from_minute.eq(from), meeting::to_minute.eq(to)),
                ))
                .execute(db).unwrap();
        }
        let after = with(&agrees(studio, &things), place);
        assert_ne!(before, after);
        for name in ["earliest_start", "latest_start"] {
            let at = DateTime::parse_from_rfc3339(after[name].as_str().unwrap()).unwrap();
            assert_eq!((at.format("%a").to_string().as_str(), at.format("%H").to_string().as_str()), ("Fri", "14"), "{at}");
        }
        // An instructor's own presence counts as a meeting does.
        diesel::update(meeting::table.filter(meeting::kind.eq("presence")))
            .set(meeting::person_id.eq(Some(world.instructor))).execute(db).unwrap();
        let page = studio.signed_in(STUDENT).get(&plan_path(studio, &things));
        let row = rows(&page.text()).remove(place);
        assert!(row.contains("Wed") && row.contains("with the instructor"), "{row}");
    }

    fn a_plan_over_both_changes_of_the_clock_keeps_local_hours_and_true_rests(studio) {
        // New York 2026: 8 March 02:00 and 1 November 02:00 (15 U.S.C. 260a).
        let things = set(studio);
        let db = &mut studio.connection();
        open(db, studio.world.studio, &[(6, 600, 780), (7, 60, 300)]);
        diesel::update(project::table).set(project::due_local.eq("2026-12-12T12:00")).execute(db).unwrap();
        studio.at("2026-03-01T10:00:00-05:00");
        diesel::update(plate::table).set(plate::created_at.eq(studio.now())).execute(db).unwrap();
        let found = agrees(studio, &things);
        let starts: Vec<&str> = found["steps"].as_array().unwrap().iter()
            .flat_map(|step| [&step["earliest_start"], &step["latest_start"]])
            .map(|at| at.as_str().unwrap()).collect();
        assert!(starts.iter().any(|at| at.ends_with("-05:00")) && starts.iter().any(|at| at.ends_with("-04:00")));
    }

    fn rests_that_contradict_the_class_are_named_instead_of_a_plan(studio) {
        let things = set(studio);
        let db = &mut studio.connection();
        let body: String = procedure_version::table.select(procedure_version::body)
            .filter(procedure_version::id.eq_any(plate::table.select(plate::procedure_version_id)))
            .first(db).unwrap();
        let mut body: Value = serde_json::from_str(&body).unwrap();
        let steps = body["steps"].as_array_mut().unwrap();
        let roll_up = steps.iter_mut().find(|step| step["key"] == "roll-up").unwrap();
        // Two days at least, and no longer than the class leaves plates under gum: one day.
        roll_up["rest"] = json!({ "minimum": 2 * 1440, "maximum": "under_gum" });
        diesel::update(procedure_version::table).set(procedure_version::body.eq(body.to_string())).execute(db).unwrap();
        let student = studio.signed_in(STUDENT);
        let limited = |days: i32| {
            let class = class::table.find(studio.world.class);
            diesel::update(class).set(class::gum_limit_days.eq(days)).execute(&mut studio.connection()).unwrap();
            student.get(&plan_path(studio, &things))
        };
        let page = limited(1);
        assert_eq!(page.status, 200, "{}", page.read());
        let said = "rests 2880 minutes at least and 1440 at most, which cannot both hold";
        assert!(page.read().contains("No plan can be made for this plate"), "{}", page.read());
        assert!(page.read().contains(said) && !page.read().contains("Nothing is left"), "{}", page.read());
        let plate = student.get(&format!("{}/plates/{}", studio.class_path(), things.plate));
        assert!(plate.has(&plan_path(studio, &things)), "the way there: {}", plate.read());
        let page = limited(3);
        assert!(!page.read().contains("which cannot both hold"), "{}", page.read());
        assert!(page.read().contains("breaks first"), "{}", page.read());
    }

    fn a_date_that_cannot_be_met_says_which_step_breaks(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let due = format!("{}/settings/projects/{}/own-due", studio.class_path(), things.project);
        let fields = [("person", studio.world.student.to_string()), ("due", "2026-10-21T16:00".to_owned()), ("reason", "leaves early".to_owned())];
        let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (*name, value.as_str())).collect();
        assert_eq!(instructor.post(&due, &fields).status, 303);
        let page = studio.signed_in(STUDENT).get(&plan_path(studio, &things));
        assert!(page.read().contains("is the first step that cannot end by Wed 21 Oct, 16:00"), "{}", page.read());
        assert!(page.read().contains("after it is due"), "{}", page.read());
        assert!(page.read().contains("a date of its own"), "a person's own date is the plan's: {}", page.read());
        let moved = [("due", "2026-12-01T16:00"), ("reason", "press repaired"), ("version", "1")];
        let class_due = format!("{}/settings/projects/{}/due", studio.class_path(), things.project);
        assert_eq!(instructor.post(&class_due, &moved).status, 303);
        let page = studio.signed_in(STUDENT).get(&plan_path(studio, &things));
        assert!(page.read().contains("Wed 21 Oct, 16:00"), "their own date stays theirs");
        let back = format!("{due}/{}/take-back", studio.world.student);
        assert_eq!(instructor.post(&back, &[]).status, 303);
        let page = studio.signed_in(STUDENT).get(&plan_path(studio, &things));
        assert!(page.read().contains("it is due Tue 1 Dec, 16:00"), "the moved date of all: {}", page.read());
    }

    fn a_closed_term_leaves_work_anywhere_its_place_and_nothing_else(studio) {
        let things = set(studio);
        let db = &mut studio.connection();
        for offset in 0..460 {
            let day = chrono::NaiveDate::from_ymd_opt(2026, 8, 31).unwrap() + chrono::Days::new(offset);
            diesel::insert_into(closure::table)
                .values((
                    closure::id.eq(tympan::ids::ClosureId::new(NOW)), closure::studio_id.eq(studio.world.studio),
                    closure::day.eq(day), closure::reason.eq("building works"),
                ))
                .execute(db).unwrap();
        }
        let page = studio.signed_in(STUDENT).get(&plan_path(studio, &things));
        assert_eq!(page.status, 200);
        assert!(page.read().contains("has no place: no opening ahead"), "{}", page.read());
    }

    fn a_running_rest_and_a_same_day_limit_are_in_it(studio) {
        let things = set(studio);
        train(studio, &things);
        studio.at("2026-10-21T13:00:00-04:00");
        done(studio, &things, "prepare", "2026-10-20T10:00", "2026-10-20T10:30");
        done(studio, &things, "draw", "2026-10-20T11:00", "2026-10-20T15:00");
        done(studio, &things, "first-etch", "2026-10-20T15:00", "2026-10-20T15:45");
        done(studio, &things, "roll-up", "2026-10-21T11:40", "2026-10-21T12:40");
        let page = studio.signed_in(STUDENT).get(&plan_path(studio, &things));
        assert!(
            page.read().contains("Second etch breaks first: begin it by Wed 21 Oct, 20:15"),
            "the same day, while the studio is open (until 21:00), 45 min: {}", page.read()
        );
        studio.at("2026-10-22T09:00:00-04:00");
        let page = studio.signed_in(STUDENT).get(&plan_path(studio, &things));
        assert!(rows(&page.text())[0].contains("late"), "{}", page.read());
    }

    fn it_is_shown_to_its_student_and_the_staff(studio) {
        let things = set(studio);
        let path = plan_path(studio, &things);
        assert_eq!(studio.signed_in(OTHER_STUDENT).get(&path).status, 404);
        assert_eq!(studio.signed_in(STRANGER).get(&path).status, 404);
        assert_eq!(studio.signed_in(RECORDS).get(&path).status, 403);
        let page = studio.signed_in(ASSISTANT).get(&path);
        assert!(page.status == 200 && page.read().contains("Sami Vale"));
        let unknown = format!("{}/plates/{}/plan", studio.class_path(), studio.world.class);
        assert_eq!(studio.signed_in(STUDENT).get(&unknown).status, 404);
    }
}
