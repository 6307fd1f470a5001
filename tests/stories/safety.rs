//! Sign-offs: the sheet, looking over, taking back, withdrawing, acknowledging; checklists in versions.

use diesel::prelude::*;
use tympan::ids::SignOffId;
use tympan::store::safety::held::{self, Whose};
use tympan::store::schema::sign_off;

use crate::on_both;
use crate::studio::Studio;
use crate::studio::things::Things;
use crate::studio::world::*;

fn set(studio: &Studio) -> Things {
    Things::set(&mut studio.connection(), &studio.world)
}

fn given_to_the_other(studio: &Studio) -> SignOffId {
    sign_off::table
        .filter(sign_off::person_id.eq(studio.world.other_student))
        .select(sign_off::id)
        .first(&mut studio.connection())
        .unwrap()
}

fn count(studio: &Studio) -> i64 {
    sign_off::table.count().get_result(&mut studio.connection()).unwrap()
}

on_both! {
    fn an_instructor_ticks_looks_over_signs_and_takes_back(studio) {
        let things = set(studio);
        let path = format!("{}/sign-offs", studio.class_path());
        let instructor = studio.signed_in(INSTRUCTOR);
        let sheet = instructor.get(&format!("{path}?topic={}&grade=watched", things.topic));
        assert!(sheet.read().contains("Goggles before the bottle is opened"), "{}", sheet.read());
        let seen = format!("{}:{}", studio.world.other_student, things.point);
        let (topic, version) = (things.topic.to_string(), things.topic_version.to_string());
        let base = [("topic", topic.as_str()), ("version", &version), ("grade", "watched"), ("note", "by the sink")];
        let all = instructor.post(&path, &[&base[..], &[("stage", "tick-all")]].concat());
        assert_eq!(all.text().matches(" checked").count(), 2, "both students, one point each");
        let none = instructor.post(&path, &[&base[..], &[("stage", "look-over")]].concat());
        assert_eq!(none.status, 422);
        assert!(none.read().contains("Nobody is ticked"));
        let before = count(studio);
        let over = instructor.post(&path, &[&base[..], &[("stage", "look-over"), ("seen", &seen)]].concat());
        assert!(over.read().contains("Otis Wren") && over.has(&seen), "{}", over.read());
        assert_eq!(count(studio), before, "looking over stores nothing");
        let once = "a-once-key-of-the-form";
        for _ in 0..2 {
            let signed = instructor.post_once(&path, &[&base[..], &[("stage", "sign"), ("seen", &seen)]].concat(), once);
            assert_eq!(signed.status, 303, "{}", signed.read());
        }
        assert_eq!(count(studio), before + 1, "the same submit twice is one sign-off");
        let id = given_to_the_other(studio);
        let assistant = studio.signed_in(ASSISTANT);
        assert_eq!(assistant.post(&format!("{path}/{id}/take-back"), &[]).status, 404, "not the giver");
        assert_eq!(instructor.post(&format!("{path}/{id}/take-back"), &[]).status, 303);
        let whose = Whose::Person(studio.world.other_student, studio.world.studio);
        let held = held::held(&mut studio.connection(), whose).unwrap();
        assert!(held.is_empty(), "taken back, it counts no more");
    }

    fn after_ten_minutes_only_a_withdrawal_with_a_reason_helps(studio) {
        let things = set(studio);
        let path = format!("{}/sign-offs", studio.class_path());
        let instructor = studio.signed_in(INSTRUCTOR);
        studio.later_ms(11 * 60_000);
        let late = instructor.post(&format!("{path}/{}/take-back", things.sign_off), &[]);
        assert_eq!(late.status, 409, "{}", late.read());
        assert_eq!(instructor.post(&format!("{path}/{}/withdraw", things.sign_off), &[("reason", "")]).status, 422);
        let gone = instructor.post(&format!("{path}/{}/withdraw", things.sign_off), &[("reason", "worked without goggles")]);
        assert_eq!(gone.status, 303);
        let again = instructor.post(&format!("{path}/{}/withdraw", things.sign_off), &[("reason", "again")]);
        assert_eq!(again.status, 404);
        let record = instructor.get(&format!("{path}/record"));
        assert!(record.read().contains("worked without goggles"), "{}", record.read());
    }

    fn a_demonstration_counts_once_it_is_acknowledged(studio) {
        let things = set(studio);
        let path = format!("{}/sign-offs", studio.class_path());
        let student = studio.signed_in(STUDENT);
        let whose = Whose::Person(studio.world.student, studio.world.studio);
        let held = |studio: &Studio| held::held(&mut studio.connection(), whose).unwrap().len();
        assert_eq!(held(studio), 0);
        assert!(student.get(&path).read().contains("I was there and understood it"));
        let other = studio.signed_in(OTHER_STUDENT);
        assert_eq!(other.post(&format!("{path}/{}/acknowledge", things.sign_off), &[]).status, 404);
        assert_eq!(student.post(&format!("{path}/{}/acknowledge", things.sign_off), &[]).status, 303);
        assert_eq!(held(studio), 1);
    }

    fn an_assistant_gives_only_what_they_may_witness(studio) {
        let things = set(studio);
        let path = format!("{}/sign-offs", studio.class_path());
        let assistant = studio.signed_in(ASSISTANT);
        let (topic, version) = (things.topic.to_string(), things.topic_version.to_string());
        let person = studio.world.other_student.to_string();
        let fields = [("topic", topic.as_str()), ("version", &version), ("grade", "shown"), ("stage", "sign"), ("seen", &person)];
        assert_eq!(assistant.post(&path, &fields).status, 404, "no topic of theirs");
        let instructor = studio.signed_in(INSTRUCTOR);
        let witness = format!("{}:{}", studio.world.assistant, things.topic);
        let kept = instructor.post(&format!("{}/topics", studio.class_path()), &[("topic", &topic), ("witness", &witness)]);
        assert_eq!(kept.status, 303, "{}", kept.read());
        assert_eq!(assistant.post(&path, &fields).status, 303);
        let bad = format!("{}:{}", studio.world.student, things.topic);
        assert_eq!(
            instructor.post(&format!("{}/topics", studio.class_path()), &[("topic", &topic), ("witness", &bad)]).status,
            404, "a student is no witness"
        );
    }

    fn a_checklist_written_anew_is_a_new_version_and_a_stale_sheet_is_not_signed(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let page = format!("{}/topics/{}", studio.class_path(), things.topic);
        let fields = [("number", "1"), ("introduction", "Acid burns."), ("points", "Goggles\r\nGloves\r\n"), ("valid_days", "365")];
        assert_eq!(instructor.post(&page, &fields).status, 303);
        let stale = instructor.post(&page, &fields);
        assert_eq!(stale.status, 422, "{}", stale.read());
        assert!(stale.has("Acid burns.") && stale.read().contains("newer version"));
        for bad in [("points", ""), ("valid_days", "0"), ("valid_days", "soon"), ("number", "x")] {
            let mut fields = fields;
            for field in &mut fields { if field.0 == bad.0 { field.1 = bad.1; } }
            assert_eq!(instructor.post(&page, &fields).status, 422, "{bad:?}");
        }
        let path = format!("{}/sign-offs", studio.class_path());
        let (topic, old) = (things.topic.to_string(), things.topic_version.to_string());
        let seen = format!("{}:{}", studio.world.student, things.point);
        let late = instructor.post(&path, &[("topic", &topic), ("version", &old), ("grade", "watched"), ("stage", "sign"), ("seen", &seen)]);
        assert_eq!(late.status, 422, "{}", late.read());
    }

    fn readers_read_and_strangers_do_not(studio) {
        set(studio);
        for reader in [SAFETY_OFFICER, RECORDS] {
            let page = studio.signed_in(reader).get(&format!("{}/sign-offs", studio.class_path()));
            assert_eq!(page.status, 200);
            assert!(page.read().contains("Training record"));
        }
        assert_eq!(studio.signed_in(STRANGER).get(&format!("{}/sign-offs", studio.class_path())).status, 404);
    }
}
