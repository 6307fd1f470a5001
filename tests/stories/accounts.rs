//! Accounts: the first set-up, invitations, forgotten passwords, sessions, pauses after wrong tries, rescue.

use diesel::prelude::*;
use tympan::ids::LinkId;
use tympan::store::schema::{letter, link, once, person, school};

use crate::on_both;
use crate::stories::refuses;
use crate::studio::world::*;
use crate::studio::{Engine, Studio};

const NEW: &str = "wash out before the roll-up";

/// The address in the newest link of a purpose, as the letter would carry it.
fn newest_link(studio: &Studio, purpose: &str) -> String {
    let id: LinkId = link::table
        .filter(link::purpose.eq(purpose))
        .order((link::created_at.desc(), link::id.desc()))
        .select(link::id)
        .first(&mut studio.connection())
        .unwrap();
    format!("/links/{}", studio.house.key.link_secret(purpose, id.as_str()))
}

fn letters(studio: &Studio, kind: &str) -> i64 {
    letter::table.filter(letter::kind.eq(kind)).count().get_result(&mut studio.connection()).unwrap()
}

fn block<T>(work: impl Future<Output = T>) -> T {
    actix_web::rt::System::new().block_on(work)
}

mod first {
    use super::*;

    fn story(engine: Engine) {
        let studio = Studio::open_empty(engine);
        let address =
            block(tympan::commands::setup::set_up_address(&studio.house)).unwrap().expect("nobody is there");
        let path = address.strip_prefix(&studio.base).unwrap();
        let visitor = studio.visitor();
        assert_eq!(visitor.get("/set-up").status, 410, "not without the link");
        assert_eq!(visitor.get(path).location(), "/set-up");
        let fields = [
            ("school", "Alder Hill College"),
            ("safety_office", "Ext. 4100"),
            ("given_name", "Kora"),
            ("family_name", "Keel"),
            ("email", "kora@college.example"),
            ("new", NEW),
            ("again", NEW),
        ];
        let mut wrong = fields;
        wrong[4].1 = "no address";
        wrong[6].1 = "something else altogether";
        let page = visitor.post("/set-up", &wrong);
        assert_eq!(page.status, 422);
        assert!(
            page.has("Alder Hill College") && page.read().contains("no e-mail address"),
            "{}",
            page.read()
        );
        assert!(!page.has(NEW), "a password is never sent back");
        let page = visitor.post("/set-up", &fields);
        assert_eq!(
            (page.status, page.location()),
            (303, "/school?done=done-school-founded"),
            "{}",
            page.read()
        );
        assert_eq!(visitor.get("/school/people").status, 200, "signed in as keeper");
        assert_eq!(studio.visitor().get(path).status, 410, "the link worked once");
        assert_eq!(block(tympan::commands::setup::set_up_address(&studio.house)).unwrap(), None);
        let schools: i64 = school::table.count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(schools, 1);
    }

    #[test]
    fn sqlite() {
        story(Engine::Sqlite);
    }

    #[test]
    fn postgres() {
        story(Engine::Postgres);
    }
}

on_both! {
    fn a_keeper_invites_and_the_invited_opens_the_account_once(studio) {
        let keeper = studio.signed_in(KEEPER);
        let fields = [("given_name", "Ren"), ("family_name", "Óssur"), ("email", "ren@college.example"), ("right", "records")];
        let once = "0123456789abcdef0123";
        for _ in 0..2 {
            let page = keeper.post_once("/school/people", &fields, once);
            assert_eq!(page.status, 303, "{}", page.read());
        }
        assert_eq!(letters(studio, "invitation"), 1, "the same submit twice is one person, one letter");
        let taken = keeper.post("/school/people", &fields);
        assert_eq!(taken.status, 422);
        assert!(taken.read().contains("known already") && taken.has("Óssur"));
        let details: Vec<String> = letter::table.select(letter::detail).load(&mut studio.connection()).unwrap();
        let path = newest_link(studio, "invitation");
        let secret = path.rsplit('/').next().unwrap();
        assert!(details.iter().all(|detail| !detail.contains(secret)), "no letter row holds a secret");
        let visitor = studio.visitor();
        let followed = visitor.get(&path);
        assert_eq!(followed.location(), "/new-password");
        assert!(visitor.get("/new-password").read().contains("Ren Óssur"));
        for (new, again) in [("short", "short"), ("passwordpassword", "passwordpassword"), (NEW, "wash out after the roll-up")] {
            assert_eq!(visitor.post("/new-password", &[("new", new), ("again", again)]).status, 422);
        }
        let opened = visitor.post("/new-password", &[("new", NEW), ("again", NEW)]);
        assert_eq!(opened.status, 303, "{}", opened.read());
        assert_eq!(visitor.get("/").status, 200, "signed in");
        assert_eq!(studio.visitor().get(&path).status, 410, "used up");
    }

    fn an_invitation_sent_again_ends_the_one_before_and_old_ones_expire(studio) {
        let keeper = studio.signed_in(KEEPER);
        keeper.post("/school/people", &[("given_name", "Ren"), ("family_name", "Os"), ("email", "ren@college.example")]);
        let id: tympan::ids::PersonId = person::table
            .filter(person::email_key.eq("ren@college.example")).select(person::id)
            .first(&mut studio.connection()).unwrap();
        let first = newest_link(studio, "invitation");
        studio.later_ms(60_000);
        assert_eq!(keeper.post(&format!("/school/people/{id}"), &[("invite", "yes")]).status, 303);
        let second = newest_link(studio, "invitation");
        assert_ne!(first, second);
        assert_eq!(studio.visitor().get(&first).status, 410);
        assert_eq!(studio.visitor().get(&second).status, 303);
        let slip = keeper.get(&format!("/school/people/{id}/slip"));
        assert!(slip.has(&second), "the slip carries the open link: {}", slip.read());
        studio.later_ms(15 * 86_400_000);
        assert_eq!(studio.visitor().get(&second).status, 410, "expired");
    }

    fn a_forgotten_password_is_given_anew_and_strangers_learn_nothing(studio) {
        let visitor = studio.visitor();
        let known = visitor.post("/forgotten", &[("email", STUDENT)]);
        let unknown = visitor.post("/forgotten", &[("email", "nobody@college.example")]);
        assert_eq!(known.read(), unknown.read());
        assert_eq!(letters(studio, "reset"), 1);
        let elsewhere = studio.signed_in(STUDENT);
        let path = newest_link(studio, "reset");
        assert_eq!(visitor.get(&path).status, 303);
        let set = visitor.post("/new-password", &[("new", NEW), ("again", NEW)]);
        assert_eq!(set.location(), "/sign-in?done=done-password-set", "{}", set.read());
        assert_eq!(visitor.get("/account").status, 303, "not signed in by a reset");
        assert_eq!(elsewhere.get("/account").status, 303, "other sessions ended");
        assert_eq!(letters(studio, "password-changed"), 1);
        let old = visitor.post("/sign-in", &[("email", STUDENT), ("password", PASSWORD)]);
        assert_eq!(old.status, 422);
        assert_eq!(visitor.post("/sign-in", &[("email", "STUDENT@college.example"), ("password", NEW)]).status, 303);
    }

    fn a_reset_dies_with_the_password_it_was_made_for_and_after_half_an_hour(studio) {
        let visitor = studio.visitor();
        visitor.post("/forgotten", &[("email", STUDENT)]);
        let path = newest_link(studio, "reset");
        let student = studio.signed_in(STUDENT);
        let page = student.post("/account/password", &[("current", PASSWORD), ("new", NEW), ("again", NEW)]);
        assert_eq!(page.status, 303, "{}", page.read());
        assert_eq!(studio.visitor().get(&path).status, 410);
        visitor.post("/forgotten", &[("email", INSTRUCTOR)]);
        let path = newest_link(studio, "reset");
        studio.later_ms(31 * 60_000);
        assert_eq!(studio.visitor().get(&path).status, 410);
    }

    fn the_account_page_changes_the_password_and_ends_sessions(studio) {
        let (here, there) = (studio.signed_in(STUDENT), studio.signed_in(STUDENT));
        let page = here.get("/account");
        assert_eq!(page.text().matches("/account/sessions/").count(), 1, "one other session");
        let wrong = here.post("/account/password", &[("current", "wrong"), ("new", NEW), ("again", NEW)]);
        assert_eq!(wrong.status, 422);
        let other = page.text().split("/account/sessions/").nth(1).unwrap()[..36].to_owned();
        let thief = studio.signed_in(OTHER_STUDENT);
        assert_eq!(thief.post(&format!("/account/sessions/{other}/end"), &[]).status, 404);
        assert_eq!(here.post(&format!("/account/sessions/{other}/end"), &[]).status, 303);
        assert_eq!(there.get("/account").status, 303);
        assert_eq!(here.post("/account/preferences", &[("volume_unit", "ml")]).status, 303);
        assert_eq!(here.post("/account/preferences", &[("volume_unit", "gill")]).status, 422);
    }

    fn guessing_is_slowed_and_the_owner_of_a_known_browser_is_not(studio) {
        let owner = studio.signed_in(STUDENT);
        owner.post("/sign-out", &[]);
        let guesser = studio.visitor();
        for _ in 0..5 {
            assert_eq!(guesser.post("/sign-in", &[("email", STUDENT), ("password", "guess")]).status, 422);
        }
        let page = guesser.post("/sign-in", &[("email", STUDENT), ("password", "guess")]);
        assert_eq!(page.status, 429, "{}", page.read());
        assert!(page.headers.contains_key("retry-after"));
        let back = owner.post("/sign-in", &[("email", STUDENT), ("password", PASSWORD)]);
        assert_eq!(back.status, 303, "a known browser passes");
    }

    fn thirty_people_sign_in_from_one_address_at_once(studio) {
        for n in 0..30 {
            let who = [STUDENT, OTHER_STUDENT, INSTRUCTOR, ASSISTANT][n % 4];
            let visitor = studio.visitor();
            assert_eq!(visitor.post("/sign-in", &[("email", who), ("password", PASSWORD)]).status, 303);
        }
    }

    fn sessions_end_by_themselves(studio) {
        let (student, instructor) = (studio.signed_in(STUDENT), studio.signed_in(INSTRUCTOR));
        studio.later_ms(3 * 3_600_000);
        assert_eq!(instructor.get("/account").status, 200);
        std::thread::sleep(std::time::Duration::from_millis(300));
        studio.later_ms(5 * 3_600_000);
        assert_eq!(instructor.get("/account").status, 303, "idle for more than four hours");
        assert_eq!(student.get("/account").status, 200);
        studio.later_ms(31 * 86_400_000);
        assert_eq!(student.get("/account").status, 303);
    }

    fn the_last_keeper_stays_and_weighty_acts_ask_for_the_password_again(studio) {
        let keeper = studio.signed_in(KEEPER);
        let me = format!("/school/people/{}", studio.world.keeper);
        let refused = keeper.post(&me, &[("right", "keeper"), ("held", "no")]);
        assert_eq!(refused.status, 422, "{}", refused.read());
        assert!(refused.read().contains("last keeper") && refused.read().contains("People of the school"));
        for nonsense in [&[("right", "king"), ("held", "yes")][..], &[]] {
            let page = keeper.post(&me, nonsense);
            assert_eq!(page.status, 422);
            assert!(page.has("class=\"summary\"") && page.read().contains("Kora Keel"), "{}", page.read());
        }
        studio.later_ms(11 * 60_000);
        assert_eq!(keeper.post(&me, &[("right", "records"), ("held", "yes")]).status, 401);
        assert_eq!(keeper.post("/account/confirm", &[("current", "wrong")]).status, 422);
        assert_eq!(keeper.post("/account/confirm", &[("current", PASSWORD)]).status, 303);
        assert_eq!(keeper.post(&me, &[("right", "records"), ("held", "yes")]).status, 303);
    }

    fn rescue_lets_a_locked_out_keeper_in(studio) {
        let none = block(tympan::commands::setup::rescue_address(&studio.house, "nobody@x.example")).unwrap();
        assert_eq!(none, None);
        let address = block(tympan::commands::setup::rescue_address(&studio.house, KEEPER)).unwrap().unwrap();
        let visitor = studio.visitor();
        assert_eq!(visitor.get(address.strip_prefix(&studio.base).unwrap()).status, 303);
        assert_eq!(visitor.post("/new-password", &[("new", NEW), ("again", NEW)]).status, 303);
        assert_eq!(visitor.post("/sign-in", &[("email", KEEPER), ("password", NEW)]).status, 303);
        let findings = tympan::store::journal::check(&mut studio.connection()).unwrap();
        assert_eq!(findings, [], "the journal's chain holds");
    }

    /// A second click sends the same form again: one letter, one link, one change, and no failed try.
    fn a_second_click_is_no_second_act(studio) {
        let keeper = studio.signed_in(KEEPER);
        keeper.post("/school/people", &[("given_name", "Ren"), ("family_name", "Os"), ("email", "ren@college.example")]);
        let id: tympan::ids::PersonId = person::table
            .filter(person::email_key.eq("ren@college.example")).select(person::id)
            .first(&mut studio.connection()).unwrap();
        let before = letters(studio, "invitation");
        studio.later_ms(60_000);
        for _ in 0..2 {
            assert_eq!(keeper.post_once(&format!("/school/people/{id}"), &[("invite", "yes")], "invited-by-two-clicks").status, 303);
        }
        assert_eq!(letters(studio, "invitation"), before + 1);
        assert_eq!(studio.visitor().get(&newest_link(studio, "invitation")).status, 303, "the link of the one letter opens");
        let visitor = studio.visitor();
        for _ in 0..2 {
            let page = visitor.post_once("/forgotten", &[("email", STUDENT)], "forgotten-by-two-clicks");
            assert_eq!(page.status, 200, "{}", page.read());
        }
        assert_eq!(letters(studio, "reset"), 1);
        let student = studio.signed_in(STUDENT);
        let fields = [("current", PASSWORD), ("new", NEW), ("again", NEW)];
        for _ in 0..2 {
            let page = student.post_once("/account/password", &fields, "changed-by-two-clicks");
            assert_eq!(page.location(), "/account?done=done-password-changed", "{}", page.read());
        }
        assert_eq!(letters(studio, "password-changed"), 1);
        let failed: i32 = person::table.find(studio.world.student).select(person::failed_sign_ins)
            .first(&mut studio.connection()).unwrap();
        assert_eq!(failed, 0, "the second click is no failed try");
        let digest: String = once::table.find("changed-by-two-clicks").select(once::body_sha256)
            .first(&mut studio.connection()).unwrap();
        let pairs = [("once", "changed-by-two-clicks"), fields[0], fields[1], fields[2]];
        let plain = tympan::secrets::sha256_hex(format!("/account/password\0{}", serde_json::to_string(&pairs).unwrap()).as_bytes());
        assert_ne!(digest, plain, "no password can be guessed from what is stored");
    }

    /// The owner alone, after the password; both addresses are told, and what was sent to the old one opens nothing.
    fn the_owner_changes_the_address(studio) {
        let student = studio.signed_in(STUDENT);
        studio.visitor().post("/forgotten", &[("email", STUDENT)]);
        let before = newest_link(studio, "reset");
        let fresh = "sami.vale@elsewhere.example";
        let fields = [("email", fresh), ("again", fresh)];
        assert_eq!(student.get("/account/email").status, 200);
        refuses(&student, "/account/email", "people-email", &fields, &[
            ("email", "", "This is missing"),
            ("email", "no address", "no e-mail address"),
            ("again", "other@elsewhere.example", "The two entries differ"),
        ]);
        for (taken, said) in [(INSTRUCTOR, "signs in with this address"), (STUDENT, "your address already")] {
            let page = student.post("/account/email", &[("email", taken), ("again", taken)]);
            assert_eq!(page.status, 422);
            assert!(page.read().contains(said) && page.has(&format!("value=\"{taken}\"")), "{}", page.read());
        }
        assert_eq!(letters(studio, "email-changed"), 0);
        studio.later_ms(11 * 60_000);
        assert_eq!(student.get("/account/email").location(), "/account/confirm?next=/account/email");
        assert_eq!(student.post("/account/email", &fields).status, 401);
        assert_eq!(student.post("/account/confirm", &[("current", PASSWORD)]).status, 303);
        for _ in 0..2 {
            let page = student.post_once("/account/email", &fields, "changed-by-two-clicks");
            assert_eq!(page.location(), "/account?done=done-email-changed", "{}", page.read());
        }
        let told: Vec<_> = studio.letters().into_iter().filter(|mail| mail.head.contains("address was changed")).collect();
        let mut to: Vec<&str> = told.iter().map(|mail| mail.to.as_str()).collect();
        to.sort_unstable();
        assert_eq!(to, [fresh, STUDENT]);
        let old = told.iter().find(|mail| mail.to == STUDENT).unwrap();
        assert!(old.text.contains(fresh) && old.text.contains("the last that comes here"), "{}", old.text);
        let new = told.iter().find(|mail| mail.to == fresh).unwrap();
        assert!(new.text.contains("letters come here") && new.html.contains("/account"), "{}", new.text);
        assert_eq!(studio.visitor().get(&before).status, 410, "a link that went to the old address");
        assert_eq!(studio.visitor().post("/sign-in", &[("email", STUDENT), ("password", PASSWORD)]).status, 422);
        assert_eq!(studio.visitor().post("/sign-in", &[("email", fresh), ("password", PASSWORD)]).status, 303);
        assert_eq!(tympan::store::journal::check(&mut studio.connection()).unwrap(), []);
    }

    fn a_keeper_changes_a_name_and_what_the_school_is_called(studio) {
        let (keeper, other) = (studio.signed_in(KEEPER), studio.signed_in(KEEPER));
        let path = format!("/school/people/{}/name", studio.world.student);
        assert!(keeper.get(&path).has("value=\"Vale\""));
        let fields = [("given_name", "Sami"), ("family_name", "Vale-Ortiz"), ("version", "1")];
        refuses(&keeper, &path, "people-name", &fields, &[
            ("given_name", "", "This is missing"),
            ("family_name", "a\u{7}b", "control characters"),
        ]);
        assert_eq!(keeper.post(&path, &fields).status, 303);
        let stale = other.post(&path, &[("given_name", "Samuel"), ("family_name", "Vale"), ("version", "1")]);
        assert_eq!(stale.status, 422);
        assert!(stale.read().contains("Now stands here: “Vale-Ortiz”") && stale.has("value=\"Samuel\""), "{}", stale.read());
        let list = studio.signed_in(INSTRUCTOR).get(&format!("{}/people", studio.class_path()));
        assert!(list.read().contains("Vale-Ortiz"), "{}", list.read());
        let nobody = format!("/school/people/{}/name", tympan::ids::PersonId::new(NOW));
        assert_eq!(keeper.get(&nobody).status, 404);
        assert_eq!(keeper.post(&nobody, &fields).status, 404);
        let about = [("school", "Alder Hill School of Art"), ("safety_office", "Safety office, ext. 4200"), ("version", "1")];
        assert!(keeper.get("/school/about").has("value=\"Alder Hill College\""));
        let long = "x".repeat(201);
        refuses(&keeper, "/school/about", "school-about", &about, &[
            ("school", "", "This is missing"),
            ("safety_office", "", "This is missing"),
            ("safety_office", &long, "at most 200 fit"),
        ]);
        assert_eq!(keeper.post("/school/about", &about).status, 303);
        assert_eq!(other.post("/school/about", &about).status, 422, "saved meanwhile");
        let stands: (String, String) = school::table.select((school::name, school::safety_office))
            .first(&mut studio.connection()).unwrap();
        assert_eq!(stands, ("Alder Hill School of Art".to_owned(), "Safety office, ext. 4200".to_owned()));
    }

    /// Words that somebody who knows the place would try are no password: the school's name, the code of the class.
    fn a_password_of_the_schools_own_words_is_refused(studio) {
        let student = studio.signed_in(STUDENT);
        for new in ["alder hill college", "LIT-B LIT-B 2026 vale", "chocolate-liverpool", "1qaz2wsx3edc4rfv"] {
            let page = student.post("/account/password", &[("current", PASSWORD), ("new", new), ("again", new)]);
            assert_eq!(page.status, 422, "{new}");
            assert!(page.has("people-password-new-complaint"), "{}", page.read());
        }
    }

    fn next_never_leads_away(studio) {
        for next in ["//evil.example", "/\\evil.example", "https://evil.example", "javascript:alert(1)"] {
            let page = studio.visitor().post("/sign-in", &[("email", STUDENT), ("password", PASSWORD), ("next", next)]);
            assert_eq!(page.location(), "/", "{next}");
        }
    }
}
