//! The daily letter: who gets one, when, what comes first in it, never two on a day, and how it is stopped.

use std::sync::Arc;

use chrono::NaiveDate;
use diesel::prelude::*;
use tympan::ids::{ClosureId, EnrolmentId, OwnDueId, ProjectId};
use tympan::post::transport::Memory;
use tympan::store::schema::*;

use crate::on_both;
use crate::studio::Studio;
use crate::studio::letterbox::{Mail, block};
use crate::studio::things::Things;
use crate::studio::world::*;

/// One plate that nothing was done on yet, and a student who may do anything.
fn set(studio: &Studio) -> Things {
    let db = &mut studio.connection();
    let things = Things::set(db, &studio.world);
    diesel::delete(letter::table).execute(db).unwrap();
    diesel::delete(etch_application::table).execute(db).unwrap();
    diesel::delete(etch::table).execute(db).unwrap();
    diesel::delete(step_run::table).execute(db).unwrap();
    things
}

fn train(studio: &Studio, things: &Things) {
    for key in ["studio-basics", "acid-and-gum", "solvents", "press"] {
        things.sign(&mut studio.connection(), &studio.world, key, "watched");
    }
}

/// One pass, as the loop and the command do it.
fn remind(studio: &Studio) -> usize {
    block(studio.post(Arc::new(Memory::default())).remind()).unwrap()
}

/// One pass, and what it wrote, to read.
fn mails(studio: &Studio) -> Vec<Mail> {
    let written = remind(studio);
    let mails = studio.letters();
    assert_eq!(written, mails.len());
    mails
}

fn due(studio: &Studio, project: ProjectId, local: &str) {
    diesel::update(project::table.find(project))
        .set(project::due_local.eq(local))
        .execute(&mut studio.connection())
        .unwrap();
}

on_both! {
    fn from_seven_on_the_next_step_is_told_once_a_day(studio) {
        let things = set(studio);
        train(studio, &things);
        assert_eq!(remind(studio), 0, "the plate was begun this morning at the table");
        studio.at("2026-10-21T06:59:00-04:00");
        assert_eq!(remind(studio), 0);
        studio.at("2026-10-21T07:01:00-04:00");
        let mails = mails(studio);
        assert_eq!(mails.len(), 1, "the other student has nothing to hear");
        let mail = &mails[0];
        assert_eq!(mail.to, STUDENT);
        assert!(mail.text.starts_with("Sami, one thing comes first on Wed 21 Oct.\n"), "{}", mail.text);
        assert!(mail.text.contains("Plate 1, “Stair lamp”, is ready for it."), "{}", mail.text);
        assert!(mail.text.contains("The print is due Tue 24 Nov,\n16:30.") || mail.text.contains("Tue 24 Nov, 16:30."));
        assert_eq!(mail.address("/classes/"), format!("{}/plates/{}", studio.class_path(), things.plate));
        assert!(mail.text.contains("the safety data sheet"));
        studio.at("2026-10-21T22:00:00-04:00");
        assert_eq!(remind(studio), 0, "one a day");
        studio.at("2026-10-22T07:01:00-04:00");
        assert_eq!(remind(studio), 1);
    }

    fn what_was_done_after_seven_is_not_told_the_same_day(studio) {
        let things = set(studio);
        train(studio, &things);
        studio.at("2026-10-21T08:00:00-04:00");
        let student = studio.signed_in(STUDENT);
        let plate = format!("{}/plates/{}", studio.class_path(), things.plate);
        assert_eq!(student.post(&format!("{plate}/start"), &[("step", "prepare")]).status, 303);
        studio.later_ms(1_800_000);
        assert_eq!(remind(studio), 0, "a step is under way");
        let run: tympan::ids::StepRunId =
            step_run::table.select(step_run::id).first(&mut studio.connection()).unwrap();
        assert_eq!(student.post(&format!("{plate}/end"), &[("run", &run.to_string())]).status, 303);
        assert_eq!(remind(studio), 0, "the next is ready, but they know: they stand at the table");
        studio.at("2026-10-22T07:30:00-04:00");
        assert!(mails(studio)[0].text.contains("Draw"));
    }

    fn a_missing_sign_off_comes_first(studio) {
        let things = set(studio);
        things.sign(&mut studio.connection(), &studio.world, "studio-basics", "watched");
        studio.at("2026-10-21T07:30:00-04:00");
        let mails = mails(studio);
        let mail = &mails[0];
        assert!(mail.text.contains("Get your sign-off “Acid and gum”"), "{}", mail.text);
        assert_eq!(mail.address("/classes/"), format!("{}/sign-offs", studio.class_path()));
        train(studio, &things);
        studio.at("2026-10-22T07:30:00-04:00");
        assert!(self::mails(studio)[0].text.contains("is ready for it"));
    }

    fn a_print_due_within_two_days_is_told_by_each_persons_own_date(studio) {
        let things = set(studio);
        let db = &mut studio.connection();
        due(studio, things.project, "2026-10-23T16:30");
        studio.at("2026-10-21T16:29:00-04:00");
        assert_eq!(mails(studio).iter().filter(|mail| mail.to == OTHER_STUDENT).count(), 0, "48 hours and a minute");
        studio.at("2026-10-21T16:31:00-04:00");
        let due_soon = mails(studio);
        assert_eq!((due_soon.len(), due_soon[0].to.as_str()), (1, OTHER_STUDENT));
        assert!(due_soon[0].text.contains("Hand in “A room at night”"), "no print begun yet: {}", due_soon[0].text);
        assert!(due_soon[0].text.contains("due Fri 23 Oct, 16:30"), "{}", due_soon[0].text);
        diesel::insert_into(own_due::table)
            .values((
                (own_due::id.eq(OwnDueId::new(NOW)), own_due::project_id.eq(things.project)),
                (own_due::person_id.eq(studio.world.other_student), own_due::due_local.eq("2026-10-30T16:30")),
                (own_due::reason.eq("was ill"), own_due::by_id.eq(studio.world.instructor), own_due::at.eq(NOW)),
            ))
            .execute(db)
            .unwrap();
        diesel::update(print::table.find(things.print)).set(print::handed_in_at.eq(studio.now())).execute(db).unwrap();
        studio.at("2026-10-22T07:30:00-04:00");
        assert!(mails(studio).is_empty(), "one has a later date, the other has handed in");
    }

    fn some_get_no_letter(studio) {
        let things = set(studio);
        train(studio, &things);
        let (db, world) = (&mut studio.connection(), &studio.world);
        let closed = |day: &str| (
            closure::id.eq(ClosureId::new(NOW)), closure::studio_id.eq(world.studio),
            closure::day.eq(day.parse::<NaiveDate>().unwrap()), closure::reason.eq("inspection"),
        );
        diesel::insert_into(closure::table).values(closed("2026-10-21")).execute(db).unwrap();
        studio.at("2026-10-21T07:30:00-04:00");
        assert_eq!(remind(studio), 0, "the studio is closed");
        studio.at("2026-12-19T07:30:00-05:00");
        assert_eq!(remind(studio), 0, "the term is over");
        studio.at("2026-10-22T07:30:00-04:00");
        let wants = |wants: bool| {
            let db = &mut studio.connection();
            diesel::update(person::table.find(world.student)).set(person::daily_letter.eq(wants)).execute(db).unwrap();
        };
        wants(false);
        assert_eq!(remind(studio), 0, "they want none");
        wants(true);
        let address = |email: Option<&str>| {
            let db = &mut studio.connection();
            diesel::update(person::table.find(world.student)).set(person::email.eq(email)).execute(db).unwrap();
        };
        address(None);
        assert_eq!(remind(studio), 0, "there is no address");
        address(Some(STUDENT));
        let standing = |state: &str| {
            let db = &mut studio.connection();
            diesel::update(enrolment::table.filter(enrolment::person_id.eq(world.student)))
                .set(enrolment::state.eq(state)).execute(db).unwrap();
        };
        standing("withdrawn");
        assert_eq!(remind(studio), 0, "they have left");
        standing("incomplete");
        assert_eq!(remind(studio), 1, "an incomplete is still at work");
    }

    fn the_day_is_that_of_the_terms_zone(studio) {
        let things = set(studio);
        train(studio, &things);
        diesel::update(term::table).set(term::zone.eq("Pacific/Auckland")).execute(&mut studio.connection()).unwrap();
        studio.at("2026-10-21T17:59:00Z");
        assert_eq!(remind(studio), 0, "06:59 of the 22nd");
        studio.at("2026-10-21T18:01:00Z");
        let mails = mails(studio);
        assert!(mails[0].text.contains("on Thu 22 Oct"), "{}", mails[0].text);
        let cause: Option<String> = letter::table.select(letter::cause).first(&mut studio.connection()).unwrap();
        assert_eq!(cause, Some(format!("daily {} 2026-10-22", studio.world.student)));
    }

    fn two_passes_at_once_write_one_letter(studio) {
        let things = set(studio);
        train(studio, &things);
        due(studio, things.project, "2026-10-22T16:30");
        studio.at("2026-10-21T07:30:00-04:00");
        let written: usize = std::thread::scope(|scope| {
            let passes: Vec<_> = (0..4).map(|_| scope.spawn(|| remind(studio))).collect();
            passes.into_iter().map(|pass| pass.join().unwrap()).sum()
        });
        assert_eq!(written, 2, "one for each student");
        let rows: i64 = letter::table.count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(rows, 2);
    }

    fn two_classes_make_one_letter_with_the_more_pressing_first(studio) {
        let things = set(studio);
        train(studio, &things);
        let (db, world) = (&mut studio.connection(), &studio.world);
        diesel::insert_into(enrolment::table)
            .values((
                (enrolment::id.eq(EnrolmentId::new(NOW)), enrolment::class_id.eq(world.other_class)),
                (enrolment::person_id.eq(world.student), enrolment::role.eq("student")),
                (enrolment::state.eq("enrolled"), enrolment::joined_at.eq(NOW), enrolment::version.eq(1)),
                enrolment::since.eq(NaiveDate::from_ymd_opt(2026, 8, 31).unwrap()),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(project::table)
            .values((
                (project::id.eq(ProjectId::new(NOW)), project::class_id.eq(world.other_class), project::position.eq(1)),
                (project::title.eq("Wind map"), project::brief.eq(""), project::due_local.eq("2026-10-22T09:00")),
                (project::edition_asked.eq(5), project::procedure_id.eq(things.procedure)),
                (project::created_at.eq(NOW), project::version.eq(1)),
            ))
            .execute(db)
            .unwrap();
        studio.at("2026-10-21T07:30:00-04:00");
        let mails = mails(studio);
        assert_eq!(mails.len(), 1);
        let text = &mails[0].text;
        let (first, second) = (text.find("Hand in “Wind map”").unwrap(), text.find("Plate 1, “Stair lamp”").unwrap());
        assert!(first < second, "{text}");
        assert!(text.contains("Plate lithography A") && text.contains("Plate lithography B"), "{text}");
    }

    fn a_letter_that_waited_past_its_day_or_was_stopped_meanwhile_is_not_sent(studio) {
        let things = set(studio);
        train(studio, &things);
        studio.at("2026-10-21T07:30:00-04:00");
        assert_eq!(remind(studio), 1);
        studio.at("2026-10-22T00:01:00-04:00");
        assert!(studio.letters().is_empty());
        studio.at("2026-10-22T07:30:00-04:00");
        assert_eq!(remind(studio), 1);
        diesel::update(person::table.find(studio.world.student))
            .set(person::daily_letter.eq(false)).execute(&mut studio.connection()).unwrap();
        assert!(studio.letters().is_empty());
        let mut why: Vec<Option<String>> =
            letter::table.select(letter::last_error).load(&mut studio.connection()).unwrap();
        why.sort();
        assert_eq!(why, [Some("day-over".to_owned()), Some("turned-off".to_owned())]);
    }

    fn a_reader_stops_it_from_the_letter_without_signing_in(studio) {
        let things = set(studio);
        train(studio, &things);
        studio.at("2026-10-21T07:30:00-04:00");
        let path = mails(studio)[0].address("/letters/stop/");
        let wants = || -> bool {
            let db = &mut studio.connection();
            person::table.find(studio.world.student).select(person::daily_letter).first(db).unwrap()
        };
        let nobody = studio.visitor();
        let page = nobody.get(&path);
        assert!(page.status == 200 && page.read().contains("Sami Vale"), "{}", page.read());
        assert!(wants(), "looking changes nothing: mail filters open every address");
        let forged = format!("{}AAAA", &path[..path.len() - 4]);
        assert_eq!(nobody.get(&forged).status, 404);
        assert_eq!(nobody.post_bare(&forged, &[("List-Unsubscribe", "One-Click")]).status, 404);
        for _ in 0..2 {
            // RFC 8058, 3.1: a POST without cookies, answered without a redirect.
            let done = studio.visitor().post_bare(&path, &[("List-Unsubscribe", "One-Click")]);
            assert_eq!(done.status, 200, "{}", done.read());
        }
        assert!(!wants());
        let acts: i64 = journal::table.filter(journal::act.eq("letter.stopped"))
            .count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(acts, 1);
        studio.at("2026-10-22T07:30:00-04:00");
        assert_eq!(remind(studio), 0);
    }
}
