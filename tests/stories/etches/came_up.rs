//! How an etch came up: asked at the roll-up, tied to the etch, and read across the class.

use diesel::prelude::*;
use tympan::ids::{CameUpId, EtchId, EtchTableRowId, StepRunId};
use tympan::store::schema::{came_up, class as class_table, etch_table_row, plate as plates};

use super::{Told, end, logs, new, plate, recorded, scene, start};
use crate::on_both;
use crate::stories::rows;
use crate::studio::world::*;

on_both! {
    fn the_roll_up_asks_how_the_etch_came_up_and_ties_it_to_the_etch(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        let first = recorded(studio, &things, &student);
        let page = plate(studio, &things);
        let read = student.get(&page).read();
        assert!(!read.contains("How did it come up?"), "nothing has shown it yet: {read}");
        studio.later_ms(2 * 3_600_000);
        let roll_up = start(studio, &things, &student, "roll-up");
        let asks = student.get(&page);
        assert!(asks.read().contains("How did it come up? First etch"), "{}", asks.read());
        let path = format!("{page}/etches/{first}/came-up");
        for (how, note, says) in [
            ("", "", "missing"), ("scorched", "", "not one of the choices"), ("otherwise", "", "Say in the note"),
            ("burned", "a\u{7}b", "control characters"),
        ] {
            let refused = student.post(&path, &[("how", how), ("note", note)]);
            assert_eq!(refused.status, 422, "{how}: {}", refused.read());
            assert!(refused.read().contains(says), "{how} says “{says}”: {}", refused.read());
        }
        for _ in 0..2 {
            let told = student.post_once(&path, &[("how", "burned"), ("note", "the wash is gone")], "one-once-key-for-two");
            assert!(told.location().contains("done-etch-came-up"), "{} {}", told.location(), told.read());
        }
        let kept: Vec<(CameUpId, EtchId, Option<StepRunId>, String)> = came_up::table
            .select((came_up::id, came_up::etch_root, came_up::step_run_id, came_up::how))
            .load(&mut studio.connection()).unwrap();
        assert_eq!(kept.len(), 1);
        assert_eq!((kept[0].1, kept[0].2, kept[0].3.as_str()), (first, Some(roll_up), "burned"));
        let text = student.get(&page).read();
        assert!(!text.contains("How did it come up?") && text.contains("burned: light tones lost"), "{text}");

        // Two tell at once: the second sees what stands; then it is corrected by a new row.
        let stale = student.post(&path, &[("how", "uneven"), ("note", "only the left")]);
        assert_eq!(stale.status, 422, "{}", stale.read());
        assert!(stale.read().contains("burned: light tones lost") && stale.has("only the left"), "{}", stale.read());
        let version = kept[0].0.to_string();
        let page = student.post(&path, &[("how", "uneven"), ("note", "only the left"), ("version", &version), ("back", "log")]);
        assert_eq!(page.status, 303, "{}", page.read());
        assert_eq!(rows(studio, "came_up"), 2);
        assert_eq!(rows(studio, "came_up WHERE superseded_at IS NULL AND how = 'uneven'"), 1);
        end(studio, &things, &student, roll_up);
    }

    /// A second etch is shown by no roll-up after it: the first proof asks, and the answer is tied to that run.
    fn the_first_proof_asks_how_the_second_etch_came_up(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        let first = recorded(studio, &things, &student);
        let page = plate(studio, &things);
        studio.later_ms(2 * 3_600_000);
        let roll_up = start(studio, &things, &student, "roll-up");
        assert_eq!(student.post(&format!("{page}/etches/{first}/came-up"), &[("how", "as-drawn")]).status, 303);
        studio.later_ms(20 * 60_000);
        end(studio, &things, &student, roll_up);
        let run = start(studio, &things, &student, "second-etch");
        studio.later_ms(45 * 60_000);
        let told = new(studio, &things, &student, &Told::new(&things, run).fields());
        assert!(told.location().ends_with("done-etch-recorded"), "{} {}", told.location(), told.read());
        let second = logs(studio).into_iter().find(|one| *one != first).unwrap();
        let read = student.get(&page).read();
        assert!(!read.contains("How did it come up?"), "nothing has shown it yet: {read}");
        studio.later_ms(86_400_000);
        let proof = start(studio, &things, &student, "proof");
        let asks = student.get(&page).read();
        assert!(asks.contains("How did it come up? Second etch"), "{asks}");
        assert_eq!(student.post(&format!("{page}/etches/{second}/came-up"), &[("how", "weak")]).status, 303);
        let shown: Option<StepRunId> = came_up::table.filter(came_up::etch_root.eq(second))
            .select(came_up::step_run_id).first(&mut studio.connection()).unwrap();
        assert_eq!(shown, Some(proof));
        assert!(!student.get(&page).read().contains("How did it come up?"));
    }

    fn staff_find_the_batch_that_burned(studio) {
        let things = scene(studio);
        let (student, assistant) = (studio.signed_in(STUDENT), studio.signed_in(ASSISTANT));
        let first = recorded(studio, &things, &student);
        let class = format!("{}/etches", studio.class_path());
        let all = assistant.get(&class).read();
        for part in ["Stair lamp", "Sami Vale", "4 drops of A1", "0.0984 mol/L", "2:00 + 1:30 + 2:30", "not told yet"] {
            assert!(all.contains(part), "“{part}” in: {all}");
        }
        let told = student.post(&format!("{}/etches/{first}/came-up", plate(studio, &things)), &[("how", "burned")]);
        assert_eq!(told.status, 303);
        // Beside what was put on stands what it was put on, and what the class's table has for such a drawing.
        let log = format!("{}/etches/{first}", plate(studio, &things));
        let read = assistant.get(&log).read();
        assert!(read.contains("crayon 4, tusche wash") && !read.contains("The class’s table today"), "{read}");
        let weight: String = plates::table.find(things.plate).select(plates::weight).first(&mut studio.connection()).unwrap();
        diesel::insert_into(etch_table_row::table)
            .values((
                (etch_table_row::id.eq(EtchTableRowId::new(NOW)), etch_table_row::class_id.eq(studio.world.class)),
                (etch_table_row::version.eq(1_i64), etch_table_row::position.eq(1), etch_table_row::surface.eq("plate")),
                (etch_table_row::weight.eq(weight), etch_table_row::material.eq("tusche wash")),
                (etch_table_row::drops_hundredths.eq(250), etch_table_row::applications.eq(2), etch_table_row::seconds.eq(90)),
                (etch_table_row::source.eq("ours"), etch_table_row::at.eq(NOW)),
            ))
            .execute(&mut studio.connection())
            .unwrap();
        let read = assistant.get(&log).read();
        assert!(read.contains("The class’s table today tusche wash"), "{read}");
        assert!(read.contains("2.5 drops to the fluid ounce") && read.contains("2 applications"), "{read}");
        let has = |query: String| assistant.get(&format!("{class}?{query}")).read().contains("Stair lamp");
        assert!(has("came_up=burned".into()) && !has("came_up=weak".into()) && !has("came_up=not-told".into()));
        assert!(has(format!("container={}", things.gum)) && has(format!("container={}&came_up=burned", things.acid)));
        assert!(!has("container=00000000-0000-7000-8000-000000000000".into()) && !has("page=1".into()));
        assert!(has("container=nonsense&came_up=nonsense&page=-3".into()), "what names nothing narrows nothing");
        let other = studio.signed_in(OTHER_STUDENT);
        assert!(student.get(&class).read().contains("Stair lamp") && !other.get(&class).read().contains("Stair lamp"), "one's own alone");
        // The picture, and its table: one etch, burned, of 0.0984 mol/L.
        let page = assistant.get(&format!("{class}?person={}", studio.world.student));
        assert!(page.read().contains("Solid marks: Sami Vale.") && page.has("<circle class=\"solid\""), "{}", page.read());
        assert!(page.read().contains("burned: light tones lost 1 1 0.0984 0.0984 0.0984"), "{}", page.read());
        assert!(assistant.get(&class).has("<circle class=\"bare\""), "nobody marked");
        assert!(student.get(&class).read().contains("Solid marks: your own plates."));
        assert!(!other.get(&class).has("<circle class="), "the class does not share its logs");
        diesel::update(class_table::table.find(studio.world.class)).set(class_table::shares_logs.eq(true))
            .execute(&mut studio.connection()).unwrap();
        let shared = other.get(&class);
        assert!(shared.has("<circle class=\"bare\"") && !shared.has("<circle class=\"solid\""), "{}", shared.read());
        assert!(!shared.has("Sami") && !shared.has("Stair lamp"), "names hidden: {}", shared.read());
        assert_eq!(studio.signed_in(RECORDS).get(&class).status, 403);
        assert_eq!(studio.signed_in(STRANGER).get(&class).status, 404);
    }
}
