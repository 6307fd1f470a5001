//! In what language somebody is spoken to: what the browser asks for, the link at the foot, the account, and letters.

use diesel::prelude::*;
use tympan::store::schema::person;

use crate::on_both;
use crate::stories::rows;
use crate::studio::world::*;
use crate::studio::{Page, Studio};

fn speaks(page: &Page, tag: &str) -> bool {
    page.has(&format!("<html lang=\"{tag}\">"))
}

/// Whether the page links to an address, as the address reads.
fn leads_to(page: &Page, address: &str) -> bool {
    page.text().replace("&#x3D;", "=").contains(&format!("href=\"{address}\""))
}

/// The language kept with a student.
fn kept(studio: &Studio) -> Option<String> {
    person::table.find(studio.world.student).select(person::language).first(&mut studio.connection()).unwrap()
}

on_both! {
    fn a_browser_is_answered_in_the_language_it_asks_for_until_the_link_is_followed(studio) {
        let visitor = studio.visitor();
        let asked = visitor.get_with("/sign-in", &[("accept-language", "es-MX,es;q=0.9,en;q=0.5")]);
        assert!(speaks(&asked, "es") && asked.read().contains("Contraseña olvidada"), "{}", asked.read());
        assert!(leads_to(&asked, "/language/en?back=/sign-in") && asked.has("lang=\"en\""), "{}", asked.text());
        let plain = visitor.get("/sign-in?next=/account");
        assert!(speaks(&plain, "en"), "nothing asked for is English");
        assert!(leads_to(&plain, "/language/es?back=/sign-in%3Fnext%3D/account"), "{}", plain.text());
        let set = visitor.get("/language/es?back=/sign-in%3Fnext%3D/account");
        assert_eq!((set.status, set.location()), (303, "/sign-in?next=/account"));
        let spanish = visitor.get_with("/sign-in", &[("accept-language", "en")]);
        assert!(speaks(&spanish, "es"), "the link comes before the browser");
        assert_eq!(visitor.get("/language/es?back=//elsewhere.example/").location(), "/");
        let gone = visitor.get("/language/tlh");
        assert!(gone.status == 404 && speaks(&gone, "es"), "{}", gone.read());
        assert!(gone.read().contains("Aquí no hay nada"), "{}", gone.read());
        let refused = visitor.post("/sign-in", &[("email", STUDENT), ("password", "")]);
        assert_eq!(refused.status, 422);
        assert!(refused.read().contains("Falta esto. Rellénelo."), "{}", refused.read());
    }

    fn whoever_is_signed_in_chooses_on_the_account(studio) {
        let student = studio.signed_in(STUDENT);
        let account = student.get("/account");
        assert!(speaks(&account, "en") && !account.has("/language/es"), "no link at the foot: {}", account.text());
        let chosen = [("volume_unit", "ml"), ("letter_hour", "7")];
        let mut spanish = chosen.to_vec();
        spanish.push(("language", "es"));
        let page = student.post("/account/preferences", &spanish);
        assert_eq!(page.location(), "/account?done=done-preferences", "{}", page.read());
        assert_eq!(kept(studio).as_deref(), Some("es"));
        let account = student.get_with("/account?done=done-preferences", &[("accept-language", "en")]);
        assert!(speaks(&account, "es") && account.read().contains("Guardado."), "{}", account.read());
        assert!(account.has("<option value=\"es\" selected>Español</option>"), "{}", account.text());
        assert!(speaks(&studio.signed_in(STUDENT).get("/account"), "es"), "in every browser");
        assert!(speaks(&studio.signed_in(OTHER_STUDENT).get("/account"), "en"), "nobody else");
        let mut wrong = chosen.to_vec();
        wrong.push(("language", "tlh"));
        assert_eq!(student.post("/account/preferences", &wrong).status, 422);
        assert_eq!(student.post("/account/preferences", &chosen).status, 303);
        assert_eq!(kept(studio), None, "left to the browser again");
        assert!(speaks(&student.get_with("/account", &[("accept-language", "es")]), "es"));
    }

    fn who_opens_an_account_in_spanish_is_spoken_to_in_spanish_from_then_on(studio) {
        let keeper = studio.signed_in(KEEPER);
        let invite = |given: &str, email: &str| {
            let fields = [("given_name", given), ("family_name", "Luna"), ("email", email)];
            let page = keeper.post("/school/people", &fields);
            assert_eq!(page.status, 303, "{}", page.read());
            let letters = studio.letters();
            let letter = letters.iter().find(|letter| letter.to == email).expect("an invitation");
            assert!(letter.html.contains("<html lang=\"en\">"), "nobody has chosen yet");
            letter.address("/links/")
        };
        for (email, header, language) in [
            ("nuria@college.example", "es-419", Some("es")),
            ("nora@college.example", "en", None),
        ] {
            let link = invite("Nuria", email);
            let visitor = studio.visitor();
            assert_eq!(visitor.get(&link).location(), "/new-password");
            if header.starts_with("es") {
                visitor.get("/language/es?back=/new-password");
            }
            let new = "lavar antes de entintar la plancha";
            let page = visitor.post("/new-password", &[("new", new), ("again", new)]);
            assert_eq!(page.location(), "/?done=done-account-open", "{}", page.read());
            let found: Option<String> = person::table.filter(person::email.eq(email)).select(person::language)
                .first(&mut studio.connection()).unwrap();
            assert_eq!(found.as_deref(), language, "{email}");
        }
        assert_eq!(rows(studio, "journal WHERE act = 'language.set'"), 1);
        let visitor = studio.visitor();
        visitor.post("/forgotten", &[("email", "nuria@college.example")]);
        let letters = studio.letters();
        let letter = letters.first().expect("a letter");
        assert!(letter.text.contains("Elegir una contraseña nueva:"), "{}", letter.text);
        assert!(letter.html.contains("<html lang=\"es\">") && letter.text.contains("oct"), "{}", letter.text);
    }
}
