//! Every kind of letter, written from a brief and looked at as its reader sees it.

use std::sync::Arc;

use serde_json::{Value, json};

use super::contents;
use super::templates::Part;
use super::*;
use crate::ids::Id;
use crate::post::reminders::{self, Daily, Item, Urgent, Week, What};
use crate::store::letters::Kind;
use crate::store::letters::outbox::{Addressee, AddresseeClass, Claim};
use crate::store::people::links::Purpose;
use crate::store::types::Word;
use crate::trade::spelled::Spelled;

const AT: Instant = Instant::from_millis(1_792_504_800_000);

fn id<K>(n: u8) -> Id<K> {
    Id::from_uuid(uuid::Uuid::from_bytes([n; 16]))
}

fn desk() -> Desk {
    let given =
        [("TYMPAN_PUBLIC_URL", "https://tympan.example"), ("TYMPAN_MAIL_FROM", "Studio <s@college.example>")]
            .map(|(name, value)| (name.to_owned(), value.to_owned()));
    let settings = Settings::from_values(&given.into()).unwrap();
    Desk::new(&settings, ServerKey::from_bytes([5; 32]), Arc::new(Speech::load().unwrap())).unwrap()
}

fn item(what: What, number: i32, title: &str) -> Item {
    Item {
        what,
        class: id(2),
        class_title: "Plate lithography B".into(),
        plate: Some(id(30)),
        number: Some(number),
        title: title.into(),
        step: Some("Proof".into()),
        topic: (what == What::SignOff).then(|| "Press".into()),
        grade: (what == What::SignOff).then_some(crate::trade::procedure::Grade::Watched),
        due: Some(AT.plus_ms(3 * 86_400_000).millis()),
        by: None,
    }
}

fn week() -> Value {
    let plate = |who: &str, number| reminders::Plate {
        who: who.into(),
        number,
        title: "Kettle & <window>".into(),
        step: "Proof".into(),
    };
    serde_json::to_value(Week {
        class: id(2),
        monday: chrono::NaiveDate::from_ymd_opt(2026, 10, 19).unwrap(),
        zone: "America/New_York".into(),
        at: AT.millis(),
        plates: 72,
        late: reminders::Group { count: 3, plates: vec![plate("Sami Vale", 3), plate("Otis Wren", 4)] },
        stuck: reminders::Group::default(),
        waiting: reminders::Group { count: 1, plates: vec![plate("Ana Bird", 9)] },
        due: vec![reminders::Due {
            title: "A room at night".into(),
            at: AT.plus_ms(86_400_000).millis(),
            open: 5,
        }],
        fits: Some(reminders::Fits { fits: 40, asked: 48, first: Some("Ana Bird".into()) }),
        unreached: vec!["Otis Wren".into()],
        acts: 812,
        digest: "5f0c".repeat(16),
    })
    .unwrap()
}

fn detail(kind: Kind) -> Value {
    match kind {
        Kind::Invitation | Kind::Reset => json!({ "link": id::<crate::ids::Link>(9) }),
        Kind::PasswordChanged => json!({}),
        Kind::EmailChanged => json!({ "to": "sami@old.example", "email": "sami@new.example" }),
        Kind::DueMoved => json!({
            "project": id::<crate::ids::Project>(7), "title": "A room at <night>", "whose": "class",
            "from": "2026-11-24T16:30", "to": "2026-11-30T16:30", "reason": "The press & the slab were down",
        }),
        Kind::GradeSubmitted => json!({ "changed": true }),
        Kind::HandedBack => json!({ "titles": ["A room at night", "Ferry <steps> & \"rain\""] }),
        Kind::SecondLookAsked => json!({
            "title": "A room at <night>", "name": "Sami & Vale",
            "assessment": id::<crate::ids::Assessment>(11), "person": id::<crate::ids::Person>(3),
        }),
        Kind::SecondLookAnswered => json!({ "title": "A room at <night>" }),
        Kind::Daily => serde_json::to_value(Daily {
            date: chrono::NaiveDate::from_ymd_opt(2026, 10, 20).unwrap(),
            zone: "America/New_York".into(),
            hour: 7,
            first: item(What::SignOff, 1, "Tide table"),
            also: vec![item(What::Ready, 3, "Kettle & <window>"), item(What::Due, 4, "Ferry steps")],
            left_out: 2,
        })
        .unwrap(),
        Kind::Urgent => serde_json::to_value(Urgent {
            class: id(2),
            zone: "America/New_York".into(),
            plate: id(30),
            number: 3,
            title: "Kettle & <window>".into(),
            step: "Second etch".into(),
            same_day: true,
            by: AT.plus_ms(6 * 3_600_000).millis(),
            limit: AT.plus_ms(10 * 3_600_000).millis(),
        })
        .unwrap(),
        Kind::Week => week(),
    }
}

fn brief(kind: Kind, class: bool) -> Brief {
    let place = AddresseeClass {
        title: "Plate lithography B".into(),
        zone: "America/New_York".into(),
        enrolled: true,
    };
    let purpose = if kind == Kind::Reset { Purpose::Reset } else { Purpose::Invitation };
    Brief {
        claim: Claim {
            letter: id(1),
            kind,
            person: id(3),
            class: class.then(|| id(2)),
            detail: detail(kind).to_string(),
            created_at: AT,
            attempts: 1,
            tried_since: AT,
            owner: "x".into(),
        },
        to: Addressee {
            language: None,
            given_name: "Sami".into(),
            family_name: "Vale".into(),
            email: Some("sami@college.example".into()),
            wants: crate::store::letters::outbox::Wants {
                daily: true,
                urgent: true,
                week: true,
                handed_back: true,
                due_moved: true,
                second_look_asked: true,
                second_look_answered: true,
                grade_submitted: true,
            },
            mailbox: crate::store::letters::resting::Mailbox { refusals: 0, rests_since: None },
            school: "Alder Hill College".into(),
            class: class.then_some(place),
        },
        link: matches!(kind, Kind::Invitation | Kind::Reset).then(|| brief::Link {
            id: id(9),
            purpose,
            expires_at: AT.plus_ms(1_800_000),
        }),
    }
}

/// Subject, text and HTML before they are sealed.
fn written(brief: &Brief) -> (String, String, String) {
    let desk = desk();
    let view = contents::view(&desk, brief).unwrap();
    let fill = |part| desk.templates.fill(brief.claim.kind, part, &view).unwrap();
    (layout::one_line(&fill(Part::Subject)), layout::set(&fill(Part::Text)), fill(Part::Html))
}

#[test]
fn every_kind_is_written_in_both_parts_and_in_every_language() {
    for language in Language::ALL {
        language.during(|| every_kind_is_written(*language));
    }
}

fn every_kind_is_written(language: Language) {
    for kind in Kind::ALL {
        let of_a_class = matches!(
            kind,
            Kind::HandedBack
                | Kind::DueMoved
                | Kind::SecondLookAsked
                | Kind::SecondLookAnswered
                | Kind::GradeSubmitted
        );
        let with_class = [true, false].into_iter().filter(|class| *class || !of_a_class);
        for class in with_class.filter(|class| *class || *kind != Kind::Daily) {
            let (subject, text, html) = written(&brief(*kind, class));
            assert!(!subject.is_empty() && subject.len() < 78, "{kind:?}: {subject}");
            assert!(html.contains(&format!("<html lang=\"{}\">", language.word())), "{kind:?}: {html}");
            assert!(text.contains("Sami") && html.contains("Sami"), "{kind:?}: {text}");
            assert!(text.contains("Alder Hill College") && html.contains("Alder Hill College"));
            for left in ["{{", "}}", "letters-", "$"] {
                assert!(!text.contains(left) && !html.contains(left), "{kind:?}: {left} in {text}");
            }
            let long = text.lines().find(|line| line.chars().count() > layout::WIDTH && line.contains(' '));
            assert!(long.is_none_or(|line| line.contains("https://")), "{kind:?}: {long:?}");
            let mut to_send = brief(*kind, class);
            to_send.to.language = Some(Word(language));
            assert!(desk().write(&to_send, AT).is_ok());
        }
    }
}

#[test]
fn letters_with_a_link_carry_its_secret_and_the_row_does_not() {
    for kind in [Kind::Invitation, Kind::Reset] {
        let brief = brief(kind, false);
        let purpose = brief.link.unwrap().purpose;
        let secret =
            ServerKey::from_bytes([5; 32]).link_secret(purpose.word(), id::<crate::ids::Link>(9).as_str());
        let (_, text, html) = written(&brief);
        let address = format!("https://tympan.example/links/{secret}");
        assert!(text.lines().any(|line| line == address), "{text}");
        assert!(html.contains(&format!("href=\"{address}\"")), "{html}");
        assert!(!brief.claim.detail.contains(&secret));
    }
    let (_, text, _) = written(&brief(Kind::Reset, false));
    let text = layout::one_line(&text);
    assert!(text.contains("within 30 minutes") && text.contains("until Tue 20 Oct, 14:30 UTC"), "{text}");
    let (_, text, _) = written(&brief(Kind::Invitation, true));
    let text = layout::one_line(&text);
    assert!(text.contains("until Tue 20 Oct, 10:30"), "the class's wall clock: {text}");
}

#[test]
fn the_daily_letter_names_one_thing_first() {
    let (subject, text, html) = written(&brief(Kind::Daily, true));
    assert_eq!(subject, "First: get your sign-off “Press”");
    insta::assert_snapshot!(text, @r#"
    Sami, one thing comes first on Tue 20 Oct.

    Get your sign-off “Press”

    Plate 1, “Tide table”, cannot go on to Proof without it. Somebody who
    may witness it has to watch you do it. The print is due Fri 23 Oct,
    10:00.

    See who can give it:
    https://tympan.example/classes/02020202-0202-0202-0202-020202020202/sign-offs

    ------------------------------------------------------------------------

    Ready       Plate 3, “Kettle & <window>”: Proof. The print is due
                Fri 23 Oct, 10:00.
    Due         “Ferry steps” is due Fri 23 Oct, 10:00.

    And 2 more things: sign in to see all.

    ------------------------------------------------------------------------

    This is how your log stood at 07:00, and it may have changed since.

    Work with acid, solvent or press: the safety data sheet and the studio’s
    own rules come first.

    You get this letter on days when something is ready, due or missing.

    ------------------------------------------------------------------------

    Stop letters of this kind:
    https://tympan.example/letters/stop/MDMwMzAzMDMtMDMwMy0wMzAzLTAzMDMtMDMwMzAzMDMwMzAzWUw_p6bhIa3wd6h8vQzFuQ
    Choose which letters come: https://tympan.example/account

    Alder Hill College
    https://tympan.example
    "#);
    assert!(html.contains("Kettle &amp; &lt;window&gt;") && !html.contains("<window>"), "{html}");
    assert_eq!(html.matches("class=\"press\"").count(), 1, "one thing to do");
}

#[test]
fn a_letter_about_grades_holds_none_and_leads_to_them() {
    let (_, text, html) = written(&brief(Kind::HandedBack, true));
    assert!(
        text.contains("- A room at night\n") && text.contains(&format!("/classes/{}/grades", id::<()>(2)))
    );
    assert!(html.contains("Ferry &lt;steps&gt; &amp; &quot;rain&quot;"), "{html}");
    assert!(text.contains("- Ferry <steps> & \"rain\""), "text is written as it stands: {text}");
}

#[test]
fn what_people_typed_stays_one_line_of_words() {
    let mut brief = brief(Kind::HandedBack, true);
    brief.claim.detail = json!({ "titles": ["a\r\nBcc: x@y.example\n\n.\nlabel\twords"] }).to_string();
    brief.to.given_name = "Sa\r\n\r\nmi".into();
    let (_, text, _) = written(&brief);
    assert!(text.contains("- a Bcc: x@y.example . label words\n") && text.contains("Hello Sa mi,"), "{text}");
}

#[test]
fn a_row_that_does_not_fit_its_kind_is_not_sent() {
    let mut brief = brief(Kind::HandedBack, true);
    brief.claim.detail = "{\"title\":1}".into();
    assert!(desk().write(&brief, AT).is_err());
    brief.claim.kind = Kind::Daily;
    assert!(desk().write(&brief, AT).is_err());
}

#[test]
fn a_wrong_sender_is_named_with_an_example() {
    let given = [("TYMPAN_MAIL_FROM".to_owned(), "the studio".to_owned())];
    let settings = Settings::from_values(&given.into()).unwrap();
    let speech = Arc::new(Speech::load().unwrap());
    let said = Desk::new(&settings, ServerKey::from_bytes([5; 32]), speech).unwrap_err();
    assert!(said.contains("TYMPAN_MAIL_FROM") && said.contains("Example"), "{said}");
}

#[test]
fn the_same_letter_has_the_same_message_id() {
    let brief = brief(Kind::PasswordChanged, false);
    let head = |at: Instant| String::from_utf8(desk().write(&brief, at).unwrap().bytes).unwrap();
    let id = "Message-ID: <01010101-0101-0101-0101-010101010101@tympan.example>\r\n";
    assert!(head(AT).contains(id) && head(AT.plus_ms(86_400_000)).contains(id));
}
