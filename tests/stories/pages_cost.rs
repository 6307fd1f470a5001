//! What a page costs, counted rather than timed: statements, bytes, commits. The numbers hold on every machine, and the
//! same for one plate as for a class full of them.

use diesel::prelude::*;
use tympan::clock::Instant;
use tympan::ids::{PlateId, StepRunId};
use tympan::store::plates::folder::folder;
use tympan::store::schema::{plate, step_run};
use tympan::store::tally::Count;
use tympan::trade::spelled::Spelled as _;

use crate::on_both;
use crate::studio::crowd::Crowd;
use crate::studio::world::*;
use crate::studio::{Page, Studio, Visitor};

/// What one more look at a page costs: procedures are read once a program, so the first look does not count.
fn cost(studio: &Studio, visitor: &Visitor, path: &str) -> (Count, Page) {
    let first = visitor.get(path);
    assert_eq!(first.status, 200, "{path}: {}", first.read());
    let before = studio.house.db.tally().count();
    let page = visitor.get(path);
    (studio.house.db.tally().count() - before, page)
}

fn plate_path(studio: &Studio, plate: PlateId) -> String {
    format!("{}/plates/{plate}", studio.class_path())
}

/// The statements of the pages people look at most, in the order of `NAMES`.
fn statements(studio: &Studio) -> [u64; 5] {
    let (student, instructor) = (studio.signed_in(&Crowd::email(0)), studio.signed_in(INSTRUCTOR));
    let (today, class) = (studio.class_path(), format!("{}/all", studio.class_path()));
    let plate = plate_path(studio, Crowd::plate(0));
    let looks = [
        (&student, &today),
        (&instructor, &today),
        (&instructor, &class),
        (&student, &plate),
        (&instructor, &plate),
    ];
    looks.map(|(visitor, path)| {
        let (count, _) = cost(studio, visitor, path);
        assert_eq!(count.commits, 0, "{path} changes nothing");
        count.statements
    })
}

const NAMES: [&str; 5] =
    ["Today, student", "Today, instructor", "Class", "Plate, student", "Plate, instructor"];
/// Session and membership included.
const AT_MOST: [u64; 5] = [7, 7, 6, 13, 12];

on_both! {
    fn a_page_asks_few_questions_and_no_more_of_a_full_class(studio) {
        let db = &mut studio.connection();
        Crowd::one_class(1, 1).fill(db, &studio.world);
        let few = statements(studio);
        for ((name, found), most) in NAMES.iter().zip(few).zip(AT_MOST) {
            assert!((3..=most).contains(&found), "{name}: {found} statements, at most {most}");
        }
    }

    fn seventy_two_plates_cost_as_many_statements_as_one(studio) {
        Crowd::one_class(24, 3).fill(&mut studio.connection(), &studio.world);
        let full = statements(studio);
        let single = Studio::open(studio.engine());
        Crowd::one_class(1, 1).fill(&mut single.connection(), &single.world);
        assert_eq!(full, statements(&single), "in the order of {NAMES:?}");
    }

    fn a_page_is_light(studio) {
        Crowd::one_class(24, 3).fill(&mut studio.connection(), &studio.world);
        let (student, instructor) = (studio.signed_in(&Crowd::email(5)), studio.signed_in(INSTRUCTOR));
        let class = format!("{}/all", studio.class_path());
        let plate = plate_path(studio, Crowd::plate(15));
        for (visitor, path, kib) in
            [(&student, studio.class_path(), 16), (&instructor, class, 120), (&student, plate, 24)]
        {
            let (_, page) = cost(studio, visitor, &path);
            assert!(page.body.len() > 2000, "{path} has something to say");
            assert!(page.body.len() < kib * 1024, "{path}: {} bytes, at most {kib} KiB", page.body.len());
        }
    }

    fn an_act_is_one_commit(studio) {
        Crowd::one_class(1, 1).fill(&mut studio.connection(), &studio.world);
        let student = studio.signed_in(&Crowd::email(0));
        let plate = plate_path(studio, Crowd::plate(0));
        student.seal();
        let acts: [(String, Vec<(&str, &str)>); 3] = [
            (format!("{plate}/start"), vec![("step", "prepare")]),
            (format!("{plate}/put-down"), vec![("gummed", "yes"), ("buffed", "yes"), ("rack_place", "B4")]),
            (
                format!("{plate}/tell"),
                vec![("step", "draw"), ("began", "2026-10-19T10:00"), ("ended", "2026-10-19T11:00")],
            ),
        ];
        for (path, fields) in acts {
            let before = studio.house.db.tally().count();
            let page = student.post(&path, &fields);
            let cost = studio.house.db.tally().count() - before;
            assert_eq!(page.status, 303, "{path}: {}", page.read());
            assert_eq!(cost.commits, 1, "{path}");
            assert!((6..=30).contains(&cost.statements), "{path}: {} statements", cost.statements);
        }
    }
    fn recording_an_etch_reads_the_plate_once(studio) {
        Crowd::one_class(1, 1).fill(&mut studio.connection(), &studio.world);
        let student = studio.signed_in(&Crowd::email(0));
        let plate = plate_path(studio, Crowd::plate(0));
        for (step, began, ended) in [
            ("prepare", "2026-10-17T10:00", "2026-10-17T10:30"),
            ("draw", "2026-10-18T10:00", "2026-10-18T15:00"),
        ] {
            let told = student.post(&format!("{plate}/tell"), &[("step", step), ("began", began), ("ended", ended)]);
            assert_eq!(told.status, 303, "{step}: {}", told.read());
        }
        assert_eq!(student.post(&format!("{plate}/start"), &[("step", "first-etch")]).status, 303);
        let run: StepRunId = step_run::table
            .filter(step_run::ended_at.is_null())
            .select(step_run::id)
            .first(&mut studio.connection())
            .unwrap();
        let run = run.to_string();
        let etch = [
            ("run", run.as_str()), ("unit", "us_fl_oz"), ("recipe", "acid_in_gum"), ("gum", "none"), ("gum_volume", "1"),
            ("acid", "none"), ("drops", "4"), ("application_1", "2"), ("application_2", "1.5"), ("application_3", "2:30"),
        ];
        let down = [("gummed", "yes"), ("buffed", "yes"), ("rack_place", "B4")];
        // Ending the step under way and putting the plate down with it; then a second log of the step that has ended.
        for (fields, most) in [([&etch[..], &down[..]].concat(), 19), ([&etch[..], &[("goes_on", "yes")]].concat(), 16)] {
            let before = studio.house.db.tally().count();
            let page = student.post(&format!("{plate}/etches/new"), &fields);
            let cost = studio.house.db.tally().count() - before;
            assert!(page.location().contains("done-etch-recorded"), "{} {}", page.location(), page.read());
            assert_eq!(cost.commits, 1);
            assert!((10..=most).contains(&cost.statements), "{} statements, at most {most}", cost.statements);
        }
        // What the act worked out beside the record is what reading the record anew comes to.
        let (standing, gummed, place): (String, Option<Instant>, String) = plate::table
            .find(Crowd::plate(0))
            .select((plate::standing, plate::gummed_at, plate::rack_place))
            .first(&mut studio.connection())
            .unwrap();
        let world = &studio.world;
        let zone = chrono_tz::America::New_York;
        let (db, known) = (&mut studio.connection(), &studio.house.procedures);
        let stands = folder(db, known, world.class, Crowd::plate(0), None, world.studio, zone).unwrap().outlook(NOW);
        assert_eq!((standing.as_str(), place.as_str()), (stands.standing.word(), "B4"));
        assert_eq!((standing.as_str(), gummed), ("under_gum", stands.gum.gummed.map(Instant::from_utc)));
    }
}
