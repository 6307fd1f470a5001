//! What stands beside the clocks: how long sign-offs hold, instructions that may be folded, the mix that stands on the table
//! already, and a card for a table without a phone.

use diesel::prelude::*;
use tympan::ids::{EtchId, PlateId, StepRunId};
use tympan::store::etches::logs;
use tympan::store::schema::{etch, etch_application, plate as plates, sign_off, step_run};

use super::{plate, scene, under_way};
use crate::on_both;
use crate::studio::Studio;
use crate::studio::things::Things;
use crate::studio::world::*;

/// A second plate of the student's, etched `minutes` ago with six drops.
fn another_plate_etched(studio: &Studio, things: &Things, minutes: i64) {
    let (id, run, log): (PlateId, StepRunId, EtchId) =
        (PlateId::new(NOW), StepRunId::new(NOW), EtchId::new(NOW));
    let at = studio.now().plus_ms(-minutes * 60_000);
    let db = &mut studio.connection();
    diesel::insert_into(plates::table)
        .values((
            (plates::id.eq(id), plates::class_id.eq(studio.world.class), plates::print_id.eq(things.print)),
            (
                plates::person_id.eq(studio.world.student),
                plates::procedure_version_id.eq(things.procedure_version),
            ),
            (plates::number.eq(2), plates::position.eq(2), plates::surface.eq("plate")),
            (plates::width_hundredths.eq(2500), plates::height_hundredths.eq(3500)),
            (plates::size_unit.eq("cm"), plates::materials.eq("crayon 4")),
            (plates::weight.eq("medium"), plates::standing.eq("etched"), plates::standing_since.eq(at)),
            (plates::rack_place.eq("B4"), plates::note.eq(""), plates::created_at.eq(at)),
            plates::version.eq(1),
        ))
        .execute(db)
        .unwrap();
    diesel::insert_into(step_run::table)
        .values((
            (step_run::id.eq(run), step_run::class_id.eq(studio.world.class), step_run::plate_id.eq(id)),
            (step_run::step_key.eq("first-etch"), step_run::began_at.eq(at), step_run::ended_at.eq(at)),
            (step_run::by_id.eq(studio.world.student), step_run::received_at.eq(at)),
            (step_run::known_how.eq("told"), step_run::outside_rules.eq(""), step_run::note.eq("")),
        ))
        .execute(db)
        .unwrap();
    diesel::insert_into(etch::table)
        .values((
            (etch::id.eq(log), etch::class_id.eq(studio.world.class), etch::plate_id.eq(id)),
            (etch::step_run_id.eq(run), etch::step_key.eq("first-etch"), etch::root.eq(log)),
            (etch::reason.eq(""), etch::by_id.eq(studio.world.student), etch::at.eq(at)),
            (etch::received_at.eq(at), etch::known_how.eq("told"), etch::recipe.eq("acid_in_gum")),
            (etch::gum_id.eq(things.gum), etch::gum_microlitres.eq(29_574), etch::gum_unit.eq("us_fl_oz")),
            (etch::acid_id.eq(things.acid), etch::drops.eq(6), etch::gum_sour.eq(false)),
            (etch::acid_kind.eq("phosphoric"), etch::tool.eq("sponge"), etch::helper.eq("")),
            etch::seen.eq(""),
        ))
        .execute(db)
        .unwrap();
    diesel::insert_into(etch_application::table)
        .values((
            etch_application::etch_id.eq(log),
            etch_application::position.eq(1),
            etch_application::seconds.eq(20),
        ))
        .execute(db)
        .unwrap();
}

on_both! {
    fn a_mix_made_in_this_sitting_is_carried_to_a_plate_that_has_a_log_of_its_own(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        let carried = |studio: &Studio| {
            let (class, student, now) = (studio.world.class, studio.world.student, studio.now());
            let found = logs::last(&mut studio.connection(), class, things.plate, student, now).unwrap().unwrap();
            (found.entry.poured.drops, found.applications)
        };
        assert_eq!(carried(studio), (Some(4), vec![120]), "its own last log");
        another_plate_etched(studio, &things, 30);
        assert_eq!(carried(studio), (Some(6), vec![120]), "the mix on the table, and the plate's own times");
        studio.later_ms(6 * 3_600_000);
        assert_eq!(carried(studio), (Some(4), vec![120]), "a mix of another sitting is gone");
    }

    fn whoever_may_work_alone_may_fold_the_instructions_and_sees_until_when_the_sign_off_holds(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        let run = under_way(studio, &things, &student);
        diesel::delete(step_run::table.find(run)).execute(&mut studio.connection()).unwrap();
        let pack = || {
            let packs = student.get(&format!("{}/table/packs", studio.class_path())).text();
            let mut packs: serde_json::Value = serde_json::from_str(&packs).unwrap();
            packs["packs"][0].take()
        };
        let watched = pack();
        assert_eq!(watched["may_fold"].as_bool(), Some(false), "{watched}");
        let until = chrono::NaiveDate::from_ymd_opt(2027, 5, 31).unwrap();
        diesel::update(sign_off::table)
            .set((sign_off::grade.eq("alone"), sign_off::valid_until.eq(Some(until))))
            .execute(&mut studio.connection())
            .unwrap();
        let alone = pack();
        assert_eq!(alone["may_fold"].as_bool(), Some(true), "{alone}");
        assert!(!alone["cautions"].as_array().unwrap().is_empty(), "cautions stay");
        let beside = alone["beside"].to_string();
        assert!(beside.contains("alone, until") && beside.contains("2027"), "{beside}");
        assert!(beside.contains("left of the sink"), "{beside}");
    }

    fn a_card_is_printed_with_empty_fields_and_told_afterwards_with_its_sheets(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        let card = student.get(&format!("{}/card", plate(studio, &things)));
        assert!(card.status == 200 && card.read().contains("Card: "), "{}", card.read());
        assert!(card.has("card-fields") && card.read().contains("Place in the rack"), "{}", card.read());
        let told = [
            ("step", "prepare"), ("began", "2026-10-17T10:00"), ("ended", "2026-10-17T10:30"), ("sheets", "3"),
            ("note", "Rounded the corners."), ("card", "yes"),
        ];
        let page = student.post(&format!("{}/tell", plate(studio, &things)), &told);
        assert!(page.location().ends_with("done-told"), "{} {}", page.location(), page.read());
        let found: (Option<i32>, String) = step_run::table
            .select((step_run::sheets, step_run::known_how))
            .first(&mut studio.connection())
            .unwrap();
        assert_eq!(found, (Some(3), "card".to_owned()));
        let wrong = student.post(&format!("{}/tell", plate(studio, &things)), &[
            ("step", "draw"), ("began", "2026-10-18T10:00"), ("ended", "2026-10-18T10:30"), ("sheets", "many"),
        ]);
        assert!(wrong.status == 422 && wrong.read().contains("many"), "{}", wrong.read());
    }
}
