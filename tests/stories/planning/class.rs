//! The class plan: hours there are and wanted, how many prints fit, who is first without a place, and what would help.

use std::time::Instant as Stopwatch;

use diesel::prelude::*;
use tympan::ids::{EnrolmentId, PersonId, PlateId, PrintId};
use tympan::store::schema::*;

use super::{open, set, station};
use crate::on_both;
use crate::studio::Studio;
use crate::studio::things::Things;
use crate::studio::world::*;

fn path(studio: &Studio, query: &str) -> String {
    format!("{}/plan{query}", studio.class_path())
}

/// So many more students, each with a print and its plate.
pub(super) fn more(studio: &Studio, things: &Things, people: usize) {
    let db = &mut studio.connection();
    let world = &studio.world;
    for number in 0..people {
        let (who, print_id, plate_id) = (PersonId::new(NOW), PrintId::new(NOW), PlateId::new(NOW));
        let place = i32::try_from(number).unwrap() + 2;
        diesel::insert_into(person::table)
            .values((
                (
                    person::id.eq(who),
                    person::given_name.eq("Nora"),
                    person::family_name.eq(format!("N{place:03}")),
                ),
                (person::keeper.eq(false), person::records.eq(false), person::safety_officer.eq(false)),
                (person::volume_unit.eq("ml"), person::daily_letter.eq(true), person::failed_sign_ins.eq(0)),
                (person::created_at.eq(NOW), person::version.eq(1)),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(enrolment::table)
            .values((
                (enrolment::id.eq(EnrolmentId::new(NOW)), enrolment::class_id.eq(world.class)),
                (
                    enrolment::person_id.eq(who),
                    enrolment::role.eq("student"),
                    enrolment::state.eq("enrolled"),
                ),
                enrolment::since.eq(chrono::NaiveDate::from_ymd_opt(2026, 8, 31).unwrap()),
                (enrolment::joined_at.eq(NOW), enrolment::version.eq(1)),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(print::table)
            .values((
                (
                    print::id.eq(print_id),
                    print::class_id.eq(world.class),
                    print::project_id.eq(things.project),
                ),
                (print::person_id.eq(who), print::title.eq(format!("Print {place}"))),
                (print::created_at.eq(NOW), print::version.eq(1)),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(plate::table)
            .values((
                (plate::id.eq(plate_id), plate::class_id.eq(world.class), plate::print_id.eq(print_id)),
                (plate::person_id.eq(who), plate::procedure_version_id.eq(things.procedure_version)),
                (plate::number.eq(place), plate::position.eq(1), plate::surface.eq("plate")),
                (
                    plate::width_hundredths.eq(2500),
                    plate::height_hundredths.eq(3500),
                    plate::size_unit.eq("cm"),
                ),
                (plate::materials.eq("crayon"), plate::weight.eq("medium"), plate::standing.eq("bare")),
                (plate::standing_since.eq(NOW), plate::rack_place.eq(""), plate::note.eq("")),
                (plate::created_at.eq(NOW), plate::version.eq(1)),
            ))
            .execute(db)
            .unwrap();
    }
}

fn stations(studio: &Studio) {
    for (kind, units) in [("graining sink", 1), ("etching table", 2), ("slab", 1), ("press", 1)] {
        station(studio, kind, units);
    }
}

on_both! {
    fn it_counts_the_begun_and_the_not_begun_and_says_who_is_first_without_a_place(studio) {
        let things = set(studio);
        stations(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let page = instructor.get(&path(studio, ""));
        assert_eq!(page.status, 200, "{}", page.read());
        for said in ["All of them", "No more openings"] {
            assert!(page.has(&format!("<option value=\"\">{said}</option>")), "no choice is blank: {said}");
        }
        assert!(page.read().contains("2 of 2 prints can be placed by their due dates"), "{}", page.read());
        // Of the press each print wants 90 min of proof and 75 + 8 x 6 min of edition: 213, two of them 426 min.
        // Open from Tuesday 10:00 on: 11 + 3 x 12 h this week, four weeks of 60 h, then Monday and Tuesday until 16:30.
        assert!(page.read().contains("press 1 place, 306 h 30 min of time, 7 h 6 min wanted"), "{}", page.read());
        // Nobody can print when there is only an hour a week.
        open(&mut studio.connection(), studio.world.studio, &[(3, 600, 660)]);
        let page = instructor.get(&path(studio, ""));
        assert!(page.read().contains("0 of 2 prints can be placed"), "{}", page.read());
        assert!(page.read().contains("First without a place"), "{}", page.read());
        assert!(page.read().contains("Otis Wren") && page.read().contains("not begun: “A room at night”"), "{}", page.read());
        let _ = things;
    }

    fn a_term_closed_from_end_to_end_and_a_press_out_of_order_are_said_and_break_nothing(studio) {
        let things = set(studio);
        stations(studio);
        let db = &mut studio.connection();
        let days = chrono::NaiveDate::from_ymd_opt(2026, 8, 31).unwrap().iter_days().take(111);
        for day in days {
            diesel::insert_into(closure::table)
                .values((
                    closure::id.eq(tympan::ids::ClosureId::new(NOW)), closure::studio_id.eq(studio.world.studio),
                    closure::day.eq(day), closure::reason.eq("flood"),
                ))
                .execute(db).unwrap();
        }
        let instructor = studio.signed_in(INSTRUCTOR);
        let page = instructor.get(&path(studio, ""));
        assert!(page.status == 200 && page.read().contains("0 of 2 prints can be placed"), "{}", page.read());
        assert!(page.read().contains("0 min"), "nothing is had: {}", page.read());
        for asked in ["?day=4&from=17:00&to=21:00", "?sheets=2", "?sheets=0", "?day=9", "?day=4&from=21:00&to=17:00", "?project=nonsense"] {
            let page = instructor.get(&path(studio, asked));
            assert!(matches!(page.status, 200 | 422), "{asked}: {}", page.status);
        }
        let student = studio.signed_in(STUDENT);
        for page in ["", "/projects", &format!("/plates/{}", things.plate), &format!("/plates/{}/plan", things.plate)] {
            let page = student.get(&format!("{}{page}", studio.class_path()));
            assert_eq!(page.status, 200, "{}", page.read());
        }
        let plan = student.get(&format!("{}/plates/{}/plan", studio.class_path(), things.plate)).read();
        assert!(plan.contains("no opening") || plan.contains("open time") || plan.contains("late"), "{plan}");
    }

    fn what_if_stands_beside_how_it_stands(studio) {
        let things = set(studio);
        stations(studio);
        more(studio, &things, 6);
        // Three and a half hours on Wednesdays: five Wednesdays before the due date of 24 November.
        open(&mut studio.connection(), studio.world.studio, &[(3, 600, 810)]);
        let instructor = studio.signed_in(INSTRUCTOR);
        let fits = |page: &str| -> Vec<i64> {
            let table = page.split("First without a place</th></tr></thead>").nth(1).unwrap();
            let body = table.split("</tbody>").next().unwrap();
            body.split("data-label=\"Prints placed\"><b>").skip(1)
                .map(|rest| rest.split('<').next().unwrap().parse().unwrap()).collect()
        };
        let page = instructor.get(&path(studio, "?day=4&from=17:00&to=21:00&sheets=2&repaired="));
        assert_eq!(page.status, 200, "{}", page.read());
        let found = fits(&page.text());
        assert_eq!(found.len(), 3, "{}", page.read());
        // A print wants 60 min of the sink, 90 of the tables, 60 of the slab and 213 of the press (editions of 2: 177).
        // Five Wednesdays are 1,050 min of each of the five units; five Thursdays of four hours are 1,200 min more.
        let answers = |page: &str| -> Vec<String> {
            let table = page.split("First without a place</th></tr></thead>").nth(1).unwrap();
            table.split("</tbody>").next().unwrap().split("<tr>").skip(1).map(crate::studio::browserlike::plain).collect()
        };
        let told = answers(&page.text());
        for (row, figures) in told.iter().zip([
            "87 h 30 min 56 h 24 min 10 h 54 min", "187 h 30 min 56 h 24 min 0 min", "87 h 30 min 51 h 36 min 6 h 6 min",
        ]) {
            assert!(row.contains(figures), "{row} does not say {figures}");
        }
        // On a Wednesday of three and a half hours the press holds no proof and edition of one print together (213 min
        // and the go-ahead), nor one print's edition beside another's proof, so only one gets through; with editions of 2
        // (90 + 87 min) the three Wednesdays after the first two hold one each.
        assert_eq!((found[0], found[2]), (1, 3), "{told:?}");
        assert!(found[1] > 1, "{told:?}");
        // Back from 24 November every edition begins on Wednesday the 18th at 10:57 at the latest (put away by 13:30) and
        // every proof on the 11th at 12:00: 8 x 123 and 8 x 90 min.
        let press = page.text().split("id=\"station-3\"").nth(1).unwrap().to_owned();
        let weeks: Vec<String> = press.split("<tbody>").nth(1).unwrap().split("</tbody>").next().unwrap()
            .split("<tr>").skip(1).map(crate::studio::browserlike::plain).collect();
        for (week, figures) in weeks.iter().zip([
            "3 h 30 min 0 min", "3 h 30 min 0 min", "3 h 30 min 0 min", "3 h 30 min 12 h", "3 h 30 min 16 h 24 min", "0 min 0 min",
        ]) {
            assert!(week.contains(figures), "{week} does not say {figures}");
        }
        // The same evening once, beside every week.
        let page_once = instructor.get(&path(studio, "?day=4&date=2026-10-29&from=17:00&to=21:00"));
        let told = answers(&page_once.text());
        assert_eq!(told.len(), 3, "{told:?}");
        assert!(told[1].contains("every week") && told[1].contains("187 h 30 min"), "{told:?}");
        assert!(told[2].contains("open on Thu 29 Oct from 17:00 to 21:00 too, that once"), "{told:?}");
        assert!(told[2].contains("107 h 30 min 56 h 24 min 6 h 54 min"), "{told:?}");
        assert!(page_once.has("value=\"2026-10-29\""), "what was asked stays");
        assert!(page.read().contains("open on Thursday from 17:00 to 21:00 too, every week"), "{}", page.read());
        assert!(page.read().contains("editions of 2 at the most"), "{}", page.read());
        assert!(page.has("value=\"17:00\"") && page.has("value=\"2\""), "what was asked stays");
        assert!(page.has("<svg class=\"chart\"") && !page.has("style="));
        // A press out of order, and the answer for a repaired one.
        let press: tympan::ids::StationId = station::table
            .filter(station::kind.eq("press")).select(station::id).first(&mut studio.connection()).unwrap();
        let down = [("station", press.to_string()), ("unit", "1".into()), ("from", "2026-10-20T10:00".into()), ("reason", "bed cracked".to_owned())];
        let down: Vec<(&str, &str)> = down.iter().map(|(name, value)| (*name, value.as_str())).collect();
        assert_eq!(instructor.post(&format!("{}/studio/downs", studio.class_path()), &down).status, 303);
        let page = instructor.get(&path(studio, "?repaired=press"));
        let with = fits(&page.text());
        assert_eq!((with[0], with[1]), (0, found[0]), "nothing without the press, as before with it");
        assert!(page.read().contains("nothing out of order: press"), "{}", page.read());
        assert!(page.has("<option value=\"press/1\">press, unit 1 alone</option>"), "{}", page.text());
        let page = instructor.get(&path(studio, "?repaired=press%2F1"));
        assert_eq!(fits(&page.text()), with, "its only unit");
        assert!(page.read().contains("unit 1 not out of order: press"), "{}", page.read());
    }

    fn other_classes_and_other_projects_take_their_places_too(studio) {
        let things = set(studio);
        stations(studio);
        let db = &mut studio.connection();
        let world = &studio.world;
        open(db, world.studio, &[(3, 600, 810)]);
        // One student in the class, one in the other class of the same studio.
        diesel::update(enrolment::table.filter(enrolment::person_id.eq(world.other_student)))
            .set(enrolment::class_id.eq(world.other_class)).execute(db).unwrap();
        let instructor = studio.signed_in(INSTRUCTOR);
        let headline = |query: &str| {
            let read = instructor.get(&path(studio, query)).read();
            let end = read.find("prints can be placed by their due dates").unwrap_or_else(|| panic!("{read}"));
            (read[..end].trim().rsplit("Studio").next().unwrap().trim().to_owned(), read)
        };
        let says = |query: &str, fits: &str, others: Option<&str>| {
            let (head, read) = headline(query);
            assert!(head.ends_with(fits), "{head}, not {fits}: {read}");
            assert_eq!(others.is_some(), read.contains("Counted too"), "{read}");
            assert!(others.is_none_or(|others| read.contains(others)), "{read}");
        };
        says("", "1 of 1", None);
        // Another class wants the same press by a day before: only one print gets through (worked out beside the test of
        // the questions), and it is the one that is due sooner.
        let elsewhere = tympan::ids::ProjectId::new(NOW);
        let project_of = |id: tympan::ids::ProjectId, class: tympan::ids::ClassId, due: &str| {
            diesel::insert_into(project::table)
                .values((
                    (project::id.eq(id), project::class_id.eq(class), project::position.eq(2)),
                    (project::title.eq("Tide table"), project::brief.eq("")),
                    (project::due_local.eq(due), project::edition_asked.eq(8)),
                    (project::procedure_id.eq(things.procedure), project::created_at.eq(NOW)),
                    project::version.eq(1),
                ))
                .execute(&mut studio.connection()).unwrap();
        };
        project_of(elsewhere, world.other_class, "2026-11-23T16:30");
        says("", "0 of 1", Some("1 other print, of another class or project, that shares the studio and must be done by then. Of the hours wanted 7 h 3 min are for that."));
        assert!(headline("").1.contains("14 h 6 min"), "both are wanted");
        diesel::update(project::table.find(elsewhere)).set(project::due_local.eq("2026-11-25T16:30")).execute(db).unwrap();
        says("", "1 of 1", None);
        // A project of one's own class keeps its place when another is looked at alone.
        diesel::delete(project::table.find(elsewhere)).execute(db).unwrap();
        project_of(elsewhere, world.class, "2026-11-23T16:30");
        says("", "1 of 2", None);
        says(&format!("?project={}", things.project), "0 of 1", Some("7 h 3 min"));
        says(&format!("?project={elsewhere}"), "1 of 1", None);
    }

    fn a_question_that_makes_no_sense_is_answered_at_its_field(studio) {
        set(studio);
        stations(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        for (query, field, said) in [
            ("?day=8&from=17:00&to=20:00", "day", "outside what is possible"),
            ("?from=17:00&to=20:00", "day", "This is missing"),
            ("?day=2&from=20:00&to=17:00", "to", "does not come after"),
            ("?day=2&from=later&to=17:00", "from", "is no time of day"),
            ("?date=2026-02-30&from=17:00&to=20:00", "date", "is no"),
            ("?sheets=0", "sheets", "outside what is possible"),
            ("?sheets=many", "sheets", "is no number"),
            ("?project=all", "project", "not one of the choices"),
        ] {
            let page = instructor.get(&path(studio, query));
            assert_eq!(page.status, 422, "{query}");
            assert!(page.has(&format!("id=\"plans-what-if-{field}-complaint\"")), "{query}: {}", page.read());
            assert!(page.read().contains(said), "{query}: {}", page.read());
            assert!(page.read().contains("2 of 2 prints"), "how it stands is shown all the same");
        }
        let unknown = format!("?project={}", studio.world.class);
        assert_eq!(instructor.get(&path(studio, &unknown)).status, 404);
        let page = instructor.get(&path(studio, "?day=2&from=%FF"));
        assert!(matches!(page.status, 200 | 422), "{}", page.status);
    }

    fn a_class_without_work_or_with_every_date_past_says_so(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        assert!(instructor.get(&path(studio, "")).read().contains("No print has anything left to do"));
        set(studio);
        studio.at("2026-11-25T10:00:00-05:00");
        let instructor = studio.signed_in(INSTRUCTOR);
        let page = instructor.get(&path(studio, ""));
        assert!(page.status == 200 && page.read().contains("Every due date has passed"), "{}", page.read());
    }

    fn students_do_not_see_it(studio) {
        set(studio);
        assert_eq!(studio.signed_in(STUDENT).get(&path(studio, "")).status, 403);
        assert_eq!(studio.signed_in(STRANGER).get(&path(studio, "")).status, 404);
        assert_eq!(studio.signed_in(ASSISTANT).get(&path(studio, "")).status, 200);
    }

    fn seventy_two_plates_take_no_more_statements_and_little_time(studio) {
        let things = set(studio);
        stations(studio);
        more(studio, &things, 71);
        let instructor = studio.signed_in(INSTRUCTOR);
        let query = path(studio, "?day=4&from=17:00&to=21:00&sheets=4");
        instructor.get(&query);
        let watch = Stopwatch::now();
        let page = instructor.get(&query);
        let took = watch.elapsed();
        assert!(page.read().contains("of 73 prints"), "{}", page.read());
        println!("class plan of 72 plates with two questions: {} ms, {} bytes", took.as_millis(), page.body.len());
        assert!(took.as_secs() < 20, "{took:?} in a build that is not optimised");
    }
}
