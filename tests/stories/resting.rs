//! Letters people stop, each kind by itself, and addresses that rest after the mail server has refused them for good.

use diesel::prelude::*;
use tympan::ids::{ClassId, ClosureId, LetterId, PersonId};
use tympan::post::runner::Delivery;
use tympan::post::transport::{Answer, Lasting, Memory, Refusal};
use tympan::store::letters::{Kind, NewLetter, resting};
use tympan::store::schema::{closure, enrolment, journal, letter, person, project};
use tympan::store::{Scope, journal as chain};
use tympan::trade::spelled::Spelled;

use crate::on_both;
use crate::stories::rows;
use crate::studio::Studio;
use crate::studio::letterbox::{Mail, block};
use crate::studio::things::Things;
use crate::studio::world::*;

/// Puts a letter into the outbox as an act does.
fn put(studio: &Studio, person: PersonId, kind: Kind) -> LetterId {
    let new = NewLetter {
        kind,
        person,
        class: kind.keeps_quiet().then_some(studio.world.class),
        cause: None,
        // What any of the kinds put here reads.
        detail: serde_json::json!({
            "titles": ["A room at night"], "title": "A room at night", "name": "Otis Wren", "changed": false,
            "assessment": studio.world.class, "person": person,
        }),
        not_before: studio.now(),
    };
    let now = studio.now();
    let written = studio.house.db.write(Scope::School, None, now, move |tx| tx.letter(&new));
    block(written).unwrap().unwrap()
}

/// A plate of the student, and nothing in the outbox.
fn set(studio: &Studio) {
    let db = &mut studio.connection();
    Things::set(db, &studio.world);
    diesel::delete(letter::table).execute(db).unwrap();
}

fn refused(times: usize) -> Memory {
    let memory = Memory::default();
    let no = || Answer::Refuse(Refusal::new(Lasting::ForGood, "550 5.1.1 no such mailbox"));
    memory.will_answer((0..times).map(|_| no()));
    memory
}

/// A letter to the student is refused for good.
fn refuse_one(studio: &Studio, kind: Kind) {
    put(studio, studio.world.student, kind);
    assert_eq!(studio.deliver_one(&refused(1)), Delivery::Failed);
}

fn rests(studio: &Studio) -> bool {
    let since: Option<i64> = person::table
        .find(studio.world.student)
        .select(person::mail_rests_since)
        .first(&mut studio.connection())
        .unwrap();
    since.is_some()
}

fn acts(studio: &Studio, act: &str) -> i64 {
    journal::table.filter(journal::act.eq(act)).count().get_result(&mut studio.connection()).unwrap()
}

on_both! {
    fn what_nobody_asked_for_waits_for_the_morning_of_an_open_day(studio) {
        set(studio);
        let kinds = [Kind::HandedBack, Kind::SecondLookAsked, Kind::SecondLookAnswered, Kind::GradeSubmitted];
        let quiet: Vec<Kind> = Kind::ALL.iter().copied().filter(|kind| kind.keeps_quiet()).collect();
        assert_eq!(quiet.len(), kinds.len() + 2, "and warnings, and dates that move, which are told elsewhere: {quiet:?}");
        for day in ["2026-10-22", "2026-10-23"] {
            diesel::insert_into(closure::table)
                .values((
                    closure::id.eq(ClosureId::new(NOW)), closure::studio_id.eq(studio.world.studio),
                    closure::day.eq(day.parse::<chrono::NaiveDate>().unwrap()), closure::reason.eq("water off"),
                ))
                .execute(&mut studio.connection()).unwrap();
        }
        // Wednesday 21 October, 21:00 in the class's zone; Thursday and Friday are closed.
        studio.at("2026-10-21T21:00:00-04:00");
        for kind in kinds {
            put(studio, studio.world.student, kind);
        }
        put(studio, studio.world.student, Kind::PasswordChanged);
        let sent = studio.letters();
        assert!(sent.len() == 1 && sent[0].text.contains("was changed on"), "an account is told at once: {sent:?}");
        let waits: Vec<(tympan::clock::Instant, Option<String>, i32)> = letter::table
            .filter(letter::sent_at.is_null())
            .select((letter::not_before, letter::last_error, letter::attempts))
            .load(&mut studio.connection()).unwrap();
        let morning: tympan::clock::Instant = tympan::clock::Instant::from_utc(
            chrono::DateTime::parse_from_rfc3339("2026-10-24T07:00:00-04:00").unwrap().to_utc(),
        );
        assert_eq!(waits, vec![(morning, Some("quiet".to_owned()), 0); kinds.len()], "no try was made");
        for still in ["2026-10-22T12:00:00-04:00", "2026-10-23T20:00:00-04:00", "2026-10-24T06:59:00-04:00"] {
            studio.at(still);
            assert!(studio.letters().is_empty(), "{still}");
        }
        studio.at("2026-10-24T07:00:00-04:00");
        assert_eq!(studio.letters().len(), kinds.len());
        put(studio, studio.world.student, Kind::HandedBack);
        assert_eq!(studio.letters().len(), 1, "by day at once");
    }

    fn a_date_that_moves_at_night_is_told_in_the_morning(studio) {
        set(studio);
        let id: tympan::ids::ProjectId = project::table.select(project::id).first(&mut studio.connection()).unwrap();
        studio.at("2026-10-21T22:00:00-04:00");
        let moved = [("due", "2026-12-08T16:30"), ("reason", "press repaired"), ("version", "1")];
        let path = format!("{}/settings/projects/{id}/due", studio.class_path());
        assert_eq!(studio.signed_in(INSTRUCTOR).post(&path, &moved).status, 303);
        studio.at("2026-10-21T22:30:00-04:00");
        assert!(studio.letters().is_empty(), "it has settled, and the night is quiet");
        studio.at("2026-10-22T07:00:00-04:00");
        let sent = studio.letters();
        assert!(!sent.is_empty() && sent.iter().any(|mail| mail.to == STUDENT && mail.text.contains("8 Dec")), "{sent:?}");
    }

    fn an_address_refused_for_good_three_times_running_rests_until_staff_lift_it(studio) {
        set(studio);
        refuse_one(studio, Kind::HandedBack);
        refuse_one(studio, Kind::HandedBack);
        put(studio, studio.world.student, Kind::HandedBack);
        assert_eq!(studio.letters().len(), 1, "taken between: the count begins anew");
        for left in (0..resting::REFUSALS).rev() {
            refuse_one(studio, Kind::HandedBack);
            assert_eq!(rests(studio), left == 0, "{left} left");
        }
        assert_eq!(acts(studio, "address.rests"), 1);
        let id = put(studio, studio.world.student, Kind::HandedBack);
        assert!(studio.letters().is_empty(), "no more letters go there");
        let why: Option<String> = letter::table.find(id).select(letter::last_error).first(&mut studio.connection()).unwrap();
        assert_eq!(why.as_deref(), Some("address-rests"));
        // The instructor is told on Today and among the letters, with what was said.
        let instructor = studio.signed_in(INSTRUCTOR);
        let list = format!("{}/letters", studio.class_path());
        let today = instructor.get(&studio.class_path());
        assert!(today.read().contains("No letters reach Sami Vale") && today.has(&format!("href=\"{list}\"")), "{}", today.read());
        let page = instructor.get(&list);
        for said in ["Addresses that rest", "Sami Vale", STUDENT, "550 5.1.1 no such mailbox", "has refused it for good too often"] {
            assert!(page.read().contains(said), "{said}: {}", page.read());
        }
        let wake = format!("{list}/addresses/{}", studio.world.student);
        assert_eq!(studio.signed_in(STRANGER).post(&format!("/classes/{}/letters/addresses/{}", studio.world.other_class, studio.world.student), &[]).status, 404);
        let nobody = format!("{list}/addresses/{}", studio.world.other_student);
        assert_eq!(instructor.post(&nobody, &[]).status, 404, "that one does not rest");
        assert_eq!(instructor.post(&wake, &[]).location(), format!("{list}?done=done-address-woken"));
        assert!(!rests(studio) && !instructor.get(&studio.class_path()).read().contains("No letters reach"));
        put(studio, studio.world.student, Kind::HandedBack);
        assert_eq!(studio.letters().len(), 1);
        assert_eq!(chain::check(&mut studio.connection()).unwrap(), []);
    }

    fn a_letter_one_asked_for_is_tried_all_the_same_and_wakes_the_address(studio) {
        for _ in 0..resting::REFUSALS {
            refuse_one(studio, Kind::PasswordChanged);
        }
        assert!(rests(studio));
        assert!(studio.signed_in(KEEPER).get("/school/letters").read().contains("Addresses that rest"));
        studio.visitor().post("/forgotten", &[("email", STUDENT)]);
        let mails = studio.letters();
        assert_eq!(mails.len(), 1, "nobody is locked out");
        assert!(!rests(studio), "it was taken, so the address is good");
        assert_eq!(acts(studio, "address.woken"), 1);
        for _ in 0..resting::REFUSALS {
            refuse_one(studio, Kind::PasswordChanged);
        }
        let wake = format!("/school/letters/addresses/{}", studio.world.student);
        assert_eq!(studio.signed_in(KEEPER).post(&wake, &[]).location(), "/school/letters?done=done-address-woken");
        assert!(!rests(studio));
    }

    fn what_is_refused_for_now_counts_for_nothing(studio) {
        for _ in 0..resting::REFUSALS + 1 {
            put(studio, studio.world.student, Kind::PasswordChanged);
            let memory = Memory::default();
            memory.will_answer([Answer::Refuse(Refusal::new(Lasting::ForNow, "450 4.2.1 busy"))]);
            assert_eq!(studio.deliver_one(&memory), Delivery::Postponed);
        }
        assert!(!rests(studio));
        let refusals: i32 = person::table.find(studio.world.student).select(person::mail_refusals)
            .first(&mut studio.connection()).unwrap();
        assert_eq!(refusals, 0);
    }

    fn who_has_left_the_class_is_the_keepers_to_wake(studio) {
        set(studio);
        for _ in 0..resting::REFUSALS {
            refuse_one(studio, Kind::HandedBack);
        }
        diesel::update(enrolment::table.filter(enrolment::person_id.eq(studio.world.student)))
            .set(enrolment::state.eq("withdrawn")).execute(&mut studio.connection()).unwrap();
        let instructor = studio.signed_in(INSTRUCTOR);
        assert!(!instructor.get(&studio.class_path()).read().contains("No letters reach"));
        let of_class = format!("{}/letters/addresses/{}", studio.class_path(), studio.world.student);
        assert_eq!(instructor.post(&of_class, &[]).status, 404);
        assert!(studio.signed_in(KEEPER).get("/school/letters").read().contains("Sami Vale"));
    }

    fn each_kind_one_can_do_without_is_stopped_by_itself(studio) {
        let world = &studio.world;
        let class: Option<ClassId> = Some(world.class);
        assert!(class.is_some());
        put(studio, world.student, Kind::HandedBack);
        put(studio, world.student, Kind::PasswordChanged);
        let mails = studio.letters();
        let find = |what: &str| mails.iter().find(|mail| mail.text.contains(what)).unwrap();
        let (back, account): (&Mail, &Mail) = (find("A room at night"), find("was changed on"));
        assert!(!account.text.contains("/letters/stop/"), "letters about an account cannot be stopped");
        let path = back.address("/letters/stop/");
        assert!(back.html.contains(&format!("href=\"{}{path}\"", studio.base)), "{}", back.html);
        let nobody = studio.visitor();
        let before = rows(studio, "journal");
        let page = nobody.get(&path);
        assert!(page.status == 200 && page.read().contains("say grades were handed back"), "{}", page.read());
        assert_eq!(rows(studio, "journal"), before, "looking changes nothing");
        let wants = || -> (bool, bool, bool, bool, bool, bool, bool, bool) {
            let all = (
                person::daily_letter, person::urgent_letter, person::week_letter, person::handed_back_letter,
                person::due_moved_letter, person::second_look_asked_letter, person::second_look_answered_letter,
                person::grade_submitted_letter,
            );
            person::table.find(world.student).select(all).first(&mut studio.connection()).unwrap()
        };
        for _ in 0..2 {
            // RFC 8058, 3.1: a POST without cookies, answered without a redirect.
            assert_eq!(studio.visitor().post_bare(&path, &[("List-Unsubscribe", "One-Click")]).status, 200);
        }
        assert_eq!(wants(), (true, true, true, false, true, true, true, true), "this kind alone");
        assert_eq!(acts(studio, "letter.stopped"), 1);
        put(studio, world.student, Kind::HandedBack);
        assert!(studio.letters().is_empty());
        assert_eq!(rows(studio, "letter WHERE last_error = 'turned-off'"), 1);
        let all = Kind::ALL.iter().filter(|kind| kind.may_stop()).count();
        assert_eq!(all, Kind::ALL.len() - 4, "all but invitation, new password, and password or address changed");
        let student = studio.signed_in(STUDENT);
        let account = student.get("/account");
        for kind in Kind::ALL.iter().filter(|kind| kind.may_stop()) {
            let field = format!("name=\"{}_letter\"", kind.word().replace('-', "_"));
            assert!(account.has(&field), "{field} on the page of the account");
        }
        let chosen = [("volume_unit", "ml"), ("letter_hour", "7"), ("handed_back_letter", "yes")];
        assert_eq!(student.post("/account/preferences", &chosen).status, 303);
        assert_eq!(wants(), (false, false, false, true, false, false, false, false));
        // What was chosen away is written and not sent, and one click in a letter stops each kind by itself.
        for kind in [Kind::SecondLookAsked, Kind::SecondLookAnswered, Kind::GradeSubmitted] {
            put(studio, world.student, kind);
        }
        assert!(studio.letters().is_empty());
        assert_eq!(rows(studio, "letter WHERE last_error = 'turned-off'"), 4);
        let chosen: Vec<(&str, &str)> = [&chosen[..], &[
            ("second_look_asked_letter", "yes"), ("second_look_answered_letter", "yes"), ("grade_submitted_letter", "yes"),
        ]].concat();
        assert_eq!(student.post("/account/preferences", &chosen).status, 303);
        assert_eq!(wants(), (false, false, false, true, false, true, true, true));
        for kind in [Kind::SecondLookAsked, Kind::SecondLookAnswered, Kind::GradeSubmitted] {
            put(studio, world.student, kind);
            let sent = studio.letters();
            assert_eq!(sent.len(), 1, "{kind:?}: {sent:?}");
            let path = sent[0].address("/letters/stop/");
            assert_eq!(studio.visitor().get(&path).status, 200);
            assert_eq!(studio.visitor().post_bare(&path, &[("List-Unsubscribe", "One-Click")]).status, 200);
        }
        assert_eq!(wants(), (false, false, false, true, false, false, false, false));
    }
}
