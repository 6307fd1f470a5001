//! Letters people stop, each kind by itself, and addresses that rest after the mail server has refused them for good.

use diesel::prelude::*;
use tympan::ids::{ClassId, LetterId, PersonId};
use tympan::post::runner::Delivery;
use tympan::post::transport::{Answer, Lasting, Memory, Refusal};
use tympan::store::letters::{Kind, NewLetter, resting};
use tympan::store::schema::{enrolment, journal, letter, person};
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
        class: (kind == Kind::HandedBack).then_some(studio.world.class),
        cause: None,
        detail: serde_json::json!({ "titles": ["A room at night"] }),
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
        let wants = || -> (bool, bool, bool, bool, bool) {
            let all = (person::daily_letter, person::urgent_letter, person::week_letter, person::handed_back_letter, person::due_moved_letter);
            person::table.find(world.student).select(all).first(&mut studio.connection()).unwrap()
        };
        for _ in 0..2 {
            // RFC 8058, 3.1: a POST without cookies, answered without a redirect.
            assert_eq!(studio.visitor().post_bare(&path, &[("List-Unsubscribe", "One-Click")]).status, 200);
        }
        assert_eq!(wants(), (true, true, true, false, true), "this kind alone");
        assert_eq!(acts(studio, "letter.stopped"), 1);
        put(studio, world.student, Kind::HandedBack);
        assert!(studio.letters().is_empty());
        assert_eq!(rows(studio, "letter WHERE last_error = 'turned-off'"), 1);
        let all = Kind::ALL.iter().filter(|kind| kind.may_stop()).count();
        assert_eq!(all, 5);
        let student = studio.signed_in(STUDENT);
        let account = student.get("/account");
        for kind in Kind::ALL.iter().filter(|kind| kind.may_stop()) {
            let field = format!("name=\"{}_letter\"", kind.word().replace('-', "_"));
            assert!(account.has(&field), "{field} on the page of the account");
        }
        let chosen = [("volume_unit", "ml"), ("letter_hour", "7"), ("handed_back_letter", "yes")];
        assert_eq!(student.post("/account/preferences", &chosen).status, 303);
        assert_eq!(wants(), (false, false, false, true, false));
    }
}
