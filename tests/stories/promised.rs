//! What was promised and stood untold: what a refused start says, a demonstration for many at once, the rules of a class
//! started again, a stone on its way, and the demo school at moments that are no plain Tuesday.

use diesel::prelude::*;
use tympan::clock::Instant;
use tympan::commands::demo::furnish;
use tympan::pages::server::block_on;
use tympan::store::schema::{class, grading_scheme, plate, procedure, procedure_version, sign_off, step_run};

use crate::on_both;
use crate::stories::plates::{fresh, path, train};
use crate::stories::rows;
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Engine, Studio};

on_both! {
    /// Which sign-off, in which grade, who gives it, in which room, and when they are there.
    fn a_refused_start_says_what_is_missing_and_who_gives_it_where_and_when(studio) {
        let things = fresh(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let version = tympan::store::safety::topics::standing(&mut studio.connection(), studio.world.class).unwrap();
        let (topic, witness) = (things.topic.to_string(), format!("{}:{}", studio.world.assistant, things.topic));
        let topics = [("topic", topic.as_str()), ("witness", &witness), ("version", &version)];
        assert_eq!(instructor.post(&format!("{}/topics", studio.class_path()), &topics).status, 303);
        let assistant = studio.world.assistant.to_string();
        let presence = [("kind", "presence"), ("person", assistant.as_str()), ("weekday", "4"), ("from", "18:00"), ("to", "21:00")];
        let meetings = format!("{}/settings/meetings", studio.class_path());
        assert_eq!(instructor.post(&meetings, &presence).status, 303);
        let page = studio.signed_in(STUDENT).post(&format!("{}/start", path(studio, things.plate)), &[("step", "prepare")]);
        assert_eq!(page.status, 409);
        let read = page.read();
        for said in ["Acid and gum", "watched", "Lower print studio", "Abel Stone", "Ines Ravel", "Thu", "18:00"] {
            assert!(read.contains(said), "{said}: {read}");
        }
    }

    fn a_demonstration_is_signed_for_everybody_who_was_there_at_once(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        diesel::delete(sign_off::table).execute(&mut studio.connection()).unwrap();
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/sign-offs", studio.class_path());
        let (topic, version) = (things.topic.to_string(), things.topic_version.to_string());
        let base = [("topic", topic.as_str()), ("version", version.as_str()), ("grade", "shown")];
        let all = instructor.post(&path, &[&base[..], &[("stage", "tick-all")]].concat());
        assert_eq!(all.text().matches(" checked").count(), 2, "one tick for each student: {}", all.text());
        let both = [studio.world.student.to_string(), studio.world.other_student.to_string()];
        let seen: Vec<(&str, &str)> = both.iter().map(|id| ("seen", id.as_str())).collect();
        let over = instructor.post(&path, &[&base[..], &seen, &[("stage", "look-over")]].concat());
        assert!(over.read().contains("Sami Vale") && over.read().contains("Otis Wren"), "{}", over.read());
        let signed = instructor.post(&path, &[&base[..], &seen, &[("stage", "sign")]].concat());
        assert_eq!(signed.status, 303, "{}", signed.read());
        assert_eq!(rows(studio, "sign_off WHERE grade = 'shown' AND acknowledged_at IS NULL"), 2);
        for email in [STUDENT, OTHER_STUDENT] {
            let student = studio.signed_in(email);
            let page = student.get(&path).text();
            let id = page.split("/acknowledge").next().unwrap().rsplit('/').next().unwrap();
            assert_eq!(student.post(&format!("{path}/{id}/acknowledge"), &[]).status, 303);
        }
        assert_eq!(rows(studio, "sign_off WHERE acknowledged_at IS NOT NULL"), 2, "each by their own hand");
    }

    fn a_class_started_again_keeps_its_rules_and_those_of_grading(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        let instructor = studio.signed_in(INSTRUCTOR);
        let base = studio.class_path();
        let rules = [("title", "Plates"), ("shares_logs", "yes"), ("gum_limit_days", "7"), ("ph_low", "1.8"), ("ph_high", "4.3"), ("version", "1")];
        assert_eq!(instructor.post(&format!("{base}/settings/rules"), &rules).status, 303);
        let grading = [
            ("late", "12.5"), ("late_of", "earned"), ("max_days", "3"), ("grace", "45"), ("places", "1"), ("ties", "half_even"),
            ("scale", "Pass 60\nFail 0"), ("version", "0"),
        ];
        let kept = instructor.post(&format!("{base}/grades/rules"), &grading);
        assert_eq!(kept.status, 303, "{}", kept.read());
        let keeper = studio.signed_in(KEEPER);
        let term = [("name", "Spring 2027"), ("starts", "2027-01-20"), ("ends", "2027-05-14"), ("zone", "America/Chicago")];
        assert_eq!(keeper.post("/school/terms", &term).status, 303);
        use tympan::store::schema::term as terms;
        let term: String = terms::table.filter(terms::name.eq("Spring 2027")).select(terms::id).first(&mut studio.connection()).unwrap();
        let (due, teacher, room) = (format!("due-{}", things.project), studio.world.instructor.to_string(), studio.world.studio.to_string());
        let confirm = [
            ("term", term.as_str()), ("studio", &room), ("code", "LIT-C"), ("title", "Again"), ("instructor", &teacher), (&due, "2027-04-13T16:30"),
        ];
        let made = keeper.post(&format!("/school/classes/{}/again", studio.world.class), &confirm);
        assert_eq!(made.status, 303, "{}", made.read());
        type Rules = (bool, bool, Option<i32>, Option<i32>, Option<i32>);
        let rules: Rules = class::table
            .filter(class::code.eq("LIT-C"))
            .select((class::go_ahead, class::shares_logs, class::gum_limit_days, class::ph_low_hundredths, class::ph_high_hundredths))
            .first(&mut studio.connection())
            .unwrap();
        assert_eq!(rules, (false, true, Some(7), Some(180), Some(430)));
        type Scheme = (i32, String, Option<i32>, i32, i32, String, String);
        let schemes: Vec<Scheme> = grading_scheme::table
            .select((
                grading_scheme::late_bp, grading_scheme::late_of, grading_scheme::late_max_days, grading_scheme::grace_minutes,
                grading_scheme::rounding_places, grading_scheme::ties, grading_scheme::scale,
            ))
            .load(&mut studio.connection())
            .unwrap();
        assert_eq!(schemes.len(), 2, "of the old class and the new");
        assert_eq!(schemes[0], schemes[1]);
        assert_eq!((schemes[0].0, schemes[0].1.as_str(), schemes[0].2, schemes[0].3), (1250, "earned", Some(3), 45));
    }

    /// A stone goes its own way through the pages: grained, drawn, and etched only by who is signed off on nitric acid.
    fn a_stone_goes_its_way_through_the_pages(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let db = &mut studio.connection();
        let body = include_str!("../../seed/procedures/stone.json");
        diesel::update(procedure::table.find(things.procedure))
            .set((procedure::name.eq("Stone"), procedure::surface.eq("stone"))).execute(db).unwrap();
        diesel::update(procedure_version::table.find(things.procedure_version))
            .set(procedure_version::body.eq(body)).execute(db).unwrap();
        let student = studio.signed_in(STUDENT);
        let (project, procedure) = (things.project.to_string(), things.procedure.to_string());
        let fields = [
            ("project", project.as_str()), ("title", "Quarry"), ("procedure", &procedure), ("width", "30"), ("height", "40"),
            ("size_unit", "cm"), ("materials", "crayon 2"), ("weight", "medium"),
        ];
        let begun = student.post(&format!("{}/prints/new", studio.class_path()), &fields);
        assert_eq!(begun.status, 303, "{}", begun.read());
        let id: tympan::ids::PlateId = plate::table.filter(plate::materials.eq("crayon 2")).select(plate::id).first(db).unwrap();
        assert_eq!(rows(studio, "plate WHERE surface = 'stone'"), 1);
        let at = path(studio, id);
        let refused = student.post(&format!("{at}/start"), &[("step", "prepare")]);
        assert_eq!(refused.status, 409, "graining wants its own sign-off: {}", refused.read());
        for (topic, grade) in [("graining", "watched"), ("nitric", "watched")] {
            things.sign(db, &studio.world, topic, grade);
        }
        for step in ["prepare", "draw"] {
            let page = student.post(&format!("{at}/start"), &[("step", step)]);
            assert_eq!(page.status, 303, "{step}: {}", page.read());
            studio.later_ms(3_600_000);
            let run: tympan::ids::StepRunId = step_run::table
                .filter(step_run::step_key.eq(step).and(step_run::plate_id.eq(id))).select(step_run::id).first(db).unwrap();
            assert_eq!(student.post(&format!("{at}/end"), &[("run", run.as_str())]).status, 303);
        }
        let page = student.get(&at);
        assert_eq!(page.status, 200);
        assert!(page.read().contains("First etch"), "{}", page.read());
        for more in ["/plan", "/etches/new", "/proofs", "/table"] {
            let page = student.get(&format!("{at}{more}"));
            assert_eq!(page.status, 200, "{more}: {}", page.read());
        }
    }
}

/// A Sunday (the studio is closed), the small hours, the night the clocks go back and the one they go ahead, and the
/// last minutes of a year, where everything ahead lies in the next.
#[test]
fn the_demo_stands_at_any_moment() {
    let moments = [
        ("a Sunday", "2026-10-25T15:00:00Z"),
        ("at night", "2026-10-21T06:30:00Z"),
        ("clocks back", "2026-11-01T06:30:00Z"),
        ("clocks ahead", "2027-03-14T07:30:00Z"),
        ("a year's end", "2027-01-01T04:58:00Z"),
    ];
    for (what, moment) in moments {
        let at =
            Instant::from_millis(chrono::DateTime::parse_from_rfc3339(moment).unwrap().timestamp_millis());
        let studio = Studio::open_empty(Engine::Sqlite);
        studio.at(moment);
        let signs =
            block_on(furnish(&studio.house, at, 1)).unwrap_or_else(|trouble| panic!("{what}: {trouble}"));
        let db = &mut studio.connection();
        assert_eq!(rows(&studio, "plate"), 37, "{what}");
        let ahead = rows(
            &studio,
            &format!("step_run WHERE began_at > {0} OR ended_at > {0} OR ended_at < began_at", at.millis()),
        );
        assert_eq!(ahead, 0, "{what}: nothing lies ahead of the moment, and nothing ends before it begins");
        let outside: Vec<String> = step_run::table
            .filter(step_run::outside_rules.ne(""))
            .order((step_run::began_at, step_run::step_key))
            .select(step_run::step_key)
            .load(db)
            .unwrap();
        assert_eq!(
            outside,
            ["roll-up", "proof", "edition", "proof"],
            "{what}: only what the script means to break"
        );
        assert_eq!(tympan::store::journal::check(db).unwrap(), [], "{what}");
        for (role, email) in signs {
            let visitor = studio.visitor();
            let page =
                visitor.post("/sign-in", &[("email", &email), ("password", "gum-over-the-whole-plate")]);
            assert_eq!(page.status, 303, "{what}: {role}");
            let first = visitor.get("/");
            let page = if first.status == 303 { visitor.get(first.location()) } else { first };
            assert_eq!(page.status, 200, "{what}: {role}: {}", page.read());
        }
    }
}
