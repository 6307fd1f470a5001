//! What stays in the record: weighings of a dropper, the class's table of etches, data sheets; who keeps them, what is
//! refused.

use diesel::prelude::*;
use tympan::store::schema::{container, etch_table_row, journal};

use super::{PDF, ROW, keep_table, says, shelf};
use crate::on_both;
use crate::stories::{but, refuses, rows};
use crate::studio::world::*;

on_both! {
    fn a_dropper_is_calibrated_with_the_acid_itself(studio) {
        let things = shelf(studio);
        let assistant = studio.signed_in(ASSISTANT);
        let path = format!("{}/containers/{}/dropper", studio.class_path(), things.acid);
        let weighed = [("drops", "30"), ("grams", "1.689"), ("spread", ""), ("version", "1")];
        refuses(&assistant, &path, "mixing-dropper", &weighed, &[
            ("drops", "0", "outside what is possible"),
            ("drops", "-3", "outside what is possible"),
            ("drops", "many", "is no number"),
            ("grams", "0", "outside what is possible"),
            ("grams", "-1", "outside what is possible"),
            ("grams", "1\u{1}", "is no number"),
            ("grams", "400", "a dropper gives 1 to 1000"),
            ("grams", "0.001", "a dropper gives 1 to 1000"),
            ("spread", "30", "as large as the drops"),
        ]);
        assert_eq!(rows(studio, "weighing"), 0);
        assert_eq!(assistant.post(&path, &weighed).status, 303);
        // 85 % acid has 1.689 g/mL at 20 °C (homebrewtalk.com thread 674372), so 30 drops of 1.689 g are 30 to the mL; the
        // spread is a tenth, the ±2 on 20 drops of the UNC pharmacy school's page on droppers.
        says(&assistant.get(&path), &["30 drops × 1.689 g/mL ÷ 1.689 g = 30 drops per mL", "30 ± 3 drops per mL", "Abel Stone"]);
        let kept: (Option<i32>, Option<i32>, i64) = container::table.find(things.acid)
            .select((container::drops_per_ml_hundredths, container::drops_spread_hundredths, container::version))
            .first(&mut studio.connection()).unwrap();
        assert_eq!(kept, (Some(3000), Some(300), 2));
        let stale = assistant.post(&path, &but(&weighed, "drops", "31"));
        assert!(stale.status == 422 && stale.has("value=\"31\""), "{}", stale.read());
        assert_eq!(assistant.post(&path, &[("drops", "20"), ("grams", "1.126"), ("spread", "1.5"), ("version", "2")]).status, 303);
        says(&assistant.get(&path), &["20 drops × 1.689 g/mL ÷ 1.126 g = 30 drops per mL", "30 ± 1.5 drops per mL"]);
        assert_eq!(rows(studio, "weighing"), 2, "the first one stays");
        assert_eq!(journal::table.filter(journal::act.eq("container.calibrated")).count().get_result::<i64>(&mut studio.connection()).unwrap(), 2);
        let gum = format!("{}/containers/{}/dropper", studio.class_path(), things.gum);
        assert_eq!((assistant.get(&gum).status, assistant.post(&gum, &weighed).status), (404, 404), "gum has no drops");
        assert_eq!((studio.signed_in(STUDENT).get(&path).status, studio.signed_in(STUDENT).post(&path, &weighed).status), (403, 403));
    }

    fn the_table_of_etches_is_the_instructors_own_once_kept(studio) {
        shelf(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/settings/etch-table", studio.class_path());
        // What is proposed: common practice, no published source, and it says so.
        let proposed = instructor.get(&path);
        says(&proposed, &["proposed from common practice, from memory, without a published source", "Once kept they are your own"]);
        assert!(proposed.has("Middle of 5 to 8 drops; common practice, no published source") && proposed.has("value=\"6.5\""));
        assert_eq!(rows(studio, "etch_table_row"), 0, "proposing keeps nothing");
        assert!(instructor.get(&format!("{path}?propose=stone")).has("Middle of 18 to 25 drops"));
        refuses(&instructor, &path, "mixing-table", &ROW, &[
            ("surface-0", "slate", "is not one of the choices"),
            ("weight-0", "", "This is missing"),
            ("material-0", "", "This is missing"),
            ("material-0", "cray\u{2}on", "control characters"),
            ("drops-0", "-1", "outside what is possible"),
            ("drops-0", "1000", "outside what is possible"),
            ("drops-0", "a few", "is no number"),
            ("applications-0", "0", "outside what is possible"),
            ("seconds-0", "4000", "outside what is possible"),
            ("source-0", "", "This is missing"),
            ("source-0", &"s".repeat(201), "at most 200"),
        ]);
        let nothing = instructor.post(&path, &[("version", "0")]);
        assert!(nothing.status == 422 && nothing.read().contains("Fill in at least one"), "{}", nothing.read());
        keep_table(studio);
        let stale = instructor.post(&path, &but(&ROW, "drops-0", "9"));
        assert_eq!(stale.status, 422);
        assert!(stale.read().contains("crayon 3 to 4, medium: 6.5 drops") && stale.has("value=\"9\""), "{}", stale.read());
        assert_eq!(instructor.post(&path, &but(&but(&ROW, "drops-0", "9"), "version", "1")).status, 303);
        let kept: Vec<(i64, i32, bool)> = etch_table_row::table.order(etch_table_row::version)
            .select((etch_table_row::version, etch_table_row::drops_hundredths, etch_table_row::superseded_at.is_null()))
            .load(&mut studio.connection()).unwrap();
        assert_eq!(kept, [(1, 650, false), (2, 900, true)], "what stood before stays as superseded");
        assert!(!instructor.get(&path).read().contains("proposed"), "it is the instructor's now");
        for email in [STUDENT, ASSISTANT] {
            assert_eq!(studio.signed_in(email).get(&path).status, 403);
            assert_eq!(studio.signed_in(email).post(&path, &ROW).status, 403);
        }
    }

    fn a_data_sheet_is_on_file_one_tap_away(studio) {
        let things = shelf(studio);
        let assistant = studio.signed_in(ASSISTANT);
        let student = studio.signed_in(STUDENT);
        let path = format!("{}/containers/{}/sheet", studio.class_path(), things.acid);
        let shelf_page = format!("{}/containers", studio.class_path());
        let mix = format!("{}/mix?drops=5", studio.class_path());
        says(&student.get(&path), &["No data sheet is on file for A1"]);
        says(&student.get(&mix), &["No data sheet is on file for A1"]);
        assert_eq!(student.get(&format!("{path}/file")).status, 404);
        let told = [("version", ""), ("product", "Phosphoric acid 85 %"), ("supplier", "Harbour Chemicals"), ("revised", "2025-03-03"), ("signal", "danger"), ("hazards", "May be corrosive to metals\nCauses severe skin burns and eye damage"), ("pictograms", "corrosion")];
        refuses(&assistant, &path, "mixing-sheet", &told, &[
            ("product", "", "This is missing"),
            ("supplier", "x\u{3}", "control characters"),
            ("revised", "2026-10-21", "has not come yet"),
            ("revised", "last year", "is no day"),
            ("signal", "", "This is missing"),
            ("hazards", "", "has hazard statements"),
            ("pictograms", "skull", "is not one of the choices"),
        ]);
        let none = assistant.post(&path, &told);
        assert!(none.status == 422 && none.has("mixing-sheet-file-complaint"), "{}", none.read());
        for bytes in [&b"<html>no paper</html>"[..], b"%PDF-1.4 cut short", b"GIF89a"] {
            let page = assistant.upload(&path, &told, ("file", "sheet.pdf", bytes));
            assert!(page.status == 422 && page.read().contains("no whole PDF") && page.has("Harbour Chemicals"), "{}", page.read());
        }
        let heavy = [PDF, &vec![b' '; 10_000_000]].concat();
        let page = assistant.upload(&path, &told, ("file", "sheet.pdf", &heavy));
        assert!(page.read().contains("larger than 10 MB"), "{}: {}", page.status, page.read());
        assert!(page.has("Harbour Chemicals") && page.has("mixing-sheet-file-complaint"), "what was typed stays: {}", page.read());
        assert_eq!(rows(studio, "data_sheet"), 0);
        let kept = assistant.upload(&path, &told, ("file", "säure \"85\".pdf", PDF));
        assert_eq!(kept.status, 303, "{}", kept.read());
        says(&student.get(&path), &["Harbour Chemicals", "3 Mar 2025", "Danger", "Causes severe skin burns", "corrosion", "Abel Stone"]);
        let file = format!("{path}/file");
        for page in [student.get(&mix), student.get(&shelf_page)] {
            assert!(page.has(&format!("href=\"{file}\"")), "one tap: {}", page.read());
        }
        let paper = student.get(&file);
        assert_eq!((paper.status, paper.body.as_slice()), (200, PDF));
        assert_eq!(paper.headers["content-type"], "application/pdf");
        assert_eq!(paper.headers["x-content-type-options"], "nosniff");
        assert!(paper.headers["content-disposition"].starts_with("inline; filename*=UTF-8''s%C3%A4ure"), "{}", paper.headers["content-disposition"]);
        assert_eq!(studio.signed_in(SAFETY_OFFICER).get(&file).status, 200);
        assert_eq!(studio.signed_in(RECORDS).get(&file).status, 403);
        assert_eq!(student.post(&path, &told).status, 403);

        // Another bottle of the same product has the sheet at once; what is told changes without another file.
        let acid = [("what", "phosphoric"), ("label", "from the cupboard"), ("opened", "2026-10-12"), ("weight", "85")];
        assert_eq!(assistant.post(&format!("{shelf_page}/new"), &acid).status, 303);
        let second: String = container::table.filter(container::letter.eq("A").and(container::number.eq(2))).select(container::id).first(&mut studio.connection()).unwrap();
        let first: Option<String> = container::table.find(things.acid).select(container::data_sheet_id).first(&mut studio.connection()).unwrap();
        let first = first.unwrap();
        assert_eq!(student.get(&format!("{shelf_page}/{second}/sheet/file")).status, 200);
        let again = but(&but(&told, "supplier", "Quayside Supply"), "version", &first);
        assert_eq!(assistant.post(&path, &again).status, 303);
        says(&student.get(&format!("{shelf_page}/{second}/sheet")), &["Quayside Supply"]);
        let stale = assistant.post(&path, &but(&again, "supplier", "Elsewhere"));
        assert!(stale.status == 422 && stale.read().contains("“Quayside Supply”") && stale.has("value=\"Elsewhere\""), "{}", stale.read());
        assert_eq!(rows(studio, "data_sheet"), 2, "the earlier one stays in the record");

        // A sheet of another substance is not offered and not taken.
        let gum = format!("{}/containers/{}/sheet", studio.class_path(), things.gum);
        let now: Option<String> = container::table.find(things.acid).select(container::data_sheet_id).first(&mut studio.connection()).unwrap();
        assert_eq!(assistant.post(&format!("{gum}/use"), &[("sheet", now.as_deref().unwrap())]).status, 404);
        let third = [("what", "phosphoric"), ("label", "Another label"), ("opened", "2026-10-12"), ("weight", "75")];
        assert_eq!(assistant.post(&format!("{shelf_page}/new"), &third).status, 303);
        let third: String = container::table.filter(container::letter.eq("A").and(container::number.eq(3))).select(container::id).first(&mut studio.connection()).unwrap();
        let using = format!("{shelf_page}/{third}/sheet");
        says(&assistant.get(&using), &["No data sheet is on file for A3", "Or use one that is on file"]);
        assert_eq!(assistant.post(&format!("{using}/use"), &[("sheet", "")]).status, 422);
        assert_eq!(assistant.post(&format!("{using}/use"), &[("sheet", now.as_deref().unwrap())]).status, 303);
        says(&student.get(&using), &["Quayside Supply"]);
    }
}
