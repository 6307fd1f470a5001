//! What stands around every page: headers, cookies, the first layer against forged requests, limits per address, and
//! what the house answers when its database does not.

use tympan::pages::limits::Limits;
use tympan::store::write;

use crate::on_both;
use crate::studio::world::*;
use crate::studio::{Engine, Page, Studio};

const HTTPS: &str = "https://litho.college.example";

fn behind_tls(engine: Engine) -> Studio {
    Studio::open_changed(engine, |house| house.settings.public_url = HTTPS.to_owned())
}

/// OWASP Secure Headers Project, the list of headers to add (read from memory); `frame-ancestors` stands for the older
/// X-Frame-Options.
fn is_walled(page: &Page, at: &str, https: bool) {
    let header = |name: &str| page.headers.get(name).map_or("", String::as_str);
    let policy = header("content-security-policy");
    for part in [
        "default-src 'none'",
        "script-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
        "object-src 'none'",
    ] {
        assert!(policy.contains(part), "{at}: {part}: {policy}");
    }
    assert!(!policy.contains("unsafe"), "{at}: {policy}");
    for (name, value) in [
        ("x-content-type-options", "nosniff"),
        ("referrer-policy", "same-origin"),
        ("cross-origin-opener-policy", "same-origin"),
        ("cross-origin-resource-policy", "same-origin"),
    ] {
        assert_eq!(header(name), value, "{at}: {name}");
    }
    assert!(header("permissions-policy").contains("geolocation=()"), "{at}");
    assert_eq!(header("strict-transport-security"), if https { "max-age=63072000" } else { "" }, "{at}");
    if header("content-type").starts_with("text/html") {
        assert_eq!(header("cache-control"), "no-store", "{at}");
    }
}

fn every_answer_is_walled(studio: &Studio, https: bool) {
    let visitor = studio.visitor();
    let student = studio.signed_in(STUDENT);
    for path in [
        "/sign-in",
        "/assets/tympan.css",
        "/nowhere",
        "/healthz",
        "/readyz",
        "/help",
        "/forgotten",
        "/links/none",
        "/at-the-table",
        "/tablet/away",
        "/service-worker.js",
        "/",
    ] {
        is_walled(&visitor.get(path), path, https);
    }
    let class = studio.class_path();
    for path in [
        class.clone(),
        format!("{class}/plates"),
        format!("{class}/grades"),
        format!("{class}/settings"),
        "/account".to_owned(),
    ] {
        is_walled(&student.get(&path), &path, https);
    }
    is_walled(
        &visitor.post("/sign-in", &[("email", STUDENT), ("password", "wrong")]),
        "refused sign-in",
        https,
    );
    is_walled(&visitor.post_bare("/sign-in", &[]), "no seal", https);
    let table = studio.signed_in(INSTRUCTOR).get(&format!("{class}/records/roster.csv"));
    assert_eq!(table.status, 200);
    is_walled(&table, "a table", https);
    assert!(table.headers["cache-control"].contains("no-store"), "{:?}", table.headers);
}

on_both! {
    fn headers_stand_on_every_answer(studio) {
        every_answer_is_walled(studio, false);
    }

    /// The browser's own word first, then the origin; whoever says neither is no browser and has no cookie to abuse.
    /// An address with no id where a class is named is answered as one of a class that is not there.
    fn a_class_of_no_id_is_a_class_that_is_not_there(studio) {
        let (student, nobody) = (studio.signed_in(STUDENT), studio.visitor());
        let long = "9".repeat(5_000);
        for class in ["x", "019a0000-0000-7000-8000-000000000000", &long] {
            for path in [format!("/classes/{class}"), format!("/classes/{class}/plates")] {
                let page = student.get(&path);
                assert!(page.status == 404 && page.has("</html>"), "a page, not a word: {} {}", page.status, page.text());
                assert!(nobody.get(&path).location().starts_with("/sign-in?next="), "{path:.40}");
            }
            assert_eq!(student.post(&format!("/classes/{class}/prints/new"), &[("title", "Gull")]).status, 404);
        }
    }

    fn a_form_from_elsewhere_is_refused(studio) {
        let student = studio.signed_in(STUDENT);
        let seal = student.seal();
        let send = |headers: &[(&str, &str)], unit: &str| {
            let once = format!("once-key-of-{unit}-{}", headers.len());
            let fields = [("seal", seal.as_str()), ("once", once.as_str()), ("volume_unit", unit)];
            student.post_with("/account/preferences", &fields, headers).status
        };
        for headers in [
            &[("sec-fetch-site", "cross-site")][..],
            &[("sec-fetch-site", "same-site")],
            &[("sec-fetch-site", "cross-site"), ("origin", studio.base.as_str())],
            &[("origin", "https://evil.example")],
            &[("origin", "null")],
        ] {
            assert_eq!(send(headers, "ml"), 403, "{headers:?}");
        }
        assert_eq!(crate::stories::rows(studio, "person WHERE volume_unit = 'ml'"), 0, "nothing was stored");
        for headers in [&[("sec-fetch-site", "same-origin")][..], &[("sec-fetch-site", "none")], &[("origin", studio.base.as_str())]] {
            assert_eq!(send(headers, "ml"), 303, "{headers:?}");
        }
    }

    fn without_its_database_the_house_is_alive_but_not_ready(studio) {
        let visitor = studio.visitor();
        assert_eq!(visitor.get("/readyz").status, 200);
        write::execute(&mut studio.connection(), "ALTER TABLE journal_head RENAME TO gone").unwrap();
        let page = visitor.get("/readyz");
        assert_eq!(page.status, 503, "{}", page.read());
        assert_eq!(page.headers["retry-after"], "5");
        assert_eq!(visitor.get("/healthz").status, 200);
        write::execute(&mut studio.connection(), "ALTER TABLE gone RENAME TO journal_head").unwrap();
        assert_eq!(visitor.get("/readyz").status, 200);
    }
}

#[test]
fn behind_tls_cookies_are_the_hosts_own_and_browsers_stay_with_tls() {
    let studio = behind_tls(Engine::Sqlite);
    every_answer_is_walled(&studio, true);
    let visitor = studio.visitor();
    let visit = visitor.get("/sign-in");
    let signed = visitor.post("/sign-in", &[("email", STUDENT), ("password", PASSWORD)]);
    assert_eq!(signed.status, 303, "{}", signed.read());
    let set: Vec<&String> = visit.cookies_set.iter().chain(&signed.cookies_set).collect();
    let names: Vec<&str> = set.iter().filter_map(|cookie| cookie.split('=').next()).collect();
    assert!(names.contains(&"__Host-sid") && names.contains(&"__Host-visit"), "{names:?}");
    for cookie in &set {
        // RFC 6265bis, 4.1.3.2: a __Host- cookie is Secure, for “/”, and names no domain.
        assert!(cookie.starts_with("__Host-"), "{cookie}");
        for flag in ["Path=/", "Secure", "HttpOnly", "SameSite=Lax"] {
            assert!(cookie.split("; ").any(|part| part == flag), "{flag}: {cookie}");
        }
        assert!(!cookie.to_lowercase().contains("domain="), "{cookie}");
    }
    let seal = visitor.seal();
    let fields = [("seal", seal.as_str()), ("once", "a-once-key-of-the-form"), ("volume_unit", "ml")];
    for (origin, status) in [(studio.base.as_str(), 403), ("http://litho.college.example", 403), (HTTPS, 303)]
    {
        assert_eq!(
            visitor.post_with("/account/preferences", &fields, &[("origin", origin)]).status,
            status,
            "{origin}"
        );
    }
}

/// What a client says about its address counts from a trusted proxy alone, and of a list only what that proxy added.
#[test]
fn a_forged_address_gets_round_no_limit() {
    let tries = |studio: &Studio, forwarded: [&str; 4]| -> Vec<u16> {
        let visitor = studio.visitor();
        let seal = visitor.seal();
        let send = |(place, address): (usize, &str)| {
            let once = format!("once-key-of-the-form-{place}");
            let fields = [
                ("seal", seal.as_str()),
                ("once", once.as_str()),
                ("email", "nobody@x.example"),
                ("password", "x"),
            ];
            visitor.post_with("/sign-in", &fields, &[("x-forwarded-for", address)]).status
        };
        forwarded.into_iter().enumerate().map(send).collect()
    };
    let few = || Limits::of((1, 3), (1, 3));
    let forged = ["10.0.0.1", "10.0.0.2", "10.0.0.3", "10.0.0.4"];
    let direct = Studio::open_changed(Engine::Sqlite, |house| house.limits = few());
    assert_eq!(tries(&direct, forged), [422, 422, 422, 429], "the peer counts, whatever it says");
    let proxied = || {
        Studio::open_changed(Engine::Sqlite, |house| {
            house.limits = few();
            house.settings.trusted_proxies = vec!["127.0.0.1".parse().unwrap()];
        })
    };
    assert_eq!(tries(&proxied(), forged), [422, 422, 422, 422], "four addresses behind the proxy");
    let prefixed = ["1.1.1.1, 10.0.0.9", "2.2.2.2, 10.0.0.9", "3.3.3.3, 10.0.0.9", "4.4.4.4, 10.0.0.9"];
    assert_eq!(tries(&proxied(), prefixed), [422, 422, 422, 429], "what the proxy added counts");
}
