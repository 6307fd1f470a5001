//! Letters that come from plans: latest starts and limits in the daily letter, a warning that cannot wait, the
//! instructor's week; and each person's own choice of which and when.

use std::sync::Arc;

use diesel::prelude::*;
use tympan::post::transport::Memory;
use tympan::store::schema::*;

use super::{done, set, train};
use crate::on_both;
use crate::stories::rows;
use crate::studio::Studio;
use crate::studio::letterbox::{Mail, block};
use crate::studio::world::*;

fn mails(studio: &Studio) -> Vec<Mail> {
    block(studio.post(Arc::new(Memory::default())).remind()).unwrap();
    studio.letters()
}

fn text(mail: &Mail) -> String {
    mail.text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Nobody but the student wants letters of the day.
fn only_the_student(studio: &Studio) {
    let db = &mut studio.connection();
    diesel::update(person::table.filter(person::id.ne(studio.world.student)))
        .set((person::daily_letter.eq(false), person::week_letter.eq(false)))
        .execute(db)
        .unwrap();
}

/// Rolled up on Wednesday 21 October at 12:40; now is shortly after.
fn rolled_up(studio: &Studio) -> crate::studio::things::Things {
    let things = set(studio);
    train(studio, &things);
    only_the_student(studio);
    studio.at("2026-10-21T12:50:00-04:00");
    done(studio, &things, "prepare", "2026-10-20T10:00", "2026-10-20T10:30");
    done(studio, &things, "draw", "2026-10-20T11:00", "2026-10-20T15:00");
    done(studio, &things, "first-etch", "2026-10-20T15:00", "2026-10-20T15:45");
    done(studio, &things, "roll-up", "2026-10-21T11:40", "2026-10-21T12:40");
    mails(studio);
    things
}

on_both! {
    fn a_second_etch_that_belongs_to_today_is_warned_of_once(studio) {
        let things = rolled_up(studio);
        let plate = format!("{}/plates/{}", studio.class_path(), things.plate);
        let page = studio.signed_in(STUDENT).get(&plate);
        assert!(page.read().contains("Before you leave: Second etch belongs to the day"), "{}", page.read());
        assert!(page.read().contains("Begin it by Wed 21 Oct, 20:15"), "{}", page.read());
        assert!(page.has(&format!("href=\"{plate}/plan\"")));
        assert!(mails(studio).is_empty(), "they still stand at the table");
        studio.at("2026-10-21T14:00:00-04:00");
        let sent = mails(studio);
        assert_eq!(sent.len(), 1, "{sent:?}");
        assert_eq!(sent[0].to, STUDENT);
        assert!(text(&sent[0]).contains("Begin it by Wed 21 Oct, 20:15"), "{}", sent[0].text);
        assert_eq!(sent[0].address("/classes/"), plate);
        studio.at("2026-10-21T15:00:00-04:00");
        assert!(mails(studio).is_empty(), "once for each cause");
        assert_eq!(rows(studio, "letter WHERE kind = 'urgent'"), 1);
    }

    fn a_warning_is_kept_off_quiet_hours_and_closed_days_and_the_page_says_so(studio) {
        let things = set(studio);
        train(studio, &things);
        only_the_student(studio);
        studio.at("2026-10-21T20:10:00-04:00");
        done(studio, &things, "prepare", "2026-10-20T10:00", "2026-10-20T10:30");
        done(studio, &things, "draw", "2026-10-20T11:00", "2026-10-20T15:00");
        done(studio, &things, "first-etch", "2026-10-20T15:00", "2026-10-20T15:45");
        mails(studio);
        done(studio, &things, "roll-up", "2026-10-21T16:00", "2026-10-21T17:00");
        let plate = format!("{}/plates/{}", studio.class_path(), things.plate);
        let page = studio.signed_in(STUDENT).get(&plate);
        assert!(page.read().contains("No letter warns of it between 21:00 and 7:00, nor on a day on which the studio is closed."), "{}", page.read());
        studio.at("2026-10-21T21:00:00-04:00");
        assert!(mails(studio).is_empty(), "quiet from 21:00 on");
        assert_eq!(rows(studio, "letter WHERE kind = 'urgent'"), 0);
        // Somebody at the table shortly before is not left for later: later would be quiet.
        studio.at("2026-10-21T20:30:00-04:00");
        let run = step_run::table.filter(step_run::step_key.eq("roll-up"));
        let ended = studio.now().plus_ms(-10 * 60_000);
        diesel::update(run).set(step_run::ended_at.eq(ended)).execute(&mut studio.connection()).unwrap();
        block(studio.post(Arc::new(Memory::default())).remind()).unwrap();
        assert_eq!(rows(studio, "letter WHERE kind = 'urgent'"), 1);
        // Written in time and held up by the mail server: not sent in the night, and then it is too late.
        studio.at("2026-10-21T21:30:00-04:00");
        assert!(studio.letters().is_empty());
        assert_eq!(rows(studio, "letter WHERE kind = 'urgent' AND last_error = 'too-late'"), 1);
    }

    fn a_warning_that_waited_over_a_closed_day_is_sent_on_the_next_open_one(studio) {
        rolled_up(studio);
        studio.at("2026-10-21T14:00:00-04:00");
        block(studio.post(Arc::new(Memory::default())).remind()).unwrap();
        let db = &mut studio.connection();
        let (id, detail): (tympan::ids::LetterId, String) =
            letter::table.filter(letter::kind.eq("urgent")).select((letter::id, letter::detail)).first(db).unwrap();
        // A limit some days on, and the day of sending closed.
        let mut told: serde_json::Value = serde_json::from_str(&detail).unwrap();
        told["limit"] = serde_json::json!(told["limit"].as_i64().unwrap() + 3 * 86_400_000);
        diesel::update(letter::table.find(id)).set(letter::detail.eq(told.to_string())).execute(db).unwrap();
        diesel::insert_into(closure::table)
            .values((
                closure::id.eq(tympan::ids::ClosureId::new(NOW)), closure::studio_id.eq(studio.world.studio),
                closure::day.eq(chrono::NaiveDate::from_ymd_opt(2026, 10, 21).unwrap()), closure::reason.eq("water off"),
            ))
            .execute(db).unwrap();
        assert!(studio.letters().is_empty(), "closed today");
        let list = studio.signed_in(INSTRUCTOR).get(&format!("{}/letters", studio.class_path()));
        assert!(list.read().contains("kept off quiet hours and closed days"), "{}", list.read());
        studio.at("2026-10-22T07:00:00-04:00");
        assert_eq!(studio.letters().len(), 1);
    }

    fn a_warning_that_was_turned_off_or_came_too_late_is_not_sent(studio) {
        rolled_up(studio);
        let want = |wants: bool| {
            diesel::update(person::table.find(studio.world.student))
                .set(person::urgent_letter.eq(wants)).execute(&mut studio.connection()).unwrap();
        };
        want(false);
        studio.at("2026-10-21T14:00:00-04:00");
        assert!(mails(studio).is_empty());
        want(true);
        block(studio.post(Arc::new(Memory::default())).remind()).unwrap();
        assert_eq!(rows(studio, "letter WHERE kind = 'urgent'"), 1);
        studio.at("2026-10-22T00:01:00-04:00");
        assert!(studio.letters().is_empty(), "the day is over");
        assert_eq!(rows(studio, "letter WHERE kind = 'urgent' AND last_error = 'too-late'"), 1);
    }

    fn who_has_left_the_class_is_warned_no_more(studio) {
        rolled_up(studio);
        studio.at("2026-10-21T14:00:00-04:00");
        block(studio.post(Arc::new(Memory::default())).remind()).unwrap();
        diesel::update(enrolment::table.filter(enrolment::person_id.eq(studio.world.student)))
            .set(enrolment::state.eq("withdrawn")).execute(&mut studio.connection()).unwrap();
        assert!(studio.letters().is_empty(), "written before, stopped at once");
        assert_eq!(rows(studio, "letter WHERE kind = 'urgent' AND last_error = 'not-enrolled'"), 1);
    }

    fn a_latest_start_within_two_open_days_is_told_with_its_time(studio) {
        let things = set(studio);
        train(studio, &things);
        only_the_student(studio);
        let db = &mut studio.connection();
        diesel::update(project::table.find(things.project)).set(project::due_local.eq("2026-10-27T16:30")).execute(db).unwrap();
        studio.at("2026-10-21T07:01:00-04:00");
        let sent = mails(studio);
        assert_eq!(sent.len(), 1);
        let told = text(&sent[0]);
        assert!(told.contains("is ready for it. Start by Wed 21 Oct") || told.contains("is ready for it. Start by Thu 22 Oct"), "{told}");
        // Moved for all by one act: the letter of the next day knows.
        let moved = [("due", "2026-12-08T16:30"), ("reason", "press repaired"), ("version", "1")];
        let path = format!("{}/settings/projects/{}/due", studio.class_path(), things.project);
        assert_eq!(studio.signed_in(INSTRUCTOR).post(&path, &moved).status, 303);
        studio.at("2026-10-22T07:01:00-04:00");
        let told: Vec<String> = mails(studio).iter().filter(|mail| mail.to == STUDENT).map(text).collect();
        assert!(told.iter().any(|told| told.contains("is ready for it. The print is due Tue 8 Dec, 16:30")), "{told:?}");
    }

    fn a_limit_under_gum_and_a_sign_off_that_ends_are_told(studio) {
        let things = set(studio);
        train(studio, &things);
        only_the_student(studio);
        let db = &mut studio.connection();
        diesel::update(class::table.find(studio.world.class)).set(class::gum_limit_days.eq(7)).execute(db).unwrap();
        studio.at("2026-10-20T16:00:00-04:00");
        done(studio, &things, "prepare", "2026-10-20T10:00", "2026-10-20T10:30");
        done(studio, &things, "draw", "2026-10-20T11:00", "2026-10-20T15:00");
        done(studio, &things, "first-etch", "2026-10-20T15:00", "2026-10-20T15:45");
        diesel::update(sign_off::table.filter(sign_off::person_id.eq(studio.world.student)).filter(
            sign_off::topic_id.eq_any(topic::table.filter(topic::key.eq("press")).select(topic::id)),
        ))
        .set(sign_off::valid_until.eq(chrono::NaiveDate::from_ymd_opt(2026, 11, 2).unwrap())).execute(db).unwrap();
        studio.at("2026-10-26T07:05:00-04:00");
        let sent = mails(studio);
        let told = text(sent.iter().find(|mail| mail.to == STUDENT).unwrap());
        // Gummed with the first etch, 20 October 15:45; seven days are over on the 27th.
        assert!(told.contains("under this gum until Tue 27 Oct, 15:45"), "{told}");
        assert!(told.contains("ends Mon 2 Nov, 23:59"), "{told}");
        assert!(told.find("under this gum").unwrap() < told.find("ends Mon 2 Nov").unwrap(), "the nearer first: {told}");
        assert_eq!(rows(studio, "letter WHERE kind = 'urgent'"), 0, "the daily letter has told it");
    }

    fn a_gum_limit_over_a_closed_day_is_warned_of_and_said_on_the_page(studio) {
        let things = set(studio);
        train(studio, &things);
        only_the_student(studio);
        let db = &mut studio.connection();
        diesel::update(class::table.find(studio.world.class)).set(class::gum_limit_days.eq(1)).execute(db).unwrap();
        diesel::insert_into(closure::table)
            .values((
                closure::id.eq(tympan::ids::ClosureId::new(NOW)), closure::studio_id.eq(studio.world.studio),
                closure::day.eq(chrono::NaiveDate::from_ymd_opt(2026, 10, 21).unwrap()), closure::reason.eq("water off"),
            ))
            .execute(db).unwrap();
        studio.at("2026-10-20T16:00:00-04:00");
        done(studio, &things, "prepare", "2026-10-20T10:00", "2026-10-20T10:30");
        done(studio, &things, "draw", "2026-10-20T11:00", "2026-10-20T15:00");
        done(studio, &things, "first-etch", "2026-10-20T15:00", "2026-10-20T15:45");
        mails(studio);
        // A day under gum is over on Wednesday at 15:45; that day is closed, so the roll-up of an hour begins today.
        let page = studio.signed_in(STUDENT).get(&format!("{}/plates/{}", studio.class_path(), things.plate));
        let said = page.read();
        assert!(said.contains("Before you leave: the longest rest before"), "{said}");
        assert!(said.contains("is over Wed 21 Oct, 15:45. Begin it by Tue 20 Oct, 20:00, or see to the plate before then"), "{said}");
        studio.at("2026-10-20T17:00:00-04:00");
        let sent = mails(studio);
        assert_eq!(sent.len(), 1, "{sent:?}");
        let told = text(&sent[0]);
        assert!(told.contains("is over Wed 21 Oct, 15:45. Begin it by Tue 20 Oct, 20:00"), "{told}");
        studio.at("2026-10-20T18:00:00-04:00");
        assert!(mails(studio).is_empty(), "once");
    }

    fn a_press_out_of_order_moves_what_the_letter_says(studio) {
        let things = set(studio);
        train(studio, &things);
        only_the_student(studio);
        let press = crate::stories::planning::station(studio, "press", 1).to_string();
        let of_today = || -> String {
            let sent = mails(studio);
            sent.iter().filter(|mail| mail.to == STUDENT).map(text).collect()
        };
        studio.at("2026-10-21T07:01:00-04:00");
        let before = of_today();
        assert!(before.contains("The print is due Tue 24 Nov, 16:30") && !before.contains("Start by"), "{before}");
        let down = [
            ("station", press.as_str()), ("unit", "1"), ("from", "2026-10-23T08:00"), ("to", "2026-11-24T09:00"), ("reason", "bed cracked"),
        ];
        assert_eq!(studio.signed_in(ASSISTANT).post(&format!("{}/studio/downs", studio.class_path()), &down).status, 303);
        // Back from the last evening on which the press runs, Thursday the 22nd, everything begins long before.
        studio.at("2026-10-22T07:01:00-04:00");
        let after = of_today();
        assert!(after.contains("Start by"), "{after}");
    }

    fn the_hour_of_a_letter_stays_local_over_the_change_in_spring(studio) {
        // New York 2027: 14 March 02:00 (15 U.S.C. 260a).
        let things = set(studio);
        train(studio, &things);
        only_the_student(studio);
        let db = &mut studio.connection();
        let day = |text: &str| text.parse::<chrono::NaiveDate>().unwrap();
        diesel::update(term::table).set((term::starts.eq(day("2027-01-18")), term::ends.eq(day("2027-05-15")))).execute(db).unwrap();
        diesel::update(project::table.find(things.project)).set(project::due_local.eq("2027-04-20T16:30")).execute(db).unwrap();
        diesel::update(person::table.find(studio.world.student)).set(person::letter_hour.eq(18)).execute(db).unwrap();
        for (at, letters) in [
            ("2027-03-13T22:59:00Z", 0), ("2027-03-13T23:01:00Z", 1), // 17:59 and 18:01 EST
            ("2027-03-14T21:59:00Z", 0), ("2027-03-14T22:01:00Z", 1), // 17:59 and 18:01 EDT
        ] {
            studio.at(at);
            let sent = mails(studio);
            assert_eq!(sent.len(), letters, "{at}: {sent:?}");
            assert!(sent.iter().all(|mail| text(mail).contains("stood at 18:00")), "{sent:?}");
        }
    }

    fn the_week_tells_who_waits_who_is_late_who_is_stuck_and_whom_no_letter_reaches(studio) {
        let things = set(studio);
        train(studio, &things);
        crate::stories::planning::class::more(studio, &things, 2);
        let db = &mut studio.connection();
        diesel::update(person::table).set(person::daily_letter.eq(false)).execute(db).unwrap();
        diesel::update(person::table.find(studio.world.other_student)).set(person::mail_rests_since.eq(Some(NOW))).execute(db).unwrap();
        // The project is due on Friday: too soon for a plate on which nothing is done. One has a date of its own, and has
        // lain ready for ten days; one waits for the go-ahead.
        diesel::update(project::table.find(things.project)).set(project::due_local.eq("2026-10-23T16:30")).execute(db).unwrap();
        let lying: tympan::ids::PersonId = person::table
            .filter(person::family_name.eq("N003")).select(person::id).first(db).unwrap();
        diesel::insert_into(own_due::table)
            .values((
                own_due::id.eq(tympan::ids::OwnDueId::new(NOW)), own_due::project_id.eq(things.project), own_due::person_id.eq(lying),
                own_due::due_local.eq("2026-12-08T16:30"), own_due::reason.eq("ill"), own_due::by_id.eq(studio.world.instructor),
                own_due::at.eq(NOW),
            ))
            .execute(db).unwrap();
        diesel::update(plate::table.filter(plate::person_id.eq(lying)))
            .set(plate::created_at.eq(NOW.plus_ms(-10 * 86_400_000))).execute(db).unwrap();
        studio.at("2026-10-19T20:00:00-04:00");
        for (step, began, ended) in [
            ("prepare", "2026-10-12T10:00", "2026-10-12T10:30"), ("draw", "2026-10-12T11:00", "2026-10-12T15:00"),
            ("first-etch", "2026-10-13T10:00", "2026-10-13T10:45"), ("roll-up", "2026-10-14T10:00", "2026-10-14T11:00"),
            ("second-etch", "2026-10-14T11:00", "2026-10-14T11:45"), ("proof", "2026-10-19T10:00", "2026-10-19T11:30"),
        ] {
            done(studio, &things, step, began, ended);
        }
        let sent = mails(studio);
        let told: Vec<String> = sent.iter().filter(|mail| mail.to == INSTRUCTOR).map(text).collect();
        assert_eq!(told.len(), 1, "{sent:?}");
        for said in [
            "3 plates on the way", "Waits for you: 1", "Sami Vale plate 1, “Stair lamp”: Go-ahead", "Late: 1",
            "Nora N002 plate 2, “Print 2”: Prepare", "Stuck: 1", "Nora N003 plate 3, “Print 3”: Prepare",
            "No letters reach Otis Wren",
        ] {
            assert!(told[0].contains(said), "{said}: {}", told[0]);
        }
    }

    fn each_chooses_which_letters_come_and_when(studio) {
        let things = set(studio);
        train(studio, &things);
        only_the_student(studio);
        let student = studio.signed_in(STUDENT);
        let chosen = [("volume_unit", "ml"), ("daily_letter", "yes"), ("urgent_letter", "yes"), ("letter_hour", "18")];
        assert_eq!(student.post("/account/preferences", &chosen).status, 303);
        let page = student.get("/account");
        assert!(page.has("<option value=\"18\" selected>18:00</option>"), "{}", page.text());
        let page = student.post("/account/preferences", &crate::stories::but(&chosen, "letter_hour", "24"));
        assert!(page.status == 422 && page.has("id=\"people-preferences-letter_hour-complaint\""), "{}", page.read());
        studio.at("2026-10-31T17:59:00-04:00");
        assert!(mails(studio).is_empty());
        studio.at("2026-10-31T18:01:00-04:00");
        let sent = mails(studio);
        assert!(sent.len() == 1 && text(&sent[0]).contains("stood at 18:00"), "{sent:?}");
        // The clocks go back in the night: 18:00 is an hour later in UTC.
        studio.at("2026-11-01T22:59:00Z");
        assert!(mails(studio).is_empty(), "17:59 EST");
        studio.at("2026-11-01T23:01:00Z");
        assert_eq!(mails(studio).len(), 1);
        assert_eq!(studio.signed_in(STUDENT).post("/account/preferences", &[("volume_unit", "ml"), ("letter_hour", "7")]).status, 303);
        studio.at("2026-11-03T12:00:00Z");
        assert!(mails(studio).is_empty(), "none at all");
    }

    fn the_instructor_gets_the_week_on_its_first_open_day(studio) {
        let things = set(studio);
        train(studio, &things);
        let db = &mut studio.connection();
        diesel::update(person::table).set(person::daily_letter.eq(false)).execute(db).unwrap();
        diesel::update(project::table.find(things.project)).set(project::due_local.eq("2026-10-23T16:30")).execute(db).unwrap();
        diesel::insert_into(closure::table)
            .values((
                closure::id.eq(tympan::ids::ClosureId::new(NOW)), closure::studio_id.eq(studio.world.studio),
                closure::day.eq(chrono::NaiveDate::from_ymd_opt(2026, 10, 19).unwrap()), closure::reason.eq("inspection"),
            ))
            .execute(db).unwrap();
        studio.at("2026-10-19T08:00:00-04:00");
        assert!(mails(studio).is_empty(), "Monday is closed");
        studio.at("2026-10-20T06:59:00-04:00");
        assert!(mails(studio).is_empty());
        studio.at("2026-10-20T10:00:00-04:00");
        let sent = mails(studio);
        let mine: Vec<&Mail> = sent.iter().filter(|mail| mail.to == INSTRUCTOR).collect();
        assert_eq!(mine.len(), 1, "{sent:?}");
        let told = text(mine[0]);
        assert!(told.contains("in the week from Mon 19 Oct: 1 plate on the way"), "{told}");
        assert!(told.contains("“A room at night”, 1 print not handed in"), "{told}");
        assert!(told.contains("prints can be placed by their due dates"), "{told}");
        assert!(told.contains("The journal of the class holds"), "{told}");
        studio.at("2026-10-22T10:00:00-04:00");
        assert!(mails(studio).iter().all(|mail| mail.to != INSTRUCTOR), "once a week");
    }
}
