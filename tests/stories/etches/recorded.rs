//! The log at the table, from the step under way to the plate under gum.

use diesel::prelude::*;
use tympan::store::schema::{container, etch, etch_application, person, plate as plates, step_run};

use super::{Told, logs, new, plate, recorded, scene, start, under_way};
use crate::on_both;
use crate::stories::{but, rows};
use crate::studio::world::*;

on_both! {
    fn a_student_logs_the_etch_and_the_plate_is_under_gum(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        let run = under_way(studio, &things, &student);
        let page = student.get(&plate(studio, &things));
        assert!(page.has("/etches/new\">Log the etch"), "the step under way leads to its log: {}", page.read());
        let form = student.get(&format!("{}/etches/new", plate(studio, &things)));
        assert!(form.has(&run.to_string()) && form.read().contains("G1, from the cupboard, 14 °Bé, pH 4.3"), "{}", form.read());
        assert!(form.read().contains("Drop the acid into the gum"), "{}", form.read());
        studio.later_ms(45 * 60_000);
        let told = Told::new(&things, run);
        let fields = told.fields();
        let path = format!("{}/etches/new", plate(studio, &things));
        for _ in 0..2 {
            let page = student.post_once(&path, &fields, "one-once-key-for-two");
            assert_eq!(page.status, 303, "{}", page.read());
            assert!(page.location().ends_with("done-etch-recorded"), "{}", page.location());
        }
        assert_eq!(logs(studio).len(), 1, "the same submit twice is one log");
        let db = &mut studio.connection();
        let seconds: Vec<i32> = etch_application::table.order(etch_application::position)
            .select(etch_application::seconds).load(db).unwrap();
        assert_eq!(seconds, [120, 90, 150]);
        let ended: Option<i64> = step_run::table.find(run).select(step_run::ended_at).first(db).unwrap();
        assert_eq!(ended, Some(studio.now().millis()), "the log ends its step");
        let (standing, rack): (String, String) = plates::table.find(things.plate)
            .select((plates::standing, plates::rack_place)).first(db).unwrap();
        assert_eq!((standing.as_str(), rack.as_str()), ("under_gum", "B4"));
        assert_eq!(rows(studio, "journal WHERE act = 'etch.recorded'"), 1);

        // 1 US fl oz is kept as 29.574 mL; 4 drops at 20 ± 2 per mL are 0.2 mL (4/22 to 4/18). 85 % phosphoric acid of
        // density 1.689 (the handbook table of `trade::measure::acid`) holds 1689 × 0.85 / 97.994 = 14.6504 mol/L, so
        // 14.6504 × 0.2 / 29.774 = 0.0984 mol/L; gum of 14 °Bé weighs 0.9990 × 145 / 131 = 1.10576 g/mL, so the acid is
        // 0.2 × 1.689 × 0.85 / (0.2 × 1.689 + 29.574 × 1.10576) = 0.869 % by weight. The pH by an independent charge
        // balance in Python with bisection over the ranges of the model: 3.376 (3.063 to 3.640).
        let log = student.get(&format!("{}/etches/{}", plate(studio, &things), logs(studio)[0]));
        let text = log.read();
        for part in [
            "0.200 mL (0.182 to 0.222)", "29.77 mL", "0.0984 mol/L", "0.87 %", "pH about 3.4 (3.1 to 3.6), an estimate",
            "an estimate, not a measurement", "4 drops of A1", "1 US fl oz of G1", "4 drops to a US fl oz of gum",
            "20 ± 2 drops per mL", "2:00 + 1:30 + 2:30", "Otis Wren", "even film, no bubbles",
        ] {
            assert!(text.contains(part), "“{part}” in: {text}");
        }
        let page = student.get(&plate(studio, &things));
        assert!(page.read().contains("0.0984 mol/L, 0.87 %"), "{}", page.read());
    }

    fn a_measured_ph_stands_before_the_estimate_and_a_sour_gum_has_none(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        let run = under_way(studio, &things, &student);
        let told = Told::new(&things, run);
        let fields = told.fields();
        assert_eq!(new(studio, &things, &student, &but(&fields, "measured_ph", "3.3")).status, 303);
        let measured = student.get(&format!("{}/etches/{}", plate(studio, &things), logs(studio)[0])).read();
        assert!(measured.contains("pH 3.3, measured") && !measured.contains("an estimate"), "{measured}");
        diesel::update(container::table.find(things.gum)).set(container::sour.eq(true))
            .execute(&mut studio.connection()).unwrap();
        studio.later_ms(60_000);
        // A second mixture of the same run, for the darks.
        assert_eq!(new(studio, &things, &student, &but(&fields, "drops", "9")).status, 303);
        let sour = student.get(&format!("{}/etches/{}", plate(studio, &things), logs(studio)[1])).read();
        assert!(sour.contains("marked sour") && !sour.contains("pH about"), "{sour}");
    }

    fn a_stock_etch_as_it_is_and_cut_with_gum(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        let stock: tympan::ids::ContainerId = tympan::ids::Id::new(NOW);
        diesel::insert_into(container::table).values((
            (container::id.eq(stock), container::studio_id.eq(studio.world.studio)),
            (container::letter.eq("E"), container::number.eq(2), container::substance.eq("stock")),
            (container::label.eq("Plate etch"), container::opened.eq(chrono::NaiveDate::from_ymd_opt(2026, 9, 1).unwrap())),
            (container::sour.eq(false), container::note.eq(""), container::created_at.eq(NOW), container::version.eq(1)),
        )).execute(&mut studio.connection()).unwrap();
        let stock = stock.to_string();
        let run = under_way(studio, &things, &student);
        let told = Told::new(&things, run);
        let plain = but(&told.fields(), "recipe", "stock");
        let missing = new(studio, &things, &student, &plain);
        assert_eq!(missing.status, 422, "a stock etch comes out of a container, or is said not to");
        let plain = but(&plain, "stock", &stock);
        assert_eq!(new(studio, &things, &student, &plain).status, 303);
        let text = student.get(&format!("{}/etches/{}", plate(studio, &things), logs(studio)[0])).read();
        assert!(text.contains("stock etch as it is") && text.contains("of E2") && text.contains("No pH is estimated for a stock etch"), "{text}");
        let kept: (Option<i32>, Option<i64>) = etch::table.select((etch::drops, etch::gum_microlitres))
            .first(&mut studio.connection()).unwrap();
        assert_eq!(kept, (None, None), "what the recipe has no use for is not kept");
        studio.later_ms(60_000);
        let cut = but(&but(&plain, "recipe", "stock_cut"), "stock_volume", "0.5");
        assert_eq!(new(studio, &things, &student, &but(&cut, "stock_volume", "")).status, 422);
        assert_eq!(new(studio, &things, &student, &cut).status, 303);
        let text = student.get(&format!("{}/etches/{}", plate(studio, &things), logs(studio)[1])).read();
        // Half an ounce of stock in an ounce and a half.
        assert!(text.contains("33.3 %") && text.contains("0.5 US fl oz of E2"), "{text}");
    }

    fn the_next_log_begins_with_what_the_last_one_said(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        recorded(studio, &things, &student);
        let form = student.get(&format!("{}/etches/new?told=yes", plate(studio, &things)));
        for part in [
            "name=\"drops\" value=\"4\"", "name=\"gum_volume\" value=\"1\"", "name=\"application_2\" value=\"1:30\"",
            "name=\"helper\" value=\"Otis Wren\"", "name=\"rack_place\" value=\"B4\"",
            &format!("value=\"{}\" selected", things.gum),
        ] {
            assert!(form.has(part), "{part}: {}", form.text());
        }
        assert!(form.read().contains("Carried over from the log of 10:45"), "{}", form.read());
        let db = &mut studio.connection();
        diesel::update(person::table.find(studio.world.student)).set(person::volume_unit.eq("ml")).execute(db).unwrap();
        diesel::update(container::table.find(things.gum)).set(container::do_not_use.eq(Some("mould"))).execute(db).unwrap();
        let form = student.get(&format!("{}/etches/new?told=yes", plate(studio, &things)));
        assert!(form.has("name=\"gum_volume\" value=\"29.574\"") && form.read().contains("Gum, mL"), "{}", form.read());
        assert!(!form.has(&format!("value=\"{}\" selected", things.gum)), "what must not be used is not carried over");
        let instructor = studio.signed_in(INSTRUCTOR);
        let theirs = instructor.get(&format!("{}/etches/new?told=yes", plate(studio, &things)));
        assert!(theirs.has("name=\"drops\" value=\"4\""), "an instructor carries on the student's log");
    }

    fn a_log_without_sign_off_or_out_of_order_is_stored_marked_and_blocks(studio) {
        let things = scene(studio);
        diesel::delete(tympan::store::schema::sign_off::table).execute(&mut studio.connection()).unwrap();
        let (student, instructor) = (studio.signed_in(STUDENT), studio.signed_in(INSTRUCTOR));
        let told = Told { run: String::new(), gum: things.gum.to_string(), acid: things.acid.to_string() };
        let mut fields = told.fields();
        fields.extend([("step", "first-etch"), ("began", "2026-10-19T10:00"), ("ended", "2026-10-19T10:45"), ("card", "yes")]);
        for (field, value) in [("began", ""), ("ended", "2026-10-19T09:00"), ("ended", "2026-10-21T10:00"), ("step", "draw")] {
            assert_eq!(new(studio, &things, &student, &but(&fields, field, value)).status, 422, "{field}={value}");
        }
        let page = new(studio, &things, &student, &fields);
        assert!(page.location().ends_with("done-etch-recorded-outside"), "{} {}", page.location(), page.read());
        let (known, rules): (String, String) = etch::table.inner_join(step_run::table)
            .select((etch::known_how, step_run::outside_rules)).first(&mut studio.connection()).unwrap();
        assert_eq!(known, "card");
        assert!(rules.contains("order") && rules.contains("sign_off"), "{rules}");
        let text = student.get(&plate(studio, &things)).read();
        assert!(text.contains("without a valid sign-off") && text.contains("waits for the instructor"), "{text}");
        for key in ["studio-basics", "acid-and-gum", "solvents"] {
            things.sign(&mut studio.connection(), &studio.world, key, "watched");
        }
        let next = student.post(&format!("{}/start", plate(studio, &things)), &[("step", "roll-up")]);
        assert_eq!(next.status, 409, "it blocks what follows: {}", next.read());
        let run: tympan::ids::StepRunId = step_run::table.select(step_run::id).first(&mut studio.connection()).unwrap();
        let settle = [("run", run.to_string()), ("ordered", "stands".to_owned()), ("why", "other".to_owned()), ("reason", "I stood beside".to_owned())];
        let settle: Vec<(&str, &str)> = settle.iter().map(|(name, value)| (*name, value.as_str())).collect();
        assert_eq!(instructor.post(&format!("{}/settle", plate(studio, &things)), &settle).status, 303);
        start(studio, &things, &student, "roll-up");
    }

    fn a_doubtful_container_is_flagged_and_its_figures_stay_as_they_were(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        let db = &mut studio.connection();
        diesel::update(container::table.find(things.acid)).set(container::do_not_use.eq(Some("label lost"))).execute(db).unwrap();
        diesel::update(container::table.find(things.gum))
            .set(container::discard.eq(chrono::NaiveDate::from_ymd_opt(2026, 10, 19))).execute(db).unwrap();
        recorded(studio, &things, &student);
        diesel::update(container::table.find(things.gum)).set(container::ph_hundredths.eq(Some(500))).execute(db).unwrap();
        diesel::update(container::table.find(things.acid)).set(container::drops_per_ml_hundredths.eq(Some(3000))).execute(db).unwrap();
        let text = student.get(&format!("{}/etches/{}", plate(studio, &things), logs(studio)[0])).read();
        for part in ["Acid A1 is marked “do not use”", "Gum G1 was past its discard date", "pH 4.3", "0.0984 mol/L"] {
            assert!(text.contains(part), "“{part}” in: {text}");
        }
    }

    fn a_plate_left_bare_is_warned_about_and_a_sitting_may_go_on(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        let run = under_way(studio, &things, &student);
        let told = Told::new(&things, run);
        let bare = but(&but(&told.fields(), "gummed", ""), "buffed", "");
        let page = new(studio, &things, &student, &but(&told.fields(), "gummed", ""));
        assert_eq!(page.status, 422, "buffed without gum: {}", page.read());
        assert_eq!(new(studio, &things, &student, &but(&bare, "rack_place", "")).status, 422);
        assert!(new(studio, &things, &student, &bare).location().ends_with("done-etch-recorded-bare"));
        let mut on = but(&bare, "rack_place", "");
        on.push(("goes_on", "yes"));
        assert!(new(studio, &things, &student, &on).location().ends_with("done-etch-recorded"));
        assert_eq!(rows(studio, "put_down"), 1);
    }
}
