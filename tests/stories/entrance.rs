//! Signing in and out, and what a stranger sees.

use crate::on_both;
use crate::studio::world::{INSTRUCTOR, KEEPER, RECORDS, SAFETY_OFFICER, STUDENT};

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
