//! Two at the same moment: threads that send their forms together, on both databases. Each form asks for the same
//! row, so what must hold does not follow from their order.

use std::sync::{Arc, Barrier};
use std::time::Duration;

use crate::on_both;
use crate::stories::rows;
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Engine, Page, Studio, Visitor};

/// Sends one form by each visitor, all at once.
fn together(visitors: &[Visitor], send: impl Fn(usize, &Visitor) -> Page + Sync) -> Vec<u16> {
    pages_together(visitors, send).iter().map(|page| page.status).collect()
}

/// The same, with the pages that come back.
fn pages_together(visitors: &[Visitor], send: impl Fn(usize, &Visitor) -> Page + Sync) -> Vec<Page> {
    let (barrier, seals) = (Barrier::new(visitors.len()), visitors.iter().map(Visitor::seal).count());
    assert_eq!(seals, visitors.len(), "the seals are there before, so that the forms alone race");
    std::thread::scope(|scope| {
        let threads: Vec<_> = visitors
            .iter()
            .enumerate()
            .map(|(place, visitor)| {
                let visitor = visitor.copied();
                let (barrier, send) = (&barrier, &send);
                scope.spawn(move || {
                    barrier.wait();
                    send(place, &visitor)
                })
            })
            .collect();
        threads.into_iter().map(|thread| thread.join().unwrap()).collect()
    })
}

fn instructors(studio: &Studio, count: usize) -> Vec<Visitor> {
    (0..count).map(|_| studio.signed_in(INSTRUCTOR)).collect()
}

fn counted(statuses: &[u16], status: u16) -> usize {
    statuses.iter().filter(|one| **one == status).count()
}

on_both! {
    fn of_two_who_keep_the_same_thing_one_is_told(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        let class = studio.class_path();
        let topic = things.topic.to_string();
        for round in 0..4 {
            let version = tympan::store::safety::topics::standing(&mut studio.connection(), studio.world.class).unwrap();
            // Every other time both take the topic away, so there is always something to change.
            let used: &[(&str, &str)] = if round % 2 == 0 { &[] } else { &[("topic", topic.as_str())] };
            let statuses = together(&instructors(studio, 2), |_, visitor| {
                visitor.post(&format!("{class}/topics"), &[used, &[("version", version.as_str())]].concat())
            });
            assert_eq!((counted(&statuses, 303), counted(&statuses, 422)), (1, 1), "round {round}: {statuses:?}");
            let number = (round + 1).to_string();
            let statuses = together(&instructors(studio, 2), |place, visitor| {
                let points = format!("Goggles {place}");
                visitor.post(&format!("{class}/topics/{topic}"), &[("version", number.as_str()), ("points", &points)])
            });
            assert_eq!((counted(&statuses, 303), counted(&statuses, 422)), (1, 1), "round {round}: {statuses:?}");
        }
        assert_eq!(rows(studio, "topic_version"), 5);
    }

    /// Checklists are the school's: the instructor of another class writes the same one, and neither gets an error page.
    fn two_classes_write_one_checklist(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        let visitors = [studio.signed_in(INSTRUCTOR), studio.signed_in(STRANGER)];
        let classes = [studio.world.class, studio.world.other_class];
        for round in 1..5 {
            let number = round.to_string();
            let statuses = together(&visitors, |place, visitor| {
                let path = format!("/classes/{}/topics/{}", classes[place], things.topic);
                visitor.post(&path, &[("version", number.as_str()), ("points", "Gloves")])
            });
            assert_eq!((counted(&statuses, 303), counted(&statuses, 422)), (1, 1), "round {round}: {statuses:?}");
        }
        let statuses = together(&visitors, |place, visitor| {
            let path = format!("/classes/{}/topics/new", classes[place]);
            visitor.post(&path, &[("title", "Hoist"), ("points", "Looks at the strap")])
        });
        assert_eq!((counted(&statuses, 303), counted(&statuses, 422)), (1, 1), "{statuses:?}");
    }

    /// Two instructors with one print before them: whoever comes second is told what the first gave, and both can be read.
    fn of_two_who_mark_one_print_at_the_same_moment_none_is_lost(studio) {
        let set = crate::stories::grades::criteria::weighed(studio);
        let (one, two) = (studio.signed_in(INSTRUCTOR), crate::stories::grades::second_instructor(studio));
        let visitors = [one, two];
        let path = set.path(studio, studio.world.other_student);
        let forms = [("1", "Grey."), ("2", "Soft.")].map(|(level, words)| set.form(None, [level, level], &[("words", words)]));
        let fields = |place: usize| -> Vec<(&str, &str)> { forms[place].iter().map(|(name, value)| (name.as_str(), value.as_str())).collect() };
        let pages = pages_together(&visitors, |place, visitor| visitor.post(&path, &fields(place)));
        let statuses: Vec<u16> = pages.iter().map(|page| page.status).collect();
        assert_eq!((counted(&statuses, 303), counted(&statuses, 422)), (1, 1), "{statuses:?}");
        let second = usize::from(pages[1].status == 422);
        let (stands, typed) = if second == 1 { ("100 points, comment “Grey.”", "Soft.") } else { ("62.5 points, comment “Soft.”", "Grey.") };
        let read = pages[second].read();
        assert!(read.contains(&format!("Somebody marked this student meanwhile: graded, {stands}")), "{read}");
        assert!(pages[second].has(typed), "what the second typed is still there");
        let of_other = format!("score WHERE person_id = '{}'", studio.world.other_student);
        assert_eq!(rows(studio, &of_other), 1, "the first mark stands and nothing went over it");
        let seen = pages[second].text().split("name=\"seen\" value=\"").nth(1).unwrap().split('"').next().unwrap().parse().ok();
        let level = if second == 1 { "2" } else { "1" };
        let over = set.form(seen, [level, level], &[("status", "graded"), ("words", typed), ("reason", "We agreed")]);
        let over: Vec<(&str, &str)> = over.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
        let page = visitors[second].post(&path, &over);
        assert_eq!(page.status, 303, "{}", page.read());
        assert_eq!((rows(studio, &of_other), rows(studio, &format!("{of_other} AND superseded_at IS NULL"))), (2, 1), "both are kept");
    }

    /// A double click sends one key twice, two tabs send two: either way a grade is submitted once, told once and journalled once.
    fn a_grade_submitted_twice_in_one_go_is_submitted_once(studio) {
        Things::set(&mut studio.connection(), &studio.world);
        let person = studio.world.student.to_string();
        let path = format!("{}/grades/submit", studio.class_path());
        let seen = format!("seen-{person}");
        let fields = [("person", person.as_str()), (seen.as_str(), "B+|88")];
        let instructor = studio.signed_in(INSTRUCTOR);
        let once = |key: &'static [&'static str]| {
            let visitors: Vec<Visitor> = key.iter().map(|_| instructor.copied()).collect();
            together(&visitors, |place, visitor| visitor.post_once(&path, &fields, key[place]))
        };
        let two_tabs = once(&["the-key-of-one-tab-000", "the-key-of-another-tab"]);
        assert_eq!(counted(&two_tabs, 303), 2, "{two_tabs:?}");
        let double_click = once(&["a-key-that-is-sent-twice", "a-key-that-is-sent-twice", "a-key-that-is-sent-twice"]);
        assert_eq!(counted(&double_click, 303), 3, "{double_click:?}");
        for (table, count) in [
            ("submitted_grade", 1), ("letter WHERE kind = 'grade-submitted'", 1), ("journal WHERE act = 'grade.submitted'", 1),
        ] {
            assert_eq!(rows(studio, table), count, "{table}");
        }
        // The other student, whose first form is the double click.
        let other = studio.world.other_student;
        let path = format!("{}/grades/people/{other}/submitted", studio.class_path());
        let fields = [("way", "by-hand"), ("before", ""), ("letter", "A"), ("reason", "agreed")];
        let three: Vec<Visitor> = (0..3).map(|_| instructor.copied()).collect();
        let statuses = together(&three, |_, visitor| visitor.post_once(&path, &fields, "a-double-click-by-hand"));
        assert_eq!(counted(&statuses, 303), 3, "{statuses:?}");
        assert_eq!(rows(studio, "submitted_grade"), 2);
        assert_eq!(tympan::store::journal::check(&mut studio.connection()).unwrap(), [], "the chain holds");
    }

    fn one_form_sent_by_five_threads_is_stored_once(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        let class = studio.class_path();
        let student = studio.signed_in(STUDENT);
        // One browser, many clicks: the same cookies, the same seal, the same once-key.
        let five: Vec<Visitor> = (0..5).map(|_| student.copied()).collect();
        let plate = [
            ("project", things.project.to_string()), ("procedure", things.procedure.to_string()),
            ("title", "Two clicks".to_owned()), ("width", "30".to_owned()), ("height", "40".to_owned()),
            ("size_unit", "cm".to_owned()), ("materials", "crayon".to_owned()), ("weight", "medium".to_owned()),
        ];
        let fields: Vec<(&str, &str)> = plate.iter().map(|(name, value)| (*name, value.as_str())).collect();
        let statuses = together(&five, |_, visitor| {
            visitor.post_once(&format!("{class}/prints/new"), &fields, "one-key-of-five-threads")
        });
        assert_eq!(counted(&statuses, 303), 5, "{statuses:?}");
        assert_eq!(rows(studio, "print WHERE title = 'Two clicks'"), 1);
        assert_eq!(rows(studio, "journal WHERE act = 'print.begun'"), 1);
        let keepers: Vec<Visitor> = { let keeper = studio.signed_in(KEEPER); (0..5).map(|_| keeper.copied()).collect() };
        let fields = [("name", "Spring 2027"), ("starts", "2027-01-20"), ("ends", "2027-05-14"), ("zone", "America/New_York")];
        let statuses = together(&keepers, |_, visitor| visitor.post_once("/school/terms", &fields, "a-term-of-five-threads"));
        assert_eq!(counted(&statuses, 303), 5, "{statuses:?}");
        assert_eq!(rows(studio, "term WHERE name = 'Spring 2027'"), 1);
        assert_eq!(tympan::store::journal::check(&mut studio.connection()).unwrap(), [], "the journal's chain holds");
    }

    /// On SQLite a glance is taken in the thread that asks, while a connection is free; where none is, it waits its turn.
    fn a_glance_is_taken_at_hand_or_waits_its_turn(studio) {
        let glance = |db: &tympan::store::Db| {
            let asked = tympan::pages::server::block_on(db.glance(|_| Ok(std::thread::current().id())));
            asked.unwrap() == std::thread::current().id()
        };
        let on_file = studio.engine() == Engine::Sqlite;
        assert_eq!(glance(&studio.house.db), on_file, "every connection is free");
        let places = if on_file { 4 } else { 8 };
        let (begun, release) = (Arc::new(Barrier::new(places + 1)), Arc::new(Barrier::new(places + 1)));
        let held: Vec<_> = (0..places)
            .map(|_| {
                let (db, begun, release) = (studio.house.db.clone(), begun.clone(), release.clone());
                std::thread::spawn(move || {
                    tympan::pages::server::block_on(db.read(move |_| {
                        begun.wait();
                        release.wait();
                        Ok(())
                    }))
                })
            })
            .collect();
        begun.wait();
        let db = studio.house.db.clone();
        let waits = std::thread::spawn(move || glance(&db));
        std::thread::sleep(Duration::from_millis(300));
        assert!(!waits.is_finished(), "no place is free");
        release.wait();
        assert!(!waits.join().unwrap(), "it was asked where a place became free");
        assert!(held.into_iter().all(|one| one.join().unwrap().is_ok()));
    }
}
