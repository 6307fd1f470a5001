//! A copy, edited and kept: plates begun before keep what they began with. And what comes along to another class.

use diesel::prelude::*;
use tympan::store::schema::*;
use tympan::trade::procedure::Procedure;

use super::{copy, form_of, keep, kept_by_newest_plate, last, list, send, with};
use crate::on_both;
use crate::stories::plates::{fresh, train};
use crate::stories::rows;
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Studio, Visitor};

fn begin(studio: &Studio, student: &Visitor, things: &Things, procedure: &str, title: &str) -> (String, i32) {
    let project = things.project.to_string();
    let page = student.post(
        &format!("{}/prints/new", studio.class_path()),
        &[
            ("project", project.as_str()),
            ("title", title),
            ("procedure", procedure),
            ("width", "25"),
            ("height", "35"),
            ("size_unit", "cm"),
            ("materials", "crayon"),
            ("weight", "light"),
        ],
    );
    assert_eq!(page.status, 303, "{}", page.read());
    kept_by_newest_plate(studio)
}

fn steps_of(procedure: &Procedure) -> Vec<String> {
    procedure.all().map(|step| step.key.clone()).collect()
}

on_both! {
    fn a_plate_begun_before_keeps_version_1_and_one_begun_after_gets_2(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let (instructor, student) = (studio.signed_in(INSTRUCTOR), studio.signed_in(STUDENT));
        let list = list(studio);
        let writing = copy(&instructor, &list, &things.procedure.to_string(), "Aluminium, our way");
        let own = last(&writing).to_owned();
        let projects = instructor.get(&format!("{}/settings/projects", studio.class_path()));
        assert!(projects.has("Aluminium, our way (plate, of this class)"), "{}", projects.read());
        let (first, number) = begin(studio, &student, &things, &own, "Before");
        assert_eq!(number, 1);

        let step = format!("{writing}/steps/first-etch");
        let form = form_of(&instructor.get(&step), &step);
        assert!(form.contains(&("rest_advised".to_owned(), "12 h".to_owned())), "{form:?}");
        let page = send(&instructor, &step, &with(&form, &[("rest_advised", Some("18 h"))]));
        assert_eq!(page.status, 303, "{}", page.read());
        assert!(page.location().contains("done=done-step-kept#procedures-draft-first-etch"), "{}", page.location());
        let draft = instructor.get(&writing).read();
        assert!(draft.contains("Draft of version 2") && draft.contains("Ines Ravel"), "{draft}");
        assert_eq!(begin(studio, &student, &things, &own, "While it is a draft").1, 1);
        assert_eq!(keep(&instructor, &writing).location(), format!("{writing}?done=done-procedure-kept"));
        let (second, number) = begin(studio, &student, &things, &own, "After");
        assert_eq!(number, 2);

        let class = studio.class_path();
        for (plate, version, said) in [(&first, 1, "12\u{a0}h is advised"), (&second, 2, "18\u{a0}h is advised")] {
            let page = student.get(&format!("{class}/plates/{plate}/procedure"));
            assert_eq!(page.location(), format!("{class}/procedures/{own}?version={version}"));
            let handout = student.get(page.location());
            assert!(handout.text().contains(said), "{}", handout.read());
        }
        let table = instructor.get(&list).read();
        for said in ["version 2", "2 plates keep version 1", "1 plate keeps version 2"] {
            assert!(table.contains(said), "{said}: {table}");
        }
        let nothing = keep_again(&instructor, &writing);
        assert!(nothing.contains("Nothing was changed"), "{nothing}");
        assert_eq!(rows(studio, "procedure_draft"), 0);
    }

    fn a_step_saved_as_it_stands_changes_nothing(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let instructor = studio.signed_in(INSTRUCTOR);
        let writing = format!("{}/{}", list(studio), things.procedure);
        let body: String = procedure_version::table.find(things.procedure_version)
            .select(procedure_version::body).first(&mut studio.connection()).unwrap();
        let procedure = Procedure::from_json(&body).unwrap();
        for key in steps_of(&procedure) {
            let step = format!("{writing}/steps/{key}");
            let form = form_of(&instructor.get(&step), &step);
            let page = send(&instructor, &step, &form);
            assert_eq!(page.status, 303, "{key}: {}", page.read());
        }
        let head = form_of(&instructor.get(&writing), &writing);
        assert_eq!(send(&instructor, &writing, &head).status, 303);
        assert_eq!(rows(studio, "procedure_draft"), 0, "every field of every step came through the forms unchanged");
    }

    fn steps_are_added_moved_and_removed_and_a_draft_is_thrown_away(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let instructor = studio.signed_in(INSTRUCTOR);
        let writing = copy(&instructor, &list(studio), &things.procedure.to_string(), "Mine");
        let preset = instructor.get(&format!("{writing}?after=draw"));
        assert!(form_of(&preset, &format!("{writing}/steps")).contains(&("after".to_owned(), "draw".to_owned())));
        let added = instructor.post(&format!("{writing}/steps"), &[("title", "Photograph it"), ("after", "draw")]);
        assert_eq!(added.location(), format!("{writing}/steps/photograph-it?done=done-step-added"));
        let order = |step: &str, deed: &str, version: &str| {
            instructor.post(&format!("{writing}/order"), &[("step", step), ("deed", deed), ("version", version)])
        };
        assert_eq!(order("photograph-it", "up", "1").status, 303);
        let stale = order("photograph-it", "down", "1");
        assert_eq!(stale.status, 422);
        assert!(stale.read().contains("Somebody changed this draft meanwhile"), "{}", stale.read());
        assert_eq!(order("photograph-it", "remove", "2").status, 303);
        assert_eq!(order("photograph-it", "remove", "3").status, 404);
        let page = instructor.get(&writing);
        assert!(page.read().contains("Draft of version 2") && !page.has("Photograph it"), "{}", page.read());
        let form = form_of(&instructor.get(&format!("{writing}/discard")), &format!("{writing}/discard"));
        assert_eq!(send(&instructor, &format!("{writing}/discard"), &form).status, 303);
        assert!(instructor.get(&writing).read().contains("Version 1 holds"));
        assert_eq!(rows(studio, "procedure_draft WHERE discarded_at IS NULL"), 0);
    }

    fn a_procedure_is_taken_out_and_brought_in_again(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let instructor = studio.signed_in(INSTRUCTOR);
        let list = list(studio);
        let file = instructor.get(&format!("{}/procedures/{}/file", studio.class_path(), things.procedure));
        assert_eq!(file.headers.get("content-disposition").unwrap(), "attachment; filename=\"ball-grained-aluminium-plate-1.json\"");
        let shipped = std::fs::read_to_string("seed/procedures/aluminium-plate.json").unwrap();
        assert_eq!(Procedure::from_json(&file.text()).unwrap(), Procedure::from_json(&shipped).unwrap());
        let taken = instructor.upload(&format!("{list}/brought"), &[], ("file", "plate.json", &file.body));
        assert_eq!(taken.status, 422);
        assert!(taken.read().contains("already a procedure “Ball-grained aluminium plate”"), "{}", taken.read());
        let other = file.text().replacen("Ball-grained aluminium plate", "From elsewhere", 1);
        let once = "one-once-key-for-two";
        let mut at = Vec::new();
        for _ in 0..2 {
            let page = instructor.upload_once(&instructor.seal(), once, &format!("{list}/brought"), &[], ("file", "plate.json", other.as_bytes()));
            assert_eq!(page.status, 303, "{}", page.read());
            at.push(page.location().split('?').next().unwrap().to_owned());
        }
        assert_eq!(at[0], at[1], "the same file sent twice is one procedure");
        let student = studio.signed_in(STUDENT);
        let reading = format!("{}/procedures/{}", studio.class_path(), last(&at[0]));
        assert_eq!(student.get(&reading).status, 404, "not before it is kept");
        let projects = format!("{}/settings/projects", studio.class_path());
        assert!(!instructor.get(&projects).has("From elsewhere"), "nor to be chosen");
        assert_eq!(keep(&instructor, &at[0]).status, 303);
        let handout = student.get(&reading);
        for said in ["Wash out and roll up", "safety office come first", "For a plate, version 1"] {
            assert!(handout.read().contains(said), "{said}: {}", handout.read());
        }
        assert!(instructor.get(&projects).has("From elsewhere"));
    }

    fn a_class_started_from_this_one_brings_its_procedures_along_in_the_version_that_holds(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let (instructor, keeper) = (studio.signed_in(INSTRUCTOR), studio.signed_in(KEEPER));
        let writing = copy(&instructor, &list(studio), &things.procedure.to_string(), "Kept twice");
        let head = form_of(&instructor.get(&writing), &writing);
        assert_eq!(send(&instructor, &writing, &with(&head, &[("about", Some("The second version."))])).status, 303);
        assert_eq!(keep(&instructor, &writing).status, 303);
        let begun = instructor.post(&format!("{}/new", list(studio)), &[("name", "Never kept"), ("surface", "stone")]);
        assert_eq!(begun.status, 303);
        let term = [("name", "Spring 2027"), ("starts", "2027-01-20"), ("ends", "2027-05-14"), ("zone", "America/New_York")];
        assert_eq!(keeper.post("/school/terms", &term).status, 303);
        let term: String = term::table.filter(term::name.eq("Spring 2027")).select(term::id).first(&mut studio.connection()).unwrap();
        let (room, teacher) = (studio.world.studio.to_string(), studio.world.instructor.to_string());
        let due = format!("due-{}", things.project);
        let confirm = [
            ("term", term.as_str()), ("studio", &room), ("code", "LIT-B"), ("title", "Plate lithography B"),
            ("instructor", &teacher), (&due, "2027-04-13T16:30"),
        ];
        let page = keeper.post(&format!("/school/classes/{}/again", studio.world.class), &confirm);
        assert_eq!(page.status, 303, "{}", page.read());
        let new: Vec<(String, i32, String)> = procedure_version::table
            .inner_join(procedure::table.inner_join(class::table))
            .filter(class::term_id.eq(&term))
            .order(procedure::name)
            .select((procedure::name, procedure_version::number, procedure_version::body))
            .load(&mut studio.connection()).unwrap();
        let names: Vec<(&str, i32)> = new.iter().map(|(name, number, _)| (name.as_str(), *number)).collect();
        assert_eq!(names, [("Ball-grained aluminium plate", 1), ("Kept twice", 1)]);
        assert_eq!(Procedure::from_json(&new[1].2).unwrap().about, "The second version.");
        let there: i64 = procedure::table.inner_join(class::table).filter(class::term_id.eq(&term))
            .count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(there, 2, "what was never kept stays behind");
    }
}

fn keep_again(visitor: &Visitor, writing: &str) -> String {
    visitor.post(&format!("{writing}/keep"), &[("version", "0")]).read()
}
