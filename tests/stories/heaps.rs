//! The class on one sheet: late first, then stuck, then what waits for the instructor, whatever else is the matter.

use diesel::prelude::*;
use tympan::clock::DAY_MS;
use tympan::ids::{Id, PlateId, ProjectId};
use tympan::store::schema::{plate, print, project};

use crate::on_both;
use crate::stories::plates::{fresh, path, train};
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Studio, Visitor};

fn due(studio: &Studio, things: &Things, title: &str, position: i32, due_local: &str) -> String {
    let id: ProjectId = Id::new(NOW);
    diesel::insert_into(project::table)
        .values((
            (project::id.eq(id), project::class_id.eq(studio.world.class), project::position.eq(position)),
            (project::title.eq(title), project::brief.eq(""), project::due_local.eq(due_local)),
            (project::edition_asked.eq(3), project::procedure_id.eq(things.procedure)),
            (project::created_at.eq(NOW), project::version.eq(1)),
        ))
        .execute(&mut studio.connection())
        .unwrap();
    id.to_string()
}

fn begin(studio: &Studio, student: &Visitor, things: &Things, project: &str, title: &str) -> PlateId {
    let procedure = things.procedure.to_string();
    let fields = [
        ("project", project),
        ("title", title),
        ("procedure", &procedure),
        ("width", "25"),
        ("height", "35"),
        ("size_unit", "cm"),
        ("materials", "crayon 3"),
        ("weight", "medium"),
    ];
    let page = student.post(&format!("{}/prints/new", studio.class_path()), &fields);
    assert_eq!(page.status, 303, "{}", page.read());
    plate::table
        .inner_join(print::table)
        .filter(print::title.eq(title))
        .select(plate::id)
        .first(&mut studio.connection())
        .unwrap()
}

/// Tells a roll-up of a plate that was never etched: its log then waits for the instructor.
fn out_of_order(studio: &Studio, student: &Visitor, plate: PlateId, began: &str, ended: &str) {
    let told = [("step", "roll-up"), ("began", began), ("ended", ended)];
    let page = student.post(&format!("{}/tell", path(studio, plate)), &told);
    assert_eq!(page.status, 303, "{}", page.read());
}

on_both! {
    fn late_comes_first_then_stuck_then_what_waits_for_the_instructor(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let soon = due(studio, &things, "Soon", 2, "2026-10-31T16:30");
        let far = due(studio, &things, "Far", 3, "2027-02-26T16:30");
        let student = studio.signed_in(STUDENT);
        // Named against the order they have to come in.
        let late = begin(studio, &student, &things, &soon, "Zinnia, late");
        let blocked = begin(studio, &student, &things, &soon, "Yarrow, late and unsettled");
        begin(studio, &student, &things, &far, "Willow, stuck");
        out_of_order(studio, &student, blocked, "2026-10-20T08:00", "2026-10-20T08:30");
        studio.later_ms(10 * DAY_MS);
        let student = studio.signed_in(STUDENT);
        let yours = begin(studio, &student, &things, &far, "Violet, unsettled");
        out_of_order(studio, &student, yours, "2026-10-30T08:00", "2026-10-30T08:30");
        begin(studio, &student, &things, &far, "Aster, on course");
        let instructor = studio.signed_in(INSTRUCTOR);
        let all = format!("{}/all", studio.class_path());
        let page = instructor.get(&all).text();
        let at = |word: &str| page.find(word).unwrap_or_else(|| panic!("no {word}: {page}"));
        let order = [at("Zinnia, late"), at("Willow, stuck"), at("Violet, unsettled"), at("Aster, on course")];
        assert!(order.is_sorted(), "late, stuck, yours, on course: {order:?}");
        assert!(at("Yarrow, late and unsettled") < at("Willow, stuck"), "an unsettled log makes nothing less late");
        let narrow = instructor.get(&format!("{all}?show=late")).text();
        assert!(narrow.contains("to settle"), "and that it waits to be settled is said: {narrow}");
        assert!(narrow.contains("Zinnia") && narrow.contains("Yarrow") && !narrow.contains("Willow"), "{late}");
        let narrow = instructor.get(&format!("{all}?show=yours")).text();
        assert!(narrow.contains("Violet") && !narrow.contains("Yarrow"), "each plate stands in one heap");
        let today = instructor.get(&studio.class_path()).text();
        let counted: Vec<&str> = today.split("<dd class=\"big\">").skip(1).filter_map(|rest| rest.split('<').next()).collect();
        assert_eq!(counted, ["6", "2", "2"], "plates, late, and stuck without being late: {today}");
    }
}
