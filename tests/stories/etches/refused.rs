//! What cannot be read as an etch comes back at its field with everything typed; and who may do what.

use diesel::prelude::*;
use tympan::ids::{ContainerId, Id, StudioId};
use tympan::store::schema::{container, studio as studios};

use super::{Told, new, plate, recorded, scene, under_way};
use crate::on_both;
use crate::stories::{but, refuses, rows};
use crate::studio::world::*;

on_both! {
    fn bad_input_comes_back_at_its_field_with_everything_typed(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        let db = &mut studio.connection();
        let other: StudioId = Id::new(NOW);
        diesel::insert_into(studios::table).values((
            (studios::id.eq(other), studios::name.eq("Upper studio"), studios::room_address.eq(""), studios::eyewash.eq("")),
            (studios::emergency_numbers.eq(""), studios::created_at.eq(NOW), studios::version.eq(1)),
        )).execute(db).unwrap();
        let elsewhere: ContainerId = Id::new(NOW);
        diesel::insert_into(container::table).values((
            (container::id.eq(elsewhere), container::studio_id.eq(other), container::letter.eq("G"), container::number.eq(7)),
            (container::substance.eq("gum"), container::label.eq("theirs"), container::sour.eq(false), container::note.eq("")),
            container::opened.eq(chrono::NaiveDate::from_ymd_opt(2026, 9, 1).unwrap()),
            (container::created_at.eq(NOW), container::version.eq(1)),
        )).execute(db).unwrap();
        let run = under_way(studio, &things, &student);
        let told = Told::new(&things, run);
        let path = format!("{}/etches/new", plate(studio, &things));
        let (elsewhere, acid) = (elsewhere.to_string(), things.acid.to_string());
        let long = "x".repeat(1001);
        let wrong = [
            ("recipe", "", "missing"), ("recipe", "vinegar", "not one of the choices"),
            ("gum", "", "missing"), ("gum", "G1", "not one of the choices"),
            ("gum", "00000000-0000-7000-8000-000000000000", "not on the shelf"), ("gum", elsewhere.as_str(), "not on the shelf"),
            ("gum", acid.as_str(), "holds something else"),
            ("gum_volume", "", "missing"), ("gum_volume", "0", "outside"), ("gum_volume", "401", "0.001 to 400"),
            ("gum_volume", "one", "no number"), ("gum_volume", "-1", "outside"), ("gum_volume", "1.2345", "no number"),
            ("drops", "", "missing"), ("drops", "0", "1 to 1000"), ("drops", "1001", "1 to 1000"), ("drops", "4.5", "no number"),
            ("drops", "four", "no number"), ("application_1", "two", "2, 1.5 or 2:30"), ("application_2", "2:75", "2, 1.5 or 2:30"),
            ("application_3", "61", "60 minutes"), ("application_3", "0", "60 minutes"), ("application_3", "-2", "60 minutes"),
            ("measured_ph", "15", "0 to 14"), ("measured_ph", "acid", "no number"),
            ("tool", "br\u{0}ush", "control characters"), ("helper", "a\u{1b}b", "control characters"),
            ("seen", long.as_str(), "at most 1000"), ("rack_place", "", "in the rack"),
        ];
        refuses(&student, &path, "etches-log", &told.fields(), &wrong);
        let mut many = told.fields();
        let names: Vec<String> = (4..=13).map(|row| format!("application_{row}")).collect();
        many.extend(names.iter().map(|name| (name.as_str(), "1")));
        let page = student.post(&path, &many);
        assert_eq!(page.status, 422);
        assert!(page.read().contains("1 to 12 applications") && page.has("even film, no bubbles"), "{}", page.read());
        let none = but(&but(&but(&told.fields(), "application_1", ""), "application_2", ""), "application_3", "");
        assert_eq!(student.post(&path, &none).status, 422);
        let two = but(&but(&told.fields(), "drops", "0"), "measured_ph", "15");
        let page = student.post(&path, &two);
        assert!(page.has("id=\"etches-log-drops-complaint\"") && page.has("id=\"etches-log-measured_ph-complaint\""));
        assert!(page.has("value=\"2:30\"") && page.has("even film, no bubbles"), "what was typed is kept");
        assert_eq!(rows(studio, "etch"), 0, "nothing of it is stored");
        assert_eq!(rows(studio, "step_run WHERE ended_at IS NULL"), 1, "and the step runs on");
        assert_eq!(student.post(&path, &but(&told.fields(), "run", "00000000-0000-7000-8000-000000000000")).status, 404);
        many.pop();
        assert_eq!(student.post(&path, &many).status, 303, "twelve are an etch");
    }

    fn each_seat_may_do_what_the_house_says(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        let first = recorded(studio, &things, &student);
        let base = format!("{}/etches", plate(studio, &things));
        let log = format!("{base}/{first}");
        let told = Told { run: String::new(), gum: things.gum.to_string(), acid: things.acid.to_string() };
        let visitors = [
            (STUDENT, 200, 200), (INSTRUCTOR, 200, 200), (ASSISTANT, 200, 403), (OTHER_STUDENT, 404, 404),
            (RECORDS, 403, 403), (SAFETY_OFFICER, 403, 403), (STRANGER, 404, 404), (KEEPER, 404, 404),
        ];
        for (email, read, write) in visitors {
            let visitor = studio.signed_in(email);
            assert_eq!(visitor.get(&log).status, read, "{email} reads");
            assert_eq!(visitor.get(&format!("{base}/new?told=yes")).status, write, "{email} begins a log");
            assert_eq!(visitor.get(&format!("{log}/amend")).status, write, "{email} begins a correction");
            if write != 200 {
                assert_eq!(new(studio, &things, &visitor, &told.fields()).status, write, "{email} logs");
                assert_eq!(visitor.post(&format!("{log}/amend"), &told.mixture()).status, write, "{email} corrects");
                let came_up = visitor.post(&format!("{log}/came-up"), &[("how", "burned")]);
                assert_eq!(came_up.status, write, "{email} tells how it came up");
            }
        }
        let assistant = studio.signed_in(ASSISTANT);
        let text = assistant.get(&plate(studio, &things));
        assert!(!text.has("Log the etch"), "{}", text.read());
        assert_eq!(student.get(&format!("{base}/00000000-0000-7000-8000-000000000000")).status, 404);
        assert_eq!((rows(studio, "etch"), rows(studio, "came_up")), (1, 0));
    }
}
