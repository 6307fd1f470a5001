//! Sign-offs: the sheet, looking over, taking back, withdrawing, acknowledging; checklists in versions.

use diesel::prelude::*;
use tympan::ids::SignOffId;
use tympan::store::safety::held::{self, Whose};
use tympan::store::safety::topics;
use tympan::store::schema::sign_off;

use crate::on_both;
use crate::stories::{but, refuses, rows};
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

/// What the page of the checklists carries along, to be compared when it is kept.
fn standing(studio: &Studio) -> String {
    topics::standing(&mut studio.connection(), studio.world.class).unwrap()
}

fn count(studio: &Studio) -> i64 {
    sign_off::table.count().get_result(&mut studio.connection()).unwrap()
}

/// Who acts, where, with what, and what the journal calls it.
type Twice<'a> = (&'a crate::studio::Visitor, String, &'a [(&'a str, &'a str)], &'a str);

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
        let long = "because ".repeat(50);
        for typed in ["", long.as_str()] {
            let again = instructor.post(&format!("{path}/{}/withdraw", things.sign_off), &[("reason", typed)]);
            assert_eq!(again.status, 422);
            assert!(again.has("id=\"safety-withdraw-reason-complaint\"") && again.has(typed.trim()), "{}", again.read());
            assert!(again.read().contains("Training record"), "on the page it was typed on");
        }
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
        let version = standing(studio);
        let kept = instructor.post(&format!("{}/topics", studio.class_path()), &[("topic", &topic), ("witness", &witness), ("version", &version)]);
        assert_eq!(kept.status, 303, "{}", kept.read());
        assert_eq!(assistant.post(&path, &fields).status, 303);
        let own = studio.world.assistant.to_string();
        for stage in ["look-over", "sign"] {
            let mine = but(&but(&fields, "seen", &own), "stage", stage);
            let refused = assistant.post(&path, &mine);
            assert_eq!(refused.status, 422, "{stage}: {}", refused.read());
            assert!(refused.read().contains("Nobody signs themselves off"), "{}", refused.read());
        }
        let to_self = sign_off::table.filter(sign_off::person_id.eq(studio.world.assistant)).count();
        assert_eq!(to_self.get_result::<i64>(&mut studio.connection()).unwrap(), 0);
        let version = standing(studio);
        let bad = format!("{}:{}", studio.world.student, things.topic);
        let nowhere = "11111111-1111-7111-8111-111111111111";
        let unknown = format!("{}:{nowhere}", studio.world.assistant);
        for (field, value, said) in [
            ("witness", bad.as_str(), "no assistant of this class"),
            ("witness", "nonsense", "no assistant of this class"),
            ("witness", unknown.as_str(), "not there any more"),
            ("topic", nowhere, "not there any more"),
        ] {
            let fields = [("topic", topic.as_str()), ("version", &version), (field, value)];
            let page = instructor.post(&format!("{}/topics", studio.class_path()), &fields);
            assert_eq!(page.status, 422, "{field}={value}: {}", page.read());
            assert!(page.read().contains(said), "{field}={value}: {}", page.read());
            assert!(page.has(&format!("name=\"topic\" value=\"{topic}\" checked")), "ticks are kept");
            assert_eq!(standing(studio), version, "nothing is stored");
        }
    }

    fn a_sheet_that_cannot_be_read_keeps_its_ticks(studio) {
        let things = set(studio);
        let path = format!("{}/sign-offs", studio.class_path());
        let instructor = studio.signed_in(INSTRUCTOR);
        let (topic, version) = (things.topic.to_string(), things.topic_version.to_string());
        let seen = format!("{}:{}", studio.world.other_student, things.point);
        let long = "x".repeat(600);
        let base = [("topic", topic.as_str()), ("version", version.as_str()), ("grade", "watched"), ("seen", seen.as_str())];
        for wrong in [("note", long.as_str()), ("seen", "nobody")] {
            for stage in ["look-over", "sign"] {
                let page = instructor.post(&path, &[&base[..], &[wrong, ("stage", stage)]].concat());
                assert_eq!(page.status, 422, "{wrong:?}");
                assert!(page.has(&format!("value=\"{seen}\" checked")), "{}", page.read());
                assert!(page.has("class=\"summary\""), "{}", page.read());
            }
        }
        assert_eq!(count(studio), 1);
    }

    fn an_instructor_adds_a_checklist_for_the_school(studio) {
        set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/topics/new", studio.class_path());
        assert_eq!(instructor.get(&path).status, 200);
        let fields = [("title", "Stone lifting & hoist"), ("introduction", "Two people."), ("points", "Looks at the strap\nClears the way"), ("valid_days", "")];
        refuses(&instructor, &path, "safety-topic", &fields, &[
            ("title", "", "This is missing"),
            ("title", "acid AND gum", "of this name already"),
            ("points", "  \n ", "This is missing"),
            ("valid_days", "0", "outside what is possible"),
        ]);
        assert_eq!(rows(studio, "topic"), 1);
        let once = "a-once-key-of-the-form";
        for _ in 0..2 {
            let added = instructor.post_once(&path, &fields, once);
            assert_eq!(added.status, 303, "{}", added.read());
        }
        assert_eq!(rows(studio, "topic WHERE key = 'stone-lifting-hoist' AND position = 2"), 1);
        let list = instructor.get(&format!("{}/topics", studio.class_path()));
        assert!(list.read().contains("Stone lifting & hoist") && list.read().contains("Clears the way"), "{}", list.read());
        assert_eq!(rows(studio, "journal WHERE scope = 'school' AND act = 'topic.written'"), 1);
    }

    /// Every form of a sign-off sent twice with its once-key: the second is answered as the first, and nothing is told twice.
    fn the_same_act_twice_is_one(studio) {
        let things = set(studio);
        let path = format!("{}/sign-offs/{}", studio.class_path(), things.sign_off);
        let (instructor, student) = (studio.signed_in(INSTRUCTOR), studio.signed_in(STUDENT));
        let topic = format!("{}/topics/{}", studio.class_path(), things.topic);
        let anew = [("version", "1"), ("introduction", ""), ("points", "Goggles"), ("valid_days", "")];
        let handing = format!("{}/prints/{}/hand-in", studio.class_path(), things.print);
        let acts: [Twice<'_>; 5] = [
            (&student, format!("{path}/acknowledge"), &[], "sign-off.acknowledged"),
            (&instructor, format!("{path}/take-back"), &[], "sign-off.taken-back"),
            (&instructor, topic, &anew, "topic.written"),
            (&student, handing.clone(), &[], "print.handed-in"),
            (&student, handing, &[("back", "yes")], "print.taken-back"),
        ];
        for (place, (who, path, fields, act)) in acts.into_iter().enumerate() {
            let once = format!("once-key-of-act-{place}");
            let first = who.post_once(&path, fields, &once);
            assert_eq!(first.status, 303, "{act}: {}", first.read());
            studio.later_ms(1000);
            let second = who.post_once(&path, fields, &once);
            assert_eq!((second.status, second.location()), (303, first.location()), "{act}");
            assert_eq!(rows(studio, &format!("journal WHERE act = '{act}'")), 1, "{act}");
        }
    }

    fn handing_in_once_more_leaves_the_moment_at_which_it_was(studio) {
        let things = set(studio);
        let student = studio.signed_in(STUDENT);
        let path = format!("{}/prints/{}/hand-in", studio.class_path(), things.print);
        assert_eq!(student.post(&path, &[]).status, 303);
        studio.later_ms(3_600_000);
        assert_eq!(student.post(&path, &[]).status, 303, "from another tab");
        assert_eq!(rows(studio, "journal WHERE act = 'print.handed-in'"), 1);
        assert_eq!(rows(studio, &format!("print WHERE handed_in_at = {}", NOW.millis())), 1);
    }

    fn a_checklist_written_anew_is_a_new_version_and_a_stale_sheet_is_not_signed(studio) {
        let things = set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let page = format!("{}/topics/{}", studio.class_path(), things.topic);
        let fields = [("version", "1"), ("introduction", "Acid burns."), ("points", "Goggles\r\nGloves\r\n"), ("valid_days", "365")];
        assert_eq!(instructor.post(&page, &fields).status, 303);
        let stale = instructor.post(&page, &fields);
        assert_eq!(stale.status, 422, "{}", stale.read());
        assert!(stale.has("Acid burns.") && stale.read().contains("Somebody else saved this"), "{}", stale.read());
        assert!(stale.has("name=\"version\" value=\"2\""), "saving again is a choice: {}", stale.text());
        for bad in [("points", ""), ("valid_days", "0"), ("valid_days", "soon"), ("version", "x")] {
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
