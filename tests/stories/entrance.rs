//! Signing in and out, and what a stranger sees.

use crate::on_both;
use crate::studio::world::{ASSISTANT, INSTRUCTOR, KEEPER, NOW, RECORDS, SAFETY_OFFICER, STUDENT};

on_both! {
    fn a_person_signs_in_and_out(studio) {
        let visitor = studio.visitor();
        assert_eq!(visitor.get("/").location(), "/sign-in?next=/");
        let refused = visitor.post("/sign-in", &[("email", INSTRUCTOR), ("password", "wrong")]);
        assert_eq!(refused.status, 422);
        assert!(refused.read().contains("do not belong together"), "{}", refused.read());
        assert!(refused.has(INSTRUCTOR), "what was typed is kept");
        let visitor = studio.signed_in(KEEPER);
        assert_eq!(visitor.get("/").status, 200);
        let thief = studio.visitor();
        thief.set_cookie("sid", &visitor.cookie("sid").unwrap());
        assert_eq!(thief.get("/").status, 200);
        assert_eq!(visitor.post("/sign-out", &[]).status, 303);
        assert_eq!(thief.get("/").status, 303, "the session is dead, not only the cookie");
    }

    fn a_form_without_the_seal_changes_nothing(studio) {
        let visitor = studio.signed_in(KEEPER);
        let refused = visitor.post_bare("/sign-out", &[]);
        assert_eq!(refused.status, 403);
        assert_eq!(visitor.get("/").status, 200);
    }

    fn everybody_finds_the_way_to_their_classes(studio) {
        let world = &studio.world;
        assert_eq!(studio.signed_in(STUDENT).get("/").location(), format!("/classes/{}", world.class));
        for (email, first, word) in [(RECORDS, "/people", "records staff"), (SAFETY_OFFICER, "/sign-offs", "safety officer")] {
            let visitor = studio.signed_in(email);
            let hall = visitor.get("/");
            for class in [world.class, world.other_class] {
                let path = format!("/classes/{class}{first}");
                assert!(hall.has(&format!("href=\"{path}\"")) && hall.read().contains(word), "{email}: {}", hall.read());
                assert_eq!(visitor.get(&path).status, 200, "{email} {path}");
            }
        }
        let keeper = studio.signed_in(KEEPER).get("/");
        assert!(keeper.read().contains("kept under School") && keeper.has("<a class=\"link-row\" href=\"/school\">"), "{}", keeper.read());
    }

    fn the_hall_says_what_waits(studio) {
        use diesel::prelude::*;
        use tympan::clock::DAY_MS;
        use tympan::store::schema::{asking, enrolment, letter, sign_off};
        let world = &studio.world;
        let things = crate::stories::doors::things(studio);
        let db = &mut studio.connection();

        // Records staff: before the term's end nothing hurries; after it, what is missing.
        let records = studio.signed_in(RECORDS);
        assert!(records.get("/").read().contains("Grades come after the term’s end on"), "{}", records.get("/").read());
        studio.later_ms(120 * DAY_MS);
        let records = studio.signed_in(RECORDS);
        let said = records.get("/").read();
        assert!(said.contains("2 grades are not submitted; the term ended on Fri 18 Dec"), "{said}");
        studio.later_ms(-120 * DAY_MS);

        // The safety officer: a sign-off that ends, unless a later one of the topic holds longer.
        let officer = studio.signed_in(SAFETY_OFFICER);
        let until = |days| Some(NOW.plus_ms(days * DAY_MS).utc().date_naive());
        let set = |db: &mut _, days| diesel::update(sign_off::table.find(things.sign_off)).set((sign_off::valid_until.eq(until(days)), sign_off::acknowledged_at.eq(Some(NOW)))).execute(db).unwrap();
        for (days, ends) in [(-1, false), (0, true), (14, true), (15, false)] {
            set(db, days);
            assert_eq!(officer.get("/").read().contains("One sign-off ends within 14 days."), ends, "{days}");
        }
        set(db, 3);
        diesel::update(sign_off::table.find(things.sign_off)).set(sign_off::withdrawn_at.eq(Some(NOW))).execute(db).unwrap();
        assert!(!officer.get("/").read().contains("ends within"));
        use tympan::store::schema::container;
        assert!(officer.get("/").read().contains("One bottle of acid or stock etch has no data sheet on file."), "{}", officer.get("/").read());
        diesel::update(container::table).set(container::finished_at.eq(Some(NOW))).execute(db).unwrap();
        assert!(!officer.get("/").read().contains("no data sheet on file"), "an empty bottle needs none");

        // The keeper: a class nobody leads, letters nobody got.
        let keeper = studio.signed_in(KEEPER);
        assert!(!keeper.get("/").read().contains("could not be sent"));
        diesel::update(letter::table).set(letter::failed_at.eq(Some(NOW))).execute(db).unwrap();
        let failed: i64 = letter::table.count().get_result(db).unwrap();
        let said = if failed == 1 { "One letter could not be sent".to_owned() } else { format!("{failed} letters could not be sent") };
        assert!(keeper.get("/").read().contains(&said), "{}", keeper.get("/").read());
        diesel::update(enrolment::table.filter(enrolment::role.eq("instructor").and(enrolment::class_id.eq(world.class))))
            .set(enrolment::state.eq("withdrawn")).execute(db).unwrap();
        let hall = keeper.get("/");
        assert!(hall.read().contains("has no instructor: add one") && hall.has(&format!("/school/classes/{}/instructors", world.class)));

        studio.later_ms(120 * DAY_MS);
        assert!(!studio.signed_in(KEEPER).get("/").read().contains("has no instructor"), "nobody is needed when the term is over");
        studio.later_ms(-120 * DAY_MS);

        // An assistant of two classes: who asked for somebody.
        for class in [world.class, world.other_class] {
            let known: i64 = enrolment::table.filter(enrolment::class_id.eq(class).and(enrolment::person_id.eq(world.assistant))).count().get_result(db).unwrap();
            if known == 0 {
                diesel::insert_into(enrolment::table).values((
                    (enrolment::id.eq(tympan::ids::EnrolmentId::new(NOW)), enrolment::class_id.eq(class)),
                    (enrolment::person_id.eq(world.assistant), enrolment::role.eq("assistant"), enrolment::state.eq("enrolled")),
                    (enrolment::joined_at.eq(NOW), enrolment::version.eq(1)),
                    enrolment::since.eq(chrono::NaiveDate::from_ymd_opt(2026, 8, 31).unwrap()),
                )).execute(db).unwrap();
            }
        }
        diesel::update(asking::table).set((asking::answered_at.eq(None::<tympan::clock::Instant>), asking::taken_back_at.eq(None::<tympan::clock::Instant>), asking::until_at.eq(NOW.plus_ms(DAY_MS)))).execute(db).unwrap();
        let assistant = studio.signed_in(ASSISTANT);
        assert!(assistant.get("/").read().contains("One person waits for you."), "{}", assistant.get("/").read());
    }

    fn probes_answer(studio) {
        assert_eq!(studio.visitor().get("/healthz").status, 200);
        assert_eq!(studio.visitor().get("/readyz").status, 200);
        assert_eq!(studio.visitor().get("/no-such-page").status, 404);
    }
}

mod empty {
    use crate::studio::{Engine, Studio};

    #[test]
    fn an_empty_house_lets_nobody_in_and_later_sessions_end() {
        let studio = Studio::open_empty(Engine::Sqlite);
        let page = studio.visitor().post("/sign-in", &[("email", "a@b.example"), ("password", "x")]);
        assert_eq!(page.status, 422);
    }
}
