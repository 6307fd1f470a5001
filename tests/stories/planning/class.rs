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
fn more(studio: &Studio, things: &Things, people: usize) {
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
        assert!(page.read().contains("the press is") || page.read().contains("press 1 place, "), "{}", page.read());
        assert!(page.read().contains("7 h 6 min wanted"), "{}", page.read());
        // Open from Tuesday 10:00 on: 11 + 3 x 12 h this week, four weeks of 60 h, then Monday and Tuesday until 16:30.
        assert!(page.read().contains(&format!("press 1 place, {} h", 11 + 36 + 240 - 60 + 60 + 12) ) || page.read().contains("of time"), "{}", page.read());
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
        assert!(found[0] < 8 && found[1] > found[0] && found[2] >= found[0], "{found:?}");
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
