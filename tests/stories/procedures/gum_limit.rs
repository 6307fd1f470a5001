//! The class's longest stay under dry gum, and rests that procedures ask for there: they are not let contradict.

use diesel::prelude::*;
use tympan::ids::ProcedureVersionId;
use tympan::store::schema::*;

use super::{copy, form_of, keep, last, list, send, with};
use crate::on_both;
use crate::stories::plates::{fresh, train};
use crate::studio::world::*;

on_both! {
    fn a_rest_under_gum_and_the_limit_of_the_class_are_not_let_contradict(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let instructor = studio.signed_in(INSTRUCTOR);
        let rules = format!("{}/settings/rules", studio.class_path());
        let limit = |days: &str| {
            let form = form_of(&instructor.get(&rules), &rules);
            send(&instructor, &rules, &with(&form, &[("gum_limit_days", Some(days))]))
        };
        assert_eq!(limit("7").status, 303, "the shipped procedures rest an hour");
        let writing = copy(&instructor, &list(studio), &things.procedure.to_string(), "Mine");
        let step = format!("{writing}/steps/roll-up");
        let form = form_of(&instructor.get(&step), &step);
        let rest = [("rest_minimum", Some("7 d 1 min")), ("rest_advised", Some("9 d"))];
        assert_eq!(send(&instructor, &step, &with(&form, &rest)).status, 303);
        let page = keep(&instructor, &writing);
        let read = page.read().replace('\u{a0}', " ");
        assert_eq!(page.status, 422);
        assert!(read.contains("Wash out and roll up: the shortest rest of 7 d 1 min is longer than"), "{read}");
        assert!(read.contains("dry gum, 7 days: its plates") && read.contains("the class’s limit to 8 days or more"), "{read}");
        assert_eq!(limit("8").status, 303);
        assert_eq!(keep(&instructor, &writing).status, 303);
        let page = limit("7");
        let read = page.read().replace('\u{a0}', " ");
        assert_eq!(page.status, 422);
        assert!(page.has("id=\"classes-rules-gum_limit_days-complaint\"") && page.has("value=\"7\""), "{read}");
        assert!(read.contains("7 days are shorter than the rest under gum that step “Wash out and roll up” of “Mine” asks for, 7 d 1 min"), "{read}");
        assert!(read.contains("Give 8 days or more"), "{read}");
        assert!(read.contains("leave the field empty, or shorten that rest first"), "{read}");
        assert_eq!(limit("").status, 303, "no limit holds every rest");
        let one = limit("1").read();
        assert!(one.contains("1 day is shorter than the rest"), "{one}");
        // What stood before is not asked about again when something else is changed, nor when it is raised.
        diesel::update(class::table).set(class::gum_limit_days.eq(3)).execute(&mut studio.connection()).unwrap();
        let form = form_of(&instructor.get(&rules), &rules);
        assert_eq!(send(&instructor, &rules, &with(&form, &[("title", Some("Plates"))])).status, 303);
        assert_eq!(limit("4").status, 303);
        assert_eq!(limit("3").status, 422);
        // A plate keeps the version it was begun with, whatever the next version says.
        assert_eq!(limit("").status, 303);
        let version: ProcedureVersionId = procedure_version::table.filter(procedure_version::procedure_id.eq(last(&writing)))
            .order(procedure_version::number.desc()).select(procedure_version::id).first(&mut studio.connection()).unwrap();
        diesel::update(plate::table).set(plate::procedure_version_id.eq(version)).execute(&mut studio.connection()).unwrap();
        let form = form_of(&instructor.get(&step), &step);
        assert_eq!(send(&instructor, &step, &with(&form, &[("rest_minimum", Some("")), ("rest_advised", Some(""))])).status, 303);
        assert_eq!(keep(&instructor, &writing).status, 303);
        let begun = limit("7").read();
        assert!(begun.contains("a plate that was begun with it keeps that rest"), "{begun}");
        diesel::update(print::table).set(print::handed_in_at.eq(studio.now())).execute(&mut studio.connection()).unwrap();
        assert_eq!(limit("7").status, 303, "what is handed in waits no more");
    }
}
