//! Letters from the act that causes them to the reader's hands: written, sent once, tried again, dropped, looked at.

use std::sync::Arc;

use diesel::prelude::*;
use tympan::clock::Instant;
use tympan::ids::{ClassId, Id, LetterId, PersonId};
use tympan::post::runner::Delivery;
use tympan::post::transport::{Answer, Lasting, Memory, Refusal, Sealed, Transport};
use tympan::store::schema::{enrolment, letter, person};

use crate::on_both;
use crate::studio::Studio;
use crate::studio::letterbox::{Mail, block};
use crate::studio::world::*;

const HOUR: i64 = 3_600_000;

/// Puts a letter into the outbox without going through an act.
fn put(studio: &Studio, person: PersonId, class: Option<ClassId>, kind: &str, detail: &str) -> LetterId {
    let id: LetterId = Id::new(studio.now());
    diesel::insert_into(letter::table)
        .values((
            (
                letter::id.eq(id),
                letter::kind.eq(kind),
                letter::person_id.eq(person),
                letter::class_id.eq(class),
            ),
            (
                letter::detail.eq(detail),
                letter::created_at.eq(studio.now()),
                letter::not_before.eq(studio.now()),
            ),
            letter::attempts.eq(0),
        ))
        .execute(&mut studio.connection())
        .unwrap();
    id
}

/// A letter that needs nothing but a person.
fn plain(studio: &Studio) -> LetterId {
    put(studio, studio.world.student, None, "password-changed", "{}")
}

#[derive(Debug, Queryable)]
struct Row {
    not_before: Instant,
    attempts: i32,
    lease_owner: Option<String>,
    sent: bool,
    failed: bool,
    dropped: bool,
    last_error: Option<String>,
}

fn row(studio: &Studio, id: LetterId) -> Row {
    letter::table
        .find(id)
        .select((
            letter::not_before,
            letter::attempts,
            letter::lease_owner,
            letter::sent_at.is_not_null(),
            letter::failed_at.is_not_null(),
            letter::dropped_at.is_not_null(),
            letter::last_error,
        ))
        .first(&mut studio.connection())
        .unwrap()
}

/// As if a claim's five minutes were over, by the database's own clock.
fn let_leases_run_out(studio: &Studio) {
    diesel::update(letter::table.filter(letter::lease_until.is_not_null()))
        .set(letter::lease_until.eq(Instant::from_millis(1)))
        .execute(&mut studio.connection())
        .unwrap();
}

fn refuse(lasting: Lasting, words: &str) -> Answer {
    Answer::Refuse(Refusal::new(lasting, words))
}

/// Keeps a letter and then dies, as a process killed between sending and writing down would.
#[derive(Debug, Clone)]
struct Dying(Memory);

impl Transport for Dying {
    fn hand_over(&self, letter: &Sealed) -> Result<(), Refusal> {
        self.0.hand_over(letter)?;
        std::thread::sleep(std::time::Duration::from_secs(2));
        Ok(())
    }
}

on_both! {
    fn an_invitation_opens_the_account_and_its_secret_is_in_the_letter_alone(studio) {
        let keeper = studio.signed_in(KEEPER);
        let fields = [("given_name", "Ren"), ("family_name", "Óssur"), ("email", "ren@college.example")];
        assert_eq!(keeper.post("/school/people", &fields).status, 303);
        let mails = studio.letters();
        assert_eq!(mails.len(), 1);
        let mail: &Mail = &mails[0];
        assert_eq!(mail.to, "ren@college.example");
        assert_eq!(mail.header("Auto-Submitted").as_deref(), Some("auto-generated"));
        assert!(mail.text.contains("Hello Ren,") && mail.text.contains("Alder Hill College"), "{}", mail.text);
        let path = mail.address("/links/");
        let secret = path.strip_prefix("/links/").unwrap();
        let visitor = studio.visitor();
        assert_eq!(visitor.get(&path).location(), "/new-password");
        let rows: Vec<(String, Option<String>)> =
            letter::table.select((letter::detail, letter::last_error)).load(&mut studio.connection()).unwrap();
        assert!(rows.iter().all(|(detail, error)| !format!("{detail}{error:?}").contains(secret)));
        assert!(mail.html.contains(&format!("href=\"{}{path}\"", studio.base)), "{}", mail.html);
        let page = keeper.get("/school/letters");
        assert!(page.read().contains("Ren Óssur Invitation") && !page.has(secret), "{}", page.read());
        assert!(studio.letters().is_empty(), "sent once");
    }

    fn a_reset_leads_to_a_new_password_and_a_word_to_the_owner(studio) {
        studio.visitor().post("/forgotten", &[("email", STUDENT)]);
        let mails = studio.letters();
        let path = mails[0].address("/links/");
        let visitor = studio.visitor();
        assert_eq!(visitor.get(&path).status, 303);
        let new = "wash out before the roll-up";
        assert_eq!(visitor.post("/new-password", &[("new", new), ("again", new)]).status, 303);
        let mails = studio.letters();
        assert_eq!((mails.len(), mails[0].to.as_str()), (1, STUDENT));
        assert!(mails[0].text.contains("was changed on Tue 20 Oct, 14:00 UTC"), "{}", mails[0].text);
        for mail in &mails {
            assert_eq!(mail.header("List-Unsubscribe"), None, "letters about an account cannot be stopped");
        }
    }

    fn what_there_is_nobody_for_is_dropped_with_the_reason(studio) {
        let (world, db) = (&studio.world, &mut studio.connection());
        studio.visitor().post("/forgotten", &[("email", STUDENT)]);
        studio.later_ms(31 * 60_000);
        let late: LetterId = letter::table.select(letter::id).first(db).unwrap();
        let nowhere = put(studio, world.records, None, "password-changed", "{}");
        diesel::update(person::table.find(world.records)).set(person::email.eq(None::<String>)).execute(db).unwrap();
        let gone = put(studio, world.other_student, Some(world.class), "handed-back", "{\"titles\":[]}");
        diesel::update(enrolment::table.filter(enrolment::person_id.eq(world.other_student)))
            .set(enrolment::state.eq("dropped")).execute(db).unwrap();
        let bad = put(studio, world.safety_officer, None, "password-changed", "{}");
        diesel::update(person::table.find(world.safety_officer))
            .set(person::email.eq(Some("a@b.example\r\nBcc: c@d.example"))).execute(db).unwrap();
        assert!(studio.letters().is_empty());
        let why = [(late, "link-dead"), (nowhere, "no-address"), (bad, "bad-address"), (gone, "not-enrolled")];
        for (id, why) in why {
            let row = row(studio, id);
            assert!(row.dropped && !row.sent && !row.failed, "{row:?}");
            assert_eq!((row.last_error.as_deref(), row.lease_owner), (Some(why), None));
        }
        let page = studio.signed_in(INSTRUCTOR).get(&format!("{}/letters?state=dropped", studio.class_path()));
        assert!(page.read().contains("The person is no longer in the class."), "{}", page.read());
    }

    fn a_letter_not_taken_waits_longer_each_time_and_is_given_up_after_five_days(studio) {
        let id = plain(studio);
        let memory = Memory::default();
        memory.will_answer((0..100).map(|_| refuse(Lasting::ForNow, "450 4.2.1 busy")));
        let (mut waits, began) = (Vec::new(), studio.now());
        loop {
            let delivery = studio.deliver_one(&memory);
            if delivery == Delivery::Failed {
                break;
            }
            assert_eq!(delivery, Delivery::Postponed);
            assert_eq!(studio.deliver_one(&memory), Delivery::Nothing, "not before its time");
            let wait = row(studio, id).not_before.millis() - studio.now().millis();
            waits.push(wait);
            studio.later_ms(wait);
        }
        assert!((30_000..=60_000).contains(&waits[0]) && waits[3] > waits[0], "{waits:?}");
        let page = studio.signed_in(KEEPER).get("/school/letters").read();
        assert!(page.contains("Failed") && page.contains("450 4.2.1 busy"), "{page}");
        assert!(waits.iter().all(|wait| *wait <= 6 * HOUR) && waits.iter().any(|wait| *wait > 3 * HOUR));
        let days = (studio.now().millis() - began.millis()) / 86_400_000;
        assert!((4..=5).contains(&days), "{days}");
        let row = row(studio, id);
        assert!(row.failed && row.last_error.as_deref() == Some("450 4.2.1 busy"), "{row:?}");
        assert!(memory.taken().is_empty());
    }

    fn a_refusal_for_good_is_shown_to_staff_who_can_have_it_tried_again(studio) {
        let world = &studio.world;
        let detail = r#"{"titles":["A room at night"]}"#;
        let id = put(studio, world.student, Some(world.class), "handed-back", detail);
        let memory = Memory::default();
        memory.will_answer([refuse(Lasting::ForGood, "550 5.1.1 no such mailbox")]);
        assert_eq!(studio.deliver_one(&memory), Delivery::Failed);
        let instructor = studio.signed_in(INSTRUCTOR);
        let list = format!("{}/letters", studio.class_path());
        let page = instructor.get(&list);
        assert!(page.read().contains("Sami Vale Handed back Failed Try again"), "{}", page.read());
        assert!(page.read().contains("550 5.1.1 no such mailbox") && !page.has("A room at night"));
        let once = "0123456789abcdef0123";
        for _ in 0..2 {
            let again = instructor.post_once(&format!("{list}/{id}/again"), &[], once);
            assert_eq!(again.location(), format!("{list}?done=done-letter-again"));
        }
        assert_eq!(row(studio, id).attempts, 0);
        assert_eq!(instructor.post(&format!("{list}/{id}/again"), &[]).status, 409, "it waits already");
        assert_eq!(studio.deliver_one(&memory), Delivery::Sent);
        let mail = Mail::read(&memory.taken()[0]);
        assert!(mail.text.contains("- A room at night"), "{}", mail.text);
        assert!(instructor.get(&list).read().contains("Sent"));
        let findings = tympan::store::journal::check(&mut studio.connection()).unwrap();
        assert_eq!(findings, []);
    }

    fn a_list_shows_its_own_class_only_and_takes_nonsense_calmly(studio) {
        let world = &studio.world;
        let other = put(studio, world.stranger, Some(world.other_class), "password-changed", "{}");
        let own = plain(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let list = format!("{}/letters", studio.class_path());
        assert!(instructor.get(&list).read().contains("There are no letters here."));
        for id in [other, own, Id::new(studio.now())] {
            assert_eq!(instructor.post(&format!("{list}/{id}/again"), &[]).status, 404);
        }
        for query in ["state=burnt", "before=x", "before=1.1", "state=&before="] {
            assert_eq!(instructor.get(&format!("{list}?{query}")).status, 200, "{query}");
        }
        for email in [STUDENT, ASSISTANT, RECORDS, SAFETY_OFFICER] {
            assert_eq!(studio.signed_in(email).get(&list).status, 403, "{email}");
        }
        let keeper = studio.signed_in(KEEPER);
        let page = keeper.get("/school/letters").read();
        assert!(page.contains("Stan Far") && page.contains("Plate lithography A"), "{page}");
        assert_eq!(keeper.post(&format!("/school/letters/{own}/again"), &[]).status, 409);
    }

    fn a_long_list_is_shown_page_by_page(studio) {
        for _ in 0..105 {
            plain(studio);
        }
        let keeper = studio.signed_in(KEEPER);
        let page = keeper.get("/school/letters?state=waiting");
        assert_eq!(page.text().matches("<th scope=\"row\">").count(), 100);
        let html = page.text().replace("&amp;", "&").replace("&#x3D;", "=");
        let mark = html.split("state=waiting&before=").nth(1).unwrap().split('"').next().unwrap();
        let older = keeper.get(&format!("/school/letters?state=waiting&before={mark}"));
        assert_eq!(older.text().matches("<th scope=\"row\">").count(), 5);
        assert!(!older.has("before"));
    }

    fn two_runners_on_one_outbox_send_each_letter_once(studio) {
        let ids: Vec<LetterId> = (0..40).map(|_| plain(studio)).collect();
        let memory = Memory::default();
        let sent: usize = std::thread::scope(|scope| {
            let runners: Vec<_> = (0..2)
                .map(|_| {
                    let post = studio.post(Arc::new(memory.clone()));
                    scope.spawn(move || {
                        let mut sent = 0;
                        // "Nothing" may only mean that the other one was quicker; so look until all are gone.
                        for _ in 0..200 {
                            sent += block(post.deliver_all()).unwrap();
                        }
                        sent
                    })
                })
                .collect();
            runners.into_iter().map(|runner| runner.join().unwrap()).sum()
        });
        let mut taken: Vec<LetterId> = memory.taken().iter().map(|sealed| sealed.id).collect();
        taken.sort_unstable();
        taken.dedup();
        assert_eq!((sent, memory.taken().len(), taken.len()), (40, 40, 40));
        for id in ids {
            let row = row(studio, id);
            assert!(row.sent && row.attempts == 1 && row.lease_owner.is_none(), "{row:?}");
        }
    }

    fn a_runner_that_dies_after_sending_repeats_the_letter_with_the_same_message_id(studio) {
        let id = plain(studio);
        let memory = Memory::default();
        let post = studio.post(Arc::new(Dying(memory.clone())));
        block(async {
            let dies = tokio::time::timeout(std::time::Duration::from_millis(700), post.deliver_one()).await;
            assert!(dies.is_err(), "it was cut off while the other side had the letter");
        });
        assert_eq!(memory.taken().len(), 1);
        let held = row(studio, id);
        assert!(!held.sent && held.lease_owner.is_some(), "{held:?}");
        assert_eq!(studio.deliver_one(&memory), Delivery::Nothing, "its lease still holds");
        let_leases_run_out(studio);
        assert_eq!(studio.deliver_one(&memory), Delivery::Sent);
        let ids: Vec<_> = memory.taken().iter().map(|sealed| Mail::read(sealed).header("Message-ID")).collect();
        assert_eq!(ids, [ids[0].clone(), ids[0].clone()]);
        assert_eq!(ids[0].as_deref(), Some(format!("<{id}@127.0.0.1>").as_str()));
        assert_eq!(row(studio, id).attempts, 2);
    }

    fn a_runner_that_was_away_too_long_overwrites_nothing(studio) {
        use tympan::store::letters::outbox::{self, Outcome};
        let id = plain(studio);
        let (db, now) = (&mut studio.connection(), studio.now());
        let slow = outbox::claim(db, "slow", now).unwrap().unwrap();
        assert!(outbox::claim(db, "quick", now).unwrap().is_none(), "one holds it");
        assert!(outbox::renew(db, &slow).unwrap());
        let_leases_run_out(studio);
        assert!(!outbox::renew(db, &slow).unwrap(), "a lease that ran out is not renewed");
        let quick = outbox::claim(db, "quick", now).unwrap().unwrap();
        assert!(outbox::finish(db, &quick, now, &Outcome::Sent).unwrap());
        let failed = Outcome::Failed { why: "too late".into() };
        assert!(!outbox::finish(db, &slow, now, &failed).unwrap());
        assert!(!outbox::finish(db, &quick, now, &failed).unwrap(), "finished is finished");
        let row = row(studio, id);
        assert!(row.sent && !row.failed && row.last_error.is_none(), "{row:?}");
    }

    fn a_kind_of_a_newer_program_and_a_broken_row_hold_nothing_up(studio) {
        let newer = put(studio, studio.world.student, None, "from-next-year", "{}");
        let broken = put(studio, studio.world.student, None, "reset", "no json");
        let fine = plain(studio);
        assert_eq!(studio.letters().len(), 1);
        assert!(row(studio, fine).sent);
        let (newer, broken) = (row(studio, newer), row(studio, broken));
        assert!(newer.attempts == 0 && !newer.sent, "{newer:?}");
        assert!(broken.not_before > studio.now() && broken.last_error.is_some(), "{broken:?}");
        assert!(studio.signed_in(KEEPER).get("/school/letters").read().contains("Letter of a newer version"));
    }

    fn the_loop_delivers_and_ends_when_told(studio) {
        let id = plain(studio);
        let memory = Memory::default();
        let post = studio.post(Arc::new(memory.clone()));
        block(async {
            let (stop, stopped) = tokio::sync::watch::channel(false);
            let running = actix_web::rt::spawn(async move { post.run(stopped).await });
            for _ in 0..200 {
                if row(studio, id).sent {
                    break;
                }
                tokio::time::sleep(std::time::Duration::from_millis(50)).await;
            }
            stop.send_replace(true);
            let ends = tokio::time::timeout(std::time::Duration::from_secs(3), running).await;
            ends.expect("it rests five seconds, but not when told to stop").unwrap();
        });
        assert!(row(studio, id).sent && memory.taken().len() == 1);
    }

    fn a_dead_server_loses_nothing(studio) {
        let ids: Vec<LetterId> = (0..3).map(|_| plain(studio)).collect();
        let memory = Memory::default();
        memory.will_answer([refuse(Lasting::Everything, "connection refused")]);
        let post = studio.post(Arc::new(memory.clone()));
        assert_eq!(block(post.deliver_all()).unwrap(), 0, "after the first nothing more is tried");
        assert_eq!(ids.iter().filter(|id| row(studio, **id).attempts > 0).count(), 1);
        let page = studio.signed_in(KEEPER).get("/school/letters").read();
        assert_eq!((page.matches("next try").count(), page.matches("Waiting Tue 20 Oct, 14:00 UTC").count()), (1, 2), "{page}");
        studio.later_ms(2 * HOUR);
        assert_eq!(block(post.deliver_all()).unwrap(), 3);
        assert!(ids.iter().all(|id| row(studio, *id).sent));
    }
}
