//! The news of a class: an event after an act, nothing at rest, an end with the session and with the server.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use super::{askings, asks, things, tonight};
use crate::on_both;
use crate::studio::crowd::Crowd;
use crate::studio::world::*;
use crate::studio::{Studio, Visitor};

/// A page that listens, as a browser does.
struct Listening {
    stream: TcpStream,
    heard: String,
}

impl Listening {
    fn open(studio: &Studio, visitor: &Visitor) -> Self {
        let address = studio.base.strip_prefix("http://").unwrap();
        let mut stream = TcpStream::connect(address).unwrap();
        stream.set_read_timeout(Some(Duration::from_millis(50))).unwrap();
        let asked = format!(
            "GET {}/news HTTP/1.1\r\nHost: {address}\r\nAccept: text/event-stream\r\n\
             Accept-Encoding: gzip\r\nCookie: {}\r\n\r\n",
            tonight(studio),
            visitor.cookies()
        );
        stream.write_all(asked.as_bytes()).unwrap();
        let mut listening = Self { stream, heard: String::new() };
        assert!(listening.waits_for("data: "), "the number comes first: {}", listening.heard);
        listening
    }

    /// Reads until something was heard, at most ten seconds; the end of the answer counts as `\0`.
    fn waits_for(&mut self, what: &str) -> bool {
        let begun = Instant::now();
        let mut bytes = [0; 4096];
        while begun.elapsed() < Duration::from_secs(10) {
            if self.heard.contains(what) {
                return true;
            }
            match self.stream.read(&mut bytes) {
                Ok(0) => return what == "\0",
                Ok(count) => {
                    self.heard.push_str(&String::from_utf8_lossy(&bytes[..count]));
                    if self.heard.ends_with("0\r\n\r\n") {
                        self.heard.push('\0');
                    }
                }
                Err(_) => {}
            }
        }
        false
    }

    fn number(&self) -> i64 {
        let last = self.heard.rsplit("data: ").next().unwrap();
        last.split('\n').next().unwrap().trim().parse().unwrap()
    }
}

on_both! {
    fn an_asking_is_news_and_rest_costs_nothing(studio) {
        Crowd::one_class(23, 1).fill(&mut studio.connection(), &studio.world);
        let (student, instructor) = (studio.signed_in(&Crowd::email(0)), studio.signed_in(INSTRUCTOR));
        let number = || -> i64 {
            let page = instructor.get(&format!("{}/news", tonight(studio)));
            let told: serde_json::Value = serde_json::from_slice(&page.body).unwrap();
            told["number"].as_i64().unwrap()
        };
        let stands = number();
        let mut staff = Listening::open(studio, &instructor);
        let mut own = Listening::open(studio, &student);
        assert!(staff.heard.contains("content-type: text/event-stream"), "{}", staff.heard);
        assert!(staff.heard.contains("cache-control: no-store") && !staff.heard.contains("content-encoding"), "{}", staff.heard);
        assert_eq!(staff.number(), stands);
        assert!(instructor.get(&tonight(studio)).has(&format!("data-number=\"{stands}\"")), "the page knows the same number");
        let more: Vec<Listening> =
            (1..23).map(|place| Listening::open(studio, &studio.signed_in(&Crowd::email(place)))).collect();
        assert_eq!(studio.house.listeners.count(), 24);
        let before = studio.house.db.tally().count();
        std::thread::sleep(Duration::from_millis(1500));
        let cost = studio.house.db.tally().count() - before;
        assert_eq!((cost.statements, cost.commits), (0, 0), "24 listen and nothing happens");
        asks(studio, &student, &[("kind", "help"), ("place", "table 3")]);
        assert!(staff.waits_for(&format!("data: {}", stands + 1)), "{}", staff.heard);
        assert!(own.waits_for(&format!("data: {}", stands + 1)), "{}", own.heard);
        assert_eq!(number(), stands + 1);
        for mut one in more {
            assert!(one.waits_for(&format!("data: {}", stands + 1)), "{}", one.heard);
        }
        // Nothing that is no act of this class is news.
        assert_eq!(student.post(&askings(studio), &[("kind", "help"), ("place", "table 3")]).status, 303);
        assert!(!staff.heard.contains(&format!("data: {}", stands + 2)));
        assert_eq!(studio.signed_in(SAFETY_OFFICER).get(&format!("{}/news", tonight(studio))).status, 403);
        assert_eq!(studio.signed_in(STRANGER).get(&format!("{}/news", tonight(studio))).status, 404);
    }

    fn a_person_has_a_bounded_number_of_listening_pages(studio) {
        things(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let mut all: Vec<Listening> = (0..7).map(|_| Listening::open(studio, &instructor)).collect();
        assert!(all[0].waits_for("event: enough"), "the first gives way: {}", all[0].heard);
        assert!(all[0].waits_for("\0"), "and ends");
        assert!(studio.house.listeners.count() <= 6);
        let student = studio.signed_in(STUDENT);
        asks(studio, &student, &[("kind", "help"), ("place", "table 3")]);
        let number = all[6].number() + 1;
        assert!(all[6].waits_for(&format!("data: {number}")), "the last goes on: {}", all[6].heard);
    }

    fn listening_ends_with_the_session_and_with_the_server(studio) {
        things(studio);
        let (student, other) = (studio.signed_in(STUDENT), studio.signed_in(OTHER_STUDENT));
        let elsewhere = studio.signed_in(STUDENT);
        let mut own = Listening::open(studio, &student);
        let mut kept = Listening::open(studio, &elsewhere);
        let mut beside = Listening::open(studio, &other);
        assert_eq!(student.post("/sign-out", &[]).status, 303);
        assert!(own.waits_for("\0"), "signed out: {}", own.heard);
        let page = student.get_with(&format!("{}/news", tonight(studio)), &[("accept", "text/event-stream")]);
        assert_eq!(page.status, 303, "and not begun anew");
        asks(studio, &other, &[("kind", "help"), ("place", "")]);
        let number = kept.number() + 1;
        assert!(kept.waits_for(&format!("data: {number}")), "another session of the same person goes on: {}", kept.heard);
        studio.house.listeners.close();
        assert!(kept.waits_for("\0") && beside.waits_for("\0"), "{} {}", kept.heard, beside.heard);
    }

    /// A page that asks by itself keeps no session alive; somebody at hand does.
    fn news_keep_no_session_alive(studio) {
        things(studio);
        let student = studio.signed_in(STUDENT);
        let seen = || {
            use diesel::prelude::*;
            use tympan::store::schema::session;
            let own = session::table.filter(session::person_id.eq(studio.world.student));
            own.select(session::seen_at).first::<i64>(&mut studio.connection()).unwrap()
        };
        let before = seen();
        studio.later_ms(6 * 60_000);
        student.get(&format!("{}/news", tonight(studio)));
        student.get_with(&askings(studio), &[("tympan-by-itself", "yes")]);
        std::thread::sleep(Duration::from_millis(300));
        assert_eq!(seen(), before);
        student.get(&askings(studio));
        let begun = Instant::now();
        while seen() == before && begun.elapsed() < Duration::from_secs(10) {
            std::thread::sleep(Duration::from_millis(20));
        }
        assert_eq!(seen(), before + 6 * 60_000);
    }
}
