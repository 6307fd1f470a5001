//! Corrections: new entries, one after the other.

use diesel::prelude::*;
use tympan::store::schema::{container, etch};

use super::{Told, logs, plate, recorded, scene};
use crate::on_both;
use crate::stories::reasons::Asks;
use crate::stories::{but, rows};
use crate::studio::world::*;

on_both! {
    fn a_correction_is_a_new_entry_and_a_second_one_of_the_same_is_stale(studio) {
        let things = scene(studio);
        let (student, instructor) = (studio.signed_in(STUDENT), studio.signed_in(INSTRUCTOR));
        let first = recorded(studio, &things, &student);
        let amend = format!("{}/etches/{first}/amend", plate(studio, &things));
        let form = student.get(&amend);
        assert!(form.has(&format!("name=\"version\" value=\"{first}\"")) && form.has("even film"), "{}", form.text());
        diesel::update(container::table.find(things.gum)).set(container::ph_hundredths.eq(Some(500)))
            .execute(&mut studio.connection()).unwrap();
        let told = Told { run: String::new(), gum: things.gum.to_string(), acid: things.acid.to_string() };
        let version = first.to_string();
        let mut fields = told.mixture();
        fields.extend([("version", version.as_str()), ("reason", "slip of the key")]);
        let fields = but(&fields, "drops", "5");
        for (field, value) in [("reason", ""), ("drops", "0"), ("version", "")] {
            let page = student.post(&amend, &but(&fields, field, value));
            assert_eq!(page.status, 422, "{field}={value}: {}", page.read());
        }
        studio.later_ms(60_000);
        let page = student.post(&amend, &fields);
        assert!(page.location().ends_with("done-etch-amended"), "{} {}", page.location(), page.read());
        let stale = instructor.post(&amend, &but(&but(&fields, "drops", "6"), "reason", "I counted six"));
        assert_eq!(stale.status, 422, "{}", stale.read());
        assert!(stale.has("name=\"drops\" value=\"6\"") && stale.has("I counted six"), "what was typed is kept");
        assert!(stale.read().contains("Now stands here: “5”"), "{}", stale.read());
        let second = logs(studio)[1];
        assert!(stale.has(&format!("name=\"version\" value=\"{second}\"")), "saving again is a choice");
        assert_eq!(rows(studio, "etch"), 2);
        studio.later_ms(60_000);
        let second = second.to_string();
        let again = but(&but(&but(&fields, "drops", "6"), "reason", "I counted six"), "version", &second);
        assert_eq!(instructor.post(&amend, &again).status, 303);

        let kept: Vec<(Option<i32>, Option<i32>, bool, i64)> = etch::table.order(etch::received_at)
            .select((etch::drops, etch::gum_ph_hundredths, etch::superseded_at.is_null(), etch::at))
            .load(&mut studio.connection()).unwrap();
        let drops: Vec<_> = kept.iter().map(|one| (one.0, one.2)).collect();
        assert_eq!(drops, [(Some(4), false), (Some(5), false), (Some(6), true)]);
        assert!(kept.iter().all(|one| one.1 == Some(430)), "the gum's figures stay as they were at the etch");
        assert!(kept.iter().all(|one| one.3 == kept[0].3), "and so does its moment");
        let text = student.get(&format!("{}/etches/{first}", plate(studio, &things))).read();
        for part in ["6 drops of A1", "5 drops of A1", "4 drops of A1", "slip of the key", "I counted six", "first entry"] {
            assert!(text.contains(part), "“{part}” in: {text}");
        }
        assert!(student.get(&plate(studio, &things)).read().contains("6 drops of A1"));
    }

    fn a_correction_has_a_reason(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        let first = recorded(studio, &things, &student);
        let path = format!("{}/etches/{first}/amend", plate(studio, &things));
        let told = Told { run: String::new(), gum: things.gum.to_string(), acid: things.acid.to_string() };
        let amend = Asks { form: "etches-log", preset: ("slip", "Typed wrongly"), kept: ("etch", "reason") };
        amend.go_through(studio, &student, |place| {
            studio.later_ms(60_000);
            let version = logs(studio).last().unwrap().to_string();
            let mixture = told.mixture().into_iter().filter(|(name, _)| *name != "drops");
            let mut fields: Vec<(&str, String)> = mixture.map(|(name, value)| (name, value.to_owned())).collect();
            fields.extend([("version", version), ("drops", ["5", "6", "7"][place].to_owned())]);
            (path.clone(), fields)
        });
    }
}
