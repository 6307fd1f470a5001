//! A class started from an earlier one: the preview makes nothing, each date can be changed, closures are marked and
//! obeyed only when told to, and confirming makes everything at once.

use diesel::prelude::*;
use tympan::store::schema::*;

use crate::on_both;
use crate::stories::{but, rows};
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Studio, Visitor};

/// A spring term from Wednesday 20 January 2027.
fn spring(studio: &Studio, keeper: &Visitor) -> String {
    let term = [
        ("name", "Spring 2027"),
        ("starts", "2027-01-20"),
        ("ends", "2027-05-14"),
        ("zone", "America/Chicago"),
    ];
    assert_eq!(keeper.post("/school/terms", &term).status, 303);
    term::table.filter(term::name.eq("Spring 2027")).select(term::id).first(&mut studio.connection()).unwrap()
}

fn close(studio: &Studio, first: &str, last: &str) {
    let path = format!("{}/studio/closures", studio.class_path());
    let closed = [("first", first), ("last", last), ("reason", "Spring break")];
    assert_eq!(studio.signed_in(ASSISTANT).post(&path, &closed).status, 303);
}

on_both! {
    fn a_keeper_starts_a_class_again_with_dates_by_week_of_term(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        let keeper = studio.signed_in(KEEPER);
        let term = spring(studio, &keeper);
        // The project was due on Tuesday of week 13 (24 November); in the new term that is 13 April.
        close(studio, "2027-04-13", "2027-04-14");
        let meeting = [("kind", "meeting"), ("weekday", "2"), ("from", "09:00"), ("to", "12:00")];
        let instructor = studio.signed_in(INSTRUCTOR);
        let meetings = format!("{}/settings/meetings", studio.class_path());
        assert_eq!(instructor.post(&meetings, &meeting).status, 303);
        let assistant = studio.world.assistant.to_string();
        let presence = [("kind", "presence"), ("person", assistant.as_str()), ("weekday", "4"), ("from", "18:00"), ("to", "21:00")];
        assert_eq!(instructor.post(&meetings, &presence).status, 303);

        let etches = [("version", "0"), ("surface-0", "plate"), ("weight-0", "medium"), ("material-0", "crayon 3"), ("drops-0", "6.5"), ("applications-0", "2"), ("seconds-0", "120"), ("source-0", "own tests")];
        assert_eq!(instructor.post(&format!("{}/settings/etch-table", studio.class_path()), &etches).status, 303);

        let path = format!("/school/classes/{}/again", studio.world.class);
        assert!(keeper.get(&path).read().contains("nothing is made before you confirm it"));
        let room = studio.world.studio.to_string();
        let before = rows(studio, "journal");
        let preview = keeper.get(&format!("{path}?term={term}&studio={room}"));
        let read = preview.read();
        assert!(preview.has("value=\"2027-04-13T16:30\""), "{read}");
        for said in ["week 13", "studio closed", "Spring break", "Thu 15 Apr, 16:30", "One date falls on a day"] {
            assert!(read.contains(said), "{said}: {read}");
        }
        assert_eq!((rows(studio, "class"), rows(studio, "journal")), (2, before), "a preview makes nothing");
        assert_eq!(keeper.get(&format!("{path}?term=x&studio={room}")).status, 422);
        assert_eq!(keeper.get(&format!("{path}?term={}&studio={room}", things.project)).status, 422, "no such term");

        let due = format!("due-{}", things.project);
        let shift = format!("shift-{}", things.project);
        let teacher = studio.world.instructor.to_string();
        let confirm: Vec<(&str, &str)> = vec![
            ("term", &term), ("studio", &room), ("code", "LIT-B"), ("title", "Plate lithography B"),
            ("instructor", &teacher), (&due, "2027-04-13T16:30"),
        ];
        for (field, value, said) in [
            (due.as_str(), "", "This is missing"),
            (&due, "2027-06-01T10:00", "outside the term"),
            (&due, "whenever", "is no day and time"),
            ("instructor", "", "Nobody is named"),
            ("code", "", "This is missing"),
        ] {
            let page = keeper.post(&path, &but(&confirm, field, value));
            assert_eq!(page.status, 422, "{field}={value:?}: {}", page.read());
            assert!(page.read().contains(said), "{field}={value:?}: {}", page.read());
        }
        assert_eq!((rows(studio, "class"), rows(studio, "project")), (2, 1), "nothing was made by halves");
        // The date stays on the closure where nobody says otherwise.
        let made = keeper.post(&path, &confirm);
        assert_eq!(rows(studio, "etch_table_row WHERE drops_hundredths = 650 AND version = 1"), 2, "the table of etches comes along");
        assert_eq!(made.status, 303, "{}", made.read());
        assert_eq!(rows(studio, "project WHERE due_local = '2027-04-13T16:30'"), 1);
        let mut moved = but(&confirm, "code", "LIT-C");
        moved.push((&shift, "yes"));
        let once = "00112233445566778899aabbccddeeff";
        let made = keeper.post_once(&path, &moved, once);
        assert_eq!(keeper.post_once(&path, &moved, once).location(), made.location(), "sent twice, made once");
        assert_eq!(rows(studio, "class"), 4);
        assert_eq!(rows(studio, "project WHERE due_local = '2027-04-15T16:30'"), 1, "moved because the box was ticked");
        everything_came_along(studio, &things);
        assert_eq!(tympan::store::journal::check(&mut studio.connection()).unwrap(), []);
    }

    fn an_instructor_fills_an_empty_class_from_one_they_teach(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        let keeper = studio.signed_in(KEEPER);
        let term = spring(studio, &keeper);
        let (room, teacher) = (studio.world.studio.to_string(), studio.world.instructor.to_string());
        let made = keeper.post("/school/classes", &[
            ("term", term.as_str()), ("studio", &room), ("code", "LIT-B"), ("title", "Again"), ("instructor", &teacher),
        ]);
        assert_eq!(made.status, 303, "{}", made.read());
        let class: String = class::table.filter(class::title.eq("Again")).select(class::id).first(&mut studio.connection()).unwrap();
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("/classes/{class}/settings/again");
        let list = instructor.get(&path);
        assert!(list.has(&format!("{path}?from={}", studio.world.class)), "{}", list.text());
        let from = studio.world.class.to_string();
        let preview = instructor.get(&format!("{path}?from={from}"));
        assert!(preview.has("value=\"2027-04-13T16:30\""), "{}", preview.read());
        // A class one does not teach is not there to start from.
        let other = studio.world.other_class.to_string();
        assert_eq!(instructor.get(&format!("{path}?from={other}")).status, 404);
        let due = format!("due-{}", things.project);
        assert_eq!(instructor.post(&path, &[("from", other.as_str()), (&due, "2027-04-13T16:30")]).status, 404);
        let fill = [("from", from.as_str()), (due.as_str(), "2027-04-20T10:00")];
        let late = instructor.post(&path, &but(&fill, &due, "2028-01-01T10:00"));
        assert!(late.status == 422 && late.has("value=\"2028-01-01T10:00\""), "{}", late.read());
        assert_eq!(instructor.post(&path, &fill).location(), format!("/classes/{class}/settings?done=done-class-filled"));
        assert_eq!(rows(studio, "project WHERE due_local = '2027-04-20T10:00'"), 1, "as changed by hand");
        let twice = instructor.post(&path, &fill);
        assert_eq!(twice.status, 422);
        assert!(twice.read().contains("nothing can be brought into it"), "{}", twice.read());
        assert_eq!(tympan::store::journal::check(&mut studio.connection()).unwrap(), []);
    }
}

/// What the class of `starts_again` must hold besides its project, and what must not have come along.
fn everything_came_along(studio: &Studio, things: &Things) {
    let db = &mut studio.connection();
    let class: String = class::table.filter(class::code.eq("LIT-C")).select(class::id).first(db).unwrap();
    let of = |table: &str, more: &str| rows(studio, &format!("{table} WHERE class_id = '{class}'{more}"));
    assert_eq!(of("listing", " AND code = 'LIT 220'"), 1);
    assert_eq!(of("meeting", ""), 1, "presence of somebody who is not in the new class stays behind");
    assert_eq!(of("class_topic", ""), 1);
    assert_eq!(of("category", " AND title = 'Prints' AND weight_bp = 10000"), 1);
    assert_eq!(of("score", "") + of("print", "") + of("plate", "") + of("etch", ""), 0, "no work of people");
    assert_eq!(of("enrolment", ""), 1, "the instructor alone");
    let (procedure, name): (String, String) = procedure::table
        .filter(procedure::class_id.eq(&class))
        .select((procedure::id, procedure::name))
        .first(db)
        .unwrap();
    assert_eq!(name, "Ball-grained aluminium plate");
    assert_ne!(procedure, things.procedure.to_string(), "a copy of its own");
    let project: (String, String, i32) = project::table
        .filter(project::class_id.eq(&class))
        .select((project::id, project::procedure_id, project::edition_asked))
        .first(db)
        .unwrap();
    assert_eq!((project.1, project.2), (procedure.clone(), 8));
    let assessed: (Option<String>, i64) = assessment::table
        .filter(assessment::class_id.eq(&class))
        .select((assessment::project_id, assessment::points_hundredths))
        .first(db)
        .unwrap();
    assert_eq!(assessed, (Some(project.0), 10_000));
    let version = format!("procedure_version WHERE procedure_id = '{procedure}' AND number = 1");
    assert_eq!(rows(studio, &version), 1);
    let from: Option<String> = class::table.find(&class).select(class::copied_from).first(db).unwrap();
    assert_eq!(from, Some(studio.world.class.to_string()));
}
